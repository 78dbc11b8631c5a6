//! `almuri tables` as it is run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_almuri"));
    let command = command.arg("tables").args(arguments).arg("--no-settings");
    command.output().unwrap()
}

#[track_caller]
fn said(arguments: &[&str]) -> String {
    let output = run(arguments);
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && told.is_empty(), "{told}");
    String::from_utf8(output.stdout).unwrap()
}

#[track_caller]
fn refused(arguments: &[&str]) -> String {
    let output = run(arguments);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    String::from_utf8(output.stderr).unwrap()
}

#[track_caller]
fn proofread(arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_almuri"));
    let output = command.arg("proofread").args(arguments).output().unwrap();
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && told.is_empty(), "{told}");
    String::from_utf8(output.stdout).unwrap()
}

/// A folder of this test's own, empty.
fn folder(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).unwrap();
    path
}

const KIRBY: [&str; 9] = [
    "houses",
    "--at",
    "51.5333,0",
    "--houses",
    "placidus",
    "--by",
    "midheaven",
    "--obliquity",
    "23.5",
];

/// Kirby and Bishop, The Marrow of Astrology (1687) II, from p. 7: with the head of Cancer
/// on the midheaven 6♌03 6♍04 0♎00 23♎53 23♏56, within 5′.
#[test]
fn a_table_of_houses_as_json() {
    let text = said(&[&KIRBY[..], &["--json"]].concat());
    let table: Value = serde_json::from_str(&text).unwrap();
    assert!(
        table["definitions"][0]
            .as_str()
            .unwrap()
            .contains("placidus")
    );
    assert!(table["rounding"].as_str().unwrap().contains("1′"));
    assert!(
        table["interpolation"]
            .as_str()
            .unwrap()
            .contains("straight line")
    );
    let rows = table["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 360);
    let row = &rows[90];
    let mut keys: Vec<&String> = row.as_object().unwrap().keys().collect();
    keys.sort();
    assert_eq!(keys, ["cusps_deg", "midheaven_deg", "sidereal_time_h"]);
    assert_eq!(row["midheaven_deg"], 90.0);
    assert_eq!(row["sidereal_time_h"], 6.0);
    for (cusp, printed) in [
        ("XI", 126.05),
        ("XII", 156.0667),
        ("I", 180.0),
        ("II", 203.8833),
        ("III", 233.9333),
    ] {
        let ours = row["cusps_deg"][cusp].as_f64().unwrap();
        assert!((ours - printed).abs() <= 5.0 / 60.0, "{cusp}: {ours}");
    }
}

#[test]
fn by_sidereal_time_it_has_a_row_every_four_minutes() {
    let csv = said(&["houses", "--at", "51.5333,0", "--year", "2027", "--csv"]);
    let lines: Vec<&str> = csv.lines().collect();
    assert_eq!(lines.len(), 361);
    assert_eq!(
        lines[0],
        "sidereal_time_h,midheaven_deg,cusps_deg.XI,cusps_deg.XII,cusps_deg.I,cusps_deg.II,cusps_deg.III"
    );
    assert!(lines[2].starts_with("0.06666666666666667,"));
}

#[test]
fn a_page_has_its_rows_in_fives_and_its_signs_where_they_change() {
    let page = said(&KIRBY);
    let cancer = page.split("Midheaven in Cancer").nth(1).unwrap();
    let mut lines = cancer.lines().skip(3);
    let head = lines.next().unwrap();
    for text in ["♋     0°", "♌  6°04′", "♎  0°00′", "♏ 23°56′"] {
        assert!(head.contains(text), "{text} in {head}");
    }
    let rest: Vec<&str> = lines.take(5).collect();
    assert!(
        rest[0].contains("♋     1°") && !rest[0].contains('♌'),
        "{}",
        rest[0]
    );
    assert_eq!(rest[4], "");
}

/// Every table there is, as a page, as CSV and in one book.
#[test]
fn every_table_can_be_had() {
    let kinds: Value = serde_json::from_str(&said(&["--json"])).unwrap();
    let of = ["--at", "Lisbon, Portugal", "--year", "2027", "--month", "2"];
    for kind in kinds.as_array().unwrap() {
        let name = kind["name"].as_str().unwrap();
        let page = said(&[&[name][..], &of].concat());
        assert!(page.lines().count() > 20, "{name}");
        let csv = said(&[&[name, "--csv"][..], &of].concat());
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        let columns = reader.headers().unwrap().len();
        assert!(columns > 1, "{name}");
        assert!(
            reader
                .records()
                .all(|record| record.unwrap().len() == columns)
        );
    }
    let file = folder("tables").join("book.pdf");
    let path = file.to_str().unwrap();
    said(&[&["book", "-o", path][..], &of].concat());
    let bytes = fs::read(&file).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    assert!(refused(&[&["book", "-o", path][..], &of].concat()).contains("is there already"));
}

#[test]
fn what_cannot_be_printed_says_what_would_do() {
    for (arguments, words) in [
        (&["planets"][..], "no table is called “planets”; houses,"),
        (&["houses"], "--at \"51.5333,0\" would do"),
        (
            &["houses", "--at", "90,0"],
            "one between the poles would do",
        ),
        (
            &["houses", "--at", "51,0", "--obliquity", "90"],
            "20° to 27° would do",
        ),
        (
            &["houses", "--at", "51,0", "--by", "noon"],
            "sidereal-time or midheaven would do",
        ),
        (
            &["houses", "--at", "51,0", "--houses", "mine"],
            "alcabitius",
        ),
        (&["ephemeris", "--year", "3000"], "−599 to 2649 would do"),
        (&["ephemeris", "--month", "13"], "1 to 12 would do"),
        (
            &["ephemeris", "--hour", "dawn"],
            "noon or midnight would do",
        ),
        (&["ephemeris", "--clock", "zone"], "is made for a place"),
        (
            &["stars", "-o", "stars"],
            ".pdf, .csv, .json or .txt would do",
        ),
        (&["book", "--at", "51,0", "--csv"], "-o book.pdf, would do"),
    ] {
        let message = refused(arguments);
        assert!(message.contains(words), "{arguments:?}: {message}");
    }
}

/// The printer's slips of 1687, from the pages alone, by the command: R. Kirby and J. Bishop,
/// The Marrow of Astrology, London 1687.
#[test]
fn a_table_of_1687_is_proofread() {
    let data = |name: &str| format!("{}/../tables/tests/data/{name}", env!("CARGO_MANIFEST_DIR"));
    let found = |arguments: &[&str]| -> Vec<(String, String, String)> {
        let answer: Value = serde_json::from_str(&proofread(arguments)).unwrap();
        let text = |slip: &Value, key: &str| slip[key].as_str().unwrap().to_owned();
        let slips = answer["slips"].as_array().unwrap().iter();
        slips
            .map(|slip| (text(slip, "column"), text(slip, "row"), text(slip, "words")))
            .collect()
    };
    let houses = data("kirby1687-houses.csv");
    // Its own calculation wavers by 5′ from row to row.
    let slips = found(&[
        &houses,
        "--column",
        "XI_printed,XII_printed,I_printed,II_printed,III_printed",
        "--within",
        "12.5",
        "--json",
    ]);
    let slips: Vec<String> = slips
        .into_iter()
        .map(|(column, row, words)| format!("{row} {column} {words}"))
        .collect();
    assert_eq!(
        slips,
        [
            "79 I_printed tens of minutes misread",
            "214 II_printed a unit misread",
            "232 II_printed a unit misread",
            "324 XI_printed tens of minutes misread",
            "329 XI_printed tens of minutes misread",
            "333 III_printed tens misread",
            "339 XI_printed tens of minutes misread",
            "341 II_printed a unit misread",
            "348 I_printed tens misread",
            "360 II_printed tens misread",
        ]
    );
    let arcs = data("kirby1687-semiarcs.csv");
    let by = [
        "--by",
        "sun_longitude_deg_0_90",
        "--each",
        "pole_deg",
        "--column",
        "printed_hmm",
    ];
    let slips = found(&[&[arcs.as_str()][..], &by, &["--json"]].concat());
    let rows: Vec<&str> = slips.iter().map(|(_, row, _)| row.as_str()).collect();
    assert_eq!(rows, ["24", "18", "19"]);
}

/// Sums in print that are none: G. Wharton, Works (1683), p. 231; J. Newton, Cosmographia
/// (1679), p. 290; and one that is right.
#[test]
fn sums_are_proofread() {
    let folder = folder("proofread");
    let file = folder.join("sums.csv");
    let text = "row,one,other,makes\nWharton,91°24′,118°41′,210°04′\nright,91°24′,118°41′,210°05′\n\
                round,350°00′,20°00′,10°00′\n";
    fs::write(&file, text).unwrap();
    let path = file.to_str().unwrap();
    let said = proofread(&[path, "--sum", "one + other = makes"]);
    assert!(said.contains("Wharton"), "{said}");
    assert!(
        said.contains("printed 210°04′, and the parts make 210°05′"),
        "{said}"
    );
    assert!(!said.contains("right") && !said.contains("round"), "{said}");
    fs::write(&file, "row,half,twice\nday,117.62,235.22\n").unwrap();
    let said = proofread(&[path, "--sum", "half + half = twice"]);
    assert!(
        said.contains("printed 235.22, and the parts make 235.24"),
        "{said}"
    );
}
