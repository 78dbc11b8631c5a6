//! What arcs in place of the true unequal-hour lines cost, against spherical trigonometry
//! and the circle through three points.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use instrument::{Instrument, Specification};
use practice::ArcsCost;
use sky::Latitude;

fn cost(latitude: f64, more: &str) -> Option<ArcsCost> {
    let text = format!(
        "version = 1\nname = \"arcs\"\ndiameter_mm = 200\nobliquity_deg = 23.44\n\
         plates_deg = [0]\n{more}"
    );
    let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
    ArcsCost::of(&instrument, Latitude::from_deg(latitude).unwrap())
}

/// The hour angle of an unequal hour of the night, in degrees, on the circle of a
/// declination: cos D = −tan φ tan δ, D half the day.
fn hour_angle(latitude: f64, declination: f64, hour: u8) -> f64 {
    let half_day = (-latitude.to_radians().tan() * declination.to_radians().tan()).acos();
    let half_day = half_day.to_degrees();
    half_day + (360.0 - 2.0 * half_day) * f64::from(hour) / 12.0
}

/// The greatest hour angle in degrees between the arc and the curve of any hour: the arc
/// found as the circle through the divisions of both tropics and the equator, sampled
/// along itself.
fn greatest(latitude: f64) -> f64 {
    let radius = |declination: f64| ((90.0 - declination) / 2.0).to_radians().tan();
    let mut most: f64 = 0.0;
    for hour in 1..=11 {
        let [a, b, c] = [23.44, 0.0, -23.44].map(|declination| {
            let (sin, cos) = hour_angle(latitude, declination, hour)
                .to_radians()
                .sin_cos();
            (radius(declination) * cos, radius(declination) * sin)
        });
        // The centre: as far from a as from b and from c.
        let (u, v) = ((b.0 - a.0, b.1 - a.1), (c.0 - a.0, c.1 - a.1));
        let d = 2.0 * (u.0 * v.1 - u.1 * v.0);
        if d.abs() < 1e-9 {
            continue;
        }
        let (uu, vv) = (u.0 * u.0 + u.1 * u.1, v.0 * v.0 + v.1 * v.1);
        let centre = (
            a.0 + (v.1 * uu - u.1 * vv) / d,
            a.1 + (u.0 * vv - v.0 * uu) / d,
        );
        let turn = |p: (f64, f64)| (p.1 - centre.1).atan2(p.0 - centre.0);
        let r = (a.0 - centre.0).hypot(a.1 - centre.1);
        let sweep = |from: f64, to: f64| {
            let whole = std::f64::consts::TAU;
            (to - from + whole / 2.0).rem_euclid(whole) - whole / 2.0
        };
        let parts = [
            (turn(a), sweep(turn(a), turn(b))),
            (turn(b), sweep(turn(b), turn(c))),
        ];
        for (from, by) in parts {
            for n in 0..=1000 {
                let at = from + by * f64::from(n) / 1000.0;
                let (x, y) = (centre.0 + r * at.cos(), centre.1 + r * at.sin());
                let declination = 90.0 - 2.0 * x.hypot(y).atan().to_degrees();
                let off = y.atan2(x).to_degrees() - hour_angle(latitude, declination, hour);
                most = most.max(((off + 180.0).rem_euclid(360.0) - 180.0).abs());
            }
        }
    }
    most
}

#[test]
fn the_time_that_arcs_cost_is_that_of_the_circle_through_three_points() {
    for latitude in [20.0, 35.0, 45.0, 51.5, 60.0, 64.0] {
        let found = cost(latitude, "").unwrap();
        let wanted = greatest(latitude);
        // Both look in steps.
        let off = (found.time.deg() - wanted).abs();
        assert!(
            off < 0.002 + 0.002 * wanted,
            "{latitude}: {} and {wanted}",
            found.time.deg()
        );
        // A degree of the hour angle is wider on an outer circle, and none lies outside the plate.
        assert!(
            found.apart_mm <= found.time.rad() * 87.0 + 1e-9,
            "{latitude}"
        );
    }
}

/// Largest errors of a cusp, ε 23.44° (own computation, with other means, before this).
#[test]
fn cusps_err_as_was_found_before() {
    for (latitude, turning, direct_cut) in [
        (45.0, 0.14, 0.17),
        (51.0 + 50.0 / 60.0, 0.31, 0.43),
        (60.0, 1.02, 1.73),
    ] {
        let found = cost(latitude, "").unwrap();
        let near = |found: f64, wanted: f64| (found - wanted).abs() < 0.01 + 0.01 * wanted;
        assert!(
            near(found.turning.deg(), turning),
            "{latitude}: {}",
            found.turning.deg()
        );
        assert!(
            near(found.direct_cut.deg(), direct_cut),
            "{latitude}: {}",
            found.direct_cut.deg()
        );
    }
}

#[test]
fn curves_are_suggested_where_the_arcs_show() {
    assert!(!cost(30.0, "").unwrap().shows);
    assert!(cost(60.0, "").unwrap().shows);
    // A rough eye does not see it.
    assert!(!cost(60.0, "eye_mm = 5").unwrap().shows);
    assert_eq!(cost(60.0, "unequal_hour_lines = \"curves\""), None);
    assert_eq!(cost(67.0, ""), None);
}
