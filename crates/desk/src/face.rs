use instrument::{Instrument, Part, Photographed};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use words::{Called, NorthOrSouth};

use crate::cabinet::Cabinet;
use crate::examine_asked::meant;
use crate::examine_picture::{fits, photograph};
use crate::refusal::{Field, Refusal};
use crate::request::WithInstrument;

/// What is asked when a picture of an instrument is to be laid over its drawing.
#[derive(Clone, Debug, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FaceRequest {
    /// The text of a file of marks in the picture.
    pub measurements: String,
    /// The instrument that is drawn.
    pub with: WithInstrument,
}

/// How the parts of a front are cut out of a picture.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FaceAnswer {
    /// The parts of which the picture tells how they lie, from the lowest to the uppermost.
    pub parts: Vec<FacePartAnswer>,
    /// Which of the instrument's plates lies in the picture; null where it does not tell.
    pub plate_latitude_deg: Option<f64>,
    /// How well the drawing fits the picture, in sentences.
    pub sentences: Vec<String>,
}

/// Where a part's drawing lies in the picture: a place (right, down), in millimetres from the
/// pole as it is drawn at rest, is seen by the ray `ray` · (right, down, 1), whose slope is its
/// first two numbers over the third; a slope r is seen `focal_px` · r (1 + `distortion` r²)
/// off `centre_px`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FacePartAnswer {
    /// `mater`, `plate`, `rete` or `rule`.
    pub part: &'static str,
    /// Three rows.
    pub ray: [[f64; 3]; 3],
    /// In pixels.
    pub focal_px: f64,
    /// To the right and down from the middle of the picture's upper left pixel.
    pub centre_px: [f64; 2],
    /// The term of distortion.
    pub distortion: f64,
}

/// The parts of a front, by their names in its drawing, from the lowest to the uppermost.
const PARTS: [(Part, &str); 4] = [
    (Part::Mater, "mater"),
    (Part::Plate, "plate"),
    (Part::Rete, "rete"),
    (Part::Rule, "rule"),
];

/// Tells how the parts of an instrument are cut out of its picture, so that their lines come to
/// lie on the drawn ones.
///
/// # Errors
/// When marks or instrument cannot be understood, or are of two different instruments.
pub fn face(request: &FaceRequest, cabinet: &Cabinet) -> Result<FaceAnswer, Refusal> {
    let photograph = photograph(&request.measurements)?;
    let instrument = meant(&request.with, photograph.hemisphere, cabinet)?;
    fits(&photograph, &instrument)?;
    let found =
        Photographed::of(&photograph).map_err(|error| Refusal::new(Field::Measurements, error))?;
    let parts = PARTS.iter().filter_map(|(part, name)| {
        let face = found.face(*part, &instrument)?;
        Some(FacePartAnswer {
            part: name,
            ray: face.ray,
            focal_px: face.focal_px,
            centre_px: face.centre_px,
            distortion: face.distortion,
        })
    });
    let plate = found
        .latitude
        .map(|found| instrument.nearest_plate(found.at));
    Ok(FaceAnswer {
        parts: parts.collect(),
        plate_latitude_deg: plate.map(|plate| plate.deg()),
        sentences: sentences(&found, &instrument),
    })
}

/// Which plate lies in it, and how far the drawn lines lie off those of the picture.
fn sentences(found: &Photographed, instrument: &Instrument) -> Vec<String> {
    let called = Called(&instrument.specification().name);
    let Some(latitude) = found.latitude else {
        return vec![
            "For which latitude the plate is drawn is not told by this picture, so the plate \
             cannot be taken from it."
                .to_owned(),
        ];
    };
    let plate = instrument.nearest_plate(latitude.at);
    let mut all = vec![format!(
        "Of the plates of {called} the one for {} is nearest to what lies in the picture.",
        NorthOrSouth(plate)
    )];
    let held = found.held(instrument, plate);
    // A mark that is wrong says nothing of the brass.
    let good = held
        .iter()
        .zip(&found.marks)
        .filter(|(_, mark)| !mark.doubtful);
    let mut off: Vec<_> = good.filter_map(|(held, _)| held.as_ref()).collect();
    off.sort_by(|one, other| one.off().mm().total_cmp(&other.off().mm()));
    if let (Some(middle), Some(worst)) = (off.get(off.len() / 2), off.last()) {
        all.push(format!(
            "What is marked lies {:.2} mm off its drawn line as a rule, and {:.2} mm at most: {}.",
            middle.off().mm(),
            worst.off().mm(),
            worst.of
        ));
    }
    all
}
