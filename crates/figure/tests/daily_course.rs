//! Rising and setting, semi-arcs, unequal hours and ascensions.

mod common;

use common::{BETWEEN_POLAR_CIRCLES, ROUNDING, assert_near, horizon, horizons, latitude};
use figure::{DailyCourse, Horizon, Reason, SemiArcs};
use proptest::prelude::*;
use sky::{Angle, Latitude};

fn arcs(horizon: &Horizon, declination: f64) -> SemiArcs {
    match horizon.daily_course(latitude(declination)) {
        DailyCourse::RisesAndSets(arcs) => arcs,
        other => panic!("{declination}° at {}: {other:?}", horizon.latitude.deg()),
    }
}

/// Chaucer, Treatise on the Astrolabe (ed. Skeat 1894) II.7–11, for his Oxford
/// and the obliquity of 1391: day, day hour and night hour in degrees.
#[test]
fn chaucers_days_and_hours() {
    let oxford = horizon(0.0, 23.52, 51.0 + 50.0 / 60.0);
    for (sun, day, day_hour, night_hour) in [
        (0.0, 180.0, 15.0, 15.0),
        (90.0, 247.25, 20.604, 9.396),
        (270.0, 112.75, 9.396, 20.604),
    ] {
        let DailyCourse::RisesAndSets(arcs) = oxford.course_of_degree(Angle::from_deg(sun)) else {
            panic!("the Sun rises and sets at Oxford");
        };
        let printed = Angle::from_deg(0.005);
        assert_near(arcs.day(), Angle::from_deg(day), printed, sun);
        assert_near(
            arcs.unequal_hour_of_day(),
            Angle::from_deg(day_hour),
            printed,
            sun,
        );
        assert_near(
            arcs.unequal_hour_of_night(),
            Angle::from_deg(night_hour),
            printed,
            sun,
        );
        // II.10: what the one hour has, the other has not, of 30 degrees.
        let both = arcs.unequal_hour_of_day() + arcs.unequal_hour_of_night();
        assert_near(both, Angle::from_deg(30.0), ROUNDING, sun);
    }
}

proptest! {
    #[test]
    fn what_rises_is_on_the_horizon_then(
        horizon in horizons(-89.9..89.9),
        declination in -89.9..89.9,
    ) {
        let declination = latitude(declination);
        let altitude_at = |hour_angle| {
            horizon.position(horizon.sidereal_time - hour_angle, declination).altitude
        };
        let (upper, lower) = (altitude_at(Angle::ZERO), altitude_at(Angle::HALF_TURN));
        match horizon.daily_course(declination) {
            DailyCourse::RisesAndSets(arcs) => {
                assert_near(altitude_at(arcs.rising()), Angle::ZERO, ROUNDING, "rising");
                assert_near(altitude_at(arcs.setting()), Angle::ZERO, ROUNDING, "setting");
                prop_assert!(upper > -ROUNDING && lower < ROUNDING);
                assert_near(arcs.day() + arcs.night(), Angle::FULL_TURN, ROUNDING, "day and night");
            }
            DailyCourse::NeverSets => prop_assert!(lower > -ROUNDING),
            DailyCourse::NeverRises => prop_assert!(upper < ROUNDING),
        }
    }

    #[test]
    fn the_opposite_declination_has_day_and_night_exchanged(
        horizon in horizons(-65.0..65.0),
        declination in -24.0..24.0,
    ) {
        let (one, other) = (arcs(&horizon, declination), arcs(&horizon, -declination));
        assert_near(one.diurnal(), other.nocturnal(), ROUNDING, "semi-arcs");
        assert_near(
            one.ascensional_difference(), -other.ascensional_difference(), ROUNDING, "differences",
        );
    }

    /// A degree's oblique ascension is the point of the equator that rises with it.
    #[test]
    fn the_oblique_ascension_rises_too(
        horizon in horizons(BETWEEN_POLAR_CIRCLES),
        longitude in 0.0..360.0,
    ) {
        let longitude = Angle::from_deg(longitude);
        let oblique = horizon.oblique_ascension(longitude).unwrap();
        let rising = Horizon { sidereal_time: oblique - Angle::QUARTER_TURN, ..horizon };
        assert_near(rising.position_of_degree(longitude).altitude, Angle::ZERO, ROUNDING, "degree");
        let equator = rising.position(oblique, Latitude::ZERO);
        assert_near(equator.altitude, Angle::ZERO, ROUNDING, "equator");
        assert_near(equator.azimuth, Angle::QUARTER_TURN, ROUNDING, "equator");
    }

    #[test]
    fn ascensions_of_the_signs_go_once_round(horizon in horizons(BETWEEN_POLAR_CIRCLES)) {
        for ascensions in [
            horizon.right_ascensions_of_signs(),
            horizon.oblique_ascensions_of_signs().unwrap(),
        ] {
            let sum: Angle = ascensions.into_iter().sum();
            prop_assert!((sum - Angle::FULL_TURN).abs() < ROUNDING, "{sum}");
        }
    }
}

#[test]
fn what_touches_the_horizon_does_not_cross_it() {
    let course =
        |place, declination| horizon(0.0, 23.44, place).daily_course(latitude(declination));
    assert_eq!(course(70.0, 20.0), DailyCourse::NeverSets);
    assert_eq!(course(70.0, -20.0), DailyCourse::NeverRises);
    assert_eq!(course(-70.0, -20.0), DailyCourse::NeverSets);
    assert_eq!(course(-70.0, 20.0), DailyCourse::NeverRises);
    assert_eq!(course(90.0, 0.1), DailyCourse::NeverSets);
    assert_eq!(course(90.0, 0.0), DailyCourse::NeverRises);
    assert_eq!(course(-90.0, 0.1), DailyCourse::NeverRises);
    assert!(matches!(
        course(70.0, 19.999_999),
        DailyCourse::RisesAndSets(_)
    ));
    assert!(matches!(course(0.0, 89.9), DailyCourse::RisesAndSets(_)));
}

#[test]
fn a_degree_that_never_sets_has_no_oblique_ascension() {
    let north = horizon(0.0, 23.44, 75.0);
    let no_answer = north.oblique_ascension(Angle::from_deg(90.0)).unwrap_err();
    assert_eq!(
        no_answer.reason,
        Reason::NeitherRisesNorSets(Angle::from_deg(90.0))
    );
    assert_eq!(
        no_answer.to_string(),
        "the oblique ascension of longitude 90.00° has no answer at latitude 75° north: \
         the degree at longitude 90.00° neither rises nor sets"
    );
    assert!(north.oblique_ascensions_of_signs().is_err());
}
