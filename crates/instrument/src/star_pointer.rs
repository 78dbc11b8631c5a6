use sky::{Angle, JulianEpoch, Latitude, Star, star_named};

use crate::fineness::Fineness;
use crate::point::Point;
use crate::projection::Projection;
use crate::specification::Specification;

/// A star of the rete, where it stands at the instrument's epoch.
#[derive(Clone, Debug, PartialEq)]
pub struct StarPointer {
    /// What the pointer is lettered with: the star's traditional name.
    pub name: &'static str,
    /// Its modern designation, such as α Lyr.
    pub designation: &'static str,
    /// Its visual magnitude.
    pub magnitude: f64,
    /// Its mean right ascension at the epoch.
    pub right_ascension: Angle,
    /// Its mean declination at the epoch.
    pub declination: Latitude,
}

/// How near the outer tropic a star may stand, as a part of its radius, and still
/// be reached by a pointer.
const REACH: f64 = 0.975;

/// Why a rete has no pointer to a star that astrolabes carry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StarLeft {
    /// It stands beyond the outer tropic, or too near it, at the rete's epoch.
    OutOfReach,
    /// There are as many as the size carries, and brighter ones or ones with more room
    /// about them were taken.
    NoRoom,
    /// The specification states its stars, and not this one.
    NotAsked,
}

impl StarPointer {
    fn at(star: &Star, epoch: JulianEpoch, projection: &Projection) -> (StarPointer, Point) {
        let place = star.mean_place(epoch);
        let pointer = StarPointer {
            name: star.instrument_name.unwrap_or(star.label()),
            designation: star.designation,
            magnitude: star.magnitude,
            right_ascension: place.right_ascension,
            declination: place.declination,
        };
        let tip = projection.point(-place.right_ascension, place.declination);
        (pointer, tip)
    }

    /// The stars that astrolabes carry and this one does not, the brightest first, and
    /// those asked for that it cannot reach.
    pub(crate) fn left_out(
        specification: &Specification,
        projection: &Projection,
        chosen: &[StarPointer],
    ) -> Vec<(StarPointer, StarLeft)> {
        let Ok(epoch) = JulianEpoch::from_year(specification.epoch_year) else {
            return Vec::new();
        };
        let fineness = Fineness::of(
            specification.diameter,
            specification.obliquity,
            specification.date_from.is_ring(),
        );
        let reach = fineness.outer_tropic_mm() * REACH;
        let named = specification
            .stars
            .iter()
            .filter_map(|name| star_named(name).ok());
        let mut left: Vec<(StarPointer, StarLeft)> = Vec::new();
        for star in named.chain(sky::astrolabe_stars()) {
            let (pointer, tip) = StarPointer::at(star, epoch, projection);
            let known = |one: &StarPointer| one.name == pointer.name;
            if chosen.iter().any(known) || left.iter().any(|(one, _)| known(one)) {
                continue;
            }
            let why = if tip.radius() >= reach {
                StarLeft::OutOfReach
            } else if specification.stars.is_empty() {
                StarLeft::NoRoom
            } else {
                StarLeft::NotAsked
            };
            left.push((pointer, why));
        }
        left.sort_by(|a, b| a.0.magnitude.total_cmp(&b.0.magnitude));
        left
    }

    /// The stars for an instrument: the brightest of those that astrolabes carry
    /// and the rete can reach, spread over it.
    ///
    /// Starting from a wide spacing, the brightest star far enough from those
    /// taken is taken, and the spacing is narrowed until there are enough.
    pub(crate) fn chosen(
        specification: &Specification,
        projection: &Projection,
    ) -> Vec<StarPointer> {
        let Ok(epoch) = JulianEpoch::from_year(specification.epoch_year) else {
            return Vec::new();
        };
        let fineness = Fineness::of(
            specification.diameter,
            specification.obliquity,
            specification.date_from.is_ring(),
        );
        let wanted = usize::from(
            specification
                .star_pointers
                .unwrap_or_else(|| fineness.star_pointers()),
        );
        let reach = fineness.outer_tropic_mm() * REACH;
        let pointing = |star: &Star| StarPointer::at(star, epoch, projection);
        if !specification.stars.is_empty() {
            // A star that the rete cannot reach at this epoch has no pointer.
            let named = specification
                .stars
                .iter()
                .filter_map(|name| star_named(name).ok());
            let mut pointers: Vec<StarPointer> = Vec::new();
            for (pointer, tip) in named.map(pointing) {
                let twice = pointers.iter().any(|one| one.name == pointer.name);
                if tip.radius() < reach && !twice {
                    pointers.push(pointer);
                }
            }
            return pointers;
        }
        let mut within: Vec<(StarPointer, Point)> = sky::astrolabe_stars()
            .map(pointing)
            .filter(|(_, tip)| tip.radius() < reach)
            .collect();
        within.sort_by(|a, b| a.0.magnitude.total_cmp(&b.0.magnitude));
        let mut taken: Vec<(StarPointer, Point)> = Vec::new();
        let mut apart = reach * 0.5;
        while taken.len() < wanted && apart > reach * 0.02 {
            for (pointer, tip) in &within {
                let free = taken
                    .iter()
                    .all(|(_, other)| (*other - *tip).radius() > apart);
                if free && taken.len() < wanted {
                    taken.push((pointer.clone(), *tip));
                }
            }
            apart *= 0.85;
        }
        taken.into_iter().map(|(pointer, _)| pointer).collect()
    }
}
