use moment::{Calendar, CivilDate, MONTHS, Zone};
use sky::{Angle, Instant};

use crate::{Argument, Ask, Cell, DayHour, PartOf, TableError};

const SECONDS_PER_DAY: f64 = 86_400.0;

/// Days of a year, one after another, each at the same hour of a clock. Their argument
/// is the Julian day number; a part of a day is a part of the time to the next one.
#[derive(Clone, Debug, PartialEq)]
pub struct Days {
    calendar: Calendar,
    year: i32,
    first: i32,
    /// Of each day, and of the one after the last.
    instants: Vec<Instant>,
    months: Vec<u8>,
    clock: String,
}

impl Days {
    /// The days that are asked.
    ///
    /// # Errors
    /// When there is no such month, or the days leave the ephemeris.
    pub fn of(ask: &Ask) -> Result<Days, TableError> {
        let months = ask.months()?;
        let (first_month, last_month) = (months[0], months[months.len() - 1]);
        let first = ask.first_day(first_month)?;
        let last = ask.first_day(last_month)?
            + i32::from(ask.calendar.days_in_month(ask.year, last_month));
        let instants: Vec<Instant> = (first..=last).map(|day| instant(ask, day)).collect();
        for end in [instants.first(), instants.last()].into_iter().flatten() {
            sky::Sky::at(*end).map_err(|error| ask.beyond(error))?;
        }
        let hour = ask.hour.name();
        Ok(Days {
            calendar: ask.calendar,
            year: ask.year,
            first,
            instants,
            months,
            clock: match ask.zone {
                Some(zone) => format!("{hour} by the clock of {}", zone.name()),
                None if ask.longitude == Angle::ZERO => format!("mean {hour} at Greenwich"),
                None => format!("mean {hour} of the place"),
            },
        })
    }

    /// The days about one, by its Julian day number, at an hour of Greenwich mean time:
    /// from three before to three after it.
    pub(crate) fn about(day: i32, hour: DayHour, calendar: Calendar) -> Days {
        let ask = Ask {
            calendar,
            hour,
            ..Ask::of_year(0)
        };
        let date = CivilDate::from_julian_day_number(calendar, day);
        let first = day - 3;
        Days {
            calendar,
            year: date.year(),
            first,
            instants: (first..=day + 4).map(|day| instant(&ask, day)).collect(),
            months: vec![date.month()],
            clock: format!("mean {} at Greenwich", hour.name()),
        }
    }

    /// At which hour of which clock, in words.
    #[must_use]
    pub fn clock(&self) -> &str {
        &self.clock
    }

    /// The year, with its month where it is one alone.
    #[must_use]
    pub fn span(&self) -> String {
        match self.months.as_slice() {
            [month] => format!("{} {}", month_name(*month), self.year),
            _ => self.year.to_string(),
        }
    }

    /// The instant that an argument means.
    #[must_use]
    pub fn instant(&self, at: f64) -> Option<Instant> {
        let since = at - f64::from(self.first);
        let whole = since.floor();
        if whole < 0.0 {
            return None;
        }
        let from = *self.instants.get(whole as usize)?;
        let part = since - whole;
        if part <= 0.0 {
            return Some(from);
        }
        let next = self.instants.get(whole as usize + 1)?;
        Some(from.plus_seconds(next.seconds_since(from) * part))
    }

    /// The first instant, and the one after the last day, of a month.
    #[must_use]
    pub fn month_ends(&self, month: u8) -> Option<[Instant; 2]> {
        let begins = CivilDate::new(self.calendar, self.year, month, 1).ok()?;
        let from = begins.julian_day_number();
        let until = from + i32::from(self.calendar.days_in_month(self.year, month));
        Some([
            self.instant(f64::from(from))?,
            self.instant(f64::from(until))?,
        ])
    }

    /// The months, each a part; the days are written by their number in the month, and
    /// beneath each stands what is told of it.
    #[must_use]
    pub fn parts(&self, notes: impl Fn(u8) -> Vec<String>) -> Vec<PartOf> {
        let part = |month: &u8| PartOf {
            heading: format!("{} {}", month_name(*month), self.year),
            arguments: (1..=self.calendar.days_in_month(self.year, *month))
                .filter_map(|day| CivilDate::new(self.calendar, self.year, *month, day).ok())
                .map(|date| Argument {
                    at: f64::from(date.julian_day_number()),
                    written: Cell::Words(date.day().to_string()),
                })
                .collect(),
            notes: notes(*month),
        };
        self.months.iter().map(part).collect()
    }
}

/// The name of a month, 1 to 12.
pub(crate) fn month_name(month: u8) -> &'static str {
    let index = usize::from(month.saturating_sub(1));
    MONTHS.get(index).copied().unwrap_or_default()
}

/// When the hour of a day is, by the clock that is asked.
fn instant(ask: &Ask, day: i32) -> Instant {
    let clock_s = (f64::from(day) - 0.5, ask.hour.hours() * 3600.0);
    let ahead_s = match ask.zone {
        None => mean_ahead_s(ask),
        Some(zone) => zone_ahead_s(ask, zone, clock_s),
    };
    Instant::from_ut(clock_s.0, (clock_s.1 - ahead_s) / SECONDS_PER_DAY)
}

fn mean_ahead_s(ask: &Ask) -> f64 {
    ask.longitude.deg() * 240.0
}

/// How far the zone's clock is ahead of UT when it shows a time: found in two rounds,
/// for the offset decides which span the time lies in. An hour that the clock leaves out
/// is counted by the offset after it.
fn zone_ahead_s(ask: &Ask, zone: Zone, (midnight_jd, seconds): (f64, f64)) -> f64 {
    let unix_s = (midnight_jd - 2_440_587.5) * SECONDS_PER_DAY + seconds;
    let offset = |ahead_s: f64| {
        let span = zone.span_at((unix_s - ahead_s).floor() as i64);
        if span.is_local_mean_time() {
            mean_ahead_s(ask)
        } else {
            span.offset().seconds()
        }
    };
    offset(offset(mean_ahead_s(ask)))
}

/// The name of the day of the week of a Julian day number: day 0 was a Monday.
pub(crate) fn weekday(day: f64) -> &'static str {
    const NAMES: [&str; 7] = ["Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"];
    let index = day.floor().rem_euclid(7.0) as usize;
    NAMES[index % 7]
}

impl Ask {
    /// The same days, at the other hour.
    #[must_use]
    pub fn at_hour(self, hour: DayHour) -> Ask {
        Ask { hour, ..self }
    }
}
