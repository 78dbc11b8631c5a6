//! Places and nodes against DE422 and DE440 through ERFA: tables written by
//! `reference/apparent_places.py`. The whole comparison, 2000 moments a century, is
//! in `reference/ephemeris_errors.md`.

#![expect(clippy::unwrap_used, reason = "a test may fail by panicking")]

use sky::{Angle, Body, Instant, Sky, Span};

const PLACES: &str = include_str!("../../../reference/apparent_places.csv");
const NODES: &str = include_str!("../../../reference/nodes.csv");

/// The largest found was 0.023″, of the Moon; the table is rounded to 0.0002″.
const PLACE_ARCSEC: f64 = 0.03;
/// Astronomical units in a unit; a place off by 0.03″ may be off as much in depth.
const DISTANCE: f64 = 2e-7;
/// The table is rounded to 0.002″ a day.
const SPEED_ARCSEC: f64 = 0.1;

fn rows(table: &str) -> impl Iterator<Item = Vec<&str>> {
    table
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| line.split(',').collect())
}

fn sky_tt(jd_tt: &str) -> Sky {
    Sky::at(Instant::from_jd_tt(jd_tt.parse().unwrap())).unwrap()
}

#[test]
fn apparent_places() {
    let mut compared = 0;
    for row in rows(PLACES) {
        let sky = sky_tt(row[0]);
        let body = Body::ALL
            .into_iter()
            .find(|body| body.name() == row[1])
            .unwrap();
        let [longitude, latitude, distance, ra, declination, speed] =
            [2, 3, 4, 5, 6, 7].map(|i| row[i].parse::<f64>().unwrap());
        let seen = sky.body(body);
        let at = format!("{body} at {}: {seen:?}", row[0]);
        let off = |found: Angle, given: f64| Angle::from_deg(given).to(found).arcsec().abs();
        assert!(off(seen.longitude, longitude) < PLACE_ARCSEC, "{at}");
        assert!(off(seen.latitude.angle(), latitude) < PLACE_ARCSEC, "{at}");
        assert!(
            off(seen.right_ascension, ra) * seen.declination.cos() < PLACE_ARCSEC,
            "{at}"
        );
        assert!(
            off(seen.declination.angle(), declination) < PLACE_ARCSEC,
            "{at}"
        );
        assert!((seen.distance_au / distance - 1.0).abs() < DISTANCE, "{at}");
        // Behind the Sun's disc the deflection has a kink, which differences smear.
        let sun = sky.sun();
        let from_sun = seen
            .longitude
            .to(sun.longitude)
            .deg()
            .hypot(seen.latitude.deg());
        let hidden = body != Body::Sun && from_sun < 0.27 && distance > sun.distance_au;
        assert!(
            hidden || off(seen.speed, speed) < SPEED_ARCSEC,
            "{at}, not {speed}"
        );
        assert_eq!(seen.is_retrograde(), speed < 0.0, "{at}");
        compared += 1;
    }
    assert_eq!(compared, 1320);
}

/// The pole of the orbit tilts by the error of the place and by that of the velocity
/// over the motion of 0.23 radians a day; the node moves 11 times as far (1 / sin 5°).
#[test]
fn true_node() {
    const NODE_ARCSEC: f64 = 11.0 * (PLACE_ARCSEC + SPEED_ARCSEC / 0.23);
    for row in rows(NODES) {
        let given = Angle::from_deg(row[1].parse().unwrap());
        let off = sky_tt(row[0]).true_node().to(given).arcsec().abs();
        assert!(off < NODE_ARCSEC, "{row:?}: {off}″");
    }
}

/// Where the eras meet, places step by what DE440 and DE422 differ, as JPL's own files
/// do on 1 January 1550.
#[test]
fn the_seam() {
    let either_side =
        [-1e-6, 1e-6].map(|days| Sky::at(Instant::from_tt(Span::SEAM_JD, days)).unwrap());
    for (body, step) in [
        (Body::Sun, -0.023),
        (Body::Moon, -0.248),
        (Body::Mercury, 0.022),
        (Body::Venus, -0.028),
        (Body::Mars, 0.072),
        (Body::Jupiter, -0.002),
        (Body::Saturn, 0.003),
        (Body::Uranus, 1.844),
        (Body::Neptune, 0.362),
        (Body::Pluto, 0.145),
    ] {
        let [before, after] = either_side.each_ref().map(|sky| sky.body(body));
        let moved = after.speed * 2e-6;
        let found = (before.longitude.to(after.longitude) - moved).arcsec();
        assert!((found - step).abs() < 2.0 * PLACE_ARCSEC, "{body}: {found}");
    }
}

/// Speed is the derivative of longitude: central differences over two hours.
#[test]
fn speed_is_the_rate_of_longitude() {
    const STEP_DAYS: f64 = 1.0 / 24.0;
    for jd in [
        1_600_000.25,
        2_000_000.0,
        2_299_999.4,
        2_451_545.0,
        2_600_000.9,
    ] {
        let [before, now, after] =
            [-STEP_DAYS, 0.0, STEP_DAYS].map(|days| Sky::at(Instant::from_tt(jd, days)).unwrap());
        for body in Body::ALL {
            let turned = before.body(body).longitude.to(after.body(body).longitude);
            let rate = turned / (2.0 * STEP_DAYS);
            let off = (now.body(body).speed - rate).arcsec().abs();
            // The Moon's speed bends by some 20″ a day each day squared, a thousandth of that here.
            assert!(off < 0.5, "{body} at {jd}: {off}″");
        }
    }
}
