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

    /// Julian date of the beginning of a year of the Gregorian calendar.
    pub(crate) fn new_year(year: i32) -> f64 {
        let before = f64::from(year) - 1.0;
        let leap = (before / 4.0).floor() - (before / 100.0).floor() + (before / 400.0).floor();
        1_721_425.5 + 365.0 * before + leap
    }

    /// The first and the last year (Gregorian) that lie between two Julian dates whole.
    pub(crate) fn years((first_jd, last_jd): (f64, f64)) -> (i32, i32) {
        // A year before or after what its mean length suggests.
        let about = |jd: f64| ((jd - Span::new_year(1)) / 365.2425).floor() as i32 + 1;
        let first = (about(first_jd) - 1..).find(|year| Span::new_year(*year) >= first_jd);
        let after = (about(last_jd) - 1..).find(|year| Span::new_year(year + 1) > last_jd);
        (first.unwrap_or_default(), after.unwrap_or_default() - 1)
    }
}
