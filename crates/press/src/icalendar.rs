use std::fmt::Write;

use moment::{Calendar, CivilDate};
use thiserror::Error;

/// Events for a calendar, as RFC 5545 writes them: times in UTC, so that no table of zones
/// goes along; identities that stay, so that a file read in again changes nothing; and no
/// time of writing but the one given.
#[derive(Clone, Debug, PartialEq)]
pub struct CalendarFile {
    /// What the calendar is called (RFC 7986).
    pub name: String,
    /// When it was made, or what stands for that.
    pub stamp: CalendarTime,
    /// The events.
    pub events: Vec<CalendarEvent>,
}

/// An event.
#[derive(Clone, Debug, PartialEq)]
pub struct CalendarEvent {
    /// When it begins.
    pub begins: CalendarTime,
    /// When it ends; none for what happens at a moment.
    pub ends: Option<CalendarTime>,
    /// What it is, in a few words.
    pub summary: String,
    /// More of it; may be empty.
    pub description: String,
    /// Where; may be empty.
    pub location: String,
    /// The kind of event, such as `lunation`.
    pub category: &'static str,
    /// How many minutes before it a calendar gives notice.
    pub alarm_min: Option<u32>,
}

/// A second of UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CalendarTime {
    day_number: i32,
    second: u32,
}

/// A calendar file holds years of four figures.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("calendar files hold the years 1 to 9999, and {year} is none; a later time would do")]
pub struct NoCalendarYear {
    year: i32,
}

const DAY_S: f64 = 86_400.0;

impl CalendarTime {
    /// The nearest second to a Julian date of Universal Time.
    #[must_use]
    pub fn of_jd_ut(jd_ut: f64) -> CalendarTime {
        // A Julian day begins at noon.
        let from_midnight = jd_ut + 0.5;
        let day = from_midnight.floor();
        let second = ((from_midnight - day) * DAY_S).round();
        let over = second >= DAY_S;
        CalendarTime {
            day_number: day as i32 + i32::from(over),
            second: if over { 0 } else { second as u32 },
        }
    }

    fn written(self) -> Result<String, NoCalendarYear> {
        let date = CivilDate::from_julian_day_number(Calendar::Gregorian, self.day_number);
        let year = date.year();
        if !(1..=9999).contains(&year) {
            return Err(NoCalendarYear { year });
        }
        let (hour, minute, second) = (self.second / 3600, self.second / 60 % 60, self.second % 60);
        Ok(format!(
            "{year:04}{:02}{:02}T{hour:02}{minute:02}{second:02}Z",
            date.month(),
            date.day()
        ))
    }
}

impl CalendarFile {
    /// The text of the file.
    ///
    /// # Errors
    /// When an event is in no year that such a file can hold.
    pub fn text(&self) -> Result<String, NoCalendarYear> {
        let mut lines = Lines::default();
        lines.line("BEGIN", "VCALENDAR");
        lines.line("VERSION", "2.0");
        lines.line("PRODID", "-//Almuri//Almuri//EN");
        lines.line("CALSCALE", "GREGORIAN");
        lines.line("NAME", &escaped(&self.name));
        let stamp = self.stamp.written()?;
        for event in &self.events {
            lines.line("BEGIN", "VEVENT");
            lines.line("UID", &event.identity()?);
            lines.line("DTSTAMP", &stamp);
            lines.line("DTSTART", &event.begins.written()?);
            if let Some(ends) = event.ends {
                lines.line("DTEND", &ends.written()?);
            }
            lines.line("SUMMARY", &escaped(&event.summary));
            for (name, text) in [
                ("DESCRIPTION", &event.description),
                ("LOCATION", &event.location),
            ] {
                if !text.is_empty() {
                    lines.line(name, &escaped(text));
                }
            }
            lines.line("CATEGORIES", &escaped(event.category));
            // It is nobody's appointment until someone makes it one.
            lines.line("TRANSP", "TRANSPARENT");
            if let Some(minutes) = event.alarm_min {
                lines.line("BEGIN", "VALARM");
                lines.line("ACTION", "DISPLAY");
                lines.line("DESCRIPTION", &escaped(&event.summary));
                lines.line("TRIGGER", &format!("-PT{minutes}M"));
                lines.line("END", "VALARM");
            }
            lines.line("END", "VEVENT");
        }
        lines.line("END", "VCALENDAR");
        Ok(lines.0)
    }
}

impl CalendarEvent {
    /// The same for the same event in every file: of its beginning, what it is and where.
    fn identity(&self) -> Result<String, NoCalendarYear> {
        let begins = self.begins.written()?;
        let mut hash = 0xcbf2_9ce4_8422_2325_u64;
        // FNV-1a (G. Fowler, L. Noll, K.-P. Vo; 64 bits).
        for byte in [self.category, &self.summary, &self.location]
            .into_iter()
            .flat_map(|text| text.bytes().chain([0]))
        {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        Ok(format!("{begins}-{hash:016x}@almuri"))
    }
}

/// What has a meaning in a text is escaped (RFC 5545, 3.3.11); of control characters only
/// the end of a line is left.
fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => escaped.extend(['\\', c]),
            '\n' => escaped.push_str("\\n"),
            c if c.is_control() => {}
            c => escaped.push(c),
        }
    }
    escaped
}

/// Content lines, none longer than 75 octets without its end (RFC 5545, 3.1).
#[derive(Default)]
struct Lines(String);

impl Lines {
    fn line(&mut self, name: &str, value: &str) {
        const LONGEST: usize = 75;
        let mut length = 0;
        for c in name.chars().chain([':']).chain(value.chars()) {
            if length + c.len_utf8() > LONGEST {
                // The blank belongs to the line that it begins.
                self.0.push_str("\r\n ");
                length = 1;
            }
            self.0.push(c);
            length += c.len_utf8();
        }
        // Writing to a String cannot fail.
        let _ = write!(self.0, "\r\n");
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn event(summary: &str, jd_ut: f64) -> CalendarEvent {
        CalendarEvent {
            begins: CalendarTime::of_jd_ut(jd_ut),
            ends: Some(CalendarTime::of_jd_ut(jd_ut + 0.25)),
            summary: summary.to_owned(),
            description: String::new(),
            location: "Lisbon".to_owned(),
            category: "choice",
            alarm_min: Some(15),
        }
    }

    fn text(events: Vec<CalendarEvent>) -> String {
        let file = CalendarFile {
            name: "A test".to_owned(),
            stamp: CalendarTime::of_jd_ut(2_451_544.5),
            events,
        };
        file.text().expect("years of four figures")
    }

    /// Unfolded and unescaped as RFC 5545 tells a reader to.
    fn summaries(text: &str) -> Vec<String> {
        let unfolded = text.replace("\r\n ", "");
        let values = unfolded
            .split("\r\n")
            .filter_map(|line| line.strip_prefix("SUMMARY:"));
        values
            .map(|value| {
                let mut plain = String::new();
                let mut chars = value.chars();
                while let Some(c) = chars.next() {
                    match (c, c == '\\') {
                        (_, true) => match chars.next() {
                            Some('n') => plain.push('\n'),
                            Some(other) => plain.push(other),
                            None => {}
                        },
                        (c, false) => plain.push(c),
                    }
                }
                plain
            })
            .collect()
    }

    proptest! {
        #[test]
        fn what_is_written_is_read(summary in "[\\PC\\n;,\\\\]{0,200}", jd in 1_721_500.0..5_000_000.0_f64) {
            let text = text(vec![event(&summary, jd)]);
            for line in text.split("\r\n") {
                prop_assert!(line.len() <= 75, "{line:?}");
                prop_assert!(!line.contains(['\r', '\n']), "{line:?}");
            }
            prop_assert_eq!(summaries(&text), vec![summary]);
        }
    }

    /// Noon of 1 January 2000, JD 2451545.0.
    #[test]
    fn a_julian_date_is_its_second() {
        let written = |jd| CalendarTime::of_jd_ut(jd).written();
        assert_eq!(written(2_451_545.0).as_deref(), Ok("20000101T120000Z"));
        assert_eq!(
            written(2_451_544.5 - 1e-6).as_deref(),
            Ok("20000101T000000Z")
        );
        assert_eq!(
            written(2_451_544.5 - 1e-5).as_deref(),
            Ok("19991231T235959Z")
        );
        assert!(written(1_600_000.0).is_err_and(|why| why.to_string().contains("9999")));
    }

    #[test]
    fn an_event_is_the_same_in_every_file() {
        let one = text(vec![
            event("Moon waxing", 2_451_545.0),
            event("Sun", 2_451_545.0),
        ]);
        let other = text(vec![event("Moon waxing", 2_451_545.0)]);
        let identities = |text: &str| -> Vec<String> {
            let lines = text.split("\r\n").filter(|line| line.starts_with("UID:"));
            lines.map(str::to_owned).collect()
        };
        assert_eq!(identities(&one).first(), identities(&other).first());
        assert_ne!(identities(&one).first(), identities(&one).get(1));
    }
}
