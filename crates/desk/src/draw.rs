use drawing::{Setting, Svg, front};
use instrument::{Instrument, LineId, State};
use practice::{Done, Procedure, Quantity};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::Latitude;

use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::refusal::{Field, Refusal};
use crate::request::{CastRequest, WithInstrument};

/// What is asked when the front of an instrument is to be drawn.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct DrawRequest {
    /// The instrument; the first of the cabinet unless said. Not used when a
    /// moment says its own.
    pub with: Option<WithInstrument>,
    /// The plate to lay in; the nearest to this latitude in degrees is taken.
    pub plate_deg: Option<f64>,
    /// The moment for which it is set; without one the parts are at rest. Where it says
    /// a cusp procedure, the lines from which ascendant, midheaven and cusps are read by
    /// it are lit.
    pub set: Option<CastRequest>,
    /// The step of the working that is shown, from 1, with its lines lit; unless
    /// said, the one in which the Sun has been set.
    pub step: Option<usize>,
}

/// Draws the front of an instrument as SVG, at rest or set for a moment.
///
/// # Errors
/// When the request cannot be understood, or the instrument does not serve the place.
pub fn draw(
    request: &DrawRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<String, Refusal> {
    let (instrument, setting) = match &request.set {
        Some(moment) => set(request, moment, cabinet, now_unix_s)?,
        None => at_rest(request, cabinet)?,
    };
    Ok(front(&instrument, &setting).svg(&Svg::default()))
}

fn at_rest(request: &DrawRequest, cabinet: &Cabinet) -> Result<(Instrument, Setting), Refusal> {
    let wanted = match request.plate_deg {
        None => None,
        Some(deg) => {
            Some(Latitude::from_deg(deg).map_err(|error| Refusal::new(Field::Plate, error))?)
        }
    };
    let instrument = cabinet.find(request.with.as_ref(), wanted.unwrap_or_default())?;
    let first = instrument.specification().plates.first().copied();
    let plate = match wanted {
        Some(latitude) => instrument.nearest_plate(latitude),
        None => first.unwrap_or_default(),
    };
    Ok((instrument, Setting::at_rest(plate)))
}

fn set(
    request: &DrawRequest,
    moment: &CastRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<(Instrument, Setting), Refusal> {
    let casting = Casting::of(moment, cabinet, now_unix_s)?;
    let instrument = casting.instrument.clone();
    if !serves(&instrument, casting.latitude()) {
        return Err(Refusal::new(
            Field::With,
            format!(
                "{} is made for the {}ern hemisphere and cannot be set for this place; an instrument of the other hemisphere would do",
                instrument.specification().name,
                instrument.specification().hemisphere.name()
            ),
        ));
    }
    let working = casting.working();
    let setting = match request.step {
        None => {
            let setting = Setting::of(when_set(&working.steps, casting.latitude()));
            match moment.by {
                Some(_) => setting.with_lit(read_by(casting.by, &working.steps)),
                None => setting,
            }
        }
        Some(number) => {
            let step = number
                .checked_sub(1)
                .and_then(|index| working.steps.get(index));
            let step = step.ok_or_else(|| {
                Refusal::new(
                    Field::Step,
                    format!(
                        "there is no step {number}; 1 to {} would do",
                        working.steps.len()
                    ),
                )
            })?;
            Setting::of(step.after).with_lit(step.lines.clone())
        }
    };
    Ok((instrument, setting))
}

/// The lines from which ascendant, midheaven and cusps are read by a procedure.
fn read_by(procedure: Procedure, steps: &[Done]) -> Vec<LineId> {
    let angles = [Quantity::Ascendant, Quantity::Midheaven];
    let reads = |step: &&Done| match step.procedure {
        None => step
            .act
            .finds()
            .is_some_and(|found| angles.contains(&found)),
        Some(other) => other == procedure,
    };
    let lines = steps
        .iter()
        .filter(reads)
        .flat_map(|step| step.lines.clone());
    lines.collect()
}

/// How the parts stand when the rete has been set, before anything is read.
fn when_set(steps: &[Done], latitude: Latitude) -> State {
    let set = steps
        .iter()
        .find(|step| step.procedure.is_none() && step.is_setting_of_the_sun());
    set.map_or(State::at_rest(latitude), |step| step.after)
}
