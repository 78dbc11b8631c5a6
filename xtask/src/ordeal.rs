//! `cargo xtask ordeal [PERCENT]`: what the tests try some times, tried as often as can be
//! told of, and the table of it.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use ordeal::{PERCENT, TOLD};

use crate::cargo;

/// The test files that have an ordeal.
const TESTS: &[&str] = &[
    "crash",
    "faults",
    "refused",
    "exchange",
    "broken_off",
    "held",
    "any_input",
];

/// Where the table is.
const TABLE: &str = "reference/ordeal.md";

/// Tries everything, or so many hundredths of it, and writes the table of how often when
/// nothing failed.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    let percent: u64 = match words.first() {
        None => 100,
        Some(word) => word
            .parse()
            .ok()
            .filter(|percent| (1..=1000).contains(percent))
            .ok_or_else(|| {
                format!("{word:?} is no number of hundredths; `cargo xtask ordeal 10` would do")
            })?,
    };
    let mut rows = Vec::new();
    for test in TESTS {
        println!("── {test}");
        rows.extend(tried(test, percent)?);
    }
    let table = format!(
        "# The ordeal\n\n\
         By `cargo xtask ordeal {percent}`: what the tests try some times, tried as often as it \
         says here, in builds for development. A test that finds one thing otherwise than it is told here \
         fails, and no table is written.\n\n\
         | tried | how often | what came of it |\n|---|--:|---|\n{}\n",
        rows.join("\n")
    );
    std::fs::write(cargo::root().join(TABLE), table)
        .map_err(|error| format!("{TABLE} cannot be written: {error}"))
}

/// Runs one test file, and gives back the rows that it told.
fn tried(test: &str, percent: u64) -> Result<Vec<String>, String> {
    let mut child = cargo::cargo()
        .args(["test", "--workspace", "--locked", "--test", test, "--"])
        .args(["--nocapture", "--test-threads", "1"])
        .env(PERCENT, percent.to_string())
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|error| format!("cargo test did not start: {error}"))?;
    let mut rows = Vec::new();
    if let Some(out) = child.stdout.take() {
        for line in BufReader::new(out).lines().map_while(Result::ok) {
            if let Some((_, told)) = line.split_once(TOLD) {
                println!("{told}");
                rows.push(format!("| {told} |"));
            }
        }
    }
    let status = child
        .wait()
        .map_err(|error| format!("cargo test did not end: {error}"))?;
    if status.success() {
        Ok(rows)
    } else {
        Err(format!(
            "{test}: something is not as it should be; it says above what"
        ))
    }
}
