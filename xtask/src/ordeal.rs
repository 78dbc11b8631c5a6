//! `cargo xtask ordeal [PERCENT] [TEST]…`: what the tests try some times, tried as often as
//! can be told of, and the table of it.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use ordeal::{PERCENT, TOLD};

use crate::{cargo, parts, site};

/// The test files that have an ordeal, and what they try.
const TESTS: &[(&str, &str)] = &[
    ("crash", "A casebook, killed"),
    ("refused", "A casebook, refused by the system"),
    ("faults", "A casebook, spoiled, and with many at work"),
    ("exchange", "Tables and casebooks that are read in"),
    ("clocks", "Any clock"),
    (
        "broken_off",
        "The command line, the server and batches, killed",
    ),
    ("held", "The server, flooded"),
    ("any_input", "Whatever is written"),
    ("photograph", "Instruments in their photographs"),
    (BROWSER, "The casebook in the browser, its tabs closed"),
];

/// The test of ten million inputs, and the crates that are optimised for it besides those that
/// always are.
const OF_MILLIONS: (&str, [&str; 3]) = ("any_input", ["desk", "ordeal", "words"]);

/// The page's tests: one of them has an ordeal, in the page without a server.
const BROWSER: &str = "browser";
const OF_BROWSER: &str = "what_was_kept_outlives_the_tab";

/// Where the table is, and its head.
const TABLE: &str = "reference/ordeal.md";
const HEAD: &str = "# The ordeal\n\n\
    What the tests try some times, tried as often as it says here, in builds for\n\
    development. A test that finds one thing otherwise than it is told here fails, and\n\
    writes no rows.\n";

/// Tries everything, or so many hundredths of it, or some of it, and writes the table of
/// how often where nothing failed. What is not tried keeps its rows.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    let (percent, named) = match words.split_first() {
        Some((first, rest)) if first.parse::<u64>().is_ok() => (percent(first)?, rest),
        _ => (100, words),
    };
    if let Some(unknown) = named
        .iter()
        .find(|name| !TESTS.iter().any(|(test, _)| test == name))
    {
        let tests: Vec<&str> = TESTS.iter().map(|(test, _)| *test).collect();
        return Err(format!(
            "{unknown:?} is neither a number of hundredths nor a test that has an ordeal; there are {}",
            tests.join(", ")
        ));
    }
    let path = cargo::root().join(TABLE);
    for (test, heading) in TESTS {
        if !named.is_empty() && !named.iter().any(|name| name == test) {
            continue;
        }
        println!("── {test}");
        let rows = tried(test, percent)?;
        // Read when it is written: another part may have been tried meanwhile.
        let table = std::fs::read_to_string(&path).unwrap_or_default();
        let part = part(test, percent, &rows);
        let headings = TESTS.iter().map(|(_, heading)| *heading);
        let table = parts::with_part(HEAD, headings, &table, (heading, &part));
        std::fs::write(&path, &table)
            .map_err(|error| format!("{TABLE} cannot be written: {error}"))?;
    }
    Ok(())
}

fn percent(word: &str) -> Result<u64, String> {
    word.parse()
        .ok()
        .filter(|percent| (1..=1000).contains(percent))
        .ok_or_else(|| {
            format!("{word:?} is no number of hundredths; `cargo xtask ordeal 10` would do")
        })
}

/// What a test tried, as a part of the table.
fn part(test: &str, percent: u64, rows: &[String]) -> String {
    let of_it = match percent {
        100 => String::new(),
        other => format!("{other} "),
    };
    format!(
        "`cargo xtask ordeal {of_it}{test}`{}\n\n\
         | tried | how often | what came of it |\n|---|--:|---|\n{}\n",
        load(),
        rows.join("\n")
    )
}

/// How busy the machine was meanwhile, where it tells: times are of no use without.
fn load() -> String {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let text = std::fs::read_to_string("/proc/loadavg").unwrap_or_default();
    match text.split(' ').nth(1) {
        Some(load) => format!(
            ", on a machine of {cores} cores, at which {load} programs were at work in the mean of its last five minutes"
        ),
        None => String::new(),
    }
}

/// Runs one test file, and gives back the rows that it told.
fn tried(test: &str, percent: u64) -> Result<Vec<String>, String> {
    if test == BROWSER {
        site::run(&[])?;
    }
    let mut command = cargo::cargo();
    command.args(["test", "--workspace", "--locked"]);
    let (of_millions, optimised) = OF_MILLIONS;
    if test == of_millions {
        for package in optimised {
            let so = format!("profile.dev.package.{package}.opt-level=2");
            command.args(["--config", &so]);
        }
    }
    let mut child = command
        .args(["--test", test, "--"])
        .args((test == BROWSER).then_some(OF_BROWSER))
        .args(["--nocapture", "--test-threads", "1"])
        .env("ALMURI_SITE", cargo::root().join(site::SITE))
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
