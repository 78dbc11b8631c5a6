use super::table::Yearly;
use crate::{Calendar, CivilDate};

/// Julian day number of 1970-01-01.
const DAY_OF_1970: i64 = 2_440_588;

impl Yearly {
    /// Seconds of UT since 1970 at which it happens in a (Gregorian) year.
    pub(super) fn in_year(self, year: i32) -> i64 {
        let first = first_of_month(year, self.month);
        let last = match self.month {
            12 => first_of_month(year.saturating_add(1), 1) - 1,
            month => first_of_month(year, month + 1) - 1,
        };
        let day = first + i64::from(self.day) - 1;
        let day = match self.form {
            0 => day,
            1 => self.weekday_before(last),
            2 => self.weekday_before(day + 6),
            _ => self.weekday_before(day),
        };
        (day - DAY_OF_1970) * 86_400 + i64::from(self.seconds_ut)
    }

    /// The last such weekday up to and with a day. Weekdays count from 0 for
    /// Sunday; day number 0 was a Monday.
    fn weekday_before(self, day: i64) -> i64 {
        day - (day + 1 - i64::from(self.weekday)).rem_euclid(7)
    }
}

fn first_of_month(year: i32, month: u8) -> i64 {
    // Beyond the years that can be given there is nothing to look up.
    CivilDate::new(Calendar::Gregorian, year.clamp(-9999, 9999), month, 1)
        .map_or(0, |date| i64::from(date.julian_day_number()))
}
