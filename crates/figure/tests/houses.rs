//! Each method's cusps satisfy its definition, checked by the positions of the
//! cusps in the sky and not by the formulas that found them.

#![cfg(not(feature = "test-shift-ascendant"))]

mod common;

use common::{ARCTIC, BETWEEN_POLAR_CIRCLES, EVERYWHERE, ROUNDING, assert_near, horizon, horizons};
use figure::{Cusps, DailyCourse, Horizon, House, Method, Reason};
use proptest::prelude::*;
use sky::{Angle, Latitude};

const THIRD: f64 = 1.0 / 3.0;

/// The angle about the axis from north to south, from the east point upward,
/// at which an ecliptic degree is seen: 90° is the meridian by the zenith. All
/// points of one half of a house circle have the same.
fn house_circle(horizon: &Horizon, longitude: Angle) -> Angle {
    let position = horizon.position_of_degree(longitude);
    about_north_and_south(position.altitude, position.azimuth)
}

fn about_north_and_south(altitude: Angle, azimuth: Angle) -> Angle {
    Angle::atan2(altitude.sin(), altitude.cos() * azimuth.sin())
}

/// Hour angle east of the upper meridian, in (−180°, 180°].
fn east_of_meridian(horizon: &Horizon, longitude: Angle) -> Angle {
    -horizon.hour_angle(horizon.right_ascension(longitude))
}

/// The altitude of an ecliptic degree when it stands this far east of the meridian.
fn altitude_at(horizon: &Horizon, longitude: Angle, east_of_meridian: Angle) -> Angle {
    let right_ascension = horizon.sidereal_time + east_of_meridian;
    horizon
        .position(right_ascension, horizon.declination(longitude))
        .altitude
}

/// Directions about the axis from north to south are ill defined near its ends.
fn axis_rounding(horizon: &Horizon, longitude: Angle) -> Angle {
    let position = horizon.position_of_degree(longitude);
    let off_axis = position
        .altitude
        .sin()
        .hypot(position.altitude.cos() * position.azimuth.sin());
    ROUNDING / off_axis.max(1e-9)
}

proptest! {
    #[test]
    fn alcabitius_cuts_the_ascendants_semi_arcs_in_three(horizon in horizons(EVERYWHERE)) {
        let cusps = Method::Alcabitius.cusps(&horizon).unwrap();
        let east = |house| {
            (horizon.right_ascension(cusps.get(house)) - horizon.sidereal_time).in_turn()
        };
        let diurnal = east(House::I);
        let nocturnal = Angle::HALF_TURN - diurnal;
        for (house, expected) in [
            (House::XI, diurnal * THIRD),
            (House::XII, diurnal * 2.0 * THIRD),
            (House::II, diurnal + nocturnal * THIRD),
            (House::III, diurnal + nocturnal * 2.0 * THIRD),
        ] {
            assert_near(east(house), expected, ROUNDING, house);
        }
        // Where the degree rises and sets beyond doubt, D is its semi-arc.
        if let DailyCourse::RisesAndSets(arcs) = horizon.course_of_degree(cusps.get(House::I))
            && horizon.latitude.deg().abs() < 65.0
        {
            assert_near(arcs.diurnal(), diurnal, ROUNDING, "semi-arc of the ascendant");
        }
    }

    /// Chaucer's way (Treatise on the Astrolabe, ed. Skeat 1894, II.36) is to
    /// turn the ascendant degree back to the ends of the 8th and 10th unequal
    /// hours: the midnight line then holds cusps II and III.
    #[test]
    fn alcabitius_is_had_by_turning(horizon in horizons(BETWEEN_POLAR_CIRCLES)) {
        let cusps = Method::Alcabitius.cusps(&horizon).unwrap();
        let ascendant = cusps.get(House::I);
        let DailyCourse::RisesAndSets(arcs) = horizon.course_of_degree(ascendant) else {
            return Err(TestCaseError::fail("the ascendant rises"));
        };
        for (house, hour) in [(House::II, 8.0), (House::III, 10.0)] {
            // Hours of the night are counted from the western horizon.
            let hour_angle = arcs.setting() + arcs.unequal_hour_of_night() * hour;
            let sidereal_time = horizon.right_ascension(ascendant) + hour_angle;
            let turned = Horizon { sidereal_time, ..horizon };
            let midnight = turned.midheaven() + Angle::HALF_TURN;
            assert_near(midnight, cusps.get(house), ROUNDING, house);
        }
    }

    #[test]
    fn placidus_cuts_each_cusps_own_semi_arc(horizon in horizons(BETWEEN_POLAR_CIRCLES)) {
        assert_placidus(&horizon, &Method::Placidus.cusps(&horizon).unwrap());
    }

    #[test]
    fn placidus_cuts_semi_arcs_beyond_the_polar_circle_where_it_answers(
        horizon in horizons(66.0..72.0),
    ) {
        if let Ok(cusps) = Method::Placidus.cusps(&horizon) {
            assert_placidus(&horizon, &cusps);
        }
    }

    #[test]
    fn regiomontanus_divides_the_equator(horizon in horizons(EVERYWHERE)) {
        prop_assume!(horizon.midheaven_altitude() > Angle::from_deg(1e-6));
        let cusps = Method::Regiomontanus.cusps(&horizon).unwrap();
        for (house, east) in
            [(House::XI, 30.0), (House::XII, 60.0), (House::II, 120.0), (House::III, 150.0)]
        {
            let division = horizon.position(
                horizon.sidereal_time + Angle::from_deg(east),
                Latitude::ZERO,
            );
            let expected = about_north_and_south(division.altitude, division.azimuth);
            // The equator's points near the poles are near the horizon.
            let tolerance = axis_rounding(&horizon, cusps.get(house)) / horizon.latitude.cos();
            let found = house_circle(&horizon, cusps.get(house));
            assert_near(found, expected, tolerance, house);
        }
    }

    #[test]
    fn campanus_divides_the_prime_vertical(horizon in horizons(EVERYWHERE)) {
        prop_assume!(horizon.midheaven_altitude() > Angle::from_deg(1e-6));
        let cusps = Method::Campanus.cusps(&horizon).unwrap();
        for (house, altitude) in
            [(House::XI, 60.0), (House::XII, 30.0), (House::II, -30.0), (House::III, -60.0)]
        {
            let tolerance = axis_rounding(&horizon, cusps.get(house)) / horizon.latitude.cos();
            let found = house_circle(&horizon, cusps.get(house));
            assert_near(found, Angle::from_deg(altitude), tolerance, house);
        }
    }

    /// Why regiomontanus and campanus have no answer while the midheaven is
    /// below the horizon: along the order of the signs the ecliptic then goes
    /// about the axis from north to south the other way.
    #[test]
    fn below_the_horizon_the_midheaven_reverses_the_house_circles(horizon in horizons(EVERYWHERE)) {
        let above = horizon.midheaven_altitude();
        prop_assume!(above.abs() > Angle::from_deg(0.01));
        let mut last = house_circle(&horizon, Angle::ZERO);
        for step in 1..=720 {
            let next = house_circle(&horizon, Angle::from_deg(f64::from(step) * 0.5));
            let turned = last.to(next);
            // A step may take it so near the axis that it goes half way round.
            prop_assume!(turned.abs() < Angle::from_deg(170.0));
            prop_assert!((turned < Angle::ZERO) == (above > Angle::ZERO), "{turned} at {above}");
            last = next;
        }
        for method in [Method::Regiomontanus, Method::Campanus] {
            match method.cusps(&horizon) {
                Ok(_) => prop_assert!(above > Angle::ZERO),
                Err(no_answer) => {
                    prop_assert!(above < Angle::ZERO);
                    prop_assert_eq!(no_answer.reason, Reason::MidheavenBelowHorizon);
                }
            }
        }
    }

    #[test]
    fn porphyry_cuts_the_quadrants_in_three(horizon in horizons(EVERYWHERE)) {
        let cusps = Method::Porphyry.cusps(&horizon).unwrap();
        let width = |house, next| cusps.get(house).to(cusps.get(next));
        assert_near(width(House::X, House::XI), width(House::XII, House::I), ROUNDING, "X");
        assert_near(width(House::X, House::XI), width(House::XI, House::XII), ROUNDING, "XI");
        assert_near(width(House::I, House::II), width(House::III, House::IV), ROUNDING, "I");
        assert_near(width(House::I, House::II), width(House::II, House::III), ROUNDING, "II");
    }

    #[test]
    fn equal_houses_are_thirty_degrees(horizon in horizons(EVERYWHERE)) {
        let from_ascendant = Method::Equal.cusps(&horizon).unwrap();
        let from_midheaven = Method::EqualFromMidheaven.cusps(&horizon).unwrap();
        let signs = Method::WholeSign.cusps(&horizon).unwrap();
        prop_assert_eq!(from_ascendant.get(House::I), horizon.ascendant().unwrap());
        prop_assert_eq!(from_midheaven.get(House::X), horizon.midheaven());
        prop_assert_eq!(signs.house_of(horizon.ascendant().unwrap()), House::I);
        for cusps in [from_ascendant, from_midheaven, signs] {
            for (house, next) in neighbours() {
                let width = cusps.get(house).to(cusps.get(next));
                assert_near(width, Angle::from_deg(30.0), ROUNDING, house);
            }
        }
        for cusp in signs.all() {
            let in_sign = cusp.deg() % 30.0;
            prop_assert!(in_sign.abs() <= 0.0, "{in_sign}");
        }
    }

    #[test]
    fn meridian_and_equator_from_ascendant_divide_the_equator_by_hour_circles(
        horizon in horizons(EVERYWHERE),
    ) {
        let meridian = Method::Meridian.cusps(&horizon).unwrap();
        let ascendant = Method::EquatorFromAscendant.cusps(&horizon).unwrap();
        prop_assert_eq!(meridian.get(House::X), horizon.midheaven());
        prop_assert_eq!(ascendant.get(House::I), horizon.ascendant().unwrap());
        for cusps in [meridian, ascendant] {
            for (house, next) in neighbours() {
                let right_ascension = |house| horizon.right_ascension(cusps.get(house));
                let width = right_ascension(house).to(right_ascension(next));
                assert_near(width, Angle::from_deg(30.0), ROUNDING, house);
            }
        }
    }

    /// Cusp, division of the equator and pole of the ecliptic are in a plane,
    /// and the division on the cusp's side.
    #[test]
    fn morinus_divides_the_equator_by_circles_of_latitude(horizon in horizons(EVERYWHERE)) {
        let cusps = Method::Morinus.cusps(&horizon).unwrap();
        for (house, east) in [(House::X, 0.0), (House::XII, 60.0), (House::III, 150.0)] {
            let (y, x) = (horizon.sidereal_time + Angle::from_deg(east)).sin_cos();
            // The equator's point in the frame of the ecliptic.
            let (sin, cos) = horizon.obliquity.sin_cos();
            let (along_y, along_z) = (y * cos, -y * sin);
            let latitude = Angle::asin(along_z);
            let (sin_cusp, cos_cusp) = cusps.get(house).sin_cos();
            prop_assert!((cos_cusp * latitude.cos() - x).abs() < 1e-14);
            prop_assert!((sin_cusp * latitude.cos() - along_y).abs() < 1e-14);
        }
    }

    /// The cusps' oblique ascensions are in equal steps of a third of the
    /// midheaven's semi-arc.
    #[test]
    fn koch_divides_the_midheavens_semi_arc(horizon in horizons(BETWEEN_POLAR_CIRCLES)) {
        let cusps = Method::Koch.cusps(&horizon).unwrap();
        let DailyCourse::RisesAndSets(arcs) = horizon.course_of_degree(horizon.midheaven()) else {
            return Err(TestCaseError::fail("the midheaven rises"));
        };
        for pair in [House::X, House::XI, House::XII, House::I, House::II, House::III, House::IV]
            .windows(2)
        {
            let rises = |house| horizon.oblique_ascension(cusps.get(house)).unwrap();
            let step = rises(pair[0]).to(rises(pair[1]));
            // Near the polar circle a degree of the ecliptic takes the horizon
            // up to a thousand times as fast as the equator's.
            assert_near(step, arcs.diurnal() * THIRD, ROUNDING * 100.0, pair[0]);
        }
    }

    #[test]
    fn topocentric_cusps_are_ascendants_of_other_latitudes(horizon in horizons(-63.0..63.0)) {
        let cusps = Method::Topocentric.cusps(&horizon).unwrap();
        for (house, east, thirds) in [
            (House::XI, 30.0, 1.0),
            (House::XII, 60.0, 2.0),
            (House::II, 120.0, 2.0),
            (House::III, 150.0, 1.0),
        ] {
            let latitude = Angle::atan2(horizon.latitude.tan() * thirds, 3.0);
            let elsewhere = Horizon {
                sidereal_time: horizon.sidereal_time + Angle::from_deg(east - 90.0),
                latitude: Latitude::from_deg(latitude.deg()).unwrap(),
                ..horizon
            };
            assert_near(cusps.get(house), elsewhere.ascendant().unwrap(), ROUNDING * 10.0, house);
        }
    }

    #[test]
    fn cusps_follow_the_signs_and_opposites_are_exact(horizon in horizons(EVERYWHERE)) {
        for method in Method::ALL {
            let Ok(cusps) = method.cusps(&horizon) else { continue };
            for (house, next) in neighbours() {
                let width = (cusps.get(next) - cusps.get(house)).in_turn();
                prop_assert!(width < Angle::HALF_TURN, "{method} {house}: {width}");
                prop_assert_eq!(cusps.house_of(cusps.get(house)), house);
                prop_assert_eq!(cusps.house_of(cusps.get(house) + width / 2.0), house);
            }
            for house in [House::I, House::II, House::III, House::X, House::XI, House::XII] {
                let across = (cusps.get(house) + Angle::HALF_TURN).in_turn();
                prop_assert_eq!(cusps.get(house.opposite()), across);
            }
        }
    }

    /// The tenth cusp is the midheaven and the first the ascendant, wherever
    /// these methods answer: never the degrees opposite them.
    #[test]
    fn quadrants_begin_with_ascendant_and_midheaven(horizon in horizons(EVERYWHERE)) {
        for method in [
            Method::Alcabitius,
            Method::Regiomontanus,
            Method::Campanus,
            Method::Placidus,
            Method::Porphyry,
            Method::Koch,
            Method::Topocentric,
        ] {
            let Ok(cusps) = method.cusps(&horizon) else { continue };
            prop_assert_eq!(cusps.get(House::I), horizon.ascendant().unwrap());
            prop_assert_eq!(cusps.get(House::X), horizon.midheaven());
        }
    }

    #[test]
    fn the_south_mirrors_the_north(horizon in horizons(BETWEEN_POLAR_CIRCLES)) {
        let mirror = Horizon {
            sidereal_time: horizon.sidereal_time + Angle::HALF_TURN,
            latitude: -horizon.latitude,
            ..horizon
        };
        for method in Method::ALL {
            match (method.cusps(&horizon), method.cusps(&mirror)) {
                (Ok(north), Ok(south)) => {
                    for house in House::ALL {
                        let expected = north.get(house.opposite());
                        assert_near(south.get(house), expected, ROUNDING * 100.0, method);
                    }
                }
                (north, south) => prop_assert_eq!(north.is_ok(), south.is_ok(), "{}", method),
            }
        }
    }

    #[test]
    fn cusps_move_without_jumps(horizon in horizons(-60.0..60.0)) {
        let step = Angle::from_deg(1e-6);
        let later = Horizon { sidereal_time: horizon.sidereal_time + step, ..horizon };
        for method in Method::ALL {
            let (now, then) = (method.cusps(&horizon).unwrap(), method.cusps(&later).unwrap());
            for house in House::ALL {
                let moved = now.get(house).to(then.get(house));
                if method == Method::WholeSign {
                    prop_assert!(moved == Angle::ZERO || moved == Angle::from_deg(30.0));
                } else {
                    // The ascendant moves up to 1 / (cos ε − sin ε tan φ) = 5.3 times
                    // as fast as the sky there, a cusp of koch half as fast again.
                    let fastest = step * 8.0 + ROUNDING;
                    prop_assert!(moved > Angle::ZERO && moved < fastest, "{method} {house}: {moved}");
                }
            }
        }
    }

    #[test]
    fn alcabitius_and_porphyry_answer_beyond_the_polar_circle(horizon in horizons(ARCTIC)) {
        for method in [
            Method::Alcabitius,
            Method::Porphyry,
            Method::Equal,
            Method::WholeSign,
            Method::EqualFromMidheaven,
            Method::Meridian,
            Method::EquatorFromAscendant,
            Method::Morinus,
        ] {
            prop_assert!(method.cusps(&horizon).is_ok(), "{method}");
        }
    }

    #[test]
    fn placidus_and_koch_have_no_answer_near_the_pole(horizon in horizons(79.0..90.0)) {
        for method in [Method::Placidus, Method::Koch] {
            prop_assert!(method.cusps(&horizon).is_err(), "{method}");
        }
    }
}

/// A degree that stands at a third of its own semi-arc is on the horizon when
/// it stands three times as far from the meridian.
fn assert_placidus(horizon: &Horizon, cusps: &Cusps) {
    for (house, upper, times) in [
        (House::XI, true, 3.0),
        (House::XII, true, 1.5),
        (House::II, false, 1.5),
        (House::III, false, 3.0),
    ] {
        let cusp = cusps.get(house);
        let east = east_of_meridian(horizon, cusp).in_turn();
        let at_horizon = if upper {
            east * times
        } else {
            Angle::HALF_TURN - (Angle::HALF_TURN - east) * times
        };
        let altitude = altitude_at(horizon, cusp, at_horizon);
        assert_near(altitude, Angle::ZERO, ROUNDING, house);
    }
}

fn neighbours() -> impl Iterator<Item = (House, House)> {
    House::ALL
        .into_iter()
        .zip(House::ALL.into_iter().cycle().skip(1))
}

/// Just below the polar circle the ascensional difference has all but a corner
/// at the solstices, where plain Newton steps go astray.
#[test]
fn placidus_holds_up_to_the_polar_circle() {
    let obliquity = 23.44;
    for below in [1e-1, 1e-3, 1e-6, 1e-9, 1e-12] {
        for step in 0..3600 {
            let horizon = horizon(f64::from(step) / 10.0, obliquity, 90.0 - obliquity - below);
            if let Err(no_answer) = horizon.ascendant() {
                assert_eq!(no_answer.reason, Reason::EclipticOnHorizon);
                continue;
            }
            assert_placidus(&horizon, &Method::Placidus.cusps(&horizon).unwrap());
        }
    }
}

/// Beyond the polar circle placidus says what is missing.
#[test]
fn placidus_beyond_the_polar_circle_says_why() {
    let none = Method::Placidus
        .cusps(&horizon(270.0, 23.44, 75.0))
        .unwrap_err();
    assert_eq!(none.reason, Reason::NoDegree(House::XI));
    assert!(
        none.to_string()
            .starts_with("placidus has no answer at latitude 75° north and sidereal time 270.00°:")
    );
    // It does answer while Libra rises: every cusp rises and sets.
    assert!(Method::Placidus.cusps(&horizon(90.0, 23.44, 70.0)).is_ok());
}

/// Beyond the polar circle a cusp of placidus is the only degree that would do:
/// the whole ecliptic is searched.
#[test]
fn placidus_answers_only_where_the_cusps_are_unique() {
    for latitude in [66.6, 67.3, 69.0, 71.0, -70.0] {
        for time in 0..120 {
            let horizon = horizon(f64::from(time) * 3.0 + 0.37, 23.44, latitude);
            let counts = [
                (30.0, THIRD),
                (60.0, 2.0 * THIRD),
                (120.0, 2.0 * THIRD),
                (150.0, THIRD),
            ]
            .map(|(base, weight)| count_solutions(&horizon, base, weight));
            match Method::Placidus.cusps(&horizon) {
                Ok(_) => assert_eq!(counts, [1; 4], "{horizon:?}"),
                Err(no_answer) => match no_answer.reason {
                    Reason::NoDegree(_) => assert!(counts.contains(&0), "{horizon:?} {counts:?}"),
                    Reason::SeveralDegrees(_) => {
                        assert!(counts.iter().any(|&n| n > 1), "{horizon:?} {counts:?}");
                    }
                    other => panic!("{other:?} at {horizon:?}"),
                },
            }
        }
    }
}

/// How often α − θ − base − weight·A(α) changes sign where A is defined: along
/// the two arcs of rising degrees, each gone through by A from −90° to 90°.
fn count_solutions(horizon: &Horizon, base: f64, weight: f64) -> usize {
    let k = horizon.latitude.tan() * horizon.obliquity.tan();
    let excess = |difference: Angle, other_arc: bool| {
        let near_zero = Angle::asin(difference.sin() / k);
        let right_ascension = if other_arc {
            Angle::HALF_TURN - near_zero
        } else {
            near_zero
        };
        let target = horizon.sidereal_time + Angle::from_deg(base) + difference * weight;
        target.to(right_ascension).deg()
    };
    let mut count = 0;
    for other_arc in [false, true] {
        let values = (-1800..=1800)
            .map(|step| excess(Angle::from_deg(f64::from(step) / 20.0), other_arc))
            .collect::<Vec<_>>();
        count += values
            .windows(2)
            // Not where it goes round by way of 180°.
            .filter(|pair| (pair[0] > 0.0) != (pair[1] > 0.0) && (pair[0] - pair[1]).abs() < 90.0)
            .count();
    }
    count
}

#[test]
fn no_method_answers_without_an_ascendant() {
    for horizon in [
        horizon(33.0, 23.44, 90.0),
        horizon(33.0, 23.44, -90.0),
        horizon(270.0, 23.44, 90.0 - 23.44),
        horizon(f64::NAN, 23.44, 0.0),
    ] {
        for method in Method::ALL {
            let no_answer = method.cusps(&horizon).unwrap_err();
            assert!(
                no_answer.to_string().starts_with(method.name()),
                "{no_answer}"
            );
        }
    }
}

/// On the equator with an upright ecliptic the circles of alcabitius,
/// placidus, regiomontanus, campanus and meridian are one family.
#[test]
fn on_the_equator_the_circles_agree() {
    for time in 0..36 {
        let horizon = horizon(f64::from(time) * 10.0, 23.44, 0.0);
        let meridian = Method::Meridian.cusps(&horizon).unwrap();
        for method in [
            Method::Alcabitius,
            Method::Placidus,
            Method::Regiomontanus,
            Method::Campanus,
            Method::Topocentric,
            Method::EquatorFromAscendant,
            Method::Koch,
        ] {
            let cusps = method.cusps(&horizon).unwrap();
            for house in House::ALL {
                assert_near(cusps.get(house), meridian.get(house), ROUNDING, method);
            }
        }
    }
}

#[test]
fn names_are_read_back_and_wrong_ones_answered_with_the_list() {
    for method in Method::ALL {
        assert_eq!(method.name().parse(), Ok(method));
        // In letters of either case.
        assert_eq!(method.name().to_uppercase().parse(), Ok(method));
        assert!(!method.source().is_empty() && !method.description().is_empty());
    }
    let long = "x".repeat(100_000);
    for wrong in ["", "Placid", "P", "whole sign", &long] {
        let message = wrong.parse::<Method>().unwrap_err().to_string();
        assert!(message.len() < 400, "{} characters", message.len());
        for method in Method::ALL {
            assert!(message.contains(method.name()), "{message}");
        }
    }
}

#[test]
fn houses_are_numbered_and_face_each_other() {
    for (index, house) in House::ALL.into_iter().enumerate() {
        assert_eq!(usize::from(house.number()), index + 1);
        assert_eq!(House::from_number(house.number()), Some(house));
        assert_eq!(house.opposite().opposite(), house);
        assert_eq!(house.opposite(), House::ALL[(index + 6) % 12]);
        assert_eq!(house.to_string(), house.roman());
    }
    assert_eq!(House::from_number(0), None);
    assert_eq!(House::from_number(13), None);
}
