//! The answer to a question for the planets, and ephemerides row by row.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use desk::{Ephemeris, EphemerisRequest, Field, PlanetsAnswer, PlanetsRequest, ephemeris, planets};
use proptest::prelude::*;

fn asked(when: &str, at: Option<&str>) -> PlanetsRequest {
    PlanetsRequest {
        when: when.to_owned(),
        at: at.map(str::to_owned),
        ..PlanetsRequest::default()
    }
}

fn answered(when: &str, at: Option<&str>) -> PlanetsAnswer {
    planets(&asked(when, at), None).unwrap()
}

fn from_to(from: &str, to: &str, every: &str) -> EphemerisRequest {
    EphemerisRequest {
        from: from.to_owned(),
        to: to.to_owned(),
        every: every.to_owned(),
        ..EphemerisRequest::default()
    }
}

fn rows(request: &EphemerisRequest) -> Vec<Vec<String>> {
    let ephemeris = ephemeris(request, None).unwrap();
    let count = ephemeris.rows();
    let rows: Vec<Vec<String>> = ephemeris
        .map(|row| {
            let mut text = String::new();
            row.unwrap().write_csv(&mut text);
            let line = text.strip_suffix('\n').unwrap();
            line.split(',').map(str::to_owned).collect()
        })
        .collect();
    assert_eq!(rows.len() as u64, count);
    rows
}

/// J. Meeus, Astronomical Algorithms (2nd ed. 1998), example 47.a: the Moon on 1992
/// April 12.0 TD, which was 23:59:00.8 UT of the day before.
#[test]
fn without_a_place_a_time_is_universal_time() {
    let answer = answered("1992-04-11 23:59:00.816", None);
    assert_eq!(answer.moment.clock, "+00:00");
    assert!(answer.place.is_none());
    let moon = &answer.bodies[1];
    assert_eq!(moon.body.name, "Moon");
    // Meeus' series are good to 10″.
    assert!((moon.body.longitude_deg - 133.167_265).abs() < 10.0 / 3600.0);
    assert!((moon.body.latitude_deg + 3.229_126).abs() < 10.0 / 3600.0);
    assert!(answer.bodies.iter().all(|planet| planet.at_place.is_none()));
}

/// The US Naval Observatory's page, as the tests of skyfield quote it
/// (skyfield/tests/test_almanac.py): sunrise 11:13 and sunset 23:50 UT at Bluffton,
/// Ohio, on 2018 September 12, where summer time was 4 h behind.
#[test]
fn rising_and_setting_are_told_by_the_clock_of_the_place() {
    let answer = answered("2018-09-12 12:00", Some("40.8939,-83.8917"));
    assert_eq!(answer.moment.zone.as_deref(), Some("America/New_York"));
    let sun = answer.bodies[0].at_place.as_ref().unwrap();
    // Printed to the minute; the clock is 4 h behind, and the day that clock's.
    for (events, minute, hour) in [
        (&sun.rises, 7 * 60 + 13, "07:"),
        (&sun.sets, 19 * 60 + 50, "19:"),
    ] {
        let [event] = &events[..] else {
            panic!("{events:?}");
        };
        let minutes = (event.jd_ut - 2_458_373.5) * 1440.0 - 4.0 * 60.0;
        assert!((minutes - f64::from(minute)).abs() <= 0.52, "{event:?}");
        assert!(
            event.clock_time.starts_with(&format!("2018-09-12 {hour}")),
            "{event:?}"
        );
    }
    assert_eq!(sun.culminates.len(), 1);
    assert_eq!(sun.stays, None);
}

#[test]
fn in_a_polar_day_the_sun_stays_above() {
    let stays = |when, body: usize| {
        let answer = answered(when, Some("Longyearbyen"));
        answer.bodies[body].at_place.as_ref().unwrap().stays
    };
    assert_eq!(stays("2020-06-21 12:00", 0), Some("above"));
    assert_eq!(stays("2020-12-21 12:00", 0), Some("below"));
    assert_eq!(stays("2020-03-21 12:00", 0), None);
}

/// Mercury turned retrograde on 2024 April 1 at 22:14 UT (common ephemerides, from
/// memory; to the hour).
#[test]
fn a_station_is_told_within_a_day_of_it() {
    let mercury = |when| answered(when, None).bodies[2].clone();
    for when in ["2024-04-01 00:00", "2024-04-02 12:00"] {
        let station = mercury(when).station.unwrap();
        assert_eq!(station.turns, "retrograde");
        assert_eq!(&station.clock_time[..13], "2024-04-01 22");
    }
    assert_eq!(mercury("2024-04-01 00:00").motion, "station");
    assert_eq!(mercury("2024-03-28 00:00").motion, "direct");
    assert_eq!(mercury("2024-04-10 00:00").motion, "retrograde");
}

#[test]
fn the_ends_of_the_span_are_answered_with_a_place_too() {
    for when in ["-0600-01-01 12:00", "2650-01-24 12:00"] {
        let request = PlanetsRequest {
            clock: Some("+00:00".to_owned()),
            ..asked(when, Some("30,31"))
        };
        let answer = planets(&request, None).unwrap();
        assert!(answer.bodies.iter().all(|planet| planet.at_place.is_some()));
    }
    let beyond = planets(&asked("2700-01-01 00:00", None), None).unwrap_err();
    assert_eq!(beyond.field, Field::When);
    assert!(beyond.message.contains("−600"), "{beyond}");
}

#[test]
fn what_needs_a_place_is_refused_without_one() {
    for clock in ["mean", "sun", "zone"] {
        let request = PlanetsRequest {
            clock: Some(clock.to_owned()),
            ..asked("2024-01-01 00:00", None)
        };
        let refusal = planets(&request, None).unwrap_err();
        assert!(refusal.message.contains("zone"), "{refusal}");
    }
}

#[test]
fn an_ephemeris_agrees_with_the_single_answers() {
    let rows = rows(&from_to("2024-01-01 00:00", "2024-01-10 00:00", "3 d"));
    let utc: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(
        utc,
        [
            "2024-01-01 00:00:00",
            "2024-01-04 00:00:00",
            "2024-01-07 00:00:00",
            "2024-01-10 00:00:00"
        ]
    );
    let columns = Ephemeris::columns();
    let column = |name: &str| columns.iter().position(|one| one == name).unwrap();
    for row in &rows {
        assert_eq!(row.len(), columns.len());
        let single = answered(&row[0], None);
        for planet in &single.bodies {
            let name = planet.body.name.to_lowercase();
            for (what, value) in [
                ("longitude_deg", planet.body.longitude_deg),
                ("latitude_deg", planet.body.latitude_deg),
                ("right_ascension_deg", planet.body.right_ascension_deg),
                ("declination_deg", planet.body.declination_deg),
                ("speed_deg_per_day", planet.body.speed_deg_per_day),
            ] {
                let found: f64 = row[column(&format!("{name}_{what}"))].parse().unwrap();
                assert!(
                    (found - value).abs() < 1e-6,
                    "{name} {what}: {found} {value}"
                );
            }
        }
        let node: f64 = row[column("true_node_deg")].parse().unwrap();
        assert!((node - single.nodes.true_deg).abs() < 1e-6);
    }
}

#[test]
fn an_ephemeris_names_its_calendar_which_changes_in_1582() {
    let days = |request: &EphemerisRequest| -> Vec<String> {
        rows(request)
            .iter()
            .map(|row| format!("{} {}", &row[0][..10], row[1]))
            .collect()
    };
    let over = from_to("1582-10-03 00:00", "1582-10-16 00:00", "1d");
    assert_eq!(
        days(&over),
        [
            "1582-10-03 julian",
            "1582-10-04 julian",
            "1582-10-15 gregorian",
            "1582-10-16 gregorian"
        ]
    );
    let julian = EphemerisRequest {
        calendar: Some("julian".to_owned()),
        ..from_to("1582-10-04 00:00", "1582-10-06 00:00", "1d")
    };
    assert_eq!(
        days(&julian),
        [
            "1582-10-04 julian",
            "1582-10-05 julian",
            "1582-10-06 julian"
        ]
    );
    assert_eq!(&Ephemeris::columns()[..3], ["utc", "calendar", "jd_tt"]);
}

#[test]
fn what_cannot_be_an_ephemeris_is_refused() {
    let day = "2024-01-01 00:00";
    for (from, to, every, field) in [
        ("2024-02-01 00:00", day, "1d", Field::To),
        ("yesterday", day, "1d", Field::From),
        (day, "tomorrow", "1d", Field::To),
        ("-0601-12-31 00:00", day, "1d", Field::From),
        (day, "2650-02-01 00:00", "1d", Field::To),
        (day, day, "", Field::Every),
        (day, day, "1", Field::Every),
        (day, day, "0d", Field::Every),
        (day, day, "-1d", Field::Every),
        (day, day, "1 fortnight", Field::Every),
        (day, day, "0.5s", Field::Every),
        (day, day, "NaN d", Field::Every),
        (day, day, "1.2.3 d", Field::Every),
        (day, day, &format!("{}d", "9".repeat(400)), Field::Every),
    ] {
        let refusal = ephemeris(&from_to(from, to, every), None).unwrap_err();
        assert_eq!(refusal.field, field, "{refusal}");
        assert!(refusal.message.len() < 400, "{refusal}");
    }
}

proptest! {
    /// Whatever is asked within the span is answered, in range.
    #[test]
    fn every_value_is_in_range(
        year in -599..2649_i32,
        month in 1..=12_u32,
        day in 1..=28_u32,
        latitude in -90.0..=90.0_f64,
        longitude in -180.0..180.0_f64,
    ) {
        let year = if year < 0 { format!("-{:04}", -year) } else { format!("{year:04}") };
        let when = format!("{year}-{month:02}-{day:02} 12:34");
        let request = PlanetsRequest {
            clock: Some("mean".to_owned()),
            calendar: Some("gregorian".to_owned()),
            ..asked(&when, Some(&format!("{latitude:.4},{longitude:.4}")))
        };
        let answer = planets(&request, None).unwrap();
        for planet in &answer.bodies {
            let body = &planet.body;
            prop_assert!((0.0..360.0).contains(&body.longitude_deg));
            prop_assert!((0.0..360.0).contains(&body.right_ascension_deg));
            prop_assert!(body.latitude_deg.abs() < 18.0 && body.declination_deg.abs() < 42.0);
            prop_assert!(body.speed_deg_per_day.abs() < 16.0);
            prop_assert!((0.002..60.0).contains(&planet.distance_au));
            let there = planet.at_place.as_ref().unwrap();
            prop_assert!(there.altitude_deg.abs() <= 90.0);
            prop_assert!((0.0..360.0).contains(&there.azimuth_deg));
            prop_assert_eq!(there.stays.is_some(), there.rises.is_empty() && there.sets.is_empty());
            prop_assert!(there.rises.len().abs_diff(there.sets.len()) <= 1);
            let date = answer.moment.clock_time.get(..answer.moment.clock_time.len() - 9).unwrap();
            for event in there.rises.iter().chain(&there.culminates).chain(&there.sets) {
                // An event at the very end may be rounded to the midnight after it.
                let on_the_day = event.clock_time.starts_with(date);
                prop_assert!(on_the_day || event.clock_time.ends_with("00:00:00"), "{event:?}");
            }
        }
    }
}
