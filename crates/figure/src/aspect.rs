use sky::{Angle, Apparent, Body};

use crate::{OrbTable, sign_and_degree};

/// A figure that two degrees of the zodiac make: Ptolemy, Tetrabiblos I.13, and
/// the meeting of two planets in one degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AspectKind {
    /// Together.
    Conjunction,
    /// Two signs apart.
    Sextile,
    /// Three signs apart, a quartile.
    Square,
    /// Four signs apart.
    Trine,
    /// Opposite.
    Opposition,
}

impl AspectKind {
    /// All of them.
    pub const ALL: [AspectKind; 5] = [
        AspectKind::Conjunction,
        AspectKind::Sextile,
        AspectKind::Square,
        AspectKind::Trine,
        AspectKind::Opposition,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            AspectKind::Conjunction => "conjunction",
            AspectKind::Sextile => "sextile",
            AspectKind::Square => "square",
            AspectKind::Trine => "trine",
            AspectKind::Opposition => "opposition",
        }
    }

    /// The arc between two degrees that make it.
    #[must_use]
    pub const fn arc(self) -> Angle {
        Angle::from_deg(30.0 * self.signs() as f64)
    }

    const fn signs(self) -> usize {
        match self {
            AspectKind::Conjunction => 0,
            AspectKind::Sextile => 2,
            AspectKind::Square => 3,
            AspectKind::Trine => 4,
            AspectKind::Opposition => 6,
        }
    }

    /// The aspect of the signs of two longitudes, if they have one.
    #[must_use]
    pub fn by_sign(one: Angle, other: Angle) -> Option<AspectKind> {
        let ((a, _), (b, _)) = (sign_and_degree(one), sign_and_degree(other));
        let apart = (a as usize).abs_diff(b as usize);
        let apart = apart.min(12 - apart);
        AspectKind::ALL
            .into_iter()
            .find(|kind| kind.signs() == apart)
    }
}

/// Two planets in aspect by degree, each within the moieties of their orbs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aspect {
    /// The one that moves faster.
    pub faster: Body,
    /// The other.
    pub slower: Body,
    /// Which aspect.
    pub kind: AspectKind,
    /// How much it lacks of being exact, or is past it.
    pub away: Angle,
    /// Half the sum of the two orbs.
    pub limit: Angle,
    /// Whether it grows more exact.
    pub applying: bool,
    /// Whether the signs have the same aspect; else it is out of sign.
    pub by_sign: bool,
}

impl Aspect {
    /// The aspect of two bodies, if they are in one.
    #[must_use]
    pub fn between(
        (body, place): (Body, &Apparent),
        (other, other_place): (Body, &Apparent),
        orbs: OrbTable,
    ) -> Option<Aspect> {
        let limit = orbs.moiety(body) + orbs.moiety(other);
        if limit == Angle::ZERO {
            return None;
        }
        let apart = place.longitude.to(other_place.longitude);
        let kind = AspectKind::ALL
            .into_iter()
            .find(|kind| (apart.abs() - kind.arc()).abs() <= limit)?;
        let off = apart.abs() - kind.arc();
        // How fast the arc between them grows, in a day.
        let growth = (other_place.speed - place.speed) * apart.deg().signum();
        let ((faster, _), (slower, _)) = if place.speed.abs() >= other_place.speed.abs() {
            ((body, place), (other, other_place))
        } else {
            ((other, other_place), (body, place))
        };
        Some(Aspect {
            faster,
            slower,
            kind,
            away: off.abs(),
            limit,
            applying: off.deg() * growth.deg() < 0.0,
            by_sign: AspectKind::by_sign(place.longitude, other_place.longitude) == Some(kind),
        })
    }
}

/// The degree as far before the head of Cancer or Capricorn as another is behind
/// it, which has the same day: J. Middleton, Practical Astrology (1679), I.6, p. 53.
#[must_use]
pub fn antiscion(longitude: Angle) -> Angle {
    (Angle::HALF_TURN - longitude).in_turn()
}

/// The degree opposite the antiscion, as far from the head of Aries or Libra on
/// the other side.
#[must_use]
pub fn contra_antiscion(longitude: Angle) -> Angle {
    (-longitude).in_turn()
}
