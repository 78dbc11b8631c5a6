//! `almuri choose` as it is run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_almuri"));
    command.args(arguments).output().unwrap()
}

const ASKED: [&str; 12] = [
    "choose",
    "--no-settings",
    "--from",
    "2027-03-01",
    "--to",
    "2027-03-14",
    "--at",
    "Lisbon, Portugal",
    "--must",
    "hour of Venus",
    "--rather",
    "Moon waxing",
];

fn said(output: &Output) -> String {
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn times_are_listed_and_what_can_be_wished_is() {
    let text = said(&run(&ASKED));
    for expected in ["hour of Venus", "holds too: Moon waxing", "By these rules"] {
        assert!(text.contains(expected), "{expected} in\n{text}");
    }
    assert!(said(&run(&["choose"])).contains("Moon not void of course"));
}

#[test]
fn times_go_into_files_by_their_ends() {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("times");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let path = |name: &str| folder.join(name).display().to_string();
    let names = ["times.csv", "times.ics", "times.svg"].map(path);
    let outputs = names.iter().flat_map(|name| ["-o", name.as_str()]);
    let asked: Vec<&str> = ASKED
        .into_iter()
        .chain(outputs)
        .chain(["--json", "--alarm", "30"])
        .collect();
    let answer: serde_json::Value = serde_json::from_str(&said(&run(&asked))).unwrap();
    let count = answer["times"].as_array().unwrap().len();
    let [csv, calendar, drawing] = [0, 1, 2].map(|n| fs::read_to_string(&names[n]).unwrap());
    assert_eq!(csv.lines().count(), count + 1);
    assert_eq!(calendar.matches("BEGIN:VEVENT\r\n").count(), count);
    assert_eq!(calendar.matches("TRIGGER:-PT30M\r\n").count(), count);
    assert!(drawing.starts_with("<svg") || drawing.starts_with("<?xml"));
    // Again, it overwrites nothing; and of no other kind is anything made.
    let again = run(&asked);
    assert_eq!(again.status.code(), Some(2));
    let other = run(&[&ASKED[..], &["-o", "times.doc"]].concat());
    assert_eq!(other.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&other.stderr).contains(".ics"));
}

#[test]
fn a_year_is_a_book_a_calendar_and_a_table() {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("year");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let path = |name: &str| folder.join(name).display().to_string();
    let names = ["book.pdf", "year.ics", "days.csv"].map(path);
    let outputs = names.iter().flat_map(|name| ["-o", name.as_str()]);
    let asked = ["year", "2027", "--no-settings", "--at", "Lisbon, Portugal"];
    let more = ["--kinds", "eclipse", "--hours-of", "Venus", "--json"];
    let asked: Vec<&str> = asked.into_iter().chain(outputs).chain(more).collect();
    let answer: serde_json::Value = serde_json::from_str(&said(&run(&asked))).unwrap();
    let hours = answer["hours"].as_array().unwrap().len();
    let eclipses = answer["events"].as_array().unwrap().iter();
    let eclipses = eclipses.filter(|event| event["kind"] == "eclipse").count();
    assert!(fs::read(&names[0]).unwrap().starts_with(b"%PDF"));
    let calendar = fs::read_to_string(&names[1]).unwrap();
    assert_eq!(
        calendar.matches("BEGIN:VEVENT\r\n").count(),
        hours + eclipses
    );
    assert_eq!(fs::read_to_string(&names[2]).unwrap().lines().count(), 366);
    let refused = run(&[
        "year",
        "2027",
        "--no-settings",
        "--at",
        "Lisbon, Portugal",
        "--paper",
        "a7",
    ]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("a6-folded"));
}
