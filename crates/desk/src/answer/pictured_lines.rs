use instrument::Drawn;
use schemars::JsonSchema;
use serde::Serialize;

/// A line of an instrument as it lies in its picture.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DrawnAnswer {
    /// What it is, as a file of marks has it; null for the circle of the limb.
    pub of: Option<String>,
    /// Its pieces, each a row of places in pixels; of a point one place.
    pub pieces: Vec<Vec<[f64; 2]>>,
}

impl From<&Drawn> for DrawnAnswer {
    fn from(drawn: &Drawn) -> DrawnAnswer {
        /// A twentieth of a pixel is finer than anything that is marked.
        const PART: f64 = 20.0;
        let part = |px: f64| (px * PART).round() / PART;
        DrawnAnswer {
            of: drawn.of.as_ref().map(ToString::to_string),
            pieces: drawn
                .pieces
                .iter()
                .map(|piece| piece.iter().map(|at| at.map(part)).collect())
                .collect(),
        }
    }
}
