//! Dates and times written otherwise than they are asked for: what may have been meant.

use crate::months::MONTHS;

/// Texts longer than this are no date that someone has typed.
const LONGEST: usize = 60;

/// The years of two digits may be of either of these centuries.
const CENTURIES: [i32; 2] = [2000, 1900];

/// A date as numbers, before it is asked whether it exists.
type Date = (i32, u8, u8);

/// What may have been meant by a date, or a date and time, as people write them: each as
/// `YYYY-MM-DD` or `YYYY-MM-DD HH:MM[:SS]`, the likeliest first, none twice. Nothing is
/// chosen: a date of slashes is offered by the day first and by the month first.
///
/// ```
/// use moment::dates_meant;
/// assert_eq!(dates_meant("19.08.2001 14.30"), ["2001-08-19 14:30"]);
/// assert_eq!(dates_meant("5/6/2001"), ["2001-06-05", "2001-05-06"]);
/// assert_eq!(dates_meant("19 August 2001, 2:30 pm"), ["2001-08-19 14:30"]);
/// assert!(dates_meant("yesterday").is_empty());
/// ```
#[must_use]
pub fn dates_meant(text: &str) -> Vec<String> {
    if text.chars().count() > LONGEST {
        return Vec::new();
    }
    let lower = text.trim().to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty() && *word != "at" && *word != "of")
        .collect();
    // The date comes first, as it is spoken; the time has one word or two.
    for date_words in (1..=words.len().min(3)).rev() {
        let (date, time) = words.split_at(date_words);
        let dates = dates(date);
        if dates.is_empty() {
            continue;
        }
        let time = match time {
            [] => String::new(),
            [one] => match time_of(one, "") {
                Some(time) => format!(" {time}"),
                None => continue,
            },
            [one, half] => match time_of(one, half) {
                Some(time) => format!(" {time}"),
                None => continue,
            },
            _ => continue,
        };
        let mut meant: Vec<String> = Vec::new();
        for (year, month, day) in dates {
            let one = format!("{year:04}-{month:02}-{day:02}{time}");
            if !meant.contains(&one) {
                meant.push(one);
            }
        }
        return meant;
    }
    // `2024-05-14t09.20`
    if let Some((date, time)) = lower.split_once('t')
        && date.ends_with(|c: char| c.is_ascii_digit())
        && !time.is_empty()
        && !time.contains('t')
    {
        return dates_meant(&format!("{date} {time}"));
    }
    Vec::new()
}

/// The dates that some words may mean.
fn dates(words: &[&str]) -> Vec<Date> {
    let found = match words {
        [one] => in_one_word(one),
        [a, b, year] => spoken(a, b, year).into_iter().collect(),
        _ => Vec::new(),
    };
    found.into_iter().filter(is_of_a_calendar).collect()
}

fn is_of_a_calendar((_, month, day): &Date) -> bool {
    const DAYS: [u8; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let most = usize::from(*month)
        .checked_sub(1)
        .and_then(|at| DAYS.get(at));
    most.is_some_and(|most| (1..=*most).contains(day))
}

fn in_one_word(word: &str) -> Vec<Date> {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    if digits(word) && word.len() == 8 {
        return [word.get(..4), word.get(4..6), word.get(6..)]
            .map(|part| part.and_then(|part| part.parse::<u16>().ok()))
            .into_iter()
            .collect::<Option<Vec<u16>>>()
            .and_then(|parts| date(&parts))
            .into_iter()
            .collect();
    }
    let Some(separator) = word.chars().find(|c| ['.', '/', '-', '−'].contains(c)) else {
        return Vec::new();
    };
    let parts: Vec<&str> = word.trim_end_matches('.').split(separator).collect();
    let [a, b, c] = parts.as_slice() else {
        return Vec::new();
    };
    if !digits(a) || !digits(c) {
        return Vec::new();
    }
    let numbers = |year: &str, month: &str, day: &str| -> Option<Date> {
        let year_number: i32 = year.parse().ok()?;
        (year.len() == 4).then_some(())?;
        Some((year_number, month_number(month)?, day.parse().ok()?))
    };
    let mut found = Vec::new();
    if a.len() == 4 {
        found.extend(numbers(a, b, c));
        return found;
    }
    // With points the day comes first; with strokes either may.
    let month_first = ['/', '-', '−'].contains(&separator) && digits(b);
    match c.len() {
        4 => {
            found.extend(numbers(c, b, a));
            if month_first {
                found.extend(numbers(c, a, b));
            }
        }
        2 => {
            for century in CENTURIES {
                let Some(year) = c.parse::<i32>().ok().map(|year| century + year) else {
                    continue;
                };
                let year = year.to_string();
                found.extend(numbers(&year, b, a));
                if month_first {
                    found.extend(numbers(&year, a, b));
                }
            }
        }
        _ => {}
    }
    found
}

fn date(parts: &[u16]) -> Option<Date> {
    let [year, month, day] = *parts else {
        return None;
    };
    Some((
        i32::from(year),
        u8::try_from(month).ok()?,
        u8::try_from(day).ok()?,
    ))
}

/// `19 August 2001`, `19. Aug. 2001`, `August 19th 2001`.
fn spoken(a: &str, b: &str, year: &str) -> Option<Date> {
    let year: i32 = (year.len() == 4).then(|| year.parse().ok())??;
    let (month, day) = match (month_name(a), month_name(b)) {
        (Some(month), None) => (month, day_number(b)?),
        (None, Some(month)) => (month, day_number(a)?),
        _ => return None,
    };
    Some((year, month, day))
}

fn day_number(word: &str) -> Option<u8> {
    let digits = ["st", "nd", "rd", "th", "."]
        .into_iter()
        .find_map(|end| word.strip_suffix(end))
        .unwrap_or(word);
    digits.parse().ok()
}

fn month_number(word: &str) -> Option<u8> {
    word.parse().ok().or_else(|| month_name(word))
}

/// A month by its name or the beginning of it.
fn month_name(word: &str) -> Option<u8> {
    let word = word.trim_end_matches('.');
    let begins = |name: &&str| word.len() >= 3 && name.to_lowercase().starts_with(word);
    let at = MONTHS.iter().position(begins)?;
    u8::try_from(at + 1).ok()
}

/// A time of day: `9:20`, `9.20`, `9h20`, `9:20 am`, `2 pm`, `noon`.
fn time_of(word: &str, half: &str) -> Option<String> {
    let (word, half) = match half {
        "" => ["am", "pm"]
            .into_iter()
            .find_map(|half| Some((word.strip_suffix(half)?, half)))
            .unwrap_or((word, "")),
        half => (word, half),
    };
    let half: String = half.chars().filter(|c| *c != '.').collect();
    match (word, half.as_str()) {
        ("noon", "") => return Some("12:00".to_owned()),
        ("midnight", "") => return Some("00:00".to_owned()),
        _ => {}
    }
    let parts: Vec<&str> = word.split([':', '.', 'h']).collect();
    let number =
        |text: &str| -> Option<u8> { ((1..=2).contains(&text.len())).then(|| text.parse().ok())? };
    let (hour, minute, second) = match *parts.as_slice() {
        // An hour alone is one where it is said to be: `2 pm`, `14h`.
        [hour] if !half.is_empty() => (number(hour)?, 0, None),
        [hour, ""] if word.ends_with('h') => (number(hour)?, 0, None),
        [hour, minute] => (number(hour)?, number(minute)?, None),
        [hour, minute, second] => (number(hour)?, number(minute)?, Some(number(second)?)),
        _ => return None,
    };
    let hour = match (half.as_str(), hour) {
        ("", 0..=23) => hour,
        ("am", 1..=12) => hour % 12,
        ("pm", 1..=12) => hour % 12 + 12,
        _ => return None,
    };
    if minute > 59 || second.is_some_and(|second| second > 59) {
        return None;
    }
    Some(match second {
        None => format!("{hour:02}:{minute:02}"),
        Some(second) => format!("{hour:02}:{minute:02}:{second:02}"),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::when::When;

    #[test]
    fn dates_as_people_write_them_are_understood() {
        for (text, meant) in [
            ("19.08.2001", &["2001-08-19"][..]),
            ("19.8.2001 9:05", &["2001-08-19 09:05"]),
            ("2001/08/19 09:05", &["2001-08-19 09:05"]),
            ("2001.8.19 9h05", &["2001-08-19 09:05"]),
            ("20010819 09:05:30", &["2001-08-19 09:05:30"]),
            ("08/19/2001 2 pm", &["2001-08-19 14:00"]),
            (
                "5-6-2001 12:30 am",
                &["2001-06-05 00:30", "2001-05-06 00:30"],
            ),
            ("19. August 2001", &["2001-08-19"]),
            ("Aug 19th, 2001 noon", &["2001-08-19 12:00"]),
            ("19-Aug-2001 23:59", &["2001-08-19 23:59"]),
            ("19.08.01", &["2001-08-19", "1901-08-19"]),
            ("2001-08-19T14.30", &["2001-08-19 14:30"]),
            ("2001-08-19 14.30", &["2001-08-19 14:30"]),
            ("31.02.2001", &[]),
            ("19.13.2001", &[]),
            ("19.08.2001 25:00", &[]),
            ("19.08.2001 and more of it", &[]),
            ("", &[]),
        ] {
            assert_eq!(dates_meant(text), meant, "{text}");
        }
        assert!(dates_meant(&"1".repeat(100_000)).is_empty());
    }

    proptest! {
        #[test]
        fn what_is_offered_can_be_read(text in "[0-9./: -]{0,20}( ?[a-z]{0,4}){0,3}") {
            for one in dates_meant(&text) {
                let with_time = if one.contains(' ') { one } else { format!("{one} 12:00") };
                prop_assert!(with_time.parse::<When>().is_ok(), "{text}: {with_time}");
            }
        }

        #[test]
        fn any_text_is_answered(text in any::<String>()) {
            let _ = dates_meant(&text);
        }
    }
}
