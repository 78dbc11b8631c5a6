//! Towns in which questions are asked that are not asked at home: public places, spread
//! over the latitudes for which plates are made.

use instrument::{Hemisphere, Instrument};
use sky::Latitude;

/// A town of the gazetteer, and its latitude to a tenth of a degree.
pub(crate) const TOWNS: [(&str, f64); 28] = [
    ("Tromsø, Norway", 69.6),
    ("Reykjavík, Iceland", 64.1),
    ("Bergen, Norway", 60.4),
    ("Stockholm, Sweden", 59.3),
    ("Copenhagen, Denmark", 55.7),
    ("Oxford, England, United Kingdom", 51.8),
    ("Prague, Czechia", 50.1),
    ("Paris, France", 48.9),
    ("Vienna, Austria", 48.2),
    ("Venice, Italy", 45.4),
    ("Bologna, Italy", 44.5),
    ("Santiago de Compostela, Spain", 42.9),
    ("Rome, Italy", 41.9),
    ("Toledo, Spain", 39.9),
    ("Athens, Greece", 38.0),
    ("Tunis, Tunisia", 36.8),
    ("Cairo, Egypt", 30.1),
    ("Mexico City, Mexico", 19.4),
    ("Singapore, Singapore", 1.3),
    ("Lima, Peru", -12.0),
    ("São Paulo, Brazil", -23.5),
    ("Durban, South Africa", -29.9),
    ("Cape Town, South Africa", -33.9),
    ("Buenos Aires, Argentina", -34.6),
    ("Auckland, New Zealand", -36.8),
    ("Melbourne, Australia", -37.8),
    ("Hobart, Australia", -42.9),
    ("Ushuaia, Argentina", -54.8),
];

/// How far a plate may be from a town to which a question leads.
const NEAR: f64 = 1.5;

fn off(instrument: &Instrument, latitude_deg: f64) -> f64 {
    let plates = instrument.specification().plates.iter();
    plates
        .map(|plate| (plate.deg() - latitude_deg).abs())
        .fold(f64::INFINITY, f64::min)
}

fn of_hemisphere(instrument: &Instrument) -> impl Iterator<Item = (&'static str, f64)> {
    let north = instrument.specification().hemisphere == Hemisphere::North;
    TOWNS
        .into_iter()
        .filter(move |(_, latitude)| (*latitude > 0.0) == north)
}

/// The town that an instrument serves best.
pub(crate) fn nearest_town(instrument: &Instrument) -> &'static str {
    of_hemisphere(instrument)
        .min_by(|(_, a), (_, b)| off(instrument, *a).total_cmp(&off(instrument, *b)))
        .map_or("", |(town, _)| town)
}

/// Towns for which an instrument has a plate, the nearest to the pole first, but for
/// those about a latitude.
pub(crate) fn towns_of_plates(instrument: &Instrument, home: Latitude) -> Vec<&'static str> {
    let mut towns: Vec<(&str, f64)> = of_hemisphere(instrument)
        .filter(|(_, latitude)| off(instrument, *latitude) <= NEAR)
        .filter(|(_, latitude)| (latitude - home.deg()).abs() > 0.5)
        .collect();
    towns.sort_by(|(_, a), (_, b)| b.abs().total_cmp(&a.abs()));
    towns.into_iter().map(|(town, _)| town).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::moment::understood_place;

    #[test]
    fn every_town_is_one_of_the_gazetteer_and_no_other() {
        for (town, latitude) in TOWNS {
            let found = understood_place(town).unwrap();
            assert!((found.latitude.deg() - latitude).abs() < 0.1, "{town}");
            assert!(found.zone.is_some(), "{town}");
        }
    }
}
