use instrument::{LineId, NoCrossing, ZodiacRing};
use sky::Angle;
use thiserror::Error;

use crate::amount::Amount;
use crate::quantity::Quantity;
use crate::value::Value;

/// A value read on a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// As read.
    pub value: Value,
    /// How finely it can be read; nothing when nothing is rounded.
    pub reads_to: Amount,
}

impl Reading {
    /// An angle read on a scale that tells so much apart.
    pub(crate) const fn on_scale(value: Value, reads_to: Angle) -> Reading {
        Reading {
            value,
            reads_to: value.measure().amount(reads_to.deg()),
        }
    }
}

/// Why there is no reading.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoReading {
    /// The lines do not give one.
    #[error(transparent)]
    Lines(#[from] NoCrossing),
    /// What it needs was not found.
    #[error("the {0} it needs was not found")]
    Needs(Quantity),
    /// No star was named, or the rete has no pointer for it.
    #[error("no star of the rete was named")]
    Star,
    /// Nothing has been marked with wax.
    #[error("nothing has been marked on the rete")]
    Wax,
    /// The ring is not on the back.
    #[error("the back has no ring of {} to read", .0.called())]
    Ring(ZodiacRing),
    /// There is no qibla curve to read.
    #[error("there is no qibla curve to read")]
    Curve,
    /// A curve is not engraved where it would be read.
    #[error(
        "the {0} is broken off where it would cross the arc of the Sun's degree, too near another line"
    )]
    BrokenOff(LineId),
    /// A sum on paper gives no number.
    #[error(transparent)]
    Sum(#[from] NoNumber),
    /// A part cannot be turned by it: it is a number of hours, of points, or a length.
    #[error("the {0} is no angle, and no part can be set by it")]
    NoAngle(Quantity),
    /// The operation has no step that reads it.
    #[error("the {0} is not read in this working")]
    NotRead(Quantity),
}

/// Why a sum on paper gives no number.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum NoNumber {
    /// The shadow square is cut at no point, and nothing is divided by nothing.
    #[error("no point of the shadow square is cut, and nothing can be divided by that")]
    NoPoints,
    /// The stations do not differ.
    #[error(
        "from both stations the same point of the shadow square is cut, and nothing can be divided by the difference"
    )]
    NoDifference,
    /// It is larger than any number that can be written.
    #[error("the number that comes out is too large to be written")]
    TooLarge,
}

/// An angle that was read, as a value of its quantity's kind.
pub(super) fn of_angle(quantity: Quantity, angle: Angle) -> Result<Value, NoReading> {
    let value = quantity.measure().of_angle(angle);
    value.ok_or(NoReading::NoAngle(quantity))
}
