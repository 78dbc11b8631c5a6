use sky::{Angle, Body, Sign};

use crate::{AspectKind, Dignity, House, OrbTable, Planet};

/// Something that holds at one time and not at another, at a place.
///
/// Degrees are those of a figure: apparent longitudes, and for what rises the degree, not
/// the body itself, which by its latitude may rise some minutes sooner or later.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Condition {
    /// The ascendant stands in an arc of the zodiac.
    Ascendant(Arc),
    /// The midheaven stands in an arc of the zodiac.
    Midheaven(Arc),
    /// A body stands in an arc of the zodiac.
    Stands(Body, Arc),
    /// A body's degree is within so much of an angle of the figure.
    OnAngle(Body, FigureAngle, Angle),
    /// A body stands in a house, by the method and the border that are chosen.
    InHouse(Body, House),
    /// The Moon is between new and full.
    Waxing,
    /// Two bodies are in aspect.
    InAspect(AspectSought),
    /// The Moon has made her last exact aspect, of the five, with any other of the seven
    /// before she leaves her sign: W. Lilly, Christian Astrology (1647), p. 112 (from
    /// memory); J. Middleton, Practical Astrology (1679), who has her so from the last
    /// aspect to the sign's end.
    VoidOfCourse,
    /// The unequal hour is a planet's.
    HourOf(Planet),
    /// The day, from sunrise to sunrise, is a planet's.
    DayOf(Planet),
    /// A body moves forward.
    Direct(Body),
    /// A planet has one of its dignities, or one of the weaknesses.
    Has(Planet, Dignity),
    /// A planet has any of the five dignities.
    Dignified(Planet),
    /// A planet is within the limits of the Sun's beams, its combustion and heart included.
    UnderBeams(Planet),
    /// A planet is combust, or in the heart of the Sun.
    Combust(Planet),
    /// The Sun's centre is above the true horizon.
    ByDay,
}

/// An arc of the zodiac, onward from its beginning, which belongs to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Where it begins.
    pub begins: Angle,
    /// How long it is, less than a turn.
    pub length: Angle,
}

impl Arc {
    /// A whole sign.
    #[must_use]
    pub fn sign(sign: Sign) -> Arc {
        Arc {
            begins: sign.begins(),
            length: Angle::from_deg(30.0),
        }
    }

    /// So much either way of a degree.
    #[must_use]
    pub fn about(degree: Angle, orb: Angle) -> Arc {
        Arc {
            begins: (degree - orb).in_turn(),
            length: orb * 2.0,
        }
    }

    /// Where it ends.
    #[must_use]
    pub fn ends(self) -> Angle {
        (self.begins + self.length).in_turn()
    }

    /// Whether a degree lies in it.
    #[must_use]
    pub fn holds(self, degree: Angle) -> bool {
        (degree - self.begins).in_turn() < self.length
    }
}

/// The four angles of a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureAngle {
    /// In the east.
    Ascendant,
    /// On the meridian.
    Midheaven,
    /// In the west, opposite the ascendant.
    Descendant,
    /// Opposite the midheaven.
    LowerMidheaven,
}

/// An aspect that is sought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AspectSought {
    /// One of the two.
    pub one: Body,
    /// The other.
    pub other: Body,
    /// Which aspect; any of the five where none is named.
    pub kind: Option<AspectKind>,
    /// Whether it must grow more exact, or less; either where nothing is said.
    pub applying: Option<bool>,
    /// How far from exact it may be.
    pub within: Within,
}

/// How far from exact an aspect may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Within {
    /// So much.
    Orb(Angle),
    /// Half the sum of the two planets' orbs, by a table.
    Moieties(OrbTable),
}

impl AspectSought {
    /// How far from exact it may be.
    #[must_use]
    pub fn orb(&self) -> Angle {
        match self.within {
            Within::Orb(orb) => orb,
            Within::Moieties(table) => table.moiety(self.one) + table.moiety(self.other),
        }
    }

    /// The aspects that would do.
    pub fn kinds(&self) -> impl Iterator<Item = AspectKind> + '_ {
        let all = AspectKind::ALL.into_iter();
        all.filter(|kind| self.kind.is_none_or(|wanted| wanted == *kind))
    }
}
