//! Worked examples from printed books, each to the accuracy it was printed with.

#![cfg(not(feature = "test-shift-ascendant"))]

mod common;

use common::Sign::*;
use common::{Sign, assert_near, horizon, longitude};
use figure::{Horizon, House, Method};
use sky::{Angle, Latitude};

const ARCMIN: Angle = Angle::from_arcmin(1.0);

/// Oxford as Chaucer takes it (Treatise on the Astrolabe, ed. Skeat 1894,
/// II.22), and the true obliquity of his year 1391.
fn chaucers_oxford(sidereal_time: Angle) -> Horizon {
    Horizon {
        sidereal_time,
        ..horizon(0.0, 23.5208, 51.0 + 50.0 / 60.0)
    }
}

/// The sidereal time when the Sun at a longitude is at an hour angle.
fn sun_at(sun: Angle, hour_angle: Angle) -> Horizon {
    let at_rest = chaucers_oxford(Angle::ZERO);
    chaucers_oxford(at_rest.right_ascension(sun) + hour_angle)
}

/// "The 20th degree" is the one from 19° to 20°.
#[track_caller]
fn assert_in_degree(got: Angle, sign: Sign, ordinal: u16) {
    let middle = longitude(sign, ordinal - 1, 30);
    assert_near(got, middle, Angle::from_deg(0.5), "ordinal degree");
}

/// Chaucer II.3, by day: at nine of the clock with the Sun in the first degree
/// of Aries the 20th degree of Gemini ascends.
#[test]
fn chaucer_finds_the_ascendant_by_the_sun() {
    let nine_o_clock = sun_at(longitude(Aries, 1, 0), Angle::from_hours(-3.0));
    assert_in_degree(nine_o_clock.ascendant().unwrap(), Gemini, 20);
}

/// Chaucer II.3, by night: Alhabor (Sirius) 18° high in the west, two degrees
/// of the limb past eight of the clock, the 23rd degree of Libra ascends.
#[test]
fn chaucer_finds_the_ascendant_by_a_star() {
    // Sirius in 1391, by its proper motion and the IAU precession.
    let right_ascension = Angle::from_deg(94.577);
    let declination = Latitude::from_deg(-16.039).unwrap();
    let latitude = chaucers_oxford(Angle::ZERO).latitude;
    let cos_hour = (Angle::from_deg(18.0).sin() - latitude.sin() * declination.sin())
        / (latitude.cos() * declination.cos());
    let night = chaucers_oxford(right_ascension + Angle::acos(cos_hour));
    let sirius = night.position(right_ascension, declination);
    assert_near(sirius.altitude, Angle::from_deg(18.0), ARCMIN, "altitude");
    assert_in_degree(night.ascendant().unwrap(), Libra, 23);

    // The Sun stood in the first degree of Aries; the limb is divided in degrees.
    let sun = longitude(Aries, 0, 30);
    let after_noon = night.hour_angle(night.right_ascension(sun));
    assert_near(
        after_noon,
        Angle::from_deg(122.0),
        Angle::from_deg(1.0),
        "hour",
    );
}

/// Skeat's note on Chaucer II.17 (1894): Arcturus stands equally high while
/// 4° Sagittarius and 2° Aquarius ascend; their oblique ascensions are 272°
/// and 332°, the mean 302°, so that its right ascension is 212°; with that
/// 29° Sagittarius ascends, and the 5th degree of Scorpio culminates. He
/// worked in whole degrees.
#[test]
fn skeat_corrects_the_star_by_equal_altitudes() {
    let oxford = chaucers_oxford(Angle::ZERO);
    let degree = Angle::from_deg(1.0);
    for (rising, printed) in [
        (longitude(Sagittarius, 4, 0), 272.0),
        (longitude(Aquarius, 2, 0), 332.0),
    ] {
        let found = oxford.oblique_ascension(rising).unwrap();
        assert_near(found, Angle::from_deg(printed), degree, "oblique ascension");
    }
    let culminating = chaucers_oxford(Angle::from_deg(212.0));
    let ascendant = culminating.ascendant().unwrap();
    assert_near(
        ascendant,
        longitude(Sagittarius, 29, 0),
        degree,
        "ascendant",
    );
    assert_in_degree(culminating.midheaven(), Scorpio, 5);
}

/// Chaucer II.28: the signs from Capricorn to Gemini rise each in less than
/// two hours at Oxford, those from Cancer to Sagittarius in more. The amounts
/// are worked from the definition for his latitude and obliquity, to 0.01°.
#[test]
fn chaucers_signs_rise_slowly_and_fast() {
    let ascensions = chaucers_oxford(Angle::ZERO)
        .oblique_ascensions_of_signs()
        .unwrap();
    let two_hours = Angle::from_hours(2.0);
    for sign in [Capricorn, Aquarius, Pisces, Aries, Taurus, Gemini] {
        assert!(ascensions[sign as usize] < two_hours, "{sign:?}");
    }
    for sign in [Cancer, Leo, Virgo, Libra, Scorpio, Sagittarius] {
        assert!(ascensions[sign as usize] > two_hours, "{sign:?}");
    }
    let worked = [12.88, 16.98, 26.52, 37.88, 42.83, 42.91];
    for (from_aries, deg) in worked.into_iter().enumerate() {
        for sign in [from_aries, 11 - from_aries] {
            let deg = Angle::from_deg(deg);
            assert_near(ascensions[sign], deg, Angle::from_deg(0.011), sign);
        }
    }
}

/// Chaucer II.27, the signs at the right circle; amounts as above.
#[test]
fn chaucers_signs_cross_the_meridian() {
    let ascensions = chaucers_oxford(Angle::ZERO).right_ascensions_of_signs();
    for (sign, deg) in [
        (Aries, 27.90),
        (Taurus, 29.91),
        (Gemini, 32.20),
        (Cancer, 32.20),
        (Leo, 29.91),
        (Virgo, 27.90),
    ] {
        for half in [0, 6] {
            let found = ascensions[sign as usize + half];
            assert_near(
                found,
                Angle::from_deg(deg),
                Angle::from_deg(0.011),
                sign as u8,
            );
        }
    }
}

/// Ptolemy, Almagest I.16 and II.8 (tr. Toomer 1984; from memory): right
/// ascensions of the signs, and oblique ones for Rhodes, 36°, with the
/// obliquity 23°51′20″; printed to the minute.
#[test]
fn ptolemys_tables_of_ascensions() {
    let rhodes = horizon(0.0, 23.0 + 51.0 / 60.0 + 20.0 / 3600.0, 36.0);
    let right = rhodes.right_ascensions_of_signs();
    let oblique = rhodes.oblique_ascensions_of_signs().unwrap();
    for (sign, at_meridian, at_horizon) in [
        (Aries, (27, 50), (19, 12)),
        (Taurus, (29, 54), (22, 46)),
        (Gemini, (32, 16), (29, 17)),
    ] {
        let printed = |(deg, arcmin)| longitude(Aries, deg, arcmin);
        // A minute of his rounding at either end.
        let tolerance = ARCMIN * 2.0;
        assert_near(
            right[sign as usize],
            printed(at_meridian),
            tolerance,
            sign as u8,
        );
        assert_near(
            oblique[sign as usize],
            printed(at_horizon),
            tolerance,
            sign as u8,
        );
    }
}

/// Chaucer II.36 and II.37 by number: nine of the clock, the Sun in 1° Aries.
/// He prints no cusps; these are his rules carried out in longhand, to the minute.
#[test]
fn chaucers_houses_at_nine_o_clock() {
    let nine_o_clock = sun_at(longitude(Aries, 1, 0), Angle::from_hours(-3.0));
    assert_cusps(
        Method::Alcabitius,
        &nine_o_clock,
        &[
            (House::X, longitude(Aquarius, 13, 26)),
            (House::XI, longitude(Pisces, 26, 36)),
            (House::XII, longitude(Taurus, 10, 17)),
            (House::I, longitude(Gemini, 19, 44)),
            (House::II, longitude(Cancer, 7, 12)),
            (House::III, longitude(Cancer, 24, 56)),
        ],
        ARCMIN,
    );
}

/// J. Middleton, Practical Astrology (1679) I.9: the table of regiomontanus
/// for 51°32′ with 13°00′ Pisces on the midheaven. He prints minutes, and is
/// 1′ to 6′ too far on throughout: two minutes in his obliquity, which he does
/// not give and is taken as 23°30′, would make up to 3′, a minute in each pole
/// and each ascension 2′, and the last 1′ is his reckoning.
#[test]
fn middletons_table_of_regiomontanus() {
    let place = horizon(0.0, 23.5, 51.0 + 32.0 / 60.0);
    let sidereal_time = place.right_ascension(longitude(Pisces, 13, 0));
    let printed_time = Angle::from_hours(22.0 + 57.0 / 60.0 + 24.0 / 3600.0);
    // Four seconds of time; his tables of right ascension are to the minute of arc.
    assert_near(
        sidereal_time,
        printed_time,
        ARCMIN,
        "right ascension of the midheaven",
    );
    assert_cusps(
        Method::Regiomontanus,
        &Horizon {
            sidereal_time,
            ..place
        },
        &[
            (House::XI, longitude(Aries, 21, 16)),
            (House::XII, longitude(Gemini, 12, 31)),
            (House::I, longitude(Cancer, 14, 54)),
            (House::II, longitude(Leo, 4, 21)),
            (House::III, longitude(Leo, 21, 18)),
        ],
        ARCMIN * 6.5,
    );
}

/// The same: the Sun at 27° Capricorn has the time from noon 19h56m12s, to the
/// minute of arc, four seconds of time.
#[test]
fn middletons_right_ascension_of_the_sun() {
    let found = horizon(0.0, 23.5, 0.0).right_ascension(longitude(Capricorn, 27, 0));
    let printed = Angle::from_hours(19.0 + 56.0 / 60.0 + 12.0 / 3600.0);
    assert_near(found, printed, ARCMIN, "right ascension");
}

/// W. Lilly, Christian Astrology (1659), p. 66: in the table for 52° the time
/// 19h01m has 14° Capricorn on the midheaven. Whole degrees stand against
/// whole minutes of time there: half a minute is 7½′.
#[test]
fn lillys_midheaven() {
    let time = horizon(15.0 * (19.0 + 1.0 / 60.0), 23.5, 52.0);
    let printed = longitude(Capricorn, 14, 0);
    assert_near(
        time.midheaven(),
        printed,
        Angle::from_arcmin(7.5),
        "midheaven",
    );
}

/// London tables of houses of the 19th and 20th centuries, by placidus for
/// 51°32′ (from memory): at 0h the ascendant is 26°36′ Cancer, the other cusps
/// are in whole degrees, unevenly rounded.
#[test]
fn londons_tables_of_placidus() {
    let london = horizon(0.0, 23.45, 51.0 + 32.0 / 60.0);
    let ascendant = longitude(Cancer, 26, 36);
    assert_near(london.ascendant().unwrap(), ascendant, ARCMIN, "ascendant");
    assert_cusps(
        Method::Placidus,
        &london,
        &[
            (House::X, longitude(Aries, 0, 0)),
            (House::XI, longitude(Taurus, 9, 0)),
            (House::XII, longitude(Gemini, 22, 0)),
            (House::II, longitude(Leo, 12, 0)),
            (House::III, longitude(Virgo, 3, 0)),
        ],
        Angle::from_deg(0.7),
    );
}

/// The four quarters of the day at 51°32′ with ε 23°27′, by five methods,
/// worked from the definitions apart from this code, to the minute. At 6h
/// 0° Libra ascends and 0° Cancer culminates, where the methods differ most
/// plainly (the test proposed by J. D. North, Horoscopes and History, 1986).
#[test]
fn the_quarters_of_the_day_at_london() {
    #[rustfmt::skip]
    let rows = [
        (0.0, Method::Alcabitius, [(Taurus, 11, 59), (Gemini, 19, 58), (Leo, 16, 38), (Virgo, 7, 52)]),
        (0.0, Method::Porphyry, [(Taurus, 8, 52), (Gemini, 17, 44), (Leo, 17, 44), (Virgo, 8, 52)]),
        (0.0, Method::Campanus, [(Aries, 25, 58), (Gemini, 10, 41), (Leo, 23, 31), (Virgo, 11, 53)]),
        (0.0, Method::Regiomontanus, [(Taurus, 12, 35), (Gemini, 28, 21), (Leo, 15, 52), (Virgo, 4, 26)]),
        (0.0, Method::Placidus, [(Taurus, 8, 40), (Gemini, 22, 29), (Leo, 12, 39), (Virgo, 2, 33)]),
        (6.0, Method::Alcabitius, [(Cancer, 27, 55), (Leo, 27, 49), (Scorpio, 2, 11), (Sagittarius, 2, 5)]),
        (6.0, Method::Porphyry, [(Leo, 0, 0), (Virgo, 0, 0), (Scorpio, 0, 0), (Sagittarius, 0, 0)]),
        (6.0, Method::Campanus, [(Cancer, 27, 0), (Leo, 26, 48), (Scorpio, 3, 12), (Sagittarius, 3, 0)]),
        (6.0, Method::Regiomontanus, [(Leo, 9, 19), (Virgo, 7, 51), (Libra, 22, 9), (Scorpio, 20, 41)]),
        (6.0, Method::Placidus, [(Leo, 6, 4), (Virgo, 6, 8), (Libra, 23, 52), (Scorpio, 23, 56)]),
        (12.0, Method::Alcabitius, [(Libra, 22, 8), (Scorpio, 13, 22), (Capricorn, 10, 2), (Aquarius, 18, 1)]),
        (12.0, Method::Porphyry, [(Libra, 21, 8), (Scorpio, 12, 16), (Capricorn, 12, 16), (Aquarius, 21, 8)]),
        (12.0, Method::Campanus, [(Libra, 18, 7), (Scorpio, 6, 29), (Capricorn, 19, 19), (Pisces, 4, 2)]),
        (12.0, Method::Regiomontanus, [(Libra, 25, 34), (Scorpio, 14, 8), (Capricorn, 1, 39), (Aquarius, 17, 25)]),
        (12.0, Method::Placidus, [(Libra, 27, 27), (Scorpio, 17, 21), (Capricorn, 7, 31), (Aquarius, 21, 20)]),
        (18.0, Method::Alcabitius, [(Capricorn, 27, 55), (Aquarius, 27, 49), (Taurus, 2, 11), (Gemini, 2, 5)]),
        (18.0, Method::Porphyry, [(Aquarius, 0, 0), (Pisces, 0, 0), (Taurus, 0, 0), (Gemini, 0, 0)]),
        (18.0, Method::Campanus, [(Capricorn, 8, 30), (Capricorn, 24, 10), (Gemini, 5, 50), (Gemini, 21, 30)]),
        (18.0, Method::Regiomontanus, [(Capricorn, 13, 31), (Aquarius, 5, 48), (Taurus, 24, 12), (Gemini, 16, 29)]),
        (18.0, Method::Placidus, [(Capricorn, 18, 10), (Aquarius, 12, 20), (Taurus, 17, 40), (Gemini, 11, 50)]),
    ];
    for (hours, method, expected) in rows {
        let london = horizon(hours * 15.0, 23.45, 51.0 + 32.0 / 60.0);
        let cusps = [House::XI, House::XII, House::II, House::III];
        let expected: Vec<_> = cusps
            .into_iter()
            .zip(expected.map(|(sign, deg, arcmin)| longitude(sign, deg, arcmin)))
            .collect();
        assert_cusps(method, &london, &expected, ARCMIN);
    }
}

#[track_caller]
fn assert_cusps(method: Method, horizon: &Horizon, expected: &[(House, Angle)], tolerance: Angle) {
    let cusps = method.cusps(horizon).expect("the book has an answer");
    for &(house, longitude) in expected {
        let what = format!("{method} {house} at {}", horizon.sidereal_time);
        assert_near(cusps.get(house), longitude, tolerance, what);
    }
}
