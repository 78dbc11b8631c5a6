use std::sync::OnceLock;

use super::Star;
use crate::{Angle, Latitude};

const STARS: &str = include_str!("../../../../data/stars.csv");
const VELOCITIES: &str = include_str!("../../../../data/radial_velocities.csv");
const NAMES: &str = include_str!("../../../../data/star_names.csv");

/// The stars of magnitude 4.5 and brighter, and the fainter ones that stand on
/// instruments; brightest first.
///
/// Two bright stars are wanting, the close pairs ξ Ursae Majoris and ξ Scorpii,
/// for which the catalogue has no solution. No instrument known to us carries
/// them.
#[must_use]
pub fn stars() -> &'static [Star] {
    static ALL: OnceLock<Vec<Star>> = OnceLock::new();
    ALL.get_or_init(|| {
        // A row that cannot be read is left out; a test sees that there is none.
        let mut stars: Vec<Star> = rows(STARS).filter_map(star).collect();
        for [hip, _, recedes] in rows(VELOCITIES).filter_map(fields) {
            if let Some(star) = stars.iter_mut().find(|star| Ok(star.hip) == hip.parse()) {
                star.recedes_km_s = recedes.parse().ok();
            }
        }
        for [hip, _, usage, name, _] in rows(NAMES).filter_map(fields) {
            let Some(star) = stars.iter_mut().find(|star| Ok(star.hip) == hip.parse()) else {
                continue;
            };
            if usage == "instrument" && star.instrument_name.is_none() {
                star.instrument_name = Some(name);
            } else {
                star.variants.push(name);
            }
        }
        stars
    })
}

/// The stars that astrolabes carry, and those customary on the southern half
/// of the sky, brightest first; all have an [`instrument_name`](Star::instrument_name).
///
/// They stand on both sides of either tropic: a maker takes those that fall
/// within the rete at its epoch. The origin of each name, and which are from
/// memory, is written beside it in `data/star_names.csv`.
pub fn astrolabe_stars() -> impl Iterator<Item = &'static Star> {
    stars().iter().filter(|star| star.instrument_name.is_some())
}

fn rows(table: &'static str) -> impl Iterator<Item = &'static str> {
    table.lines().filter(|line| !line.starts_with('#')).skip(1)
}

fn fields<const N: usize>(row: &'static str) -> Option<[&'static str; N]> {
    row.split(',').collect::<Vec<_>>().try_into().ok()
}

fn star(row: &'static str) -> Option<Star> {
    let [
        hip,
        designation,
        name,
        magnitude,
        ra,
        dec,
        pm_ra,
        pm_dec,
        parallax,
    ] = fields(row)?;
    let mas = |text: &str| Some(Angle::from_arcsec(text.parse::<f64>().ok()? / 1000.0));
    Some(Star {
        hip: hip.parse().ok()?,
        designation,
        name: (!name.is_empty()).then_some(name),
        instrument_name: None,
        variants: Vec::new(),
        magnitude: magnitude.parse().ok()?,
        right_ascension: Angle::from_deg(ra.parse().ok()?),
        declination: Latitude::from_deg(dec.parse().ok()?).ok()?,
        motion_in_right_ascension: mas(pm_ra)?,
        motion_in_declination: mas(pm_dec)?,
        parallax: mas(parallax)?,
        recedes_km_s: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_row_is_read() {
        assert_eq!(stars().len(), rows(STARS).count());
        assert!(stars().len() > 900);
        for row in rows(NAMES) {
            let [hip, designation, usage, name, source] = fields(row).expect(row);
            let star = stars().iter().find(|star| star.hip.to_string() == hip);
            let star = star.expect(row);
            assert_eq!(star.designation, designation, "{row}");
            assert!(["instrument", "variant"].contains(&usage), "{row}");
            assert!(!name.is_empty(), "{row}");
            let sources = ["Chaucer", "Oxford", "Allen", "memory", "ordinary"];
            assert!(sources.contains(&source), "{row}");
        }
    }

    #[test]
    fn every_velocity_belongs_to_a_star() {
        for row in rows(VELOCITIES) {
            let [hip, designation, recedes] = fields(row).expect(row);
            let star = stars().iter().find(|star| star.hip.to_string() == hip);
            let star = star.expect(row);
            assert_eq!(star.designation, designation, "{row}");
            assert_eq!(star.recedes_km_s, recedes.parse().ok(), "{row}");
        }
    }

    #[test]
    fn no_star_and_no_name_stands_twice() {
        let mut numbers = HashSet::new();
        let mut designations = HashSet::new();
        let mut names = HashSet::new();
        for star in stars() {
            assert!(numbers.insert(star.hip), "{star:?}");
            assert!(designations.insert(star.designation), "{star:?}");
            assert!(star.name.is_none_or(|name| names.insert(name)), "{star:?}");
        }
    }

    #[test]
    fn the_list_for_retes_is_long_enough_and_well_spread() {
        assert!(astrolabe_stars().count() >= 40);
        for quarter in 0..4 {
            let in_quarter = astrolabe_stars().filter(|star| {
                let hours = star.right_ascension.hours();
                (hours / 6.0) as i32 == quarter && star.declination.deg() > -23.0
            });
            assert!(
                in_quarter.count() >= 8,
                "quarter {quarter} of the northern rete"
            );
        }
    }

    #[test]
    fn brightest_first() {
        assert!(stars().is_sorted_by_key(|star| (star.magnitude * 100.0).round() as i32));
    }
}
