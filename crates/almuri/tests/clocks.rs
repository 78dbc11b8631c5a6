//! Machines whose clocks stand anywhere from 1970 to 2226, go back and jump ahead: each
//! command does its work, nothing that was kept is lost, and each day has its backup.

#![cfg(unix)]
#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;

use ordeal::{Dice, at_clock, has_faketime, tell, times};
use serde_json::Value;

const ALMURI: &str = env!("CARGO_BIN_EXE_almuri");

/// Moments at which numbers of seconds, days of the calendar and centuries end.
const CLOCKS: [&str; 9] = [
    "1970-01-01 00:00:00",
    "1999-12-31 23:59:59",
    "2000-02-29 12:00:00",
    "2016-12-31 23:59:59",
    "2038-01-19 03:14:07",
    "2100-02-28 23:59:59",
    "2106-02-07 06:28:15",
    "2199-12-31 23:59:59",
    "2226-12-31 23:59:58",
];

#[track_caller]
fn done(folder: &Path, clock: &str, arguments: &[&str]) -> String {
    let out = at_clock(ALMURI, clock)
        .current_dir(folder)
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .env("XDG_DATA_HOME", folder.join("data"))
        .args(arguments)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&out.stderr);
    assert!(
        out.status.success(),
        "at {clock}, {arguments:?}: {} {said}",
        out.status
    );
    assert_eq!(said, "", "at {clock}, {arguments:?}");
    String::from_utf8(out.stdout).unwrap()
}

#[test]
fn whatever_the_clock_says_nothing_is_lost() {
    const WHAT: &str = "clocks from 1970 to 2226, one after the other and back again";
    if !has_faketime() {
        tell(WHAT, 0, "not tried: `faketime` is not here");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let place = ["--at", "42.8806,-8.5449", "--clock", "mean"];
    let mut dice = Dice::seeded(12);
    let rounds = times(18, 360);
    for round in 0..rounds {
        // First as they are, then in any order.
        let clock = match CLOCKS.get(round as usize) {
            Some(clock) => clock,
            None => dice.one_of(&CLOCKS),
        };
        // The new year may come while the command is at work.
        let year: i32 = clock.split('-').next().unwrap().parse().unwrap();
        let years = [year, year + 1].map(|year| year.to_string());
        let cast = done(
            folder,
            clock,
            &[&["cast", "now"], &place[..], &["--json"]].concat(),
        );
        let cast: Value = serde_json::from_str(&cast).unwrap();
        let utc = cast["moment"]["utc"].as_str().unwrap();
        assert!(
            years.iter().any(|year| utc.starts_with(year)),
            "{utc} at {clock}"
        );
        let name = format!("Case {round}");
        let keep = ["casebook", "keep", &name, "2024-05-14 09:20"];
        done(folder, clock, &[&keep[..], &place].concat());
        done(folder, clock, &["casebook", "check"]);
        if round > 0 {
            let backups = done(folder, clock, &["casebook", "backups"]);
            assert!(
                years.iter().any(|year| backups.contains(year)),
                "at {clock}: {backups}"
            );
        }
    }
    let limit = (rounds + 1).to_string();
    let listed = done(
        folder,
        CLOCKS[0],
        &["casebook", "list", "--limit", &limit, "--json"],
    );
    let listed: Value = serde_json::from_str(&listed).unwrap();
    assert_eq!(listed["cases"].as_array().unwrap().len() as u64, rounds);
    tell(
        WHAT,
        rounds,
        "all that was kept is there, each day backed up",
    );
}
