use std::fmt;
use std::str::FromStr;

use crate::MomentError;

/// A calendar in which a date is given. Both are carried back and forward
/// without limit, with astronomical years: 0 is 1 BC, −1 is 2 BC.
///
/// ```
/// use moment::Calendar;
/// assert!(Calendar::Julian.is_leap_year(1900));
/// assert!(!Calendar::Gregorian.is_leap_year(1900));
/// assert_eq!("julian".parse::<Calendar>()?, Calendar::Julian);
/// # Ok::<(), moment::MomentError>(())
/// ```
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum Calendar {
    /// Julian, or Old Style: every fourth year is a leap year.
    Julian,
    /// Gregorian, or New Style: years of whole centuries are leap years only
    /// every 400 years.
    Gregorian,
}

impl Calendar {
    /// `julian` or `gregorian`, as it is asked for.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Calendar::Julian => "julian",
            Calendar::Gregorian => "gregorian",
        }
    }

    /// Whether February has 29 days.
    #[must_use]
    pub const fn is_leap_year(self, year: i32) -> bool {
        let julian = year.rem_euclid(4) == 0;
        match self {
            Calendar::Julian => julian,
            Calendar::Gregorian => {
                julian && (year.rem_euclid(100) != 0 || year.rem_euclid(400) == 0)
            }
        }
    }

    /// The number of days of a month, 1 to 12; 0 for any other number.
    #[must_use]
    pub const fn days_in_month(self, year: i32, month: u8) -> u8 {
        match month {
            2 if self.is_leap_year(year) => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => 0,
        }
    }
}

/// `Julian` or `Gregorian`.
impl fmt::Display for Calendar {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Calendar::Julian => "Julian",
            Calendar::Gregorian => "Gregorian",
        })
    }
}

/// From `julian` or `gregorian`, in letters of either case.
impl FromStr for Calendar {
    type Err = MomentError;

    fn from_str(text: &str) -> Result<Calendar, MomentError> {
        match text.trim() {
            name if name.eq_ignore_ascii_case("julian") => Ok(Calendar::Julian),
            name if name.eq_ignore_ascii_case("gregorian") => Ok(Calendar::Gregorian),
            _ => Err(MomentError::calendar_name(text)),
        }
    }
}
