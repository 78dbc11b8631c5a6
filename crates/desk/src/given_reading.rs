//! A reading as a person gives it: what was read, its value, and how finely it is written.

use instrument::House;
use practice::{Amount, Measure, Procedure, PupilReading, Quantity, Value};
use sky::{Angle, Sign, Zodiacal};
use words::ValueInWords;

use crate::answer::in_range;
use crate::refusal::{Field, Refusal, quoted};
use crate::work_texts::degrees;

/// A reading as it was given.
#[derive(Clone, Copy, Debug)]
pub(crate) struct GivenReading {
    pub(crate) what: ReadingOf,
    pub(crate) value: Value,
    /// How finely it is written: to a minute, a degree, a sign.
    pub(crate) written_to: Amount,
}

/// A sign alone, for a degree.
const SIGN: Angle = Angle::from_deg(30.0);

impl GivenReading {
    /// Whether no more than the sign is told.
    pub(crate) fn is_sign_alone(&self) -> bool {
        self.written_to == Amount::Angle(SIGN)
    }

    /// What practice is asked about it.
    pub(crate) fn asked(&self, by: Procedure) -> PupilReading {
        PupilReading {
            quantity: quantity(by, self.what),
            value: own_or_opposite(by, self.what, self.value),
            written_to: self.written_to,
        }
    }

    pub(crate) fn said(&self) -> String {
        match self.value {
            Value::Degree(degree) if self.is_sign_alone() => {
                Zodiacal(degree).sign().name().to_owned()
            }
            value => ValueInWords(value).to_string(),
        }
    }
}

/// What is read. The angles are no cusps: by some methods the first house begins
/// elsewhere than with the ascendant, and the tenth elsewhere than at the midheaven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ReadingOf {
    LocalTime,
    SunDegree,
    Ascendant,
    Midheaven,
    Cusp(House),
    /// What an operation of the treatise finds.
    Found(Quantity),
}

impl ReadingOf {
    pub(crate) fn name(self) -> String {
        match self {
            ReadingOf::LocalTime => "local time".to_owned(),
            ReadingOf::SunDegree => "Sun's degree".to_owned(),
            ReadingOf::Ascendant => "ascendant".to_owned(),
            ReadingOf::Midheaven => "midheaven".to_owned(),
            ReadingOf::Cusp(house) => format!("cusp {house}"),
            ReadingOf::Found(quantity) => quantity.to_string(),
        }
    }

    /// The name under which it is given.
    pub(crate) fn key(self) -> String {
        match self {
            ReadingOf::LocalTime => "local-time".to_owned(),
            ReadingOf::SunDegree => "sun-degree".to_owned(),
            ReadingOf::Ascendant => "ascendant".to_owned(),
            ReadingOf::Midheaven => "midheaven".to_owned(),
            ReadingOf::Cusp(house) => house.to_string(),
            ReadingOf::Found(quantity) => quantity.name(),
        }
    }

    pub(crate) fn measure(self) -> Measure {
        match self {
            ReadingOf::LocalTime => Measure::TimeOfDay,
            ReadingOf::SunDegree
            | ReadingOf::Ascendant
            | ReadingOf::Midheaven
            | ReadingOf::Cusp(_) => Measure::Degree,
            ReadingOf::Found(quantity) => quantity.measure(),
        }
    }

    /// The value as answers carry it: a local time from midnight.
    pub(crate) fn number(self, value: Value) -> f64 {
        match (self, value) {
            (ReadingOf::LocalTime, Value::TimeOfDay(hour)) => {
                (hour + Angle::HALF_TURN).in_turn().deg()
            }
            _ => in_range(value),
        }
    }
}

pub(crate) fn quantity(by: Procedure, what: ReadingOf) -> Quantity {
    match what {
        ReadingOf::LocalTime => Quantity::HourForRule,
        ReadingOf::SunDegree => Quantity::SunDegree,
        ReadingOf::Ascendant => Quantity::Ascendant,
        ReadingOf::Midheaven => Quantity::Midheaven,
        ReadingOf::Cusp(house) => by.quantity(house),
        ReadingOf::Found(quantity) => quantity,
    }
}

/// Whether it is a cusp that is had as the opposite of what is read.
pub(crate) fn is_opposite(by: Procedure, what: ReadingOf) -> bool {
    match what {
        ReadingOf::Cusp(house) => by.cusp_from(house).opposite,
        ReadingOf::LocalTime
        | ReadingOf::SunDegree
        | ReadingOf::Ascendant
        | ReadingOf::Midheaven
        | ReadingOf::Found(_) => false,
    }
}

/// From what is read to what is had by it, and back.
pub(crate) fn own_or_opposite(by: Procedure, what: ReadingOf, value: Value) -> Value {
    if is_opposite(by, what) {
        value.opposite()
    } else {
        value
    }
}

/// What a figure's reading is of, and its value.
///
/// # Errors
/// When there is no such thing to read, or the value is none.
pub(crate) fn given(what: &str, value: &str) -> Result<GivenReading, Refusal> {
    let name = what.trim();
    let lower = name.to_lowercase();
    let found = match lower.as_str() {
        "local-time" => Some(ReadingOf::LocalTime),
        "sun-degree" => Some(ReadingOf::SunDegree),
        "ascendant" => Some(ReadingOf::Ascendant),
        "midheaven" => Some(ReadingOf::Midheaven),
        _ => House::from_roman(name).map(ReadingOf::Cusp),
    };
    let what = found.ok_or_else(|| {
        Refusal::new(
            Field::Read,
            format!(
                "{} is nothing to read; local-time, sun-degree, ascendant, midheaven or a house from I to XII would do",
                quoted(what)
            ),
        )
    })?;
    given_of(what, name, value)
}

/// A value of a thing as it is written.
pub(crate) fn given_of(what: ReadingOf, name: &str, value: &str) -> Result<GivenReading, Refusal> {
    let wrong = |kind: &str, example: &str| {
        Refusal::new(
            Field::Read,
            format!("{} is no {kind}; {example} would do", quoted(value)),
        )
        .of(name)
    };
    let said_minutes = value.contains(['′', '\'', '’', '.']);
    let whole = |deg: f64| (deg - deg.round()).abs() < 1e-9 && !said_minutes;
    let fine = |deg: f64| if whole(deg) { 1.0 } else { 1.0 / 60.0 };
    // The number in its own unit, and to what it is written.
    let (number, written_to) = match what.measure() {
        Measure::TimeOfDay => {
            let time = time_of_day(value).ok_or_else(|| wrong("time of day", "6:49"))?;
            ((time - Angle::HALF_TURN).deg(), 0.25)
        }
        Measure::Degree => {
            let mut signs = Sign::ALL.into_iter();
            let alone = signs.find(|sign| sign.name().eq_ignore_ascii_case(value.trim()));
            if let Some(sign) = alone {
                ((sign.begins() + SIGN / 2.0).deg(), SIGN.deg())
            } else {
                let degree: Zodiacal =
                    value.trim().parse().map_err(|error: sky::ZodiacalError| {
                        Refusal::new(Field::Read, format!("{name}: {error}")).of(name)
                    })?;
                (degree.0.deg(), fine(degree.0.deg()))
            }
        }
        // As answers say it: `177°48′ (11 h 51 m)`.
        Measure::Arc => match (degrees(before_bracket(value)), length_of_time(value)) {
            (Some(deg), _) => (deg, fine(deg)),
            (None, Some(time)) => (time.deg(), 0.25),
            (None, None) => return Err(wrong("arc of the limb", "112°30′, or 7 h 30 m,")),
        },
        Measure::Height | Measure::Azimuth => {
            let said = value.trim().strip_suffix("from north by east");
            let number = said.map_or(value, str::trim_end);
            let deg = degrees(number).ok_or_else(|| wrong("number of degrees", "32°30′"))?;
            (deg, fine(deg))
        }
        Measure::UnequalHours => {
            let hours = unequal_hours(value).ok_or_else(|| {
                wrong(
                    "number of unequal hours",
                    "3.4 by day, or 15.4 for three and four tenths of the night,",
                )
            })?;
            (hours, 0.1)
        }
        Measure::Points | Measure::Length => {
            let number = degrees(value).ok_or_else(|| wrong("number", "60 or 42.5"))?;
            (number, if whole(number) { 1.0 } else { 0.1 })
        }
    };
    Ok(GivenReading {
        what,
        value: what.measure().value(number),
        written_to: what.measure().amount(written_to),
    })
}

/// What stands before a bracket, or the whole where there is none.
fn before_bracket(text: &str) -> &str {
    match text.split_once('(') {
        Some((before, rest)) if rest.trim_end().ends_with(')') => before.trim_end(),
        _ => text,
    }
}

/// `15.4`, or as answers say it, `3.4 unequal hours of the night`: counted on from 12 by night.
fn unequal_hours(text: &str) -> Option<f64> {
    let said = |part: &str| {
        let before = text.trim().strip_suffix(part)?.trim_end();
        before
            .strip_suffix("unequal hours")
            .or(before.strip_suffix("unequal hour"))
    };
    let (number, most, from) = if let Some(number) = said("of the day") {
        (number, 12.0, 0.0)
    } else if let Some(number) = said("of the night") {
        (number, 12.0, 12.0)
    } else {
        (text, 24.0, 0.0)
    };
    let hours = degrees(number.trim_end())?;
    (0.0..=most).contains(&hours).then_some(from + hours)
}

/// `7 h 30 m` or `7:30`: hours of any number with their minutes.
fn length_of_time(text: &str) -> Option<Angle> {
    text.contains(['h', ':', 'm'])
        .then(|| time_of_day(text))
        .flatten()
}

/// `6:49` or `6 h 49 m`, as an angle from midnight.
fn time_of_day(text: &str) -> Option<Angle> {
    let parts: Vec<f64> = text
        .trim()
        .split([':', ' ', 'h', 'm'])
        .filter(|part| !part.is_empty())
        .map(str::parse)
        .collect::<Result<_, _>>()
        .ok()?;
    let (hours, minutes) = match *parts.as_slice() {
        [hours] => (hours, 0.0),
        [hours, minutes] => (hours, minutes),
        _ => return None,
    };
    let fits = (0.0..24.0).contains(&hours) && (0.0..60.0).contains(&minutes);
    fits.then(|| Angle::from_hours(hours + minutes / 60.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twelve by day and twelve by night, those of the night counted on.
    #[test]
    fn unequal_hours_are_twelve_by_day_and_twelve_by_night() {
        for (text, hours) in [
            ("15.4", Some(15.4)),
            ("24", Some(24.0)),
            ("24.5", None),
            ("1 unequal hour of the day", Some(1.0)),
            ("12 unequal hours of the day", Some(12.0)),
            ("13 unequal hours of the day", None),
            ("3.5 unequal hours of the night", Some(15.5)),
            ("13 unequal hours of the night", None),
            ("-1", None),
            ("3 equal hours of the day", None),
        ] {
            assert_eq!(unequal_hours(text), hours, "{text}");
        }
    }
}
