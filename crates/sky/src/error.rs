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
    /// What is held of the ephemeris does not reach the moment, or it is not a number.
    #[error(
        "Julian date {} (TT) is outside what this copy of the program holds of the sky, the years {} to {}; a whole copy reaches from {}",
        Plain(*jd_tt),
        Span::years((*first_jd, *last_jd)).0,
        Span::years((*first_jd, *last_jd)).1,
        Span::DATES
    )]
    OutsidePart {
        /// The moment asked for, as a Julian date in Terrestrial Time.
        jd_tt: f64,
        /// The Julian date (TT) at which what is held begins.
        first_jd: f64,
        /// And at which it ends.
        last_jd: f64,
    },
    /// There are no such years to make a part of.
    #[error(
        "the years {from} to {to} are none of the ephemeris, which covers {}",
        Span::DATES
    )]
    NoSuchYears {
        /// The first asked for.
        from: i32,
        /// The last asked for.
        to: i32,
    },
    /// Nobody has handed the ephemeris over yet.
    #[error("this copy of the program has not been given its ephemeris")]
    NoEphemeris,
    /// An ephemeris of this reach was handed over already.
    #[error("this program holds such an ephemeris already")]
    EphemerisHeld,
    /// The embedded ephemeris is not what was put in: the program is damaged.
    #[error("the ephemeris in this program is damaged ({reason}); install the program again")]
    DamagedEphemeris {
        /// What does not fit.
        reason: &'static str,
    },
}
