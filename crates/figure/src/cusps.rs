use sky::{Angle, Sign, Zodiacal};
use thiserror::Error;

use crate::{House, sign_and_degree};

/// The twelve cusps: the longitudes at which the houses begin, each in [0°, 360°).
///
/// They follow in the order of the signs. Those of a [`Method`](crate::Method)
/// stand exactly opposite one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cusps([Angle; 12]);

/// The cusps from the tenth by the first to the third, in order.
///
/// Every method is defined by these six; the others stand opposite.
pub(crate) type EasternCusps = [Angle; 6];

impl Cusps {
    pub(crate) fn from_eastern([x, xi, xii, i, ii, iii]: EasternCusps) -> Cusps {
        let opposite = |cusp: Angle| (cusp.in_turn() + Angle::HALF_TURN).in_turn();
        Cusps([
            i.in_turn(),
            ii.in_turn(),
            iii.in_turn(),
            opposite(x),
            opposite(xi),
            opposite(xii),
            opposite(i),
            opposite(ii),
            opposite(iii),
            x.in_turn(),
            xi.in_turn(),
            xii.in_turn(),
        ])
    }

    /// Cusps that were read or printed, in order from I to XII.
    ///
    /// They need not stand exactly opposite one another.
    ///
    /// # Errors
    /// When they do not run once round the ecliptic in the order of the signs.
    pub fn given(cusps: [Angle; 12]) -> Result<Cusps, NotCusps> {
        let cusps = cusps.map(Angle::in_turn);
        let next = cusps.iter().cycle().skip(1);
        let round: Angle = cusps
            .iter()
            .zip(next)
            .map(|(from, to)| (*to - *from).in_turn())
            .sum();
        // Each step back makes another turn; NaN fails every comparison.
        if round.deg() < 540.0 && round.deg() > 180.0 {
            Ok(Cusps(cusps))
        } else {
            Err(NotCusps { cusps })
        }
    }

    /// The longitude at which a house begins.
    #[must_use]
    pub fn get(&self, house: House) -> Angle {
        self.0[house.index()]
    }

    /// All twelve, I to XII.
    #[must_use]
    pub const fn all(&self) -> [Angle; 12] {
        self.0
    }

    /// The signs that no cusp is in, each with the house that holds it whole.
    #[must_use]
    pub fn intercepted(&self) -> Vec<(Sign, House)> {
        let none = |sign: &Sign| !self.0.iter().any(|cusp| sign_and_degree(*cusp).0 == *sign);
        let signs = Sign::ALL.into_iter().filter(none);
        signs
            .map(|sign| (sign, self.house_of(sign.begins())))
            .collect()
    }

    /// The house that a longitude falls in. A cusp belongs to the house it begins.
    #[must_use]
    pub fn house_of(&self, longitude: Angle) -> House {
        let past = |house: &House| (longitude - self.get(*house)).in_turn();
        House::ALL
            .into_iter()
            .min_by(|a, b| past(a).deg().total_cmp(&past(b).deg()))
            .unwrap_or(House::I)
    }
}

/// Twelve degrees that cannot be cusps, for they do not follow in the order of
/// the signs.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[error(
    "cusps from {} to {} do not run once round the zodiac; twelve in the order of the signs would do",
    Zodiacal(cusps[0]),
    Zodiacal(cusps[11])
)]
pub struct NotCusps {
    cusps: [Angle; 12],
}
