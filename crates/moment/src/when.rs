use std::str::FromStr;

use crate::time_of_day::{all_digits, parse_time, up_to_two_digits};
use crate::{Calendar, CivilDate, CivilTime, MomentError, TimeOfDay};

/// When a moment is: what was written, and what that says.
///
/// ```
/// use moment::When;
/// let when: When = "2024-05-14 09:20".parse()?;
/// assert_eq!(when.text(), "2024-05-14 09:20");
/// assert!("yesterday".parse::<When>().is_err());
/// # Ok::<(), moment::MomentError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct When {
    text: String,
    pub(crate) meaning: Meaning,
}

/// What was said of a time, before any calendar has been asked whether the day exists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Meaning {
    /// The time now, which comes in with the question.
    Now,
    /// A date of the calendar that is said or goes without saying, and what the clock showed.
    Date {
        year: i32,
        month: u8,
        day: u8,
        time: TimeOfDay,
    },
    /// What the clock showed, by a calendar that is known.
    Clock(CivilTime),
    /// An instant in UTC, whatever the clock showed; the calendar is that of the date.
    Utc(CivilTime),
}

impl When {
    /// When the clock shows a date and a time of day, to the millisecond.
    #[must_use]
    pub fn clock_shows(civil: CivilTime) -> When {
        let civil = civil.to_the_millisecond();
        When {
            text: civil.to_string(),
            meaning: Meaning::Clock(civil),
        }
    }

    /// When it is so late in UTC, to the millisecond, whatever the clock shows then.
    #[must_use]
    pub fn utc_is(utc: CivilTime) -> When {
        let utc = utc.to_the_millisecond();
        When {
            text: utc.to_string(),
            meaning: Meaning::Utc(utc),
        }
    }

    /// As it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether the time now is meant.
    #[must_use]
    pub fn is_now(&self) -> bool {
        self.meaning == Meaning::Now
    }

    /// The date that is said, taken in a calendar; None where none is said, or the
    /// calendar has no such day.
    #[must_use]
    pub fn date_in(&self, calendar: Calendar) -> Option<CivilDate> {
        match self.meaning {
            Meaning::Date {
                year, month, day, ..
            } => CivilDate::new(calendar, year, month, day).ok(),
            Meaning::Clock(civil) => Some(civil.date.in_calendar(calendar)),
            Meaning::Now | Meaning::Utc(_) => None,
        }
    }
}

/// From `now`, or `YYYY-MM-DD HH:MM[:SS]`; seconds may have decimals, years may
/// be negative, and a `T` may stand for the space.
impl FromStr for When {
    type Err = MomentError;

    fn from_str(text: &str) -> Result<When, MomentError> {
        Ok(When {
            text: text.to_owned(),
            meaning: Meaning::read(text)?,
        })
    }
}

impl Meaning {
    fn read(given: &str) -> Result<Meaning, MomentError> {
        let text = given.trim();
        if text.eq_ignore_ascii_case("now") {
            return Ok(Meaning::Now);
        }
        let wrong = |why: &str| MomentError::when(given, why);
        let (date, time) = text
            .split_once(|c: char| c.is_whitespace() || c == 'T' || c == 't')
            .unwrap_or((text, ""));
        let (year, month, day) =
            parse_date(date).ok_or_else(|| wrong("this is not a date and time"))??;
        let time = time.trim();
        if time.is_empty() {
            return Err(wrong("the time of day is missing"));
        }
        let time = parse_time(time).ok_or_else(|| wrong("the time of day is not understood"))??;
        Ok(Meaning::Date {
            year,
            month,
            day,
            time,
        })
    }
}

/// None: not of this form. Some(Err): of this form, and wrong.
fn parse_date(text: &str) -> Option<Result<(i32, u8, u8), MomentError>> {
    let (negative, digits) = match text.strip_prefix(['-', '−']) {
        Some(digits) => (true, digits),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let mut parts = digits.split(['-', '−']);
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    if parts.next().is_some() || !all_digits(year) || year.len() > 9 {
        return None;
    }
    let year_digits = year.len();
    let year: i32 = year.parse().ok()?;
    let (month, day) = (up_to_two_digits(month)?, up_to_two_digits(day)?);
    if year_digits < 4 && !negative {
        return Some(Err(MomentError::date(
            text.to_owned(),
            format!("years are written with four digits: {year:04} or perhaps another"),
        )));
    }
    Some(Ok((if negative { -year } else { year }, month, day)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[track_caller]
    fn reads(text: &str, year: i32, month: u8, day: u8, seconds: f64) {
        let Meaning::Date {
            year: y,
            month: m,
            day: d,
            time,
        } = Meaning::read(text).unwrap()
        else {
            panic!("{text}")
        };
        assert_eq!((y, m, d), (year, month, day));
        assert!((time.seconds() - seconds).abs() < 1e-9, "{time}");
    }

    #[test]
    fn dates_and_times_are_read() {
        reads("2024-05-14 09:20", 2024, 5, 14, 33_600.0);
        reads("2024-05-14T09:20:30.25", 2024, 5, 14, 33_630.25);
        reads(" 2024-5-4   9:05 ", 2024, 5, 4, 32_700.0);
        reads("-0584-05-28 18:00", -584, 5, 28, 64_800.0);
        reads("−584-05-28 18:00", -584, 5, 28, 64_800.0);
        reads("0000-01-01 00:00", 0, 1, 1, 0.0);
        assert!("Now".parse::<When>().unwrap().is_now());
    }

    #[test]
    fn what_is_wrong_is_said() {
        #[track_caller]
        fn says(text: &str, words: &[&str]) {
            let message = Meaning::read(text).unwrap_err().to_string();
            for word in words {
                assert!(message.contains(word), "{message}");
            }
        }
        says(
            "2024-05-14",
            &["time of day is missing", "YYYY-MM-DD HH:MM"],
        );
        says("2024-05-14 24:61", &["24:61", "00:00 to 23:59"]);
        says("2024-05-14 23:59:60", &["23:59:60", "00:00 to 23:59"]);
        says("24-05-14 10:00", &["24-05-14", "four digits"]);
        says("yesterday", &["\"yesterday\"", "now"]);
        says("2024-05-14 noon", &["noon", "time of day"]);
        says("2024-05-14 10", &["time of day"]);
        says("", &["\"\""]);
        let long = Meaning::read(&"9".repeat(100_000)).unwrap_err().to_string();
        assert!(long.len() < 250, "{} bytes", long.len());
        assert!(long.contains("100000 characters"));
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in any::<String>()) {
            let _ = Meaning::read(&text);
        }

        #[test]
        fn any_text_of_the_kind_is_read_or_refused(text in "[-−+]?[0-9]{0,6}-[0-9]{0,3}-[0-9]{0,3}[ T][0-9]{0,3}(:[0-9.]{0,4}){0,3}") {
            let _ = Meaning::read(&text);
        }
    }
}
