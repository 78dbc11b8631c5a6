//! Sunrise, unequal hours, and the planets of the hours.

mod common;

use figure::{
    Method, Planet, PlanetaryHour, Sect, Site, SolarDay, Sunrise, ruler_of_day, ruler_of_hour,
};
use proptest::prelude::*;
use sky::{Angle, Instant, Latitude, Phase, Sky, last_syzygy_before};

fn site(latitude_deg: f64, longitude_deg: f64) -> Site {
    Site {
        latitude: Latitude::from_deg(latitude_deg).expect("a latitude"),
        longitude: Angle::from_deg(longitude_deg),
    }
}

fn day(jd_ut: f64, site: Site, sunrise: Sunrise) -> SolarDay {
    let sky = Sky::at(Instant::from_jd_ut(jd_ut)).expect("in the span");
    SolarDay::at(&sky, site, sunrise)
        .expect("in the span")
        .expect("the Sun rises")
}

/// Skyfield's own reduction of DE421, by `reference/sunrise_skyfield.py`; its
/// ephemeris and ours part by hundredths of a second of arc, a hundredth of a
/// second of time, and its printed dates are to a thousandth.
#[test]
fn sunrise_agrees_with_skyfield() {
    const TOLERANCE_S: f64 = 0.02;
    /// Where the Sun comes down at a slant of a few degrees.
    const NEAR_THE_CIRCLE_S: f64 = 0.3;
    let table = include_str!("data/sunrise_skyfield.csv");
    let mut compared = 0;
    for row in table.lines().skip(2) {
        let fields: Vec<f64> = row
            .split(',')
            .map(|field| field.parse().expect(row))
            .collect();
        let [latitude, longitude, altitude, rise, set] = fields[..] else {
            panic!("{row}")
        };
        let sunrise = if altitude < -0.5 {
            Sunrise::UpperLimb
        } else {
            Sunrise::Centre
        };
        let place = site(latitude, longitude);
        let tolerance = if latitude > 60.0 {
            NEAR_THE_CIRCLE_S
        } else {
            TOLERANCE_S
        };
        // Asked at noon, in the morning and in the evening.
        for part in [0.5, 0.02, 0.98] {
            let found = day(rise + (set - rise) * part, place, sunrise);
            assert_eq!(found.sect, Sect::Day, "{row}");
            for (found, expected) in [(found.begins, rise), (found.ends, set)] {
                let off = (found.jd_ut() - expected) * 86_400.0;
                assert!(off.abs() < tolerance, "{row}: off by {off} s");
            }
            compared += 1;
        }
        // In the night after it, the day's sunset begins the night.
        let night = day(set + 0.02, place, sunrise);
        let off = (night.begins.jd_ut() - set) * 86_400.0;
        assert!(
            night.sect == Sect::Night && off.abs() < tolerance,
            "{row}: off by {off} s"
        );
    }
    assert!(compared > 150, "{compared}");
}

/// Chaucer II.12: on a Saturday the hours of the day are Saturn, Jupiter, Mars, the
/// Sun, Venus, Mercury, the Moon, and again; the first of the night is Mercury's,
/// and Sunday begins with the Sun.
#[test]
fn chaucers_hours_of_a_saturday() {
    use Planet::{Jupiter, Mars, Mercury, Moon, Saturn, Sun, Venus};
    let by_day = [
        Saturn, Jupiter, Mars, Sun, Venus, Mercury, Moon, Saturn, Jupiter, Mars, Sun, Venus,
    ];
    for (number, planet) in (1..).zip(by_day) {
        assert_eq!(
            ruler_of_hour(Saturn, Sect::Day, number),
            planet,
            "hour {number}"
        );
    }
    assert_eq!(ruler_of_hour(Saturn, Sect::Night, 1), Mercury);
    assert_eq!(ruler_of_hour(Saturn, Sect::Night, 12).down(1), Sun);
}

/// 20 July 1969 was a Sunday, 13 March 1391 (Julian) a Monday, whatever Chaucer
/// says "per aventure" (calendars, common knowledge; JD by Meeus, Astronomical
/// Algorithms, chapter 7).
#[test]
fn days_of_the_week_have_their_planets() {
    assert_eq!(
        ruler_of_day(Instant::from_jd_ut(2_440_423.0), 0.0),
        Planet::Sun
    );
    assert_eq!(
        ruler_of_day(Instant::from_jd_ut(2_229_192.0), 0.0),
        Planet::Moon
    );
    // Midday in Samoa, 12 h ahead of Greenwich's evening before.
    assert_eq!(
        ruler_of_day(Instant::from_jd_ut(2_440_423.5), 46_800.0),
        Planet::Moon
    );
}

/// Sunrise at Plymouth, latitude 51°, on 8 June 1596 (Julian), with the Sun in
/// 27°58′ Gemini: J. Blagrave, Astrolabium Uranicum Generale (1596), cap. 17, has it
/// "4 and somewhat lesse" with the day 16h20m long. He works with an ascensional
/// difference 1°17′ too small, five minutes of time either end.
#[test]
fn blagraves_sunrise_at_plymouth() {
    let found = day(2_304_156.0, site(51.0, -4.14), Sunrise::Centre);
    let long_h = found.ends.seconds_since(found.begins) / 3600.0;
    assert!(
        (long_h - (16.0 + 20.0 / 60.0)).abs() < 11.0 / 60.0,
        "{long_h}"
    );
}

proptest! {
    /// The day that is found holds the moment, and its hours follow one another.
    #[test]
    fn the_hour_holds_the_moment(
        jd in 1_600_000.0..2_680_000.0,
        latitude in -65.0..65.0,
        longitude in -180.0..180.0,
    ) {
        let place = site(latitude, longitude);
        let instant = Instant::from_jd_ut(jd);
        let day = day(jd, place, Sunrise::Centre);
        let ahead = longitude * 240.0;
        let hour = PlanetaryHour::at(&day, instant, ahead);
        let (into, left) = (instant.seconds_since(hour.begins), hour.ends.seconds_since(instant));
        prop_assert!(into > -0.01 && left > -0.01, "{into} {left}");
        // Two unequal hours before and after make two equal ones, nearly.
        prop_assert!((600.0..6600.0).contains(&(into + left)));
        // The next hour's planet is one further down the spheres.
        let next = Sky::at(hour.ends.plus_seconds(1.0)).expect("in the span");
        let next_day = SolarDay::at(&next, place, Sunrise::Centre).expect("in the span").expect("rises");
        let next_hour = PlanetaryHour::at(&next_day, next.instant(), ahead);
        prop_assert_eq!(next_hour.ruler, hour.ruler.down(1));
    }

    /// The hour by the degree that rises is the hour by the Sun's own rising, but for
    /// what the Sun moves meanwhile: a degree at most, four minutes of time.
    #[test]
    fn the_ascendant_tells_the_hour(
        jd in 2_000_000.0..2_600_000.0,
        latitude in -50.0..50.0,
    ) {
        let place = site(latitude, 0.0);
        let sky = Sky::at(Instant::from_jd_ut(jd)).expect("in the span");
        let horizon = place.horizon(&sky);
        let ascendant = horizon.ascendant().expect("between the circles");
        let day = SolarDay::at(&sky, place, Sunrise::Centre).expect("in the span").expect("rises");
        let (sect, passed) = horizon
            .unequal_hours_by_ascendant(ascendant, sky.sun().longitude)
            .expect("rises");
        let long_s = day.unequal_hour_s();
        let exact = sky.instant().seconds_since(day.begins) / long_s;
        let difference = (passed - exact).abs();
        // By night at the seam the one says 12 of the day, the other 0 of the night.
        if sect == day.sect {
            prop_assert!(difference < 300.0 / long_s, "{passed} {exact}");
        }
    }

    /// The lunation before is the one the search of every phase finds.
    #[test]
    fn the_lunation_is_the_last_syzygy(jd in 1_502_000.0..2_688_000.0) {
        let sky = Sky::at(Instant::from_jd_ut(jd)).expect("in the span");
        let found = figure::Lunation::before(&sky).expect("in the span");
        let searched = last_syzygy_before(sky.instant()).expect("in the span");
        prop_assert_eq!(found.phase, searched.phase);
        let apart = found.instant.seconds_since(searched.instant).abs();
        prop_assert!(apart < 0.1, "{apart} s");
        prop_assert!(matches!(found.phase, Phase::New | Phase::Full));
    }
}

#[test]
fn a_sun_that_does_not_rise_is_an_answer() {
    let sky = Sky::at(Instant::from_jd_ut(2_460_483.0)).expect("in the span");
    let none = SolarDay::at(&sky, site(78.0, 15.0), Sunrise::Centre).expect("in the span");
    let message = none.expect_err("midsummer").to_string();
    assert!(
        message.starts_with("sunrise has no answer at latitude 78° north"),
        "{message}"
    );
    let choices = figure::Choices {
        method: Method::Alcabitius,
        ..Default::default()
    };
    let figure =
        figure::Figure::cast(&sky, site(78.0, 15.0), 3600.0, &choices).expect("in the span");
    assert!(figure.hour.is_err() && figure.cusps.is_ok() && figure.sect == Sect::Day);
}

/// Near the days on which the Sun neither rises nor sets its crossing of an hour later may
/// not be there any more; where there is one now, it is where the Sun stands on the horizon.
#[test]
fn the_last_sunsets_before_the_midnight_sun_are_sunsets() {
    let mut rises = 0;
    // 8 June and 3 December 2024.
    for jd_ut in [2_460_469.5, 2_460_647.5] {
        let sky = Sky::at(Instant::from_jd_ut(jd_ut)).expect("in the span");
        let declination = sky.sun().declination.angle().abs().deg();
        for step in -200..200 {
            let place = site(90.0 - declination + f64::from(step) * 1e-3, 15.0);
            let Ok(day) = SolarDay::at(&sky, place, Sunrise::Centre).expect("in the span") else {
                continue;
            };
            rises += 1;
            for at in [day.begins, day.ends] {
                let sky = Sky::at(at).expect("in the span");
                let sun = sky.sun();
                let horizon = place.horizon(&sky);
                let altitude = horizon
                    .position(sun.right_ascension, sun.declination)
                    .altitude;
                assert!(altitude.abs().arcsec() < 0.1, "{place:?}: {altitude}");
            }
        }
    }
    assert!((100..700).contains(&rises), "{rises}");
}
