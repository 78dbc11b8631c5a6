//! The table of a plate's own errors as planned, against the sphere projected by hand.

use drawing::plate_errors;
use instrument::{Instrument, Specification};
use proptest::prelude::*;
use sky::Latitude;

/// Where azimuth and altitude, in degrees, stand on a plate with an equator of a radius: the
/// stereographic projection from the pole that is not up, r = R tan(p/2), of the place whose
/// declination and hour angle the sphere's triangle gives.
fn projected(latitude: f64, equator: f64, azimuth: f64, altitude: f64) -> (f64, f64) {
    let (phi, a) = (latitude.abs().to_radians(), altitude.to_radians());
    let azimuth = azimuth.to_radians();
    let sine = phi.sin() * a.sin() + phi.cos() * a.cos() * azimuth.cos();
    let from_pole = std::f64::consts::FRAC_PI_2 - sine.asin();
    let hour =
        (-a.cos() * azimuth.sin()).atan2(a.sin() * phi.cos() - a.cos() * azimuth.cos() * phi.sin());
    let radius = equator * (from_pole / 2.0).tan();
    (radius * hour.cos(), radius * hour.sin())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn each_row_is_what_the_sphere_gives(
        diameter in 40.0..1000.0_f64, latitude in 0.0..85.0_f64, south in any::<bool>(),
        tolerance in 0.0..0.5_f64, eye in prop_oneof![Just(0.0), 0.05..0.5_f64],
        step in prop::sample::select(vec![1, 2, 3, 5, 10]),
    ) {
        let signed = if south { -latitude } else { latitude };
        let hemisphere = if south { "south" } else { "north" };
        let part = if eye > 0.0 { 0.1 } else { 0.0 };
        let text = format!(
            "version = 1\nname = \"plate\"\ndiameter_mm = {diameter}\nepoch_year = 2000\n\
             hemisphere = \"{hemisphere}\"\nplates_deg = [{signed}]\neye_mm = {eye}\n\
             eye_part_of_division = {part}\nalmucantar_step_deg = {step}\n\
             [fits]\ntolerance_mm = {tolerance}\n"
        );
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let equator = instrument.projection().equator_mm();
        let rows = plate_errors(&instrument, Latitude::from_deg(signed).unwrap());
        prop_assert_eq!(rows.len(), 9);
        for row in rows {
            let altitude = row.altitude.deg();
            // The breadth of a degree by two places a hundredth of a degree apart.
            let place = |altitude| projected(latitude, equator, 90.0, altitude);
            let (low, high) = (place(altitude - 0.005), place(altitude + 0.005));
            let broad = (high.0 - low.0).hypot(high.1 - low.1) * 100.0;
            prop_assert!((row.mm_per_degree / broad - 1.0).abs() < 1e-6, "{} {broad}", row.mm_per_degree);
            // The finest line is 0.075 mm on a mater of 180 mm, and grows as the square root.
            let hair = 0.075 * (diameter / 180.0).sqrt();
            let line = hair / 2.0 / broad;
            let room = (tolerance * tolerance * 1.25).sqrt() / broad;
            let told_apart = (eye / broad).max(part * f64::from(step)) / 2.0;
            let together = (line * line + room * room + told_apart * told_apart).sqrt() * 2.0 / 3.0_f64.sqrt();
            prop_assert!((row.line.deg() / line - 1.0).abs() < 1e-6);
            prop_assert!((row.room.deg() - room).abs() < 1e-6 * (1.0 + room));
            prop_assert!((row.eye.deg() - told_apart).abs() < 1e-6 * (1.0 + told_apart));
            prop_assert!((row.altitude_within.deg() / together - 1.0).abs() < 1e-6);
            // An azimuth's degree is cos a of a great circle's.
            let (one, other) = (
                projected(latitude, equator, 90.0, altitude),
                projected(latitude, equator, 90.01, altitude),
            );
            let azimuth = (other.0 - one.0).hypot(other.1 - one.1) * 100.0;
            let within = row.azimuth_within.deg() * azimuth;
            prop_assert!((within / (together * broad) - 1.0).abs() < 1e-3, "{within}");
            // How the hour angle changes with the altitude, at a declination that is kept.
            let hour = row.hour_within.unwrap().deg() / together;
            let (phi, a) = (latitude.to_radians(), altitude.to_radians());
            let declination = (phi.sin() * a.sin()).asin();
            let hour_at = |altitude: f64| {
                let cosine = (altitude.to_radians().sin() - phi.sin() * declination.sin())
                    / (phi.cos() * declination.cos());
                cosine.acos().to_degrees()
            };
            let by_hand = (hour_at(altitude - 0.005) - hour_at(altitude + 0.005)) * 100.0;
            prop_assert!((hour / by_hand - 1.0).abs() < 1e-4, "{hour} {by_hand}");
        }
    }
}
