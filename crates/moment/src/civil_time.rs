use std::fmt;

use sky::Instant;

use crate::time_of_day::SECONDS_PER_DAY;
use crate::{Calendar, CivilDate, TimeOfDay};

/// A date and a time of day, by whatever clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CivilTime {
    /// The date.
    pub date: CivilDate,
    /// The time of day.
    pub time: TimeOfDay,
}

/// Julian day number of 1970-01-01.
const DAY_OF_1970: i32 = 2_440_588;

impl CivilTime {
    /// Noon of a date.
    #[must_use]
    pub const fn noon_of(date: CivilDate) -> CivilTime {
        CivilTime {
            date,
            time: TimeOfDay::NOON,
        }
    }

    /// What a clock shows that is so many seconds (negative: behind) ahead of this one.
    #[must_use]
    pub fn plus_seconds(self, seconds: f64) -> CivilTime {
        let (days, time) = TimeOfDay::after_midnight(self.time.seconds() + seconds);
        let number = f64::from(self.date.julian_day_number()) + days;
        CivilTime {
            // Saturates, far outside every year that can be given.
            date: CivilDate::from_julian_day_number(self.date.calendar(), number as i32),
            time,
        }
    }

    /// The same with the date in another calendar.
    #[must_use]
    pub fn in_calendar(self, calendar: Calendar) -> CivilTime {
        CivilTime {
            date: self.date.in_calendar(calendar),
            ..self
        }
    }

    /// The nearest whole second.
    #[must_use]
    pub fn to_the_second(self) -> CivilTime {
        let seconds = self.time.seconds();
        self.plus_seconds(seconds.round() - seconds)
    }

    /// Rounded to the millisecond, but never into the next day: what is written of it.
    pub(crate) fn to_the_millisecond(self) -> CivilTime {
        CivilTime {
            time: self.time.to_the_millisecond(),
            ..self
        }
    }

    /// UT so written as an instant.
    pub(crate) fn instant_of_ut(self) -> Instant {
        Instant::from_ut(
            f64::from(self.date.julian_day_number()) - 0.5,
            self.time.seconds() / SECONDS_PER_DAY,
        )
    }

    /// Seconds since the beginning of 1970 by the same clock.
    pub(crate) fn seconds_since_1970(self) -> f64 {
        let days = f64::from(self.date.julian_day_number()) - f64::from(DAY_OF_1970);
        days * SECONDS_PER_DAY + self.time.seconds()
    }

    /// The inverse of [`CivilTime::seconds_since_1970`].
    pub(crate) fn from_seconds_since_1970(calendar: Calendar, seconds: f64) -> CivilTime {
        let (days, time) = TimeOfDay::after_midnight(seconds);
        let number = f64::from(DAY_OF_1970) + days;
        CivilTime {
            date: CivilDate::from_julian_day_number(calendar, number as i32),
            time,
        }
    }
}

/// `2024-05-14 09:20:00`; in the alternate form, `{:#}`, without seconds where
/// there are none.
impl fmt::Display for CivilTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ", self.date)?;
        self.time.fmt(f)
    }
}
