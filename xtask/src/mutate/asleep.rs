//! Put beside the sources of a crate whose mutants sleep: wakes the one that is asked for.

use std::io::Write;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering::Relaxed};

/// Which mutant is awake, or one of the states below.
static AWAKE: AtomicU64 = AtomicU64::new(NOT_LOOKED);
const NOT_LOOKED: u64 = 0;
/// All sleep, and who comes by is noted.
const NOTING: u64 = 1;
const ALL_ASLEEP: u64 = 2;

/// Whether the mutant of this number is awake.
macro_rules! mutated {
    ($number:literal) => {{
        static NOTED: std::sync::atomic::AtomicBool = std::sync::atomic::AtomicBool::new(false);
        crate::asleep::is_awake($number, &NOTED)
    }};
}
pub(crate) use mutated;

#[inline]
pub(crate) fn is_awake(number: u64, noted: &AtomicBool) -> bool {
    match AWAKE.load(Relaxed) {
        NOT_LOOKED | NOTING => look(number, noted),
        awake => awake == number,
    }
}

#[cold]
fn look(number: u64, noted: &AtomicBool) -> bool {
    let notes = std::env::var_os("ALMURI_MUTANTS_MET");
    if AWAKE.load(Relaxed) == NOT_LOOKED {
        let awake = std::env::var("ALMURI_MUTANT_AWAKE").ok();
        let awake = awake.map(|number| number.parse().expect("the number of a mutant"));
        let all_asleep = if notes.is_some() { NOTING } else { ALL_ASLEEP };
        AWAKE.store(awake.unwrap_or(all_asleep), Relaxed);
        return is_awake(number, noted);
    }
    if let Some(notes) = notes
        && !noted.swap(true, Relaxed)
    {
        let mut file = std::fs::File::options();
        let mut file = file.create(true).append(true).open(notes).expect("notes");
        writeln!(file, "{number}").expect("noted");
    }
    false
}
