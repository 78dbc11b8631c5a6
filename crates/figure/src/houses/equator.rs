//! Every 30th degree of the equator, carried to the ecliptic by hour circles.
//!
//! From the meridian: Zariel (D. Cope), early 20th century (from memory);
//! cusp X is the midheaven, cusp I is not the ascendant. From the ascendant's
//! right ascension: J. Palmer, The Catholique Planisphaer (1658) IV.48, who
//! gives it under the name of Alcabitius; it is not the method known by that
//! name now. There cusp I is the ascendant and cusp X is not the midheaven.

use sky::Angle;

use crate::Horizon;
use crate::cusps::EasternCusps;

pub(super) fn from_meridian(horizon: &Horizon) -> EasternCusps {
    [0.0, 30.0, 60.0, 90.0, 120.0, 150.0]
        .map(|deg| horizon.degree_at_right_ascension(horizon.sidereal_time + Angle::from_deg(deg)))
}

pub(super) fn from_ascendant(horizon: &Horizon, ascendant: Angle) -> EasternCusps {
    let right_ascension = horizon.right_ascension(ascendant);
    let at = |deg| horizon.degree_at_right_ascension(right_ascension + Angle::from_deg(deg));
    [
        at(-90.0),
        at(-60.0),
        at(-30.0),
        ascendant,
        at(30.0),
        at(60.0),
    ]
}
