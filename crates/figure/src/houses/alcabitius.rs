//! The standard method of the astrolabe: Chaucer, Treatise on the Astrolabe
//! (ed. Skeat 1894) II.36, by unequal hours, and II.37, by thirds of the limb,
//! which are one and the same.
//!
//! With θ the sidereal time, D the diurnal and N the nocturnal semi-arc of the
//! ascendant degree, the cusps' right ascensions are
//!
//! ```text
//! XI θ + D/3   XII θ + 2D/3   I θ + D   II θ + D + N/3   III θ + D + 2N/3
//! ```
//!
//! Beyond the polar circles it answers always: the ascendant degree rises
//! where it stands, so it has semi-arcs. While the midheaven is below the
//! horizon the definition stands as it is: D is still the arc from the
//! degree's rising to its own upper culmination, and the midheaven, which
//! precedes it, is cusp X. Only the picture changes: cusps XI and XII are then
//! below the horizon, and II and III above it.

use sky::Angle;

use crate::Horizon;
use crate::cusps::EasternCusps;

pub(super) fn cusps(horizon: &Horizon, ascendant: Angle) -> EasternCusps {
    let meridian = horizon.sidereal_time;
    // The degree is on the eastern horizon now: its diurnal semi-arc is what
    // it has yet to go to the meridian.
    let diurnal = (horizon.right_ascension(ascendant) - meridian).in_turn();
    let nocturnal = Angle::HALF_TURN - diurnal;
    let at = |right_ascension| horizon.degree_at_right_ascension(right_ascension);
    [
        at(meridian),
        at(meridian + diurnal / 3.0),
        at(meridian + diurnal * (2.0 / 3.0)),
        ascendant,
        at(meridian + diurnal + nocturnal / 3.0),
        at(meridian + diurnal + nocturnal * (2.0 / 3.0)),
    ]
}
