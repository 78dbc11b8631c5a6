//! What the quarters of the back bear, read back from the drawing: the Sun's altitudes by
//! spherical trigonometry, sines and cotangents by their definitions.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use drawing::{Contour, Item, Making, Piece, Workpiece, workpieces};
use instrument::{Instrument, LineId, Point, Specification};
use proptest::prelude::*;

mod followed;
use followed::points;

/// Curves are followed to this, in millimetres.
const CURVE_MM: f64 = 0.002;

/// Straight lines and circles are exact.
const EXACT_MM: f64 = 1e-6;

fn instrument(text: &str) -> Instrument {
    Instrument::new(
        Specification::from_toml(&format!("version = 1\nname = \"back\"\n{text}")).unwrap(),
    )
}

fn back(instrument: &Instrument) -> Workpiece {
    workpieces(instrument, &[Making::Back])
        .into_iter()
        .find(|piece| piece.name == "back")
        .unwrap()
}

/// Radius in millimetres and altitude in degrees of a place as drawn: x to the right, y down.
/// The lower half has the altitude that the alidade's upper end shows.
fn polar(p: Point) -> (f64, f64) {
    (p.radius(), p.y.abs().atan2(p.x.abs()).to_degrees())
}

fn drawn<'a>(
    piece: &'a Workpiece,
    of: impl Fn(&LineId) -> bool + 'a,
) -> Vec<(LineId, &'a Contour)> {
    let traces = piece.items.iter().filter_map(|item| match item {
        Item::Stroke(trace) => Some(trace),
        Item::Fill(_) | Item::Text(_) => None,
    });
    traces
        .filter_map(|trace| Some((trace.line.clone()?, &trace.contours)))
        .filter(|(line, _)| of(line))
        .flat_map(|(line, contours)| contours.iter().map(move |one| (line.clone(), one)))
        .collect()
}

/// The altitude of the Sun at a longitude from the winter solstice and an hour angle, all in
/// degrees, for the hemisphere whose winter it is: by the cosine rule of the sphere.
fn altitude(from_winter: f64, latitude: f64, obliquity: f64, hour_angle: f64) -> f64 {
    let sin_d = obliquity.to_radians().sin() * (from_winter - 90.0).to_radians().sin();
    let d = sin_d.asin();
    let phi = latitude.abs().to_radians();
    let zenith = phi.sin() * d.sin() + phi.cos() * d.cos() * hour_angle.to_radians().cos();
    90.0 - zenith.clamp(-1.0, 1.0).acos().to_degrees()
}

fn distance(from: Point, to: Point, p: Point) -> f64 {
    let along = to - from;
    let part = ((p - from).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
    (p - (from + along * part)).radius()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Each point of each curve stands at the Sun's altitude for its arc of the zodiac, and no
    /// two curves nearer than the least gap.
    #[test]
    fn the_sun_stands_where_its_curves_say(
        size in 45.0..500.0_f64, latitudes in prop::collection::vec(0.0..89.0_f64, 1..6),
        south in any::<bool>(), hours in any::<bool>(), obliquity in 22.5..24.5_f64,
        gap in 0.3..0.8_f64,
    ) {
        let side = if south { -1.0 } else { 1.0 };
        let chosen = if hours { &latitudes[..1] } else { &latitudes[..] };
        let listed: Vec<String> = chosen.iter().map(|deg| (deg * side).to_string()).collect();
        let (hemisphere, kind) = (
            if south { "south" } else { "north" },
            if hours { "equal-hours" } else { "noon-altitudes" },
        );
        let made = instrument(&format!(
            "diameter_mm = {size}\nobliquity_deg = {obliquity}\nhemisphere = \"{hemisphere}\"\n\
             plates_deg = [{0}]\n[parts]\nquadrant = \"{kind}\"\nquadrant_deg = [{0}]\nleast_gap_mm = {gap}\n",
            listed.join(", ")
        ));
        let quadrant = made.sun_quadrant();
        let piece = back(&made);
        let curves = drawn(&piece, |line| matches!(line, LineId::NoonAltitudes(_) | LineId::EqualHour(_)));
        prop_assert!(!curves.is_empty());
        for (line, contour) in &curves {
            let off = |p: &Point| {
                let (radius, found) = polar(*p);
                let part = (radius - quadrant.winter_mm) / (quadrant.summer_mm - quadrant.winter_mm);
                assert!((-1e-4..1.0001).contains(&part), "{line}: {part}");
                let of = |latitude: f64, hour_angle: f64| {
                    let wanted = altitude(part * 180.0, latitude, obliquity, hour_angle);
                    (wanted - found).to_radians().abs() * radius
                };
                match line {
                    LineId::EqualHour(hours) => of(chosen[0], 15.0 * f64::from(*hours)),
                    LineId::NoonAltitudes(named) => {
                        // Named to the minute, drawn for the latitude itself.
                        let near = chosen.iter().filter(|deg| (*deg - named.deg().abs()).abs() < 0.01);
                        near.map(|deg| of(*deg, 0.0)).fold(f64::INFINITY, f64::min)
                    }
                    _ => f64::INFINITY,
                }
            };
            for p in points(contour) {
                prop_assert!(off(&p) < CURVE_MM, "{line}: {} mm at {p:?}", off(&p));
            }
        }
        for (line, contour) in &curves {
            for (other, beside) in curves.iter().filter(|(other, _)| other != line) {
                let beside = points(beside);
                for p in points(contour) {
                    let least = beside.windows(2).map(|pair| distance(pair[0], pair[1], p)).fold(f64::INFINITY, f64::min);
                    prop_assert!(least > gap - 0.01, "{line} and {other}: {least}");
                }
            }
        }
    }
}

/// Noon altitudes in print. Chaucer, *Treatise on the Astrolabe* II.25: at Oxford, latitude
/// 51°50′, the head of Aries culminates at 38°10′. J. Newton, *Cosmographia* (1679), p. 283: at
/// London, 51.533°, with the obliquity 23.525°, the greatest is 61.9916° and the least 14.9416°.
#[test]
fn noon_altitudes_in_print() {
    for (latitude, obliquity, printed) in [
        (
            51.0 + 50.0 / 60.0,
            23.5,
            [None, Some(38.0 + 10.0 / 60.0), None],
        ),
        (51.533_3, 23.525, [Some(14.9416), None, Some(61.9916)]),
    ] {
        let made = instrument(&format!(
            "diameter_mm = 200\nobliquity_deg = {obliquity}\nplates_deg = [{latitude}]\n\
             [parts]\nquadrant = \"noon-altitudes\"\n",
        ));
        let quadrant = made.sun_quadrant();
        let piece = back(&made);
        let curves = drawn(&piece, |line| matches!(line, LineId::NoonAltitudes(_)));
        let at = |radius: f64| {
            let all = curves.iter().flat_map(|(_, contour)| points(contour));
            let off = |p: &Point| (p.radius() - radius).abs();
            let near = all.min_by(|a, b| off(a).total_cmp(&off(b)));
            polar(near.unwrap()).1
        };
        let (winter, summer) = (quadrant.winter_mm, quadrant.summer_mm);
        let places = [winter, f64::midpoint(winter, summer), summer];
        for (place, printed) in places.into_iter().zip(printed) {
            let Some(printed) = printed else { continue };
            assert!(
                (at(place) - printed).abs() < 0.001,
                "{} for {printed}",
                at(place)
            );
        }
    }
}

fn texts(piece: &Workpiece, of: &LineId) -> Vec<(f64, Point)> {
    let all = piece.items.iter().filter_map(|item| match item {
        Item::Text(one) if one.line.as_ref() == Some(of) => {
            Some((one.text.parse().ok()?, one.boxes()[0].around().0))
        }
        _ => None,
    });
    all.collect()
}

/// Every parallel is a sixtieth, thirtieth or twelfth of the radius; each number stands on its
/// own, in sixtieths.
#[test]
fn sines_are_numbered_by_sixtieths() {
    for (diameter, count, every) in [
        (45.0, 12.0, None),
        (90.0, 30.0, Some(10)),
        (300.0, 60.0, Some(5)),
    ] {
        let made = instrument(&format!(
            "diameter_mm = {diameter}\nepoch_year = 2025\nplates_deg = [50]\n[parts]\nquadrant = \"sines\"\n"
        ));
        let radius = made.back().bands.field;
        let piece = back(&made);
        let lines = drawn(&piece, |line| *line == LineId::SineQuadrant);
        let mut seen = 0;
        for (_, contour) in &lines {
            let (start, pieces, _) = contour.outline();
            let Some(Piece::Line { to }) = pieces.first() else {
                panic!("a straight line")
            };
            // The upright parallels have one x, the level ones one y.
            let (along, reach) = if (start.x - to.x).abs() < EXACT_MM {
                (to.x, to.y.abs())
            } else {
                (-to.y, to.x)
            };
            let part = along / radius * count;
            assert!((part - part.round()).abs() * radius / count < EXACT_MM);
            // Where it ends on the edge the alidade stands at the angle of that sine.
            assert!((along.hypot(reach) - radius).abs() < EXACT_MM);
            seen += 1;
        }
        assert!(seen >= 2 * (count as usize - 2), "{seen}");
        let numbers = texts(&piece, &LineId::SineQuadrant);
        let on_edges: Vec<f64> = numbers
            .iter()
            .map(|(number, at)| {
                let off = |along: f64| (along - radius * number / 60.0).abs();
                off(at.x).min(off(-at.y))
            })
            .collect();
        assert!(on_edges.iter().all(|off| *off < 0.3), "{on_edges:?}");
        assert_eq!(every.is_some(), !numbers.is_empty(), "{diameter}");
        if let Some(every) = every {
            let many = 2 * (60 / every - 1);
            assert!(numbers.len() + 2 >= many, "{diameter}: {}", numbers.len());
        }
    }
}

/// The strokes stand at whole or half digits and feet, none nearer to another than the least
/// gap; each number at its own shadow: 12 digits and 7 feet at 45°; al-Battānī's table has 20
/// digits 47 minutes at 30° (from memory).
#[test]
fn cotangents_are_shadows() {
    for diameter in [45.0, 90.0, 180.0, 400.0] {
        let made = instrument(&format!(
            "diameter_mm = {diameter}\nepoch_year = 2025\nplates_deg = [50]\n[parts]\ncotangents = true\n"
        ));
        let back_of = made.back();
        let deg = back_of.cotangent(20.0 + 47.0 / 60.0, true).deg() - 90.0;
        assert!((deg - 30.0).abs() < 0.01, "{deg}");
        assert!((back_of.cotangent(7.0, false).in_turn().deg() - 225.0).abs() < 1e-9);
        let piece = back(&made);
        let shadow = |p: Point| {
            let gnomon = if p.x > 0.0 { 12.0 } else { 7.0 };
            gnomon / polar(p).1.to_radians().tan()
        };
        let strokes = drawn(&piece, |line| *line == LineId::Cotangents);
        let mut bearings: Vec<f64> = Vec::new();
        for (_, contour) in &strokes {
            let (start, pieces, _) = contour.outline();
            if !matches!(pieces.first(), Some(Piece::Line { .. })) {
                continue;
            }
            let halves = shadow(start) * 2.0;
            assert!((halves - halves.round()).abs() < 1e-6, "{halves}");
            assert!(start.y > 0.0);
            bearings.push(start.y.atan2(start.x));
        }
        assert!(bearings.len() > 10, "{diameter}: {}", bearings.len());
        bearings.extend([0.0, 90.0, 180.0].map(f64::to_radians));
        bearings.sort_by(f64::total_cmp);
        let gap = made.fineness().least_gap().mm();
        for pair in bearings.windows(2) {
            let apart = (pair[1] - pair[0]) * back_of.bands.shadow;
            assert!(apart >= gap * 0.999, "{diameter}: {apart}");
        }
        let numbers = texts(&piece, &LineId::Cotangents);
        assert_eq!(numbers.is_empty(), diameter < 100.0, "{diameter}");
        for (number, at) in numbers {
            let off = (shadow(at) / number).ln().abs();
            assert!(off < 0.02, "{number} at {}", shadow(at));
        }
        // The shadow square has made way, with its corners on the scale's inner edge.
        let corner = back_of.umbra_recta(12.0, true);
        assert!((corner.radius() - back_of.bands.shadow).abs() < 1e-9);
    }
}

#[test]
fn a_quadrant_that_cannot_be_is_refused() {
    let refused = |parts: &str| {
        let text = format!(
            "version = 1\nname = \"back\"\ndiameter_mm = 180\nepoch_year = 2025\nplates_deg = [50]\n[parts]\n{parts}\n"
        );
        Specification::from_toml(&text).unwrap_err().to_string()
    };
    for (parts, message) in [
        (
            "quadrant = \"moons\"",
            "\"title\" or \"sines\" or \"noon-altitudes\" or \"equal-hours\" or \"qibla\" would do",
        ),
        (
            "quadrant = \"title\"\nsine_quadrant = true",
            "say two things",
        ),
        (
            "quadrant = \"noon-altitudes\"\nsine_quadrant = true",
            "say two things",
        ),
        (
            "quadrant = \"sines\"\nsine_quadrant = false",
            "say two things",
        ),
        ("quadrant_deg = [50]", "has no quadrant to stand in"),
        (
            "quadrant = \"equal-hours\"\nquadrant_deg = [50, 51]",
            "a list of at most 1 would do",
        ),
        (
            "quadrant = \"equal-hours\"\nquadrant_deg = [-50]",
            "northern hemisphere",
        ),
        (
            "quadrant = \"noon-altitudes\"\nquadrant_deg = []",
            "1 to 60 latitudes",
        ),
        ("cotangents = 7", "true or false would do"),
    ] {
        let told = refused(parts);
        assert!(told.contains(message), "{told}");
    }
}
