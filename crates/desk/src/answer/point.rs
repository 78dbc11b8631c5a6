use instrument::{Instrument, Point};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A place on one side of an instrument as it is drawn: millimetres from the pole.
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

    /// On the back, whose axes run to the throne and to the right.
    pub(crate) fn on_back(p: Point) -> DrawnPoint {
        DrawnPoint {
            x_mm: p.y,
            y_mm: -p.x,
        }
    }

    /// Where it is on the instrument's front.
    pub(crate) fn on(self, instrument: &Instrument) -> Point {
        instrument.orientation().undrawn(Point {
            x: self.x_mm,
            y: self.y_mm,
        })
    }
}
