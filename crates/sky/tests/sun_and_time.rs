//! Sidereal time, the mean Sun and the equation of time.

#![expect(clippy::unwrap_used, reason = "a test may fail by panicking")]

use proptest::prelude::*;
use sky::{Angle, Body, Instant, Latitude, Sky, SkyError, Span};

fn sky_ut(jd_ut: f64) -> Sky {
    Sky::at(Instant::from_jd_ut(jd_ut)).unwrap()
}

/// Extremes of the equation of time within a year, in seconds, from VSOP87 and
/// IAU models by separate computation, sampled four times a day.
#[test]
fn equation_of_time_extremes() {
    const SAMPLING_S: f64 = 1.0;
    for (january_first, least, greatest) in [
        (2_451_544.5, -(14.0 * 60.0 + 14.5), 16.0 * 60.0 + 26.0), // 2000
        (2_433_282.5, -(14.0 * 60.0 + 20.1), 16.0 * 60.0 + 23.8), // 1950
        (2_415_020.5, -(14.0 * 60.0 + 27.2), 16.0 * 60.0 + 20.4), // 1900
        (2_378_496.5, -(14.0 * 60.0 + 38.1), 16.0 * 60.0 + 15.7), // 1800
        (2_229_119.5, -(15.0 * 60.0 + 25.8), 15.0 * 60.0 + 49.7), // 1391, Julian
    ] {
        let values: Vec<f64> = (0..1461)
            .map(|quarter| sky_ut(january_first + f64::from(quarter) / 4.0).equation_of_time_s())
            .collect();
        let low = values.iter().copied().fold(f64::INFINITY, f64::min);
        let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        assert!((low - least).abs() < SAMPLING_S, "{january_first}: {low}");
        assert!(
            (high - greatest).abs() < SAMPLING_S,
            "{january_first}: {high}"
        );
    }
}

#[test]
fn outside_the_span_is_refused_with_the_span() {
    for jd in [
        0.0,
        Span::FIRST_JD - 0.001,
        Span::LAST_JD + 0.001,
        f64::NAN,
        f64::INFINITY,
    ] {
        let error = Sky::at(Instant::from_jd_tt(jd)).unwrap_err();
        assert!(matches!(error, SkyError::OutsideSpan { .. }));
        let message = error.to_string();
        assert!(
            message.contains("1501907.5") && message.contains("2650"),
            "{message}"
        );
    }
}

proptest! {
    #[test]
    fn any_number_is_answered_or_refused(jd in any::<f64>(), fraction in any::<f64>()) {
        for instant in [Instant::from_ut(jd, fraction), Instant::from_tt(jd, fraction)] {
            match Sky::at(instant) {
                Ok(sky) => prop_assert!(sky.sun().longitude.is_finite()),
                Err(error) => {
                    let refused = matches!(error, SkyError::OutsideSpan { .. });
                    prop_assert!(refused, "{error}");
                }
            }
        }
    }

    #[test]
    fn every_moment_answers_in_range(jd in Span::FIRST_JD..Span::LAST_JD) {
        let sky = Sky::at(Instant::from_jd_tt(jd)).unwrap();
        let turn = Angle::ZERO..Angle::FULL_TURN;
        prop_assert!(turn.contains(&sky.sidereal_time()));
        prop_assert!(turn.contains(&sky.mean_sun()));
        prop_assert!((22.0..25.0).contains(&sky.obliquity().deg()));
        prop_assert!(sky.equation_of_time_s().abs() < 20.0 * 60.0);
        for body in Body::ALL {
            let seen = sky.body(body);
            prop_assert!(turn.contains(&seen.longitude));
            prop_assert!(turn.contains(&seen.right_ascension));
            prop_assert!(seen.distance_au.is_finite() && seen.speed.is_finite());
            let (ra, declination) = sky.equatorial(seen.longitude, seen.latitude);
            prop_assert!(ra.to(seen.right_ascension).arcsec().abs() < 1e-8);
            prop_assert!((declination.deg() - seen.declination.deg()).abs() * 3600.0 < 1e-8);
        }
    }

    #[test]
    fn there_and_back(jd in Span::FIRST_JD..Span::LAST_JD, lon in 0.0..360.0, lat in -89.9..89.9) {
        let sky = Sky::at(Instant::from_jd_tt(jd)).unwrap();
        let given = (Angle::from_deg(lon), Latitude::from_deg(lat).unwrap());
        let (ra, declination) = sky.equatorial(given.0, given.1);
        let (longitude, latitude) = sky.ecliptic(ra, declination);
        prop_assert!(longitude.to(given.0).deg().abs() * given.1.cos() < 1e-12 * 1e3);
        prop_assert!((latitude.deg() - given.1.deg()).abs() < 1e-11);
    }

    #[test]
    fn mean_time_is_the_hour_angle_of_the_mean_sun(jd in 2_000_000.0..2_600_000.0) {
        let sky = sky_ut(jd);
        let hour_angle = sky.sidereal_time() - sky.mean_sun();
        let mean_time = Angle::from_deg(sky.instant().ut_parts().1 * 360.0);
        prop_assert!((hour_angle + Angle::HALF_TURN).to(mean_time).deg().abs() < 1e-9);
        let apparent_time = sky.sidereal_time() - sky.sun().right_ascension + Angle::HALF_TURN;
        let equation = mean_time.to(apparent_time).deg() * 240.0;
        prop_assert!((equation - sky.equation_of_time_s()).abs() < 1e-6);
    }
}
