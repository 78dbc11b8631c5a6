//! Great circles through the north and south points of the horizon and every
//! 30th degree of the equator from the meridian: Regiomontanus, Tabulae
//! directionum (1490; from memory), and the table of J. Middleton, Practical
//! Astrology (1679) I.9.
//!
//! The circle at the equator's point H east of the meridian has the pole
//! tan P = tan φ sin H, and its cusp is the ascendant under that pole.
//!
//! Beyond the polar circles, while the midheaven is below the horizon, there
//! is no answer. A cusp is where the ecliptic crosses one half of its circle,
//! from the north point by the equator's division to the south point. As these
//! halves follow one another from the meridian above the horizon to the east,
//! the nadir and the west, the ecliptic's crossings then run against the order
//! of the signs, and the first half, by the zenith, holds the degree opposite
//! the midheaven. The circles would lead from the ascendant to a tenth cusp
//! that is not the midheaven, or from the midheaven to a first that sets: no
//! choice of crossings keeps both and the order of the signs.

use sky::Angle;

use crate::cusps::EasternCusps;
use crate::{Horizon, Reason, ecliptic};

pub(super) fn cusps(horizon: &Horizon, ascendant: Angle) -> Result<EasternCusps, Reason> {
    needs_midheaven_above(horizon)?;
    let at = |from_meridian: f64| on_house_circle(horizon, Angle::from_deg(from_meridian));
    Ok([
        horizon.midheaven(),
        at(30.0),
        at(60.0),
        ascendant,
        at(120.0),
        at(150.0),
    ])
}

/// The ecliptic degree on the house circle that meets the equator this far
/// east of the meridian.
pub(super) fn on_house_circle(horizon: &Horizon, from_meridian: Angle) -> Angle {
    let tan_pole = horizon.latitude.tan() * from_meridian.sin();
    ecliptic::under_pole(
        horizon.sidereal_time + from_meridian,
        tan_pole,
        horizon.obliquity,
    )
}

pub(super) fn needs_midheaven_above(horizon: &Horizon) -> Result<(), Reason> {
    if horizon.midheaven_side() > 0.0 {
        Ok(())
    } else {
        Err(Reason::MidheavenBelowHorizon)
    }
}
