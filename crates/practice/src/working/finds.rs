//! What an act finds, and what it turns.

use crate::finding::Finding;
use crate::operation::{Act, Reckoning, RetePlace};
use crate::quantity::{Note, Quantity, WhichPlate};

/// What a step looks up of what was found before it.
pub(super) enum Needs {
    /// No more than these.
    These([Option<Quantity>; 2]),
    /// It may be any of it.
    Any,
}

impl Needs {
    const NOTHING: Needs = Needs::These([None, None]);

    const fn one(quantity: Quantity) -> Needs {
        Needs::These([Some(quantity), None])
    }
}

impl Act {
    /// What the step looks up of what was found before it. Only of the steps of which a
    /// figure is cast it is told closely: that is worked most often.
    pub(super) fn needs(&self) -> Needs {
        match self {
            Act::ChoosePlate
            | Act::ExchangePlate
            | Act::ReadSunDegree
            | Act::ReadEcliptic { .. }
            | Act::Return => Needs::NOTHING,
            Act::TurnRuleOnto(quantity) => Needs::one(*quantity),
            Act::TurnRete { what, .. } | Act::ReadLimb { over: what, .. } => what.needs(),
            Act::Reckon(reckoning) => reckoning.needs(),
            Act::TurnReteToAltitude { .. }
            | Act::TurnAlmuriOnto(_)
            | Act::ReadAlmuri { .. }
            | Act::TurnEclipticToAltitude { .. }
            | Act::ReadAltitude { .. }
            | Act::ReadAzimuth { .. }
            | Act::ReadEclipticAtAltitude { .. }
            | Act::ReadUnequalHour { .. }
            | Act::ReadOnBack(_)
            | Act::Wax(_)
            | Act::Observe(_) => Needs::Any,
        }
    }

    /// The quantity that the step finds, if it finds one.
    #[must_use]
    pub fn finds(&self) -> Option<Quantity> {
        match self {
            Act::Reckon(reckoning) => Some(reckoning.finds()),
            Act::ReadSunDegree => Some(Quantity::SunDegree),
            Act::Observe(sight) => Some(Quantity::Seen(*sight)),
            Act::ReadOnBack(what) => Some(what.finds()),
            Act::ReadLimb { finds, .. }
            | Act::ReadEcliptic { finds, .. }
            | Act::ReadAlmuri { finds }
            | Act::TurnEclipticToAltitude { finds, .. }
            | Act::ReadAltitude { finds, .. }
            | Act::ReadAzimuth { finds, .. }
            | Act::ReadEclipticAtAltitude { finds, .. }
            | Act::ReadUnequalHour { finds } => Some(*finds),
            Act::ChoosePlate
            | Act::ExchangePlate
            | Act::TurnRuleOnto(_)
            | Act::TurnRete { .. }
            | Act::TurnReteToAltitude { .. }
            | Act::TurnAlmuriOnto(_)
            | Act::Wax(_)
            | Act::Return => None,
        }
    }

    /// Whether it moves the rete; going back counts where there is somewhere to go.
    pub(super) fn turns_rete(&self, has_been_set: bool) -> bool {
        match self {
            Act::Return => has_been_set,
            Act::TurnEclipticToAltitude { .. }
            | Act::TurnRete { .. }
            | Act::TurnReteToAltitude { .. }
            | Act::TurnAlmuriOnto(_) => true,
            Act::Reckon(_)
            | Act::ChoosePlate
            | Act::ExchangePlate
            | Act::ReadSunDegree
            | Act::TurnRuleOnto(_)
            | Act::ReadLimb { .. }
            | Act::ReadAlmuri { .. }
            | Act::ReadAltitude { .. }
            | Act::ReadAzimuth { .. }
            | Act::ReadEclipticAtAltitude { .. }
            | Act::ReadUnequalHour { .. }
            | Act::ReadOnBack(_)
            | Act::Wax(_)
            | Act::Observe(_)
            | Act::ReadEcliptic { .. } => false,
        }
    }

    /// Whether it moves the rete and reads nothing.
    pub(super) fn only_turns_rete(&self) -> bool {
        matches!(
            self,
            Act::TurnRete { .. } | Act::TurnReteToAltitude { .. } | Act::TurnAlmuriOnto(_)
        )
    }

    /// Whether it sets the rete by the Sun, to which it is brought back later.
    pub(super) fn is_for_sun(&self) -> bool {
        matches!(
            self,
            Act::TurnRete {
                what: RetePlace::Sun,
                ..
            } | Act::TurnReteToAltitude {
                what: RetePlace::Sun,
                ..
            }
        )
    }
}

impl RetePlace {
    fn needs(self) -> Needs {
        match self {
            RetePlace::Sun | RetePlace::OppositeSun => Needs::one(Quantity::SunDegree),
            RetePlace::Degree(quantity) | RetePlace::Opposite(quantity) => Needs::one(quantity),
            // They are where the star stands, and where the wax is.
            RetePlace::Star | RetePlace::Waxed => Needs::NOTHING,
        }
    }
}

impl Reckoning {
    fn needs(self) -> Needs {
        match self {
            Reckoning::HourForRule => Needs::NOTHING,
            Reckoning::ThirdOfLimb(_) => Needs::one(Quantity::LimbOfAscendant),
            Reckoning::BetweenPlates(what) => {
                let plates = [WhichPlate::First, WhichPlate::Second];
                Needs::These(plates.map(|plate| Some(Quantity::On(plate, what))))
            }
            Reckoning::Count(..)
            | Reckoning::RestOfTurn(..)
            | Reckoning::Twelfth(..)
            | Reckoning::RestOfThirty(..)
            | Reckoning::Hours(..)
            | Reckoning::Less(..)
            | Reckoning::Sum(..)
            | Reckoning::Mean(..)
            | Reckoning::RestOfRight(..)
            | Reckoning::ThroughZenith(_)
            | Reckoning::FromSouth(..)
            | Reckoning::Midway(..)
            | Reckoning::InProportion(_)
            | Reckoning::Beside(..)
            | Reckoning::MidDegree(..)
            | Reckoning::FromEquinox(_)
            | Reckoning::ProductOfSines(..)
            | Reckoning::SideOfEquator(..)
            | Reckoning::Height(_)
            | Reckoning::RectaToVersa => Needs::Any,
        }
    }

    /// The quantity that it finds.
    #[must_use]
    pub fn finds(self) -> Quantity {
        match self {
            Reckoning::HourForRule => Quantity::HourForRule,
            Reckoning::ThirdOfLimb(house) => Quantity::LimbForCusp(house),
            Reckoning::Count(.., finds)
            | Reckoning::RestOfTurn(_, finds)
            | Reckoning::Twelfth(_, finds)
            | Reckoning::RestOfThirty(_, finds)
            | Reckoning::Hours(_, finds)
            | Reckoning::Less(.., finds)
            | Reckoning::Sum(.., finds)
            | Reckoning::Mean(.., finds)
            | Reckoning::RestOfRight(_, finds)
            | Reckoning::FromSouth(_, finds)
            | Reckoning::ProductOfSines(.., finds)
            | Reckoning::MidDegree(.., finds) => Quantity::Found(finds),
            Reckoning::ThroughZenith(_) => Quantity::Found(Finding::ThroughZenith),
            Reckoning::Midway(.., note) => Quantity::Noted(note),
            Reckoning::InProportion(_) => Quantity::Noted(Note::Between),
            Reckoning::BetweenPlates(what) => what.quantity(),
            Reckoning::Beside(_, side) => Quantity::Engraved(side),
            Reckoning::FromEquinox(_) => Quantity::Found(Finding::FromEquinox),
            Reckoning::SideOfEquator(..) => Quantity::Found(Finding::Declination),
            Reckoning::Height(_) => Quantity::Found(Finding::TowerHeight),
            Reckoning::RectaToVersa => Quantity::Found(Finding::Versa),
        }
    }
}
