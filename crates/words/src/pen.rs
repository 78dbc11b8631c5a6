//! What is said of a working with the pen.

use sky::Body;
use tables::House;
use tables::pen::{Cause, Entry, Role, What, Why};

/// What is done in a step.
#[must_use]
pub fn pen_step(what: What) -> String {
    match what {
        What::UniversalTime => "Bring the clock to Universal Time.".to_owned(),
        What::SiderealTime => {
            "Find the local sidereal time: the sidereal time at the last hour of \
            the ephemeris, the time gone since, what sidereal time gains in it, and the longitude."
                .to_owned()
        }
        What::Rows => {
            "Find the rows of the table of houses on either side, and how far past the first."
                .to_owned()
        }
        What::Cusp(House::X) => "Find the midheaven between the two rows.".to_owned(),
        What::Cusp(House::I) => "Find the ascendant between the same two rows.".to_owned(),
        What::Cusp(house) => format!("Find cusp {house} between the same two rows."),
        What::Opposites => "Write the other cusps opposite.".to_owned(),
        What::TimeGone => {
            "Look up the logarithm of the time gone since the ephemeris' hour.".to_owned()
        }
        What::Place(body) => format!(
            "Find {}: to the logarithm of the time add that of the motion from day to day; the sum \
             is the logarithm of the motion in the time gone.",
            the(body)
        ),
        What::SecondDifference(body) => format!(
            "Bend the way of {}: the motion of the next day less that of the day before, times the \
             factor of second differences, is taken off.",
            the(body)
        ),
        What::Fortune => {
            "Cast the lot of Fortune from the ascendant: by day from the Sun to the Moon, \
            by night from the Moon to the Sun."
                .to_owned()
        }
    }
}

/// A body within a sentence.
fn the(body: Body) -> String {
    match body {
        Body::Sun | Body::Moon => format!("the {body}"),
        Body::Mercury
        | Body::Venus
        | Body::Mars
        | Body::Jupiter
        | Body::Saturn
        | Body::Uranus
        | Body::Neptune
        | Body::Pluto => body.to_string(),
    }
}

/// What a line's number is; what is found is called by its step.
#[must_use]
pub fn pen_line(what: What, entry: Entry) -> String {
    let text = match entry {
        Entry::ClockTime => "time on the clock",
        Entry::SummerTime => "summer time",
        Entry::Zone => "standard time ahead of Universal Time",
        Entry::Longitude => "longitude, 4 minutes a degree",
        Entry::EquationOfTime => "equation of time",
        Entry::UniversalTime => "Universal Time",
        Entry::SiderealAtHour => "sidereal time at the ephemeris' hour",
        Entry::TimeGone => "time gone since",
        Entry::AccelerationOfHours => "gained in its hours",
        Entry::AccelerationOfMinutes => "gained in its minutes",
        Entry::SiderealAtGreenwich => "sidereal time at Greenwich",
        Entry::SiderealTime => "local sidereal time",
        Entry::RowBefore => "the row before",
        Entry::PastRow => "past the row",
        Entry::Before => "in the row before",
        Entry::Behind => "in the row behind",
        Entry::Difference => "difference",
        Entry::Part => "its part for what is past the row, of 4 minutes",
        Entry::Found => return found(what),
        Entry::Opposite(house) => return format!("cusp {house}"),
        Entry::LogarithmOfTime => "logarithm of the time gone",
        Entry::Motion => "motion in a day",
        Entry::LogarithmOfMotion => "logarithm of the motion",
        Entry::LogarithmOfPart => "logarithm of the motion in the time gone",
        Entry::MotionInTime => "motion in the time gone",
        Entry::MotionBefore => "motion of the day before",
        Entry::MotionBehind => "motion of the next day",
        Entry::Factor => "factor of second differences",
        Entry::Bend => "what it makes",
        Entry::Ascendant => "ascendant",
        Entry::Moon => "Moon",
        Entry::Sun => "Sun",
    };
    text.to_owned()
}

/// What a step finds.
fn found(what: What) -> String {
    match what {
        What::UniversalTime => "Universal Time".to_owned(),
        What::SiderealTime | What::Rows => "local sidereal time".to_owned(),
        What::Cusp(House::X) => "midheaven".to_owned(),
        What::Cusp(House::I) => "ascendant".to_owned(),
        What::Cusp(house) => format!("cusp {house}"),
        What::Opposites => "cusps opposite".to_owned(),
        What::TimeGone => "time gone".to_owned(),
        What::Place(body) | What::SecondDifference(body) => body.to_string(),
        What::Fortune => "lot of Fortune".to_owned(),
    }
}

/// What stands before a line's number.
#[must_use]
pub const fn pen_sign(role: Role) -> &'static str {
    match role {
        Role::Given => "",
        Role::Added => "+",
        Role::TakenOff => "−",
        Role::Times => "×",
        Role::Makes => "=",
    }
}

/// A cause of a difference, in plain words.
#[must_use]
pub const fn pen_cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Procedure => "the way itself",
        Cause::SummerTime => "summer time not taken off",
        Cause::Zone => "zone not taken off",
        Cause::Longitude => "longitude not corrected, 4 minutes a degree",
        Cause::EquationOfTime => "equation of time not applied",
        Cause::Epoch => "the table's obliquity",
        Cause::TableLatitude => "a table for another latitude",
        Cause::TableRounding => "the digits of the tables",
        Cause::Interpolation => "going between rows in proportion",
        Cause::SecondDifference => "the Moon's second difference left out",
    }
}

/// The difference in a sentence, naming at most two causes.
#[must_use]
pub fn pen_difference(why: &Why, name: &str) -> String {
    let minutes = |deg: f64| format!("{:.1}′", deg.abs() * 60.0);
    let difference = why.difference().deg();
    let way = if difference < 0.0 { "back" } else { "on" };
    let mut shares = why.shares.clone();
    // What is less than a tenth of a minute is not worth naming.
    shares.retain(|share| share.amount.deg().abs() * 60.0 >= 0.1);
    shares.sort_by(|a, b| b.amount.deg().abs().total_cmp(&a.amount.deg().abs()));
    let named: Vec<String> = shares
        .iter()
        .take(2)
        .map(|share| {
            let sign = if share.amount.deg() < 0.0 { "−" } else { "+" };
            let size = minutes(share.amount.deg());
            format!("{} ({sign}{size})", pen_cause(share.cause))
        })
        .collect();
    let head = format!(
        "{name} is found {} further {way} than calculated",
        minutes(difference)
    );
    if named.is_empty() {
        format!("{name} is found as calculated.")
    } else {
        format!("{head}, mostly: {}.", named.join(" and "))
    }
}
