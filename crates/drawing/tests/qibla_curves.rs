//! The qibla curves of the back, read back from the drawing and held against ERFA
//! (`reference/qibla_erfa.py`), and against the triangle of pole, zenith and Sun.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use std::collections::BTreeMap;

use drawing::{Item, Making, workpieces};
use instrument::{Instrument, LineId, Point, Specification};
use proptest::prelude::*;

mod followed;
use followed::points;

/// Curves are followed to this, in millimetres.
const CURVE_MM: f64 = 0.003;

const OBLIQUITY_DEG: f64 = 23.44;

#[derive(Clone, Debug)]
struct Place {
    name: String,
    latitude: f64,
    longitude: f64,
}

fn made(places: &[Place], diameter_mm: f64, south: bool, gap: f64) -> Instrument {
    let listed: Vec<String> = places
        .iter()
        .map(|one| format!("[\"{}\", {}, {}]", one.name, one.latitude, one.longitude))
        .collect();
    let (hemisphere, plate) = if south { ("south", -30) } else { ("north", 40) };
    let text = format!(
        "version = 1\nname = \"back\"\ndiameter_mm = {diameter_mm}\nhemisphere = \"{hemisphere}\"\n\
         obliquity_deg = {OBLIQUITY_DEG}\nplates_deg = [{plate}]\n[parts]\nquadrant = \"qibla\"\n\
         gazetteer = [{}]\nleast_gap_mm = {gap}\n",
        listed.join(", ")
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

/// Points along the drawn curves of each place, in order along each.
fn curves(instrument: &Instrument) -> BTreeMap<String, Vec<Vec<Point>>> {
    let back = workpieces(instrument, &[Making::Back]).into_iter();
    let back = back.into_iter().find(|piece| piece.name == "back").unwrap();
    let mut all: BTreeMap<String, Vec<Vec<Point>>> = BTreeMap::new();
    for item in &back.items {
        let Item::Stroke(trace) = item else { continue };
        let Some(LineId::Qibla(name)) = &trace.line else {
            continue;
        };
        let contours = trace.contours.iter().map(points);
        all.entry(name.clone()).or_default().extend(contours);
    }
    all
}

/// The altitude and the declination for which a drawn place stands: the direction from the
/// centre is the altitude, the distance the arc of the zodiac.
fn unprojected(instrument: &Instrument, p: Point) -> (f64, f64) {
    let quadrant = instrument.sun_quadrant();
    let part = (p.radius() - quadrant.winter_mm) / (quadrant.summer_mm - quadrant.winter_mm);
    let from_winter = part.clamp(0.0, 1.0) * std::f64::consts::PI;
    let sine = -OBLIQUITY_DEG.to_radians().sin() * from_winter.cos();
    let altitude = p.y.abs().atan2(p.x.abs()).to_degrees();
    (altitude, sine.asin().to_degrees())
}

/// How far, in millimetres, a place of the quadrant is from the drawn curves.
fn distance(curves: &[Vec<Point>], p: Point) -> f64 {
    let chords = curves.iter().flat_map(|one| one.windows(2));
    let all = chords.map(|ends| {
        let along = ends[1] - ends[0];
        let part = ((p - ends[0]).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
        (p - (ends[0] + along * part)).radius()
    });
    all.fold(f64::INFINITY, f64::min)
}

/// Where an altitude on the arc of a declination is drawn, x to the right and y down.
fn drawn_at(instrument: &Instrument, altitude: f64, declination: f64, south: bool) -> Point {
    let quadrant = instrument.sun_quadrant();
    let up = if south { -1.0 } else { 1.0 };
    let cosine = -up * declination.to_radians().sin() / OBLIQUITY_DEG.to_radians().sin();
    let part = cosine.clamp(-1.0, 1.0).acos() / std::f64::consts::PI;
    let radius = quadrant.winter_mm + (quadrant.summer_mm - quadrant.winter_mm) * part;
    let (sine, cosine) = altitude.to_radians().sin_cos();
    Point {
        x: radius * cosine,
        y: -radius * sine,
    }
}

/// Every row of ERFA's stands on the drawn curve of its place: one place at a time, so that
/// no curve gives way to another.
#[test]
fn the_sun_stands_towards_mecca_where_the_curves_say() {
    let rows = include_str!("data/qibla_erfa.csv").lines();
    let rows = rows.filter(|row| !row.starts_with('#')).skip(1);
    let mut of: BTreeMap<&str, Vec<[f64; 5]>> = BTreeMap::new();
    for row in rows {
        let (name, numbers) = row.split_once(',').unwrap();
        let numbers: Vec<f64> = numbers.split(',').map(|one| one.parse().unwrap()).collect();
        of.entry(name)
            .or_default()
            .push(numbers.try_into().unwrap());
    }
    assert_eq!(of.len(), 12);
    let mut held = 0;
    for (name, rows) in of {
        let [latitude, longitude, ..] = rows[0];
        let place = Place {
            name: name.to_owned(),
            latitude,
            longitude,
        };
        for (diameter_mm, south) in [(60.0, false), (180.0, true), (400.0, false)] {
            let instrument = made(std::slice::from_ref(&place), diameter_mm, south, 0.3);
            let listed = &instrument.specification().parts.gazetteer[0];
            let curves = curves(&instrument);
            let curves = &curves[name];
            for [_, _, qibla, altitude, declination] in &rows {
                let told = listed.qibla().unwrap().deg();
                assert!((told - qibla).abs() < 1e-8, "{name}: {told} {qibla}");
                let p = drawn_at(&instrument, *altitude, *declination, south);
                let off = distance(curves, p);
                assert!(
                    off < CURVE_MM,
                    "{name}, {diameter_mm} mm, {altitude}°: {off} mm"
                );
                held += 1;
            }
        }
    }
    assert!(held > 500, "{held}");
}

fn places() -> impl Strategy<Value = Vec<Place>> {
    let place = (-66.0..66.0_f64, -179.0..179.0_f64);
    prop::collection::vec(place, 1..=12).prop_map(|all| {
        all.into_iter()
            .zip('A'..='Z')
            .map(|((latitude, longitude), name)| Place {
                name: format!("{name}x"),
                latitude,
                longitude,
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    /// Each point of each curve, unprojected: at its altitude and declination the Sun's azimuth
    /// is the bearing of Mecca, by the cosine rule; and no two curves stand closer than the gap.
    #[test]
    fn curves_are_the_bearing_of_mecca(
        places in places(), size in 45.0..600.0_f64, south in any::<bool>(), gap in 0.3..0.8_f64,
    ) {
        let instrument = made(&places, size, south, gap);
        let curves = curves(&instrument);
        let up = if south { -1.0 } else { 1.0 };
        let mecca = (21.0 + 25.0 / 60.0 + 21.0 / 3600.0_f64, 39.0 + 49.0 / 60.0 + 34.0 / 3600.0_f64);
        for (name, pieces) in &curves {
            let place = places.iter().find(|one| one.name == *name).unwrap();
            let phi = place.latitude.to_radians();
            // The bearing by the two sides and the angle at the pole.
            let away = (mecca.1 - place.longitude).to_radians();
            let to = mecca.0.to_radians();
            let cosine = phi.sin() * to.sin() + phi.cos() * to.cos() * away.cos();
            let sine = (1.0 - cosine * cosine).sqrt();
            let cos_q = (to.sin() - phi.sin() * cosine) / (phi.cos() * sine);
            for p in pieces.iter().flatten() {
                let (altitude, from_winter_pole) = unprojected(&instrument, *p);
                let a = altitude.to_radians();
                let wanted = (phi.sin() * a.sin() + phi.cos() * a.cos() * cos_q).asin().to_degrees();
                // How far along the arcs that is from where it is drawn.
                let at = drawn_at(&instrument, altitude, wanted, south);
                let here = drawn_at(&instrument, altitude, from_winter_pole * up, south);
                let apart = (at - here).radius();
                let across = distance(pieces, at);
                prop_assert!(apart < CURVE_MM || across < CURVE_MM, "{name}: {apart} {across}");
            }
        }
        for (name, pieces) in &curves {
            for (other, theirs) in &curves {
                if name < other {
                    let near = pieces.iter().flatten().map(|p| distance(theirs, *p));
                    prop_assert!(near.fold(f64::INFINITY, f64::min) > gap - 0.05, "{name} {other}");
                }
            }
        }
    }
}

/// Mecca, its antipode and the poles have no direction; a gazetteer must stand beside.
#[test]
fn curves_need_places() {
    let text = "version = 1\nname = \"back\"\ndiameter_mm = 180\nepoch_year = 2000\n\
                plates_deg = [40]\n[parts]\nquadrant = \"qibla\"\n";
    let refused = Specification::from_toml(text).unwrap_err().to_string();
    assert!(refused.contains("gazetteer"), "{refused}");
    let mecca = Place {
        name: "Mecca".to_owned(),
        latitude: 21.0 + 25.0 / 60.0 + 21.0 / 3600.0,
        longitude: 39.0 + 49.0 / 60.0 + 34.0 / 3600.0,
    };
    let instrument = made(&[mecca], 180.0, false, 0.5);
    assert!(curves(&instrument).values().all(Vec::is_empty));
}
