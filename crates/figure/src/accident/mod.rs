//! The accidental dignities and debilities: what house, motion, light and company give or
//! take from a planet, whatever its sign.

mod fortune;
mod points;
mod standing;

use sky::{Angle, Sky, star_named};

pub use fortune::FortuneState;
pub use points::AccidentPoints;
pub use standing::{Standing, joy_of};

use crate::{AspectKind, Figure, House, Placed, Planet, UnderSun, sign_and_degree};

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
    const fn hip(self) -> &'static str {
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

impl Figure {
    /// What befalls a planet of the figure, in the order of the printed tables.
    #[must_use]
    pub fn accidents(&self, sky: &Sky, planet: Planet) -> Vec<Accident> {
        let Some(placed) = self.body(planet.body()) else {
            return Vec::new();
        };
        let mut found: Vec<Accident> = placed.house.map(Accident::House).into_iter().collect();
        let light = matches!(planet, Planet::Sun | Planet::Moon);
        if placed.motion.retrograde {
            found.push(Accident::Retrograde);
        } else if !light {
            found.push(Accident::Direct);
        }
        found.extend(placed.motion.swift.map(|swift| {
            if swift {
                Accident::Swift
            } else {
                Accident::Slow
            }
        }));
        if planet != Planet::Sun {
            let rises_before = is_oriental(placed.place.longitude, sky.sun().longitude);
            let its_side = match planet {
                Planet::Saturn | Planet::Jupiter | Planet::Mars => rises_before,
                Planet::Sun | Planet::Venus | Planet::Mercury | Planet::Moon => !rises_before,
            };
            found.push(if its_side {
                Accident::RisesOnItsSide
            } else {
                Accident::RisesOnTheOther
            });
            found.push(match placed.under_sun {
                None => Accident::FreeOfBeams,
                Some(UnderSun::Heart) => Accident::Heart,
                Some(UnderSun::Combust) => Accident::Combust,
                Some(UnderSun::Beams) => Accident::UnderBeams,
            });
        }
        if self.is_besieged(planet) {
            found.push(Accident::Besieged);
        }
        found.extend(self.partiles(placed));
        let near = |degree: Angle| same_degree(placed.place.longitude, degree);
        if near(self.north_node.0) {
            found.push(Accident::NorthNode);
        }
        if near(self.north_node.0 + Angle::HALF_TURN) {
            found.push(Accident::SouthNode);
        }
        for star in PointedStar::ALL {
            let at = star_named(star.hip()).map(|known| sky.star(known).longitude);
            if at.is_ok_and(|at| placed.place.longitude.to(at).abs() <= star.within()) {
                found.push(Accident::With(star));
            }
        }
        let term = placed.dignities.as_ref().map(|one| one.rulers().term);
        found.extend(term.filter(|term| *term != planet).map(Accident::TermOf));
        found
    }

    /// Whether a planet stands between Saturn and Mars.
    fn is_besieged(&self, planet: Planet) -> bool {
        let longitude = |one: Planet| self.body(one.body()).map(|body| body.place.longitude);
        let Some(own) = longitude(planet) else {
            return false;
        };
        let next = |onward: bool| {
            let others = Planet::ALL.into_iter().filter(|one| *one != planet);
            others
                .filter_map(|one| {
                    let away = longitude(one)? - own;
                    let away = if onward { away } else { -away };
                    Some((away.in_turn(), one))
                })
                .min_by(|a, b| a.0.deg().total_cmp(&b.0.deg()))
        };
        let (Some((before, behind)), Some((after, ahead))) = (next(false), next(true)) else {
            return false;
        };
        matches!(
            (behind, ahead),
            (Planet::Saturn, Planet::Mars) | (Planet::Mars, Planet::Saturn)
        ) && before + after < Angle::from_deg(30.0)
    }

    fn partiles(&self, placed: &Placed) -> Vec<Accident> {
        let mut found = Vec::new();
        for other in Planet::ALL.into_iter().map(Planet::body) {
            let Some(there) = self.body(other).filter(|_| other != placed.body) else {
                continue;
            };
            let Some(planet) = Planet::of(other) else {
                continue;
            };
            let (own, its) = (placed.place.longitude, there.place.longitude);
            let kind = AspectKind::by_sign(own, its);
            if let Some(kind) = kind
                && whole_degree(own) == whole_degree(its)
            {
                found.push(Accident::Partile(kind, planet));
            }
        }
        found
    }
}

/// Whether a body rises before the Sun: it stands behind it in the order of the signs.
pub(crate) fn is_oriental(longitude: Angle, sun: Angle) -> bool {
    (sun - longitude).in_turn() < Angle::HALF_TURN
}

/// The whole degrees of its sign that a longitude has.
fn whole_degree(longitude: Angle) -> u8 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a degree within a sign"
    )]
    let whole = sign_and_degree(longitude).1.floor() as u8;
    whole
}

/// Whether two longitudes are in the same degree of the same sign.
fn same_degree(one: Angle, other: Angle) -> bool {
    sign_and_degree(one).0 == sign_and_degree(other).0 && whole_degree(one) == whole_degree(other)
}
