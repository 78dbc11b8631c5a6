use std::fmt;

use instrument::House;

use crate::procedure::Procedure;

/// What a step needs or finds. Every value is an angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    /// The hour angle to which the rule is set.
    HourForRule,
    /// The Sun's degree of the zodiac.
    SunDegree,
    /// The date's place on the date ring, by right ascension.
    DateOnRing,
    /// The ascendant.
    Ascendant,
    /// The midheaven.
    Midheaven,
    /// The hour angle on the limb at which the rule lies over the ascendant.
    LimbOfAscendant,
    /// The hour angle on the limb for a cusp, by thirds of the limb.
    LimbForCusp(House),
    /// A cusp as found by a procedure.
    Cusp(Procedure, House),
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Quantity::HourForRule => f.write_str("hour for the rule"),
            Quantity::SunDegree => f.write_str("Sun's degree"),
            Quantity::DateOnRing => f.write_str("place of the date on the ring"),
            Quantity::Ascendant => f.write_str("ascendant"),
            Quantity::Midheaven => f.write_str("midheaven"),
            Quantity::LimbOfAscendant => f.write_str("ascendant's degree of the limb"),
            Quantity::LimbForCusp(house) => write!(f, "limb for cusp {house}"),
            Quantity::Cusp(_, house) => write!(f, "cusp {house}"),
        }
    }
}
