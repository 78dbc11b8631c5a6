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
