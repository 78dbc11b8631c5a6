use sky::Angle;

use super::{Dignity, DignityTables};
use crate::{AspectKind, Figure, House, Planet, Sect};

/// The dignities that count for the rule of a degree.
const RULING: [Dignity; 5] = [
    Dignity::Rulership,
    Dignity::Exaltation,
    Dignity::Triplicity,
    Dignity::Term,
    Dignity::Face,
];

impl DignityTables {
    /// How many points each planet has by its dignities in a degree, from Saturn down.
    #[must_use]
    pub fn claims(&self, longitude: Angle, sect: Sect) -> [(Planet, i32); 7] {
        Planet::ALL.map(|planet| {
            let there = self.of(planet, longitude, sect);
            let own = RULING.into_iter().filter(|dignity| there.has(*dignity));
            (planet, own.map(|dignity| self.points.of(dignity)).sum())
        })
    }

    /// The almuten of a degree: those who have most points there. Two or more may be equal,
    /// and no book decides between them here.
    #[must_use]
    pub fn almutens(&self, longitude: Angle, sect: Sect) -> Vec<Planet> {
        most(&self.claims(longitude, sect))
    }
}

/// Those with most points.
#[must_use]
pub fn most(claims: &[(Planet, i32)]) -> Vec<Planet> {
    let most = claims.iter().map(|(_, points)| *points).max();
    let found = claims.iter().filter(|(_, points)| Some(*points) == most);
    found.map(|(planet, _)| *planet).collect()
}

/// Points by which the almuten of a whole figure is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FigureClaims {
    /// The planet that makes these claims.
    pub planet: Planet,
    /// Abraham ibn Ezra: by its dignities in the five places of life.
    pub dignities: i32,
    /// By its house.
    pub house: i32,
    /// As the planet of the day.
    pub day: i32,
    /// As the planet of the hour.
    pub hour: i32,
    /// Ptolemy: in how many ways it rules the five places.
    pub ways: i32,
}

impl FigureClaims {
    /// Ibn Ezra's sum.
    #[must_use]
    pub const fn sum(&self) -> i32 {
        self.dignities + self.house + self.day + self.hour
    }

    /// Ibn Ezra's source.
    pub const IBN_EZRA: &'static str = "Abraham ibn Ezra, The Book of Nativities (12th century; from memory): dignities in five places, house, 7 for the day, 6 for the hour";
    /// Ptolemy's source.
    pub const PTOLEMY: &'static str = "Ptolemy, Tetrabiblos III.2 and III.10 (tr. Robbins 1940): triplicity, house, exaltation, term and aspect, each one";
}

/// What ibn Ezra gives for a house (from memory).
#[must_use]
pub const fn strength_of_house(house: House) -> i32 {
    match house {
        House::I => 12,
        House::X => 11,
        House::VII => 10,
        House::IV => 9,
        House::XI => 8,
        House::V => 7,
        House::II => 6,
        House::IX => 5,
        House::VIII => 4,
        House::III => 3,
        House::XII => 2,
        House::VI => 1,
    }
}

impl Figure {
    /// The claims of each planet on the whole figure, over its places of life, by tables.
    /// Ptolemy's ways are by his own tables of terms and triplicities if these are.
    #[must_use]
    pub fn claims(&self, tables: &DignityTables, places: &[Angle]) -> Vec<FigureClaims> {
        let hour = self.hour.as_ref().ok();
        let claims = Planet::ALL.map(|planet| {
            let body = self.body(planet.body());
            let seen_from = body.map(|body| body.place.longitude);
            let dignities = places.iter().map(|place| {
                let found = tables.claims(*place, self.sect);
                found
                    .iter()
                    .find(|(one, _)| *one == planet)
                    .map_or(0, |(_, points)| *points)
            });
            let ways = places.iter().map(|place| {
                let there = tables.of(planet, *place, self.sect);
                let ways = [
                    Dignity::Triplicity,
                    Dignity::Rulership,
                    Dignity::Exaltation,
                    Dignity::Term,
                ];
                let owned = ways
                    .into_iter()
                    .filter(|dignity| there.has(*dignity))
                    .count();
                let sees =
                    seen_from.is_some_and(|from| AspectKind::by_sign(from, *place).is_some());
                i32::try_from(owned).unwrap_or_default() + i32::from(sees)
            });
            FigureClaims {
                planet,
                dignities: dignities.sum(),
                house: body
                    .and_then(|body| body.house)
                    .map_or(0, strength_of_house),
                day: hour.map_or(0, |hour| if hour.day_ruler == planet { 7 } else { 0 }),
                hour: hour.map_or(0, |hour| if hour.ruler == planet { 6 } else { 0 }),
                ways: ways.sum(),
            }
        });
        claims.to_vec()
    }
}
