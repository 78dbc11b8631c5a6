//! The ascendant and the midheaven satisfy their definitions, everywhere.

#![cfg(not(feature = "test-shift-ascendant"))]

mod common;

use common::{ARCTIC, BETWEEN_POLAR_CIRCLES, EVERYWHERE, ROUNDING, assert_near, horizon, horizons};
use figure::{Horizon, Reason, Subject};
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// J. Meeus, Astronomical Algorithms (2nd ed. 1998), chapter 14: with
/// ε 23.44°, φ 51°, θ 5h the ecliptic crosses the horizon at longitudes
/// 169°21′30″ and 349°21′30″. Printed to the second.
#[test]
fn meeus_chapter_14() {
    let ascendant = horizon(75.0, 23.44, 51.0).ascendant().unwrap();
    let printed = Angle::from_deg(169.0 + 21.0 / 60.0 + 30.0 / 3600.0);
    assert_near(ascendant, printed, Angle::from_arcsec(0.5), "ascendant");
}

proptest! {
    #[test]
    fn the_ascendant_is_on_the_horizon_in_the_east(horizon in horizons(EVERYWHERE)) {
        let position = horizon.position_of_degree(horizon.ascendant().unwrap());
        assert_near(position.altitude, Angle::ZERO, ROUNDING, "altitude");
        prop_assert!(position.azimuth.deg() > 0.0 && position.azimuth.deg() < 180.0);
    }

    #[test]
    fn the_ascendant_degree_is_rising(horizon in horizons(-89.0..89.0)) {
        let ascendant = horizon.ascendant().unwrap();
        let altitude_after = |time: Angle| {
            let sidereal_time = horizon.sidereal_time + time;
            Horizon { sidereal_time, ..horizon }.position_of_degree(ascendant).altitude
        };
        // A degree that only grazes the horizon is not above it for long.
        let moment = Angle::from_deg(1e-6);
        prop_assert!(altitude_after(moment) > altitude_after(-moment));
    }

    #[test]
    fn the_midheaven_culminates(horizon in horizons(EVERYWHERE)) {
        let right_ascension = horizon.right_ascension(horizon.midheaven());
        assert_near(right_ascension, horizon.sidereal_time, ROUNDING, "right ascension");
        assert_near(horizon.hour_angle(right_ascension), Angle::ZERO, ROUNDING, "hour angle");
    }

    #[test]
    fn the_ascendant_follows_the_midheaven_by_less_than_half_a_turn(horizon in horizons(EVERYWHERE)) {
        let arc = (horizon.ascendant().unwrap() - horizon.midheaven()).in_turn();
        prop_assert!(arc < Angle::HALF_TURN, "{arc}");
    }

    #[test]
    fn the_midheaven_is_above_the_horizon_between_the_polar_circles(
        horizon in horizons(BETWEEN_POLAR_CIRCLES),
    ) {
        prop_assert!(horizon.midheaven_altitude() > Angle::ZERO);
    }

    /// The half turn by which the ascendant jumps beyond the polar circles
    /// happens while the midheaven crosses the horizon, and at no other time.
    #[test]
    fn the_ascendant_jumps_only_as_the_midheaven_sets(horizon in horizons(ARCTIC)) {
        let step = Angle::from_deg(1e-7);
        let later = Horizon { sidereal_time: horizon.sidereal_time + step, ..horizon };
        prop_assume!(horizon.midheaven_altitude().abs() > Angle::from_deg(0.01));
        let moved = horizon.ascendant().unwrap().to(later.ascendant().unwrap()).abs();
        prop_assert!(moved < Angle::from_deg(0.1), "{moved}");
    }

    /// In the south everything is as half a day later at the same northern
    /// latitude, half a turn on along the ecliptic.
    #[test]
    fn the_south_mirrors_the_north(horizon in horizons(EVERYWHERE)) {
        let mirror = mirrored(&horizon);
        let ascendant = horizon.ascendant().unwrap() + Angle::HALF_TURN;
        let midheaven = horizon.midheaven() + Angle::HALF_TURN;
        assert_near(mirror.ascendant().unwrap(), ascendant, well_posed(&horizon), "ascendant");
        assert_near(mirror.midheaven(), midheaven, ROUNDING, "midheaven");
    }

    #[test]
    fn altitude_and_azimuth_satisfy_the_cosine_rule(
        horizon in horizons(-90.0..90.0),
        right_ascension in 0.0..360.0,
        declination in -90.0..90.0,
    ) {
        let right_ascension = Angle::from_deg(right_ascension);
        let declination = Latitude::from_deg(declination).unwrap();
        let position = horizon.position(right_ascension, declination);
        // From the pole, the point and the zenith: W. M. Smart, Textbook on
        // Spherical Astronomy, chapter II (from memory).
        let sine = horizon.latitude.sin() * position.altitude.sin()
            + horizon.latitude.cos() * position.altitude.cos() * position.azimuth.cos();
        prop_assert!((sine - declination.sin()).abs() < 1e-14);
        let westward = horizon.hour_angle(right_ascension).sin() * declination.cos();
        let eastward = position.azimuth.sin() * position.altitude.cos();
        prop_assert!((westward + eastward).abs() < 1e-14);
    }
}

fn mirrored(horizon: &Horizon) -> Horizon {
    Horizon {
        sidereal_time: horizon.sidereal_time + Angle::HALF_TURN,
        latitude: -horizon.latitude,
        ..*horizon
    }
}

/// Rounding, as much larger as ecliptic and horizon are near to coinciding.
fn well_posed(horizon: &Horizon) -> Angle {
    let between = horizon.latitude.angle().abs() - (Angle::QUARTER_TURN - horizon.obliquity);
    ROUNDING / between.sin().abs().max(1e-6)
}

#[test]
fn there_is_no_ascendant_at_the_poles() {
    for latitude in [90.0, -90.0] {
        for time in [0.0, 77.0, 180.0, 270.0] {
            let no_answer = horizon(time, 23.44, latitude).ascendant().unwrap_err();
            assert_eq!(no_answer.reason, Reason::Pole);
            assert_eq!(no_answer.subject, Subject::Ascendant);
        }
    }
}

/// The sidereal time given with a pole belongs to a meridian, and the ecliptic
/// degree on that meridian is a plain fact.
#[test]
fn there_is_a_midheaven_at_the_poles() {
    for latitude in [90.0, -90.0] {
        let midheaven = horizon(90.0, 23.44, latitude).midheaven();
        assert_near(midheaven, Angle::from_deg(90.0), ROUNDING, "midheaven");
    }
}

#[test]
fn there_is_no_ascendant_while_the_ecliptic_lies_along_the_horizon() {
    for (time, latitude) in [(270.0, 90.0 - 23.44), (90.0, 23.44 - 90.0)] {
        let no_answer = horizon(time, 23.44, latitude).ascendant().unwrap_err();
        assert_eq!(no_answer.reason, Reason::EclipticOnHorizon);
        assert!(
            no_answer.to_string().contains("66.56°"),
            "the message names the latitude: {no_answer}"
        );
        // A thousandth of a degree away there is one again.
        assert!(
            horizon(time, 23.44, latitude * 1.000_01)
                .ascendant()
                .is_ok()
        );
        assert!(
            horizon(time, 23.44, latitude / 1.000_01)
                .ascendant()
                .is_ok()
        );
    }
}

#[test]
fn angles_that_are_no_numbers_have_no_answer() {
    for (time, obliquity) in [(f64::NAN, 23.44), (0.0, f64::NAN), (f64::INFINITY, 23.44)] {
        let no_answer = horizon(time, obliquity, 50.0).ascendant().unwrap_err();
        assert_eq!(no_answer.reason, Reason::NotFinite);
    }
}

/// While the midheaven is below the horizon the ascendant is still in the
/// east, and the midheaven is still where its right ascension says.
#[test]
fn the_midheaven_is_never_swapped() {
    let horizon = horizon(270.0, 23.44, 75.0);
    assert!(horizon.midheaven_altitude() < Angle::ZERO);
    assert_near(
        horizon.midheaven(),
        Angle::from_deg(270.0),
        ROUNDING,
        "midheaven",
    );
    assert_near(
        horizon.ascendant().unwrap(),
        Angle::ZERO,
        ROUNDING,
        "ascendant",
    );
    let azimuth = horizon.position_of_degree(Angle::ZERO).azimuth;
    assert_near(
        azimuth,
        Angle::QUARTER_TURN,
        ROUNDING,
        "azimuth of 0° Aries",
    );
}
