//! What is said of a working with the pen.

use sky::Body;
use tables::House;
use tables::pen::{At, Cause, Entry, Role, Slip, SlipKind, StepResult, Why};

/// What is done in a step.
#[must_use]
pub fn pen_step(what: StepResult) -> String {
    match what {
        StepResult::UniversalTime => "Bring the clock to Universal Time.".to_owned(),
        StepResult::SiderealTime => {
            "Find the local sidereal time: the sidereal time at the last hour of \
            the ephemeris, the time gone since, what sidereal time gains in it, and the longitude."
                .to_owned()
        }
        StepResult::Rows => {
            "Find the rows of the table of houses on either side, and how far past the first."
                .to_owned()
        }
        StepResult::Cusp(House::X) => "Find the midheaven between the two rows.".to_owned(),
        StepResult::Cusp(House::I) => "Find the ascendant between the same two rows.".to_owned(),
        StepResult::Cusp(house) => format!("Find cusp {house} between the same two rows."),
        StepResult::Opposites => "Write the other cusps opposite.".to_owned(),
        StepResult::TimeGone => {
            "Look up the logarithm of the time gone since the ephemeris' hour.".to_owned()
        }
        StepResult::Place(body) => format!(
            "Find {}: to the logarithm of the time add that of the motion from day to day; the sum \
             is the logarithm of the motion in the time gone.",
            the(body)
        ),
        StepResult::SecondDifference(body) => format!(
            "Bend the way of {}: the motion of the next day less that of the day before, times the \
             factor of second differences, is taken off.",
            the(body)
        ),
        StepResult::Fortune => {
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
pub fn pen_line(what: StepResult, entry: Entry) -> String {
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
fn found(what: StepResult) -> String {
    match what {
        StepResult::UniversalTime => "Universal Time".to_owned(),
        StepResult::SiderealTime | StepResult::Rows => "local sidereal time".to_owned(),
        StepResult::Cusp(House::X) => "midheaven".to_owned(),
        StepResult::Cusp(House::I) => "ascendant".to_owned(),
        StepResult::Cusp(house) => format!("cusp {house}"),
        StepResult::Opposites => "cusps opposite".to_owned(),
        StepResult::TimeGone => "time gone".to_owned(),
        StepResult::Place(body) | StepResult::SecondDifference(body) => body.to_string(),
        StepResult::Fortune => "lot of Fortune".to_owned(),
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
        Cause::Unexplained => "what nothing here explains",
    }
}

/// The difference in a sentence, naming at most two causes.
#[must_use]
pub fn pen_difference(why: &Why, name: &str) -> String {
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

/// What went wrong, in a sentence, wherever on the sheet.
#[must_use]
pub const fn pen_slip_anywhere(kind: SlipKind) -> &'static str {
    match kind {
        SlipKind::HalfDay => "Morning was taken for afternoon, or the reverse.",
        SlipKind::OtherHour => {
            "An ephemeris of noon was worked as one of midnight, or the reverse."
        }
        SlipKind::SummerTimeLeftIn => "Summer time was left in.",
        SlipKind::ZoneLeftIn => "The zone was not taken off.",
        SlipKind::ZoneTurned => "The zone was put on instead of off, or the reverse.",
        SlipKind::LongitudeLeftOut => "The longitude was left out of the sum.",
        SlipKind::LongitudeTurned => "East was taken for west in the longitude.",
        SlipKind::EquationLeftOut => "A time by the Sun was taken for mean time.",
        SlipKind::AccelerationLeftOut => "What sidereal time gains in the time gone was left out.",
        SlipKind::RowBefore => "The row before the right one was taken.",
        SlipKind::RowBehind => "The row behind the right one was taken.",
        SlipKind::AsItStands => "The row was taken as it stands.",
        SlipKind::Backwards => "The part was counted back from the row behind.",
        SlipKind::PartTurned => "The part was taken off instead of put on, or the reverse.",
        SlipKind::LatitudeNorth => "The table of houses was open at the next latitude north.",
        SlipKind::LatitudeSouth => "The table of houses was open at the next latitude south.",
        SlipKind::Hundredths => "Minutes were taken for hundredths.",
        SlipKind::BorrowedHundred => "A borrowed unit was taken for 100 sixtieths.",
        SlipKind::LotTurned => "The lot was cast by day as by night, or the reverse.",
    }
}

/// What went wrong and where, in a sentence.
#[must_use]
pub fn pen_slip(slip: Slip) -> String {
    let sentence = pen_slip_anywhere(slip.kind);
    match slip.kind {
        SlipKind::RowBefore
        | SlipKind::RowBehind
        | SlipKind::AsItStands
        | SlipKind::Backwards
        | SlipKind::PartTurned
        | SlipKind::BorrowedHundred => placed(slip.at, sentence),
        SlipKind::Hundredths => match slip.at.part() {
            tables::pen::Part::Sum => {
                "The minutes on the clock were taken for hundredths of an hour.".to_owned()
            }
            tables::pen::Part::Houses
            | tables::pen::Part::Ephemeris
            | tables::pen::Part::Fortune => placed(
                slip.at,
                "The minutes printed were taken for hundredths of a degree.",
            ),
        },
        SlipKind::HalfDay
        | SlipKind::OtherHour
        | SlipKind::SummerTimeLeftIn
        | SlipKind::ZoneLeftIn
        | SlipKind::ZoneTurned
        | SlipKind::LongitudeLeftOut
        | SlipKind::LongitudeTurned
        | SlipKind::EquationLeftOut
        | SlipKind::AccelerationLeftOut
        | SlipKind::LatitudeNorth
        | SlipKind::LatitudeSouth
        | SlipKind::LotTurned => sentence.to_owned(),
    }
}

/// A sentence that begins with where on the sheet it happened.
fn placed(at: At, sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().map(|first| first.to_ascii_lowercase());
    let rest = letters.as_str();
    format!(
        "{} {}{rest}",
        there(at),
        first.map_or_else(String::new, String::from)
    )
}

/// Where on the sheet, at the beginning of a sentence.
fn there(at: At) -> String {
    match at {
        At::Sum => "In the sum".to_owned(),
        At::Houses => "In the table of houses".to_owned(),
        At::Cusp(House::I) => "For the ascendant".to_owned(),
        At::Cusp(House::X) => "For the midheaven".to_owned(),
        At::Cusp(house) => format!("For cusp {house}"),
        At::Bodies => "In the ephemeris".to_owned(),
        At::Body(body) => format!("For {}", the(body)),
        At::Fortune => "For the lot".to_owned(),
    }
}

/// What to do about it.
#[must_use]
pub const fn pen_mend(kind: SlipKind) -> &'static str {
    match kind {
        SlipKind::HalfDay => "Count the hours of the clock from midnight, to 24.",
        SlipKind::OtherHour => {
            "Look at the head of the ephemeris for the hour at which its days begin, and count the time gone from it."
        }
        SlipKind::SummerTimeLeftIn => "Take summer time off the clock first.",
        SlipKind::ZoneLeftIn | SlipKind::ZoneTurned => {
            "A zone east of Greenwich is ahead: take it off; one west of it is put on."
        }
        SlipKind::LongitudeLeftOut | SlipKind::LongitudeTurned => {
            "For the sidereal time of the place put on four minutes for every degree east, and take them off for west."
        }
        SlipKind::EquationLeftOut => "Take the equation of time off a time by the Sun.",
        SlipKind::AccelerationLeftOut => {
            "Put on nearly ten seconds for every hour gone: the table of the acceleration has them."
        }
        SlipKind::RowBefore | SlipKind::RowBehind => {
            "The right row is the last whose argument is not more than yours; lay a ruler under it."
        }
        SlipKind::AsItStands => "Go on from the row by the part that is past it.",
        SlipKind::Backwards => "The part is counted on from the row before.",
        SlipKind::PartTurned => {
            "Look whether the numbers rise or fall from row to row: where they rise, the part is put on."
        }
        SlipKind::LatitudeNorth | SlipKind::LatitudeSouth => {
            "Read the latitude at the head of the page before taking anything from it."
        }
        SlipKind::Hundredths => "A degree and an hour have sixty minutes: 8°42′ is 8.70°.",
        SlipKind::BorrowedHundred => "A degree or an hour that is borrowed brings 60 minutes.",
        SlipKind::LotTurned => {
            "By day the arc is from the Sun to the Moon; by night from the Moon to the Sun."
        }
    }
}

/// A size in minutes of arc to the tenth, from a degree on in degrees and minutes.
fn minutes(deg: f64) -> String {
    if deg.abs() < 1.0 {
        return format!("{:.1}′", deg.abs() * 60.0);
    }
    let whole = (deg.abs() * 60.0).round();
    format!("{}°{:02}′", (whole / 60.0).floor(), whole % 60.0)
}

/// Why two roads to a number differ, in a sentence: what parts them most, of the shares
/// between them.
#[must_use]
pub fn roads_difference(
    name: &str,
    (one, other): (&str, &str),
    difference_deg: f64,
    shares: &[(&str, f64)],
) -> String {
    let way = if difference_deg < 0.0 { "back" } else { "on" };
    let mut shares: Vec<&(&str, f64)> = shares.iter().collect();
    shares.retain(|(_, deg)| deg.abs() * 60.0 >= 0.1);
    shares.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let named: Vec<String> = shares
        .iter()
        .take(2)
        .map(|(words, deg)| {
            let sign = if *deg < 0.0 { "−" } else { "+" };
            format!("{words} ({sign}{})", minutes(*deg))
        })
        .collect();
    if named.is_empty() {
        return format!("{name}: {one} and {other} come to the same.");
    }
    format!(
        "{name} by {one} is {} further {way} than by {other}, mostly: {}.",
        minutes(difference_deg),
        named.join(" and ")
    )
}
