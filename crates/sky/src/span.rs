/// The years for which there are positions.
///
/// The first is astronomical (−600 is 601 BC) and begins on 1 January of the
/// Julian calendar; the last ends with 31 December of the Gregorian.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span;

impl Span {
    /// First year, astronomical.
    pub const FIRST_YEAR: i32 = -600;
    /// Last year.
    pub const LAST_YEAR: i32 = 2649;
    /// Julian date (TT) on which the span begins.
    pub const FIRST_JD: f64 = 1_501_907.5;
    /// Julian date (TT) on which the span ends.
    pub const LAST_JD: f64 = 2_688_946.5;

    /// Whether a Julian date (TT) lies within; never so for one that is not a number.
    #[must_use]
    pub fn contains_jd_tt(jd_tt: f64) -> bool {
        (Span::FIRST_JD..=Span::LAST_JD).contains(&jd_tt)
    }
}
