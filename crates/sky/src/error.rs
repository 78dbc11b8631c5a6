use thiserror::Error;

use crate::{Plain, Span};

/// Why there is no sky for a moment.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum SkyError {
    /// The moment lies outside the years the ephemeris covers, or is not a number.
    #[error(
        "Julian date {} (TT) is outside the ephemeris, which covers {} (Julian dates {} to {})",
        Plain(*jd_tt),
        Span::DATES,
        Span::FIRST_JD,
        Span::LAST_JD
    )]
    OutsideSpan {
        /// The moment asked for, as a Julian date in Terrestrial Time.
        jd_tt: f64,
    },
    /// The embedded ephemeris is not what was put in: the program is damaged.
    #[error("the ephemeris in this program is damaged ({reason}); install the program again")]
    DamagedEphemeris {
        /// What does not fit.
        reason: &'static str,
    },
}
