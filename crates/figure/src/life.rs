use sky::Angle;

use crate::{AspectKind, Dignity, DignityTables, Figure, House, Planet};

/// A candidate for the giver of life (hyleg), with the tests that Ptolemy makes. Nothing is
/// decided here.
#[derive(Clone, Debug, PartialEq)]
pub struct LifeCandidate {
    /// Who.
    pub name: &'static str,
    /// Where.
    pub place: Angle,
    /// Its house, counted by thirty degrees from five above the ascendant.
    pub house: House,
    /// Whether that is a prorogative place: I, VII, IX, X or XI.
    pub prorogative: bool,
    /// Whether it is above the horizon by that count.
    pub above: bool,
    /// Who rules the place, by which dignity, and whether the ruler sees it by sign: the
    /// candidates for the giver of years (alcocoden).
    pub rulers: Vec<(Planet, Dignity, bool)>,
}

impl LifeCandidate {
    /// Where the tests are in print.
    pub const SOURCE: &'static str = "prorogative places: Ptolemy, Tetrabiblos III.10 (tr. Ashmand 1822, pp. 88–91; tr. Robbins 1940, p. 273); a ruler that sees the place gives the years: al-Qabīṣī, Introduction IV (from memory)";
}

impl Figure {
    /// The tests of places as givers of life; none where there is no ascendant.
    #[must_use]
    pub fn life_candidates(
        &self,
        tables: &DignityTables,
        places: &[(&'static str, Angle)],
    ) -> Vec<LifeCandidate> {
        let Ok(ascendant) = self.ascendant else {
            return Vec::new();
        };
        let begins = ascendant - Angle::from_deg(5.0);
        let all = places.iter().map(|(name, place)| {
            let passed = (*place - begins).in_turn().deg() / 30.0;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a part of a turn in twelfths"
            )]
            let house = House::ALL[(passed.floor() as usize).min(11)];
            let dignities = [
                Dignity::Rulership,
                Dignity::Exaltation,
                Dignity::Triplicity,
                Dignity::Term,
                Dignity::Face,
            ];
            let mut rulers = Vec::new();
            for dignity in dignities {
                for planet in Planet::ALL {
                    if !tables.of(planet, *place, self.sect).has(dignity) {
                        continue;
                    }
                    let from = self.body(planet.body()).map(|body| body.place.longitude);
                    let sees = from.is_some_and(|from| AspectKind::by_sign(from, *place).is_some());
                    rulers.push((planet, dignity, sees));
                }
            }
            LifeCandidate {
                name,
                place: *place,
                house,
                prorogative: matches!(
                    house,
                    House::I | House::VII | House::IX | House::X | House::XI
                ),
                above: house.number() >= 7,
                rulers,
            }
        });
        all.collect()
    }
}
