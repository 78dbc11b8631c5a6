//! What is engraved is where it should be: points of the drawn lines are taken back
//! to the sphere and their altitude, azimuth or hour compared with spherical
//! trigonometry written here, and circles with published ones.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use instrument::{
    HourLines, Instrument, Line, LineId, LineShape, Pick, Point, RetePoint, Specification, State,
    Stroke, UnequalHour,
};
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// Unprojected angles agree to this: rounding of double precision, enlarged at
/// the edge of the plate.
const EXACT_DEG: f64 = 1e-8;

fn instrument(latitude_deg: f64, diameter_mm: f64, more: &str) -> Instrument {
    let hemisphere = if latitude_deg < 0.0 { "south" } else { "north" };
    let text = format!(
        "version = 1\nname = \"made up\"\ndiameter_mm = {diameter_mm}\nhemisphere = \"{hemisphere}\"\n\
         obliquity_deg = 23.44\nplates_deg = [{latitude_deg}]\n{more}\n"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

/// A point's hour angle and declination: the projection undone, by its own formula.
fn sky_at(instrument: &Instrument, p: Point) -> (f64, f64) {
    let ratio = p.radius() / instrument.projection().equator_mm();
    let from_pole = 2.0 * ratio.atan().to_degrees();
    let southern = instrument.specification().hemisphere == instrument::Hemisphere::South;
    let declination = if southern {
        from_pole - 90.0
    } else {
        90.0 - from_pole
    };
    (p.y.atan2(p.x).to_degrees(), declination)
}

/// Altitude, and azimuth from north by east.
fn horizontal(hour_angle_deg: f64, declination_deg: f64, latitude_deg: f64) -> (f64, f64) {
    let (sin_h, cos_h) = hour_angle_deg.to_radians().sin_cos();
    let (sin_d, cos_d) = declination_deg.to_radians().sin_cos();
    let (sin_p, cos_p) = latitude_deg.to_radians().sin_cos();
    let up = sin_p * sin_d + cos_p * cos_d * cos_h;
    let north = cos_p * sin_d - sin_p * cos_d * cos_h;
    let east = -cos_d * sin_h;
    (
        up.atan2(north.hypot(east)).to_degrees(),
        east.atan2(north).to_degrees().rem_euclid(360.0),
    )
}

fn points(line: &Line) -> impl Iterator<Item = Point> + '_ {
    line.strokes
        .iter()
        .flat_map(|stroke| (0..=20).map(|n| stroke.at(f64::from(n) / 20.0)))
}

/// Whether a line is of a family.
type Family = fn(&LineId) -> bool;

/// How far a place is from a stroke; from a curve, by its points.
fn distance(stroke: &Stroke, p: Point) -> f64 {
    let ends = (p - stroke.at(0.0))
        .radius()
        .min((p - stroke.at(1.0)).radius());
    match stroke {
        Stroke::Circle { centre, radius_mm } => ((p - *centre).radius() - radius_mm).abs(),
        Stroke::Arc {
            centre,
            radius_mm,
            from,
            sweep,
        } => {
            let towards = (p - *centre).direction();
            let within = if sweep.deg() > 0.0 {
                (towards - *from).in_turn() <= *sweep
            } else {
                (*from - towards).in_turn() <= -*sweep
            };
            if within {
                ((p - *centre).radius() - radius_mm).abs()
            } else {
                ends
            }
        }
        Stroke::Segment { from, to } => {
            let along = *to - *from;
            let part = (p - *from).dot(along) / along.dot(along);
            if (0.0..=1.0).contains(&part) {
                (p - (*from + along * part)).radius()
            } else {
                ends
            }
        }
        Stroke::Curve(through) => through
            .iter()
            .map(|q| (*q - p).radius())
            .fold(ends, f64::min),
    }
}

fn apart(one: f64, other: f64) -> f64 {
    ((one - other + 180.0).rem_euclid(360.0) - 180.0).abs()
}

/// Any whole part of a right angle is a step; what is not is refused with some that are.
#[test]
fn azimuths_at_any_step() {
    let of = |more: &str| {
        let text = format!(
            "version = 1\nname = \"made up\"\ndiameter_mm = 300\nepoch_year = 2025\nplates_deg = [50]\n{more}"
        );
        Specification::from_toml(&text)
    };
    for (step, named) in [
        ("22.5", "22°30′"),
        ("11.25", "11°15′"),
        ("1.25", "1°15′"),
        ("18", "18°"),
    ] {
        let made = Instrument::new(of(&format!("azimuth_step_deg = {step}")).unwrap());
        assert_eq!(made.azimuth_step().unwrap().to_string(), named);
        let lines = made.plate_lines(Latitude::from_deg(50.0).unwrap());
        let seen = |name: String| lines.iter().any(|line| line.id.to_string() == name);
        assert!(seen(format!("azimuth {named}")), "{step}");
        // All of the round but for the meridian and the prime vertical.
        let count = lines
            .iter()
            .filter(|line| matches!(line.id, LineId::Azimuth(_)))
            .count();
        let parts: f64 = 360.0 / step.parse::<f64>().unwrap();
        assert!((parts - 4.0 - count as f64).abs() < 1e-9, "{step}: {count}");
    }
    let none = Instrument::new(of("azimuth_step_deg = 0").unwrap());
    assert!(none.azimuth_step().is_none());
    for wrong in ["7", "0.5", "46", "22.51", "22.503", "-5", "\"5\""] {
        let error = of(&format!("azimuth_step_deg = {wrong}"))
            .unwrap_err()
            .to_string();
        assert!(
            error.contains("azimuth_step_deg") && error.contains("would do"),
            "{error}"
        );
    }
}

/// A plate of horizons for all latitudes: each where the horizon's own equation puts it,
/// cos H = −tan φ tan δ, on the eastern side, turned to its quarter; none nearer to another
/// of its quarter, or to the quarter's axis, than the least gap.
#[test]
fn horizons_of_all_latitudes() {
    for (diameter, step) in [(45.0, 3), (60.0, 2), (120.0, 1), (350.0, 1)] {
        for side in [1.0, -1.0] {
            let made = instrument(50.0 * side, diameter, "[parts]\nhorizons_deg = \"all\"");
            let lines = made.horizon_lines();
            assert!(lines.len() * step >= 87, "{diameter}: {}", lines.len());
            assert!(lines.len() * (step - 1) < 90);
            let gap = made.fineness().least_gap().mm();
            for (quarter, line) in &lines {
                let LineId::HorizonOf(latitude) = line.id else {
                    panic!("{}", line.id)
                };
                let phi = latitude.deg().to_radians();
                assert!(phi * side >= 0.0);
                for p in points(line) {
                    let own = p.turned(Angle::QUARTER_TURN * -f64::from(*quarter));
                    let (hour_angle, declination) = sky_at(&made, own);
                    assert!(hour_angle.to_radians().sin() < 1e-9, "{hour_angle}");
                    assert!(declination.abs() < 23.44 + EXACT_DEG);
                    let altitude = horizontal(hour_angle, declination, latitude.deg()).0;
                    assert!(altitude.abs() < EXACT_DEG, "{altitude} on {}", line.id);
                    let others = lines
                        .iter()
                        .filter(|(q, other)| q == quarter && other.id != line.id);
                    for (_, other) in others {
                        let least = other
                            .strokes
                            .iter()
                            .map(|stroke| distance(stroke, p))
                            .fold(f64::INFINITY, f64::min);
                        assert!(
                            least >= gap * 0.999,
                            "{diameter}: {} and {}: {least}",
                            line.id,
                            other.id
                        );
                    }
                    if latitude.deg().abs() > 0.0 {
                        let from_equator =
                            Angle::from_deg(hour_angle + 90.0).sin().abs() * p.radius();
                        assert!(from_equator >= gap * 0.999, "{}: {from_equator}", line.id);
                    }
                }
            }
        }
    }
    let error = Specification::from_toml(
        "version = 1\nname = \"m\"\ndiameter_mm = 90\nepoch_year = 2025\nplates_deg = [50]\n[parts]\nhorizons_deg = \"every\"",
    );
    assert!(error.unwrap_err().to_string().contains("(or \"all\")"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn every_point_lies_where_its_line_says(latitude in -90.0..90.0_f64, diameter in 40.0..500.0_f64, turned in any::<bool>()) {
        let fault = if turned { "[faults]\nplate_turned_deg = 1.5" } else { "" };
        let made = instrument(latitude, diameter, &format!("unequal_hour_lines = \"curves\"\nazimuth_step_deg = 10\n{fault}"));
        let turn = made.faults().plate_turned;
        for line in made.plate_lines(Latitude::from_deg(latitude).unwrap()) {
            for p in points(&line) {
                let (hour_angle, declination) = sky_at(&made, p.turned(-turn));
                let (altitude, azimuth) = horizontal(hour_angle, declination, latitude);
                match &line.id {
                    LineId::Horizon => prop_assert!(altitude.abs() < EXACT_DEG),
                    LineId::Almucantar(wanted) => prop_assert!((altitude - wanted.deg()).abs() < EXACT_DEG, "{altitude} on {wanted}"),
                    LineId::Twilight => prop_assert!((altitude + 18.0).abs() < EXACT_DEG),
                    LineId::Azimuth(wanted) => {
                        prop_assert!(altitude > -EXACT_DEG);
                        // At the zenith all azimuths meet.
                        if altitude < 89.999 {
                            prop_assert!(apart(azimuth, wanted.deg()) < EXACT_DEG / altitude.to_radians().cos(), "{azimuth} on {wanted}");
                        }
                    }
                    LineId::PrimeVertical if altitude < 89.999 => {
                        prop_assert!(apart(2.0 * azimuth, 180.0) < 2.0 * EXACT_DEG / altitude.to_radians().cos());
                    }
                    LineId::MeridianLine => prop_assert!(hour_angle.abs() < EXACT_DEG || p.radius() < 1e-6),
                    LineId::MidnightLine => prop_assert!(apart(hour_angle, 180.0) < EXACT_DEG || p.radius() < 1e-6),
                    LineId::TropicOfCancer => prop_assert!((declination - 23.44).abs() < EXACT_DEG),
                    LineId::TropicOfCapricorn => prop_assert!((declination + 23.44).abs() < EXACT_DEG),
                    LineId::Equator => prop_assert!(declination.abs() < EXACT_DEG),
                    LineId::UnequalHour(hour) => {
                        // The semi-diurnal arc: cos D = −tan φ tan δ.
                        let cos_d = -latitude.to_radians().tan() * declination.to_radians().tan();
                        let day = cos_d.acos().to_degrees();
                        let wanted = day + (360.0 - 2.0 * day) * f64::from(hour.number()) / 12.0;
                        // At the ends of a curve the arc is badly known from the declination.
                        let within = 1e-6_f64.max(1e-9 / day.to_radians().sin().abs());
                        prop_assert!(apart(hour_angle, wanted) < within, "{hour_angle} on hour {}", hour.number());
                    }
                    _ => {}
                }
            }
        }
    }

    /// Lines of a family keep the least gap, however they crowd: azimuths at the zenith,
    /// unequal hours where the nights are short, houses where all of them meet.
    #[test]
    fn no_line_of_a_net_stands_too_near_its_neighbour(
        latitude in -90.0..90.0_f64, diameter in 40.0..500.0_f64, gap in 0.3..1.0_f64,
        step in prop::sample::select(vec!["1", "5", "7.5", "10", "11.25", "22.5", "30", "45"]), curves in any::<bool>(),
        campanus in any::<bool>(),
    ) {
        let hours = if curves { "curves" } else { "arcs" };
        let houses = if campanus { "campanus" } else { "regiomontanus" };
        let made = instrument(latitude, diameter, &format!(
            "azimuth_step_deg = {step}\nunequal_hour_lines = \"{hours}\"\nhouse_lines = \"{houses}\"\n[parts]\nleast_gap_mm = {gap}"
        ));
        let lines = made.plate_lines(Latitude::from_deg(latitude).unwrap());
        // The families by the lines that end, with those that run through.
        let nets: [[Family; 2]; 4] = [
            [|id| matches!(id, LineId::Almucantar(_)), |id| matches!(id, LineId::Horizon)],
            [
                |id| matches!(id, LineId::Azimuth(_)),
                |id| matches!(id, LineId::MeridianLine | LineId::MidnightLine | LineId::PrimeVertical),
            ],
            [|id| matches!(id, LineId::UnequalHour(_)), |id| matches!(id, LineId::MidnightLine | LineId::Horizon)],
            [|id| matches!(id, LineId::House(..)), |id| matches!(id, LineId::MidnightLine | LineId::Horizon)],
        ];
        for [ends, through] in nets {
            for line in lines.iter().filter(|line| ends(&line.id)) {
                let others = lines.iter().filter(|other| other.id != line.id && (ends(&other.id) || through(&other.id)));
                for other in others {
                    for p in points(line) {
                        let least = other.strokes.iter().map(|stroke| distance(stroke, p)).fold(f64::INFINITY, f64::min);
                        prop_assert!(least >= gap * 0.999, "{} and {}: {least}", line.id, other.id);
                    }
                }
            }
        }
    }

    /// House circles, by the great circles that define them: through the north and
    /// south points of the horizon and 30° divisions of the equator or the prime vertical.
    #[test]
    fn house_lines_are_the_circles_of_their_method(latitude in 1.0..89.0_f64, campanus in any::<bool>()) {
        let method = if campanus { "campanus" } else { "regiomontanus" };
        let made = instrument(latitude, 300.0, &format!("house_lines = \"{method}\""));
        for line in made.plate_lines(Latitude::from_deg(latitude).unwrap()) {
            let LineId::House(_, house) = line.id else { continue };
            let below_east = 30.0 * f64::from(house.number() - 1);
            for p in points(&line) {
                let (hour_angle, declination) = sky_at(&made, p);
                let (altitude, azimuth) = horizontal(hour_angle, declination, latitude);
                // The angle of the circle at the north point, from the eastern horizon downwards.
                let (sin_a, cos_a) = altitude.to_radians().sin_cos();
                let east = cos_a * azimuth.to_radians().sin();
                if east.hypot(sin_a) < 1e-6 { continue; }
                let found = (-sin_a).atan2(east).to_degrees();
                let wanted = if campanus {
                    below_east
                } else {
                    // tan of the prime vertical arc = cos φ · tan of the equator's arc.
                    let (sin_e, cos_e) = below_east.to_radians().sin_cos();
                    (sin_e * latitude.to_radians().cos()).atan2(cos_e).to_degrees()
                };
                prop_assert!(apart(found, wanted) < 1e-6, "house {house}: {found}, {wanted}");
            }
        }
    }

    #[test]
    fn the_ecliptic_is_divided_as_the_sky_is(longitude in 0.0..360.0_f64, southern in any::<bool>(), turn in 0.0..360.0_f64) {
        let made = instrument(if southern { -40.0 } else { 40.0 }, 200.0, "");
        let rete = Angle::from_deg(turn);
        let p = made.rete_point(RetePoint::Degree(Angle::from_deg(longitude)), rete);
        let (hour_angle, declination) = sky_at(&made, p);
        let (sin_e, cos_e) = 23.44_f64.to_radians().sin_cos();
        let (sin_l, cos_l) = longitude.to_radians().sin_cos();
        let right_ascension = (sin_l * cos_e).atan2(cos_l).to_degrees();
        prop_assert!(apart(hour_angle, turn - right_ascension) < EXACT_DEG);
        prop_assert!((declination - (sin_e * sin_l).asin().to_degrees()).abs() < EXACT_DEG);
        let back = made.longitude(p, rete);
        prop_assert!(apart(back.deg(), longitude) < 1e-10, "{} and {longitude}", back.deg());
    }
}

/// J. Palmer, *The Catholique Planisphaer* (1658) I.3–4: a great circle inclined to the
/// limb has the secant of its inclination for radius and the tangent for the distance of
/// its centre; his table, to a radius of 10 000, cuts its numbers off. The horizon of 70°
/// is inclined by 20° to the equator, the ecliptic by 23½°.
#[test]
fn palmers_great_circles() {
    let made = instrument(70.0, 300.0, "").with_obliquity(Angle::from_deg(23.5));
    let horizon = made.plate(Latitude::from_deg(70.0).unwrap()).horizon();
    let unit = made.projection().equator_mm() / 10_000.0;
    for (circle, tangent, secant) in [
        (horizon, 3639.0, 10_641.0),
        (made.ecliptic(Angle::ZERO), 4348.0, 10_904.0),
    ] {
        let (centre, radius) = circle.as_circle().unwrap();
        assert!((0.0..1.0).contains(&(centre.radius() / unit - tangent)));
        assert!((0.0..1.0).contains(&(radius / unit - secant)));
    }
}

/// The radii and centres of a plate for 51°30′, the equator's radius being 1
/// (R. Wolf, *Handbuch der Astronomie* III, 1892, § 360, p. 72; last digit printed).
#[test]
fn wolfs_circles() {
    let made = instrument(51.5, 300.0, "");
    let plate = made.plate(Latitude::from_deg(51.5).unwrap());
    let unit = made.projection().equator_mm();
    for (altitude, centre, radius) in [
        (0.0, 0.795_436, 1.277_779),
        (30.0, 0.485_351, 0.675_207),
        (60.0, 0.377_594, 0.303_281),
        (80.0, 0.352_217, 0.098_250),
        (-18.0, 1.314_456, 2.008_180),
    ] {
        let circle = plate.almucantar(Latitude::from_deg(altitude).unwrap());
        let (at, r) = circle.as_circle().unwrap();
        assert!(
            (at.x / unit - centre).abs() < 1e-6 && at.y.abs() < 1e-9,
            "{altitude}"
        );
        assert!((r / unit - radius).abs() < 1e-6, "{altitude}");
    }
    // The prime vertical: radius sec φ, its centre on the far side of the pole at
    // tan φ; azimuths 30° and 60° from it: offset sec φ tan w, radius sec φ sec w.
    for (from_prime_vertical, radius, offset) in [
        (0.0, 1.606_388, 0.0),
        (30.0, 1.854_897, 0.927_449),
        (60.0, 3.212_776, 2.782_346),
    ] {
        let circle = plate.azimuth(Angle::from_deg(90.0 + from_prime_vertical));
        let (at, r) = circle.as_circle().unwrap();
        assert!(
            (at.x / unit + 1.257_172).abs() < 1e-6,
            "{from_prime_vertical}: {}",
            at.x / unit
        );
        assert!(
            (at.y.abs() / unit - offset).abs() < 1e-6,
            "{from_prime_vertical}"
        );
        assert!((r / unit - radius).abs() < 1e-6, "{from_prime_vertical}");
    }
    // The ecliptic: radius sec ε, centre tan ε (Ptolemy, Planisphaerium; from memory).
    let (at, r) = made.ecliptic(Angle::ZERO).as_circle().unwrap();
    let obliquity = Angle::from_deg(23.44);
    assert!((r / unit - 1.0 / obliquity.cos()).abs() < 1e-9);
    assert!((at.radius() / unit - obliquity.tan()).abs() < 1e-9);
}

/// An almucantar as high below the horizon as the latitude goes straight through
/// the plate, and so does the horizon of the equator.
#[test]
fn circles_become_straight_lines_where_they_must() {
    let equatorial = instrument(0.0, 200.0, "");
    let horizon = equatorial.plate(Latitude::ZERO).horizon();
    assert!(horizon.as_circle().is_none());
    let tropical = instrument(18.0, 200.0, "");
    let lines = tropical.plate_lines(Latitude::from_deg(18.0).unwrap());
    let twilight = lines
        .iter()
        .find(|line| line.id == LineId::Twilight)
        .unwrap();
    assert!(matches!(
        twilight.strokes.as_slice(),
        [Stroke::Segment { .. }]
    ));
}

/// Beyond the polar circles the three points of an hour arc do not exist, and the
/// plate says so; true curves are drawn as far as they go.
#[test]
fn hour_lines_beyond_the_polar_circle() {
    let latitude = Latitude::from_deg(70.0).unwrap();
    let arcs = instrument(70.0, 200.0, "");
    let hour = UnequalHour::new(8).unwrap();
    let none = arcs.plate(latitude).unequal_hour(hour).unwrap_err();
    assert!(none.to_string().contains("unequal-hour line 8"), "{none}");
    let is_hour = |line: &&Line| matches!(line.id, LineId::UnequalHour(_));
    assert_eq!(arcs.plate_lines(latitude).iter().filter(is_hour).count(), 0);
    let curves = arcs.with_hour_lines(HourLines::Curves);
    assert_eq!(
        curves.plate_lines(latitude).iter().filter(is_hour).count(),
        10
    );
}

/// How far the arcs stray from the true curves, as hour angle at the same circle
/// round the pole (own computation: 0.07° at 40°, 0.13° at 45°, 0.29° at 51°50′,
/// 0.95° at 60°, largest near declination ±15°).
#[test]
fn arcs_stray_as_far_as_they_should() {
    for (latitude, most) in [
        (40.0, 0.07),
        (45.0, 0.13),
        (51.0 + 50.0 / 60.0, 0.29),
        (60.0, 0.95),
    ] {
        let made = instrument(latitude, 300.0, "");
        let plate = made.plate(Latitude::from_deg(latitude).unwrap());
        let curves = made
            .with_hour_lines(HourLines::Curves)
            .plate(plate.latitude);
        let mut found: f64 = 0.0;
        for hour in UnequalHour::engraved() {
            let (arc, curve) = (
                plate.unequal_hour(hour).unwrap(),
                curves.unequal_hour(hour).unwrap(),
            );
            for step in 0..=93 {
                let declination = Latitude::from_deg(f64::from(step) * 0.5 - 23.43).unwrap();
                let parallel = made.projection().parallel(declination);
                let drawn = |p: &Point| plate.carries(&LineId::UnequalHour(hour), *p);
                let on_arc = arc.meets_circle(&parallel).find(drawn).unwrap();
                let below = |p: &Point| curves.carries(&LineId::UnequalHour(hour), *p);
                let on_curve = curve.meets_circle(&parallel).find(below).unwrap();
                found = found.max(on_arc.direction().to(on_curve.direction()).abs().deg());
            }
        }
        assert!(
            (found - most).abs() < 0.01 + 0.02 * most,
            "{latitude}: {found}, {most}"
        );
    }
}

/// Of the circle of an arc, what runs through the night between the tropics is the arc itself,
/// from one of its ends to the other, for whatever latitude and obliquity it is drawn.
#[test]
fn the_circle_of_an_hour_arc_comes_back_by_day_alone() {
    for obliquity in [22.0, 23.44, 23.855, 25.0] {
        let last = 90.0 - obliquity - 0.05;
        for latitude in [
            2.0,
            25.0,
            40.0,
            51.0,
            last - 8.0,
            last - 2.0,
            last - 0.4,
            last,
        ] {
            let text = format!(
                "version = 1\nname = \"made up\"\ndiameter_mm = 200\nobliquity_deg = {obliquity}\n\
                 plates_deg = [{latitude}]\n"
            );
            let made = Instrument::new(Specification::from_toml(&text).unwrap());
            let plate = made.plate(Latitude::from_deg(latitude).unwrap());
            for hour in UnequalHour::engraved() {
                let Some((centre, radius)) = (match plate.unequal_hour(hour).unwrap() {
                    LineShape::Circline(arc) => arc.as_circle(),
                    LineShape::HourCurve(_) => None,
                }) else {
                    continue;
                };
                let [from, by, to] = plate.hour_points(hour).unwrap();
                let along = |p: Point| {
                    let turn = (p - centre).direction() - (from - centre).direction();
                    turn.in_turn().deg()
                };
                let (half, whole) = (along(by), along(to));
                for step in 0..2000 {
                    let p = centre + Point::polar(radius, Angle::from_deg(f64::from(step) * 0.18));
                    if !plate.carries(&LineId::UnequalHour(hour), p) {
                        continue;
                    }
                    let here = along(p);
                    let ends = |deg: f64| !(1e-3..=360.0 - 1e-3).contains(&deg);
                    let on_arc = if half < whole {
                        here < whole
                    } else {
                        here > whole
                    };
                    let at_an_end = ends(here) || ends((here - whole).rem_euclid(360.0));
                    assert!(
                        on_arc || at_an_end,
                        "{obliquity} {latitude} {hour:?} {here}"
                    );
                }
            }
        }
    }
}

/// Where a plate's lines lie off the pin, rete and rule turn beside their pole: what is read is
/// what crosses there, and what lies under the rule is seen from the pin.
#[test]
fn a_plate_off_the_pin_is_read_where_its_lines_lie() {
    let off = Point { x: 0.4, y: -0.3 };
    let latitude = Latitude::from_deg(42.0).unwrap();
    let straight = instrument(42.0, 200.0, "");
    let lies_off = instrument(
        42.0,
        200.0,
        "[faults]\nplate_off_noon_mm = 0.4\nplate_off_west_mm = -0.3",
    );
    let horizon = straight.plate(latitude).horizon().moved(off);
    let mut farthest: f64 = 0.0;
    for turn in (0..360).step_by(15).map(f64::from) {
        let mut state = State::at_rest(latitude);
        state.rete = Angle::from_deg(turn);
        state.rule = Angle::from_deg(turn / 2.0);
        let read = |made: &Instrument, line| {
            let crossing = made.read_ecliptic(&state, line, Pick::Eastern).unwrap();
            crossing.longitude
        };
        let met = horizon.meets(&straight.ecliptic(state.rete));
        let there = met.into_iter().find(|p| (*p - off).y < 0.0).unwrap();
        let should = straight.longitude(there, state.rete);
        let ascendant = read(&lies_off, &LineId::Horizon);
        assert!(ascendant.to(should).deg().abs() < EXACT_DEG, "{turn}");
        let before = read(&straight, &LineId::Horizon);
        farthest = farthest.max(before.to(ascendant).deg().abs());
        // Pin, limb and rule keep together.
        let under = |made: &Instrument| {
            let crossing = made.read_ecliptic(&state, &LineId::RuleEdge, Pick::Drawn);
            crossing.unwrap()
        };
        let [one, other] = [under(&straight), under(&lies_off)];
        assert!(one.longitude.to(other.longitude).deg().abs() < EXACT_DEG);
        assert!((one.at - other.at - off).radius() < 1e-9, "{turn}");
        let over = lies_off.rule_over(other.at);
        assert!(over.to(state.rule).deg().abs() < EXACT_DEG, "{turn}");
    }
    // Half a millimetre is half a degree and more on such a plate.
    assert!((0.3..3.0).contains(&farthest), "{farthest}");
}

/// An unequal hour is one moment of each night: every circle about the pole between the
/// tropics meets its arc once, however the circle of the arc runs on.
#[test]
fn every_night_has_each_unequal_hour_once() {
    // Where the arcs reach farthest round.
    let near_polar = [58.5, 61.0, 62.5, 63.5, 64.5, 65.5, 66.4];
    let all = (-66..=66).step_by(11).map(f64::from).chain(near_polar);
    for latitude in all {
        let made = instrument(latitude, 250.0, "");
        let plate = made.plate(Latitude::from_deg(latitude).unwrap());
        for hour in UnequalHour::engraved() {
            let arc = plate.unequal_hour(hour).unwrap();
            for step in -23..=23 {
                let declination = Latitude::from_deg(f64::from(step)).unwrap();
                let parallel = made.projection().parallel(declination);
                let carried = arc
                    .meets_circle(&parallel)
                    .filter(|p| plate.carries(&LineId::UnequalHour(hour), *p));
                assert_eq!(carried.count(), 1, "{latitude}: hour {hour:?} at {step}");
            }
        }
    }
}
