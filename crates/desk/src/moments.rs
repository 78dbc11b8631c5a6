use std::collections::BTreeMap;

use moment::{CivilTime, When};
use practice::Task;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{FindingAnswer, InstrumentAnswer, PlaceAnswer};
use crate::cabinet::Cabinet;
use crate::casting::Casting;
use crate::refusal::Refusal;
use crate::request::CastRequest;
use crate::request_work::WorkRequest;
use crate::work::Work;

/// What is asked of a position of the rete: through which moments of the year it goes.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct MomentsRequest {
    /// The case: place, instrument, and the day with which the year begins.
    pub moment: CastRequest,
    /// The degree on the eastern horizon, such as `11 Pisces`: it says how the rete stands.
    pub ascendant: String,
}

/// When, in a year, the rete stands so.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MomentsAnswer {
    /// The place.
    pub place: PlaceAnswer,
    /// The instrument.
    pub instrument: InstrumentAnswer,
    /// One row for every tenth day.
    pub days: Vec<MomentsOfDay>,
}

/// When the rete stands so on a day.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MomentsOfDay {
    /// The date by the Sun, in the clock's calendar. What the clock shows has a date of its
    /// own: [`FindingAnswer::clock_date`].
    pub date: String,
    /// When the degree rises: once a day; on the one in the year that has two, the one
    /// nearer noon by the clock.
    pub rising: FindingAnswer,
}

/// Goes through a year in steps of ten days: the rete stays with a degree on the
/// eastern horizon, and the rule laid over each day's Sun tells the hour.
///
/// # Errors
/// When the request cannot be understood.
pub fn moments(
    request: &MomentsRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<MomentsAnswer, Refusal> {
    let first = Casting::of(&request.moment, cabinet, now_unix_s)?;
    let rises = WorkRequest {
        told: BTreeMap::from([("degree".to_owned(), request.ascendant.clone())]),
        ..WorkRequest::default()
    };
    let days = (0..37_u8).map(|tenth| {
        let first_day = first.moment.local_mean_time();
        let date = first_day.plus_seconds(f64::from(tenth) * 864_000.0).date;
        let noon = When::clock_shows(CivilTime::noon_of(date));
        let casting = first.at(noon)?;
        let answer = Work::of_case(Task::DegreeUp, casting, &rises)?.answer()?;
        let rising = answer.findings.into_iter().next();
        Ok(rising.map(|rising| MomentsOfDay {
            date: date.to_string(),
            rising,
        }))
    });
    let days: Vec<Option<MomentsOfDay>> = days.collect::<Result<_, Refusal>>()?;
    Ok(MomentsAnswer {
        place: PlaceAnswer::of(first.moment.place()),
        instrument: InstrumentAnswer::of(&first.instrument, first.latitude()),
        days: days.into_iter().flatten().collect(),
    })
}
