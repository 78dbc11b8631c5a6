use sky::Angle;

use crate::{Cusps, House};

/// Where a house begins to count for a planet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Border {
    /// At its cusp.
    #[default]
    Cusp,
    /// Five degrees before its cusp: Ptolemy, Tetrabiblos III.10 (tr. Ashmand 1822, III.12,
    /// p. 88), of the ascendant; G. Chaucer, A Treatise on the Astrolabe (1391),
    /// II.4, of the ascendant; J. Middleton, Practical Astrology (1679), I.9, p. 81,
    /// of the twelfth house, and W. Lilly, Christian Astrology (1647), of every house
    /// (from memory).
    FiveDegrees,
}

impl Border {
    /// Both.
    pub const ALL: [Border; 2] = [Border::Cusp, Border::FiveDegrees];

    /// `cusp` or `five-degrees`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Border::Cusp => "cusp",
            Border::FiveDegrees => "five-degrees",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Border::Cusp => "common practice",
            Border::FiveDegrees => {
                "Chaucer, A Treatise on the Astrolabe (1391), II.4; Middleton, Practical Astrology (1679), p. 81; Ptolemy, Tetrabiblos III.10 (tr. Ashmand 1822, p. 88); Lilly, Christian Astrology (1647; from memory)"
            }
        }
    }

    /// How far before its cusp a house begins.
    #[must_use]
    pub const fn lead(self) -> Angle {
        match self {
            Border::Cusp => Angle::ZERO,
            Border::FiveDegrees => Angle::from_deg(5.0),
        }
    }

    /// The house that a longitude counts with.
    #[must_use]
    pub fn house_of(self, cusps: &Cusps, longitude: Angle) -> House {
        let house = cusps.house_of(longitude);
        let next = house.next();
        let to_next = (cusps.get(next) - longitude).in_turn();
        match self {
            Border::Cusp => house,
            // The border itself belongs to the house it begins, as a cusp does.
            Border::FiveDegrees if to_next <= self.lead() => next,
            Border::FiveDegrees => house,
        }
    }

    /// Where a house begins to count.
    #[must_use]
    pub fn of_house(self, cusps: &Cusps, house: House) -> Angle {
        (cusps.get(house) - self.lead()).in_turn()
    }
}
