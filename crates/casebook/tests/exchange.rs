//! Export and import: what goes out comes in again, and what is wrong is said.

use casebook::{
    BadRow, Case, Casebook, CsvFor, GivenMark, Reading, read_csv, read_json, write_csv, write_json,
};
use ordeal::{Dice, Thorns, tell, times};
use proptest::prelude::*;

fn all_right(_: &Case) -> Result<(), String> {
    Ok(())
}

prop_compose! {
    fn cases()(
        name in "[^\\s][^\\x00]{0,20}",
        note in "[^\\x00]{0,40}",
        tags in proptest::collection::vec("[a-z]{1,6}", 0..3),
        zone in proptest::option::of("[A-Z][a-z]{2,6}/[A-Z][a-z]{2,6}"),
        degrees in proptest::collection::vec(0..30_u32, 0..3),
    ) -> Case {
        Case {
            name: name.trim().to_owned(),
            when: "1391-03-12 09:00".to_owned(),
            at: "51.8333,-1.25".to_owned(),
            zone,
            note,
            readings: degrees
                .iter()
                .map(|deg| Reading { what: "ascendant".to_owned(), degree: format!("{deg} Gemini"), who: None })
                .collect(),
            marks: degrees
                .iter()
                .map(|deg| GivenMark { what: "all".to_owned(), mark: deg.to_string(), remark: String::new() })
                .collect(),
            tags,
            ..Case::default()
        }
        .tidied()
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn what_goes_out_comes_in(cases in proptest::collection::vec(cases(), 0..6)) {
        prop_assume!(cases.iter().all(|case| !case.name.is_empty()));
        let folder = tempfile::tempdir().expect("a folder");
        let mut book = Casebook::open_without_backup(&folder.path().join("a.sqlite")).expect("opens");
        book.keep_all(cases.clone()).expect("kept");
        let (mut json, mut csv) = (Vec::new(), Vec::new());
        write_json(&book, None, &mut json).expect("written");
        write_csv(&book, None, CsvFor::Reading, &mut csv).expect("written");
        let json = String::from_utf8(json).expect("text");
        let from_json = read_json(&json, all_right).expect("a casebook");
        let from_csv = read_csv(csv.as_slice(), all_right).expect("a table");
        for imported in [from_json, from_csv] {
            prop_assert_eq!(&imported.bad, &[]);
            let back: Vec<Case> = imported.good.into_iter().map(|(_, case)| case).collect();
            prop_assert_eq!(&back, &cases);
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "[^\\x00]{0,200}") {
        let _ = read_json(&text, all_right);
        let _ = read_csv(text.as_bytes(), all_right);
    }
}

/// Tables and casebooks that were spoiled are read or refused.
#[test]
fn spoiled_tables_are_read_or_refused() {
    let table = "name,when,at,zone,clock,calendar,which,houses,with,by,readings,marks,tags,note\n\
        \"A, class\",2024-05-14 09:20,\"42.88,-8.54\",Europe/Madrid,,,,,class,turning,ascendant=11 Pisces; X=2 Leo,all=7/10,a; b,\"two\nlines\"\n";
    let semicolons = "name;when;at\nA;1391-03-12 09:00;51.8 N 1.2 W\n";
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = Casebook::open_without_backup(&folder.path().join("a.sqlite")).expect("opens");
    let mut json = Vec::new();
    let all = read_csv(table.as_bytes(), all_right).expect("a table").good;
    book.keep_all(all.into_iter().map(|(_, case)| case).collect())
        .expect("kept");
    write_json(&book, None, &mut json).expect("written");
    let json = String::from_utf8(json).expect("text");
    let (thorns, mut dice) = (Thorns::default(), Dice::seeded(11));
    let rounds = times(2000, 400_000);
    for _ in 0..rounds {
        let text = thorns.spoil(&[table.to_owned(), semicolons.to_owned()], &mut dice);
        let _ = read_csv(text.as_bytes(), all_right).map_err(|error| error.to_string());
        let text = thorns.spoil(std::slice::from_ref(&json), &mut dice);
        let _ = read_json(&text, all_right).map_err(|error| error.to_string());
    }
    tell(
        "spoiled tables and casebooks",
        2 * rounds,
        "all read or refused",
    );
}

/// The characters by which a spreadsheet takes a text for a formula: OWASP, "CSV
/// Injection".
#[test]
fn a_spreadsheet_finds_no_formulas() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = Casebook::open_without_backup(&folder.path().join("a.sqlite")).expect("opens");
    for name in ["=1+1", "+1", "@sum", "-2", "Plain = text"] {
        book.keep(Case {
            name: name.to_owned(),
            when: "-0100-01-01 12:00".to_owned(),
            at: "-8.5,42".to_owned(),
            note: "\tindented".to_owned(),
            ..Case::default()
        })
        .expect("kept");
    }
    let written = |csv_for| {
        let mut table = Vec::new();
        write_csv(&book, None, csv_for, &mut table).expect("written");
        String::from_utf8(table).expect("text")
    };
    let cells = |table: &str| -> Vec<String> {
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let rows = reader.records().map(|row| row.expect("a row"));
        rows.flat_map(|row| row.iter().map(str::to_owned).collect::<Vec<_>>())
            .collect()
    };
    let is_formula = |cell: &String| cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let plain = cells(&written(CsvFor::Reading));
    let safe = cells(&written(CsvFor::Spreadsheets));
    assert_eq!(plain.iter().filter(|cell| is_formula(cell)).count(), 4 + 15);
    assert_eq!(safe.iter().filter(|cell| is_formula(cell)).count(), 0);
    for (plain, safe) in plain.iter().zip(&safe) {
        assert!(
            plain == safe || *safe == format!("'{plain}"),
            "{plain} {safe}"
        );
    }
}

#[test]
fn bad_rows_are_named_by_their_lines() {
    let table = "name,when,at,readings\n\
        Good,2024-05-14 09:20,Lisbon,ascendant=20 Gemini\n\
        ,2024-05-14 09:20,Lisbon,\n\
        \"On two\nlines\",2024-05-14 09:20,Lisbon,\n\
        Bad,2024-05-14 09:20,Lisbon,ascendant 20\n\
        Short,2024-05-14 09:20\n\
        Refused,2024-13-14 09:20,Lisbon,\n";
    let check = |case: &Case| {
        if case.when.contains("-13-") {
            Err("there is no month 13".to_owned())
        } else {
            Ok(())
        }
    };
    let imported = read_csv(table.as_bytes(), check).expect("a table");
    let good: Vec<u64> = imported.good.iter().map(|(line, _)| *line).collect();
    assert_eq!(good, [2, 4]);
    let bad = |line, why: &str| BadRow {
        line,
        why: why.to_owned(),
    };
    assert_eq!(
        imported.bad,
        [
            bad(3, "a name is missing"),
            bad(
                6,
                "readings: \"ascendant 20\" is not of the form what=value"
            ),
            bad(7, "2 fields, and the header has 4"),
            bad(8, "there is no month 13"),
        ]
    );
}

#[test]
fn bad_cases_in_json_are_named_by_their_lines() {
    let text = r#"{"format":"almuri casebook","version":1,"cases":[
{"name":"Good","when":"2024-05-14 09:20","at":"Lisbon"},

{"name":"Unknown field","when":"2024-05-14 09:20","at":"Lisbon","sign":"Leo"},
{"name":7}
]}"#;
    let imported = read_json(text, all_right).expect("a casebook");
    assert_eq!(imported.good.len(), 1);
    let lines: Vec<u64> = imported.bad.iter().map(|bad| bad.line).collect();
    assert_eq!(lines, [4, 5]);
    assert!(
        imported.bad[0].why.starts_with("unknown field `sign`"),
        "{}",
        imported.bad[0].why
    );
}

#[test]
fn what_is_no_exchange_file_is_refused() {
    for (text, word) in [
        ("", "would do"),
        ("[]", "would do"),
        (
            r#"{"format":"letters","version":1,"cases":[]}"#,
            "\"letters\" of version 1 is not known",
        ),
        (
            r#"{"format":"almuri casebook","version":3,"cases":[]}"#,
            "version 3",
        ),
    ] {
        let error = read_json(text, all_right).expect_err(text).to_string();
        assert!(error.contains(word), "{error}");
    }
    let error = read_csv("name,when,place\n".as_bytes(), all_right).expect_err("a column");
    assert!(
        error.to_string().contains("there is no column \"place\""),
        "{error}"
    );
}

/// All is looked through before anything is kept.
#[test]
fn no_more_is_read_in_than_can_be_looked_through_at_once() {
    const MOST: usize = 50_000;
    let table = |rows: usize| format!("name,when,at\n{}", "A,B,C\n".repeat(rows));
    let whole = read_csv(table(MOST).as_bytes(), all_right).expect("a table");
    assert_eq!(whole.good.len(), MOST);
    let json = format!(
        "{{\"format\":\"almuri casebook\",\"version\":1,\"cases\":[{}{{}}]}}",
        "{},".repeat(MOST)
    );
    let more = [
        read_csv(table(MOST + 1).as_bytes(), all_right),
        read_json(&json, all_right),
    ];
    for refused in more {
        let why = refused.expect_err("too many").to_string();
        assert_eq!(
            why,
            "there are more than 50000 rows; in parts they would do"
        );
    }
    let bad = format!("name,when,at\nA,B,C\n{}", ",,\n".repeat(1001));
    let why = read_csv(bad.as_bytes(), all_right).expect_err("too many");
    let said = "more than 1000 rows cannot be kept, the first in line 3: a name is missing";
    assert_eq!(why.to_string(), said);
}

/// A book of more cases than are read in at once goes out in parts, and so does one of long
/// cases; every part comes in by itself, and nothing is lost between two.
#[test]
fn a_large_book_goes_out_in_parts_that_come_in() {
    let one = |n: u32, note: String| Case {
        name: format!("Invented {n}"),
        when: "1391-03-12 09:00".to_owned(),
        at: "51.8333,-1.25".to_owned(),
        note,
        ..Case::default()
    };
    let many: Vec<Case> = (0..50_001).map(|n| one(n, String::new())).collect();
    let long: Vec<Case> = (0..17).map(|n| one(n, "x".repeat(1_000_000))).collect();
    for (cases, parts, forms) in [(many, 2, &[false][..]), (long, 2, &[true, false])] {
        let folder = tempfile::tempdir().expect("a folder");
        let mut book =
            Casebook::open_without_backup(&folder.path().join("a.sqlite")).expect("opens");
        book.keep_all(cases.clone()).expect("kept");
        for &in_json in forms {
            let (mut behind, mut back, mut count) = (None, Vec::new(), 0);
            loop {
                let mut out = Vec::new();
                let part = if in_json {
                    write_json(&book, behind, &mut out)
                } else {
                    write_csv(&book, behind, CsvFor::Reading, &mut out)
                }
                .expect("written");
                let text = String::from_utf8(out).expect("text");
                assert!(text.len() < 17 << 20, "{} bytes", text.len());
                let read = if in_json {
                    read_json(&text, all_right)
                } else {
                    read_csv(text.as_bytes(), all_right)
                }
                .expect("a part is a casebook");
                assert_eq!((read.good.len() as u64, read.bad.len()), (part.cases, 0));
                back.extend(read.good.into_iter().map(|(_, case)| case));
                count += 1;
                behind = part.next;
                if behind.is_none() {
                    break;
                }
            }
            assert!(back == cases, "what comes back is what went out");
            assert_eq!(count, parts);
        }
    }
}

#[test]
fn what_spreadsheets_write_is_read() {
    for text in [
        "\u{feff}name;when;at;tags\r\nGood;2024-05-14 09:20;Lisbon, Portugal;\"a;b\"\r\n",
        "Name\tWhen\tAt\ttags\nGood\t2024-05-14 09:20\tLisbon, Portugal\ta; b\n",
        "name,when,at,tags\rGood,2024-05-14 09:20,\"Lisbon, Portugal\",a;b\r",
    ] {
        let imported = read_csv(text.as_bytes(), all_right).expect("a table");
        assert_eq!(imported.bad, [], "{text}");
        let (_, case) = &imported.good[0];
        assert_eq!(case.at, "Lisbon, Portugal");
        assert_eq!(case.tags, ["a", "b"]);
    }
    // A comma within the name of a column parts nothing.
    let refused = read_csv("name;when;at;a, b\n".as_bytes(), all_right).expect_err("refused");
    assert!(refused.to_string().contains("\"a, b\""), "{refused}");
    let doubtful = "name;when;at\nOne;2024-05-14 09:20;42,88\nTwo;2024-05-14 09:20;42.88,-8.54\n";
    let imported = read_csv(doubtful.as_bytes(), all_right).expect("a table");
    assert_eq!((imported.good.len(), imported.bad.len()), (1, 1));
    assert!(imported.bad[0].why.contains("decimal comma"));
    let json = "\u{feff}{\"format\":\"almuri casebook\",\"version\":1,\"cases\":[]}";
    assert_eq!(read_json(json, all_right).expect("a casebook").good, []);
}

#[test]
fn a_bad_row_is_named_by_its_line_however_lines_end() {
    for end in ["\n", "\r\n"] {
        let text = format!(
            "name,when,at{end}Good,2024-05-14 09:20,Oxford{end},2024-05-14 09:20,Oxford{end}"
        );
        let imported = read_csv(text.as_bytes(), all_right).expect("a table");
        assert_eq!(imported.bad[0].line, 3, "{end:?}");
        assert_eq!(imported.good[0].0, 2, "{end:?}");
    }
}
