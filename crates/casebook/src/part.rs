//! A casebook goes out in parts, each of which can be read in by itself.

use crate::imported::MOST_AT_ONCE;
#[cfg(feature = "book")]
use crate::{Case, CaseId, Casebook, CasebookError};

/// A part is full once it has so many bytes: within a question of the page, where a letter
/// may become two, it is below the 32 MB that the page carries in.
const FULL_BYTES: u64 = 15 << 20;

/// How much has been written of a part.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Fill {
    cases: usize,
    bytes: u64,
}

impl Fill {
    /// Notes a case of so many bytes.
    pub(crate) fn takes(&mut self, bytes: usize) {
        self.cases += 1;
        self.bytes += bytes as u64;
    }

    /// How many cases are in it.
    pub(crate) fn cases(self) -> u64 {
        self.cases as u64
    }

    /// Whether the next case begins another part, for no more would be read in at once.
    pub(crate) fn is_full(self) -> bool {
        self.cases >= MOST_AT_ONCE || self.bytes >= FULL_BYTES
    }
}

/// A part of a casebook that was written.
#[cfg(feature = "book")]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// How many cases are in it.
    pub cases: u64,
    /// The case behind which the next part begins; none where this is the last.
    pub next: Option<CaseId>,
}

#[cfg(feature = "book")]
impl Part {
    /// Hands over the cases behind one, or all, until one is not taken.
    pub(crate) fn of(
        book: &Casebook,
        behind: Option<CaseId>,
        mut take: impl FnMut(&Case) -> Result<bool, CasebookError>,
    ) -> Result<Part, CasebookError> {
        let mut part = Part {
            cases: 0,
            next: None,
        };
        let mut last = behind;
        book.each_behind(behind, |kept| {
            let is_taken = take(&kept.case)?;
            if is_taken {
                part.cases += 1;
                last = Some(kept.id);
            } else {
                part.next = last;
            }
            Ok::<_, CasebookError>(is_taken)
        })?;
        Ok(part)
    }
}
