//! A year's book: its days, against published events, and up to the poles.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use desk::{Cabinet, Field, YearAnswer, YearRequest};

fn asked(year: i32, at: &str) -> YearRequest {
    YearRequest {
        year,
        at: at.to_owned(),
        ..YearRequest::default()
    }
}

fn made(year: i32, at: &str) -> YearAnswer {
    desk::year(&asked(year, at), &Cabinet::built_in()).unwrap()
}

/// Equinoxes and solstices of 2027 (U.S. Naval Observatory, from memory: 20 March 20:25, 21
/// June 14:11, 23 September 6:02, 22 December 2:42 UT), and the total eclipse of 2 August,
/// which Lisbon saw in part. In Lisbon summer time is an hour ahead of UT.
#[test]
fn what_happens_happens_when_it_is_published() {
    let year = made(2027, "Lisbon, Portugal");
    let at = |what: &str| {
        let event = year.events.iter().find(|event| event.what.contains(what));
        event.unwrap_or_else(|| panic!("{what}")).at.to_string()
    };
    for (what, published) in [
        ("March equinox", "2027-03-20 20:24"),
        ("June solstice", "2027-06-21 15:1"),
        ("September equinox", "2027-09-23 07:0"),
        ("December solstice", "2027-12-22 02:4"),
        ("put forward", "2027-03-28 02:00:00"),
        ("put back", "2027-10-31 01:00:00"),
    ] {
        assert!(at(what).starts_with(published), "{what}: {}", at(what));
    }
    let eclipse = year
        .events
        .iter()
        .find(|event| event.what.contains("total where"));
    let eclipse = &eclipse.unwrap().what;
    assert!(eclipse.contains("here magnitude 0.9"), "{eclipse}");
    let phases = year.events.iter().filter(|event| event.kind == "lunation");
    assert!((49..=50).contains(&phases.count()));
    assert!(year.events.is_sorted_by(|a, b| a.jd_ut <= b.jd_ut));
}

#[test]
fn every_day_is_there_with_what_belongs_to_it() {
    for (number, length) in [(2027, 365), (2028, 366)] {
        let year = made(number, "Lisbon, Portugal");
        assert_eq!(year.days.len(), length);
        let first = &year.days[0];
        assert_eq!(first.date.to_string(), format!("{number}-01-01"));
        // 1 January 2027 was a Friday, which is Venus's day.
        if number == 2027 {
            assert_eq!((first.weekday, first.ruler), ("Friday", "Venus"));
        }
        for (day, next) in year.days.iter().zip(&year.days[1..]) {
            let rises = day.sunrise.unwrap();
            assert_eq!(rises.date(), day.date);
            // Twelve hours of the day and of the night after it make a day and some seconds.
            let whole = 12.0 * (day.day_hour_s.unwrap() + day.night_hour_s.unwrap());
            assert!((whole - 86_400.0).abs() < 120.0, "{whole} on {}", day.date);
            // The Sun goes on by a degree, and the scale shows him within a half of one.
            let on = (next.sun_deg - day.sun_deg).rem_euclid(360.0);
            assert!((0.94..1.06).contains(&on), "{on} on {}", day.date);
            let off = (day.scale_deg.unwrap() - day.sun_deg + 540.0).rem_euclid(360.0) - 180.0;
            assert!(off.abs() < 0.6, "{off} on {}", day.date);
        }
        assert!(year.stars.len() > 40);
    }
}

/// W. Molyneux, Sciothericum Telescopicum (Dublin 1686): the equation of time on days of
/// 1686, of which he has 33 within 8 s of calculation. His dates are Julian, ten days behind.
#[test]
fn the_equation_of_time_is_molyneux_s() {
    let year = made(1686, "53.35,-6.26");
    for (date, minutes, seconds) in [
        ("1686-01-11", -8.0, 55.0),
        ("1686-02-11", -14.0, 54.0),
        ("1686-03-25", -6.0, 1.0),
        ("1686-05-14", 4.0, 17.0),
        ("1686-07-26", -5.0, 49.0),
        ("1686-09-11", 3.0, 41.0),
        ("1686-10-25", 15.0, 40.0),
        ("1686-11-03", 16.0, 4.0),
        ("1686-12-11", 5.0, 51.0),
    ] {
        let printed: f64 = minutes * 60.0 + f64::copysign(seconds, minutes);
        let day = year
            .days
            .iter()
            .find(|day| day.date.to_string() == date)
            .unwrap();
        let off = day.equation_of_time_s - printed;
        assert!(off.abs() < 10.0, "{date}: {off}");
    }
}

#[test]
fn where_the_sun_does_not_rise_it_says_so() {
    let year = made(2027, "69.65,18.96");
    let june = year
        .days
        .iter()
        .find(|day| day.date.to_string() == "2027-06-21")
        .unwrap();
    assert!(june.sunrise.is_none() && june.day_hour_s.is_none());
    let march = year
        .days
        .iter()
        .find(|day| day.date.to_string() == "2027-03-21")
        .unwrap();
    assert!(march.sunrise.is_some() && march.day_hour_s.is_some());
    // By a clock of another place his day is still found.
    let far = YearRequest {
        zone: Some("UTC".to_owned()),
        ..asked(2027, "-17.8,177.9")
    };
    let far = desk::year(&far, &Cabinet::built_in()).unwrap();
    assert!(
        far.days
            .iter()
            .all(|day| day.sunrise.is_some() && day.sunset.is_some())
    );
    let pole = YearRequest {
        zone: Some("UTC".to_owned()),
        ..asked(2027, "-89.9,0")
    };
    let pole = desk::year(&pole, &Cabinet::built_in()).unwrap();
    assert!(
        pole.days
            .iter()
            .all(|day| day.day_hour_s.is_none() || day.sunrise.is_some())
    );
}

#[test]
fn hours_of_a_planet_are_those_of_the_figure() {
    let request = YearRequest {
        hours_of: vec!["venus".to_owned()],
        ..asked(2027, "Lisbon, Portugal")
    };
    let year = desk::year(&request, &Cabinet::built_in()).unwrap();
    // The first hour of a Friday, and every seventh from it: 24 a week, and one more a day
    // in three of seven.
    assert!(
        (1248..=1255).contains(&year.hours.len()),
        "{}",
        year.hours.len()
    );
    let refused = YearRequest {
        hours_of: vec!["Uranus".to_owned()],
        ..request
    };
    let refusal = desk::year(&refused, &Cabinet::built_in()).unwrap_err();
    assert_eq!(refusal.field, Field::Body);
    for year in [1582, 2650] {
        let refusal = desk::year(&asked(year, "Lisbon, Portugal"), &Cabinet::built_in());
        assert!(refusal.unwrap_err().message.contains("1583 to 2649"));
    }
}

/// What an independent parser read in the year's calendar for Lisbon
/// (`reference/icalendar_read.py`) is what is said of the year: every event, to the second.
#[test]
fn the_calendar_that_was_read_is_the_years() {
    let read = include_str!("../../../reference/icalendar_year.txt");
    let read: Vec<&str> = read.lines().filter(|line| !line.starts_with('#')).collect();
    let year = made(2027, "Lisbon, Portugal");
    // Half an hour's notice was asked for.
    let said = year.events.iter().map(|event| {
        let second = (event.jd_ut - 2_461_406.5) * 86_400.0;
        let second = second.round() as i64;
        let (day, of_day) = (second.div_euclid(86_400), second.rem_euclid(86_400));
        let date = moment::CivilDate::from_julian_day_number(
            moment::Calendar::Gregorian,
            2_461_407 + i32::try_from(day).unwrap(),
        );
        format!(
            "{}-{:02}-{:02}T{:02}:{:02}:{:02} {} 30 {}",
            date.year(),
            date.month(),
            date.day(),
            of_day / 3600,
            of_day / 60 % 60,
            of_day % 60,
            event.kind,
            event.what
        )
    });
    let said: Vec<String> = said.collect();
    assert_eq!(said.len(), 297);
    assert_eq!(said, read);
}
