use std::fmt::Display;

use thiserror::Error;

use crate::meant::dates_meant;
use crate::zone::Change;

/// Why something said could not be understood as a moment or a place.
///
/// The message names the value (shortened if long), says what is wrong with it
/// and what would be accepted.
#[derive(Clone, Debug, Error, PartialEq)]
#[error(transparent)]
pub struct MomentError(#[from] Kind);

/// What would settle a question that only the asker can answer.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Missing {
    /// In which calendar the date is given.
    Calendar,
    /// Which of two instants is meant.
    Which,
    /// By which zone the clock went.
    Zone,
    /// Which of several places is meant.
    Place,
}

#[derive(Clone, Debug, Error, PartialEq)]
enum Kind {
    #[error(
        "{}: {why}; {}write YYYY-MM-DD HH:MM or YYYY-MM-DD HH:MM:SS, or now",
        shown(.given),
        if .meant.is_empty() { String::new() } else { format!("did you mean {}? ", .meant.join(" or ")) }
    )]
    When {
        given: String,
        why: String,
        meant: Vec<String>,
    },
    #[error("{}: {why}", shortened(.given))]
    Date { given: String, why: String },
    #[error("{}: times of day go from 00:00 to 23:59, seconds to 59", shown(.0))]
    TimeOfDay(String),
    #[error(
        "{0} was left out when the Gregorian calendar was brought in (4 October 1582 was followed by \
         the 15th); for a place that kept the other calendar, say which: julian or gregorian"
    )]
    LeftOutIn1582(String),
    #[error(
        "{date}: {who} kept the Julian calendar until {until} ({authority}); \
         say in which calendar the date is given: julian or gregorian"
    )]
    CalendarNeeded {
        date: String,
        who: &'static str,
        until: String,
        authority: &'static str,
    },
    #[error(
        "{local} {} in {zone}: the clocks were put {} then; \
         say which is meant: earlier ({}) or later ({})",
        match .change { Change::Gap => "did not exist", Change::Fold => "came twice" },
        match .change { Change::Gap => "forward", Change::Fold => "back" },
        .meanings[0],
        .meanings[1]
    )]
    ClockChange {
        local: String,
        zone: &'static str,
        change: Change,
        meanings: [String; 2],
    },
    #[error(
        "{}: the clock there went by a zone that is not known; name the zone, \
         such as Europe/Madrid, or give the time by another clock: mean, sun, or an offset",
        shown(.0)
    )]
    ZoneNeeded(String),
    #[error("{}: no such time zone in the IANA database{}", shown(.given), perhaps(.near, "Europe/Madrid"))]
    ZoneName { given: String, near: Vec<String> },
    #[error("{}: no such clock; there are zone, mean, sun, and offsets such as +01:00", shown(.0))]
    Clock(String),
    #[error("{}: no such calendar; there are julian and gregorian", shown(.0))]
    CalendarName(String),
    #[error("{}: neither earlier nor later", shown(.0))]
    Which(String),
    #[error(
        "{}: {why}; write latitude,longitude in degrees, such as 42.8806,-8.5449, \
         or 42°53′N 8°33′W",
        shown(.given)
    )]
    Coordinates { given: String, why: String },
    #[error(
        "{}: no such town here{}{}; or give coordinates, such as 42.8806,-8.5449",
        shown(.given),
        match .part { Some(part) => format!(" (this copy of the program knows {part} alone)"), None => String::new() },
        perhaps(.near, "Santiago de Compostela")
    )]
    Town {
        given: String,
        near: Vec<String>,
        part: Option<&'static str>,
    },
    #[error("the table of towns is damaged; install the program again")]
    DamagedTowns,
    #[error("this program holds such towns already")]
    TownsHeld,
    #[error("{}: there are {}; say which: {}", shown(.given), .candidates.len(), first_of(.candidates, *.listed))]
    SeveralTowns {
        given: String,
        candidates: Vec<String>,
        listed: usize,
    },
    #[error("now: the time now is not known here; give a date and time")]
    NowUnknown,
    #[error("{}: {why}", shortened(.given))]
    Sky { given: String, why: sky::SkyError },
}

impl MomentError {
    /// What the asker has to add, where something said can be understood in
    /// more than one way.
    #[must_use]
    pub fn missing(&self) -> Option<Missing> {
        match self.0 {
            Kind::LeftOutIn1582(_) | Kind::CalendarNeeded { .. } => Some(Missing::Calendar),
            Kind::ClockChange { .. } => Some(Missing::Which),
            Kind::ZoneNeeded(_) => Some(Missing::Zone),
            Kind::SeveralTowns { .. } => Some(Missing::Place),
            _ => None,
        }
    }

    /// What to choose from: the places that may be meant, the largest first, each in a
    /// form that names it alone; or the dates and times that may be; empty for other
    /// errors.
    #[must_use]
    pub fn candidates(&self) -> &[String] {
        match &self.0 {
            Kind::SeveralTowns { candidates, .. } => candidates,
            // A date without its time of day is not yet a moment.
            Kind::When { meant, .. } if meant.iter().all(|one| one.contains(' ')) => meant,
            _ => &[],
        }
    }

    pub(crate) fn when(given: &str, why: &str) -> MomentError {
        Kind::When {
            given: given.to_owned(),
            why: why.to_owned(),
            // What was written so was not misunderstood.
            meant: dates_meant(given)
                .into_iter()
                .filter(|one| one != given.trim())
                .collect(),
        }
        .into()
    }

    pub(crate) fn date(given: String, why: String) -> MomentError {
        Kind::Date { given, why }.into()
    }

    pub(crate) fn time_of_day(given: &str) -> MomentError {
        Kind::TimeOfDay(given.to_owned()).into()
    }

    pub(crate) fn left_out_in_1582(date: impl Display) -> MomentError {
        Kind::LeftOutIn1582(date.to_string()).into()
    }

    /// `until` is the last date by which they who kept the Julian calendar are known to.
    pub(crate) fn calendar_needed(
        date: impl Display,
        who: &'static str,
        until: impl Display,
        authority: &'static str,
    ) -> MomentError {
        Kind::CalendarNeeded {
            date: date.to_string(),
            who,
            until: until.to_string(),
            authority,
        }
        .into()
    }

    /// The meanings are said as `by UTC+01:00: 2024-03-31 01:30 UTC`, the earlier first.
    pub(crate) fn clock_change(
        local: impl Display,
        zone: &'static str,
        change: Change,
        meanings: [String; 2],
    ) -> MomentError {
        Kind::ClockChange {
            local: format!("{local:#}"),
            zone,
            change,
            meanings,
        }
        .into()
    }

    pub(crate) fn zone_needed(place: &str) -> MomentError {
        Kind::ZoneNeeded(place.to_owned()).into()
    }

    pub(crate) fn zone_name(given: &str, near: Vec<&str>) -> MomentError {
        Kind::ZoneName {
            given: given.to_owned(),
            near: near.into_iter().map(str::to_owned).collect(),
        }
        .into()
    }

    pub(crate) fn clock(given: &str) -> MomentError {
        Kind::Clock(given.to_owned()).into()
    }

    pub(crate) fn calendar_name(given: &str) -> MomentError {
        Kind::CalendarName(given.to_owned()).into()
    }

    pub(crate) fn which(given: &str) -> MomentError {
        Kind::Which(given.to_owned()).into()
    }

    pub(crate) fn coordinates(given: &str, why: impl Into<String>) -> MomentError {
        Kind::Coordinates {
            given: given.to_owned(),
            why: why.into(),
        }
        .into()
    }

    /// `part` says which towns are known, where it is not all of them.
    pub(crate) fn town(given: &str, near: Vec<String>, part: Option<&'static str>) -> MomentError {
        Kind::Town {
            given: given.to_owned(),
            near,
            part,
        }
        .into()
    }

    pub(crate) fn damaged_towns() -> MomentError {
        Kind::DamagedTowns.into()
    }

    pub(crate) fn towns_held() -> MomentError {
        Kind::TownsHeld.into()
    }

    pub(crate) fn several_towns(
        given: &str,
        candidates: Vec<String>,
        listed: usize,
    ) -> MomentError {
        Kind::SeveralTowns {
            given: given.to_owned(),
            candidates,
            listed,
        }
        .into()
    }

    pub(crate) fn now_unknown() -> MomentError {
        Kind::NowUnknown.into()
    }

    pub(crate) fn sky(given: &str, why: sky::SkyError) -> MomentError {
        Kind::Sky {
            given: given.to_owned(),
            why,
        }
        .into()
    }
}

/// A text between quotation marks.
fn shown(text: &str) -> String {
    format!("\"{}\"", shortened(text))
}

/// A text as it may stand in a message: on one line, and cut if long.
fn shortened(text: &str) -> String {
    const LONGEST: usize = 60;
    const KEPT: usize = 40;
    let count = text.chars().count();
    let kept = if count > LONGEST { KEPT } else { count };
    let mut shown: String = text
        .chars()
        .take(kept)
        .map(|letter| {
            if letter.is_control() {
                '\u{FFFD}'
            } else {
                letter
            }
        })
        .collect();
    if count > LONGEST {
        shown += &format!("… ({count} characters)");
    }
    shown
}

/// The first of several names.
fn first_of(names: &[String], count: usize) -> String {
    let first: Vec<&str> = names.iter().take(count).map(String::as_str).collect();
    match names.len().saturating_sub(count) {
        0 => first.join("; "),
        more => format!("{}; and {more} more", first.join("; ")),
    }
}

/// Names that are like what was given, or else one as an example.
fn perhaps(near: &[String], example: &str) -> String {
    if near.is_empty() {
        format!("; names are such as {example}")
    } else {
        format!("; perhaps {}", near.join("; "))
    }
}
