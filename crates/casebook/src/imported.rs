//! What is read from the files that come in.

use crate::{Case, ClassOut};

/// That a text is no casebook in the form it is said to be in: a sentence.
#[derive(Clone, Debug, thiserror::Error, PartialEq, Eq)]
#[error("{0}")]
pub struct NoCasebook(pub String);

/// A row that cannot be kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadRow {
    /// Its line in the file, from 1.
    pub line: u64,
    /// What is wrong with it.
    pub why: String,
}

/// How many cases and classes are read in at once, at most: all are looked through before
/// one is kept.
pub(crate) const MOST_AT_ONCE: usize = 50_000;

/// How many are told of that cannot be kept: a file with more of them is meant for something
/// else, and to say of each what would do may take long.
const MOST_BAD: usize = 1000;

/// What is told where there are more.
pub(crate) fn too_many() -> String {
    format!("there are more than {MOST_AT_ONCE} rows; in parts they would do")
}

/// What a file holds: the rows that can be kept, with their lines, and those that
/// cannot.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Imported {
    /// Rows that can be kept.
    pub good: Vec<(u64, Case)>,
    /// Rows that cannot.
    pub bad: Vec<BadRow>,
    /// The classes that can be kept.
    pub classes: Vec<ClassOut>,
}

impl Imported {
    /// That not too many rows cannot be kept.
    ///
    /// # Errors
    /// In words, with the first of them.
    pub(crate) fn is_worth_going_on(&self) -> Result<(), NoCasebook> {
        match self.bad.first() {
            Some(BadRow { line, why }) if self.bad.len() > MOST_BAD => Err(NoCasebook(format!(
                "more than {MOST_BAD} rows cannot be kept, the first in line {line}: {why}"
            ))),
            _ => Ok(()),
        }
    }

    /// Takes a row in, or notes what is wrong with it.
    pub(crate) fn row(
        &mut self,
        line: u64,
        case: Result<Case, String>,
        check: &impl Fn(&Case) -> Result<(), String>,
    ) {
        let checked = case.and_then(|case| {
            case.check()?;
            check(&case)?;
            Ok(case.tidied())
        });
        match checked {
            Ok(case) => self.good.push((line, case)),
            Err(why) => self.bad.push(BadRow { line, why }),
        }
    }
}
