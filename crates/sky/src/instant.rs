use std::cmp::Ordering;

use crate::DeltaT;

const SECONDS_PER_DAY: f64 = 86_400.0;

/// An instant, on both time scales that astronomy needs: Universal Time, which
/// follows the Earth's turning (UT1, taken as UTC), and Terrestrial Time, which
/// is even and by which the planets move.
///
/// Kept as whole Julian days from midnight and a fraction, so that a nanosecond
/// survives in any century. The two scales differ by [`Instant::delta_t`].
///
/// Since 1972 UTC has leap seconds: TT runs through them, UT repeats the second
/// before midnight.
///
/// ```
/// use sky::Instant;
/// let noon = Instant::from_jd_ut(2_451_545.0);
/// assert!((noon.delta_t().seconds - 64.184).abs() < 1e-9);
/// assert_eq!(noon.plus_seconds(86_400.0).jd_ut(), 2_451_546.0);
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Instant {
    ut: TwoPart,
    tt: TwoPart,
}

/// A Julian date as a day that begins at midnight (ending in .5) and a fraction in [0, 1).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
struct TwoPart {
    day: f64,
    fraction: f64,
}

impl TwoPart {
    fn new(a: f64, b: f64) -> TwoPart {
        let midnight_a = (a - 0.5).floor() + 0.5;
        let midnight_b = b.floor();
        let fraction = (a - midnight_a) + (b - midnight_b);
        let carry = fraction.floor();
        TwoPart {
            day: midnight_a + midnight_b + carry,
            fraction: fraction - carry,
        }
    }

    fn plus_seconds(self, seconds: f64) -> TwoPart {
        let days = (seconds / SECONDS_PER_DAY).trunc();
        let rest = seconds - days * SECONDS_PER_DAY;
        TwoPart::new(self.day + days, self.fraction + rest / SECONDS_PER_DAY)
    }

    fn jd(self) -> f64 {
        self.day + self.fraction
    }
}

/// The same instant has the same TT; its UT may be rounded another way.
impl PartialEq for Instant {
    fn eq(&self, other: &Instant) -> bool {
        self.tt == other.tt
    }
}

/// In order of time, by TT.
impl PartialOrd for Instant {
    fn partial_cmp(&self, other: &Instant) -> Option<Ordering> {
        self.tt.partial_cmp(&other.tt)
    }
}

impl Instant {
    /// From a Julian date in Universal Time; good to 40 µs, the grain of such a number.
    #[must_use]
    pub fn from_jd_ut(jd_ut: f64) -> Instant {
        Instant::from_ut(jd_ut, 0.0)
    }

    /// From a Julian date in Terrestrial Time; good to 40 µs, the grain of such a number.
    #[must_use]
    pub fn from_jd_tt(jd_tt: f64) -> Instant {
        Instant::from_tt(jd_tt, 0.0)
    }

    /// From a Julian date in Universal Time in two parts, which are added: a day
    /// (ending in .5 at midnight, in .0 at noon) and a fraction of a day.
    #[must_use]
    pub fn from_ut(day: f64, fraction: f64) -> Instant {
        let ut = TwoPart::new(day, fraction);
        Instant {
            ut,
            tt: ut.plus_seconds(DeltaT::at_jd_ut(ut.jd()).seconds),
        }
    }

    /// From a Julian date in Terrestrial Time in two parts, which are added.
    #[must_use]
    pub fn from_tt(day: f64, fraction: f64) -> Instant {
        let tt = TwoPart::new(day, fraction);
        // ΔT changes by less than a minute a year, so each round gains six digits.
        let ut = (0..3).fold(tt, |ut, _| {
            tt.plus_seconds(-DeltaT::at_jd_ut(ut.jd()).seconds)
        });
        Instant { ut, tt }
    }

    /// The Julian date in Universal Time, rounded to 40 µs.
    #[must_use]
    pub fn jd_ut(self) -> f64 {
        self.ut.jd()
    }

    /// The Julian date in Terrestrial Time, rounded to 40 µs.
    #[must_use]
    pub fn jd_tt(self) -> f64 {
        self.tt.jd()
    }

    /// Universal Time as the Julian date of the midnight before, and the fraction
    /// of the day since, in [0, 1).
    #[must_use]
    pub const fn ut_parts(self) -> (f64, f64) {
        (self.ut.day, self.ut.fraction)
    }

    /// Terrestrial Time as the Julian date of the midnight before, and the
    /// fraction of the day since, in [0, 1).
    #[must_use]
    pub const fn tt_parts(self) -> (f64, f64) {
        (self.tt.day, self.tt.fraction)
    }

    /// The instant so many seconds (of TT, that is of an even clock) later;
    /// earlier when negative.
    #[must_use]
    pub fn plus_seconds(self, seconds: f64) -> Instant {
        let tt = self.tt.plus_seconds(seconds);
        Instant::from_tt(tt.day, tt.fraction)
    }

    /// Seconds (of TT) from another instant to this one.
    #[must_use]
    pub fn seconds_since(self, earlier: Instant) -> f64 {
        ((self.tt.day - earlier.tt.day) + (self.tt.fraction - earlier.tt.fraction))
            * SECONDS_PER_DAY
    }

    /// TT − UT at this instant, with its uncertainty and source.
    #[must_use]
    pub fn delta_t(self) -> DeltaT {
        DeltaT::at_jd_ut(self.ut.jd())
    }

    /// Julian centuries of TT since J2000.0 (noon of 1 January 2000 TT).
    #[must_use]
    pub fn centuries_since_j2000(self) -> f64 {
        ((self.tt.day - 2_451_545.0) + self.tt.fraction) / 36_525.0
    }
}
