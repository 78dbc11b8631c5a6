//! What printed books work out by hand, row by row: antiscia, mansions, directions, poles.

mod common;

use common::{at, near};
use figure::{
    Choices, Cusps, DignityTables, Figure, Horizon, House, MansionZodiac, Planet, Sect, Site,
    antiscion, contra_antiscion, dodecatemorion, most,
};
use sky::{Angle, Instant, Latitude, Sign, Sky};

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
