//! First and last appearances of the planets against Ptolemy.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use figure::{AppearanceKind, Planet, Site, appearances, arcus_visionis_deg};
use sky::{Angle, Body, Instant, Latitude, Sky};

/// The middle of Phoenicia, for which Ptolemy reckons: a longest day of 14¼ hours.
fn phoenicia() -> Site {
    Site {
        latitude: Latitude::from_deg(33.3).unwrap(),
        longitude: Angle::from_deg(35.2),
    }
}

/// Ptolemy, Almagest XIII.8 (ed. Heiberg, vol. II, 1903, p. 597): from her last evening to her first morning Venus is
/// lost for about two days at the beginning of Pisces, and for about sixteen at the beginning of
/// Virgo. She passed the Sun there in the second and in the third century.
#[test]
fn venus_is_lost_for_two_days_in_pisces_and_sixteen_in_virgo() {
    for (from, sign_deg, lost, within) in [
        (1_764_900.5, 330.0, 2.0, 1.7),
        (1_806_600.5, 150.0, 16.0, 3.0),
    ] {
        let [from, until] = [from, from + 6.0 * 1461.0].map(Instant::from_jd_ut);
        let found = appearances(Planet::Venus, phoenicia(), from, until).unwrap();
        let mut tried = 0;
        for pair in found.windows(2) {
            let [last, first] = [pair[0], pair[1]];
            let lost_from = last.kind == AppearanceKind::EveningLast;
            if !lost_from || first.kind != AppearanceKind::MorningFirst {
                continue;
            }
            let at = Sky::at(last.instant).unwrap().body(Body::Venus).longitude;
            if Angle::from_deg(sign_deg).to(at).abs().deg() < 6.0 {
                let days = first.instant.seconds_since(last.instant) / 86_400.0;
                assert!((days - lost).abs() < within, "{sign_deg}: {days}");
                tried += 1;
            }
        }
        assert!(tried >= 2, "{sign_deg}: {tried}");
    }
}

/// Every first is followed by its last before the next first, and the outer planets have
/// neither a last morning nor a first evening near the Sun.
#[test]
fn appearances_follow_each_other() {
    let [from, until] = [2_461_041.5, 2_461_041.5 + 1461.0].map(Instant::from_jd_ut);
    for planet in Planet::ALL {
        let found = appearances(planet, phoenicia(), from, until).unwrap();
        assert_eq!(arcus_visionis_deg(planet).is_none(), found.is_empty());
        let is_outer = [Planet::Mars, Planet::Jupiter, Planet::Saturn].contains(&planet);
        let of = |one: AppearanceKind, other: AppearanceKind| {
            let kinds = found.iter().map(|found| found.kind);
            kinds
                .filter(|kind| *kind == one || *kind == other)
                .collect::<Vec<_>>()
        };
        if is_outer {
            let all = of(AppearanceKind::MorningLast, AppearanceKind::EveningFirst);
            assert!(all.is_empty(), "{planet:?}");
            let all = of(AppearanceKind::MorningFirst, AppearanceKind::EveningLast);
            assert!(all.windows(2).all(|pair| pair[0] != pair[1]), "{planet:?}");
        } else {
            for (first, last) in [
                (AppearanceKind::MorningFirst, AppearanceKind::MorningLast),
                (AppearanceKind::EveningFirst, AppearanceKind::EveningLast),
            ] {
                let all = of(first, last);
                assert!(all.windows(2).all(|pair| pair[0] != pair[1]), "{planet:?}");
            }
        }
    }
}
