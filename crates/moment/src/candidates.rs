//! By which clocks a time may have been told, where the history of the clocks is doubtful.

use std::fmt;

use sky::Angle;

use crate::zone::{By, Local, offset_in};
use crate::{Calendar, CivilDate, CivilTime, Clock, Place, UtcOffset, Zone, ZoneSpan};

/// Clocks that the time zone database does not have, or has for another part of a zone.
const WRITTEN: &str = include_str!("../../../data/clocks.tsv");

/// Standard times are whole quarters of an hour; what is not is some town's mean time.
const QUARTER_HOUR_S: f64 = 900.0;
/// Before railways and telegraphs no town kept the time of another.
const RAILWAYS_FROM: i32 = 1840;
/// So long mean time may have gone on beside a standard time.
const YEARS_OF_CUSTOM: f64 = 10.0;
/// In these years clocks were changed by order of armies and occupiers, here and there.
const IN_WAR: [(i32, i32); 2] = [(1914, 1921), (1939, 1949)];
/// Within so long of such a change it may have come earlier or later here.
const NEAR_A_CHANGE_S: f64 = 14.0 * DAY_S;

const DAY_S: f64 = 86_400.0;
const YEAR_S: f64 = 365.25 * DAY_S;

/// A clock by which a time may have been told.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The clock.
    pub clock: CandidateClock,
    /// What it is.
    pub words: String,
    /// Where that is in print.
    pub source: String,
}

/// Which clock a time may have been told by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CandidateClock {
    /// One that goes by its zone's record, by local mean time or by an offset.
    Known(Clock),
    /// An old reckoning of the day, by its name: `from-sunset`.
    Old(&'static str),
}

/// As it is said: `zone`, `mean`, an offset such as `+01:00`, or an old reckoning.
impl fmt::Display for CandidateClock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CandidateClock::Known(clock) => clock.fmt(f),
            CandidateClock::Old(name) => f.write_str(name),
        }
    }
}

/// Whether clocks were recorded everywhere by then: from 1970 on, which the zone database
/// gives as where its own care begins (IANA, `theory.html`, "Scope of the tz database").
#[must_use]
pub fn is_on_record(civil: CivilTime) -> bool {
    civil.seconds_since_1970() >= 0.0
}

/// The clocks by which a date and time may have been told at a place: first that of its
/// zone's record, then the others; none where there is no doubt, or no zone. From 1970
/// on there is none; see [`is_on_record`].
///
/// ```
/// use moment::{Calendar, CivilDate, CivilTime, Place, TimeOfDay, candidates};
/// let krakow = Place::find("Kraków, Poland")?;
/// let date = CivilDate::new(Calendar::Gregorian, 1897, 3, 2)?;
/// let time = TimeOfDay::new(14, 10, 0.0).unwrap();
/// let clocks = candidates(&krakow, krakow.zone, CivilTime { date, time });
/// let clocks: Vec<String> = clocks.iter().map(|one| one.clock.to_string()).collect();
/// assert_eq!(clocks, ["zone", "mean", "+01:00"]);
/// # Ok::<(), moment::MomentError>(())
/// ```
#[must_use]
pub fn candidates(place: &Place, zone: Option<Zone>, civil: CivilTime) -> Vec<Candidate> {
    let Some(zone) = zone else { return Vec::new() };
    if is_on_record(civil) {
        return Vec::new();
    }
    let local_s = civil.seconds_since_1970();
    let of_place = Some(zone) == place.zone;
    let mean_s = place.longitude.deg() * 240.0;
    let own_mean_s = of_place.then_some(mean_s);
    let by = match zone.at_local(local_s, own_mean_s) {
        Local::Plain(by) | Local::Doubtful(_, [by, _]) => by,
    };
    let mut found = Found {
        all: Vec::new(),
        ahead_s: Vec::new(),
    };
    found.add(
        Some(by.offset_s),
        Candidate {
            clock: CandidateClock::Known(Clock::Zone),
            words: record_words(zone, by.span, own_mean_s.is_some()),
            source: database(zone),
        },
    );
    for written in Written::all().filter(|one| one.holds(zone, place, local_s)) {
        found.add(written.ahead_s(mean_s), written.candidate());
    }
    from_record(&mut found, zone, by, local_s, own_mean_s);
    if mean_time_is_near(zone, by.span, local_s) {
        found.add(Some(mean_s), own_mean_time());
    }
    found.in_order()
}

/// What is found, each clock once.
struct Found {
    all: Vec<Candidate>,
    ahead_s: Vec<Option<f64>>,
}

impl Found {
    /// Adds a clock, unless one is there that is no second from it.
    fn add(&mut self, ahead_s: Option<f64>, candidate: Candidate) {
        let same = |there: &Option<f64>| match (there, ahead_s) {
            (Some(there), Some(here)) => (there - here).abs() < 1.0,
            _ => false,
        };
        if !self.ahead_s.iter().any(same) {
            self.ahead_s.push(ahead_s);
            self.all.push(candidate);
        }
    }

    /// The record's own first, then the others from the slowest clock back: mean time
    /// before the standard times of the west, as they came.
    fn in_order(self) -> Vec<Candidate> {
        if self.all.len() < 2 {
            return Vec::new();
        }
        let mut all: Vec<(Option<f64>, Candidate)> =
            self.ahead_s.into_iter().zip(self.all).collect();
        if let Some((_, others)) = all.split_first_mut() {
            let behind = |ahead_s: Option<f64>| ahead_s.map_or(f64::INFINITY, |ahead| -ahead);
            others.sort_by(|(one, _), (other, _)| behind(*one).total_cmp(&behind(*other)));
        }
        all.into_iter().map(|(_, candidate)| candidate).collect()
    }
}

/// What the zone's own record has beside what it says: the mean time of its town where that
/// stands for a place's own, and the time on the other side of a change of the clocks.
fn from_record(found: &mut Found, zone: Zone, by: By, local_s: f64, own_mean_s: Option<f64>) {
    let year = CivilTime::from_seconds_since_1970(Calendar::Gregorian, local_s)
        .date
        .year();
    if by.span.is_local_mean_time() && own_mean_s.is_some() && year >= RAILWAYS_FROM {
        let ahead_s = by.span.standard_offset_s();
        found.add(
            Some(ahead_s),
            of_offset(ahead_s, mean_time_of(zone), database(zone)),
        );
    }
    if !IN_WAR
        .iter()
        .any(|(from, to)| (*from..=*to).contains(&year))
    {
        return;
    }
    let ut_s = local_s - by.offset_s;
    let near = |change: i64| (change as f64 - ut_s).abs() < NEAR_A_CHANGE_S;
    for change in [by.span.from_unix_s(), by.span.until_unix_s()]
        .into_iter()
        .flatten()
        .filter(|change| near(*change))
    {
        let after = change as f64 > ut_s;
        let other = zone.span_at(if after { change } else { change - 1 });
        let ahead_s = offset_in(other, own_mean_s);
        let date =
            CivilTime::from_seconds_since_1970(Calendar::Gregorian, change as f64 + by.offset_s);
        let words = format!(
            "the time {} the change of {}, if it came {} here",
            if after { "after" } else { "before" },
            date.date,
            if after { "earlier" } else { "later" },
        );
        found.add(Some(ahead_s), of_offset(ahead_s, words, database(zone)));
    }
}

/// Whether mean time is the record's, or was lately.
fn mean_time_is_near(zone: Zone, span: ZoneSpan, local_s: f64) -> bool {
    let is_mean = |span: ZoneSpan| {
        let off_s = span.standard_offset_s().rem_euclid(QUARTER_HOUR_S);
        span.is_local_mean_time() || off_s > 0.5
    };
    let mut span = span;
    loop {
        if is_mean(span) {
            return true;
        }
        match span.from_unix_s() {
            Some(from) if from as f64 > local_s - YEARS_OF_CUSTOM * YEAR_S => {
                span = zone.span_at(from - 1);
            }
            _ => return false,
        }
    }
}

fn own_mean_time() -> Candidate {
    Candidate {
        clock: CandidateClock::Known(Clock::Mean),
        words: "the mean time of the place itself".to_owned(),
        source: "common practice before and beside standard time".to_owned(),
    }
}

fn of_offset(ahead_s: f64, words: String, source: String) -> Candidate {
    Candidate {
        clock: CandidateClock::Known(Clock::Offset(
            UtcOffset::from_seconds(ahead_s).unwrap_or_default(),
        )),
        words,
        source,
    }
}

fn record_words(zone: Zone, span: ZoneSpan, of_place: bool) -> String {
    if span.is_local_mean_time() && of_place {
        return "the mean time of the place itself, for there was no standard time".to_owned();
    }
    if span.is_local_mean_time() {
        return mean_time_of(zone);
    }
    format!(
        "{} ({}), as the record of {zone} has it",
        span.abbreviation(),
        span.offset()
    )
}

fn mean_time_of(zone: Zone) -> String {
    format!("the mean time of {}", zone.town())
}

fn database(zone: Zone) -> String {
    format!("IANA time zone database {}, {zone}", Zone::release())
}

/// A line of the written list.
struct Written {
    zones: &'static str,
    /// West, east, south, north.
    bounds: [Angle; 4],
    from_s: f64,
    until_s: f64,
    clock: CandidateClock,
    words: &'static str,
    source: &'static str,
}

impl Written {
    fn all() -> impl Iterator<Item = Written> {
        let lines = WRITTEN.lines().filter(|line| !line.starts_with('#'));
        // A test reads every one of them.
        lines.skip(1).filter_map(Written::of_line)
    }

    fn of_line(line: &'static str) -> Option<Written> {
        let cells: Vec<&'static str> = line.split('\t').collect();
        let &[
            zones,
            west,
            east,
            south,
            north,
            from,
            until,
            clock,
            words,
            source,
        ] = cells.as_slice()
        else {
            return None;
        };
        let angle = |text: &str| text.parse().ok().map(Angle::from_deg);
        Some(Written {
            zones,
            bounds: [angle(west)?, angle(east)?, angle(south)?, angle(north)?],
            from_s: day(from)?,
            until_s: day(until)?,
            clock: match clock.parse() {
                Ok(known) => CandidateClock::Known(known),
                Err(_) => CandidateClock::Old(clock),
            },
            words,
            source,
        })
    }

    fn holds(&self, zone: Zone, place: &Place, local_s: f64) -> bool {
        let [west, east, south, north] = self.bounds;
        let (longitude, latitude) = (place.longitude, place.latitude.angle());
        self.zones.split(' ').any(|name| name == zone.name())
            && (self.from_s..self.until_s).contains(&local_s)
            && west <= longitude
            && longitude <= east
            && south <= latitude
            && latitude <= north
    }

    /// How far it is ahead of UT; none for an old reckoning.
    fn ahead_s(&self, mean_s: f64) -> Option<f64> {
        match self.clock {
            CandidateClock::Known(Clock::Mean) => Some(mean_s),
            CandidateClock::Known(Clock::Offset(offset)) => Some(offset.seconds()),
            CandidateClock::Known(Clock::Zone | Clock::Sun) | CandidateClock::Old(_) => None,
        }
    }

    fn candidate(&self) -> Candidate {
        Candidate {
            clock: self.clock,
            words: self.words.to_owned(),
            source: self.source.to_owned(),
        }
    }
}

/// The beginning of a day, in seconds since 1970.
fn day(text: &str) -> Option<f64> {
    let mut parts = text.split('-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    let date = CivilDate::new(
        Calendar::Gregorian,
        year.parse().ok()?,
        month.parse().ok()?,
        day.parse().ok()?,
    );
    // Day 2440588 began with 1970.
    Some((f64::from(date.ok()?.julian_day_number()) - 2_440_588.0) * DAY_S)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_of_the_list_is_understood() {
        let lines = WRITTEN.lines().filter(|line| !line.starts_with('#'));
        assert_eq!(lines.count() - 1, Written::all().count());
        for one in Written::all() {
            for name in one.zones.split(' ') {
                assert!(Zone::named(name).is_ok(), "{name}");
            }
            assert!(
                one.from_s < one.until_s && one.until_s < 0.0,
                "{}",
                one.words
            );
            assert!(one.bounds[0] < one.bounds[1] && one.bounds[2] < one.bounds[3]);
            let known = one.ahead_s(0.0).is_some();
            assert!(
                known || one.clock == CandidateClock::Old("from-sunset"),
                "{}",
                one.clock
            );
            assert!(!one.source.is_empty());
        }
    }
}
