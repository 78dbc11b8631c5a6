//! Eclipses against the published canon.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use figure::{LunarEclipse, Site, SolarKind, lunar_eclipses, solar_eclipses};
use sky::{Angle, Instant, Latitude};

/// The eclipse of a day, by its Julian day number at noon.
fn lunar(noon: f64) -> LunarEclipse {
    let [from, until] = [noon - 1.0, noon + 1.0].map(Instant::from_jd_ut);
    let found = lunar_eclipses(from, until).unwrap();
    assert_eq!(found.len(), 1);
    found[0]
}

fn minutes((from, until): (Instant, Instant)) -> f64 {
    until.seconds_since(from) / 60.0
}

/// The canon's radii of shadow and discs are its own to some thousandths of a diameter.
const MAGNITUDE: f64 = 0.003;

/// Catalogue of Lunar Eclipses 1601 to 1700, NASA Goddard Space Flight Center; dates
/// Gregorian.
#[test]
fn of_the_moon_as_the_canon_has_them() {
    let (deep, partial) = (2_315_872.0, 2_307_367.0);
    for (noon, umbral) in [
        (deep, 1.0200),        // 1628 July 16
        (2_316_905.0, 1.8771), // 1631 May 15
        (partial, 0.9913),     // 1605 April 3
    ] {
        let found = lunar(noon).umbral_magnitude;
        assert!((found - umbral).abs() < MAGNITUDE, "{noon}: {found}");
    }
    let total = minutes(lunar(deep).total.unwrap());
    assert!((total - (23.0 + 19.0 / 60.0)).abs() < 1.0, "{total}");
    // Just partial: 0.9913 of the diameter.
    assert!(lunar(partial).total.is_none());
    let long = minutes(lunar(2_311_354.0).umbra.unwrap()); // 1616 March 3
    assert!((long - (204.0 + 3.0 / 60.0)).abs() < 1.0, "{long}");
    for (noon, penumbral) in [(2_308_076.0, 1.0778), (2_320_390.0, 0.0234)] {
        // 1607 March 13, 1640 November 28
        let found = lunar(noon);
        assert!(
            (found.penumbral_magnitude - penumbral).abs() < MAGNITUDE,
            "{noon}: {found:?}"
        );
    }
}

/// F. Espenak in the Observer's Handbook 2006 of the Royal Astronomical Society of Canada:
/// 14 March 2006, greatest 23h48m UT, penumbral magnitude 1.0565.
#[test]
fn a_penumbral_one_of_our_time() {
    let found = lunar(2_453_809.5);
    assert!(
        (found.penumbral_magnitude - 1.0565).abs() < 0.001,
        "{found:?}"
    );
    assert!(found.umbra.is_none());
    let midnight = Instant::from_jd_ut(2_453_809.5);
    let before = midnight.seconds_since(found.greatest) / 60.0;
    assert!((before - 12.0).abs() < 1.5, "{before}");
}

/// F. Espenak and J. Meeus, Five Millennium Canon of Solar Eclipses (2006; gammas, kinds
/// and times from memory): the five from October 2023 to 2025.
#[test]
fn of_the_sun_as_the_canon_has_them() {
    let [from, until] = [2_460_229.5, 2_461_041.5].map(Instant::from_jd_ut);
    let found = solar_eclipses(from, until).unwrap();
    let told: Vec<_> = found.iter().map(|one| (one.kind, one.gamma)).collect();
    let expected = [
        (SolarKind::Annular, 0.3753),
        (SolarKind::Total, 0.3431),
        (SolarKind::Annular, -0.3509),
        (SolarKind::Partial, 1.0405),
        (SolarKind::Partial, -1.0651),
    ];
    assert_eq!(told.len(), expected.len(), "{told:?}");
    for ((kind, gamma), (other, published)) in told.iter().zip(expected) {
        assert_eq!(*kind, other);
        assert!((gamma - published).abs() < 0.001, "{gamma}");
    }
}

/// Besselian Elements of Solar Eclipses, NASA Goddard Space Flight Center (F. Espenak), those of
/// the Five Millennium Canon of Solar Eclipses: the Terrestrial Time of greatest eclipse as a
/// Julian date, gamma, kind. Its Moon is that of ELP 2000-82, and of another acceleration: 10
/// thousandths of a radius and a minute in old times, 1 and some seconds in ours.
#[test]
fn of_the_sun_as_published_by_their_elements() {
    for (jd_tt, gamma, kind) in [
        (1_662_846.620, 0.8557, SolarKind::Annular), // −160 August 17
        (1_671_145.113, -0.8381, SolarKind::Annular), // −137 May 7
        (1_727_134.773, 0.0703, SolarKind::Annular), // 16 August 21
        (1_839_617.156, 0.3967, SolarKind::Annular), // 324 August 6
        (1_853_141.777, 0.9936, SolarKind::Annular), // 361 August 17
        (2_457_987.268_521, 0.4367, SolarKind::Total), // 2017 August 21
    ] {
        // Terrestrial Time is hours ahead in old times.
        let [from, until] = [-1.5, 1.5].map(|days| Instant::from_jd_ut(jd_tt + days));
        let found = solar_eclipses(from, until).unwrap();
        assert_eq!(found.len(), 1, "{jd_tt}");
        let one = found[0];
        let is_ours = jd_tt > 2_400_000.0;
        let (most, most_s) = if is_ours { (0.001, 10.0) } else { (0.01, 60.0) };
        assert!((one.gamma - gamma).abs() < most, "{jd_tt}: {}", one.gamma);
        let apart_s = (one.greatest.jd_tt() - jd_tt) * 86_400.0;
        assert!(apart_s.abs() < most_s, "{jd_tt}: {apart_s} s");
        assert_eq!(one.kind, kind, "{jd_tt}");
    }
}

/// The 2024 April 8 eclipse at Dallas, total from 18:40:43 to 18:44:35 UT (common
/// knowledge of that day, from memory): its middle there, and the Moon larger than the Sun.
#[test]
fn totality_is_where_it_was_seen() {
    let [from, until] = [2_460_408.5, 2_460_410.5].map(Instant::from_jd_ut);
    let eclipse = solar_eclipses(from, until).unwrap()[0];
    let at = |latitude, longitude| {
        let site = Site {
            latitude: Latitude::from_deg(latitude).unwrap(),
            longitude: Angle::from_deg(longitude),
        };
        eclipse.at(site).unwrap()
    };
    let dallas = at(32.78, -96.80).unwrap();
    assert!(dallas.magnitude > 1.0, "{dallas:?}");
    let middle = Instant::from_jd_ut(2_460_408.5 + (18.0 + 42.65 / 60.0) / 24.0);
    assert!(
        dallas.greatest.seconds_since(middle).abs() < 30.0,
        "{dallas:?}"
    );
    assert!(dallas.altitude > Angle::from_deg(60.0));
    // At Cape Town the Moon passed by.
    assert!(at(-33.9, 18.4).is_none());
}
