use instrument::{LineId, Pick};

use crate::procedure::Procedure;
use crate::quantity::Quantity;

/// Something done with an instrument, as steps: data, so that it can be printed,
/// played, typeset, and carried out again under other conditions.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// What it is for, in a few words.
    pub title: &'static str,
    /// What is done, in order.
    pub steps: Vec<Step>,
}

/// One step of an operation.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is done.
    pub act: Act,
    /// The cusp procedure it belongs to; `None` for what all of them share.
    pub procedure: Option<Procedure>,
}

/// What is done in a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// A sum on paper.
    Reckon(Reckoning),
    /// The plate nearest the place's latitude is laid in.
    ChoosePlate,
    /// The alidade is turned onto the date on the calendar scale, and the Sun's
    /// degree read under it on the zodiac scale.
    ReadSunDegree,
    /// The rule is turned onto an hour angle on the limb.
    TurnRuleOnto(Quantity),
    /// The rule is turned over a degree of the ecliptic, and the limb read under its edge.
    ReadLimb {
        /// The degree.
        over: Quantity,
        /// What is found.
        finds: Quantity,
    },
    /// The rete is turned until one of its places lies on a line.
    TurnRete {
        /// The place.
        what: Brought,
        /// The line.
        onto: LineId,
        /// Which way.
        sense: Sense,
    },
    /// The rete is brought back to where the Sun was set, or the rule to the hour.
    Return,
    /// The ecliptic is read where it crosses a line.
    ReadEcliptic {
        /// The line.
        at: LineId,
        /// Which of the crossings.
        pick: Pick,
        /// What is found.
        finds: Quantity,
    },
}

/// A place of the rete, in the terms of an operation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Brought {
    /// The Sun, as the instrument has it: its degree on the ecliptic or its date on the ring.
    Sun,
    /// A degree found before.
    Degree(Quantity),
    /// The degree opposite to one found before.
    Opposite(Quantity),
}

/// Which way the rete is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// The short way.
    Either,
    /// Against the daily motion.
    Back,
    /// With the daily motion.
    Onward,
}

/// A sum done on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reckoning {
    /// From the clock to the hour for the rule.
    HourForRule,
    /// From the ascendant's degree of the limb to the place of a cusp on the limb.
    ThirdOfLimb(instrument::House),
}
