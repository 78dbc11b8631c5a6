//! The Sun in the direction of Mecca, held against ERFA (`reference/qibla_erfa.py`) and against
//! the triangle of pole, zenith and Sun.

use exact::sun_towards_mecca;
use instrument::CurveLeg;
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// ERFA's rows are written to a 10⁸th of a degree, and a declination's last digit may count for
/// more in the altitude.
const AGREE_DEG: f64 = 1e-5;

#[test]
fn altitudes_are_erfas() {
    let rows = include_str!("../../drawing/tests/data/qibla_erfa.csv").lines();
    let rows = rows.filter(|row| !row.starts_with('#')).skip(1);
    let mut held = 0;
    for row in rows {
        let numbers: Vec<f64> = row
            .split(',')
            .skip(1)
            .map(|one| one.parse().unwrap())
            .collect();
        let &[latitude, longitude, _, altitude, declination] = numbers.as_slice() else {
            panic!("{row}")
        };
        // On the horizon itself the last digit decides.
        if altitude <= 0.0 {
            continue;
        }
        let there = sun_towards_mecca(
            Latitude::from_deg(latitude).unwrap(),
            Angle::from_deg(longitude),
            Latitude::from_deg(declination).unwrap(),
        );
        let off = there
            .iter()
            .map(|one| (one.altitude.deg() - altitude).abs());
        let off = off.fold(f64::INFINITY, f64::min);
        assert!(off < AGREE_DEG, "{row}: {off}");
        held += 1;
    }
    assert!(held > 150, "{held}");
}

proptest! {
    /// Where it stands its azimuth is the bearing of Mecca, both by the four-part and the sine
    /// formulae of the triangles; and it stands nowhere else.
    #[test]
    fn azimuths_are_the_bearing(
        latitude in -89.0..89.0_f64, longitude in -180.0..180.0_f64, declination in -23.4..23.4_f64,
    ) {
        let (phi, delta) = (latitude.to_radians(), declination.to_radians());
        let mecca = (21.0 + 25.0 / 60.0 + 21.0 / 3600.0_f64).to_radians();
        let away = (39.0 + 49.0 / 60.0 + 34.0 / 3600.0 - longitude).to_radians();
        let bearing = away.sin().atan2(phi.cos() * mecca.tan() - phi.sin() * away.cos());
        let azimuth = |hour: f64| {
            let east = -hour.sin() * delta.cos();
            let north = phi.cos() * delta.sin() - phi.sin() * delta.cos() * hour.cos();
            east.atan2(north)
        };
        let altitude = |hour: f64| {
            (phi.sin() * delta.sin() + phi.cos() * delta.cos() * hour.cos()).asin()
        };
        let there = sun_towards_mecca(
            Latitude::from_deg(latitude).unwrap(),
            Angle::from_deg(longitude),
            Latitude::from_deg(declination).unwrap(),
        );
        for one in &there {
            let hour = one.hour_angle.rad();
            let off = (azimuth(hour) - bearing + std::f64::consts::PI)
                .rem_euclid(std::f64::consts::TAU) - std::f64::consts::PI;
            // Near the zenith an azimuth is worth little.
            prop_assert!(off.abs() * one.altitude.cos() < 1e-9, "{off}");
            prop_assert!((altitude(hour) - one.altitude.rad()).abs() < 1e-7);
        }
        // Looked through by the hour: as often as the azimuth passes the bearing above the
        // horizon, so often it stands there.
        let step = std::f64::consts::TAU / 7200.0;
        let off = |n: i32| (azimuth(f64::from(n) * step - std::f64::consts::PI) - bearing).sin();
        let facing = |n: i32| (azimuth(f64::from(n) * step - std::f64::consts::PI) - bearing).cos() > 0.5;
        let passes = (0..7200).filter(|n| {
            let up = altitude((f64::from(*n) + 0.5) * step - std::f64::consts::PI) > 0.0;
            up && facing(*n) && facing(n + 1) && (off(*n) > 0.0) != (off(n + 1) > 0.0)
        });
        let near_edge = there.iter().any(|one| one.altitude.deg() < 0.2 || one.altitude.deg() > 85.0)
            || (there.len() == 2 && (there[1].altitude - there[0].altitude).deg() < 1.0);
        let count = passes.count();
        prop_assume!(!near_edge);
        if count != there.len() {
            // One just below the horizon, or a turning that no step has passed.
            let hidden = (0..7200).filter(|n| {
                let high = altitude((f64::from(*n) + 0.5) * step - std::f64::consts::PI).to_degrees();
                off(*n).abs() < 0.01 && facing(*n) && (high.abs() < 0.3 || !(-0.3..85.0).contains(&high))
            });
            prop_assume!(hidden.count() == 0);
        }
        prop_assert_eq!(count, there.len());
        let legs: Vec<CurveLeg> = there.iter().map(|one| one.leg).collect();
        prop_assert!(legs.len() < 2 || legs[0] != legs[1]);
    }
}
