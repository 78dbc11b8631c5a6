use instrument::{LineId, Point, State};
use sky::Angle;

use super::reading::{NoReading, Reading};
use crate::operation::{Act, RetePlace, Sense};
use crate::procedure::Procedure;
use crate::quantity::Quantity;

/// A step carried out.
#[derive(Clone, Debug)]
pub struct Done {
    /// What was done.
    pub act: Act,
    /// The cusp procedure it belongs to; `None` for what all of them share.
    pub procedure: Option<Procedure>,
    /// How the parts stood before.
    pub before: State,
    /// How they stand after.
    pub after: State,
    /// The lines to look at.
    pub lines: Vec<LineId>,
    /// How finely the rete or the rule is set, as a turn of it; zero where nothing
    /// is set or nothing is rounded.
    pub sets_to: Angle,
    /// What has been marked with wax on the rete, in its own frame.
    pub waxed: Option<Point>,
    /// What was found, or why nothing was; `None` where nothing is read.
    pub outcome: Option<Result<(Quantity, Reading), NoReading>>,
}

impl Done {
    /// Whether this is the step in which the Sun is brought under the rule.
    #[must_use]
    pub fn is_setting_of_the_sun(&self) -> bool {
        matches!(
            self.act,
            Act::TurnRete {
                what: RetePlace::Sun,
                ..
            }
        )
    }

    /// How far the rete was turned: positive onward, with the daily motion,
    /// negative back.
    #[must_use]
    pub fn rete_turn(&self) -> Angle {
        if let Act::TurnRete { sense, .. } = &self.act {
            sense.turn(self.before.rete, self.after.rete)
        } else {
            self.before.rete.to(self.after.rete)
        }
    }
}

impl Sense {
    /// The turn from one position of the rete to another, in this sense.
    fn turn(self, from: Angle, to: Angle) -> Angle {
        match self {
            Sense::Either => from.to(to),
            Sense::Onward => (to - from).in_turn(),
            Sense::Back => -(from - to).in_turn(),
        }
    }
}
