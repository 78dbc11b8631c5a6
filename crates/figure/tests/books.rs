//! What printed books work out by hand, row by row: antiscia, mansions, directions, poles,
//! profections and years.

use figure::{
    Beginner, Choices, Cusps, DecennialDays, Decennials, DignityTables, Figure, FirdariaByNight,
    FirdariaLord, Horizon, House, LordSpan, MansionZodiac, Planet, PlanetYears, Sect, Site,
    TermTable, antiscion, contra_antiscion, distributions, dodecatemorion, firdaria, handed_over,
    most, profected,
};
use sky::{Angle, Instant, Latitude, Sign, Sky};

fn at(sign: Sign, deg: f64, arcmin: f64) -> Angle {
    sign.begins() + Angle::from_deg(deg + arcmin / 60.0)
}

fn dm(deg: f64, arcmin: f64) -> Angle {
    Angle::from_deg(deg + arcmin / 60.0)
}

/// The obliquity of the printers' tables, 23°30′.
fn horizon(latitude_deg: f64) -> Horizon {
    Horizon {
        sidereal_time: Angle::ZERO,
        obliquity: dm(23.0, 30.0),
        latitude: Latitude::from_deg(latitude_deg).expect("a latitude"),
    }
}

fn near(found: Angle, printed: Angle, within_arcmin: f64) {
    let off = printed.to(found).abs();
    assert!(
        off <= Angle::from_arcmin(within_arcmin),
        "{found}, printed {printed}"
    );
}

/// J. Middleton, Practical Astrology (1679), pp. 54–56: Saturn in 10° Taurus is answered by
/// 20° Leo. For Jupiter in 10°20′ Libra his two tables, of degrees and of minutes, give
/// 20°40′ Pisces, a degree too much: 19°40′. W. Ramesey, Astrologia Restaurata (1653), p. 76:
/// against 16°24′ Leo lies 16°24′ Aquarius.
#[test]
fn antiscia_as_printed_and_a_table_that_misleads() {
    near(
        antiscion(at(Sign::Taurus, 10.0, 0.0)),
        at(Sign::Leo, 20.0, 0.0),
        1e-9,
    );
    let jupiter = antiscion(at(Sign::Libra, 10.0, 20.0));
    near(jupiter, at(Sign::Pisces, 19.0, 40.0), 1e-9);
    let leo = at(Sign::Leo, 16.0, 24.0);
    near(
        contra_antiscion(antiscion(leo)),
        at(Sign::Aquarius, 16.0, 24.0),
        1e-9,
    );
}

/// Ramesey, p. 130: the beginnings of the twenty-eight mansions, to a minute and a half (some are cut off). Five are
/// misprinted there (7°05′ Cancer, 5°57′ Leo, 7°25′ Capricorn, 25°49′ Aquarius and 24°15′
/// Aries); they stand here as his steps have them.
#[test]
fn mansions_of_1653() {
    use Sign::{
        Aquarius, Aries, Cancer, Capricorn, Gemini, Leo, Libra, Pisces, Sagittarius, Scorpio,
        Taurus, Virgo,
    };
    let printed = [
        (Aries, 20, 6),
        (Taurus, 2, 57),
        (Taurus, 15, 49),
        (Taurus, 28, 40),
        (Gemini, 11, 32),
        (Gemini, 24, 23),
        (Cancer, 7, 15),
        (Cancer, 20, 6),
        (Leo, 2, 57),
        (Leo, 15, 49),
        (Leo, 28, 40),
        (Virgo, 11, 31),
        (Virgo, 24, 23),
        (Libra, 7, 15),
        (Libra, 20, 6),
        (Scorpio, 2, 57),
        (Scorpio, 15, 49),
        (Scorpio, 28, 40),
        (Sagittarius, 11, 32),
        (Sagittarius, 24, 23),
        (Capricorn, 7, 15),
        (Capricorn, 20, 6),
        (Aquarius, 2, 56),
        (Aquarius, 15, 49),
        (Aquarius, 28, 40),
        (Pisces, 11, 32),
        (Pisces, 24, 23),
        (Aries, 7, 15),
    ];
    for (number, (sign, deg, arcmin)) in (1..).zip(printed) {
        let mansion = MansionZodiac::Ramesey.mansion(number);
        near(
            mansion.begins,
            at(sign, f64::from(deg), f64::from(arcmin)),
            // Minutes are cut off in print.
            1.5,
        );
        for (zodiac, on) in [
            (MansionZodiac::Ramesey, 20.0 + 6.0 / 60.0),
            (MansionZodiac::Tropical, 0.0),
        ] {
            let inside = Angle::from_deg(on + 360.0 / 28.0 * (f64::from(number) - 0.5));
            assert_eq!(zodiac.at(inside).number, number);
        }
    }
}

/// R. Kirby and J. Bishop, The Marrow of Astrology (1687), I, p. 87: the Sun in 8°21′
/// Scorpio directed to Venus in 22°45′ Sagittarius by right ascensions 215°58′ and 262°08′,
/// an arc of 46°10′.
#[test]
fn a_direction_by_right_ascension() {
    let here = horizon(0.0);
    let sun = here.right_ascension(at(Sign::Scorpio, 8.0, 21.0));
    let venus = here.right_ascension(at(Sign::Sagittarius, 22.0, 45.0));
    near(sun, dm(215.0, 58.0), 2.0);
    near(venus, dm(262.0, 8.0), 2.0);
    near(venus - sun, dm(46.0, 10.0), 2.0);
}

/// The same, p. 98, in 52°: the midheaven at right ascension 220° is 12°27′ Scorpio; two
/// thirds of the semi-arc of a star at 23°20′ south, 56°30′, are 37°40′, and the arc 10°09′.
#[test]
fn a_mundane_sextile_of_the_midheaven() {
    let here = horizon(52.0);
    let midheaven = here.degree_at_right_ascension(Angle::from_deg(220.0));
    near(midheaven, at(Sign::Scorpio, 12.0, 27.0), 2.0);
    let declination = Latitude::from_deg(-(23.0 + 20.0 / 60.0)).expect("a declination");
    let figure::DailyCourse::RisesAndSets(arcs) = here.daily_course(declination) else {
        panic!("it rises");
    };
    let semi_arc = Angle::QUARTER_TURN + arcs.ascensional_difference();
    near(semi_arc, dm(56.0, 30.0), 2.0);
    // At 267°49′ of right ascension.
    near(
        dm(267.0, 49.0) - Angle::from_deg(220.0) - semi_arc * (2.0 / 3.0),
        dm(10.0, 9.0),
        2.0,
    );
}

/// The same, pp. 90–91, in 44°: oblique ascensions of 11° Pisces, 15°46′ Aries and 0°
/// Cancer: 349°45′, 8°28′ and 65°10′; between the last two 56°42′.
#[test]
fn oblique_ascensions_of_a_direction() {
    let here = horizon(44.0);
    let rises = |degree| here.oblique_ascension(degree).expect("it rises");
    let sun = rises(at(Sign::Aries, 15.0, 46.0));
    near(rises(at(Sign::Pisces, 11.0, 0.0)), dm(349.0, 45.0), 2.0);
    near(sun, dm(8.0, 28.0), 2.0);
    near(rises(at(Sign::Cancer, 0.0, 0.0)), dm(65.0, 10.0), 2.0);
    near(rises(at(Sign::Cancer, 0.0, 0.0)) - sun, dm(56.0, 42.0), 2.0);
}

/// The same, pp. 90–91: there the Sun stands in the morning twilight, and its way is measured by
/// depressions. As deep as it stands, 13°, 15°46′ Aries is 18°49′ of the equator before its rising
/// and 0° Cancer 24°45′; by their difference, 5°56′, the 56°42′ are too many: 50°46′. The table of
/// depressions has whole degrees alone.
#[test]
fn a_direction_in_the_twilight() {
    // How much of the equator rises while a degree comes up from so deep.
    let comes_up = |degree: Angle, deep: Angle| {
        let flat = horizon(44.0);
        let rises = flat.oblique_ascension(degree).expect("it rises") - Angle::QUARTER_TURN;
        let (mut least, mut most) = (Angle::ZERO, Angle::from_deg(60.0));
        for _ in 0..50 {
            let middle = (least + most) / 2.0;
            let there = Horizon {
                sidereal_time: rises - middle,
                ..flat
            };
            if there.position_of_degree(degree).altitude > -deep {
                least = middle;
            } else {
                most = middle;
            }
        }
        least
    };
    let deep = Angle::from_deg(13.0);
    let (sun, cancer) = (at(Sign::Aries, 15.0, 46.0), at(Sign::Cancer, 0.0, 0.0));
    let [of_sun, of_cancer] = [sun, cancer].map(|degree| comes_up(degree, deep));
    near(of_sun, dm(18.0, 49.0), 2.5);
    near(of_cancer, dm(24.0, 45.0), 2.5);
    near(of_cancer - of_sun, dm(5.0, 56.0), 2.0);
    let rises = |degree| horizon(44.0).oblique_ascension(degree).expect("it rises");
    near(
        rises(cancer) - rises(sun) - (of_cancer - of_sun),
        dm(50.0, 46.0),
        2.0,
    );
}

/// The same, II, p. 38, a mundane parallel by a rule of three: 13 h 27 m is to 5 h 37 m as
/// 98°28′ to 41°07′, and 79°53′ less those is 38°46′.
#[test]
fn a_mundane_parallel_by_a_rule_of_three() {
    let hours = |hours: f64, minutes: f64| Angle::from_hours(hours + minutes / 60.0);
    let part = dm(98.0, 28.0) * (hours(5.0, 37.0).deg() / hours(13.0, 27.0).deg());
    near(part, dm(41.0, 7.0), 1.0);
    near(dm(79.0, 53.0) - part, dm(38.0, 46.0), 1.0);
}

/// The same, II, p. 5: poles of the houses, from thirds of the ascensional difference at
/// the tropic. One pole a house is an approximation, worse with the latitude.
#[test]
fn poles_of_the_houses_as_an_approximation() {
    let tropic = Latitude::from_deg(23.5).expect("a declination");
    for (latitude_deg, printed, within_arcmin) in [
        (31.0, [dm(11.0, 25.0), dm(21.0, 58.0)], 1.5),
        (40.0, [dm(15.0, 52.0), dm(29.0, 32.0)], 4.5),
        (52.0, [dm(23.0, 51.0), dm(41.0, 20.0)], 22.0),
        (60.0, [dm(31.0, 39.0), dm(50.0, 42.0)], 72.0),
    ] {
        let figure::DailyCourse::RisesAndSets(arcs) = horizon(latitude_deg).daily_course(tropic)
        else {
            panic!("it rises");
        };
        for (thirds, printed) in (1..).zip(printed) {
            let part = arcs.ascensional_difference() * (f64::from(thirds) / 3.0);
            let pole = Angle::atan2(part.sin(), tropic.angle().tan());
            near(pole, printed, within_arcmin);
        }
    }
}

/// The same, II, pp. 33–36: an arc measured by the Sun's way after the birth. The right
/// ascension 38°42′ is that of 11°10′ Taurus (Charles V).
#[test]
fn an_arc_of_charles_the_fifth() {
    let reached = horizon(0.0).degree_at_right_ascension(dm(345.0, 44.0) + dm(52.0, 58.0));
    near(reached, at(Sign::Taurus, 11.0, 10.0), 3.0);
}

/// The same, II, pp. 33–36, in whole years and months: how many days after the birth the Sun had
/// gone an arc of the equator. Charles V, whose Sun the book has at right ascension 345°44′:
/// 52°58′ in 58 years and 7 months, 17°31′ in 19 years. Philip III: 26°22′ + 81°30′ − 73°09′ =
/// 34°43′ in 36 years and 2 months, and 295°23′ − 253°09′ (the arc itself is damaged in print) in
/// 43 years, "ferè". Half a year is half a degree, and his Suns stand as far from the sky's.
#[test]
fn years_by_the_suns_way_after_the_birth() {
    let sun = |jd: f64| {
        let sky = Sky::at(Instant::from_jd_ut(jd)).expect("in the span");
        sky.sun().right_ascension
    };
    // On which day, to a twentieth, the Sun comes to a degree of the equator.
    let days_until = |born_jd: f64, wanted: Angle| {
        let short = |days: f64| sun(born_jd + days).to(wanted).deg();
        let twentieths = (0..1200).map(|n| f64::from(n) / 20.0);
        twentieths.min_by(|one, other| short(*one).abs().total_cmp(&short(*other).abs()))
    };
    // 24 February 1500 and 14 April 1578, of the Julian calendar.
    let (charles, philip) = (2_268_986.6, 2_297_525.6);
    let (of_charles, of_philip) = (dm(345.0, 44.0), sun(philip));
    near(of_charles, sun(charles), 30.0);
    for (born, from, arc, printed, within) in [
        (charles, of_charles, dm(52.0, 58.0), 58.0 + 7.0 / 12.0, 0.75),
        (charles, of_charles, dm(17.0, 31.0), 19.0, 0.75),
        (philip, of_philip, dm(34.0, 43.0), 36.0 + 2.0 / 12.0, 0.75),
        (philip, of_philip, dm(42.0, 14.0), 43.0, 0.75),
    ] {
        let found = days_until(born, from + arc).expect("a day");
        assert!(
            (found - printed).abs() < within,
            "{arc}: {found}, printed {printed}"
        );
    }
    near(
        dm(26.0, 22.0) + dm(81.0, 30.0) - dm(73.0, 9.0),
        dm(34.0, 43.0),
        1e-6,
    );
    near(dm(295.0, 23.0) - dm(253.0, 9.0), dm(42.0, 14.0), 1e-6);
}

/// Middleton, pp. 91–93: ascendant 14°54′ Cancer, Moon 29°25′ Gemini, Sun 27°06′ Capricorn: the
/// lot of Fortune is 17°13′ Sagittarius. He takes the lights at noon; at three, with the Moon at
/// 1°15′ Cancer and the Sun at 27°14′, it is 18°55′.
#[test]
fn fortune_from_what_is_printed() {
    let cast = |moon: Angle, sun: Angle| {
        let lots = figure::Lots::default();
        let place = lots.all().iter().position(|lot| lot.name == "Fortune");
        let cast = lots.cast(&figure::LotInputs {
            sect: Sect::Day,
            by_night: figure::LotsByNight::Unchanged,
            ascendant: Some(at(Sign::Cancer, 14.0, 54.0)),
            midheaven: at(Sign::Pisces, 13.0, 0.0),
            cusps: None,
            north_node: at(Sign::Sagittarius, 11.0, 11.0),
            lunation: None,
            body: &|body| match body {
                sky::Body::Moon => moon,
                sky::Body::Sun => sun,
                _ => Angle::ZERO,
            },
        });
        cast[place.expect("it")].expect("it is cast")
    };
    let noon = cast(at(Sign::Gemini, 29.0, 25.0), at(Sign::Capricorn, 27.0, 6.0));
    near(noon, at(Sign::Sagittarius, 17.0, 13.0), 1e-6);
    let three = cast(at(Sign::Cancer, 1.0, 15.0), at(Sign::Capricorn, 27.0, 14.0));
    near(three, at(Sign::Sagittarius, 18.0, 55.0), 1e-6);
}

/// Ptolemy, Tetrabiblos III.10 (Ashmand 1822, III.15), for Lower Egypt, 30°22′: from 0°
/// Aries to 0° Gemini there are 46 times where Aries rises, 58 where it culminates, 70 where
/// it sets, and 64 three hours past the meridian. He reckons in whole degrees.
#[test]
fn ptolemys_own_direction() {
    let here = horizon(30.0 + 22.0 / 60.0);
    let gemini = at(Sign::Gemini, 0.0, 0.0);
    let rising = here.oblique_ascension(gemini).expect("it rises");
    let culminating = here.right_ascension(gemini);
    let setting = culminating * 2.0 - rising;
    let between = culminating + (setting - culminating) * (3.0 / 6.0);
    for (found, printed) in [
        (rising, 46.0),
        (culminating, 58.0),
        (setting, 70.0),
        (between, 64.0),
    ] {
        near(found, Angle::from_deg(printed), 60.0);
    }
}

/// Vettius Valens, Anthology IV.11: Sun and Mercury in Aquarius, the Moon in Scorpio,
/// Saturn in Cancer, Jupiter in Libra, Venus in Capricorn, Mars and the ascendant in Virgo.
/// In the thirty-fifth year, the eleventh of its round, Venus hands over to the Moon, the
/// Moon to Mars and the ascendant, these to Saturn, and nobody else.
#[test]
fn handing_over_in_the_thirty_fifth_year() {
    let middle = |sign: Sign| at(sign, 15.0, 0.0);
    let places = [
        ("Sun", middle(Sign::Aquarius)),
        ("Mercury", middle(Sign::Aquarius)),
        ("Moon", middle(Sign::Scorpio)),
        ("Saturn", middle(Sign::Cancer)),
        ("Jupiter", middle(Sign::Libra)),
        ("Venus", middle(Sign::Capricorn)),
        ("Mars", middle(Sign::Virgo)),
        ("ascendant", middle(Sign::Virgo)),
    ];
    let mut found = handed_over(&places, 35);
    found.sort_unstable();
    assert_eq!(
        found,
        [
            ("Mars", "Saturn"),
            ("Moon", "Mars"),
            ("Moon", "ascendant"),
            ("Venus", "Moon"),
            ("ascendant", "Saturn"),
        ]
    );
}

/// Thirteen months of 28 days go round and a sign on, and twelve of 2⅓ days are one of them
/// (Ptolemy, Tetrabiblos IV.10, tr. Ashmand 1822, p. 141).
#[test]
fn profections_by_year_month_and_day() {
    let place = at(Sign::Virgo, 10.0, 0.0);
    let [year, month, day] = profected(place, 34, 30.0);
    near(year, at(Sign::Cancer, 10.0, 0.0), 1e-6);
    near(month, at(Sign::Leo, 10.0, 0.0), 1e-6);
    near(day, at(Sign::Leo, 10.0, 0.0), 1e-6);
    let [_, month, day] = profected(place, 0, 13.0 * 28.0 - 0.01);
    near(month, at(Sign::Virgo, 10.0, 0.0), 1e-6);
    near(day, at(Sign::Leo, 10.0, 0.0), 1e-6);
}

/// Valens IV.1: a quarter of the least years is 7½, 3, 3¾, 2, 5, 4¾ and 6¼, 32 years and
/// three months together; a year's days by it are 85, 34, 42½, 22⅔, 56⅔, 53 5/6, 70 5/6,
/// 365½ together. The greater years of the five are Ptolemy's sums of their terms.
#[test]
fn years_of_the_planets() {
    let quarters = [
        (Planet::Saturn, 7.5, 85.0),
        (Planet::Jupiter, 3.0, 34.0),
        (Planet::Mars, 3.75, 42.5),
        (Planet::Venus, 2.0, 22.0 + 2.0 / 3.0),
        (Planet::Mercury, 5.0, 56.0 + 2.0 / 3.0),
        (Planet::Sun, 4.75, 53.0 + 5.0 / 6.0),
        (Planet::Moon, 6.25, 70.0 + 5.0 / 6.0),
    ];
    let (mut years, mut days) = (0.0, 0.0);
    for (planet, quarter, of_a_year) in quarters {
        let own = PlanetYears::of(planet);
        assert!((own.quarter() - quarter).abs() < 1e-9, "{planet}");
        assert!((own.days_of_a_year() - of_a_year).abs() < 1e-9, "{planet}");
        years += own.quarter();
        days += own.days_of_a_year();
        let terms: u32 = Sign::ALL
            .into_iter()
            .map(|sign| {
                let mut from = 0;
                let mut own = 0;
                for term in TermTable::Ptolemy.of(sign) {
                    if term.ruler == planet {
                        own += u32::from(term.end_deg - from);
                    }
                    from = term.end_deg;
                }
                own
            })
            .sum();
        // The lights have no terms; the others have so many degrees of them (Tetrabiblos
        // I.21, from memory), which are their greater years.
        let printed = match planet {
            Planet::Sun | Planet::Moon => 0,
            Planet::Saturn => 57,
            Planet::Jupiter => 79,
            Planet::Mars => 66,
            Planet::Venus => 82,
            Planet::Mercury => 76,
        };
        assert_eq!(terms, printed, "{planet:?}");
        if printed > 0 {
            assert!((PlanetYears::of(planet).greater - f64::from(printed)).abs() < 1e-9);
        }
    }
    assert!((years - 32.25).abs() < 1e-9 && (days - 365.5).abs() < 1e-9);
}

/// W. Lilly, An Introduction to Astrology, ed. R. J. Morrison (1852), pp. 37–52: the greater, the
/// mean and the least years of each. The means are half the sum, the half year left out but for
/// Saturn. The greatest are not used.
#[test]
fn years_of_the_planets_as_lilly_prints_them() {
    for (planet, greater, mean, least) in [
        (Planet::Saturn, 57.0, 43.5, 30.0),
        (Planet::Jupiter, 79.0, 45.0, 12.0),
        (Planet::Mars, 66.0, 40.0, 15.0),
        (Planet::Sun, 120.0, 69.0, 19.0),
        (Planet::Venus, 82.0, 45.0, 8.0),
        (Planet::Mercury, 76.0, 48.0, 20.0),
        (Planet::Moon, 108.0, 66.0, 25.0),
    ] {
        let own = PlanetYears::of(planet);
        assert!(
            (own.greater - greater).abs() < 1e-9 && (own.least - least).abs() < 1e-9,
            "{planet}"
        );
        let left_out = own.mean() - mean;
        assert!(
            left_out.abs() < 1e-9 || planet != Planet::Saturn && (left_out - 0.5).abs() < 1e-9,
            "{planet}"
        );
    }
}

/// The example of Valens VI.5 and VI.7 (ed. Kroll 1908, pp. 253–256): born by night on the 12th of
/// Mecheir, the Moon in 18° Pisces, Venus in Aries, Jupiter in Libra, Saturn rising in Sagittarius,
/// Mars in Aquarius before the Sun, Mercury in Pisces before the Moon; the 15th of Payni is asked
/// about in the fifty-third year.
fn of_valens(planet: Planet) -> Angle {
    match planet {
        Planet::Moon => at(Sign::Pisces, 18.0, 0.0),
        Planet::Venus => at(Sign::Aries, 15.0, 0.0),
        Planet::Jupiter => at(Sign::Libra, 15.0, 0.0),
        Planet::Saturn => at(Sign::Sagittarius, 15.0, 0.0),
        Planet::Mars => at(Sign::Aquarius, 1.0, 0.0),
        Planet::Sun => at(Sign::Aquarius, 2.0, 0.0),
        Planet::Mercury => at(Sign::Pisces, 5.0, 0.0),
    }
}

/// The Moon begins, for she stands below the earth in an angle by sign; the Sun falls away in
/// Aquarius. Five decennials on, Mars has the years from the 43rd, Saturn the last thirty months of
/// them, Venus a round of days, and in it the day is Saturn's, the second of his. He counts 52 years
/// of 365¼ days and 124 days with the first and the last, 53 years of 360 and 37 days; from the
/// birth he has 148 rounds and 24 days, and finds the same two.
#[test]
fn decennials_as_valens_works_them() {
    let rising = at(Sign::Sagittarius, 10.0, 0.0);
    let (first, why) = Decennials::beginner(Sect::Night, rising, of_valens);
    assert_eq!((first, why), (Planet::Moon, Beginner::LightOfTheSect));
    let decennials = Decennials::from(first, of_valens);
    let order = [
        Planet::Moon,
        Planet::Venus,
        Planet::Jupiter,
        Planet::Saturn,
        Planet::Mars,
        Planet::Sun,
        Planet::Mercury,
    ];
    assert_eq!(decennials.order(), order);

    // Of the last day the middle.
    let day = 53.0 * 360.0 + 37.0 - 0.5;
    let years = |days: f64| days / 360.0;
    let [decennial, months] = decennials.on(day);
    assert_eq!(
        (decennial.lord, months.lord),
        (Planet::Mars, Planet::Saturn)
    );
    let is = |found: f64, printed: f64| (found - printed).abs() < 1e-9;
    assert!(is(years(decennial.from_days), 43.0) && is(years(decennial.until_days), 53.75));
    // After Jupiter there were 51 years and 3 months gone; 667 days are left to Saturn.
    assert!(is(years(months.from_days), 51.25));
    assert!(is(day + 0.5 - months.from_days, 667.0));
    let printed_months = [
        (Planet::Mars, 15.0),
        (Planet::Sun, 19.0),
        (Planet::Mercury, 20.0),
        (Planet::Moon, 25.0),
        (Planet::Venus, 8.0),
        (Planet::Jupiter, 12.0),
        (Planet::Saturn, 30.0),
    ];
    for (found, (lord, printed)) in decennials.months(decennial).iter().zip(printed_months) {
        assert_eq!(found.lord, lord);
        assert!(
            is((found.until_days - found.from_days) / 30.0, printed),
            "{lord}"
        );
    }
    // Five rounds of 129 days are over; Venus has eight days of the sixth, Jupiter twelve.
    let days = decennials.days_on(day, DecennialDays::RoundsOfTheMonths);
    assert_eq!(days.lord, Planet::Saturn);
    assert!(is(
        days.from_days - months.from_days,
        5.0 * 129.0 + 8.0 + 12.0
    ));
    assert!(is(day + 0.5 - days.from_days, 2.0));
    let since_birth = 52.0 * 365.25 + 123.0;
    let days = decennials.days_on(since_birth, DecennialDays::RoundsOfTheLife);
    assert_eq!(days.lord, Planet::Saturn);
    assert!(is(days.from_days, 148.0 * 129.0 + 20.0) && is(since_birth - days.from_days, 4.0));
}

/// Who else begins: the other light where that of the sect falls away, and where both do the next
/// after the ascendant.
#[test]
fn who_begins_where_lights_fall_away() {
    let night = |rising| Decennials::beginner(Sect::Night, rising, of_valens);
    // Pisces is third from Capricorn, Aquarius second.
    assert_eq!(
        night(at(Sign::Capricorn, 5.0, 0.0)),
        (Planet::Sun, Beginner::OtherLight)
    );
    let with_the_sun_in_pisces = |planet| match planet {
        Planet::Sun => at(Sign::Pisces, 20.0, 0.0),
        other => of_valens(other),
    };
    assert_eq!(
        Decennials::beginner(
            Sect::Day,
            at(Sign::Capricorn, 5.0, 0.0),
            with_the_sun_in_pisces
        ),
        (Planet::Mars, Beginner::AfterTheAscendant)
    );
}

/// On every day of two rounds of life each has its turn, the stretches follow one another without a
/// gap, and each holds the day that it is found for.
#[test]
fn decennials_fill_the_years() {
    let decennials = Decennials::from(Planet::Moon, of_valens);
    let holds = |span: LordSpan, day: f64| span.from_days <= day && day < span.until_days;
    for day in (0..2 * 27_090).map(|day| f64::from(day) + 0.25) {
        for span in decennials.on(day) {
            assert!(holds(span, day), "{day} {span:?}");
        }
        for how in DecennialDays::ALL {
            let span = decennials.days_on(day, how);
            assert!(holds(span, day), "{day} {how:?} {span:?}");
        }
    }
    let spans = decennials.spans();
    for (one, next) in spans.iter().zip(&spans[1..]) {
        assert!((one.until_days - next.from_days).abs() < 1e-9);
    }
    assert!((spans[6].until_days - 27_090.0).abs() < 1e-9);
}

/// Valens VI.6 (ed. Kroll 1908, pp. 254–255): the months of each shared among the seven in
/// proportion, in months, days and hours. W. Kroll despaired of these numbers; 27 of the 49 are
/// right to an hour, or to the day where hours are lost, and most of the others can be seen to be
/// slips, for the share of one in another's months is that of the other in the one's: a ten is
/// lost, or the shares of Moon and Mercury are exchanged in the months of Mars.
#[test]
fn months_in_proportion_as_valens_prints_them() {
    use Planet::{Jupiter, Mars, Mercury, Moon, Saturn, Sun, Venus};
    // Where a number is lost it is less than none.
    const LOST: f64 = -1.0;
    #[rustfmt::skip]
    let printed: [(Planet, [(Planet, f64, f64, f64); 7]); 7] = [
        (Saturn, [
            (Saturn, 6.0, 29.0, 6.0), (Jupiter, 2.0, 26.0, 8.25), (Mars, 3.0, 14.0, 15.5),
            (Sun, 4.0, 2.0, 13.5), (Venus, 1.0, 25.0, 19.5), (Mercury, 4.0, 19.0, 12.5),
            (Moon, 5.0, 24.0, 10.0),
        ]),
        (Jupiter, [
            (Jupiter, 1.0, 3.0, 11.0), (Mars, 1.0, 1.0, 20.0), (Sun, 1.0, 23.0, 20.5),
            (Venus, 0.0, 12.0, 6.833), (Mercury, 1.0, 25.0, 12.5), (Moon, 12.0, 9.0, 18.333),
            (Saturn, 2.0, 23.0, 7.25),
        ]),
        (Mars, [
            (Mars, 1.0, 22.0, 7.667), (Sun, 2.0, 6.0, 6.667), (Moon, 0.0, 71.0, 5.0),
            (Venus, 0.0, 27.0, 21.833), (Mercury, 2.0, 27.0, 18.333), (Saturn, 3.0, 14.0, 5.0),
            (Jupiter, 1.0, 11.0, 20.0),
        ]),
        (Sun, [
            (Sun, 2.0, 23.0, 22.25), (Mercury, 2.0, 28.0, 8.25), (Venus, 1.0, 5.0, 8.5),
            (Moon, 3.0, 20.0, 14.25), (Saturn, 4.0, 12.0, 13.25), (Jupiter, 1.0, 23.0, 8.25),
            (Mars, 2.0, 6.0, 6.25),
        ]),
        (Venus, [
            (Venus, 0.0, 14.0, LOST), (Mercury, 1.0, 6.0, 7.2), (Moon, 1.0, 16.0, 12.25),
            (Saturn, 1.0, 25.0, 19.0), (Jupiter, 0.0, 22.0, 4.0), (Mars, 0.0, 28.0, 21.25),
            (Sun, 1.0, 5.0, 8.0),
        ]),
        (Mercury, [
            (Mercury, 3.0, 3.0, 9.5), (Moon, 3.0, 6.0, 6.25), (Saturn, 4.0, 19.0, 12.25),
            (Jupiter, 1.0, 25.0, 19.0), (Mars, 2.0, 9.0, 18.25), (Sun, 2.0, 28.0, 8.25),
            (Venus, 1.0, 7.0, 5.0),
        ]),
        (Moon, [
            (Moon, 4.0, 24.0, 10.0), (Saturn, 5.0, 14.0, 10.0), (Jupiter, LOST, 9.0, 18.0),
            (Mars, 2.0, 22.0, 5.0), (Sun, 3.0, 20.0, 11.0), (Mercury, 3.0, 26.0, 6.25),
            (Venus, 1.0, 17.0, 6.25),
        ]),
    ];
    let decennials = Decennials::from(Planet::Moon, of_valens);
    let mut slips = Vec::new();
    for (whose, shares) in printed {
        let months = LordSpan {
            lord: whose,
            from_days: 0.0,
            until_days: PlanetYears::of(whose).least * 30.0,
        };
        let found = decennials.in_proportion(months);
        for (lord, month, day, hour) in shares {
            let share = found
                .iter()
                .find(|one| one.lord == lord)
                .expect("each has one");
            let days = share.until_days - share.from_days;
            let right = if month < 0.0 {
                (days % 30.0 - day - hour / 24.0).abs() * 24.0 < 1.3
            } else if hour < 0.0 {
                (days.floor() - month * 30.0 - day).abs() < 1e-9
            } else {
                (days - month * 30.0 - day - hour / 24.0).abs() * 24.0 < 1.3
            };
            if !right {
                slips.push(format!("{lord} in {whose}'s"));
            }
        }
    }
    assert_eq!(
        slips,
        [
            "Jupiter in Saturn's",
            "Sun in Saturn's",
            "Mars in Jupiter's",
            "Sun in Jupiter's",
            "Venus in Jupiter's",
            "Mercury in Jupiter's",
            "Moon in Jupiter's",
            "Saturn in Jupiter's",
            "Moon in Mars's",
            "Mercury in Mars's",
            "Saturn in Mars's",
            "Moon in Sun's",
            "Jupiter in Sun's",
            "Mercury in Venus's",
            "Jupiter in Venus's",
            "Mars in Venus's",
            "Mercury in Mercury's",
            "Moon in Mercury's",
            "Moon in Moon's",
            "Saturn in Moon's",
            "Mars in Moon's",
            "Venus in Moon's",
        ]
    );
}

/// Abū Maʿshar, The Great Introduction VII.8: 75 years. By night the nodes stand last, or
/// after Mars; parts fill their period.
#[test]
fn firdaria_fill_seventy_five_years() {
    for (sect, by_night, first, before_nodes) in [
        (
            Sect::Day,
            FirdariaByNight::NodesLast,
            Planet::Sun,
            Planet::Mars,
        ),
        (
            Sect::Day,
            FirdariaByNight::NodesAfterMars,
            Planet::Sun,
            Planet::Mars,
        ),
        (
            Sect::Night,
            FirdariaByNight::NodesLast,
            Planet::Moon,
            Planet::Mercury,
        ),
        (
            Sect::Night,
            FirdariaByNight::NodesAfterMars,
            Planet::Moon,
            Planet::Mars,
        ),
    ] {
        let all = firdaria(sect, by_night);
        assert_eq!(all[0].lord, FirdariaLord::Planet(first));
        assert!((all[8].until - 75.0).abs() < 1e-9);
        let node = all
            .iter()
            .position(|one| one.lord == FirdariaLord::NorthNode)
            .expect("it");
        assert_eq!(all[node - 1].lord, FirdariaLord::Planet(before_nodes));
        assert_eq!(all[node + 1].lord, FirdariaLord::SouthNode);
        for (one, next) in all.iter().zip(&all[1..]) {
            assert!((one.until - next.from).abs() < 1e-9);
            let years = match one.lord {
                FirdariaLord::Planet(Planet::Sun) => 10.0,
                FirdariaLord::Planet(Planet::Venus) => 8.0,
                FirdariaLord::Planet(Planet::Mercury) => 13.0,
                FirdariaLord::Planet(Planet::Moon) => 9.0,
                FirdariaLord::Planet(Planet::Saturn) => 11.0,
                FirdariaLord::Planet(Planet::Jupiter) => 12.0,
                FirdariaLord::Planet(Planet::Mars) => 7.0,
                FirdariaLord::NorthNode => 3.0,
                FirdariaLord::SouthNode => 2.0,
            };
            assert!(
                (one.until - one.from - years).abs() < 1e-9,
                "{:?}",
                one.lord
            );
            if let FirdariaLord::Planet(planet) = one.lord {
                assert_eq!(one.parts[0].0, planet);
                assert_eq!(one.parts[1].0, planet.down(1));
                assert!((one.parts[6].2 - one.until).abs() < 1e-9);
            }
        }
    }
}

/// The distributors follow the terms in order, by oblique ascensions.
#[test]
fn distributors_go_through_the_terms() {
    let here = horizon(51.5);
    let ascendant = at(Sign::Leo, 10.0, 0.0);
    let until = Angle::from_deg(100.0);
    let found = distributions(&here, ascendant, TermTable::Ptolemy, until).expect("they rise");
    let rises = |degree| here.oblique_ascension(degree).expect("it rises");
    let mut before = Angle::ZERO - Angle::from_deg(1.0);
    for one in &found {
        assert!(one.arc > before && one.arc <= until);
        near(rises(one.begins) - rises(ascendant), one.arc, 1e-6);
        before = one.arc;
        let (sign, deg) = figure::sign_and_degree(one.begins + Angle::from_deg(1e-9));
        assert_eq!(TermTable::Ptolemy.at(sign, deg).ruler, one.ruler);
    }
    assert!(found.len() > 10, "{}", found.len());
}

/// Twelve dodecatemoria fill a sign and begin with it (Firmicus, Mathesis II.13).
#[test]
fn dodecatemoria_go_round_in_a_sign() {
    near(
        dodecatemorion(at(Sign::Leo, 0.0, 0.0)),
        at(Sign::Leo, 0.0, 0.0),
        1e-6,
    );
    near(
        dodecatemorion(at(Sign::Leo, 2.0, 30.0)),
        at(Sign::Virgo, 0.0, 0.0),
        1e-6,
    );
    near(
        dodecatemorion(at(Sign::Leo, 29.0, 0.0)),
        at(Sign::Cancer, 18.0, 0.0),
        1e-6,
    );
}

/// By al-Qabīṣī's points, which add up to what the dignities of a degree hold.
#[test]
fn almutens_have_most_points() {
    let tables = figure::Author::Alqabisi.choices().dignities;
    // 20° Aries by day: Mars has the sign (5), the Sun exaltation and triplicity (7); the
    // third ruler of the triplicity, Saturn, takes part (3); the face is Venus's, at 20°.
    let claims = tables.claims(at(Sign::Aries, 20.0, 30.0), Sect::Day);
    let of = |planet| claims.iter().find(|(one, _)| *one == planet).expect("it").1;
    assert_eq!(
        (of(Planet::Sun), of(Planet::Saturn), of(Planet::Venus)),
        (7, 3, 1)
    );
    // The term from 20° to 25° is Mars's too, by the Egyptians.
    assert_eq!(of(Planet::Mars), 7);
    assert_eq!(
        tables.almutens(at(Sign::Aries, 20.0, 30.0), Sect::Day),
        [Planet::Mars, Planet::Sun]
    );
    assert_eq!(most(&[(Planet::Sun, 1), (Planet::Moon, 2)]), [Planet::Moon]);
}

#[test]
fn intercepted_signs_have_no_cusp() {
    let even = Cusps::given(std::array::from_fn(|n| {
        Angle::from_deg(30.0 * n as f64 + 12.0)
    }));
    assert!(even.expect("in order").intercepted().is_empty());
    let mut uneven: [Angle; 12] = std::array::from_fn(|n| Angle::from_deg(30.0 * n as f64 + 12.0));
    // The second house from 28° Aries to 2° Gemini holds Taurus.
    uneven[1] = Angle::from_deg(28.0);
    uneven[2] = Angle::from_deg(62.0);
    let uneven = Cusps::given(uneven).expect("in order");
    assert_eq!(uneven.intercepted(), [(Sign::Taurus, House::II)]);
}

/// A giver of life stands in one of Ptolemy's places, and its rulers are those of its degree.
#[test]
fn tests_of_givers_of_life() {
    let sky = Sky::at(Instant::from_jd_ut(2_460_000.75)).expect("in the span");
    let site = Site {
        latitude: Latitude::from_deg(42.9).expect("a latitude"),
        longitude: Angle::ZERO,
    };
    let figure = Figure::cast(&sky, site, 0.0, &Choices::default()).expect("in the span");
    let ascendant = figure.ascendant.expect("it rises");
    let tables = DignityTables::default();
    let found = figure.life_candidates(
        &tables,
        &[
            ("just risen", ascendant - Angle::from_deg(4.9)),
            ("above it", ascendant - Angle::from_deg(5.1)),
            ("descendant", ascendant + Angle::HALF_TURN),
        ],
    );
    let told: Vec<(House, bool)> = found
        .iter()
        .map(|one| (one.house, one.prorogative))
        .collect();
    assert_eq!(
        told,
        [(House::I, true), (House::XII, false), (House::VII, true)]
    );
    for one in &found {
        let rulers = tables.rulers(one.place);
        assert_eq!(one.rulers[0].0, rulers.rulership);
    }
}
