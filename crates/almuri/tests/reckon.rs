//! `almuri reckon` as it is run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;

const SANTIAGO: [&str; 5] = [
    "2024-05-14 09:20",
    "--at",
    "42.8806,-8.5449",
    "--zone",
    "Europe/Madrid",
];

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_almuri"));
    let command = command.arg("reckon").args(SANTIAGO).args(arguments);
    command.arg("--no-settings").output().unwrap()
}

/// Steps that are alike are one form: the sheet to be filled in is three pages.
#[test]
fn the_blank_sheet_is_of_a_few_pages() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("blank.pdf");
    for more in [&[][..], &["--second-difference", "--houses", "placidus"]] {
        let written = ["--blank", "--overwrite", "-o", file.to_str().unwrap()];
        let output = run(&[&written, more].concat());
        assert!(output.status.success(), "{output:?}");
        let bytes = std::fs::read(&file).unwrap();
        let pages = bytes.windows(11).filter(|some| some == b"/Type/Page/");
        let count = pages.count();
        assert!((2..=4).contains(&count), "{count}");
    }
}

#[test]
fn found_working_and_why_stand_beside_one_another() {
    let output = run(&["--json"]);
    assert!(output.status.success() && output.stderr.is_empty());
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    let found = &answer["found"];
    assert!(found["ascendant_deg"].is_f64() && found["midheaven_deg"].is_f64());
    assert_eq!(found["cusps_deg"].as_array().unwrap().len(), 12);
    assert_eq!(found["bodies"][1]["name"], "Moon");
    assert!(found["bodies"][1]["longitude_deg"].is_f64());
    // Every cell says where it stands.
    for step in answer["working"]["steps"].as_array().unwrap() {
        for taken in step["takes"].as_array().unwrap() {
            for key in ["table", "title", "row", "column", "cell"] {
                assert!(!taken[key].as_str().unwrap().is_empty(), "{key} of {taken}");
            }
        }
    }
    let causes: Vec<&str> = answer["why"]["ascendant"]["shares"]
        .as_array()
        .unwrap()
        .iter()
        .map(|share| share["cause"].as_str().unwrap())
        .collect();
    for cause in [
        "table-latitude",
        "table-rounding",
        "interpolation",
        "second-difference",
    ] {
        assert!(causes.contains(&cause), "{cause}");
    }
}

#[test]
fn the_sheet_is_written_line_by_line_and_typeset() {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("reckoned.pdf");
    let output = run(&["-o", path.to_str().unwrap(), "--overwrite"]);
    assert!(output.status.success() && output.stderr.is_empty());
    let text = String::from_utf8(output.stdout).unwrap();
    let line = |what: &str, sign: &str, figure: &str| format!("{what:<47}{sign:>2} {figure:>21}");
    for words in [
        line("time on the clock", "", "9 h 20 m 00 s").as_str(),
        &line("summer time", "−", "1 h 00 m 00 s"),
        "Table of houses by alcabitius for latitude 42°53′ N",
        "logarithm of the motion",
        "lot of Fortune",
    ] {
        assert!(text.contains(words), "{words} in\n{text}");
    }
    assert!(std::fs::read(path).unwrap().starts_with(b"%PDF"));
}

#[test]
fn an_old_reckoning_is_refused() {
    let output = run(&["--clock", "unequal-day"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let message = String::from_utf8(output.stderr).unwrap();
    assert!(message.contains("+01:00 would do"), "{message}");
}
