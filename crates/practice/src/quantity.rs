use std::fmt;

use instrument::{House, ZodiacRing};

use crate::finding::Finding;
use crate::measure::Measure;
use crate::procedure::Procedure;
use crate::sight::{Sighting, Stated};

/// What a step needs or finds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    /// The hour angle to which the rule is set.
    HourForRule,
    /// The Sun's degree of the zodiac.
    SunDegree,
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
    /// What is read on one of two plates between which the place's latitude lies.
    On(WhichPlate, OnPlate),
    /// What is seen.
    Seen(Sighting),
    /// What is told with the question.
    Stated(Stated),
    /// Where the almuri stood, noted on the way: first, second, midway.
    Noted(Note),
    /// An engraved almucantar beside an altitude.
    Engraved(Beside),
    /// Where the part of a ring of the back begins in which a degree lies.
    PartBegins(ZodiacRing),
    /// What an operation is for.
    Found(Finding),
}

/// One of two plates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WhichPlate {
    /// The one nearest the place's latitude.
    First,
    /// The one on its other side.
    Second,
}

/// What differs from plate to plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OnPlate {
    /// The ascendant.
    Ascendant,
    /// A cusp as found by a procedure.
    Cusp(Procedure, House),
}

impl OnPlate {
    /// The same for the place itself.
    #[must_use]
    pub fn quantity(self) -> Quantity {
        match self {
            OnPlate::Ascendant => Quantity::Ascendant,
            OnPlate::Cusp(procedure, house) => Quantity::Cusp(procedure, house),
        }
    }
}

impl fmt::Display for WhichPlate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            WhichPlate::First => "first",
            WhichPlate::Second => "second",
        })
    }
}

/// A place of the almuri noted on the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Note {
    /// The first.
    First,
    /// The second.
    Second,
    /// Between them.
    Between,
}

/// On which side of an altitude an engraved almucantar lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Beside {
    /// The nearest below, or the altitude's own.
    Below,
    /// The next above.
    Above,
}

impl Quantity {
    /// Whether it is what an operation is for, wherever it is found, and no mere stage.
    pub(crate) fn is_an_end(self) -> bool {
        match self {
            Quantity::Found(_)
            | Quantity::Ascendant
            | Quantity::Midheaven
            | Quantity::Cusp(..)
            | Quantity::PartBegins(_) => true,
            Quantity::HourForRule
            | Quantity::SunDegree
            | Quantity::LimbOfAscendant
            | Quantity::LimbForCusp(_)
            | Quantity::On(..)
            | Quantity::Seen(_)
            | Quantity::Stated(_)
            | Quantity::Noted(_)
            | Quantity::Engraved(_) => false,
        }
    }

    /// What kind of number it is.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Quantity::HourForRule => Measure::TimeOfDay,
            Quantity::SunDegree
            | Quantity::Ascendant
            | Quantity::Midheaven
            | Quantity::Cusp(..)
            | Quantity::On(..)
            | Quantity::PartBegins(_) => Measure::Degree,
            Quantity::LimbOfAscendant | Quantity::LimbForCusp(_) | Quantity::Noted(_) => {
                Measure::Arc
            }
            Quantity::Engraved(_) => Measure::Height,
            Quantity::Seen(sight) => sight.measure(),
            Quantity::Stated(stated) => stated.measure(),
            Quantity::Found(finding) => finding.measure(),
        }
    }

    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Quantity::HourForRule => "hour-for-rule".to_owned(),
            Quantity::SunDegree => "sun-degree".to_owned(),
            Quantity::Ascendant => "ascendant".to_owned(),
            Quantity::Midheaven => "midheaven".to_owned(),
            Quantity::LimbOfAscendant => "limb-of-ascendant".to_owned(),
            Quantity::LimbForCusp(house) => format!("limb-for-cusp-{house}"),
            Quantity::Cusp(_, house) => format!("cusp-{house}"),
            Quantity::On(plate, what) => format!("{}-on-{plate}-plate", what.quantity().name()),
            Quantity::Noted(Note::First) => "first-place".to_owned(),
            Quantity::Noted(Note::Second) => "second-place".to_owned(),
            Quantity::Noted(Note::Between) => "place-between".to_owned(),
            Quantity::Engraved(Beside::Below) => "almucantar-below".to_owned(),
            Quantity::Engraved(Beside::Above) => "almucantar-above".to_owned(),
            Quantity::Seen(sight) => sight.name().to_owned(),
            Quantity::Stated(stated) => stated.name().to_owned(),
            Quantity::PartBegins(ring) => format!("begins-in-{}", ring.name()),
            Quantity::Found(finding) => finding.name().to_owned(),
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Quantity::HourForRule => f.write_str("hour for the rule"),
            Quantity::SunDegree => f.write_str("Sun's degree"),
            Quantity::Ascendant => f.write_str("ascendant"),
            Quantity::Midheaven => f.write_str("midheaven"),
            Quantity::LimbOfAscendant => f.write_str("ascendant's degree of the limb"),
            Quantity::LimbForCusp(house) => write!(f, "limb for cusp {house}"),
            Quantity::Cusp(_, house) => write!(f, "cusp {house}"),
            Quantity::On(plate, what) => write!(f, "{} on the {plate} plate", what.quantity()),
            Quantity::Noted(Note::First) => f.write_str("first place of the almuri"),
            Quantity::Noted(Note::Second) => f.write_str("second place of the almuri"),
            Quantity::Noted(Note::Between) => f.write_str("place between them"),
            Quantity::Engraved(Beside::Below) => f.write_str("almucantar below"),
            Quantity::Engraved(Beside::Above) => f.write_str("almucantar above"),
            Quantity::Seen(sight) => f.write_str(sight.words()),
            Quantity::Stated(stated) => f.write_str(&stated.name().replace('-', " ")),
            Quantity::PartBegins(ring) => {
                write!(f, "beginning of its part in the ring of {}", ring.called())
            }
            Quantity::Found(finding) => write!(f, "{finding}"),
        }
    }
}
