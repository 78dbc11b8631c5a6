use crate::{MomentError, TimeOfDay};

/// What WHEN says, before any calendar has been asked whether the day exists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum When {
    Now,
    At {
        year: i32,
        month: u8,
        day: u8,
        time: TimeOfDay,
    },
}

impl When {
    /// From `now`, or `YYYY-MM-DD HH:MM[:SS]`; seconds may have decimals, years may
    /// be negative, and a `T` may stand for the space.
    pub(crate) fn parse(given: &str) -> Result<When, MomentError> {
        let text = given.trim();
        if text.eq_ignore_ascii_case("now") {
            return Ok(When::Now);
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
        return Ok(When::At {
            year,
            month,
            day,
            time,
        });

        /// None: not of this form. Some(Err): of this form, and wrong.
        type Read<T> = Option<Result<T, MomentError>>;

        fn parse_date(text: &str) -> Read<(i32, u8, u8)> {
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

        fn parse_time(text: &str) -> Read<TimeOfDay> {
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

        fn all_digits(text: &str) -> bool {
            !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
        }

        fn up_to_two_digits(text: &str) -> Option<u8> {
            (all_digits(text) && text.len() <= 2).then(|| text.parse().ok())?
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[track_caller]
    fn reads(text: &str, year: i32, month: u8, day: u8, seconds: f64) {
        let When::At {
            year: y,
            month: m,
            day: d,
            time,
        } = When::parse(text).unwrap()
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
        assert_eq!(When::parse("Now").unwrap(), When::Now);
    }

    #[test]
    fn what_is_wrong_is_said() {
        #[track_caller]
        fn says(text: &str, words: &[&str]) {
            let message = When::parse(text).unwrap_err().to_string();
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
        let long = When::parse(&"9".repeat(100_000)).unwrap_err().to_string();
        assert!(long.len() < 250, "{} bytes", long.len());
        assert!(long.contains("100000 characters"));
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in any::<String>()) {
            let _ = When::parse(&text);
        }

        #[test]
        fn any_text_of_the_kind_is_read_or_refused(text in "[-−+]?[0-9]{0,6}-[0-9]{0,3}-[0-9]{0,3}[ T][0-9]{0,3}(:[0-9.]{0,4}){0,3}") {
            let _ = When::parse(&text);
        }
    }
}
