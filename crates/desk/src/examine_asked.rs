use instrument::{Hemisphere, Instrument};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::Plain;
use words::Called;

use crate::cabinet::Cabinet;
use crate::refusal::{Field, Refusal};
use crate::request::WithInstrument;

/// What is asked when an instrument is examined.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ExamineRequest {
    /// The text of a file of measurements, or of marks in a photograph.
    pub measurements: String,
    /// What it was to be, for one that is known: a delivered one is held against it.
    pub with: Option<WithInstrument>,
    /// How far a length may be off what it was to be; 0.2 unless said.
    pub within_mm: Option<f64>,
}

/// A limit is of something.
pub(crate) fn no_limit_alone(request: &ExamineRequest) -> Result<(), Refusal> {
    if request.with.is_none() && request.within_mm.is_some() {
        return Err(Refusal::new(
            Field::With,
            "a tolerance is said, and not what the instrument was to be; an instrument of \
             the cabinet or a specification would do",
        ));
    }
    Ok(())
}

/// How far a length may be off.
pub(crate) fn limit_mm(request: &ExamineRequest) -> Result<f64, Refusal> {
    /// What careful hand and laser work keep (common practice).
    const USUAL_MM: f64 = 0.2;
    let within_mm = request.within_mm.unwrap_or(USUAL_MM);
    if !(0.0..=100.0).contains(&within_mm) {
        return Err(Refusal::new(
            Field::Measurements,
            format!(
                "a length that may be off by {} mm; 0 to 100 would do, such as 0.2",
                Plain(within_mm)
            ),
        ));
    }
    Ok(within_mm)
}

/// What an instrument was to be: one for the same half of the Earth.
pub(crate) fn meant(
    with: &WithInstrument,
    hemisphere: Hemisphere,
    cabinet: &Cabinet,
) -> Result<Instrument, Refusal> {
    let instrument = cabinet.meant(with)?;
    if instrument.specification().hemisphere != hemisphere {
        return Err(Refusal::new(
            Field::With,
            format!(
                "{} is of the other hemisphere than what was measured; one of the {}ern would do",
                Called(&instrument.specification().name),
                hemisphere.name()
            ),
        ));
    }
    Ok(instrument)
}
