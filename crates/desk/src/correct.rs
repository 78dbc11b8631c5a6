use std::collections::BTreeMap;

use instrument::House;
use practice::words::{Degrees, OnEarth, Said};
use practice::{
    Corrected, Measure, Procedure, PupilReading, Quantity, casting, correct as corrected,
};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::{Angle, Zodiacal};

use crate::answer::{
    CorrectAnswer, CorrectReading, ExplanationAnswer, InstrumentAnswer, MomentAnswer, PlaceAnswer,
    PlateFitAnswer, SlipAnswer,
};
use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::CastRequest;

/// What is asked when readings are to be corrected.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct CorrectRequest {
    /// The case: moment, place, instrument and procedure; its own `read` is not used.
    pub moment: CastRequest,
    /// The readings: `local-time` (`6:49`), `sun-degree`, `ascendant`, `midheaven`
    /// or a house's numeral, to a value such as `11°30′ Pisces`. A degree without
    /// minutes counts as read to the degree.
    pub read: BTreeMap<String, String>,
    /// Whether the readings are a figure from a printout or a book: then the
    /// instrument does not matter, and method, clock, calendar and latitude are
    /// looked for that would give it.
    pub figure: bool,
}

/// A reading as it was given.
pub(crate) struct GivenReading {
    pub(crate) what: What,
    pub(crate) value: Angle,
    pub(crate) written_to: Angle,
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum What {
    LocalTime,
    SunDegree,
    Cusp(House),
}

impl What {
    pub(crate) fn name(self) -> String {
        match self {
            What::LocalTime => "local time".to_owned(),
            What::SunDegree => "Sun's degree".to_owned(),
            What::Cusp(house) if house.number() == 1 => "ascendant".to_owned(),
            What::Cusp(house) if house.number() == 10 => "midheaven".to_owned(),
            What::Cusp(house) => format!("cusp {house}"),
        }
    }

    pub(crate) fn said(self, value: Angle) -> String {
        let measure = match self {
            What::LocalTime => Measure::TimeOfDay,
            What::SunDegree | What::Cusp(_) => Measure::Degree,
        };
        Said(measure, value).to_string()
    }

    /// Time of day from midnight, degrees of the zodiac.
    pub(crate) fn number(self, value: Angle) -> f64 {
        match self {
            What::LocalTime => (value + Angle::HALF_TURN).in_turn().deg(),
            What::SunDegree | What::Cusp(_) => value.in_turn().deg(),
        }
    }
}

/// Holds a pupil's readings, or a printed figure, against what should be.
///
/// # Errors
/// When the request cannot be understood, or nothing is read.
pub fn correct(
    request: &CorrectRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<CorrectAnswer, Refusal> {
    let casting = Casting::of(
        &CastRequest {
            read: BTreeMap::new(),
            ..request.moment.clone()
        },
        cabinet,
        now_unix_s,
    )?;
    let readings: Vec<GivenReading> = request
        .read
        .iter()
        .map(|(what, value)| given(what, value))
        .collect::<Result<_, _>>()?;
    if readings.is_empty() {
        return Err(Refusal::new(
            Field::Read,
            "nothing is read; ascendant=\"11 Pisces\" would do, and cusps beside it",
        ));
    }
    if request.figure {
        return crate::printed::explained(request, &casting, &readings, cabinet, now_unix_s);
    }
    if !serves(&casting.instrument, casting.latitude()) {
        return Err(Refusal::new(
            Field::With,
            format!(
                "{} does not serve this place; an instrument of the other hemisphere would do",
                casting.instrument.specification().name
            ),
        ));
    }
    Ok(pupils(&casting, &readings))
}

fn pupils(casting_of: &Casting, readings: &[GivenReading]) -> CorrectAnswer {
    let by = casting_of.by;
    let operation = casting(&casting_of.instrument, &[by]);
    let asked: Vec<PupilReading> = readings
        .iter()
        .map(|reading| PupilReading {
            quantity: quantity(by, reading.what),
            value: reading.value + turned(by, reading.what),
            written_to: reading.written_to,
        })
        .collect();
    let found = corrected(&operation, &casting_of.actual(), &asked);
    let answers: Vec<CorrectReading> = readings
        .iter()
        .zip(&found.right)
        .map(|(reading, right)| {
            let right = right.map(|(value, within)| (value - turned(by, reading.what), within));
            CorrectReading::of(reading, right)
        })
        .collect();
    let explanations: Vec<ExplanationAnswer> = found
        .explanations
        .iter()
        .map(|one| ExplanationAnswer {
            rank: one.rank,
            slips: one
                .slips
                .iter()
                .map(|slip| SlipAnswer {
                    name: slip.name().to_owned(),
                    words: slip.words().to_owned(),
                    mend: slip.mend().to_owned(),
                })
                .collect(),
            misfit: one.misfit,
            weight: one.weight,
            shows_deg: readings
                .iter()
                .zip(&one.shows)
                .map(|(reading, shown)| {
                    let turned = turned(by, reading.what);
                    shown.map(|shown| reading.what.number(shown - turned))
                })
                .collect(),
        })
        .collect();
    let (verdict, mut sentence) = verdict(found.fits, &explanations);
    let plate = plate_fit(casting_of, readings, &found);
    if let (Some(plate), "right") = (&plate, verdict) {
        sentence.push(' ');
        sentence.push_str(&plate.sentence);
    }
    CorrectAnswer {
        moment: MomentAnswer::of(&casting_of.moment),
        place: PlaceAnswer::of(&casting_of.moment.place),
        instrument: Some(InstrumentAnswer::of(
            &casting_of.instrument,
            casting_of.latitude(),
        )),
        by: Some(by.name()),
        readings: answers,
        verdict,
        sentence,
        plate,
        explanations,
    }
}

/// How badly the plate fits, where it moves a reading further than hand and eye can tell.
fn plate_fit(
    casting_of: &Casting,
    readings: &[GivenReading],
    found: &Corrected,
) -> Option<PlateFitAnswer> {
    let actual = casting_of.actual();
    let moved = |(index, by): (usize, &Option<Angle>)| {
        let (_, within) = (*found.right.get(index)?)?;
        let by = (*by)?;
        (by.abs() > within).then_some((readings.get(index)?, by))
    };
    let (reading, by) = found
        .by_plate
        .iter()
        .enumerate()
        .filter_map(moved)
        .max_by(|(_, a), (_, b)| a.abs().deg().total_cmp(&b.abs().deg()))?;
    let way = if by < Angle::ZERO { "back" } else { "on" };
    Some(PlateFitAnswer {
        off_deg: actual.plate.deg() - casting_of.latitude().deg(),
        moves_deg: found.by_plate.iter().map(|by| by.map(Angle::deg)).collect(),
        sentence: format!(
            "The plate for {} fits this latitude, {}, badly: it puts the {} {} further {way}.",
            OnEarth(actual.plate),
            OnEarth(casting_of.latitude()),
            reading.what.name(),
            Degrees(by)
        ),
    })
}

/// What the explanations come to.
pub(crate) fn verdict(fits: bool, explanations: &[ExplanationAnswer]) -> (&'static str, String) {
    let first: Vec<&ExplanationAnswer> = explanations.iter().filter(|one| one.rank == 1).collect();
    match first.as_slice() {
        _ if !fits => (
            "unexplained",
            "Nothing that is known here, nor any two things together, explains these readings."
                .to_owned(),
        ),
        [] => ("unexplained", "There is nothing to go by.".to_owned()),
        [one, ..] if one.slips.is_empty() => (
            "right",
            "The readings are right, within what the instrument allows.".to_owned(),
        ),
        several => {
            let each: Vec<String> = several
                .iter()
                .map(|one| {
                    let words: Vec<&str> =
                        one.slips.iter().map(|slip| slip.words.as_str()).collect();
                    words.join(" And: ")
                })
                .collect();
            ("slips", each.join(" Or, with the same readings: "))
        }
    }
}

impl CorrectReading {
    pub(crate) fn of(reading: &GivenReading, right: Option<(Angle, Angle)>) -> CorrectReading {
        let what = reading.what;
        let difference = right.map(|(should, _)| should.to(reading.value));
        CorrectReading {
            what: what.name(),
            read_deg: what.number(reading.value),
            read_text: what.said(reading.value),
            should_deg: right.map(|(should, _)| what.number(should)),
            should_text: right.map(|(should, _)| what.said(should)),
            within_deg: right.map(|(_, within)| within.deg()),
            difference_deg: difference.map(Angle::deg),
            right: right
                .zip(difference)
                .is_some_and(|((_, within), difference)| difference.abs() <= within),
        }
    }
}

fn quantity(by: Procedure, what: What) -> Quantity {
    match what {
        What::LocalTime => Quantity::HourForRule,
        What::SunDegree => Quantity::SunDegree,
        What::Cusp(house) => by.quantity(house),
    }
}

/// Half a turn where the cusp is had as an opposite.
fn turned(by: Procedure, what: What) -> Angle {
    match what {
        What::Cusp(house) if by.cusp_from(house).opposite => Angle::HALF_TURN,
        _ => Angle::ZERO,
    }
}

fn given(what: &str, value: &str) -> Result<GivenReading, Refusal> {
    let name = what.trim();
    let lower = name.to_lowercase();
    let house = |number| House::new(number).map(What::Cusp);
    let found = match lower.as_str() {
        "local-time" => Some(What::LocalTime),
        "sun-degree" => Some(What::SunDegree),
        "ascendant" => house(1),
        "midheaven" => house(10),
        _ => House::ALL
            .into_iter()
            .find(|house| house.numeral().eq_ignore_ascii_case(name))
            .map(What::Cusp),
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
    if what == What::LocalTime {
        let time = time_of_day(value).ok_or_else(|| {
            Refusal::new(
                Field::Read,
                format!("{} is no time of day; 6:49 would do", quoted(value)),
            )
            .of(name)
        })?;
        return Ok(GivenReading {
            what,
            value: time - Angle::HALF_TURN,
            written_to: Angle::from_deg(0.25),
        });
    }
    let degree: Zodiacal = value.trim().parse().map_err(|error: sky::ZodiacalError| {
        Refusal::new(Field::Read, format!("{name}: {error}")).of(name)
    })?;
    let whole = (degree.0.deg() - degree.0.deg().round()).abs() < 1e-9;
    let said_minutes = value.contains(['′', '\'', '’', '.']);
    Ok(GivenReading {
        what,
        value: degree.0,
        written_to: if whole && !said_minutes {
            Angle::from_deg(1.0)
        } else {
            Angle::from_arcmin(1.0)
        },
    })
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
