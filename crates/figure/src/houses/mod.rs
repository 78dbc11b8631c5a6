//! The cusps by each method, a file for each.

mod alcabitius;
mod campanus;
mod equal;
mod equator;
mod koch;
mod morinus;
mod order;
mod placidus;
mod porphyry;
mod regiomontanus;
mod topocentric;

use crate::cusps::EasternCusps;
use crate::{Cusps, Horizon, Method, NoAnswer, Reason, Subject};

impl Method {
    /// The cusps.
    ///
    /// # Errors
    /// Where the horizon has no ascendant, and beyond the polar circles as the
    /// table [above](Method) says.
    pub fn cusps(self, horizon: &Horizon) -> Result<Cusps, NoAnswer> {
        self.eastern_cusps(horizon)
            .map(Cusps::from_eastern)
            .map_err(|reason| horizon.no_answer(Subject::Cusps(self), reason))
    }

    fn eastern_cusps(self, horizon: &Horizon) -> Result<EasternCusps, Reason> {
        let ascendant = horizon.eastern_degree()?;
        match self {
            Method::Alcabitius => Ok(alcabitius::cusps(horizon, ascendant)),
            Method::Regiomontanus => regiomontanus::cusps(horizon, ascendant),
            Method::Campanus => campanus::cusps(horizon, ascendant),
            Method::Placidus => placidus::cusps(horizon, ascendant),
            Method::Porphyry => Ok(porphyry::cusps(horizon, ascendant)),
            Method::Equal => Ok(equal::from_ascendant(ascendant)),
            Method::WholeSign => Ok(equal::whole_signs(ascendant)),
            Method::EqualFromMidheaven => Ok(equal::from_midheaven(horizon)),
            Method::Meridian => Ok(equator::from_meridian(horizon)),
            Method::EquatorFromAscendant => Ok(equator::from_ascendant(horizon, ascendant)),
            Method::Morinus => Ok(morinus::cusps(horizon)),
            Method::Koch => koch::cusps(horizon, ascendant),
            Method::Topocentric => topocentric::cusps(horizon, ascendant),
        }
    }
}
