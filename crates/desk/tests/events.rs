//! An event is when it truly happens, in every command: against ERFA, and each command
//! against the others.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use desk::{
    Cabinet, CastRequest, DuringRequest, FigureRequest, FindingAnswer, FinishedFigure,
    MomentsRequest, PlanetsRequest, RevolutionRequest, WorkAnswer, WorkRequest,
};
use moment::{Calendar, CivilTime};

fn case(when: &str, at: &str, clock: &str) -> CastRequest {
    CastRequest {
        when: when.to_owned(),
        at: at.to_owned(),
        clock: Some(clock.to_owned()),
        ..CastRequest::default()
    }
}

fn worked(operation: &str, moment: CastRequest) -> WorkAnswer {
    let request = WorkRequest {
        operation: operation.to_owned(),
        moment,
        ..WorkRequest::default()
    };
    desk::work(&request, &Cabinet::built_in(), None).unwrap()
}

fn finding<'a>(answer: &'a WorkAnswer, name: &str) -> &'a FindingAnswer {
    let found = answer.findings.iter().find(|one| one.name == name);
    found.unwrap_or_else(|| panic!("no {name}"))
}

fn share(finding: &FindingAnswer, cause: &str) -> f64 {
    let found = finding.shares.iter().find(|share| share.cause == cause);
    found.unwrap().deg
}

fn figure(moment: CastRequest) -> FinishedFigure {
    let request = FigureRequest {
        cast: moment,
        ..FigureRequest::default()
    };
    desk::figure(&request, &Cabinet::built_in(), None)
        .unwrap()
        .exact
}

/// Seconds since 1970 of a date and time of the Gregorian calendar.
fn seconds(date_and_time: &str) -> f64 {
    let numbers: Vec<f64> = date_and_time
        .split(['-', ' ', ':'])
        .map(|part| part.parse().unwrap())
        .collect();
    let [year, month, day, hour, minute, second] = numbers[..] else {
        panic!("{date_and_time}")
    };
    let date =
        moment::CivilDate::new(Calendar::Gregorian, year as i32, month as u8, day as u8).unwrap();
    f64::from(date.julian_day_number() - 2_440_588) * 86_400.0
        + hour * 3600.0
        + minute * 60.0
        + second
}

/// The Sun's geometric risings and settings and its twilights as ERFA and DE440 have
/// them (`reference/horizon_events.py`): an operation calculates the same, to the second
/// that it tells.
#[test]
fn operations_calculate_events_as_erfa_has_them() {
    let table = include_str!("../../../reference/horizon_events.csv");
    let mut compared = 0;
    for row in table.lines().filter(|row| !row.starts_with('#')).skip(1) {
        let fields: Vec<&str> = row.split(',').collect();
        let [kind, name, latitude, longitude, event, _, _, jd_ut, upward] = fields[..] else {
            panic!("{row}")
        };
        let (Ok(jd_ut), "True" | "False") = (jd_ut.parse::<f64>(), upward) else {
            continue;
        };
        let up = upward == "True";
        // Nearer the poles than this a second is less than the last digits are worth.
        if latitude.parse::<f64>().unwrap().abs() > 60.0 {
            continue;
        }
        let (operation, finding_name) = match (kind, event) {
            ("Sun", "geometric") => ("day-and-night", if up { "sunrise" } else { "sunset" }),
            ("Sun", "astronomical") => {
                ("dawn-and-nightfall", if up { "dawn" } else { "nightfall" })
            }
            _ => continue,
        };
        let south = latitude.starts_with('-');
        let epoch = CivilTime {
            date: moment::CivilDate::new(Calendar::Gregorian, 1970, 1, 1).unwrap(),
            time: moment::TimeOfDay::new(0, 0, 0.0).unwrap(),
        };
        let at_ut = epoch.plus_seconds((jd_ut - 2_440_587.5) * 86_400.0);
        let moment = CastRequest {
            with: south.then(|| desk::WithInstrument::Named("southern instrument".to_owned())),
            ..case(
                &format!("{at_ut}"),
                &format!("{latitude},{longitude}"),
                "+00:00",
            )
        };
        let answer = worked(operation, moment);
        let told = finding(&answer, finding_name).exact_clock.clone().unwrap();
        let off = seconds(&told) - (jd_ut - 2_440_587.5) * 86_400.0;
        assert!(off.abs() < 1.0, "{row}: {told}, off by {off} s {name}");
        compared += 1;
    }
    assert!(compared >= 10, "{compared}");
}

/// Cast at the time that is told, the figure has the degree on the horizon: it was a
/// degree and a quarter off while all hours were calculated with noon's Sun.
#[test]
fn a_moment_that_is_told_has_the_degree_rising() {
    let at = "42.8806,-8.5449";
    let request = MomentsRequest {
        moment: CastRequest {
            zone: Some("Europe/Madrid".to_owned()),
            ..case("2024-01-01 12:00", at, "zone")
        },
        ascendant: "11 Pisces".to_owned(),
    };
    let answer = desk::moments(&request, &Cabinet::built_in(), None).unwrap();
    let mut elsewhere = 0;
    for day in &answer.days {
        let told = day.rising.exact_clock.clone().unwrap();
        let moment = CastRequest {
            zone: Some("Europe/Madrid".to_owned()),
            which: Some("earlier".to_owned()),
            ..case(&told, at, "zone")
        };
        let cast = desk::cast(&moment, &Cabinet::built_in(), None).unwrap();
        let ascendant = cast.figure.ascendant_deg.unwrap();
        // A second of time is up to 40″ of Pisces here.
        assert!((ascendant - 341.0).abs() < 0.012, "{told}: {ascendant}");
        // The Sun of noon by the clock, up to 15 hours away.
        assert!(share(&day.rising, "sun-moves").abs() < 0.7);
        // What the clock shows bears its own date.
        let date = day.rising.clock_date.clone().unwrap();
        elsewhere += usize::from(date != day.date);
        let apart =
            seconds(&format!("{date} 12:00:00")) - seconds(&format!("{} 12:00:00", day.date));
        assert!(apart.abs() < 86_401.0, "{date} {}", day.date);
    }
    assert!(elsewhere > 0);
}

#[test]
fn an_old_hour_opens_where_the_figures_hour_does() {
    let mut opened = 0;
    for (month, day) in [(1, 14), (4, 24), (6, 21), (9, 3), (12, 30)] {
        for hour in 0..12_u8 {
            let latitude = 30.0 + f64::from(hour) * 2.5;
            for (clock, of) in [
                ("unequal-day", "day"),
                ("unequal-night", "night"),
                ("unequal-night-before", "night"),
            ] {
                let when = format!("2005-{month:02}-{day:02} {hour:02}:00");
                let found = figure(case(&when, &format!("{latitude},0"), clock));
                let found = found.hour.unwrap();
                assert_eq!(
                    (found.number, found.of),
                    (hour + 1, of),
                    "{clock} {when} at {latitude}°"
                );
                opened += 1;
            }
        }
    }
    assert_eq!(opened, 180);
    let eighth = figure(case("2005-04-24 08:00", "52.15,0", "unequal-day"));
    assert_eq!(eighth.hour.unwrap().number, 9);
}

/// Equal hours are counted from the very events that a figure's day has.
#[test]
fn equal_hours_are_counted_from_the_suns_own_rising_and_setting() {
    let at = "45.4384,10.9917";
    let between = |day: &str| {
        let found = figure(case(&format!("{day} 12:00"), at, "sun"));
        let local = |text: &str| seconds(text);
        found.hour.unwrap().between.map(|text| local(&text))
    };
    let by = |clock: &str, when: &str| {
        let moment = desk::cast(&case(when, at, clock), &Cabinet::built_in(), None).unwrap();
        seconds(moment.moment.when.clock_time.split('.').next().unwrap())
    };
    let (today, before) = (between("1786-09-17"), between("1786-09-16"));
    for (clock, from) in [
        ("from-sunrise", today[0]),
        ("from-sunset-of-date", today[1]),
        ("from-sunset-before", before[1]),
        // The Italian use: the date began with the sunset before it.
        ("from-sunset", before[1]),
    ] {
        let off = by(clock, "1786-09-17 00:00") - from;
        assert!(off.abs() <= 1.0, "{clock}: {off} s");
        let off = by(clock, "1786-09-17 05:00") - from - 5.0 * 3600.0;
        // The Sun's own hours are a few seconds longer or shorter.
        assert!(off.abs() <= 8.0, "{clock}: {off} s");
    }
}

/// The hour of a planet ends when the figure says it does, and at no other moment.
#[test]
fn an_uncertain_time_changes_its_hour_when_the_figure_does() {
    for (when, until, at) in [
        ("2024-05-14 09:20", "11:20", "42.8806,-8.5449"),
        ("2024-11-03 23:00", "01:30", "58.0,12.0"),
        ("2024-03-20 05:00", "07:00", "-34.0,18.5"),
    ] {
        let request = DuringRequest {
            moment: case(when, at, "+01:00"),
            until: until.to_owned(),
            ..DuringRequest::default()
        };
        let answer = desk::during(&request, &Cabinet::built_in(), None).unwrap();
        let change = answer
            .changes
            .iter()
            .find(|change| change.what == "planetary hour");
        let ends = figure(case(when, at, "+01:00")).hour.unwrap().ends;
        let off = seconds(&change.unwrap().at) - seconds(&ends);
        assert!(off.abs() <= 1.5, "{when}: {off} s");
    }
}

/// What is offered as seen is what the planets' table has as seen, through the air; what
/// is entered as seen is taken so, and neglecting the air is a share of its own.
#[test]
fn an_altitude_is_seen_through_the_air() {
    let (when, at) = ("2024-05-14 05:45", "42.8806,-8.5449");
    let answer = worked("hour-by-sun", case(when, at, "+00:00"));
    let seen = &answer.seen[0];
    let planets = PlanetsRequest {
        when: when.to_owned(),
        at: Some(at.to_owned()),
        clock: Some("+00:00".to_owned()),
        ..PlanetsRequest::default()
    };
    let planets = desk::planets(&planets, None).unwrap();
    let sun = planets.bodies[0].at_place.as_ref().unwrap();
    assert!(
        (seen.deg - sun.seen_altitude_deg).abs() < 1e-4,
        "{}",
        seen.deg
    );
    assert!((seen.deg - seen.raised_deg + seen.lowered_deg - sun.altitude_deg).abs() < 1e-4);
    assert!(seen.raised_deg > 0.1);
    // Calculation takes the air off: it finds the moment's own hour.
    let hour = finding(&answer, "hour");
    let local = answer.moment.local_apparent_time_h * 15.0 - 180.0;
    assert!((hour.exact_deg.unwrap() - local).abs() < 1e-5);
    // A higher Sun in the morning is a later hour: the instrument is ahead by so much.
    let refraction = share(hour, "refraction");
    assert!((0.1..1.0).contains(&refraction), "{refraction}");
    assert!(
        answer
            .notes
            .iter()
            .any(|note| note.contains("the air raises it"))
    );

    let entered = WorkRequest {
        operation: "hour-by-sun".to_owned(),
        moment: case(when, at, "+00:00"),
        seen: BTreeMap::from([("altitude".to_owned(), format!("{:.6}", seen.deg))]),
        ..WorkRequest::default()
    };
    let entered = desk::work(&entered, &Cabinet::built_in(), None).unwrap();
    let exact = finding(&entered, "hour").exact_deg.unwrap();
    assert!((exact - local).abs() < 1e-4, "{exact} {local}");
}

/// The Moon is seen lower from the place than from the Earth's centre, by up to a degree.
#[test]
fn the_moon_is_seen_from_the_place() {
    let (when, at) = ("2024-05-14 18:00", "42.8806,-8.5449");
    let request = WorkRequest {
        operation: "altitude".to_owned(),
        moment: case(when, at, "+00:00"),
        body: Some("Moon".to_owned()),
        ..WorkRequest::default()
    };
    let answer = desk::work(&request, &Cabinet::built_in(), None).unwrap();
    let seen = &answer.seen[0];
    let planets = PlanetsRequest {
        when: when.to_owned(),
        at: Some(at.to_owned()),
        clock: Some("+00:00".to_owned()),
        ..PlanetsRequest::default()
    };
    let planets = desk::planets(&planets, None).unwrap();
    let moon = planets.bodies[1].at_place.as_ref().unwrap();
    // The flattening of the Earth is left out here.
    assert!((seen.deg - moon.seen_altitude_deg).abs() < 0.5 / 60.0);
    assert!(seen.lowered_deg > 0.3);
}

/// In a Julian year the Sun gains 11 minutes on the calendar: born in the first hours of a
/// year one has, 24 years on, the return on the last day of the year before.
#[test]
fn a_return_beside_the_year_asked_for_is_said_to_be() {
    let request = |year| RevolutionRequest {
        moment: case("1273-01-01 03:30", "48.2083,16.3725", "mean"),
        year,
        at: None,
    };
    let revolution = |year| desk::revolution(&request(year), &Cabinet::built_in(), None).unwrap();
    let answer = revolution(1297);
    assert!(answer.cast.moment.when.clock_time.starts_with("1296-12-31"));
    assert_eq!(answer.years, 24);
    let note = answer.note.unwrap();
    for said in [
        "1296-12-31",
        "just before the year 1297",
        "the 24th return",
        "1298-01-01",
    ] {
        assert!(note.contains(said), "{said}: {note}");
    }
    assert_eq!(revolution(1290).note, None);
}
