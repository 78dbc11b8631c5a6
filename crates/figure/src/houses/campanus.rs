//! Great circles through the north and south points of the horizon and every
//! 30th degree of the prime vertical: J. Palmer, The Catholique Planisphaer
//! (1658) IV.53.
//!
//! The circle at altitude a on the prime vertical meets the equator at H east
//! of the meridian, tan H = cos φ cot a; from there on it is a circle of
//! [regiomontanus](super::regiomontanus), and what is said there of the polar
//! circles holds here.

use sky::Angle;

use super::regiomontanus::{needs_midheaven_above, on_house_circle};
use crate::cusps::EasternCusps;
use crate::{Horizon, Reason};

pub(super) fn cusps(horizon: &Horizon, ascendant: Angle) -> Result<EasternCusps, Reason> {
    needs_midheaven_above(horizon)?;
    let at = |altitude: f64| {
        let (sin, cos) = Angle::from_deg(altitude).sin_cos();
        on_house_circle(horizon, Angle::atan2(horizon.latitude.cos() * cos, sin))
    };
    Ok([
        horizon.midheaven(),
        at(60.0),
        at(30.0),
        ascendant,
        at(-30.0),
        at(-60.0),
    ])
}
