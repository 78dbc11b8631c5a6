use instrument::{CurveLeg, Pick, ZodiacRing};

use crate::finding::Finding;
use crate::quantity::Quantity;

/// What is read among the lines that some backs bear in their field, by the alidade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnBack {
    /// The Sun's altitude at noon: the alidade laid over the place where the curve of a
    /// latitude crosses the arc of the Sun's degree.
    NoonAltitude,
    /// The Sun's altitude in the direction of Mecca: the alidade laid over the place where the
    /// qibla curve of a place crosses the arc of the Sun's degree.
    TowardsMecca {
        /// The leg of the curve that crosses it.
        leg: CurveLeg,
        /// What is found.
        finds: Finding,
    },
    /// The hour: the alidade set to the altitude that was seen, and the hour read among the
    /// equal-hour lines where it crosses the arc of the Sun's degree.
    EqualHour(Pick),
    /// The sine of an angle, in sixtieths of the radius.
    Sine {
        /// The angle, 0° to 90°.
        of: SineOf,
        /// What is found.
        finds: Finding,
    },
    /// The angle of a sine, in sixtieths of the radius.
    ArcOfSine {
        /// The sine.
        of: Quantity,
        /// What is found.
        finds: Finding,
    },
    /// The shadow of an upright gnomon at the altitude that was seen.
    Shadow(Gnomon),
    /// The part of a ring of the zodiac in which the degree that is told lies.
    Part(ZodiacRing),
}

/// Of what a sine is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SineOf {
    /// What was found before.
    Found(Finding),
    /// The obliquity for which the instrument is made.
    Obliquity,
}

/// A gnomon by whose parts a shadow is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gnomon {
    /// Of twelve digits: the scale on the right.
    Digits,
    /// Of seven feet: the scale on the left.
    Feet,
}

impl Gnomon {
    /// How many parts it is high.
    #[must_use]
    pub const fn parts(self) -> u8 {
        match self {
            Gnomon::Digits => 12,
            Gnomon::Feet => 7,
        }
    }
}

impl OnBack {
    /// The quantity that it finds.
    #[must_use]
    pub fn finds(self) -> Quantity {
        match self {
            OnBack::NoonAltitude => Quantity::Found(Finding::NoonAltitude),
            OnBack::EqualHour(_) => Quantity::Found(Finding::Hour),
            OnBack::TowardsMecca { finds, .. }
            | OnBack::Sine { finds, .. }
            | OnBack::ArcOfSine { finds, .. } => Quantity::Found(finds),
            OnBack::Shadow(Gnomon::Digits) => Quantity::Found(Finding::ShadowDigits),
            OnBack::Shadow(Gnomon::Feet) => Quantity::Found(Finding::ShadowFeet),
            OnBack::Part(ring) => Quantity::PartBegins(ring),
        }
    }
}
