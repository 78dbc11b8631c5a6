//! The degrees that rise while the midheaven's degree goes through thirds of
//! its own diurnal semi-arc: W. A. Koch, Regiomontanus und das Häusersystem
//! des Geburtsortes (1960; from memory).
//!
//! The midheaven's degree rose a semi-arc D ago. The degrees that rose D/3 and
//! 2D/3 after it are cusps XI and XII, the one rising now is the ascendant,
//! those to rise after D/3 and 2D/3 are II and III, and after D the degree
//! opposite the midheaven rises.
//!
//! Beyond the polar circles the midheaven's degree may never set, and the
//! signs may rise out of their order in between.

use sky::Angle;

use super::order::in_order;
use crate::cusps::EasternCusps;
use crate::{DailyCourse, Horizon, Reason};

pub(super) fn cusps(horizon: &Horizon, ascendant: Angle) -> Result<EasternCusps, Reason> {
    let midheaven = horizon.midheaven();
    let DailyCourse::RisesAndSets(arcs) = horizon.course_of_degree(midheaven) else {
        return Err(Reason::NeitherRisesNorSets(midheaven));
    };
    let rising = |thirds: f64| {
        Horizon {
            sidereal_time: horizon.sidereal_time + arcs.diurnal() * (thirds / 3.0),
            ..*horizon
        }
        .eastern_degree()
    };
    in_order([
        midheaven,
        rising(-2.0)?,
        rising(-1.0)?,
        ascendant,
        rising(1.0)?,
        rising(2.0)?,
    ])
}
