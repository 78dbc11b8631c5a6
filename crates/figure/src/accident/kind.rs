use sky::Angle;

use crate::{AspectKind, House, Planet, UnderSun};

/// Something that befalls a planet, and that some book counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Accident {
    /// It stands in a house.
    House(House),
    /// It goes forward. Not said of Sun and Moon, which always do.
    Direct,
    /// It goes backward.
    Retrograde,
    /// Faster than its mean motion.
    Swift,
    /// Slower.
    Slow,
    /// Saturn, Jupiter and Mars rise before the Sun, Venus and Mercury set after it, the
    /// Moon waxes.
    RisesOnItsSide,
    /// The other way about.
    RisesOnTheOther,
    /// Neither combust nor under the beams.
    FreeOfBeams,
    /// In the heart of the Sun.
    Heart,
    /// Combust.
    Combust,
    /// Under the beams.
    UnderBeams,
    /// Between the bodies of Saturn and Mars, no other between, and those two less than a
    /// sign apart. The printed examples all lie within a sign (Middleton 1679, p. 72).
    Besieged,
    /// In the same degree of the signs as another, by an aspect (common practice).
    Partile(AspectKind, Planet),
    /// In one degree with the north node.
    NorthNode,
    /// In one degree with the south node.
    SouthNode,
    /// With a star.
    With(PointedStar),
    /// In a term of another planet's.
    TermOf(Planet),
}

/// A star that the tables of accidents name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "the names say it")]
pub enum PointedStar {
    Regulus,
    Spica,
    Algol,
}

impl PointedStar {
    /// All of them.
    pub const ALL: [PointedStar; 3] =
        [PointedStar::Regulus, PointedStar::Spica, PointedStar::Algol];

    /// Its number in the Hipparcos catalogue.
    pub(super) const fn hip(self) -> &'static str {
        match self {
            PointedStar::Regulus => "HIP 49669",
            PointedStar::Spica => "HIP 65474",
            PointedStar::Algol => "HIP 14576",
        }
    }

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            PointedStar::Regulus => "Regulus",
            PointedStar::Spica => "Spica",
            PointedStar::Algol => "Algol",
        }
    }

    /// How near in longitude it counts: a degree, and Algol five (Lilly, Christian
    /// Astrology, 1647, p. 115; from memory).
    #[must_use]
    pub const fn within(self) -> Angle {
        match self {
            PointedStar::Regulus | PointedStar::Spica => Angle::from_deg(1.0),
            PointedStar::Algol => Angle::from_deg(5.0),
        }
    }
}

impl Accident {
    /// In words, as said of a planet.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Accident::House(house) => format!("in house {house}"),
            Accident::Direct => "direct".to_owned(),
            Accident::Retrograde => "retrograde".to_owned(),
            Accident::Swift => "swift".to_owned(),
            Accident::Slow => "slow".to_owned(),
            Accident::RisesOnItsSide => "on its own side of the Sun".to_owned(),
            Accident::RisesOnTheOther => "on the other side of the Sun".to_owned(),
            Accident::FreeOfBeams => "free of the Sun’s beams".to_owned(),
            Accident::Heart => UnderSun::Heart.name().to_owned(),
            Accident::Combust => UnderSun::Combust.name().to_owned(),
            Accident::UnderBeams => UnderSun::Beams.name().to_owned(),
            Accident::Besieged => "besieged by Saturn and Mars".to_owned(),
            Accident::Partile(kind, planet) => format!("partile {} of {planet}", kind.name()),
            Accident::NorthNode => "with the north node".to_owned(),
            Accident::SouthNode => "with the south node".to_owned(),
            Accident::With(star) => format!("with {}", star.name()),
            Accident::TermOf(planet) => format!("in a term of {planet}"),
        }
    }
}
