use drawing::{Setting, Svg};
use instrument::Instrument;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Latitude};

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

/// A back, drawn with the alidade upright: a page turns it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BackAnswer {
    /// One group for each part: `back-back`, `back-alidade`, without colours.
    pub svg: String,
    /// How far it reaches from the pole, the throne left out.
    pub reach_mm: f64,
    /// Where the alidade lies on 0° Aries: clockwise from upright. The signs run
    /// against the clock from there.
    pub aries_deg: f64,
}

/// Draws an instrument's back.
///
/// # Errors
/// When there is no such instrument or latitude.
pub fn back(request: &FrontRequest, cabinet: &Cabinet) -> Result<BackAnswer, Refusal> {
    let instrument = meant(request, cabinet)?.0;
    let back = instrument.back();
    // The degree for which it stands upright.
    let upright = back.longitude(Angle::ZERO);
    let scene = drawing::back(&instrument, upright);
    Ok(BackAnswer {
        svg: scene.svg(&plain("back-")),
        reach_mm: scene.reach_mm,
        aries_deg: back.zodiac(Angle::ZERO).in_turn().deg(),
    })
}

/// Draws an instrument's front.
///
/// # Errors
/// When there is no such instrument or latitude.
pub fn front(request: &FrontRequest, cabinet: &Cabinet) -> Result<FrontAnswer, Refusal> {
    let (instrument, plate) = meant(request, cabinet)?;
    let scene = drawing::front(&instrument, &Setting::at_rest(plate));
    Ok(FrontAnswer {
        svg: scene.svg(&plain("front-")),
        reach_mm: scene.reach_mm,
        clockwise: instrument.orientation().clockwise(),
        rete_pole: DrawnPoint::of(&instrument, instrument.rete_centre()),
    })
}

/// The instrument and the plate that a request means.
pub(crate) fn meant(
    request: &FrontRequest,
    cabinet: &Cabinet,
) -> Result<(Instrument, Latitude), Refusal> {
    let plate = Latitude::from_deg(request.plate_latitude_deg)
        .map_err(|error| Refusal::new(Field::Plate, error))?;
    Ok((cabinet.find(request.with.as_ref(), plate)?, plate))
}

/// For a page that has colours of its own.
fn plain(id_prefix: &str) -> Svg {
    Svg {
        id_prefix: id_prefix.to_owned(),
        styled: false,
        paper: false,
        outlined: false,
    }
}
