//! A mutant: one little thing in the sources said otherwise than it is meant.

use std::ops::Range;

/// A change that a test should notice.
#[derive(Clone)]
pub(super) struct Mutant {
    /// Its number: the same as long as the seed, the file, the function and the change are,
    /// whatever else is written around them.
    pub(super) number: u64,
    /// The source, from the root.
    pub(super) file: String,
    pub(super) change: Change,
}

/// What is changed in a file, and where.
#[derive(Clone)]
pub(super) struct Change {
    /// The bytes of the source that are said otherwise.
    pub(super) range: Range<usize>,
    pub(super) line: usize,
    /// The function that it stands in.
    pub(super) function: String,
    pub(super) way: Way,
    /// The change as a person reads it.
    pub(super) told: String,
}

/// How the sources are said otherwise while a mutant is awake.
#[derive(Clone)]
pub(super) enum Way {
    /// Another expression in the place of one.
    Instead(String),
    /// A statement is left out.
    LeftOut,
    /// A function answers at once.
    Answered(String),
}

impl Mutant {
    /// The `nth` such change in a function of a file, numbered for a seed.
    pub(super) fn new(seed: u64, file: &str, change: Change, nth: usize) -> Mutant {
        let identity = format!("{seed}|{file}|{}|{}|{nth}", change.function, change.told);
        Mutant {
            number: scattered(&identity),
            file: file.to_owned(),
            change,
        }
    }
}

/// A number that any other text would scatter elsewhere: FNV-1a, its bits mixed by the
/// finish of SplitMix64. The standard library's own promises no more than the next release.
fn scattered(text: &str) -> u64 {
    let hash = text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    let hash = (hash ^ (hash >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let hash = (hash ^ (hash >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    hash ^ (hash >> 31)
}
