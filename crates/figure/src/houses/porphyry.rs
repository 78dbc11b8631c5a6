//! The quadrants cut in three on the ecliptic: Porphyry, Introduction to the
//! Tetrabiblos (3rd century; from memory).
//!
//! The ascendant follows the midheaven by less than half a turn at every
//! latitude, so the quadrants are as they are everywhere even while the
//! midheaven is below the horizon.

use sky::Angle;

use crate::Horizon;
use crate::cusps::EasternCusps;

pub(super) fn cusps(horizon: &Horizon, ascendant: Angle) -> EasternCusps {
    let midheaven = horizon.midheaven();
    let upper = (ascendant - midheaven).in_turn();
    let lower = Angle::HALF_TURN - upper;
    [
        midheaven,
        midheaven + upper / 3.0,
        midheaven + upper * (2.0 / 3.0),
        ascendant,
        ascendant + lower / 3.0,
        ascendant + lower * (2.0 / 3.0),
    ]
}
