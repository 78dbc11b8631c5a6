use std::collections::BTreeMap;

use practice::{Amount, Corrected, PupilReading, ReadingVerdict, correct as corrected, marked};
use schemars::JsonSchema;
use serde::Deserialize;
use words::{Difference, NorthOrSouth};

use crate::answer::{
    CorrectAnswer, CorrectReading, ExplanationAnswer, InstrumentAnswer, JudgedAnswer, MomentAnswer,
    PlaceAnswer, PlateFitAnswer, SlipAnswer, amount_deg,
};
use crate::cabinet::{Cabinet, refuse_other_hemisphere};
use crate::casting::Casting;
use crate::given_reading::{GivenReading, given, own_or_opposite, quantity};
use crate::judging::{told, verdict};
use crate::posed_question::PosedQuestion;
use crate::printed::explained;
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;

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
        return explained(&request.moment, &casting, &readings, now_unix_s);
    }
    refuse_other_hemisphere(&casting.instrument, casting.latitude())?;
    let asking = PosedQuestion::of_cast(casting);
    let judged = judged(&asking, &readings);
    Ok(CorrectAnswer::of(&asking, judged))
}

impl CorrectAnswer {
    pub(crate) fn of(asking: &PosedQuestion, judged: JudgedAnswer) -> CorrectAnswer {
        let casting = &asking.casting;
        CorrectAnswer {
            moment: MomentAnswer::of(&casting.moment),
            place: PlaceAnswer::of(casting.moment.place()),
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
pub(crate) fn judged(asking: &PosedQuestion, readings: &[GivenReading]) -> JudgedAnswer {
    let by = asking.casting.by;
    let asked: Vec<PupilReading> = readings.iter().map(|reading| reading.asked(by)).collect();
    let found = corrected(&asking.operation, &asking.actual, &asked);
    let mut marks = marked(&asking.operation, &asking.ideal, &asking.actual, &asked);
    if found.is_right() {
        // No slip, and yet further off than hand and eye should be.
        for one in marks
            .iter_mut()
            .filter(|one| one.mark == ReadingVerdict::Wrong)
        {
            one.mark = ReadingVerdict::Rough;
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

/// How badly the plate fits, where it moves a reading further than hand and eye can tell.
fn plate_fit(
    asking: &PosedQuestion,
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
            NorthOrSouth(actual.plate),
            NorthOrSouth(place),
            reading.what.name(),
            Difference(by)
        ),
    })
}
