use super::kind::{Accident, PointedStar};
use crate::{AspectKind, House, Planet};

/// Whose table of the points of accidental dignities and debilities.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum AccidentPoints {
    /// W. Lilly, Christian Astrology (1647), p. 115 (from memory), which W. Ramesey,
    /// Astrologia Restaurata (1653), pp. 66–67, has too.
    #[default]
    Lilly,
    /// J. Middleton, Practical Astrology (1679), I.7, p. 63. Its 8 off for a planet under
    /// the beams is no doubt a misprint; Lilly's 4 are taken.
    Middleton,
}

impl AccidentPoints {
    /// Both.
    pub const ALL: [AccidentPoints; 2] = [AccidentPoints::Lilly, AccidentPoints::Middleton];

    /// `lilly` or `middleton`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            AccidentPoints::Lilly => "lilly",
            AccidentPoints::Middleton => "middleton",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            AccidentPoints::Lilly => {
                "Lilly, Christian Astrology (1647), p. 115 (from memory); Ramesey, Astrologia Restaurata (1653), pp. 66–67"
            }
            AccidentPoints::Middleton => {
                "Middleton, Practical Astrology (1679), p. 63; 4 for the misprinted 8 under the beams"
            }
        }
    }

    /// The points of an accident; none where the book does not count it.
    #[must_use]
    pub const fn of(self, accident: Accident) -> Option<i32> {
        let middleton = matches!(self, AccidentPoints::Middleton);
        Some(match accident {
            Accident::House(house) => match house {
                House::I | House::X => 5,
                House::VII | House::IV | House::XI => 4,
                House::II | House::V => 3,
                House::IX => 2,
                House::III => 1,
                House::XII => -5,
                House::VIII | House::VI => {
                    if middleton {
                        -4
                    } else {
                        -2
                    }
                }
            },
            Accident::Direct => 4,
            Accident::Retrograde => -5,
            Accident::Swift => 2,
            Accident::Slow => -2,
            Accident::RisesOnItsSide => 2,
            Accident::RisesOnTheOther => -2,
            Accident::FreeOfBeams | Accident::Heart => 5,
            Accident::Combust => -5,
            Accident::UnderBeams => -4,
            Accident::Besieged => -5,
            Accident::Partile(kind, planet) => return self.partile(kind, planet),
            Accident::NorthNode => {
                if middleton {
                    5
                } else {
                    4
                }
            }
            Accident::SouthNode => -4,
            Accident::With(PointedStar::Regulus) => {
                if middleton {
                    return None;
                }
                6
            }
            Accident::With(PointedStar::Spica) => 5,
            Accident::With(PointedStar::Algol) => -5,
            Accident::TermOf(planet) => {
                if !middleton {
                    return None;
                }
                match planet {
                    Planet::Jupiter | Planet::Venus => 1,
                    Planet::Saturn | Planet::Mars => -1,
                    Planet::Sun | Planet::Mercury | Planet::Moon => return None,
                }
            }
        })
    }

    const fn partile(self, kind: AspectKind, planet: Planet) -> Option<i32> {
        let middleton = matches!(self, AccidentPoints::Middleton);
        match planet {
            Planet::Jupiter | Planet::Venus => match kind {
                AspectKind::Conjunction => Some(5),
                AspectKind::Trine => Some(4),
                AspectKind::Sextile if middleton => None,
                AspectKind::Sextile => Some(3),
                AspectKind::Square | AspectKind::Opposition => None,
            },
            Planet::Saturn | Planet::Mars => match kind {
                AspectKind::Conjunction if middleton => Some(-4),
                AspectKind::Conjunction => Some(-5),
                AspectKind::Opposition if middleton => Some(-5),
                AspectKind::Opposition => Some(-4),
                AspectKind::Square => Some(-3),
                AspectKind::Sextile | AspectKind::Trine => None,
            },
            Planet::Sun | Planet::Mercury | Planet::Moon => None,
        }
    }
}
