use instrument::{Instrument, Point};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A place on an instrument's front as it is drawn: millimetres from the pole.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrawnPoint {
    /// To the right.
    pub x_mm: f64,
    /// Downwards.
    pub y_mm: f64,
}

impl DrawnPoint {
    /// In an instrument's orientation.
    pub(crate) fn of(instrument: &Instrument, p: Point) -> DrawnPoint {
        let drawn = instrument.orientation().drawn(p);
        DrawnPoint {
            x_mm: drawn.x,
            y_mm: drawn.y,
        }
    }

    /// Where it is on the instrument.
    pub(crate) fn on(self, instrument: &Instrument) -> Point {
        instrument.orientation().undrawn(Point {
            x: self.x_mm,
            y: self.y_mm,
        })
    }
}
