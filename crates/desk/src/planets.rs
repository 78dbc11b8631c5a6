use schemars::JsonSchema;
use serde::Deserialize;

use crate::answer::PlanetsAnswer;
use crate::moment::understood_place;
use crate::moment_texts::MomentTexts;
use crate::refusal::{Field, Refusal};

/// What is asked when the planets of a moment are wanted: texts, as a person gives them.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct PlanetsRequest {
    /// `YYYY-MM-DD HH:MM[:SS]`, or `now`; in Universal Time where no place, zone or
    /// clock is said.
    pub when: String,
    /// A town or coordinates; without a place nothing is said of the horizon.
    pub at: Option<String>,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// `zone` (unless said), `mean`, `sun`, or an offset such as `+01:00`.
    pub clock: Option<String>,
    /// `gregorian` or `julian`.
    pub calendar: Option<String>,
    /// `earlier` or `later`, where a clock time came twice or not at all.
    pub which: Option<String>,
}

/// Where the Sun, the Moon, the planets and the Moon's nodes are at a moment; with a
/// place, also where they stand there and when they rise, culminate and set on that
/// day. `now_unix_s` is the time now, for requests that say so.
///
/// # Errors
/// When the request cannot be understood, or the moment is beyond the ephemeris.
pub fn planets(
    request: &PlanetsRequest,
    now_unix_s: Option<f64>,
) -> Result<PlanetsAnswer, Refusal> {
    let said = MomentTexts {
        when: &request.when,
        zone: request.zone.as_deref(),
        clock: request.clock.as_deref(),
        calendar: request.calendar.as_deref(),
        which: request.which.as_deref(),
    };
    let (moment, place) = match &request.at {
        Some(at) => {
            let moment = said.at(understood_place(at)?, now_unix_s)?;
            let place = moment.place().clone();
            (moment, Some(place))
        }
        None => (said.anywhere(now_unix_s)?, None),
    };
    PlanetsAnswer::of(&moment, place.as_ref()).map_err(|error| Refusal::new(Field::When, error))
}
