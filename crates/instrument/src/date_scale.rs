use std::fmt;

use moment::{Calendar, CivilDate, MONTHS};
use sky::{Angle, Instant, Sky, Span};

use crate::specification::{DateFrom, DateScaleFor, DayStrokes};

/// A date as a calendar scale knows it: without a year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearDay {
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
    /// The part of the day gone since midnight, from 0 to 1.
    pub part: f64,
}

impl YearDay {
    /// A month and a day of it as numbers, `03-12`, with the part of the day after a point.
    #[must_use]
    pub fn from_numbers(text: &str) -> Option<YearDay> {
        /// The days of the months in a leap year.
        const DAYS: [u8; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
        let (month, day) = text.split_once('-')?;
        let month: u8 = month.parse().ok()?;
        let (day, part) = match day.split_once('.') {
            None => (day, 0.0),
            Some((day, part)) => {
                let digits = !part.is_empty() && part.bytes().all(|one| one.is_ascii_digit());
                (day, digits.then(|| format!("0.{part}"))?.parse().ok()?)
            }
        };
        let day: u8 = day.parse().ok()?;
        let most = *DAYS.get(usize::from(month.checked_sub(1)?))?;
        (1..=most)
            .contains(&day)
            .then_some(YearDay { month, day, part })
    }
}

/// As it is written in numbers.
impl fmt::Display for YearDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)?;
        if self.part > 0.0 {
            f.write_str(&self.part.to_string().replacen('0', "", 1))?;
        }
        Ok(())
    }
}

const MONTH_LENGTHS: [u16; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// A scale of dates as the maker divided it: the calendar scale of the back,
/// read against the zodiac, or the date ring of the rete.
///
/// What a date points to is a degree of the zodiac (the Sun's apparent
/// longitude) for a calendar scale, a right ascension for a ring. Between the
/// strokes the eye takes the proportion.
#[derive(Clone, Debug, PartialEq)]
pub struct DateScale {
    /// At the beginning of each day of the year and of the next New Year, growing
    /// steadily through more than a turn.
    strokes: Vec<Angle>,
    /// The Julian dates (UT) of the same midnights; for a mean of four years, of the first.
    midnights: Vec<f64>,
    leap: bool,
    day_strokes: DayStrokes,
    calendar: Calendar,
}

impl DateScale {
    /// Divided by the Sun of the stated year, at midnight of the scale's meridian.
    ///
    /// With `leap_mean`, each stroke stands at the mean of its places in four
    /// successive years; 29 February has then no stroke.
    #[must_use]
    pub(crate) fn divided(kind: DateFrom, made_for: &DateScaleFor) -> DateScale {
        let place = |jd_ut: f64| {
            let instant = Instant::from_jd_ut(jd_ut - made_for.meridian.deg() / 360.0);
            let sky = Sky::at(instant).ok()?;
            Some(match kind {
                DateFrom::Zodiac | DateFrom::Given => sky.sun().longitude,
                DateFrom::TrueSunRing => sky.sun().right_ascension,
                DateFrom::EqualDayRing => sky.mean_sun() - sky.equation_of_equinoxes(),
            })
        };
        let midnights = |number: i32, days: u16| -> Vec<f64> {
            let first = midnight_of_new_year(number, made_for.calendar);
            let leap = is_leap(number, made_for.calendar);
            // A year without its 29 February, where a common year is wanted.
            let skipped = |day: u16| u16::from(leap && days == 365 && day >= 59);
            (0..=days)
                .map(|day| first + f64::from(day + skipped(day)))
                .collect()
        };
        let year = |number: i32, days: u16| {
            let mut last = Angle::ZERO;
            let strokes = midnights(number, days)
                .into_iter()
                .filter_map(move |midnight| {
                    let here = place(midnight)?;
                    last += last.to(here);
                    Some(last)
                });
            strokes.collect::<Vec<Angle>>()
        };
        if !made_for.leap_mean {
            let leap = is_leap(made_for.year, made_for.calendar);
            let days = if leap { 366 } else { 365 };
            return DateScale {
                strokes: year(made_for.year, days),
                midnights: midnights(made_for.year, days),
                leap,
                day_strokes: made_for.strokes,
                calendar: made_for.calendar,
            };
        }
        let four: Vec<Vec<Angle>> = (0..4)
            .map(|later| year(made_for.year + later, 365))
            .collect();
        let days = four.iter().map(Vec::len).min().unwrap_or(0);
        let mean = |day: usize| {
            four.iter()
                .filter_map(|year| year.get(day))
                .copied()
                .sum::<Angle>()
                / 4.0
        };
        DateScale {
            strokes: (0..days).map(mean).collect(),
            midnights: midnights(made_for.year, 365),
            leap: false,
            day_strokes: made_for.strokes,
            calendar: made_for.calendar,
        }
    }

    /// What the scale gives for a date, in [0°, 360°).
    ///
    /// On a scale without 29 February that day counts as the beginning of March.
    #[must_use]
    pub fn at(&self, date: YearDay) -> Angle {
        let february_29 = date.month == 2 && date.day == 29;
        let (day, part) = match (february_29, self.leap) {
            (true, false) => (day_of_year(3, 1, false), 0.0),
            _ => (day_of_year(date.month, date.day, self.leap), date.part),
        };
        let last = self.strokes.len().saturating_sub(2);
        let day = usize::from(day).min(last);
        match self.strokes.get(day..day + 2) {
            Some(&[from, to]) => (from + (to - from) * part).in_turn(),
            _ => Angle::ZERO,
        }
    }

    /// The date that stands at a place of the scale: [`DateScale::at`] backwards.
    #[must_use]
    pub fn date_at(&self, place: Angle) -> YearDay {
        let first = self.strokes.first().copied().unwrap_or_default();
        let gone = (place - first).in_turn();
        let passed = self.strokes.partition_point(|s| *s - first <= gone);
        // The last stroke is the next New Year's.
        let last = self.strokes.len().saturating_sub(2);
        let day = passed.saturating_sub(1).min(last);
        let part = match self.strokes.get(day..day + 2) {
            Some(&[from, to]) => ((first + gone - from) / (to - from)).clamp(0.0, 1.0),
            _ => 0.0,
        };
        let begun = |month: &u8| usize::from(self.month_begins(*month)) <= day;
        let month = (1..=12).rev().find(begun).unwrap_or(1);
        let before = usize::from(self.month_begins(month));
        YearDay {
            month,
            day: u8::try_from(day - before + 1).unwrap_or(31),
            part,
        }
    }

    /// A date in the words of the scale: how far beyond which stroke it lies, in tenths
    /// of a day, by what the strokes stand for.
    #[must_use]
    pub fn said(&self, date: YearDay) -> String {
        let beyond = date.part - self.day_strokes.part_of_day();
        let (stroke, beyond) = if beyond < 0.0 {
            (self.day_before(date), beyond + 1.0)
        } else {
            (date, beyond)
        };
        let month = usize::from(stroke.month.saturating_sub(1));
        let name = format!("{} {}", stroke.day, MONTHS.get(month).unwrap_or(&""));
        let calendar = match self.calendar {
            Calendar::Julian => " (Julian calendar)",
            Calendar::Gregorian => "",
        };
        let stroke = match self.day_strokes {
            DayStrokes::Begin => "the stroke that begins",
            DayStrokes::Noon => "the stroke for noon of",
            DayStrokes::End => "the stroke that ends",
        };
        match (beyond * 10.0).round() {
            tenths if tenths < 0.5 => format!("{stroke} {name}{calendar}"),
            tenths if tenths < 1.5 => format!("a tenth of a day beyond {stroke} {name}{calendar}"),
            tenths if tenths > 9.5 => format!("a whole day beyond {stroke} {name}{calendar}"),
            tenths => format!("{tenths} tenths of a day beyond {stroke} {name}{calendar}"),
        }
    }

    fn day_before(&self, date: YearDay) -> YearDay {
        if date.day > 1 {
            return YearDay {
                day: date.day - 1,
                ..date
            };
        }
        let month = if date.month > 1 { date.month - 1 } else { 12 };
        let length = MONTH_LENGTHS
            .get(usize::from(month - 1))
            .copied()
            .unwrap_or(31);
        let length = length + u16::from(month == 2 && self.leap);
        YearDay {
            month,
            day: u8::try_from(length).unwrap_or(31),
            ..date
        }
    }

    /// The places of the strokes, one for the beginning of each day of the year
    /// and one for the New Year after it.
    #[must_use]
    pub fn strokes(&self) -> &[Angle] {
        &self.strokes
    }

    /// The Julian dates (UT) of the strokes; of the first year, for a mean of four.
    #[must_use]
    pub(crate) fn midnights(&self) -> &[f64] {
        &self.midnights
    }

    /// The days gone since the New Year.
    pub(crate) fn days_gone(&self, date: YearDay) -> f64 {
        if date.month == 2 && date.day == 29 && !self.leap {
            return f64::from(self.month_begins(3));
        }
        f64::from(day_of_year(date.month, date.day, self.leap)) + date.part
    }

    /// Whether 29 February has a stroke of its own.
    #[must_use]
    pub fn is_leap(&self) -> bool {
        self.leap
    }

    /// The scale's day of the year, from 0, at the beginning of a month (1 to 12).
    #[must_use]
    pub fn month_begins(&self, month: u8) -> u16 {
        day_of_year(month, 1, self.leap)
    }

    /// The width of the day about a date, as an angle of the scale.
    #[must_use]
    pub fn day_width(&self, date: YearDay) -> Angle {
        let noon = |part| YearDay { part, ..date };
        self.at(noon(0.0)).to(self.at(noon(1.0)))
    }
}

impl DateScaleFor {
    /// Whether the Sun's place is known at each of its midnights.
    pub(crate) fn is_of_known_days(&self) -> bool {
        let years = if self.leap_mean { 4 } else { 1 };
        let east = self.meridian.deg() / 360.0;
        let first = midnight_of_new_year(self.year, self.calendar) - east;
        let last = midnight_of_new_year(self.year + years, self.calendar) - east;
        first >= Span::FIRST_JD && last <= Span::LAST_JD
    }
}

/// Days from the New Year to a date.
fn day_of_year(month: u8, day: u8, leap: bool) -> u16 {
    let before = usize::from(month.saturating_sub(1)).min(11);
    let whole: u16 = MONTH_LENGTHS.iter().take(before).sum();
    whole + u16::from(leap && before >= 2) + u16::from(day.saturating_sub(1))
}

fn is_leap(year: i32, calendar: Calendar) -> bool {
    CivilDate::new(calendar, year, 2, 29).is_ok()
}

/// Julian date of 0h on 1 January.
fn midnight_of_new_year(year: i32, calendar: Calendar) -> f64 {
    // Every year the specification accepts has its New Year.
    CivilDate::new(calendar, year, 1, 1)
        .map_or(f64::NAN, |date| f64::from(date.julian_day_number()) - 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every day of a leap year and no other; a part of the day stands after a point.
    #[test]
    fn a_date_is_a_day_of_the_year() {
        let whole = |month, day| {
            Some(YearDay {
                month,
                day,
                part: 0.0,
            })
        };
        assert_eq!(YearDay::from_numbers("01-01"), whole(1, 1));
        assert_eq!(YearDay::from_numbers("02-29"), whole(2, 29));
        assert_eq!(YearDay::from_numbers("12-31"), whole(12, 31));
        let noon = YearDay {
            month: 3,
            day: 12,
            part: 0.5,
        };
        assert_eq!(YearDay::from_numbers("03-12.5"), Some(noon));
        let days: usize = (0..=13)
            .flat_map(|month| (0..=32).map(move |day| format!("{month:02}-{day:02}")))
            .filter(|text| YearDay::from_numbers(text).is_some())
            .count();
        assert_eq!(days, 366);
        for text in ["", "03", "03-", "03-12.", "03-12.x", "-03-12", "03-12-01"] {
            assert_eq!(YearDay::from_numbers(text), None, "{text}");
        }
    }
}
