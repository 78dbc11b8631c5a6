use thiserror::Error;

/// An epoch on the scale of Terrestrial Time, in Julian years of 365.25 days:
/// J2000.0 is 2000 January 1, 12h TT.
///
/// A calendar year and the Julian epoch of the same number part by three weeks
/// at most between 0 and 3000, in which no star moves 5″ by precession.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct JulianEpoch(f64);

/// An epoch outside the years for which star places are given, or not a number.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[error("epoch {0} is outside the years -10000 to 10000")]
pub struct EpochError(f64);

impl JulianEpoch {
    /// J2000.0.
    pub const J2000: JulianEpoch = JulianEpoch(2000.0);

    /// The epoch of the Hipparcos catalogue, J1991.25.
    pub const HIPPARCOS: JulianEpoch = JulianEpoch(1991.25);

    /// From the year with its fraction, astronomical (0 = 1 BC).
    ///
    /// # Errors
    /// When the year is outside −10000 to 10000, or not a number.
    pub fn from_year(year: f64) -> Result<JulianEpoch, EpochError> {
        if (-10_000.0..=10_000.0).contains(&year) {
            Ok(JulianEpoch(year))
        } else {
            Err(EpochError(year))
        }
    }

    /// From a Julian date in Terrestrial Time.
    ///
    /// # Errors
    /// When the date is outside the years −10000 to 10000, or not a number.
    pub fn from_jd_tt(jd_tt: f64) -> Result<JulianEpoch, EpochError> {
        JulianEpoch::from_year(2000.0 + (jd_tt - 2_451_545.0) / 365.25)
    }

    /// So many days after J2000.0, of a moment within the span of the ephemeris,
    /// which lies within the span of epochs.
    pub(crate) const fn of_the_ephemeris(days_since_j2000: f64) -> JulianEpoch {
        JulianEpoch(2000.0 + days_since_j2000 / 365.25)
    }

    /// The year with its fraction.
    #[must_use]
    pub const fn year(self) -> f64 {
        self.0
    }
}
