use std::fmt;

/// Something out of order: where, what is wrong, and how to mend it.
#[derive(Debug, PartialEq)]
pub(super) struct Complaint {
    pub(super) place: String,
    pub(super) wrong: String,
    pub(super) mend: &'static str,
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}\n    {}", self.place, self.wrong, self.mend)
    }
}
