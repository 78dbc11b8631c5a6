use std::fmt;
use std::str::FromStr;

use crate::{MomentError, UtcOffset};

/// The kind of clock by which a time of day is told.
///
/// ```
/// use moment::Clock;
/// assert_eq!("sun".parse::<Clock>()?, Clock::Sun);
/// assert!(matches!("-06:00".parse::<Clock>()?, Clock::Offset(_)));
/// assert!("noon".parse::<Clock>().is_err());
/// # Ok::<(), moment::MomentError>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[non_exhaustive]
pub enum Clock {
    /// The legal time of the place: its zone, with summer time where in force.
    #[default]
    Zone,
    /// Local mean time: the mean Sun of the place's own meridian.
    Mean,
    /// Local apparent time: the Sun itself, as a sundial has it.
    Sun,
    /// A fixed distance from UTC.
    Offset(UtcOffset),
}

/// `zone`, `mean`, `sun`, or an offset such as `+01:00`.
impl fmt::Display for Clock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Clock::Zone => f.write_str("zone"),
            Clock::Mean => f.write_str("mean"),
            Clock::Sun => f.write_str("sun"),
            Clock::Offset(offset) => offset.fmt(f),
        }
    }
}

/// From `zone`, `mean`, `sun`, or an offset such as `+01:00`.
impl FromStr for Clock {
    type Err = MomentError;

    fn from_str(text: &str) -> Result<Clock, MomentError> {
        match text.trim() {
            name if name.eq_ignore_ascii_case("zone") => Ok(Clock::Zone),
            name if name.eq_ignore_ascii_case("mean") => Ok(Clock::Mean),
            name if name.eq_ignore_ascii_case("sun") => Ok(Clock::Sun),
            offset => UtcOffset::parse(offset)
                .map(Clock::Offset)
                .ok_or_else(|| MomentError::clock(text)),
        }
    }
}
