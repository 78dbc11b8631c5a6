//! Houses of 30° of the ecliptic each: from the ascendant (Firmicus Maternus,
//! Mathesis, book II; from memory), from the midheaven (common practice), or
//! the signs themselves (Paulus of Alexandria, Introduction, 378; from memory).

use sky::Angle;

use crate::Horizon;
use crate::cusps::EasternCusps;

pub(super) fn from_ascendant(ascendant: Angle) -> EasternCusps {
    [-90.0, -60.0, -30.0, 0.0, 30.0, 60.0].map(|deg| ascendant + Angle::from_deg(deg))
}

pub(super) fn from_midheaven(horizon: &Horizon) -> EasternCusps {
    let midheaven = horizon.midheaven();
    [0.0, 30.0, 60.0, 90.0, 120.0, 150.0].map(|deg| midheaven + Angle::from_deg(deg))
}

pub(super) fn whole_signs(ascendant: Angle) -> EasternCusps {
    from_ascendant(Angle::from_deg((ascendant.deg() / 30.0).floor() * 30.0))
}
