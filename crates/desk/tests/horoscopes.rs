//! Figures as old books print them, recomputed by the desk from date, clock and place.
//!
//! The tables of the seventeenth century are good to some minutes of arc for the Sun,
//! a quarter of a degree for the Moon and Saturn, and no better than degrees for
//! Mercury and Mars; those of antiquity to degrees for all. What a book has further
//! off than its tables can be is a slip, and is told here.

#![cfg(not(feature = "test-shift-ascendant"))]

use desk::{Cabinet, CastRequest, FigureRequest, FinishedFigure};
use sky::{Angle, Sign, Zodiacal};

/// The seven, in the order of [`FinishedFigure::bodies`].
const NAMES: [&str; 7] = [
    "Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn",
];

fn at(sign: Sign, deg: f64, arcmin: f64) -> Angle {
    sign.begins() + Angle::from_deg(deg + arcmin / 60.0)
}

/// The figure of a Julian date and a time by the Sun.
fn cast(when: &str, place: &str, houses: &str) -> FinishedFigure {
    let request = FigureRequest {
        cast: CastRequest {
            when: when.to_owned(),
            at: place.to_owned(),
            clock: Some("sun".to_owned()),
            calendar: Some("julian".to_owned()),
            houses: Some(houses.to_owned()),
            ..CastRequest::default()
        },
        border: Some("five-degrees".to_owned()),
        lots_by_night: Some("unchanged".to_owned()),
        star_orb_deg: Some(10.0),
        ..FigureRequest::default()
    };
    let answer = desk::figure(&request, &Cabinet::built_in(), None);
    answer.expect("an answer").exact
}

fn body(figure: &FinishedFigure, name: &str) -> Angle {
    let found = figure.bodies.iter().find(|body| body.name == name);
    Angle::from_deg(found.expect("one of the seven").longitude_deg)
}

/// How far a printed place is ahead of the computed one.
#[track_caller]
fn assert_near(what: &str, printed: Angle, computed: Angle, tolerance: Angle) {
    let off = computed.to(printed);
    assert!(
        off.abs() <= tolerance,
        "{what}: printed {}, computed {}, more than {tolerance} apart",
        Zodiacal(printed),
        Zodiacal(computed)
    );
}

/// Longitude does not matter with a clock that keeps the Sun's time, but for the
/// Moon, by half a degree an hour.
const LONDON: &str = "51.5333,-0.1";

/// J. Middleton, Practical Astrology (1679), I.9 and I.12, pp. 78–92: 6 January 1677,
/// three hours after noon, 51°32′; the planets as his ephemeris has them at noon.
///
/// His slips. Mars stands in 28°29′ of Gemini, and backward: he prints 8°26′, without
/// ℞, and goes by it, for he puts Mars before the cusp of XII. ℞ stands with Venus, who
/// goes forward, and with the Moon, who always does. Mercury is 4°46′ too far on (25
/// for 20 degrees, perhaps). On p. 82 the Sun of the same noon is in 17°06′.
#[test]
fn middleton_1677() {
    let noon = cast("1677-01-06 12:00", LONDON, "regiomontanus");
    for (name, printed, tolerance) in [
        (
            "Sun",
            at(Sign::Capricorn, 27.0, 6.0),
            Angle::from_arcmin(2.0),
        ),
        (
            "Moon",
            at(Sign::Gemini, 29.0, 25.0),
            Angle::from_arcmin(30.0),
        ),
        (
            "Venus",
            at(Sign::Sagittarius, 17.0, 2.0),
            Angle::from_arcmin(6.0),
        ),
        // As he must have found it.
        (
            "Mars",
            at(Sign::Gemini, 28.0, 26.0),
            Angle::from_arcmin(6.0),
        ),
        (
            "Jupiter",
            at(Sign::Aquarius, 2.0, 52.0),
            Angle::from_arcmin(6.0),
        ),
        (
            "Saturn",
            at(Sign::Taurus, 19.0, 13.0),
            Angle::from_arcmin(20.0),
        ),
        (
            "Mercury",
            at(Sign::Capricorn, 25.0, 22.0),
            Angle::from_deg(5.0),
        ),
    ] {
        assert_near(name, printed, body(&noon, name), tolerance);
    }
    let backward = noon.bodies.iter().filter(|body| body.retrograde);
    let retrograde: Vec<&str> = backward.map(|body| body.name).collect();
    assert_eq!(retrograde, ["Mars", "Saturn"], "he has Moon, Venus, Saturn");
    let node = Angle::from_deg(noon.nodes[0].longitude_deg);
    let printed = at(Sign::Sagittarius, 11.0, 11.0);
    assert_near("node", printed, node, Angle::from_arcmin(10.0));

    // His hour is rounded to the nearest row of the table of houses, four minutes
    // apart, and his table is 1′ to 6′ too far on (the figure's tests have it alone);
    // the two come to 9′ where the ecliptic rises fastest.
    let figure = cast("1677-01-06 15:00", LONDON, "regiomontanus");
    let cusps = figure.cusps_deg.expect("twelve").map(Angle::from_deg);
    for (house, printed) in [
        (10, at(Sign::Pisces, 13.0, 0.0)),
        (11, at(Sign::Aries, 21.0, 16.0)),
        (12, at(Sign::Gemini, 12.0, 31.0)),
        (1, at(Sign::Cancer, 14.0, 54.0)),
        (2, at(Sign::Leo, 4.0, 21.0)),
        (3, at(Sign::Leo, 21.0, 18.0)),
    ] {
        let what = format!("cusp {house}");
        assert_near(&what, printed, cusps[house - 1], Angle::from_arcmin(10.0));
    }
    // He takes the lights at noon: the Moon moves 1°29′ in three hours.
    let fortune = Angle::from_deg(figure.lots[0].longitude_deg.expect("Fortune"));
    let printed = at(Sign::Sagittarius, 17.0, 13.0);
    assert_near("Fortune", printed, fortune, Angle::from_deg(1.75));
    let late = printed.to(fortune) - body(&noon, "Moon").to(body(&figure, "Moon"));
    assert!(late.abs() < Angle::from_arcmin(30.0), "{late}");
    // The houses he gives, by the rule of five degrees; Mars where he really stood is
    // in the twelfth as well.
    for (name, house) in [("Saturn", 11), ("Jupiter", 8), ("Mars", 12)] {
        let found = figure.bodies.iter().find(|body| body.name == name);
        assert_eq!(found.and_then(|body| body.house), Some(house), "{name}");
    }
}

/// W. Lilly, Christian Astrology (1659), pp. 40 and 46 of the book, and the aspects on
/// pp. 29–30: 6 and 26 January 1646 for 52°. His ephemeris has its noon 50 minutes
/// before London's. On p. 40 the hours of the Sun's degree are misprinted 31.18 for 21.18.
#[test]
fn lilly_1646() {
    const ENGLAND: &str = "52,-0.1";
    // 25 January 21h45m after noon: the table, of whole degrees, is entered with
    // 19h01m instead of 19h03m, half a degree of the equator.
    let figure = cast("1646-01-26 09:45", ENGLAND, "regiomontanus");
    let midheaven = Angle::from_deg(figure.midheaven_deg);
    let printed = at(Sign::Capricorn, 14.0, 0.0);
    assert_near("midheaven", printed, midheaven, Angle::from_arcmin(30.0));
    let noon = cast("1646-01-26 12:00", ENGLAND, "regiomontanus");
    let printed = at(Sign::Aquarius, 16.0, 59.0);
    assert_near("Sun", printed, body(&noon, "Sun"), Angle::from_arcmin(6.0));

    // At his noon, and two hours later, to which he brings the Moon on by 30′ an hour.
    let minute = Angle::from_arcmin(1.0);
    let noon = cast("1646-01-06 11:10", ENGLAND, "regiomontanus");
    let printed = at(Sign::Capricorn, 20.0, 54.0);
    assert_near("Moon", printed, body(&noon, "Moon"), minute * 3.0);
    let later = cast("1646-01-06 13:10", ENGLAND, "regiomontanus");
    let printed = at(Sign::Capricorn, 21.0, 54.0);
    assert_near("Moon", printed, body(&later, "Moon"), minute * 3.0);
    let printed = at(Sign::Capricorn, 26.0, 44.0 + 4.0 / 60.0);
    assert_near("Sun", printed, body(&later, "Sun"), minute * 6.0);

    // The new Moon at 11h48m at night by his ephemeris, and the Moon's square to Saturn
    // at 13h10m in London: a quarter of a degree of the Moon is half an hour.
    let quarter = Angle::from_arcmin(16.0);
    let new_moon = cast("1646-01-06 22:58", ENGLAND, "regiomontanus");
    assert_near(
        "new Moon",
        body(&new_moon, "Sun"),
        body(&new_moon, "Moon"),
        quarter,
    );
    let square = cast("1646-01-07 01:10", ENGLAND, "regiomontanus");
    let saturn = body(&square, "Saturn") - Angle::from_deg(90.0);
    assert_near("square", saturn, body(&square, "Moon"), quarter);
    // Saturn and Jupiter in sextile on the 3rd, 21 hours after noon: both tables are out,
    // as Middleton's is for Saturn, and the two creep past each other for days.
    let sextile = cast("1646-01-04 08:10", ENGLAND, "regiomontanus");
    let saturn = body(&sextile, "Saturn") + Angle::from_deg(60.0);
    assert_near("sextile", saturn, body(&sextile, "Jupiter"), minute * 30.0);
}

/// Antigonus of Nicaea, in Hephaestion, Apotelesmatica II.18 (Catalogus codicum
/// astrologorum Graecorum VI, p. 67): a nativity in which W. Kroll recognised
/// Hadrian's, born at Italica on 24 January 76. The degrees are ordinal, "the 8th of
/// Aquarius".
///
/// Longitudes were counted then from a point some degrees west of the equinox: all but
/// Venus's are 2° to 5° ahead of ours, and their tables have errors of degrees besides.
#[test]
fn hadrian_76() {
    const ITALICA: &str = "37.44,-6.05";
    let figure = cast("0076-01-24 06:50", ITALICA, "equal");
    let ordinal = |sign, nth: f64| at(sign, nth - 0.5, 0.0);
    let printed = [
        ordinal(Sign::Aquarius, 8.0),
        ordinal(Sign::Aquarius, 1.0),
        ordinal(Sign::Capricorn, 12.0),
        ordinal(Sign::Pisces, 12.0),
        ordinal(Sign::Pisces, 22.0),
        ordinal(Sign::Aquarius, 1.0),
        ordinal(Sign::Capricorn, 5.0),
    ];
    let mut ahead = Vec::new();
    for (name, printed) in NAMES.into_iter().zip(printed) {
        let computed = body(&figure, name);
        assert_near(name, printed, computed, Angle::from_deg(5.5));
        ahead.push(computed.to(printed).deg());
    }
    ahead.sort_by(f64::total_cmp);
    assert!((2.0..5.0).contains(&ahead[3]), "the middle one: {ahead:?}");
    // The Sun follows the ascendant by seven degrees. With the midheaven in the 22nd of
    // Scorpio the first degree of Aquarius rises, to the two degrees that old tables of
    // ascensions are good to.
    let ascendant = Angle::from_deg(figure.ascendant_deg.expect("an ascendant"));
    let sun = body(&figure, "Sun");
    assert_near(
        "the Sun behind",
        sun - Angle::from_deg(7.0),
        ascendant,
        Angle::from_deg(3.0),
    );
    let (printed_ascendant, printed_midheaven) =
        (ordinal(Sign::Aquarius, 1.0), ordinal(Sign::Scorpio, 22.0));
    let wanted = printed_midheaven.to(printed_ascendant);
    let found = Angle::from_deg(figure.midheaven_deg).to(ascendant);
    assert_near("the quadrant", wanted, found, Angle::from_deg(2.0));
}

/// Middleton I.12, p. 93: Algol in 21° of Taurus, Regulus in 25° of Leo, Spica in 19°
/// of Libra, in whole degrees past.
#[test]
fn stars_of_1679() {
    let when = sky::Instant::from_jd_ut(2_334_377.0);
    let sky = sky::Sky::at(when).expect("in the span");
    for (name, sign, deg) in [
        ("Algol", Sign::Taurus, 21.0),
        ("Regulus", Sign::Leo, 25.0),
        ("Spica", Sign::Libra, 19.0),
    ] {
        let star = sky::star_named(name).expect("a star");
        let found = sky.star(star).longitude;
        assert_near(name, at(sign, deg + 0.5, 0.0), found, Angle::from_deg(0.5));
    }
}
