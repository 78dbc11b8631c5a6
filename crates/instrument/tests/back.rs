//! The back: what the alidade gives there, against published rules and the Sun.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use instrument::{
    CalendarCircle, Circline, DateFrom, Hemisphere, Instrument, Point, Specification, Stroke,
    YearDay,
};
use proptest::prelude::*;
use sky::{Angle, Instant, Latitude, Sky};

fn specification(text: &str) -> Specification {
    Specification::from_toml(&format!(
        "version = 1\nname = \"back\"\ndiameter_mm = 180\nepoch_year = 2025\nplates_deg = [42]\n{text}"
    ))
    .unwrap()
}

fn instrument(text: &str) -> Instrument {
    Instrument::new(specification(text))
}

/// The altitude that the alidade's lower end shows when it lies over a point of the
/// lower half.
fn altitude_over(p: Point) -> f64 {
    (-p.x).atan2(p.y.abs()).to_degrees()
}

/// Chaucer, Treatise on the Astrolabe, supplementary conclusions 41 to 43 (Skeat 1894):
/// with 4 points of umbra recta the height is three times the distance; 144 divided by
/// the points turns the one shadow into the other.
#[test]
fn shadow_square() {
    let made = instrument("");
    let back = made.back();
    for right in [true, false] {
        let recta = altitude_over(back.umbra_recta(4.0, right));
        assert!((recta.to_radians().tan() - 3.0).abs() < 1e-12);
        let versa = altitude_over(back.umbra_versa(4.0, right));
        assert!((versa.to_radians().tan() - 4.0 / 12.0).abs() < 1e-12);
        for points in [1.0, 3.0, 4.0, 9.0] {
            // The same alidade, met beyond the square's side.
            let recta = altitude_over(back.umbra_recta(points, right));
            let versa = altitude_over(back.umbra_versa(144.0 / points, right));
            assert!((recta - versa).abs() < 1e-10);
        }
    }
}

/// sin a = sin A · sin 15°h: the rule by which the quadrant's arcs are drawn, checked on
/// the arcs themselves by carrying a length along the alidade.
#[test]
fn quadrant_of_unequal_hours() {
    let made = instrument("");
    let back = made.back();
    let radius = back.bands.field;
    let along = |altitude: f64, hour: u8| -> f64 {
        let Stroke::Arc {
            centre, radius_mm, ..
        } = back.quadrant_hour(hour).unwrap()
        else {
            panic!("an arc");
        };
        let circle = Circline::circle(centre, radius_mm);
        let bearing = back.altitude(Angle::from_deg(altitude), false);
        let alidade = Circline::straight(Point::POLE, Point::polar(1.0, bearing));
        circle
            .meets(&alidade)
            .points()
            .iter()
            .map(|p| p.dot(Point::polar(1.0, bearing)))
            .fold(0.0, f64::max)
    };
    for noon in [20.0, 45.0, 61.0] {
        let length = along(noon, 6);
        assert!((length - radius * f64::to_radians(noon).sin()).abs() < 1e-9);
        for hour in 1..=5_u8 {
            let sine = f64::to_radians(noon).sin() * f64::to_radians(15.0 * f64::from(hour)).sin();
            let altitude = sine.asin().to_degrees();
            assert!(
                (along(altitude, hour) - length).abs() < 1e-9,
                "{noon} {hour}"
            );
        }
    }
    // Each arc ends on the edge of the field at its own 15°.
    for hour in 1..=6_u8 {
        let end = back.quadrant_hour(hour).unwrap().at(1.0);
        let wanted = Point::polar(
            radius,
            back.altitude(Angle::from_deg(15.0 * f64::from(hour)), false),
        );
        assert!((end - wanted).radius() < 1e-9);
        assert!(back.quadrant_hour(hour).unwrap().at(0.0).radius() < 1e-9);
    }
    assert!(back.quadrant_hour(0).is_none() && back.quadrant_hour(7).is_none());
}

/// The Sun itself, of the ephemeris, beside what the alidade gives for a date.
#[test]
fn calendars_give_the_sun() {
    for (circle, largest) in [("concentric", 1e-4), ("eccentric", 0.03)] {
        let text = format!("calendar_year = 2025\n[parts]\ncalendar_scale = \"{circle}\"");
        let made = instrument(&text);
        let back = made.back();
        let mut day_of_year = 0.0;
        for month in 1..=12_u8 {
            for day in [1_u8, 9, 17, 25] {
                let date = YearDay {
                    month,
                    day,
                    part: 0.0,
                };
                let lengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
                let before: u32 = lengths.iter().take(usize::from(month - 1)).sum();
                day_of_year = f64::from(before) + f64::from(day - 1);
                // 0h on 1 January 2025 is JD 2460676.5.
                let sky = Sky::at(Instant::from_jd_ut(2_460_676.5 + day_of_year)).unwrap();
                let off = back.sun(date).to(sky.sun().longitude).abs().deg();
                assert!(off < largest, "{circle}: {off}° on {day}.{month}");
            }
        }
        assert!(day_of_year > 350.0);
    }
}

/// The displacement of the eccentric circle is twice the eccentricity of the Earth's
/// path, 0.0167, and towards the Sun's apogee, 103° of longitude in 2025 (Meeus,
/// Astronomical Algorithms, ch. 25, from memory).
#[test]
fn eccentric_circle() {
    let made = instrument("[parts]\ncalendar_scale = \"eccentric\"");
    let back = made.back();
    let circle = back.eccentric().unwrap();
    let part = circle.centre.radius() / circle.radius_mm;
    assert!((part - 2.0 * 0.0167).abs() < 0.0002, "{part}");
    let apogee = back.longitude(circle.centre.direction()).deg();
    assert!((apogee - 103.4).abs() < 0.5, "{apogee}");
    assert_eq!(
        specification("[parts]\ncalendar_scale = \"eccentric\"")
            .parts
            .calendar_circle,
        CalendarCircle::Eccentric
    );
}

/// Least and greatest of the year: −14 min 15 s about 11 February, +16 min 25 s about
/// 3 November (common almanac values).
#[test]
fn equation_of_time() {
    let made = instrument("");
    let back = made.back();
    let minutes = back
        .equation_curve()
        .iter()
        .map(|p| back.equation_at(p.radius()) / 60.0)
        .collect::<Vec<f64>>();
    let least = minutes.iter().copied().fold(f64::INFINITY, f64::min);
    let most = minutes.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    assert!((least + 14.25).abs() < 0.1, "{least}");
    assert!((most - 16.4).abs() < 0.1, "{most}");
    for p in back.equation_curve() {
        assert!(p.radius() > back.bands.field && p.radius() < back.bands.equation);
    }
}

#[test]
fn keys_of_parts_and_fits() {
    let text = r#"
        stars = ["Vega", "α Boo"]
        [parts]
        rule = "declinations"
        horizons_deg = [0, 10, 20]
        letters = "single-stroke"
        least_width_mm = 0.8
        [fits]
        kerf_mm = 0.15
        pin_mm = 4
    "#;
    let read = specification(text);
    assert_eq!(read.parts.horizons.len(), 3);
    assert!((read.fits.kerf.mm() - 0.15).abs() < 1e-12);
    let instrument = Instrument::new(read);
    assert_eq!(instrument.stars().len(), 2);
    for (wrong, message) in [
        ("[fits]\nkerf_mm = -1", "fits.kerf_mm = -1 is out of range"),
        ("[fits]\npin_mm = 20", "fits.pin_mm = 20 is out of range"),
        (
            "[parts]\nrule = \"bent\"",
            "parts.rule = \"bent\" is not known",
        ),
        ("[parts]\nhorizons_deg = [-10]", "northern hemisphere"),
        ("stars = [\"Nonesuch\"]", "Nonesuch"),
        ("[parts]\ncolour = 1", "parts.colour is not a known field"),
        ("epoch_yaer = 1", "; epoch_year would do; known are version"),
        (
            "[parts]\nleast_gap = 1",
            "not a known field; parts.least_gap_mm would do",
        ),
        (
            "kerf_mm = 0.1",
            "kerf_mm stands in the wrong table; fits.kerf_mm would do",
        ),
        (
            "[fits]\nstars = []",
            "fits.stars stands in the wrong table; stars would do",
        ),
        // 180 × 0.06, which no number holds exactly.
        (
            "[fits]\nring_hole_mm = 30",
            "a number from 0.5 to 10.8 would do",
        ),
    ] {
        let text = format!(
            "version = 1\nname = \"back\"\ndiameter_mm = 180\nepoch_year = 2025\nplates_deg = [42]\n{wrong}"
        );
        let error = Specification::from_toml(&text).unwrap_err().to_string();
        assert!(error.contains(message), "{error}");
    }
}

proptest! {
    /// Every horizon of a plate of horizons, turned back, lies on its own plate's.
    #[test]
    fn horizons_are_their_plates_horizons(
        latitudes in prop::collection::vec(0.0..89.0_f64, 1..9),
        south in any::<bool>(),
    ) {
        let side = if south { -1.0 } else { 1.0 };
        let mut made = Specification::ideal(
            if south { Hemisphere::South } else { Hemisphere::North },
            Angle::from_deg(23.44),
        );
        made.date_from = DateFrom::Given;
        made.parts.horizons = latitudes
            .iter()
            .map(|deg| Latitude::from_deg(deg * side).unwrap())
            .collect();
        let instrument = Instrument::new(made);
        for (quarter, line) in instrument.horizon_lines() {
            let back = Angle::QUARTER_TURN * -f64::from(quarter);
            let name = line.id.to_string();
            let near = latitudes.iter().any(|deg| {
                let plate = instrument.plate(Latitude::from_deg(deg * side).unwrap());
                line.strokes.iter().all(|stroke| {
                    [0.0, 0.3, 0.7, 1.0].iter().all(|part| {
                        plate.horizon().value(stroke.at(*part).turned(back)).abs() < 1e-6
                    })
                })
            });
            prop_assert!(near, "{name}");
        }
    }
}
