use super::fit::Estimate;
use crate::length::Length;

/// A length beside what it should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Deviation {
    /// What was measured.
    pub what: String,
    /// As measured.
    pub measured: Length,
    /// As it should be.
    pub should: Length,
}

/// Millimetres as lengths.
pub(super) fn length(estimate: Estimate<f64>) -> Estimate<Length> {
    Estimate {
        at: Length::from_mm(estimate.at),
        within: Length::from_mm(estimate.within),
    }
}
