//! The drawing is the geometry: the SVG is read back, its orientation and its
//! projection are undone, and every line is where spherical trigonometry puts it.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

mod measuring;

use std::f64::consts::PI;

use drawing::{Setting, Svg, front};
use instrument::{Instrument, State};
use measuring::{Place, Sky, Spot, instrument, names, pieces, short, spread, strokes};
use proptest::prelude::*;
use roxmltree::Document;
use sky::{Angle, Latitude};

/// What is drawn may be off by this much: coordinates are written to 0.00001 mm,
/// and an arc given by its rounded ends bulges a few times more.
const TOLERANCE_MM: f64 = 0.0005;

/// A true unequal-hour curve is drawn as Bézier curves to this accuracy.
const CURVE_TOLERANCE_MM: f64 = 0.001;

/// The obliquity of the instruments measured.
const OBLIQUITY_DEG: f64 = 23.44;

fn drawn(instrument: &Instrument, latitude: f64, rete: f64, rule: f64) -> String {
    let plate = Latitude::from_deg(latitude).unwrap();
    let state = State {
        rete: Angle::from_deg(rete),
        rule: Angle::from_deg(rule),
        ..State::at_rest(plate)
    };
    front(instrument, &Setting::of(state)).svg(&Svg::default())
}

fn degrees_in(name: &str) -> f64 {
    let number: String = name
        .chars()
        .filter(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    number.parse().unwrap()
}

fn houses(method: &str) -> String {
    format!("house_lines = \"{method}\"\n")
}

/// Every line of the plate, point by point.
fn check_plate(document: &Document<'_>, sky: &Sky, latitude: f64, edge_mm: f64) {
    let phi = latitude.to_radians();
    let mut seen = 0;
    for name in names(document) {
        let drawn = pieces(document, &name);
        let spots = spread(&drawn, 9);
        // What is left of one condition on the sky, in millimetres on the plate.
        let off = |spot: Spot| -> Option<f64> {
            let place = sky.place(spot);
            let off = match name.as_str() {
                "horizon" => place.altitude(phi),
                "twilight line" => place.altitude(phi) + 18_f64.to_radians(),
                "prime vertical" => {
                    let altitude = place.altitude(phi);
                    place.azimuth(phi).cos() * altitude.cos()
                }
                "tropic of Cancer" => place.declination - OBLIQUITY_DEG.to_radians(),
                "tropic of Capricorn" => place.declination + OBLIQUITY_DEG.to_radians(),
                "equator" => place.declination,
                "meridian line" => place.hour_angle.sin() * place.declination.cos(),
                "midnight line" => place.hour_angle.sin() * place.declination.cos(),
                almucantar if almucantar.starts_with("almucantar") => {
                    place.altitude(phi) - degrees_in(&name).to_radians()
                }
                azimuth if azimuth.starts_with("azimuth") => {
                    let off = short(place.azimuth(phi) - degrees_in(&name).to_radians());
                    // At the zenith all azimuths meet.
                    off.clamp(-1.0, 1.0) * place.altitude(phi).cos()
                }
                _ => return None,
            };
            Some(sky.mm(off, spot))
        };
        for spot in spots {
            let Some(off) = off(spot) else { continue };
            // At the zenith's own circle and at nadir a point has no azimuth to measure.
            assert!(off < TOLERANCE_MM, "{name} is off by {off} mm at {spot:?}");
            assert!(spot.x.hypot(spot.y) < edge_mm + TOLERANCE_MM);
            seen += 1;
        }
    }
    assert!(seen > 100);
}

/// The hour angle at which a part of the night is over, in radians.
fn night_hour(latitude: f64, declination: f64, part: f64) -> Option<f64> {
    let cos = -latitude.tan() * declination.tan();
    let day = (cos.abs() < 1.0).then(|| cos.acos())?;
    Some(day + part * (2.0 * PI - 2.0 * day))
}

fn hour_off(sky: &Sky, spot: Spot, latitude: f64, hour: f64) -> Option<f64> {
    let place = sky.place(spot);
    let wanted = night_hour(latitude, place.declination, hour / 12.0)?;
    let off = short(place.hour_angle - wanted) * place.declination.cos();
    Some(sky.mm(off, spot))
}

/// How far a spot is from the curve of an unequal hour, in millimetres: what it is
/// wrong in hour angle, over how fast that changes across the curve.
fn curve_off(sky: &Sky, spot: Spot, latitude: f64, hour: f64) -> f64 {
    let Place {
        hour_angle,
        declination,
    } = sky.place(spot);
    let part = hour / 12.0;
    let Some(wanted) = night_hour(latitude, declination, part) else {
        // No night, or no day: rounding has carried the end of the curve over.
        return sky.mm(declination.abs() - (PI / 2.0 - latitude.abs()), spot);
    };
    let day = (-latitude.tan() * declination.tan()).acos();
    let slope = (1.0 - 2.0 * part) * latitude.tan() / (declination.cos().powi(2) * day.sin());
    let across = slope.hypot(1.0 / declination.cos());
    sky.mm(short(hour_angle - wanted) / across, spot)
}

/// Where a line crosses the equator, by halving.
fn on_equator(sky: &Sky, pieces: &[measuring::Drawn]) -> Option<Spot> {
    let inside = |spot: Spot| spot.x.hypot(spot.y) < sky.equator_mm;
    let piece = pieces
        .iter()
        .find(|piece| inside(piece.at(0.0)) != inside(piece.at(1.0)))?;
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if inside(piece.at(middle)) == inside(piece.at(low)) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(piece.at(low))
}

fn orientations() -> impl Strategy<Value = (&'static str, &'static str)> {
    prop::sample::select(vec![
        ("north", "noon-up"),
        ("north", "midnight-up"),
        ("south", "noon-up"),
        ("south", "midnight-up"),
    ])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn lines_of_the_plate_lie_where_the_sky_is(
        size in 40.0..500.0, latitude in -90.0..90.0, held in orientations(),
    ) {
        let instrument = instrument(size, held.0, held.1, "");
        let svg = drawn(&instrument, latitude, 0.0, 0.0);
        let document = Document::parse(&svg).unwrap();
        let sky = Sky::of(&instrument, &document);
        let edge = instrument.fineness().outer_tropic_mm();
        check_plate(&document, &sky, latitude, edge);
        let outer = sky.equator_mm * ((90.0 + OBLIQUITY_DEG) / 2.0).to_radians().tan();
        prop_assert!((outer - edge).abs() < TOLERANCE_MM);
    }

    #[test]
    fn hour_arcs_divide_the_nights_of_three_circles(
        size in 40.0..500.0, latitude in -60.0..60.0, held in orientations(),
    ) {
        // So small a gap that none of them ends early.
        let more = "unequal_hour_lines = \"arcs\"\n[parts]\nleast_gap_mm = 0.1\n";
        let instrument = instrument(size, held.0, held.1, more);
        let svg = drawn(&instrument, latitude, 0.0, 0.0);
        let document = Document::parse(&svg).unwrap();
        let sky = Sky::of(&instrument, &document);
        let phi = latitude.to_radians();
        for hour in (1..=11).filter(|hour| *hour != 6) {
            let drawn = pieces(&document, &format!("unequal-hour line {hour}"));
            let ends = [drawn[0].at(0.0), drawn[drawn.len() - 1].at(1.0)];
            for end in ends {
                let declination = sky.place(end).declination.abs() - OBLIQUITY_DEG.to_radians();
                prop_assert!(sky.mm(declination, end) < TOLERANCE_MM);
            }
            for spot in [ends[0], ends[1], on_equator(&sky, &drawn).unwrap()] {
                let off = hour_off(&sky, spot, phi, f64::from(hour)).unwrap();
                prop_assert!(off < TOLERANCE_MM, "hour {} is off by {} mm", hour, off);
            }
        }
    }

    #[test]
    fn true_hour_curves_keep_their_hour_all_along(
        size in 40.0..500.0, latitude in -89.0..89.0, held in orientations(),
    ) {
        let more = "unequal_hour_lines = \"curves\"\n[parts]\nleast_gap_mm = 0.1\n";
        let instrument = instrument(size, held.0, held.1, more);
        let svg = drawn(&instrument, latitude, 0.0, 0.0);
        let document = Document::parse(&svg).unwrap();
        let sky = Sky::of(&instrument, &document);
        for hour in (1..=11).filter(|hour| *hour != 6) {
            let drawn = pieces(&document, &format!("unequal-hour line {hour}"));
            // Far beyond the polar circles there is little night within the tropics, and in
            // it the lines crowd.
            prop_assert!(drawn.len() > 10 || latitude.abs() > 80.0);
            for spot in spread(&drawn, 7) {
                let off = curve_off(&sky, spot, latitude.to_radians(), f64::from(hour));
                prop_assert!(off < CURVE_TOLERANCE_MM, "hour {} is off by {} mm", hour, off);
            }
        }
    }

    #[test]
    fn house_lines_are_great_circles_of_their_method(
        size in 40.0..500.0, latitude in -89.0..89.0, held in orientations(),
        method in prop::sample::select(vec!["regiomontanus", "campanus"]),
    ) {
        let instrument = instrument(size, held.0, held.1, &houses(method));
        let svg = drawn(&instrument, latitude, 0.0, 0.0);
        let document = Document::parse(&svg).unwrap();
        let sky = Sky::of(&instrument, &document);
        let (sin_p, cos_p) = latitude.to_radians().sin_cos();
        // Axes: noon point of the equator, west point, north pole.
        let north = [-sin_p, 0.0, cos_p];
        for (house, numeral) in [(2.0, "II"), (3.0, "III"), (5.0, "V"), (6.0, "VI")] {
            let below: f64 = (30.0 * (house - 1.0_f64)).to_radians();
            let through = match method {
                // The equator's point so many degrees after the east point.
                "regiomontanus" => [-below.sin(), -below.cos(), 0.0],
                // The prime vertical's point so many degrees below east.
                _ => [-cos_p * below.sin(), -below.cos(), -sin_p * below.sin()],
            };
            let normal = [
                north[1] * through[2] - north[2] * through[1],
                north[2] * through[0] - north[0] * through[2],
                north[0] * through[1] - north[1] * through[0],
            ];
            let size = normal.iter().map(|x| x * x).sum::<f64>().sqrt();
            for spot in spread(&pieces(&document, &format!("house line {numeral}")), 9) {
                let place = sky.place(spot);
                let (sin_d, cos_d) = place.declination.sin_cos();
                let (sin_h, cos_h) = place.hour_angle.sin_cos();
                let v = [cos_d * cos_h, cos_d * sin_h, sin_d];
                let off = (v[0] * normal[0] + v[1] * normal[1] + v[2] * normal[2]) / size;
                prop_assert!(sky.mm(off, spot) < TOLERANCE_MM);
                let above = place.altitude(latitude.to_radians()).max(0.0);
                prop_assert!(sky.mm(above, spot) < TOLERANCE_MM);
            }
        }
    }

    #[test]
    fn the_rete_carries_the_ecliptic_and_the_stars_with_it(
        size in 40.0..500.0, rete in -400.0..400.0, rule in -400.0..400.0, held in orientations(),
    ) {
        let instrument = instrument(size, held.0, held.1, "");
        let svg = drawn(&instrument, 40.0, rete, rule);
        let document = Document::parse(&svg).unwrap();
        let sky = Sky::of(&instrument, &document);
        let obliquity = OBLIQUITY_DEG.to_radians();
        // Turned back to 0° Aries on noon.
        let at_rest = |spot: Spot| {
            let place = sky.place(spot);
            Place { hour_angle: place.hour_angle - rete.to_radians(), ..place }
        };

        let ecliptic = strokes(&document, "ecliptic");
        let division = instrument.specification().ecliptic_division.deg();
        let mut divided = Vec::new();
        for stroke in &ecliptic {
            if let [measuring::Drawn::Arc(_, _, _, sweep)] = stroke.as_slice()
                && *sweep > 6.0
            {
                for spot in spread(stroke, 40) {
                    let (_, latitude) = at_rest(spot).ecliptic(obliquity);
                    prop_assert!(sky.mm(latitude, spot) < TOLERANCE_MM);
                }
                continue;
            }
            let (begins, latitude) = at_rest(stroke[0].at(0.0)).ecliptic(obliquity);
            prop_assert!(sky.mm(latitude, stroke[0].at(0.0)) < TOLERANCE_MM);
            let whole = (begins.to_degrees() / division).round();
            let longitude = (whole * division).to_radians();
            divided.push(whole.rem_euclid(360.0 / division) as u32);
            for spot in spread(stroke, 4) {
                let (here, latitude) = at_rest(spot).ecliptic(obliquity);
                let off = sky.mm(short(here - longitude) * latitude.cos(), spot);
                prop_assert!(off < TOLERANCE_MM, "{}° is off by {} mm", whole * division, off);
            }
        }
        divided.sort_unstable();
        let all: Vec<u32> = (0..(360.0 / division).round() as u32).collect();
        prop_assert_eq!(divided, all);

        prop_assert!(!instrument.stars().is_empty());
        for star in instrument.stars() {
            let drawn = pieces(&document, &format!("star pointer {}", star.name));
            let tip = match drawn.as_slice() {
                [measuring::Drawn::Arc(centre, _, _, sweep)] if *sweep > 6.0 => *centre,
                [.., last] => last.at(1.0),
                [] => panic!("{} has no pointer", star.name),
            };
            let wanted = sky.spot(Place {
                hour_angle: (rete - star.right_ascension.deg()).to_radians(),
                declination: star.declination.deg().to_radians(),
            });
            prop_assert!(tip.distance(wanted) < TOLERANCE_MM, "{}", star.name);
        }

        let almuri = pieces(&document, "almuri")[0].at(1.0);
        let head = if held.0 == "north" { 270.0 } else { 90.0 };
        let off = short(sky.place(almuri).hour_angle - (rete - head).to_radians());
        prop_assert!(off.abs() * size < TOLERANCE_MM);

        for edge in pieces(&document, "edge of the rule") {
            let off = short(sky.place(edge.at(1.0)).hour_angle - rule.to_radians());
            prop_assert!(off.abs() * size < TOLERANCE_MM);
        }
    }

    #[test]
    fn the_limb_is_divided_evenly(size in 40.0..500.0, held in orientations()) {
        let instrument = instrument(size, held.0, held.1, "");
        let svg = drawn(&instrument, 40.0, 0.0, 0.0);
        let document = Document::parse(&svg).unwrap();
        let sky = Sky::of(&instrument, &document);
        let division = instrument.specification().limb_division.deg();
        let mut divided = Vec::new();
        for stroke in strokes(&document, "degrees of the limb") {
            let start = stroke[0].at(0.0);
            let off = start.x.hypot(start.y) - instrument.limb_mm();
            prop_assert!(off.abs() < TOLERANCE_MM);
            for end in [0.0, 1.0] {
                let deg = sky.place(stroke[0].at(end)).hour_angle.to_degrees();
                let whole = (deg / division).round();
                prop_assert!((deg - whole * division).abs().to_radians() * size < TOLERANCE_MM);
                divided.push(whole.rem_euclid(360.0 / division) as u32);
            }
        }
        divided.sort_unstable();
        divided.dedup();
        prop_assert_eq!(divided.len(), (360.0 / division).round() as usize);
    }
}

/// Azimuth and altitude by ERFA: the lines of the drawing pass through its places.
#[test]
fn lines_pass_through_the_places_of_erfa() {
    const TABLE: &str = include_str!("data/altaz_erfa.csv");
    let rows: Vec<[f64; 5]> = TABLE
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_digit() || c == '-'))
        .map(|line| {
            let numbers: Vec<f64> = line.split(',').map(|text| text.parse().unwrap()).collect();
            numbers.try_into().unwrap()
        })
        .collect();
    assert!(rows.len() > 400);
    let mut measured = 0;
    for rows in rows.chunk_by(|a, b| a[0].to_bits() == b[0].to_bits()) {
        let latitude = rows[0][0];
        for held in ["noon-up", "midnight-up"] {
            let hemisphere = if latitude < 0.0 { "south" } else { "north" };
            let more = "almucantar_step_deg = 10\nazimuth_step_deg = 10\n";
            let instrument = instrument(300.0, hemisphere, held, more);
            let svg = drawn(&instrument, latitude, 0.0, 0.0);
            let document = Document::parse(&svg).unwrap();
            let sky = Sky::of(&instrument, &document);
            for [_, hour_angle, declination, azimuth, altitude] in rows {
                let spot = sky.spot(Place {
                    hour_angle: hour_angle.to_radians(),
                    declination: declination.to_radians(),
                });
                if spot.x.hypot(spot.y) > instrument.fineness().outer_tropic_mm() {
                    continue;
                }
                let names = [
                    format!("almucantar {}°", altitude.round()),
                    format!("azimuth {}°", azimuth.round()),
                ];
                for name in names {
                    let near = pieces(&document, &name)
                        .iter()
                        .map(|piece| piece.distance(spot))
                        .fold(f64::INFINITY, f64::min);
                    assert!(
                        near < TOLERANCE_MM,
                        "{name} at {latitude}° is {near} mm off"
                    );
                }
                measured += 1;
            }
        }
    }
    assert!(measured > 500, "{measured}");
}
