use std::fmt::Write;

use moment::{Calendar, CivilTime, Moment};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Body, Instant, Sky};

use crate::moment::understood_place;
use crate::moment_texts::MomentTexts;
use crate::refusal::{Field, Refusal, quoted};

const SECONDS_PER_DAY: f64 = 86_400.0;
/// Julian date of 15 October 1582, the first day of the Gregorian calendar.
const GREGORIAN_JD: f64 = 2_299_160.5;

/// What is asked when an ephemeris is wanted: texts, as a person gives them.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct EphemerisRequest {
    /// The first moment, `YYYY-MM-DD HH:MM[:SS]` or `now`; in Universal Time where no
    /// place, zone or clock is said.
    pub from: String,
    /// The last moment, which is included if a step falls on it.
    pub to: String,
    /// How far apart: a number with `s`, `min`, `h` or `d`, of even days of 86,400 s.
    pub every: String,
    /// The place by whose clock the moments are said.
    pub at: Option<String>,
    /// The zone by whose clock they are said.
    pub zone: Option<String>,
    /// `zone` (unless said), `mean`, `sun`, or an offset such as `+01:00`.
    pub clock: Option<String>,
    /// `gregorian` or `julian`; unless said, Julian to 4 October 1582.
    pub calendar: Option<String>,
    /// `earlier` or `later`, where a clock time came twice or not at all.
    pub which: Option<String>,
}

/// An ephemeris: row by row, as it is asked for, so that one of any length can be had.
#[derive(Clone, Debug)]
pub struct Ephemeris {
    start: Instant,
    start_utc: CivilTime,
    calendar: Option<Calendar>,
    step_s: f64,
    next: u64,
    rows: u64,
}

/// What is said of each body.
const OF_A_BODY: [&str; 5] = [
    "longitude_deg",
    "latitude_deg",
    "right_ascension_deg",
    "declination_deg",
    "speed_deg_per_day",
];
const BODIES: usize = Body::ALL.len();
const NUMBERS: usize = 1 + BODIES * OF_A_BODY.len() + 3;

/// A moment of an ephemeris.
#[derive(Clone, Debug, PartialEq)]
pub struct EphemerisRow {
    utc: CivilTime,
    jd_tt: f64,
    angles_deg: [f64; NUMBERS - 1],
}

/// The ephemeris that is asked for. Both ends are checked before a row is made.
///
/// # Errors
/// When the request cannot be understood, or leaves the span of the ephemeris.
pub fn ephemeris(
    request: &EphemerisRequest,
    now_unix_s: Option<f64>,
) -> Result<Ephemeris, Refusal> {
    let moment = |when: &str, field| {
        let said = MomentTexts {
            when,
            zone: request.zone.as_deref(),
            clock: request.clock.as_deref(),
            calendar: request.calendar.as_deref(),
            which: request.which.as_deref(),
        };
        let moment = match &request.at {
            Some(at) => said.at(understood_place(at)?, now_unix_s),
            None => said.anywhere(now_unix_s),
        };
        moment.map_err(|refusal| match refusal.field {
            Field::When => Refusal { field, ..refusal },
            _ => refusal,
        })
    };
    let step_s = step_seconds(&request.every)?;
    let from: Moment = moment(&request.from, Field::From)?;
    let to: Moment = moment(&request.to, Field::To)?;
    let days = ut_days(from.instant(), to.instant());
    if days < 0.0 {
        return Err(Refusal::new(
            Field::To,
            format!(
                "the end {} is before the beginning {}; a later one would do",
                quoted(&request.to),
                quoted(&request.from)
            ),
        ));
    }
    // A thousandth of a second too little is a rounding, not a step short of the end.
    let steps = ((days * SECONDS_PER_DAY + 1e-3) / step_s).floor();
    Ok(Ephemeris {
        start: from.instant(),
        start_utc: from.utc(),
        calendar: request
            .calendar
            .is_some()
            .then(|| from.civil().date.calendar()),
        step_s,
        next: 0,
        // At most 10¹¹ seconds fit into the span.
        rows: steps as u64 + 1,
    })
}

impl Ephemeris {
    /// How many rows there are in all.
    #[must_use]
    pub const fn rows(&self) -> u64 {
        self.rows
    }

    /// The names of the columns, in order.
    #[must_use]
    pub fn columns() -> Vec<String> {
        let bodies = Body::ALL.into_iter().flat_map(|body| {
            OF_A_BODY.map(|what| format!("{}_{what}", body.name().to_lowercase()))
        });
        ["utc", "calendar", "jd_tt"]
            .map(str::to_owned)
            .into_iter()
            .chain(bodies)
            .chain(["mean_node_deg", "true_node_deg", "obliquity_deg"].map(str::to_owned))
            .collect()
    }
}

impl Iterator for Ephemeris {
    type Item = Result<EphemerisRow, Refusal>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.next == self.rows {
            return None;
        }
        let seconds = self.next as f64 * self.step_s;
        self.next += 1;
        let (day, fraction) = self.start.ut_parts();
        let days = (seconds / SECONDS_PER_DAY).floor();
        let rest = (seconds - days * SECONDS_PER_DAY) / SECONDS_PER_DAY;
        let instant = Instant::from_ut(day + days, fraction + rest);
        let utc = self.start_utc.plus_seconds(seconds);
        let calendar = self.calendar.unwrap_or(if instant.jd_ut() < GREGORIAN_JD {
            Calendar::Julian
        } else {
            Calendar::Gregorian
        });
        let row = Sky::at(instant).map(|sky| EphemerisRow::of(&sky, utc.in_calendar(calendar)));
        Some(row.map_err(|error| Refusal::new(Field::To, error)))
    }
}

impl EphemerisRow {
    fn of(sky: &Sky, utc: CivilTime) -> EphemerisRow {
        let mut angles_deg = [0.0; NUMBERS - 1];
        let bodies = Body::ALL.into_iter().flat_map(|body| {
            let seen = sky.body(body);
            [
                in_turn_deg(seen.longitude),
                seen.latitude.deg(),
                in_turn_deg(seen.right_ascension),
                seen.declination.deg(),
                seen.speed.deg(),
            ]
        });
        let rest = [
            in_turn_deg(sky.mean_node()),
            in_turn_deg(sky.true_node()),
            sky.obliquity().deg(),
        ];
        for (place, number) in angles_deg.iter_mut().zip(bodies.chain(rest)) {
            *place = number;
        }
        EphemerisRow {
            utc,
            jd_tt: sky.instant().jd_tt(),
            angles_deg,
        }
    }

    /// Adds the row to a text of comma-separated values, with its end of line: angles
    /// to 0.000001°, a tenth of what they are good to.
    pub fn write_csv(&self, text: &mut String) {
        // Writing to a String cannot fail.
        let _ = write!(
            text,
            "{},{},{:.6}",
            self.utc,
            self.utc.date.calendar().name(),
            self.jd_tt
        );
        for deg in self.angles_deg {
            let _ = write!(text, ",{deg:.DECIMALS$}");
        }
        text.push('\n');
    }
}

/// As an array, in the order of [`Ephemeris::columns`].
impl Serialize for EphemerisRow {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeSeq;
        let mut row = serializer.serialize_seq(Some(2 + NUMBERS))?;
        row.serialize_element(&self.utc.to_string())?;
        row.serialize_element(self.utc.date.calendar().name())?;
        row.serialize_element(&self.jd_tt)?;
        for deg in &self.angles_deg {
            row.serialize_element(&rounded(*deg))?;
        }
        row.end()
    }
}

const DECIMALS: usize = 6;

fn rounded(deg: f64) -> f64 {
    (deg * 1e6).round() / 1e6
}

/// In [0°, 360°) even when written with its decimals.
fn in_turn_deg(angle: Angle) -> f64 {
    let deg = rounded(angle.in_turn().deg());
    if deg < 360.0 { deg } else { 0.0 }
}

/// Days of UT between two instants.
fn ut_days(from: Instant, to: Instant) -> f64 {
    let [(from_day, from_part), (to_day, to_part)] = [from, to].map(Instant::ut_parts);
    (to_day - from_day) + (to_part - from_part)
}

/// A length of time: `1 d`, `6h`, `30 min`, `90 s`.
fn step_seconds(text: &str) -> Result<f64, Refusal> {
    let refused = |why: &str| {
        Refusal::new(
            Field::Every,
            format!("{} {why}; 1d, 6h, 30min or 90s would do", quoted(text)),
        )
    };
    let trimmed = text.trim();
    let unit_at = trimmed
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(trimmed.len());
    let (number, unit) = trimmed.split_at(unit_at);
    let number: f64 = number
        .parse()
        .map_err(|_| refused("is no length of time"))?;
    let seconds = match unit.trim() {
        "s" | "second" | "seconds" => number,
        "min" | "minute" | "minutes" => number * 60.0,
        "h" | "hour" | "hours" => number * 3600.0,
        "d" | "day" | "days" => number * SECONDS_PER_DAY,
        "" => return Err(refused("has no unit")),
        _ => return Err(refused("has a unit that is not known here")),
    };
    if seconds < 1.0 {
        return Err(refused("is less than a second"));
    }
    // Dates are written to the millisecond.
    let seconds = (seconds * 1000.0).round() / 1000.0;
    if seconds.is_finite() {
        Ok(seconds)
    } else {
        Err(refused("is too long"))
    }
}
