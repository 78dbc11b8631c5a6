use std::fmt;

use crate::months::MONTHS;
use crate::{Calendar, MomentError};

/// A day by its date in one of the two calendars.
///
/// ```
/// use moment::{Calendar, CivilDate};
/// let old_style = CivilDate::new(Calendar::Julian, 1752, 9, 2)?;
/// let next = CivilDate::new(Calendar::Gregorian, 1752, 9, 14)?;
/// assert_eq!(old_style.julian_day_number() + 1, next.julian_day_number());
/// assert!(CivilDate::new(Calendar::Gregorian, 1900, 2, 29).is_err());
/// # Ok::<(), moment::MomentError>(())
/// ```
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub struct CivilDate {
    calendar: Calendar,
    year: i32,
    month: u8,
    day: u8,
}

impl CivilDate {
    /// The years in which a date can be given.
    pub const YEARS: std::ops::RangeInclusive<i32> = -9999..=9999;

    /// A date, if it exists.
    ///
    /// # Errors
    /// When the year is outside [`CivilDate::YEARS`], or the month or the day does
    /// not exist.
    pub fn new(
        calendar: Calendar,
        year: i32,
        month: u8,
        day: u8,
    ) -> Result<CivilDate, MomentError> {
        let date = CivilDate {
            calendar,
            year,
            month,
            day,
        };
        let given = || date.to_string();
        if !CivilDate::YEARS.contains(&year) {
            return Err(MomentError::date(
                given(),
                "years go from -9999 to 9999".to_owned(),
            ));
        }
        let Some(name) = month_name(month) else {
            return Err(MomentError::date(
                given(),
                "months go from 01 to 12".to_owned(),
            ));
        };
        let days = calendar.days_in_month(year, month);
        if (1..=days).contains(&day) {
            return Ok(date);
        }
        let why = if (month, day) == (2, 29) {
            format!("{year} is not a leap year in the {calendar} calendar; February has 28 days")
        } else {
            format!("{name} has {days} days")
        };
        Err(MomentError::date(given(), why))
    }

    /// The date of a Julian day number, counted from 0 on 1 January −4712 of the
    /// Julian calendar. (The Julian *date* of the midnight at which the day begins
    /// is half a day less than this number.)
    ///
    /// Hatcher, *Quarterly Journal of the Royal Astronomical Society* 25 (1984) 53,
    /// counting years from March so that the leap day is their last.
    #[must_use]
    pub fn from_julian_day_number(calendar: Calendar, number: i32) -> CivilDate {
        let days = i64::from(number) - MARCH_OF_YEAR_0;
        let days = match calendar {
            Calendar::Julian => days,
            Calendar::Gregorian => {
                // Put the dropped leap days back.
                let days = days - CENTURY_SHIFT;
                let centuries = (4 * days + 3).div_euclid(146_097);
                days + centuries - centuries.div_euclid(4)
            }
        };
        let year = (4 * days + 3).div_euclid(1461);
        let day_of_year = days - (1461 * year).div_euclid(4);
        let month = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * month + 2) / 5 + 1;
        let (year, month) = if month < 10 {
            (year, month + 3)
        } else {
            (year + 1, month - 9)
        };
        CivilDate {
            calendar,
            // An i32 of days is fewer than six million years.
            year: year as i32,
            month: month as u8,
            day: day as u8,
        }
    }

    /// The Julian day number; see [`CivilDate::from_julian_day_number`].
    #[must_use]
    pub fn julian_day_number(self) -> i32 {
        let (year, month) = match self.month {
            1 | 2 => (i64::from(self.year) - 1, i64::from(self.month) + 9),
            month => (i64::from(self.year), i64::from(month) - 3),
        };
        let julian = (1461 * year).div_euclid(4) + (153 * month + 2) / 5 + i64::from(self.day) - 1
            + MARCH_OF_YEAR_0;
        let number = match self.calendar {
            Calendar::Julian => julian,
            Calendar::Gregorian => {
                julian + CENTURY_SHIFT - year.div_euclid(100) + year.div_euclid(400)
            }
        };
        // Every date was made from an i32 of days or a year of four digits.
        number as i32
    }

    /// The same day in the other calendar, or in the same.
    #[must_use]
    pub fn in_calendar(self, calendar: Calendar) -> CivilDate {
        CivilDate::from_julian_day_number(calendar, self.julian_day_number())
    }

    /// The calendar.
    #[must_use]
    pub const fn calendar(self) -> Calendar {
        self.calendar
    }

    /// The astronomical year: 0 is 1 BC.
    #[must_use]
    pub const fn year(self) -> i32 {
        self.year
    }

    /// The month, 1 to 12.
    #[must_use]
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, 1 to 31.
    #[must_use]
    pub const fn day(self) -> u8 {
        self.day
    }

    pub(crate) const fn year_month_day(self) -> (i32, u8, u8) {
        (self.year, self.month, self.day)
    }
}

/// Julian day number of 1 March of the year 0, Julian calendar.
const MARCH_OF_YEAR_0: i64 = 1_721_118;

/// In the year 0 the two calendars stand two days apart.
const CENTURY_SHIFT: i64 = 2;

fn month_name(month: u8) -> Option<&'static str> {
    MONTHS.get(usize::from(month).checked_sub(1)?).copied()
}

/// `2024-05-14`, `-0584-05-28`.
impl fmt::Display for CivilDate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.year < 0 { "-" } else { "" };
        let year = self.year.unsigned_abs();
        write!(f, "{sign}{year:04}-{:02}-{:02}", self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use Calendar::{Gregorian, Julian};

    #[track_caller]
    fn check(calendar: Calendar, year: i32, month: u8, day: u8, number: i32) {
        let date = CivilDate::new(calendar, year, month, day).unwrap();
        assert_eq!(date.julian_day_number(), number);
        assert_eq!(CivilDate::from_julian_day_number(calendar, number), date);
    }

    /// Meeus, *Astronomical Algorithms*, 2nd ed. (1998), chapter 7: examples 7.a
    /// and 7.b and the table after them. The number of a day is the Julian date of
    /// its noon.
    #[test]
    fn meeus_chapter_7() {
        check(Gregorian, 1957, 10, 4, 2_436_116);
        check(Julian, 333, 1, 27, 1_842_713);
        check(Gregorian, 2000, 1, 1, 2_451_545);
        check(Gregorian, 1987, 6, 19, 2_446_966);
        check(Gregorian, 1988, 6, 19, 2_447_332);
        check(Gregorian, 1600, 12, 31, 2_305_813);
        check(Julian, 837, 4, 10, 2_026_872);
        check(Julian, -4712, 1, 1, 0);
        check(Julian, -584, 5, 28, 1_507_900);
    }

    /// The bull *Inter gravissimas* (1582): the day after 4 October is the 15th.
    #[test]
    fn the_reform_leaves_no_gap_between_the_days() {
        let last = CivilDate::new(Julian, 1582, 10, 4).unwrap();
        let first = CivilDate::new(Gregorian, 1582, 10, 15).unwrap();
        assert_eq!(last.julian_day_number() + 1, first.julian_day_number());
    }

    #[test]
    fn a_date_that_does_not_exist_says_why() {
        #[track_caller]
        fn says(calendar: Calendar, year: i32, month: u8, day: u8, words: &str) {
            let message = CivilDate::new(calendar, year, month, day)
                .unwrap_err()
                .to_string();
            assert_eq!(message, words);
        }
        says(
            Gregorian,
            1900,
            2,
            29,
            "1900-02-29: 1900 is not a leap year in the Gregorian calendar; February has 28 days",
        );
        says(Julian, 2024, 4, 31, "2024-04-31: April has 30 days");
        says(Julian, 2024, 13, 1, "2024-13-01: months go from 01 to 12");
        says(Julian, 2024, 0, 1, "2024-00-01: months go from 01 to 12");
        says(
            Julian,
            10_000,
            1,
            1,
            "10000-01-01: years go from -9999 to 9999",
        );
        assert!(CivilDate::new(Julian, 1900, 2, 29).is_ok());
    }

    proptest! {
        #[test]
        fn every_day_number_comes_back(number: i32) {
            for calendar in [Julian, Gregorian] {
                let date = CivilDate::from_julian_day_number(calendar, number);
                prop_assert_eq!(date.julian_day_number(), number);
                prop_assert!(date.day >= 1);
                prop_assert!(date.day <= calendar.days_in_month(date.year, date.month));
            }
        }

        #[test]
        fn the_next_number_is_the_next_date(number in -2_000_000..6_000_000i32) {
            for calendar in [Julian, Gregorian] {
                let date = CivilDate::from_julian_day_number(calendar, number);
                let next = CivilDate::from_julian_day_number(calendar, number + 1);
                let turned = if date.day < calendar.days_in_month(date.year, date.month) {
                    (date.year, date.month, date.day + 1)
                } else if date.month < 12 {
                    (date.year, date.month + 1, 1)
                } else {
                    (date.year + 1, 1, 1)
                };
                prop_assert_eq!(next.year_month_day(), turned);
            }
        }
    }
}
