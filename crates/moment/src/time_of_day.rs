use std::fmt;
use std::str::FromStr;

use crate::MomentError;

/// A time of day: from 0 h to just before 24 h.
///
/// ```
/// use moment::TimeOfDay;
/// let time = TimeOfDay::new(9, 20, 30.5).unwrap();
/// assert_eq!(time.seconds(), 33_630.5);
/// assert_eq!(time.to_string(), "09:20:30.5");
/// assert_eq!(format!("{:#}", TimeOfDay::new(9, 20, 0.0).unwrap()), "09:20");
/// assert!(TimeOfDay::new(24, 0, 0.0).is_none());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct TimeOfDay(f64);

pub(crate) const SECONDS_PER_DAY: f64 = 86_400.0;

impl TimeOfDay {
    /// The beginning of a day.
    pub const MIDNIGHT: TimeOfDay = TimeOfDay(0.0);

    /// The middle of a day, by its clock.
    pub const NOON: TimeOfDay = TimeOfDay(SECONDS_PER_DAY / 2.0);

    /// From hours 0 to 23, minutes 0 to 59 and seconds from 0 to less than 60;
    /// None for anything else.
    #[must_use]
    pub fn new(hour: u32, minute: u32, second: f64) -> Option<TimeOfDay> {
        (hour < 24 && minute < 60 && (0.0..60.0).contains(&second))
            .then(|| TimeOfDay(f64::from(hour * 3600 + minute * 60) + second))
    }

    /// The time of day so many seconds after a midnight, and the days between
    /// that midnight and its own.
    pub(crate) fn after_midnight(seconds: f64) -> (f64, TimeOfDay) {
        let days = (seconds / SECONDS_PER_DAY).floor();
        let rest = seconds.rem_euclid(SECONDS_PER_DAY);
        // rem_euclid of a tiny negative number rounds up to a whole day.
        if rest < SECONDS_PER_DAY {
            (days, TimeOfDay(rest))
        } else {
            (days + 1.0, TimeOfDay(0.0))
        }
    }

    /// Rounded to the millisecond, but never up to 24 h: what is written of it.
    pub(crate) fn to_the_millisecond(self) -> TimeOfDay {
        TimeOfDay(self.milliseconds() as f64 / 1000.0)
    }

    fn milliseconds(self) -> u64 {
        ((self.0 * 1000.0).round() as u64).min(86_399_999)
    }

    /// Seconds since midnight, in [0, 86400).
    #[must_use]
    pub const fn seconds(self) -> f64 {
        self.0
    }

    /// Hours since midnight, in [0, 24).
    #[must_use]
    pub const fn hours(self) -> f64 {
        self.0 / 3600.0
    }
}

/// `09:20:00`, with up to three decimals where there are any; rounded to the
/// millisecond, but never up to 24 h. The alternate form, `{:#}`, leaves seconds
/// out where there are none: `09:20`.
impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let millis = self.milliseconds();
        let (seconds, millis) = (millis / 1000, millis % 1000);
        let (hour, minute, second) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
        write!(f, "{hour:02}:{minute:02}")?;
        if f.alternate() && second == 0 && millis == 0 {
            return Ok(());
        }
        write!(f, ":{second:02}")?;
        if millis > 0 {
            let decimals = format!("{millis:03}");
            write!(f, ".{}", decimals.trim_end_matches('0'))?;
        }
        Ok(())
    }
}

/// From `HH:MM[:SS]`; seconds may have decimals.
impl FromStr for TimeOfDay {
    type Err = MomentError;

    fn from_str(text: &str) -> Result<TimeOfDay, MomentError> {
        parse_time(text.trim()).unwrap_or_else(|| Err(MomentError::time_of_day(text)))
    }
}

/// `HH:MM[:SS]`, the seconds with decimals if wanted. None: not of this form. Some(Err): of
/// this form, and wrong.
pub(crate) fn parse_time(text: &str) -> Option<Result<TimeOfDay, MomentError>> {
    let mut parts = text.split(':');
    let (hour, minute) = (parts.next()?, parts.next()?);
    let (hour, minute) = (up_to_two_digits(hour)?, up_to_two_digits(minute)?);
    let second = match parts.next() {
        None => 0.0,
        Some(second) => {
            let (whole, decimals) = second.split_once('.').unwrap_or((second, "0"));
            let whole = up_to_two_digits(whole)?;
            if !all_digits(decimals) || decimals.len() > 9 {
                return None;
            }
            f64::from(whole) + format!("0.{decimals}").parse::<f64>().ok()?
        }
    };
    if parts.next().is_some() {
        return None;
    }
    let time = TimeOfDay::new(hour.into(), minute.into(), second);
    Some(time.ok_or_else(|| MomentError::time_of_day(text)))
}

pub(crate) fn all_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

pub(crate) fn up_to_two_digits(text: &str) -> Option<u8> {
    (all_digits(text) && text.len() <= 2).then(|| text.parse().ok())?
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rounding_error_before_midnight_is_midnight() {
        assert_eq!(
            TimeOfDay::after_midnight(-1e-20),
            (0.0, TimeOfDay(0.0)),
            "the day before, rounded up"
        );
        assert_eq!(
            TimeOfDay::after_midnight(-1.0).0.to_bits(),
            (-1.0f64).to_bits()
        );
    }

    #[test]
    fn the_last_half_millisecond_is_not_shown_as_24_h() {
        let last = TimeOfDay::new(23, 59, 59.9999).unwrap();
        assert_eq!(last.to_string(), "23:59:59.999");
    }
}
