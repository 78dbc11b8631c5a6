use drawing::{Setting, Svg};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::Latitude;

use crate::answer::DrawnPoint;
use crate::cabinet::Cabinet;
use crate::refusal::{Field, Refusal};
use crate::request::WithInstrument;

/// What is asked when an instrument's front is to be drawn.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct FrontRequest {
    /// The instrument; the first of the cabinet for the plate's hemisphere unless said.
    pub with: Option<WithInstrument>,
    /// The latitude of the plate.
    pub plate_latitude_deg: f64,
}

/// A front, drawn with all its parts at the beginning: a page turns them.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FrontAnswer {
    /// One group for each part: `front-mater`, `front-plate`, `front-rete`,
    /// `front-rule`, without colours; each line bears its name as `data-line`.
    pub svg: String,
    /// How far it reaches from the pole.
    pub reach_mm: f64,
    /// Whether rete and rule run clockwise with the hours.
    pub clockwise: bool,
    /// Where the rete's own pole stands: off the middle where the pin has play.
    pub rete_pole: DrawnPoint,
}

/// Draws an instrument's front.
///
/// # Errors
/// When there is no such instrument or latitude.
pub fn front(request: &FrontRequest, cabinet: &Cabinet) -> Result<FrontAnswer, Refusal> {
    let plate = Latitude::from_deg(request.plate_latitude_deg)
        .map_err(|error| Refusal::new(Field::Plate, error))?;
    let instrument = cabinet.find(request.with.as_ref(), plate)?;
    let scene = drawing::front(&instrument, &Setting::at_rest(plate));
    Ok(FrontAnswer {
        svg: scene.svg(&Svg {
            id_prefix: "front-".to_owned(),
            styled: false,
            paper: false,
        }),
        reach_mm: scene.reach_mm,
        clockwise: instrument.orientation().clockwise(),
        rete_pole: DrawnPoint::of(&instrument, instrument.rete_centre()),
    })
}
