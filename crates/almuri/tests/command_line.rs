//! The command line as a person meets it: what it prints, and how it refuses.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::PathBuf;
use std::process::{Command, Output};

use proptest::prelude::*;
use serde_json::Value;

/// The command, with settings of its own in an empty folder.
fn almuri(folder: &Folder, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args(arguments)
        .env("XDG_CONFIG_HOME", &folder.0)
        .env("XDG_DATA_HOME", &folder.0)
        .output()
        .unwrap()
}

/// A folder that goes away with the test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let path = std::env::temp_dir().join(format!("almuri-test-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Folder(path)
    }

    fn file(&self, name: &str, text: &str) -> String {
        let path = self.0.join(name);
        std::fs::write(&path, text).unwrap();
        path.display().to_string()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // A folder left behind in the temporary folder is no failure.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

const DEMONSTRATION: [&str; 6] = [
    "cast",
    "2024-05-14 09:20",
    "--at",
    "42.8806,-8.5449",
    "--zone",
    "Europe/Madrid",
];

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    DEMONSTRATION
        .iter()
        .copied()
        .chain(more.iter().copied())
        .collect()
}

#[track_caller]
fn succeeds(output: &Output) -> String {
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}");
    assert!(said.is_empty(), "{said}");
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// Refused: exit code 2, one message that names what is wrong, nothing on standard output.
#[track_caller]
fn refused(output: &Output, names: &str) {
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(output.stdout.is_empty());
    assert!(said.contains(names), "{names:?} is not in: {said}");
    assert!(said.len() < 3000, "{} bytes", said.len());
    assert!(!said.contains("panicked"), "{said}");
}

#[test]
fn the_demonstration_is_a_page_and_an_object() {
    let folder = Folder::new("demonstration");
    let sheet = succeeds(&almuri(&folder, &DEMONSTRATION));
    for part in [
        "The time",
        "The working",
        "You should read",
        "Why they differ",
        "Cautions",
    ] {
        assert!(sheet.contains(part), "{part}");
    }
    assert!(
        sheet.lines().all(|line| line.chars().count() <= 80),
        "too wide for a page"
    );
    let json = succeeds(&almuri(&folder, &with(&["--json"])));
    let answer: Value = serde_json::from_str(&json).unwrap();
    // 9 h 20 m by the clock is 6 h 49 m by the Sun.
    let apparent = answer["moment"]["local_apparent_time_h"].as_f64().unwrap();
    assert!((apparent - 6.8245).abs() < 0.001, "{apparent}");
    assert_eq!(answer["figure"]["cusps_deg"].as_array().unwrap().len(), 12);
}

#[test]
fn bad_input_of_every_kind_is_refused() {
    let folder = Folder::new("refusals");
    let long = "x".repeat(100_000);
    let broken = folder.file("broken.toml", "version = 1\nname = ");
    let wrong = folder.file(
        "wrong.toml",
        "version = 1\nname = \"a\"\ndiameter_mm = 1e9\nplates_deg = [1]\nepoch_year = 2000",
    );
    let cases: Vec<(Vec<&str>, &str)> = vec![
        (
            vec!["cast", "2024-02-30 12:00", "--at", "0,0"],
            "2024-02-30",
        ),
        (vec!["cast", "2024-05-14 24:61", "--at", "0,0"], "24:61"),
        (vec!["cast", &long, "--at", "0,0"], "100000"),
        (vec!["cast", "now", "--at", &long], "100000"),
        (vec!["cast", "2024-05-14 09:20", "--at", "90.5,0"], "90.5"),
        (vec!["cast", "2024-05-14 09:20", "--at", "NaN,0"], "NaN"),
        (
            vec!["cast", "2024-05-14 09:20", "--at", "Atlantis"],
            "Atlantis",
        ),
        (vec!["cast", "2024-05-14 09:20"], "--at"),
        (vec!["cast"], "WHEN"),
        (
            vec![
                "cast",
                "99999-05-14 09:20",
                "--at",
                "0,0",
                "--clock",
                "mean",
            ],
            "99999",
        ),
        (
            vec!["cast", "3000-05-14 09:20", "--at", "0,0", "--clock", "mean"],
            "2650",
        ),
        (with(&["--zone", "Mars/Olympus"]), "zone"),
        (
            vec![
                "cast",
                "2024-03-31 02:30",
                "--at",
                "42,-8",
                "--zone",
                "Europe/Madrid",
            ],
            "earlier",
        ),
        (
            vec![
                "cast",
                "2024-10-27 02:30",
                "--at",
                "42,-8",
                "--zone",
                "Europe/Madrid",
            ],
            "later",
        ),
        (with(&["--clock", "hourglass"]), "hourglass"),
        (with(&["--clock", "+99:00"]), "+99:00"),
        (with(&["--calendar", "lunar"]), "lunar"),
        (with(&["--which", "middle"]), "middle"),
        (with(&["--houses", "K"]), "placidus"),
        (with(&["--by", "dice"]), "turning"),
        (with(&["--read", "ascendant"]), "ascendant"),
        (with(&["--read", "ascendant=31 Leo"]), "31 Leo"),
        (with(&["--read", "XIII=3 Leo"]), "XIII"),
        (with(&["--read", "II=3 Leo", "--read", "II=4 Leo"]), "twice"),
        (with(&["--without", "doubt"]), "doubt"),
        (with(&["--with", "no such instrument"]), "class instrument"),
        (with(&["--with", "no-such.toml"]), "no-such.toml"),
        (with(&["--with", "/"]), "/"),
        (with(&["--with", &broken]), "TOML"),
        (with(&["--with", &wrong]), "diameter_mm"),
        (with(&["--unheard-of"]), "--unheard-of"),
        (vec!["divine"], "divine"),
        (vec!["cabinet", "--check", &wrong], "diameter_mm"),
        (
            vec!["draw", "--with", "no such instrument"],
            "no such instrument",
        ),
        (vec!["draw", "--plate", "95"], "95"),
        (
            vec![
                "draw",
                "2024-05-14 09:20",
                "--at",
                "0,0",
                "--clock",
                "mean",
                "--step",
                "999",
            ],
            "999",
        ),
        (vec!["settings", "--home", "Atlantis"], "Atlantis"),
        (vec!["settings", "--houses", "K"], "K"),
    ];
    for (arguments, names) in cases {
        refused(&almuri(&folder, &arguments), names);
    }
}

#[test]
fn a_time_left_out_or_doubled_is_settled_by_saying_which() {
    let folder = Folder::new("which");
    let utc = |when: &str, which: &str| {
        let output = almuri(
            &folder,
            &[
                "cast",
                when,
                "--at",
                "42,-8",
                "--zone",
                "Europe/Madrid",
                "--which",
                which,
                "--json",
            ],
        );
        let answer: Value = serde_json::from_str(&succeeds(&output)).unwrap();
        answer["moment"]["utc"].as_str().unwrap().to_owned()
    };
    assert_eq!(utc("2024-10-27 02:30", "earlier"), "2024-10-27 00:30:00");
    assert_eq!(utc("2024-10-27 02:30", "later"), "2024-10-27 01:30:00");
    // In a gap, earlier means by the offset after the change.
    assert_eq!(utc("2024-03-31 02:30", "earlier"), "2024-03-31 00:30:00");
    assert_eq!(utc("2024-03-31 02:30", "later"), "2024-03-31 01:30:00");
    // Where the time is plain the word has no effect.
    assert_eq!(utc("2024-05-14 09:20", "earlier"), "2024-05-14 07:20:00");
}

/// Without an address of the page nothing bears a code; with one, the sheet of a made
/// instrument has the link in words too, and what is printed has room for the code.
#[test]
fn what_is_printed_links_to_the_page_where_its_address_is_kept() {
    let folder = Folder::new("linked");
    let out = |name: &str| folder.0.join(name).display().to_string();
    let printed = |name: &str| {
        let (set, cards) = (out(&format!("{name}-set")), out(&format!("{name}-cards")));
        let pdf = out(&format!("{name}.pdf"));
        succeeds(&almuri(
            &folder,
            &[
                "make",
                "--with",
                "pocket instrument",
                "--parts",
                "rule",
                "--formats",
                "pdf",
                "--plate",
                "Lugo, Galicia, Spain",
                "--at",
                "Lugo, Galicia, Spain",
                "-o",
                &set,
            ],
        ));
        succeeds(&almuri(
            &folder,
            &[
                "plates",
                "--towns",
                "Lugo, Galicia, Spain",
                "--stock",
                "42",
                "--cards",
                "2027",
                "--with",
                "class instrument",
                "-o",
                &cards,
            ],
        ));
        succeeds(&almuri(
            &folder,
            &[
                "lesson",
                "cast",
                "2024-05-14 09:20",
                "--at",
                "Lugo, Galicia, Spain",
                "-o",
                &pdf,
            ],
        ));
        let card = std::fs::read_dir(&cards).unwrap().next().unwrap().unwrap();
        (
            std::fs::read_to_string(folder.0.join(format!("{name}-set/sheet.txt"))).unwrap(),
            std::fs::read(card.path()).unwrap(),
            std::fs::read(&pdf).unwrap(),
        )
    };
    let (sheet, card, lesson) = printed("without");
    assert!(!sheet.contains("http"), "{sheet}");
    refused(
        &almuri(&folder, &["settings", "--page-address", "example.org"]),
        "https://example.org/almuri/",
    );
    succeeds(&almuri(
        &folder,
        &["settings", "--page-address", "https://example.org/almuri/"],
    ));
    let (linked, coded, taught) = printed("with");
    let (_, link) = linked
        .split_once("https://example.org/almuri/#when=now&at=Lugo%2C+Galicia%2C+Spain&brass=")
        .unwrap();
    // The plate that is made is not the pocket instrument's own: its specification goes along.
    assert!(link.trim().len() > 100, "{link}");
    assert_ne!(card, coded);
    assert_ne!(lesson, taught);
    succeeds(&almuri(&folder, &["settings", "--forget", "page-address"]));
    assert_eq!(printed("again"), (sheet, card, lesson));
}

#[test]
fn settings_are_kept_and_can_be_ignored() {
    let folder = Folder::new("settings");
    succeeds(&almuri(
        &folder,
        &[
            "settings",
            "--home",
            "42.8806,-8.5449",
            "--zone",
            "Europe/Madrid",
            "--with",
            "lecture instrument",
        ],
    ));
    let answer: Value =
        serde_json::from_str(&succeeds(&almuri(&folder, &["cast", "now", "--json"]))).unwrap();
    assert_eq!(answer["instrument"]["name"], "lecture instrument");
    // Another place does not take over the home place's zone: in mid-ocean none is near.
    refused(
        &almuri(&folder, &["cast", "2024-05-14 09:20", "--at", "-40,-120"]),
        "zone",
    );
    refused(&almuri(&folder, &["cast", "now", "--no-settings"]), "--at");
    let path = folder.0.join("almuri/settings.toml");
    std::fs::write(&path, "version = 7").unwrap();
    refused(&almuri(&folder, &["cast", "now"]), "settings");
    succeeds(&almuri(&folder, &["settings", "--forget"]));
    refused(&almuri(&folder, &["cast", "now"]), "--at");
}

#[test]
fn a_specification_file_serves_like_the_cabinet() {
    let folder = Folder::new("specification");
    let own = folder.file(
        "own.toml",
        "version = 1\nname = \"my own\"\ndiameter_mm = 120\nepoch_year = 2000\nplates_deg = [43]",
    );
    let answer: Value = serde_json::from_str(&succeeds(&almuri(
        &folder,
        &with(&["--with", &own, "--json"]),
    )))
    .unwrap();
    assert_eq!(answer["instrument"]["name"], "my own");
    assert!(succeeds(&almuri(&folder, &["cabinet", "--check", &own])).contains("sound"));
    let listed = succeeds(&almuri(&folder, &["cabinet"]));
    assert_eq!(
        listed
            .lines()
            .filter(|line| line.contains("instrument") && !line.starts_with(' '))
            .count(),
        13,
        "those of the seventeen whose names say so"
    );
}

/// A list too is one object, so that more can stand beside it one day.
#[test]
fn lists_are_objects_in_json() {
    let folder = Folder::new("lists");
    for (arguments, key, least) in [
        (&["cabinet", "--json"][..], "instruments", 17),
        (&["work", "--json"], "operations", 40),
        (&["casebook", "backups", "--json"], "backups", 0),
    ] {
        let answer: Value = serde_json::from_str(&succeeds(&almuri(&folder, arguments))).unwrap();
        assert!(answer.is_object(), "{key}");
        assert!(answer[key].as_array().unwrap().len() >= least, "{key}");
    }
}

#[test]
fn a_refusal_writes_no_endless_number() {
    let folder = Folder::new("numbers");
    let specification = |line: &str| {
        format!("version = 1\nname = \"my own\"\nepoch_year = 2000\nplates_deg = [43]\n{line}")
    };
    let large = folder.file("large.toml", &specification("diameter_mm = 1e308"));
    let small = folder.file("small.toml", &specification("diameter_mm = 1e-300"));
    for (number, arguments) in [
        ("1e308", &["draw", "--with", &large][..]),
        ("1e-300", &["draw", "--with", &small]),
        ("latitude 400°", &["draw", "--plate", "400"]),
        ("1e308", &["draw", "--plate", "1e308"]),
        ("latitude 1e308°", &["cast", "now", "--at", "1e308,0"]),
        ("-1e308", &["plates", "--towns", "51,0", "--within=-1e308"]),
        ("1e308", &["make", "--dpi=1e308", "-o", "nowhere"]),
        (
            "rete cannot stand at 1e308°",
            &["stand", "now", "--at", "42,0", "--rete=1e308"],
        ),
        (
            "1e308",
            &["figure", "now", "--at", "42,0", "--star-orb=1e308"],
        ),
        (
            "1e26",
            &["figure", "now", "--at", "42,0", "--clock-within=1e26"],
        ),
        (
            "1e308",
            &["work", "hour-by-sun", "now", "--at", "42,0", "--hand=1e308"],
        ),
    ] {
        let output = almuri(&folder, arguments);
        refused(&output, number);
        let message = String::from_utf8_lossy(&output.stderr);
        assert!(!message.contains("00000"), "{message}");
    }
}

#[test]
fn a_drawing_goes_where_it_is_told() {
    let folder = Folder::new("drawing");
    let path = folder.0.join("front.svg").display().to_string();
    succeeds(&almuri(
        &folder,
        &["draw", "--with", "pocket instrument", "-o", &path],
    ));
    let svg = std::fs::read_to_string(&path).unwrap();
    assert!(svg.contains("almucantar 30°"));
    assert_eq!(
        svg,
        succeeds(&almuri(&folder, &["draw", "--with", "pocket instrument"]))
    );
    let nowhere = almuri(&folder, &["draw", "-o", "/no/such/folder/front.svg"]);
    assert_eq!(nowhere.status.code(), Some(1));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever is typed, the answer is an answer or a refusal.
    #[test]
    fn nothing_typed_makes_it_fall(when in "\\PC{0,30}", at in "\\PC{0,30}", clock in "\\PC{0,10}") {
        let folder = Folder::new("anything");
        let output = almuri(&folder, &["cast", &when, "--at", &at, &format!("--clock={clock}")]);
        let code = output.status.code();
        prop_assert!(code == Some(0) || code == Some(2), "{code:?}");
        prop_assert!(code == Some(0) || output.stdout.is_empty());
    }
}
