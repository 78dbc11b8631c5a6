//! Ascendants under poles whose tangents are thirds of the latitude's: W. Polich
//! and A. P. Nelson Page (1961; from memory).
//!
//! Cusps XI and III have the pole tan P = ⅓ tan φ, XII and II tan P = ⅔ tan φ,
//! at 30°, 60°, 120° and 150° of the equator east of the meridian.
//!
//! These circles are not of one family, and from a degree and a half short of
//! the polar circles there are times when cusp XII would come after the
//! ascendant, or the ascendant after II: then there is no answer. Nor is there
//! one while the midheaven is below the horizon, for the reason given at
//! [regiomontanus](super::regiomontanus).

use sky::Angle;

use super::order::in_order;
use super::regiomontanus::needs_midheaven_above;
use crate::cusps::EasternCusps;
use crate::{Horizon, Reason, ecliptic};

pub(super) fn cusps(horizon: &Horizon, ascendant: Angle) -> Result<EasternCusps, Reason> {
    needs_midheaven_above(horizon)?;
    let at = |from_meridian: f64, thirds: f64| {
        ecliptic::under_pole(
            horizon.sidereal_time + Angle::from_deg(from_meridian),
            horizon.latitude.tan() * (thirds / 3.0),
            horizon.obliquity,
        )
    };
    in_order([
        horizon.midheaven(),
        at(30.0, 1.0),
        at(60.0, 2.0),
        ascendant,
        at(120.0, 2.0),
        at(150.0, 1.0),
    ])
}
