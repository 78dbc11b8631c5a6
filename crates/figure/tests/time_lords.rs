//! Who rules the years of a life, as the books work it: profections, years of the planets,
//! decennials, firdaria, distributors.

mod common;

use common::{at, near};
use figure::{
    Beginner, DecennialDays, Decennials, FirdariaByNight, FirdariaLord, Horizon, LordSpan, Planet,
    PlanetYears, Sect, TermTable, distributions, firdaria, handed_over, profected,
};
use sky::{Angle, Latitude, Sign};

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
    /// Whose it is, its months, days and hours; where a number is lost it is less than none.
    type Share = (Planet, f64, f64, f64);
    const LOST: f64 = -1.0;
    #[rustfmt::skip]
    let printed: [(Planet, [Share; 7]); 7] = [
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
    // The obliquity of the printers' tables.
    let here = Horizon {
        sidereal_time: Angle::ZERO,
        obliquity: Angle::from_deg(23.5),
        latitude: Latitude::from_deg(51.5).expect("a latitude"),
    };
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
