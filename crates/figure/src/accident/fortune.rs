use sky::{Angle, Sign};

use super::kind::PointedStar;
use super::near::{same_degree, whole_degree};
use crate::{AspectKind, House, Planet};

/// What is counted of the lot of Fortune: J. Middleton, Practical Astrology (1679), I.12,
/// p. 93, as transcribed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FortuneState {
    /// In a sign.
    In(Sign),
    /// In a house.
    House(House),
    /// Combust, or not.
    Combust(bool),
    /// In the same degree of the signs as a planet, by an aspect.
    Partile(AspectKind, Planet),
    /// In one degree with the north node, or else the south node.
    Node(bool),
    /// With a star.
    With(PointedStar),
    /// In a term of Saturn or Mars.
    TermOf(Planet),
}

impl FortuneState {
    /// Where the points are in print.
    pub const SOURCE: &'static str = "Middleton, Practical Astrology (1679), p. 93";

    /// In words, as said of the lot.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            FortuneState::In(sign) => format!("in {}", sign.name()),
            FortuneState::House(house) => format!("in house {house}"),
            FortuneState::Combust(true) => "combust".to_owned(),
            FortuneState::Combust(false) => "not combust".to_owned(),
            FortuneState::Partile(kind, planet) => format!("partile {} of {planet}", kind.name()),
            FortuneState::Node(true) => "with the north node".to_owned(),
            FortuneState::Node(false) => "with the south node".to_owned(),
            FortuneState::With(star) => format!("with {}", star.name()),
            FortuneState::TermOf(planet) => format!("in a term of {planet}"),
        }
    }

    /// The points; none where the state is not counted.
    #[must_use]
    pub const fn points(self) -> Option<i32> {
        Some(match self {
            FortuneState::In(sign) => match sign {
                Sign::Taurus
                | Sign::Pisces
                | Sign::Libra
                | Sign::Sagittarius
                | Sign::Leo
                | Sign::Cancer => 5,
                Sign::Gemini => 3,
                Sign::Virgo => 2,
                Sign::Aries => 0,
                Sign::Scorpio | Sign::Capricorn | Sign::Aquarius => -5,
            },
            FortuneState::House(house) => match house {
                House::I | House::X => 5,
                House::VII | House::IV | House::XI => 4,
                House::II | House::V => 3,
                House::IX => 2,
                House::III => 1,
                House::XII => -5,
                House::VIII | House::VI => -4,
            },
            FortuneState::Combust(true) => -5,
            FortuneState::Combust(false) => 5,
            FortuneState::Partile(kind, planet) => match (kind, planet) {
                (AspectKind::Conjunction, Planet::Jupiter | Planet::Venus) => 5,
                (AspectKind::Trine, Planet::Jupiter | Planet::Venus) => 3,
                (AspectKind::Conjunction, Planet::Saturn | Planet::Mars) => -5,
                (AspectKind::Opposition, Planet::Saturn | Planet::Mars) => -4,
                (AspectKind::Square, Planet::Saturn | Planet::Mars) => -3,
                _ => return None,
            },
            FortuneState::Node(true) => 2,
            FortuneState::Node(false) => -3,
            FortuneState::With(PointedStar::Regulus) => 6,
            FortuneState::With(PointedStar::Spica) => 5,
            FortuneState::With(PointedStar::Algol) => -4,
            FortuneState::TermOf(Planet::Saturn | Planet::Mars) => -2,
            FortuneState::TermOf(_) => return None,
        })
    }
}

impl crate::Figure {
    /// What is counted of a lot of Fortune at a longitude.
    #[must_use]
    pub fn fortune_states(
        &self,
        sky: &sky::Sky,
        choices: &crate::Choices,
        fortune: Angle,
    ) -> Vec<FortuneState> {
        let mut found = vec![FortuneState::In(crate::sign_and_degree(fortune).0)];
        if let Ok(cusps) = &self.cusps {
            found.push(FortuneState::House(choices.border.house_of(cusps, fortune)));
        }
        let hidden = choices.beams.of(fortune, sky.sun().longitude);
        let combust = hidden.is_some_and(|how| how != crate::UnderSun::Beams);
        found.push(FortuneState::Combust(combust));
        for planet in Planet::ALL {
            let Some(there) = self.body(planet.body()) else {
                continue;
            };
            let its = there.place.longitude;
            if let Some(kind) = AspectKind::by_sign(fortune, its)
                && whole_degree(fortune) == whole_degree(its)
            {
                found.push(FortuneState::Partile(kind, planet));
            }
        }
        let node = self.north_node.0;
        if same_degree(fortune, node) {
            found.push(FortuneState::Node(true));
        }
        if same_degree(fortune, node + Angle::HALF_TURN) {
            found.push(FortuneState::Node(false));
        }
        for star in PointedStar::ALL {
            let at = sky::star_named(star.hip()).map(|known| sky.star(known).longitude);
            if at.is_ok_and(|at| fortune.to(at).abs() <= star.within()) {
                found.push(FortuneState::With(star));
            }
        }
        found.push(FortuneState::TermOf(choices.dignities.rulers(fortune).term));
        found
    }
}
