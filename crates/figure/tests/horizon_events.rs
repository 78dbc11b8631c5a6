//! Rising, setting, culmination and twilight, against print, against ERFA and
//! skyfield, and against a search by small steps.

#![cfg(not(feature = "test-shift-ascendant"))]

mod common;

use common::{assert_near, latitude};
use figure::{
    HorizonCourse, HorizonCrossing, Limb, Refraction, SeenFrom, Sight, Site, Target, Twilight,
    culminations, risings_and_settings, twilights,
};
use proptest::prelude::*;
use sky::{Angle, Body, Instant, Sky, SkyError, star_named};

const SUN: Target<'static> = Target::Body(Body::Sun);
const SECONDS_PER_DAY: f64 = 86_400.0;

fn site(latitude_deg: f64, longitude_deg: f64) -> Site {
    Site {
        latitude: latitude(latitude_deg),
        longitude: Angle::from_deg(longitude_deg),
    }
}

fn days(jd_ut: f64, days: f64) -> [Instant; 2] {
    [jd_ut, jd_ut + days].map(Instant::from_jd_ut)
}

#[track_caller]
fn only<T>(found: impl IntoIterator<Item = Result<T, SkyError>>) -> Vec<T> {
    found.into_iter().map(|one| one.expect("in span")).collect()
}

#[track_caller]
fn assert_within(found: Instant, jd_ut: f64, seconds: f64, what: &str) {
    let off = (found.jd_ut() - jd_ut) * SECONDS_PER_DAY;
    assert!(off.abs() <= seconds, "{what}: off by {off} s");
}

/// J. Meeus, Astronomical Algorithms (2nd ed. 1998), example 15.a: Venus at Boston on
/// 1988 March 20, its centre 34′ below the horizon; in days UT, to five decimals.
#[test]
fn venus_at_boston() {
    const LAST_DECIMAL_SECONDS: f64 = 1.0;
    const MARCH_20: f64 = 2_447_240.5;
    let boston = site(42.3333, -71.0833);
    let [from, until] = days(MARCH_20, 1.0);
    let venus = Target::Body(Body::Venus);
    let sight = Sight {
        limb: Limb::Centre,
        refraction: Refraction::Mean,
        seen_from: SeenFrom::Centre,
    };
    let crossings = only(risings_and_settings(venus, boston, sight, from, until).unwrap());
    let [set, rise] = crossings[..] else {
        panic!("{crossings:?}");
    };
    assert!(rise.rises && !set.rises);
    assert_within(
        rise.instant,
        MARCH_20 + 0.51766,
        LAST_DECIMAL_SECONDS,
        "rising",
    );
    assert_within(
        set.instant,
        MARCH_20 + 0.12130,
        LAST_DECIMAL_SECONDS,
        "setting",
    );
    let culminations = only(culminations(venus, boston, from, until).unwrap());
    let upper = culminations.iter().find(|one| one.upper).unwrap();
    assert_within(
        upper.instant,
        MARCH_20 + 0.81980,
        LAST_DECIMAL_SECONDS,
        "culmination",
    );
}

/// The US Naval Observatory's pages for a day, as the tests of skyfield quote them
/// (skyfield/tests/test_almanac.py): Bluffton and Defiance in Ohio, UT, to the minute.
#[test]
fn sun_and_twilight_in_ohio() {
    const PRINTED_SECONDS: f64 = 31.0;
    let minutes = |hour: u32, minute: u32| f64::from(60 * hour + minute) / 1440.0;

    const SEPTEMBER_12: f64 = 2_458_373.5; // 2018
    let [from, until] = days(SEPTEMBER_12 + 4.0 / 24.0, 1.0);
    let bluffton = site(40.8939, -83.8917);
    let found = only(risings_and_settings(SUN, bluffton, Sight::ALMANAC, from, until).unwrap());
    let printed = [minutes(11, 13), minutes(23, 50)];
    assert_eq!(found.len(), printed.len());
    for (found, printed) in found.iter().zip(printed) {
        assert_within(
            found.instant,
            SEPTEMBER_12 + printed,
            PRINTED_SECONDS,
            "Bluffton",
        );
    }

    const NOVEMBER_8: f64 = 2_458_795.5; // 2019
    let [from, until] = days(NOVEMBER_8 + 4.0 / 24.0, 1.0);
    let defiance = site(41.281_944, -84.362_778);
    for (twilight, printed) in [
        (Twilight::Astronomical, [minutes(10, 42), minutes(23, 59)]),
        (Twilight::Nautical, [minutes(11, 15), minutes(23, 27)]),
        (Twilight::Civil, [minutes(11, 48), minutes(22, 54)]),
    ] {
        let found = only(twilights(twilight, defiance, from, until).unwrap());
        assert_eq!(found.len(), printed.len(), "{twilight:?}");
        for (found, printed) in found.iter().zip(printed) {
            let what = format!("{twilight:?}");
            assert_within(found.instant, NOVEMBER_8 + printed, PRINTED_SECONDS, &what);
        }
    }
}

/// `reference/horizon_events.csv`, by the script beside it.
#[test]
fn events_as_erfa_and_skyfield_find_them() {
    // The table's times are good to 0.001 s; a flat path near the poles makes seconds
    // of an arc of 0.02″, which the ephemerides part by.
    const ERFA_SECONDS: f64 = 0.1;
    // 0.05 s of the Moon's motion; skyfield stops its search at a millisecond.
    const SKYFIELD_SECONDS: f64 = 0.5;
    let table = include_str!("../../../reference/horizon_events.csv");
    let mut rows: Vec<Vec<&str>> = table
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| line.split(',').collect())
        .collect();
    let mut compared = 0;
    while let Some(first) = rows.first().cloned() {
        let same = rows.iter().take_while(|row| row[..7] == first[..7]).count();
        let group: Vec<_> = rows.drain(..same).collect();
        let number = |index: usize| first[index].parse::<f64>().unwrap();
        let place = site(number(2), number(3));
        let [from, until] = days(number(5), number(6));
        let target = match first[0] {
            "Sun" => SUN,
            "star" => Target::Star(star_named(&format!("HIP {}", first[1])).unwrap()),
            "degree" => Target::Degree(Angle::from_deg(number(1))),
            _ => Target::Body(
                *Body::ALL
                    .iter()
                    .find(|body| body.name() == first[1])
                    .unwrap(),
            ),
        };
        let crossings = |found: Vec<HorizonCrossing>| -> Vec<(Instant, bool)> {
            found.iter().map(|one| (one.instant, one.rises)).collect()
        };
        let twilight = |twilight| crossings(only(twilights(twilight, place, from, until).unwrap()));
        let seen = |sight| {
            crossings(only(
                risings_and_settings(target, place, sight, from, until).unwrap(),
            ))
        };
        let found = match first[4] {
            "geometric" => seen(Sight::GEOMETRIC),
            "almanac" => seen(Sight::ALMANAC),
            "civil" => twilight(Twilight::Civil),
            "nautical" => twilight(Twilight::Nautical),
            "astronomical" => twilight(Twilight::Astronomical),
            _ => only(culminations(target, place, from, until).unwrap())
                .iter()
                .map(|one| (one.instant, !one.upper))
                .collect(),
        };
        let expected: Vec<_> = group.iter().filter(|row| !row[7].is_empty()).collect();
        assert_eq!(found.len(), expected.len(), "{first:?}: {found:?}");
        for ((instant, upward), row) in found.into_iter().zip(expected) {
            let within = if first[4] == "almanac" {
                SKYFIELD_SECONDS
            } else {
                ERFA_SECONDS
            };
            assert_within(instant, row[7].parse().unwrap(), within, &row.join(","));
            assert_eq!(upward, row[8] == "True", "{row:?}");
            compared += 1;
        }
    }
    assert!(compared > 800, "{compared}");
}

/// Longyearbyen: common knowledge of polar day and night.
#[test]
fn polar_day_and_night_are_answers() {
    let longyearbyen = site(78.22, 15.65);
    let course = |jd_ut| {
        let [from, until] = days(jd_ut, 1.0);
        HorizonCourse::of(SUN, longyearbyen, Sight::ALMANAC, from, until).unwrap()
    };
    assert_eq!(course(2_459_031.5), HorizonCourse::StaysAbove); // 2020 July 1
    assert_eq!(course(2_459_184.5), HorizonCourse::StaysBelow); // 2020 December 1
    assert!(matches!(course(2_458_928.5), HorizonCourse::Crosses(both) if both.len() == 2)); // March 20
}

#[test]
fn at_the_pole_the_sun_rises_once_a_year() {
    let [from, until] = days(2_458_849.5, 366.0); // 2020
    let found =
        only(risings_and_settings(SUN, site(90.0, 0.0), Sight::GEOMETRIC, from, until).unwrap());
    let [rise, set] = found[..] else {
        panic!("{found:?}");
    };
    assert!(rise.rises && !set.rises);
    // The equinoxes of 2020, 20 March 3:50 and 22 September 13:31 UT (US Naval
    // Observatory); the Sun's latitude of up to 0.8″ makes a minute.
    const MINUTES: f64 = 2.0 * 60.0;
    assert_within(
        rise.instant,
        2_458_928.5 + 230.0 / 1440.0,
        MINUTES,
        "rising",
    );
    assert_within(
        set.instant,
        2_459_114.5 + 811.0 / 1440.0,
        MINUTES,
        "setting",
    );
}

#[test]
fn an_interval_out_of_span_is_refused() {
    let [from, until] = days(2_688_970.5, 10.0);
    let refused = risings_and_settings(SUN, site(0.0, 0.0), Sight::ALMANAC, from, until);
    assert!(matches!(refused.err(), Some(SkyError::OutsideSpan { .. })));
    assert!(culminations(SUN, site(0.0, 0.0), from, until).is_err());
    // To its very end it is answered.
    let [from, until] = [2_688_975.5, sky::Span::LAST_JD].map(Instant::from_jd_tt);
    let events = risings_and_settings(SUN, site(0.0, 0.0), Sight::ALMANAC, from, until).unwrap();
    assert_eq!(only(events).len(), 2);
}

/// What the astrolabe does: the star's pointer on the eastern horizon, the degree read
/// there; and the same degree is the ascendant when the star rises.
#[test]
fn the_degree_that_rises_with_a_star_is_ascendant_then() {
    let oxford = site(51.8333, -1.25);
    let [from, until] = days(2_451_544.5, 1.0);
    for name in ["Sirius", "Arcturus", "Aldebaran", "Antares", "Algol"] {
        let star = star_named(name).unwrap();
        let target = Target::Star(star);
        let crossings =
            only(risings_and_settings(target, oxford, Sight::GEOMETRIC, from, until).unwrap());
        for HorizonCrossing { instant, rises } in crossings {
            let sky = Sky::at(instant).unwrap();
            let horizon = oxford.horizon(&sky);
            let place = sky.star(star);
            let (ra, dec) = (place.right_ascension, place.declination);
            // A millisecond of time.
            let within = Angle::from_arcsec(0.05);
            let ascendant = horizon.ascendant().unwrap();
            if rises {
                let degree = horizon.degree_rising_with(ra, dec).unwrap();
                assert_near(degree, ascendant, within, name);
            } else {
                let degree = horizon.degree_setting_with(ra, dec).unwrap();
                assert_near(degree, ascendant + Angle::HALF_TURN, within, name);
            }
        }
    }
    let sky = Sky::at(from).unwrap();
    let polaris = sky.star(star_named("Polaris").unwrap());
    let refused = oxford
        .horizon(&sky)
        .degree_rising_with(polaris.right_ascension, polaris.declination)
        .unwrap_err();
    assert!(
        refused.to_string().contains("neither rises nor sets"),
        "{refused}"
    );
}

fn targets() -> impl Strategy<Value = Target<'static>> {
    prop_oneof![
        (0_usize..10).prop_map(|body| Target::Body(Body::ALL[body])),
        (0_usize..900).prop_map(|star| Target::Star(&sky::stars()[star])),
        (0.0..360.0).prop_map(|deg| Target::Degree(Angle::from_deg(deg))),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Heights sampled every quarter of an hour show no crossing that was not found,
    /// and at each that was the height is nothing.
    #[test]
    fn no_rising_and_no_setting_is_missed(
        target in targets(),
        latitude_deg in prop_oneof![-90.0..90.0, 60.0..72.0, 85.0..90.0],
        longitude_deg in -180.0..180.0,
        jd_ut in 1_510_000.0..2_680_000.0,
        almanac: bool,
    ) {
        let place = site(latitude_deg, longitude_deg);
        let sight = if almanac { Sight::ALMANAC } else { Sight::GEOMETRIC };
        let [from, until] = days(jd_ut, 3.0);
        let found = only(risings_and_settings(target, place, sight, from, until).unwrap());
        // Sighted by the limb, its height on the horizon is that of the air alone.
        let height = |instant| {
            let sky = Sky::at(instant).unwrap();
            let bare = Sight { refraction: Refraction::None, ..sight };
            place.position(&sky, target, bare).altitude + sight.refraction.on_horizon()
        };
        let is_up = |quarter: i32| {
            height(from.plus_seconds(f64::from(quarter) * 900.0)) > Angle::ZERO
        };
        let mut up = is_up(0);
        let mut changes = 0;
        for quarter in 1..288 {
            let now = is_up(quarter);
            changes += usize::from(now != up);
            up = now;
        }
        prop_assert!(found.len() >= changes, "{changes} but {found:?}");
        for pair in found.windows(2) {
            prop_assert!(pair[0].rises != pair[1].rises);
            prop_assert!(pair[0].instant < pair[1].instant);
        }
        for one in &found {
            // A millisecond at 15″ a second.
            assert_near(height(one.instant), Angle::ZERO, Angle::from_arcsec(0.05), "height");
        }
    }

    #[test]
    fn culminations_come_by_turns(
        target in targets(),
        longitude_deg in -180.0..180.0,
        jd_ut in 1_510_000.0..2_680_000.0,
    ) {
        let place = site(45.0, longitude_deg);
        let [from, until] = days(jd_ut, 3.0);
        let found = only(culminations(target, place, from, until).unwrap());
        prop_assert!((5..=7).contains(&found.len()), "{found:?}");
        for pair in found.windows(2) {
            prop_assert!(pair[0].upper != pair[1].upper);
            let hours = pair[1].instant.seconds_since(pair[0].instant) / 3600.0;
            prop_assert!((11.7..13.0).contains(&hours), "{hours}");
        }
    }
}
