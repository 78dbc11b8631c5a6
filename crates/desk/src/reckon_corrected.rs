//! A person's own sheet, corrected.

use std::collections::BTreeMap;

use ::tables::pen::{Corrected, Held, NumberVerdict, Quantity, Reading, Slip, correct};
use figure::House;
use practice::{Amount, Value};
use sky::{Angle, Body, Zodiacal};
use words::Fineness;

use crate::answer::{CorrectReading, ExplanationAnswer, JudgedAnswer, SlipAnswer};
use crate::given_reading::{ReadingOf, given_of};
use crate::judging::verdict;
use crate::reckon_case::Case;
use crate::refusal::{Field, Refusal, quoted};
use crate::tables::refused;

/// The name under which something on a sheet is given.
pub(crate) fn key(quantity: Quantity) -> String {
    match quantity {
        Quantity::SiderealTime => "sidereal-time".to_owned(),
        Quantity::Ascendant => "ascendant".to_owned(),
        Quantity::Midheaven => "midheaven".to_owned(),
        Quantity::Cusp(house) => house.to_string(),
        Quantity::Place(body) => body.name().to_lowercase(),
        Quantity::Fortune => "fortune".to_owned(),
    }
}

/// What it is called.
pub(crate) fn called(quantity: Quantity) -> String {
    match quantity {
        Quantity::SiderealTime => "local sidereal time".to_owned(),
        Quantity::Ascendant | Quantity::Midheaven => key(quantity),
        Quantity::Cusp(house) => format!("cusp {house}"),
        Quantity::Place(body) => body.name().to_owned(),
        Quantity::Fortune => "lot of Fortune".to_owned(),
    }
}

/// What kind of number it is, as in the findings of an operation.
pub(crate) const fn measure(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::SiderealTime => "time-of-day",
        Quantity::Ascendant
        | Quantity::Midheaven
        | Quantity::Cusp(_)
        | Quantity::Place(_)
        | Quantity::Fortune => "degree",
    }
}

/// A number as it is written: a sidereal time to the second.
pub(crate) fn said(quantity: Quantity, value: Angle) -> String {
    match quantity {
        Quantity::SiderealTime => {
            let hours = value.in_turn().hours();
            ::tables::Figure::written(::tables::Form::ClockToSecond, hours).to_string()
        }
        Quantity::Ascendant
        | Quantity::Midheaven
        | Quantity::Cusp(_)
        | Quantity::Place(_)
        | Quantity::Fortune => Zodiacal(value).to_string(),
    }
}

/// How far a number may be off, as it is said: of a time in seconds.
pub(crate) fn said_within(quantity: Quantity, within: Angle) -> String {
    match quantity {
        Quantity::SiderealTime => format!("{:.0} s", within.deg() * 240.0),
        Quantity::Ascendant
        | Quantity::Midheaven
        | Quantity::Cusp(_)
        | Quantity::Place(_)
        | Quantity::Fortune => Fineness(Amount::Angle(within)).to_string(),
    }
}

fn named(name: &str) -> Option<Quantity> {
    let angles = [
        Quantity::SiderealTime,
        Quantity::Ascendant,
        Quantity::Midheaven,
        Quantity::Fortune,
    ];
    let houses = House::ALL.into_iter().map(Quantity::Cusp);
    let bodies = Body::ALL.into_iter().map(Quantity::Place);
    let mut all = angles.into_iter().chain(houses).chain(bodies);
    all.find(|one| key(*one).eq_ignore_ascii_case(name.trim()))
}

/// What a person found, understood.
///
/// # Errors
/// When something is no number of a sheet.
pub(crate) fn own_readings(read: &BTreeMap<String, String>) -> Result<Vec<Reading>, Refusal> {
    let each = read.iter().map(|(name, value)| {
        let quantity = named(name).ok_or_else(|| {
            Refusal::new(
                Field::Read,
                format!(
                    "{} is nothing that the sheet finds; sidereal-time, ascendant, midheaven, a \
                     house from I to XII, a planet or fortune would do",
                    quoted(name)
                ),
            )
        })?;
        reading(quantity, name.trim(), value)
    });
    each.collect()
}

/// A number of a sheet as it is written.
pub(crate) fn reading(quantity: Quantity, name: &str, value: &str) -> Result<Reading, Refusal> {
    if quantity == Quantity::SiderealTime {
        let (hours, to_s) = sidereal_time(value).ok_or_else(|| {
            let wrong = format!("{} is no sidereal time; 22:15:56 would do", quoted(value));
            Refusal::new(Field::Read, wrong).of(name)
        })?;
        return Ok(Reading {
            quantity,
            value: Angle::from_hours(hours),
            written_to: Angle::from_hours(to_s / 3600.0),
        });
    }
    // A longitude is written here as everywhere.
    let given = given_of(ReadingOf::Ascendant, name, value)?;
    match (given.value, given.written_to) {
        (Value::Degree(degree), Amount::Angle(written_to)) => Ok(Reading {
            quantity,
            value: degree,
            written_to,
        }),
        _ => Err(Refusal::new(
            Field::Read,
            format!("{} is no degree; 11°30′ Pisces would do", quoted(value)),
        )
        .of(name)),
    }
}

/// `22:15:56` or `22 h 15 m 56 s`, in hours, with the seconds it is written to.
fn sidereal_time(text: &str) -> Option<(f64, f64)> {
    let parts: Vec<f64> = text
        .trim()
        .split([':', ' ', 'h', 'm', 's'])
        .filter(|part| !part.is_empty())
        .map(str::parse)
        .collect::<Result<_, _>>()
        .ok()?;
    let (hours, minutes, seconds, to_s) = match *parts.as_slice() {
        [hours, minutes] => (hours, minutes, 0.0, 60.0),
        [hours, minutes, seconds] => (hours, minutes, seconds, 1.0),
        _ => return None,
    };
    let sixty = 0.0..60.0;
    let fits = (0.0..24.0).contains(&hours) && sixty.contains(&minutes) && sixty.contains(&seconds);
    fits.then_some((hours + minutes / 60.0 + seconds / 3600.0, to_s))
}

/// A person's numbers, held against the sheet.
///
/// # Errors
/// When the sheet cannot be worked.
pub(crate) fn judged_sheet(case: &Case, own: &[Reading]) -> Result<JudgedAnswer, Refusal> {
    let corrected = correct(&case.given, &case.hand, own).map_err(refused)?;
    let mut readings: Vec<CorrectReading> = own
        .iter()
        .zip(&corrected.held)
        .map(|(reading, held)| held_answer(reading, held))
        .collect();
    let explanations = explanations(own, &corrected);
    let (verdict, mut sentence) = verdict(corrected.fits, &explanations, &readings);
    if verdict == "right" {
        // No slip, and yet further off than rounding should be.
        let rough = readings
            .iter_mut()
            .filter(|one| one.mark == practice::ReadingVerdict::Wrong.name());
        let rough = rough
            .map(|one| one.mark = practice::ReadingVerdict::Rough.name())
            .count();
        let words = match rough {
            0 => "What was found is right, within what the tables allow.",
            _ => "No slip is found; something is rounded more roughly than the tables are printed.",
        };
        words.clone_into(&mut sentence);
    }
    Ok(JudgedAnswer {
        readings,
        verdict,
        sentence,
        plate: None,
        explanations,
    })
}

fn held_answer(reading: &Reading, held: &Held) -> CorrectReading {
    let quantity = reading.quantity;
    let text = |value: Angle| said(quantity, value);
    CorrectReading {
        what: called(quantity),
        measure: measure(quantity),
        read_deg: reading.value.in_turn().deg(),
        read_text: text(reading.value),
        should_deg: held.should.map(|should| should.in_turn().deg()),
        should_text: held.should.map(text),
        within_deg: Some(held.within.deg()),
        within_text: Some(said_within(quantity, held.within)),
        follows_deg: held.follows.map(|follows| follows.in_turn().deg()),
        follows_text: held.follows.map(text),
        difference_deg: held.should.map(|should| reading.off(should).deg()),
        mark: match held.mark {
            NumberVerdict::Right => practice::ReadingVerdict::Right,
            NumberVerdict::Follows => practice::ReadingVerdict::Follows,
            NumberVerdict::Wrong => practice::ReadingVerdict::Wrong,
        }
        .name(),
    }
}

fn explanations(own: &[Reading], corrected: &Corrected) -> Vec<ExplanationAnswer> {
    let each = corrected.explanations.iter().map(|one| {
        let shows = own.iter().zip(&one.shows);
        let (shows_deg, shows_text) = shows
            .map(|(reading, shown)| {
                (
                    shown.map(|shown| shown.in_turn().deg()),
                    shown.map(|shown| said(reading.quantity, shown)),
                )
            })
            .unzip();
        ExplanationAnswer {
            rank: one.rank,
            slips: one.slips.iter().map(slip_answer).collect(),
            misfit: one.misfit,
            weight: one.weight,
            shows_deg,
            shows_text,
        }
    });
    each.collect()
}

fn slip_answer(slip: &Slip) -> SlipAnswer {
    SlipAnswer {
        name: slip.kind.name().to_owned(),
        words: words::pen_slip(*slip),
        mend: words::pen_mend(slip.kind).to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sidereal_time_is_read_to_what_it_is_written_to() {
        let whole = 22.0 + 15.0 / 60.0;
        for (text, hours, to_s) in [
            ("22:15:56", whole + 56.0 / 3600.0, 1.0),
            ("22 h 15 m 56 s", whole + 56.0 / 3600.0, 1.0),
            (" 22:15 ", whole, 60.0),
            ("0:00:00", 0.0, 1.0),
        ] {
            assert_eq!(sidereal_time(text), Some((hours, to_s)), "{text}");
        }
        for text in [
            "", "22", "24:00", "22:60:00", "22:15:60", "-1:00", "1:2:3:4", "x",
        ] {
            assert_eq!(sidereal_time(text), None, "{text}");
        }
    }
}
