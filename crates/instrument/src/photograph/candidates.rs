use sky::{Angle, House, Latitude};

use super::marks::{OfPlate, Photograph, Seen};
use crate::unequal_hour::UnequalHour;

/// A thing that fronts have, and how often one who marks a picture takes it beside others.
///
/// How instruments are divided is common practice: every instrument has tropics, horizon and
/// tens of almucantars, few have house lines. What somebody has begun to mark is there.
pub(super) fn candidates(photograph: &Photograph) -> Vec<(Seen, f64)> {
    let has = |is: fn(&OfPlate) -> bool| {
        photograph
            .marks
            .iter()
            .any(|mark| matches!(&mark.of, Seen::OfPlate(line) if is(line)))
    };
    let mut all = vec![
        (Seen::Hole, 0.1),
        (Seen::HoleEdge, 1.0),
        (Seen::Ecliptic, 0.3),
        (Seen::OfPlate(OfPlate::Capricorn), 1.0),
        (Seen::OfPlate(OfPlate::Equator), 1.0),
        (Seen::OfPlate(OfPlate::Cancer), 1.0),
        (Seen::OfPlate(OfPlate::Meridian), 1.0),
    ];
    all.extend((0..360).map(|deg| {
        let weight = divided(deg, &[(30, 1.0), (10, 0.4), (5, 0.2)], 0.05);
        (Seen::Limb(Angle::from_deg(f64::from(deg))), weight)
    }));
    all.extend((-18..=85).filter_map(|deg| {
        let weight = match deg {
            0 => 2.0,
            -18 => 0.2,
            deg if deg < 0 => return None,
            deg => divided(deg, &[(10, 1.0), (5, 0.3)], 0.08),
        };
        let altitude = Latitude::from_deg(f64::from(deg)).ok()?;
        Some((Seen::OfPlate(OfPlate::Almucantar(altitude)), weight))
    }));
    let azimuths = if has(|line| matches!(line, OfPlate::Azimuth(_))) {
        0.5
    } else {
        0.1
    };
    // That of 0° is the meridian.
    all.extend((1..36).map(|step| {
        let deg = step * 5;
        let weight = azimuths * divided(deg, &[(90, 2.0), (30, 1.0), (10, 0.5)], 0.15);
        let azimuth = Angle::from_deg(f64::from(deg));
        (Seen::OfPlate(OfPlate::Azimuth(azimuth)), weight)
    }));
    // The sixth is the meridian.
    let hours = UnequalHour::engraved().filter(|hour| hour.number() != 6);
    all.extend(hours.map(|hour| (Seen::OfPlate(OfPlate::UnequalHour(hour)), 0.5)));
    let houses = if has(|line| matches!(line, OfPlate::House(_))) {
        0.5
    } else {
        0.02
    };
    all.extend(
        House::ALL
            .into_iter()
            .filter(|house| ![1, 4, 7, 10].contains(&house.number()))
            .map(|house| (Seen::OfPlate(OfPlate::House(house)), houses)),
    );
    all.extend((0..360).map(|deg| {
        let weight = divided(deg, &[(30, 1.0), (10, 0.4), (5, 0.2)], 0.04);
        (Seen::Degree(Angle::from_deg(f64::from(deg))), weight)
    }));
    all.extend(sky::astrolabe_stars().map(|star| (Seen::Star(star), 0.7)));
    all
}

fn divided(deg: i32, steps: &[(i32, f64)], else_weight: f64) -> f64 {
    let step = steps.iter().find(|(step, _)| deg % step == 0);
    step.map_or(else_weight, |(_, weight)| *weight)
}

/// What is marked before anything can be proposed: strokes spread round the limb.
pub(super) fn first_of_limb(photograph: &Photograph) -> Vec<Seen> {
    let marked = |deg: i32| {
        photograph.marks.iter().any(|mark| {
            matches!(mark.of, Seen::Limb(degree)
                if degree.to(Angle::from_deg(f64::from(deg))).deg().abs() < 0.5)
        })
    };
    // By sixties first; five of them tell the camera.
    let sixties = (0..6).map(|step| step * 60);
    let others = (0..12).map(|step| step * 30);
    sixties
        .chain(others.filter(|deg| deg % 60 != 0))
        .filter(|deg| !marked(*deg))
        .map(|deg| Seen::Limb(Angle::from_deg(f64::from(deg))))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::marks::Mark;
    use super::*;
    use crate::specification::Hemisphere;

    fn weights(marked: &[&str]) -> Vec<(String, f64)> {
        let marks = marked.iter().map(|name| Mark {
            at_px: [1.0, 1.0],
            of: name.parse().unwrap(),
        });
        let photograph = Photograph {
            name: "invented".to_owned(),
            hemisphere: Hemisphere::North,
            size_px: [100, 100],
            limb_diameter: None,
            marks: marks.collect(),
        };
        let all = candidates(&photograph).into_iter();
        all.map(|(of, weight)| (of.to_string(), weight)).collect()
    }

    fn weight(all: &[(String, f64)], name: &str) -> f64 {
        let of: Seen = name.parse().unwrap();
        let (_, weight) = all.iter().find(|(one, _)| *one == of.to_string()).unwrap();
        *weight
    }

    /// The rounder its number the likelier is a line marked, and none that cannot be seen.
    #[test]
    fn round_numbers_are_marked_before_others() {
        for marked in [&[][..], &["azimuth 45", "house 2"]] {
            let all = weights(marked);
            for row in [
                ["azimuth 90", "azimuth 30", "azimuth 10", "azimuth 5"],
                ["limb 30", "limb 10", "limb 5", "limb 1"],
                [
                    "almucantar 0",
                    "almucantar 10",
                    "almucantar 5",
                    "almucantar 1",
                ],
                [
                    "ecliptic 0 Aries",
                    "ecliptic 10 Aries",
                    "ecliptic 5 Aries",
                    "ecliptic 1 Aries",
                ],
            ] {
                let of_row = row.map(|name| weight(&all, name));
                assert!(
                    of_row.windows(2).all(|pair| pair[0] > pair[1]),
                    "{row:?}: {of_row:?}"
                );
            }
            assert!(all.iter().all(|(_, weight)| (0.001..=2.0).contains(weight)));
        }
    }

    /// Few plates have azimuths or house lines; on one where the first of them was marked the
    /// others are there too.
    #[test]
    fn what_somebody_has_begun_to_mark_is_there() {
        let (before, after) = (weights(&[]), weights(&["azimuth 45", "house 2"]));
        for name in ["azimuth 10", "azimuth 90", "house 3"] {
            assert!(weight(&after, name) > 2.0 * weight(&before, name), "{name}");
        }
        for name in [
            "almucantar 10",
            "limb 10",
            "unequal hour 3",
            "edge of the hole",
        ] {
            assert!(
                weight(&after, name)
                    .total_cmp(&weight(&before, name))
                    .is_eq(),
                "{name}"
            );
        }
    }
}
