//! The qibla curves of the back, read back from the drawing and held against ERFA
//! (`reference/qibla_erfa.py`), and against the triangle of pole, zenith and Sun.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use std::collections::{BTreeMap, HashMap};

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
    // All over the Earth, and oftener where a direction is delicate: at the equator, the poles,
    // Mecca and its antipode.
    let everywhere = (-90.0..=90.0_f64, -180.0..180.0_f64);
    let equator = (-0.01..0.01_f64, -180.0..180.0_f64);
    let pole = (89.9..=90.0_f64, -180.0..180.0_f64);
    let mecca = (21.3..21.5_f64, 39.7..39.9_f64);
    let other_side = |(latitude, longitude): (f64, f64)| (-latitude, longitude - 180.0);
    let place = prop_oneof![
        6 => everywhere,
        1 => equator,
        1 => pole.clone(),
        1 => pole.prop_map(move |place| (-place.0, place.1)),
        1 => mecca.clone(),
        1 => mecca.prop_map(other_side),
    ];
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
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// Each point of each curve, unprojected: at its altitude and declination the Sun's azimuth
    /// is the bearing of Mecca, by the cosine rule; and no two curves stand closer than the gap.
    #[test]
    fn curves_are_the_bearing_of_mecca(
        places in places(), size in 45.0..600.0_f64, south in any::<bool>(), gap in 0.3..0.8_f64,
    ) {
        follow(&places, size, south, gap)?;
    }
}

/// A curve that begins at a solstice bends there most sharply of all; and one that all but
/// touches it at the horizon.
#[test]
fn a_curve_is_followed_where_it_bends_most() {
    for (latitude, longitude) in [(10.617_035, -50.495_701), (0.006_144, 155.000_197)] {
        let place = Place {
            name: "Ax".to_owned(),
            latitude,
            longitude,
        };
        for size in [60.0, 240.168_034, 280.855_231, 600.0] {
            for gap in [0.3, 0.584_259, 0.8] {
                follow(std::slice::from_ref(&place), size, false, gap).unwrap();
            }
        }
    }
}

/// A piece of a curve, by the curve's name.
type Chord<'a> = (&'a str, Point, Point);

/// Reads the curves back from the drawing.
fn follow(places: &[Place], size: f64, south: bool, gap: f64) -> Result<(), TestCaseError> {
    let instrument = made(places, size, south, gap);
    let curves = curves(&instrument);
    let up = if south { -1.0 } else { 1.0 };
    let mecca = (
        21.0 + 25.0 / 60.0 + 21.0 / 3600.0_f64,
        39.0 + 49.0 / 60.0 + 34.0 / 3600.0_f64,
    );
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
            let wanted = (phi.sin() * a.sin() + phi.cos() * a.cos() * cos_q)
                .asin()
                .to_degrees();
            // How far along the arcs that is from where it is drawn.
            let at = drawn_at(&instrument, altitude, wanted, south);
            let here = drawn_at(&instrument, altitude, from_winter_pole * up, south);
            let apart = (at - here).radius();
            if apart >= CURVE_MM {
                let across = distance(pieces, at);
                prop_assert!(across < CURVE_MM, "{name}: {apart} {across}");
            }
        }
    }
    // Chords by squares of the gap's size, each in all that it could be near to.
    let square = |mm: f64| (mm / gap).floor() as i64;
    let mut squares: HashMap<(i64, i64), Vec<Chord<'_>>> = HashMap::new();
    for (name, pieces) in &curves {
        for ends in pieces.iter().flat_map(|one| one.windows(2)) {
            let range =
                |one: f64, other: f64| square(one.min(other) - gap)..=square(one.max(other) + gap);
            for x in range(ends[0].x, ends[1].x) {
                for y in range(ends[0].y, ends[1].y) {
                    squares
                        .entry((x, y))
                        .or_default()
                        .push((name, ends[0], ends[1]));
                }
            }
        }
    }
    for (name, pieces) in &curves {
        for p in pieces.iter().flatten() {
            let beside = squares
                .get(&(square(p.x), square(p.y)))
                .into_iter()
                .flatten();
            for (other, from, to) in beside.filter(|(other, ..)| name != other) {
                let off = distance(&[vec![*from, *to]], *p);
                prop_assert!(off > gap - 0.05, "{name} {other}: {off}");
            }
        }
    }
    Ok(())
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
