//! Every 30th degree of the equator from the meridian, carried to the ecliptic
//! by circles through the ecliptic's own poles: J.-B. Morin, Astrologia Gallica
//! (1661; from memory).
//!
//! A point of the equator at right ascension α has the longitude
//! tan λ = tan α cos ε. Neither the ascendant nor the midheaven is a cusp.

use sky::Angle;

use crate::Horizon;
use crate::cusps::EasternCusps;

pub(super) fn cusps(horizon: &Horizon) -> EasternCusps {
    [0.0, 30.0, 60.0, 90.0, 120.0, 150.0].map(|deg| {
        let (sin, cos) = (horizon.sidereal_time + Angle::from_deg(deg)).sin_cos();
        Angle::atan2(sin * horizon.obliquity.cos(), cos)
    })
}
