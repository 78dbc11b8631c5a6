//! What an act finds, and what it turns.

use crate::finding::Finding;
use crate::operation::{Act, Reckoning, RetePlace};
use crate::quantity::{Note, Quantity};

impl Act {
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

impl Reckoning {
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
