/// The time for which there are positions.
///
/// From 1 January −600 (astronomical; 601 BC) of the Julian calendar to 25 January
/// 2650, where the JPL ephemeris DE440 ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span;

impl Span {
    /// The span in words.
    pub const DATES: &'static str = "1 January −600 (Julian calendar) to 25 January 2650";
    /// Julian date (TT) at which the span begins.
    pub const FIRST_JD: f64 = 1_501_907.5;
    /// Julian date (TT) at which the span ends.
    pub const LAST_JD: f64 = 2_688_976.5;
    /// Julian date (TT) from which places follow DE440 (1 January 1550, Gregorian);
    /// before it they follow DE422. There they step by what the two differ: 1.8″ for
    /// Uranus, 0.4″ for Neptune, 0.25″ for the Moon, 0.15″ or less for the others.
    pub const SEAM_JD: f64 = 2_287_185.5;

    /// Whether a Julian date (TT) lies within; never so for one that is not a number.
    #[must_use]
    pub fn contains_jd_tt(jd_tt: f64) -> bool {
        (Span::FIRST_JD..=Span::LAST_JD).contains(&jd_tt)
    }
}
