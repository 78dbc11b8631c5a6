use instrument::{LineId, Pick};

use crate::finding::Finding;
use crate::on_back::OnBack;
use crate::procedure::Procedure;
use crate::quantity::{Beside, Note, OnPlate, Quantity};
use crate::sight::Sighting;

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
    /// Rete and plate are taken out, and the plate on the other side of the place's
    /// latitude is laid in.
    ExchangePlate,
    /// The alidade is turned onto the date on the calendar scale, and the Sun's
    /// degree read under it on the zodiac scale.
    ReadSunDegree,
    /// The rule is turned onto an hour angle on the limb.
    TurnRuleOnto(Quantity),
    /// The rule is turned over a place of the rete, and the limb read under its edge.
    ReadLimb {
        /// The place.
        over: RetePlace,
        /// What is found.
        finds: Quantity,
    },
    /// The rete is turned until one of its places lies on a line.
    TurnRete {
        /// The place.
        what: RetePlace,
        /// The line.
        onto: LineId,
        /// Where on the line, if it meets it in more than one place.
        pick: Pick,
        /// Which way.
        sense: Sense,
    },
    /// The rete is turned until one of its places has an altitude.
    TurnReteToAltitude {
        /// The place.
        what: RetePlace,
        /// The altitude.
        altitude: Quantity,
        /// In which half of the plate.
        side: Pick,
    },
    /// The rete is turned until the almuri stands at a place of the limb noted before.
    TurnAlmuriOnto(Quantity),
    /// The limb is read under the almuri.
    ReadAlmuri {
        /// What is found.
        finds: Quantity,
    },
    /// The rete is turned until the ecliptic crosses the meridian line at an
    /// altitude, and the degree that is there read.
    TurnEclipticToAltitude {
        /// The altitude.
        altitude: Quantity,
        /// Which of the two such degrees.
        which: WhichDegree,
        /// What is found.
        finds: Quantity,
    },
    /// An altitude is read among the almucantars.
    ReadAltitude {
        /// The place whose altitude it is.
        of: Spot,
        /// What is found.
        finds: Quantity,
    },
    /// An azimuth is read among the azimuth lines.
    ReadAzimuth {
        /// The place of the rete whose azimuth it is.
        of: RetePlace,
        /// What is found.
        finds: Quantity,
    },
    /// The ecliptic is read where it has an altitude.
    ReadEclipticAtAltitude {
        /// The altitude.
        altitude: Quantity,
        /// In which half of the plate.
        side: Pick,
        /// What is found.
        finds: Quantity,
    },
    /// The unequal hour is read among the hour lines: under the Sun by night,
    /// under its opposite by day.
    ReadUnequalHour {
        /// What is found.
        finds: Quantity,
    },
    /// Something is read among the lines of the back's field.
    ReadOnBack(OnBack),
    /// A planet's place is marked with wax on the rete, from its degree and latitude.
    Wax(Along),
    /// Something is seen: through the sights of the alidade, or on a board.
    Observe(Sighting),
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
pub enum RetePlace {
    /// The Sun, as the instrument has it: its degree on the ecliptic or its date on the ring.
    Sun,
    /// A degree found before.
    Degree(Quantity),
    /// The degree opposite to one found before.
    Opposite(Quantity),
    /// The degree opposite the Sun.
    OppositeSun,
    /// The pointer of the star asked about.
    Star,
    /// What has been marked with wax.
    Waxed,
}

/// A place whose altitude is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// A place of the rete.
    OnRete(RetePlace),
    /// The pole, in the middle of the plate.
    Pole,
    /// Where the equator crosses the meridian line.
    EquatorAtNoon,
}

/// Which of two degrees of equal declination is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhichDegree {
    /// The one in the season that it is.
    InSeason,
    /// The other one than this.
    Not(Quantity),
}

/// How a planet's latitude is laid off from its degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Along {
    /// On the circle of latitude, towards the ecliptic's pole: as it is defined.
    CircleOfLatitude,
    /// Along the rule, on the hour circle: the treatise's way, and rough.
    Rule,
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
    /// The arc of the limb from one place to another, onward.
    Count(Quantity, Quantity, Finding),
    /// What is left of the whole limb.
    RestOfTurn(Quantity, Finding),
    /// A twelfth.
    Twelfth(Quantity, Finding),
    /// What is left of 30°.
    RestOfThirty(Quantity, Finding),
    /// As many unequal hours as are told, of this length.
    Hours(Quantity, Finding),
    /// The first less the second.
    Less(Quantity, Quantity, Finding),
    /// The first and the second together.
    Sum(Quantity, Quantity, Finding),
    /// Half the sum.
    Mean(Quantity, Quantity, Finding),
    /// What is left of a right angle.
    RestOfRight(Quantity, Finding),
    /// What is seen beyond the zenith, counted on through it: what is left of half a turn.
    ThroughZenith(Sighting),
    /// From south by west instead of from north by east.
    FromSouth(Quantity, Finding),
    /// Midway along the limb, onward from the first to the second.
    Midway(Quantity, Quantity, Note),
    /// The almuri's place between two, as the altitude lies between two almucantars.
    InProportion(Sighting),
    /// From what was read on one plate and on another, in proportion to the latitude.
    BetweenPlates(OnPlate),
    /// The engraved almucantar beside an altitude.
    Beside(Sighting, Beside),
    /// Midway in the zodiac, onward from one degree to another.
    MidDegree(Quantity, Quantity, Finding),
    /// How far a degree is from the nearer equinox, 0° to 90°.
    FromEquinox(Quantity),
    /// The product of two sines, of which the whole is sixty parts, divided by the whole.
    ProductOfSines(Quantity, Quantity, Finding),
    /// A declination of this size, north in the northern signs and south in the southern:
    /// the size, and the degree.
    SideOfEquator(Quantity, Quantity),
    /// A height from what was seen on the shadow square.
    Height(Tower),
    /// Points of umbra recta into points of umbra versa: 144 divided by them.
    RectaToVersa,
}

/// A way of finding a height by the shadow square.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tower {
    /// The foot can be reached, the alidade cuts umbra recta: distance × 12/points.
    Recta,
    /// The foot can be reached, it cuts umbra versa: distance × points/12.
    Versa,
    /// Two stations, umbra recta: the way between × 12/(difference of the points).
    RectaTwice,
    /// Two stations, umbra versa: the way between/(difference of 12/points).
    VersaTwice,
}
