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
    /// It stands beyond the outer tropic at the rete's epoch.
    OutOfReach,
    /// It stands within the outer tropic, but under the outer ring or at its edge.
    UnderRing,
    /// A brighter star that stands near it has a pointer: the name on that one.
    GaveWayTo(&'static str),
    /// There are as many as the size carries or the specification asks for, and
    /// brighter ones took them.
    TooMany,
    /// The specification states its stars, and not this one.
    NotAsked,
}

/// The stars that astrolabes carry, as they stand on a rete.
struct Field<'a> {
    specification: &'a Specification,
    epoch: JulianEpoch,
    projection: &'a Projection,
    /// The radius of the outer tropic.
    tropic: f64,
    /// How many pointers there are room for.
    wanted: usize,
}

/// A pointer and where its tip stands.
type Tipped = (StarPointer, Point);

impl Field<'_> {
    fn of<'a>(specification: &'a Specification, projection: &'a Projection) -> Option<Field<'a>> {
        let epoch = JulianEpoch::from_year(specification.epoch_year).ok()?;
        let fineness = Fineness::of(
            specification.diameter,
            specification.obliquity,
            specification.date_from.is_ring(),
        );
        let stated = specification.star_pointers;
        Some(Field {
            specification,
            epoch,
            projection,
            tropic: fineness.outer_tropic_mm(),
            wanted: usize::from(stated.unwrap_or_else(|| fineness.star_pointers())),
        })
    }

    fn tipped(&self, star: &Star) -> Tipped {
        let place = star.mean_place(self.epoch);
        let pointer = StarPointer {
            name: star.instrument_name.unwrap_or(star.label()),
            designation: star.designation,
            magnitude: star.magnitude,
            right_ascension: place.right_ascension,
            declination: place.declination,
        };
        let tip = self
            .projection
            .point(-place.right_ascension, place.declination);
        (pointer, tip)
    }

    fn reaches(&self, tip: Point) -> bool {
        tip.radius() < self.tropic * REACH
    }

    /// The stars that the specification states, as it states them.
    fn stated(&self) -> impl Iterator<Item = Tipped> {
        let names = self.specification.stars.iter();
        names
            .filter_map(|name| star_named(name).ok())
            .map(|star| self.tipped(star))
    }

    /// The least distance between two tips: each is as broad as the rete's least width,
    /// and between them there is the least gap.
    fn elbow_room(&self) -> f64 {
        let parts = &self.specification.parts;
        (parts.least_width + parts.least_gap).mm()
    }

    /// How far from brighter ones a star must stand, where those fainter than the first
    /// magnitude stand apart by a distance.
    fn room(&self, pointer: &StarPointer, apart: f64) -> f64 {
        if pointer.is_of_first_magnitude() {
            self.elbow_room()
        } else {
            apart.max(self.elbow_room())
        }
    }

    /// The brightest stars, of which those fainter than the first magnitude stand apart
    /// from brighter ones by a distance.
    fn brightest(&self, apart: f64) -> Vec<Tipped> {
        let mut taken: Vec<Tipped> = Vec::new();
        for (pointer, tip) in sky::astrolabe_stars().map(|star| self.tipped(star)) {
            let room = self.room(&pointer, apart);
            let free = |taken: &[Tipped]| {
                let mut tips = taken.iter().map(|(_, other)| (*other - tip).radius());
                tips.all(|away| away > room)
            };
            if taken.len() < self.wanted && self.reaches(tip) && free(&taken) {
                taken.push((pointer, tip));
            }
        }
        taken
    }

    /// The distance that spreads the pointers as far as there are enough of them, and
    /// the pointers.
    fn spread(&self) -> (f64, Vec<Tipped>) {
        let least = self.elbow_room();
        let mut apart = self.tropic * 0.5;
        loop {
            let taken = self.brightest(apart);
            if taken.len() >= self.wanted || apart <= least {
                return (apart, taken);
            }
            apart = (apart * 0.9).max(least);
        }
    }

    /// Why a star has no pointer on a rete whose stars were chosen for it.
    fn why_not(&self, (pointer, tip): &Tipped, (apart, taken): &(f64, Vec<Tipped>)) -> StarLeft {
        let room = self.room(pointer, *apart);
        let away = |other: &&Tipped| (other.1 - *tip).radius();
        let near = taken
            .iter()
            .filter(|other| other.0.magnitude <= pointer.magnitude && away(other) <= room);
        near.min_by(|a, b| away(a).total_cmp(&away(b)))
            .map_or(StarLeft::TooMany, |(other, _)| {
                StarLeft::GaveWayTo(other.name)
            })
    }
}

impl StarPointer {
    /// Whether it is among the brightest, for which the tracery of a rete makes way.
    #[must_use]
    pub fn is_of_first_magnitude(&self) -> bool {
        /// Where the first magnitude ends.
        const FIRST: f64 = 1.5;
        self.magnitude <= FIRST
    }

    /// The stars that astrolabes carry and this one does not, the brightest first, and
    /// those asked for that it cannot reach. A rete that is to have no stars leaves none out.
    pub(crate) fn left_out(
        specification: &Specification,
        projection: &Projection,
        chosen: &[StarPointer],
    ) -> Vec<(StarPointer, StarLeft)> {
        let Some(field) = Field::of(specification, projection) else {
            return Vec::new();
        };
        let is_stated = !specification.stars.is_empty();
        if field.wanted == 0 && !is_stated {
            return Vec::new();
        }
        let spread = field.spread();
        let carried = sky::astrolabe_stars().map(|star| field.tipped(star));
        let mut left: Vec<(StarPointer, StarLeft)> = Vec::new();
        for tipped in field.stated().chain(carried) {
            let known = |one: &StarPointer| one.name == tipped.0.name;
            if chosen.iter().any(known) || left.iter().any(|(one, _)| known(one)) {
                continue;
            }
            let why = if tipped.1.radius() > field.tropic {
                StarLeft::OutOfReach
            } else if !field.reaches(tipped.1) {
                StarLeft::UnderRing
            } else if is_stated {
                StarLeft::NotAsked
            } else {
                field.why_not(&tipped, &spread)
            };
            left.push((tipped.0, why));
        }
        left.sort_by(|a, b| a.0.magnitude.total_cmp(&b.0.magnitude));
        left
    }

    /// The stars for an instrument: those that its specification states, or the brightest
    /// of those that astrolabes carry and the rete can reach, brightest first.
    ///
    /// Stars of the first magnitude are taken wherever two tips find room beside each
    /// other. A fainter one leaves a distance to every brighter one: the widest at which
    /// there are enough, so that pointers are spread over the rete. So a star is missing
    /// only where a brighter one stands near it, or all pointers are brighter.
    pub(crate) fn chosen(
        specification: &Specification,
        projection: &Projection,
    ) -> Vec<StarPointer> {
        let Some(field) = Field::of(specification, projection) else {
            return Vec::new();
        };
        if specification.stars.is_empty() {
            let (_, taken) = field.spread();
            return taken.into_iter().map(|(pointer, _)| pointer).collect();
        }
        // A star that the rete cannot reach at this epoch has no pointer.
        let mut pointers: Vec<StarPointer> = Vec::new();
        for (pointer, tip) in field.stated() {
            let twice = pointers.iter().any(|one| one.name == pointer.name);
            if field.reaches(tip) && !twice {
                pointers.push(pointer);
            }
        }
        pointers
    }
}
