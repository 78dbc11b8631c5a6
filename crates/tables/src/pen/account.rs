use figure::House;
use sky::{Angle, Body};

use super::page::Shelf;
use super::reckoning::worked;
use super::{Cause, Found, Given, Hand};
use crate::TableError;

/// What a sheet finds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// The local sidereal time, as an angle.
    SiderealTime,
    /// The ascendant.
    Ascendant,
    /// The midheaven.
    Midheaven,
    /// A cusp.
    Cusp(House),
    /// A body's place.
    Place(Body),
    /// The lot of Fortune.
    Fortune,
}

/// Why a number found with the pen differs from calculation.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// What was found.
    pub found: Angle,
    /// What calculation gives.
    pub exact: Angle,
    /// The shares, in the order of [`Cause`]; they add up to the difference.
    pub shares: Vec<Share>,
}

/// A cause's part of a difference.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The cause.
    pub cause: Cause,
    /// How much it moves what is found.
    pub amount: Angle,
}

impl Why {
    /// What was found less what calculation gives, the short way round.
    #[must_use]
    pub fn difference(&self) -> Angle {
        self.exact.to(self.found)
    }
}

impl Found {
    /// A number of it; none where a table has a stroke.
    #[must_use]
    pub fn get(&self, quantity: Quantity) -> Option<Angle> {
        let deg = match quantity {
            Quantity::SiderealTime => Some(self.sidereal_h * 15.0),
            Quantity::Ascendant => self.ascendant,
            Quantity::Midheaven => Some(self.midheaven),
            Quantity::Cusp(house) => self.cusps[house.index()],
            Quantity::Place(body) => {
                let place = Body::ALL.iter().position(|one| *one == body)?;
                self.bodies.get(place).copied()
            }
            Quantity::Fortune => self.fortune,
        };
        deg.map(Angle::from_deg)
    }
}

/// The sheet worked under every mixture of an ideal and an actual hand on the way from one
/// to the other.
#[derive(Clone, Debug)]
pub struct Account {
    exact: Found,
    rungs: Vec<(Cause, Found)>,
}

/// Works the sheet at every rung from the ideal hand to the actual one. What is exactly so
/// comes from elsewhere.
///
/// # Errors
/// When the sheet cannot be worked.
pub fn account(
    given: &Given,
    exact: Found,
    ideal: &Hand,
    actual: &Hand,
) -> Result<Account, TableError> {
    let shelf = Shelf::new(given);
    let mut hand = ideal.clone();
    let mut last = worked(&shelf, &hand)?;
    let mut rungs = vec![(Cause::Procedure, last.clone())];
    for cause in Cause::GIVEN_UP {
        let before = hand.clone();
        hand.give_up(cause, actual);
        if hand != before {
            last = worked(&shelf, &hand)?;
        }
        rungs.push((cause, last.clone()));
    }
    Ok(Account { exact, rungs })
}

impl Account {
    /// Why a number differs; none where one of the workings on the way has none, or
    /// calculation has none.
    #[must_use]
    pub fn why(&self, quantity: Quantity) -> Option<Why> {
        self.why_own(quantity, None)
    }

    /// The same of a person's own number: what the sheet does not explain of it is a share of
    /// its own.
    #[must_use]
    pub fn why_own(&self, quantity: Quantity, own: Option<Angle>) -> Option<Why> {
        let exact = self.exact.get(quantity)?;
        let mut last = exact;
        let mut shares = Vec::with_capacity(self.rungs.len());
        for (cause, found) in &self.rungs {
            let here = found.get(quantity)?;
            shares.push(Share {
                cause: *cause,
                amount: last.to(here),
            });
            last = here;
        }
        if let Some(own) = own {
            shares.push(Share {
                cause: Cause::Unexplained,
                amount: last.to(own),
            });
            last = own;
        }
        Some(Why {
            found: last,
            exact,
            shares,
        })
    }
}
