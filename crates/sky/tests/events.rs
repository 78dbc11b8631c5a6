//! Events against published almanacs and eclipse elements.

use proptest::prelude::*;
use sky::{
    Angle, Body, Instant, MoonPhase, Phase, Sky, Span, ingresses, last_syzygy_before, moon_phases,
    next_passage, passages, stations,
};

const SECONDS_PER_DAY: f64 = 86_400.0;
const YEAR_DAYS: f64 = 366.0;

/// Julian date of noon less a half, for Gregorian dates (Fliegel and Van Flandern 1968).
fn jd(year: i32, month: i32, day: i32, hour: f64, minute: f64) -> f64 {
    let a = (month - 14) / 12;
    let number = day - 32_075 + 1461 * (year + 4800 + a) / 4 + 367 * (month - 2 - a * 12) / 12
        - 3 * ((year + 4900 + a) / 100) / 4;
    f64::from(number) - 0.5 + (hour + minute / 60.0) / 24.0
}

fn year(year: i32) -> [Instant; 2] {
    let begin = jd(year, 1, 1, 0.0, 0.0);
    [begin, begin + YEAR_DAYS].map(Instant::from_jd_ut)
}

#[track_caller]
fn check_minute(found: Instant, published_ut: f64) {
    // Printed to the minute.
    const MINUTES: f64 = 0.6;
    let off = (found.jd_ut() - published_ut) * 1440.0;
    assert!(
        off.abs() < MINUTES,
        "{} is off by {off} minutes",
        found.jd_ut()
    );
}

/// Equinoxes and solstices: 1994 from the Time Almanac, the others from the tables of
/// the U.S. Naval Observatory, in UT.
#[test]
fn seasons() {
    for (y, seasons) in [
        (
            1994,
            [
                (3, 20, 20.0, 28.0),
                (6, 21, 14.0, 48.0),
                (9, 23, 6.0, 19.0),
                (12, 22, 2.0, 23.0),
            ],
        ),
        (
            2001,
            [
                (3, 20, 13.0, 31.0),
                (6, 21, 7.0, 38.0),
                (9, 22, 23.0, 5.0),
                (12, 21, 19.0, 22.0),
            ],
        ),
        (
            2004,
            [
                (3, 20, 6.0, 49.0),
                (6, 21, 0.0, 57.0),
                (9, 22, 16.0, 30.0),
                (12, 21, 12.0, 42.0),
            ],
        ),
    ] {
        let [from, until] = year(y);
        for (quarter, (month, day, hour, minute)) in seasons.into_iter().enumerate() {
            let longitude = quarter as f64 * Angle::QUARTER_TURN;
            let found = passages(Body::Sun, longitude, from, until)
                .unwrap()
                .next()
                .unwrap();
            check_minute(found.unwrap(), jd(y, month, day, hour, minute));
        }
    }
}

/// New Moons and first quarters of early 1994, Time Almanac, in UT.
#[test]
fn phases_of_1994() {
    let [from, until] = year(1994);
    let found: Vec<MoonPhase> = moon_phases(from, until)
        .unwrap()
        .map(Result::unwrap)
        .collect();
    let of = |phase| found.iter().filter(move |event| event.phase == phase);
    for (phase, published) in [
        (
            Phase::New,
            [
                (1, 11, 23.0, 10.0),
                (2, 10, 14.0, 30.0),
                (3, 12, 7.0, 5.0),
                (4, 11, 0.0, 17.0),
            ],
        ),
        (
            Phase::FirstQuarter,
            [
                (1, 19, 20.0, 27.0),
                (2, 18, 17.0, 47.0),
                (3, 20, 12.0, 14.0),
                (4, 19, 2.0, 34.0),
            ],
        ),
    ] {
        for (event, (month, day, hour, minute)) in of(phase).zip(published) {
            check_minute(event.instant, jd(1994, month, day, hour, minute));
        }
    }
    // They come in turn.
    let turn = [
        Phase::New,
        Phase::FirstQuarter,
        Phase::Full,
        Phase::LastQuarter,
    ];
    let start = turn
        .iter()
        .position(|phase| *phase == found[0].phase)
        .unwrap();
    for (i, event) in found.iter().enumerate() {
        assert_eq!(event.phase, turn[(start + i) % 4]);
    }
    assert!((49..=50).contains(&found.len()), "{}", found.len());
}

/// Meeus, Astronomical Algorithms, examples 49.a and 49.b, in TD.
#[test]
fn phases_of_the_book() {
    // The book's method is good to some seconds.
    const SECONDS: f64 = 20.0;
    for (jde, phase) in [
        (2_443_192.651_18, Phase::New),
        (2_467_636.491_86, Phase::LastQuarter),
    ] {
        let [from, until] = [jde - 2.0, jde + 2.0].map(Instant::from_jd_tt);
        let found = moon_phases(from, until).unwrap().next().unwrap().unwrap();
        assert_eq!(found.phase, phase);
        let off = (found.instant.jd_tt() - jde) * SECONDS_PER_DAY;
        assert!(off.abs() < SECONDS, "{phase:?}: {off} s");
    }
}

/// Places of the Sun and the Moon at greatest eclipse, and the instant of conjunction in
/// right ascension: F. Espenak's elements of the solar eclipses of 1999 August 11, 2002
/// December 4 and 2006 March 29 (NASA; DE200). DE200's Moon is 0.3″ from DE440's.
#[test]
fn solar_eclipses() {
    const DE200_ARCSEC: f64 = 0.5;
    let hms = |h: f64, m: f64, s: f64| Angle::from_hours(h + m / 60.0 + s / 3600.0);
    let dms = |d: f64, m: f64, s: f64| Angle::from_deg(d + m / 60.0 + s / 3600.0);
    for (greatest_tt, conjunction_tt, sun, moon) in [
        (
            jd(1999, 8, 11, 11.0, 4.0 + 9.01 / 60.0),
            jd(1999, 8, 11, 10.0, 52.0 + 16.66 / 60.0),
            (hms(9.0, 23.0, 8.297), dms(15.0, 19.0, 39.72)),
            (hms(9.0, 23.0, 34.531), dms(15.0, 48.0, 38.51)),
        ),
        (
            jd(2002, 12, 4, 7.0, 32.0 + 15.65 / 60.0),
            jd(2002, 12, 4, 7.0, 39.0 + 48.73 / 60.0),
            (hms(16.0, 41.0, 50.939), -dms(22.0, 13.0, 29.20)),
            (hms(16.0, 41.0, 32.881), -dms(22.0, 31.0, 5.17)),
        ),
        (
            jd(2006, 3, 29, 10.0, 12.0 + 22.57 / 60.0),
            jd(2006, 3, 29, 10.0, 34.0 + 22.25 / 60.0),
            (hms(0.0, 31.0, 31.738), dms(3.0, 24.0, 10.34)),
            (hms(0.0, 30.0, 46.588), dms(3.0, 44.0, 36.25)),
        ),
    ] {
        let sky = Sky::at(Instant::from_jd_tt(greatest_tt)).unwrap();
        for (body, (ra, declination)) in [(Body::Sun, sun), (Body::Moon, moon)] {
            let seen = sky.body(body);
            let off = (ra.to(seen.right_ascension) * declination.cos()).arcsec();
            assert!(
                off.abs() < DE200_ARCSEC,
                "{body} {greatest_tt}: {off}″ in right ascension"
            );
            let off = declination.to(seen.declination.angle()).arcsec();
            assert!(
                off.abs() < DE200_ARCSEC,
                "{body} {greatest_tt}: {off}″ in declination"
            );
        }
        let sky = Sky::at(Instant::from_jd_tt(conjunction_tt)).unwrap();
        let apart = sky
            .sun()
            .right_ascension
            .to(sky.body(Body::Moon).right_ascension);
        assert!(
            apart.arcsec().abs() < DE200_ARCSEC,
            "{conjunction_tt}: {}″",
            apart.arcsec()
        );
        // And the new Moon is there, with the Moon near the ecliptic.
        let month = [-1.0, 1.0].map(|days| Instant::from_tt(greatest_tt, days));
        let new = moon_phases(month[0], month[1])
            .unwrap()
            .next()
            .unwrap()
            .unwrap();
        assert_eq!(new.phase, Phase::New);
        let moon = Sky::at(new.instant).unwrap().body(Body::Moon);
        assert!(moon.latitude.deg().abs() < 1.6, "{moon:?}");
    }
}

#[test]
fn the_sun_enters_each_sign_once_a_year() {
    let from = Instant::from_jd_tt(2_451_544.5);
    let found: Vec<_> = ingresses(Body::Sun, from, from.plus_seconds(365.0 * SECONDS_PER_DAY))
        .unwrap()
        .map(Result::unwrap)
        .collect();
    assert_eq!(found.len(), 12);
    for (i, ingress) in found.iter().enumerate() {
        let border = Angle::from_deg(300.0 + 30.0 * i as f64).in_turn();
        assert!(
            (ingress.border - border).abs() < Angle::from_arcsec(1e-3),
            "{ingress:?}"
        );
        assert!(!ingress.retrograde);
    }
}

/// Mercury's retrograde arcs: three a year or four, 20 to 25 days each (common practice).
#[test]
fn stations_of_mercury() {
    let from = Instant::from_jd_tt(2_451_544.5);
    let found: Vec<_> = stations(
        Body::Mercury,
        from,
        from.plus_seconds(3650.0 * SECONDS_PER_DAY),
    )
    .unwrap()
    .map(Result::unwrap)
    .collect();
    assert!((62..=64).contains(&found.len()), "{}", found.len());
    for pair in found.windows(2) {
        assert_ne!(pair[0].turns_retrograde, pair[1].turns_retrograde);
        if pair[0].turns_retrograde {
            let days = pair[1].instant.seconds_since(pair[0].instant) / SECONDS_PER_DAY;
            assert!((19.0..26.0).contains(&days), "{days}");
        }
    }
    for station in found {
        let seen = Sky::at(station.instant).unwrap().body(Body::Mercury);
        assert!(seen.speed.arcsec().abs() < 0.01, "{seen:?}");
    }
    for body in [Body::Sun, Body::Moon] {
        let until = from.plus_seconds(1000.0 * SECONDS_PER_DAY);
        assert_eq!(stations(body, from, until).unwrap().count(), 0);
    }
}

/// Against JPL's ephemerides through ERFA: `reference/stations.py`. An error of 0.001″
/// a day in speed moves a station by a second for Mercury, by a minute for Pluto.
#[test]
fn stations_of_jpl() {
    const MINUTES: f64 = 1.0;
    let table = include_str!("../../../reference/stations.csv");
    for row in table.lines().skip(3) {
        let row: Vec<&str> = row.split(',').collect();
        let body = Body::ALL
            .into_iter()
            .find(|body| body.name() == row[0])
            .unwrap();
        let given: f64 = row[1].parse().unwrap();
        let [from, until] = [given - 5.0, given + 5.0].map(Instant::from_jd_tt);
        let found = stations(body, from, until)
            .unwrap()
            .next()
            .unwrap()
            .unwrap();
        let off = (found.instant.jd_tt() - given) * 1440.0;
        assert!(off.abs() < MINUTES, "{row:?}: {off} minutes");
        assert_eq!(found.turns_retrograde, row[2] == "retrograde");
    }
}

/// In each revolution a planet passes its every longitude an odd number of times.
#[test]
fn passages_around_a_loop() {
    let [from, until] = [2_451_544.5, 2_451_544.5 + 12.0 * 365.25].map(Instant::from_jd_tt);
    let loops: Vec<_> = stations(Body::Jupiter, from, until)
        .unwrap()
        .map(Result::unwrap)
        .collect();
    for pair in loops.windows(2).filter(|pair| pair[0].turns_retrograde) {
        let middle = pair[0]
            .instant
            .plus_seconds(pair[1].instant.seconds_since(pair[0].instant) / 2.0);
        let longitude = Sky::at(middle).unwrap().body(Body::Jupiter).longitude;
        let begin = middle.plus_seconds(-200.0 * SECONDS_PER_DAY);
        let end = middle.plus_seconds(200.0 * SECONDS_PER_DAY);
        let found: Vec<_> = passages(Body::Jupiter, longitude, begin, end)
            .unwrap()
            .map(Result::unwrap)
            .collect();
        assert_eq!(found.len(), 3, "{longitude}");
        assert!(found[1].seconds_since(middle).abs() < 0.01);
    }
}

#[test]
fn beyond_the_span_is_refused() {
    let late = Instant::from_jd_tt(Span::LAST_JD - 5.0);
    assert!(next_passage(Body::Saturn, Angle::ZERO, late).is_err());
    assert!(last_syzygy_before(Instant::from_jd_tt(Span::FIRST_JD + 5.0)).is_err());
    assert!(moon_phases(late, Instant::from_jd_tt(f64::NAN)).is_err());
    assert!(
        moon_phases(late, late.plus_seconds(-1.0))
            .unwrap()
            .next()
            .is_none()
    );
}

proptest! {
    #[test]
    fn a_passage_is_where_it_says(
        jd in Span::FIRST_JD..Span::LAST_JD - 1000.0,
        longitude in 0.0..360.0,
        body in prop::sample::select(&[Body::Sun, Body::Moon, Body::Mercury, Body::Venus, Body::Mars][..]),
    ) {
        let longitude = Angle::from_deg(longitude);
        let from = Instant::from_jd_tt(jd);
        let found = next_passage(body, longitude, from).unwrap();
        prop_assert!(found.seconds_since(from) > -1e-3);
        let seen = Sky::at(found).unwrap().body(body);
        // A millisecond of the Moon's motion is 0.0005″.
        prop_assert!(longitude.to(seen.longitude).arcsec().abs() < 0.002, "{seen:?}");
    }

    #[test]
    fn the_last_syzygy_is_the_last(jd in Span::FIRST_JD + 20.0..Span::LAST_JD) {
        let moment = Instant::from_jd_tt(jd);
        let last = last_syzygy_before(moment).unwrap();
        let since = moment.seconds_since(last.instant) / SECONDS_PER_DAY;
        prop_assert!(since > -1e-7 && since < 15.7, "{since}");
        let between = moon_phases(last.instant.plus_seconds(1.0), moment).unwrap();
        for event in between {
            let phase = event.unwrap().phase;
            prop_assert!(matches!(phase, Phase::FirstQuarter | Phase::LastQuarter));
        }
    }
}
