use sky::Angle;

use crate::form::ZodiacRing;

/// A ring of the zodiac about the back's field as it is engraved.
#[derive(Clone, Debug, PartialEq)]
pub struct EngravedRing {
    /// What it is a ring of.
    pub ring: ZodiacRing,
    /// Its parts, from the head of Aries.
    pub parts: Vec<RingPart>,
}

/// A part of a ring of the zodiac.
#[derive(Clone, Debug, PartialEq)]
pub struct RingPart {
    /// The degree at which it begins.
    pub begins: Angle,
    /// How much of the zodiac it takes.
    pub breadth: Angle,
    /// What stands in it: a planet's name, or a mansion's number and name.
    pub bears: String,
}

impl EngravedRing {
    /// The part in which a degree of the zodiac lies; a boundary belongs to the part that
    /// begins there.
    #[must_use]
    pub fn part_of(&self, longitude: Angle) -> Option<&RingPart> {
        let turned = longitude.in_turn();
        let mut parts = self.parts.iter().rev();
        parts.find(|part| part.begins <= turned)
    }
}
