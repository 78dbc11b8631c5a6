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
    all.extend((1..36).filter(|step| *step != 18).map(|step| {
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
