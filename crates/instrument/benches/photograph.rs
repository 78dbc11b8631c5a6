//! How long an instrument takes to be found in its picture, and what else that is asked:
//! `cargo bench -p instrument`. What is found is that of an untimed run.

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;
use std::hint::black_box;
use std::time::{Duration, Instant as Clock};

use instrument::{Photograph, Photographed};

const RUNS: usize = 9;
const EXAMPLE: &str = include_str!("../../../data/measurements/from-a-picture.toml");

fn main() -> Result<(), Box<dyn Error>> {
    let photograph = Photograph::from_toml(EXAMPLE)?;
    let found = Photographed::of(&photograph)?;
    println!("{} marks", photograph.marks.len());
    report("found", || {
        Photographed::of(&photograph).as_ref() == Ok(&found)
    });
    report("what lies at a place", || {
        !found.proposals([1200.0, 900.0]).is_empty()
    });
    report("the marks that would tell most", || {
        !found.tellings().is_empty()
    });
    report("its lines", || !found.drawn().is_empty());
    Ok(())
}

/// The best and the middle of some runs.
fn report(name: &str, run: impl Fn() -> bool) {
    let mut all: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let begin = Clock::now();
            assert!(black_box(run()), "{name}");
            begin.elapsed()
        })
        .collect();
    all.sort_unstable();
    println!(
        "{name}: {:.1} ms at best, {:.1} ms as a rule",
        all.first().map_or(0.0, |one| one.as_secs_f64() * 1e3),
        all.get(RUNS / 2).map_or(0.0, |one| one.as_secs_f64() * 1e3)
    );
}
