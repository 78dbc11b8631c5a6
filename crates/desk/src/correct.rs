use std::collections::BTreeMap;

use instrument::House;
use practice::{
    Amount, Corrected, Mark, Marked, Measure, Procedure, PupilReading, Quantity, Value,
    correct as corrected, marked, off,
};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::{Angle, Sign, Zodiacal};
use words::{Difference, OnEarth, Said};

use crate::answer::{
    CorrectAnswer, CorrectReading, ExplanationAnswer, InstrumentAnswer, JudgedAnswer, MomentAnswer,
    PlaceAnswer, PlateFitAnswer, SlipAnswer, amount_deg, in_range, reads_to_text,
};
use crate::asking::Asking;
use crate::cabinet::{Cabinet, refuse_other_hemisphere};
use crate::casting::Casting;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::CastRequest;
use crate::work_texts::degrees;

/// What is asked when readings are to be corrected.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct CorrectRequest {
    /// The case: moment, place, instrument and procedure; its own `read` is not used.
    pub moment: CastRequest,
    /// The readings: `local-time` (`6:49`), `sun-degree`, `ascendant`, `midheaven`
    /// or a house's numeral, to a value such as `11°30′ Pisces`. A degree without
    /// minutes counts as read to the degree, `Pisces` as somewhere in the sign.
    pub read: BTreeMap<String, String>,
    /// Whether the readings are a figure from a printout or a book: then the
    /// instrument does not matter, and method, clock, calendar and latitude are
    /// looked for that would give it.
    pub figure: bool,
}

/// A reading as it was given.
#[derive(Clone, Copy, Debug)]
pub(crate) struct GivenReading {
    pub(crate) what: What,
    pub(crate) value: Value,
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
    fn asked(&self, by: Procedure) -> PupilReading {
        PupilReading {
            quantity: quantity(by, self.what),
            value: own_or_opposite(by, self.what, self.value),
            written_to: self.written_to,
        }
    }

    fn said(&self) -> String {
        match self.value {
            Value::Degree(degree) if self.is_sign_alone() => {
                Zodiacal(degree).sign().name().to_owned()
            }
            value => Said(value).to_string(),
        }
    }
}

/// What is read. The angles are no cusps: by some methods the first house begins
/// elsewhere than with the ascendant, and the tenth elsewhere than at the midheaven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    LocalTime,
    SunDegree,
    Ascendant,
    Midheaven,
    Cusp(House),
    /// What an operation of the treatise finds.
    Found(Quantity),
}

impl What {
    pub(crate) fn name(self) -> String {
        match self {
            What::LocalTime => "local time".to_owned(),
            What::SunDegree => "Sun's degree".to_owned(),
            What::Ascendant => "ascendant".to_owned(),
            What::Midheaven => "midheaven".to_owned(),
            What::Cusp(house) => format!("cusp {house}"),
            What::Found(quantity) => quantity.to_string(),
        }
    }

    /// The name under which it is given.
    pub(crate) fn key(self) -> String {
        match self {
            What::LocalTime => "local-time".to_owned(),
            What::SunDegree => "sun-degree".to_owned(),
            What::Ascendant => "ascendant".to_owned(),
            What::Midheaven => "midheaven".to_owned(),
            What::Cusp(house) => house.to_string(),
            What::Found(quantity) => quantity.name(),
        }
    }

    pub(crate) fn measure(self) -> Measure {
        match self {
            What::LocalTime => Measure::TimeOfDay,
            What::SunDegree | What::Ascendant | What::Midheaven | What::Cusp(_) => Measure::Degree,
            What::Found(quantity) => quantity.measure(),
        }
    }

    /// The value as answers carry it: a local time from midnight.
    pub(crate) fn number(self, value: Value) -> f64 {
        match (self, value) {
            (What::LocalTime, Value::TimeOfDay(hour)) => (hour + Angle::HALF_TURN).in_turn().deg(),
            _ => in_range(value),
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
    refuse_other_hemisphere(&casting.instrument, casting.latitude())?;
    let asking = Asking::of_cast(casting);
    let judged = judged(&asking, &readings);
    Ok(CorrectAnswer::of(&asking, judged))
}

impl CorrectAnswer {
    pub(crate) fn of(asking: &Asking, judged: JudgedAnswer) -> CorrectAnswer {
        let casting = &asking.casting;
        CorrectAnswer {
            moment: MomentAnswer::of(&casting.moment),
            place: PlaceAnswer::of(&casting.moment.place),
            instrument: Some(InstrumentAnswer::of(
                &casting.instrument,
                casting.latitude(),
            )),
            by: asking.is_cast().then(|| casting.by.name()),
            judged,
        }
    }
}

/// Readings of a question held against what should be.
pub(crate) fn judged(asking: &Asking, readings: &[GivenReading]) -> JudgedAnswer {
    let by = asking.casting.by;
    let asked: Vec<PupilReading> = readings.iter().map(|reading| reading.asked(by)).collect();
    let found = corrected(&asking.operation, &asking.actual, &asked);
    let mut marks = marked(&asking.operation, &asking.ideal, &asking.actual, &asked);
    if found.is_right() {
        // No slip, and yet further off than hand and eye should be.
        for one in marks.iter_mut().filter(|one| one.mark == Mark::Wrong) {
            one.mark = Mark::Rough;
        }
    }
    let answers: Vec<CorrectReading> = readings
        .iter()
        .zip(&marks)
        .map(|(reading, marked)| CorrectReading::marked(reading, marked, by))
        .collect();
    let explanations: Vec<ExplanationAnswer> = found
        .explanations
        .iter()
        .map(|one| {
            let shows = readings.iter().zip(&one.shows).map(|(reading, shown)| {
                let own = |shown| own_or_opposite(by, reading.what, shown);
                (reading.what, shown.map(own))
            });
            let (shows_deg, shows_text) = told(shows);
            ExplanationAnswer {
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
                shows_deg,
                shows_text,
            }
        })
        .collect();
    let (verdict, mut sentence) = verdict(found.fits, &explanations, &answers);
    let plate = plate_fit(asking, readings, &found);
    if let (Some(plate), "right") = (&plate, verdict) {
        sentence.push(' ');
        sentence.push_str(&plate.sentence);
    }
    JudgedAnswer {
        readings: answers,
        verdict,
        sentence,
        plate,
        explanations,
    }
}

/// Values as numbers and in words.
pub(crate) fn told(
    values: impl Iterator<Item = (What, Option<Value>)>,
) -> (Vec<Option<f64>>, Vec<Option<String>>) {
    values
        .map(|(what, value)| {
            (
                value.map(|one| what.number(one)),
                value.map(|one| Said(one).to_string()),
            )
        })
        .unzip()
}

/// How badly the plate fits, where it moves a reading further than hand and eye can tell.
fn plate_fit(
    asking: &Asking,
    readings: &[GivenReading],
    found: &Corrected,
) -> Option<PlateFitAnswer> {
    let (actual, place) = (&asking.actual, asking.casting.latitude());
    let hand = practice::within(&asking.operation, actual);
    let moved = |(index, by): (usize, &Option<Amount>)| {
        let reading = readings.get(index)?;
        let quantity = quantity(asking.casting.by, reading.what);
        let by = (*by)?;
        (by.number().abs() > hand.get(&quantity)?.number()).then_some((reading, by))
    };
    let (reading, by) = found
        .by_plate
        .iter()
        .enumerate()
        .filter_map(moved)
        .max_by(|(_, a), (_, b)| a.number().abs().total_cmp(&b.number().abs()))?;
    let way = if by.number() < 0.0 { "back" } else { "on" };
    Some(PlateFitAnswer {
        off_deg: actual.plate.deg() - place.deg(),
        moves_deg: found.by_plate.iter().map(|by| by.map(amount_deg)).collect(),
        sentence: format!(
            "The plate for {} fits this latitude, {}, badly: it puts the {} {} further {way}.",
            OnEarth(actual.plate),
            OnEarth(place),
            reading.what.name(),
            Difference(by)
        ),
    })
}

/// What the explanations come to.
pub(crate) fn verdict(
    fits: bool,
    explanations: &[ExplanationAnswer],
    readings: &[CorrectReading],
) -> (&'static str, String) {
    let first: Vec<&ExplanationAnswer> = explanations.iter().filter(|one| one.rank == 1).collect();
    match first.as_slice() {
        _ if !fits => no_slip_fits(readings),
        [] => ("unexplained", "There is nothing to go by.".to_owned()),
        [one, ..] if one.slips.is_empty() => ("right", right_words(readings)),
        several => {
            let each: Vec<String> = several
                .iter()
                .map(|one| {
                    let words: Vec<&str> =
                        one.slips.iter().map(|slip| slip.words.as_str()).collect();
                    words.join(" And: ")
                })
                .collect();
            let sentence = match each.as_slice() {
                [one] => one.clone(),
                several => {
                    let number = match several.len() {
                        2 => "two",
                        3 => "three",
                        _ => "several",
                    };
                    format!(
                        "One of these {number}, for they give the same readings: {}",
                        several.join(" Or: ")
                    )
                }
            };
            ("slips", sentence)
        }
    }
}

/// Where no slip explains the readings: whether one of them does.
fn no_slip_fits(readings: &[CorrectReading]) -> (&'static str, String) {
    let of_mark = |mark: Mark| readings.iter().filter(move |one| one.mark == mark.name());
    let mut wrong = of_mark(Mark::Wrong);
    match (wrong.next(), wrong.next()) {
        (Some(one), None) if of_mark(Mark::Follows).next().is_some() => (
            "follows",
            format!(
                "The {} is wrong, for no reason that is known here; what follows from it is right.",
                one.what
            ),
        ),
        _ => (
            "unexplained",
            "Nothing that is known here, nor any two things together, explains these readings."
                .to_owned(),
        ),
    }
}

/// What is said where nothing was done wrong.
fn right_words(readings: &[CorrectReading]) -> String {
    let rough = readings.iter().filter(|one| one.mark == Mark::Rough.name());
    let times = rough.filter_map(|one| Some(one.difference_deg?.abs() / one.within_deg?));
    let most = times.fold(0.0, f64::max);
    if most == 0.0 {
        return "The readings are right, within what the instrument allows.".to_owned();
    }
    format!(
        "No slip was made; the hand is rough, up to {most:.1} times as far off as the instrument allows. Set and read more slowly."
    )
}

impl CorrectReading {
    /// What was read, held against nothing yet.
    pub(crate) fn read(reading: &GivenReading) -> CorrectReading {
        let what = reading.what;
        CorrectReading {
            what: what.name(),
            measure: what.measure().name(),
            read_deg: what.number(reading.value),
            read_text: reading.said(),
            should_deg: None,
            should_text: None,
            within_deg: None,
            within_text: None,
            follows_deg: None,
            follows_text: None,
            difference_deg: None,
            mark: Mark::Wrong.name(),
        }
    }

    /// Held against what should be read, right within a tolerance.
    pub(crate) fn against(
        reading: &GivenReading,
        should: Value,
        tolerance: Amount,
        mark: Mark,
    ) -> CorrectReading {
        let what = reading.what;
        CorrectReading {
            should_deg: Some(what.number(should)),
            should_text: Some(Said(should).to_string()),
            within_deg: Some(amount_deg(tolerance)),
            within_text: reads_to_text(tolerance),
            difference_deg: Some(amount_deg(off(reading.value, reading.written_to, should))),
            mark: mark.name(),
            ..CorrectReading::read(reading)
        }
    }

    fn marked(reading: &GivenReading, marked: &Marked, by: Procedure) -> CorrectReading {
        let what = reading.what;
        let own = |value| own_or_opposite(by, what, value);
        let follows = marked.follows.map(own);
        let held = match marked.should {
            Some(should) => {
                CorrectReading::against(reading, own(should), marked.tolerance, marked.mark)
            }
            None => CorrectReading::read(reading),
        };
        CorrectReading {
            follows_deg: follows.map(|follows| what.number(follows)),
            follows_text: follows.map(|follows| Said(follows).to_string()),
            ..held
        }
    }
}

pub(crate) fn quantity(by: Procedure, what: What) -> Quantity {
    match what {
        What::LocalTime => Quantity::HourForRule,
        What::SunDegree => Quantity::SunDegree,
        What::Ascendant => Quantity::Ascendant,
        What::Midheaven => Quantity::Midheaven,
        What::Cusp(house) => by.quantity(house),
        What::Found(quantity) => quantity,
    }
}

/// Whether it is a cusp that is had as the opposite of what is read.
pub(crate) fn is_opposite(by: Procedure, what: What) -> bool {
    match what {
        What::Cusp(house) => by.cusp_from(house).opposite,
        What::LocalTime | What::SunDegree | What::Ascendant | What::Midheaven | What::Found(_) => {
            false
        }
    }
}

/// From what is read to what is had by it, and back.
pub(crate) fn own_or_opposite(by: Procedure, what: What, value: Value) -> Value {
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
        "local-time" => Some(What::LocalTime),
        "sun-degree" => Some(What::SunDegree),
        "ascendant" => Some(What::Ascendant),
        "midheaven" => Some(What::Midheaven),
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
    given_of(what, name, value)
}

/// A value of a thing as it is written.
pub(crate) fn given_of(what: What, name: &str, value: &str) -> Result<GivenReading, Refusal> {
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
