use sky::{Angle, Sky, star_named};

use super::kind::{Accident, PointedStar};
use super::near::{is_oriental, same_degree, whole_degree};
use crate::{AspectKind, Figure, Placed, Planet, UnderSun};

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
