//! The tables of dignities against what their books say of them.

#![expect(clippy::float_cmp, reason = "printed values, exact in binary")]

use figure::{
    Aspect, AspectKind, Dignity, DignityTables, OrbTable, Planet, Points, ReceptionRule, Sect,
    TermTable, TriplicityTable, exaltation_of_planet, sign_and_degree,
};
use sky::{Angle, Body, Sign};

fn degree(sign: Sign, deg: f64) -> Angle {
    sign.begins() + Angle::from_deg(deg)
}

/// Degrees of the whole zodiac that are a planet's own terms.
fn degrees_of(table: TermTable, planet: Planet) -> u32 {
    let mut total = 0;
    for sign in Sign::ALL {
        let mut from = 0;
        for term in table.of(sign) {
            if term.ruler == planet {
                total += u32::from(term.end_deg - from);
            }
            from = term.end_deg;
        }
    }
    total
}

/// Ptolemy sums both tables (ed. Boll and Boer 1940, I.21.11 and 30): Saturn has
/// 57 degrees, Jupiter 79, Mars 66, Venus 82, Mercury 76, their greater years.
#[test]
fn terms_sum_to_the_planets_greater_years() {
    for table in [TermTable::Egyptian, TermTable::Ptolemy] {
        for (planet, years) in [
            (Planet::Saturn, 57),
            (Planet::Jupiter, 79),
            (Planet::Mars, 66),
            (Planet::Venus, 82),
            (Planet::Mercury, 76),
        ] {
            assert_eq!(
                degrees_of(table, planet),
                years,
                "{planet}, {}",
                table.name()
            );
        }
    }
}

#[test]
fn every_sign_has_five_terms_of_five_planets_and_ends_at_30() {
    for table in TermTable::ALL {
        for sign in Sign::ALL {
            let terms = table.of(sign);
            assert_eq!(terms[4].end_deg, 30, "{sign:?}");
            assert!(
                terms
                    .windows(2)
                    .all(|pair| pair[0].end_deg < pair[1].end_deg)
            );
            for planet in Planet::ALL {
                let light = matches!(planet, Planet::Sun | Planet::Moon);
                let has = terms.iter().filter(|term| term.ruler == planet).count();
                assert_eq!(has, usize::from(!light), "{planet} in {sign:?}");
            }
        }
    }
}

/// A term begins where the one before it ends: the first degree of Aries is from
/// 0° to 1°, and Jupiter's term there is its first six degrees.
#[test]
fn borders_belong_to_what_begins() {
    let at = |deg| {
        DignityTables::default()
            .rulers(degree(Sign::Aries, deg))
            .term
    };
    assert_eq!(at(5.999), Planet::Jupiter);
    assert_eq!(at(6.0), Planet::Venus);
    assert_eq!(sign_and_degree(Angle::from_deg(30.0)), (Sign::Taurus, 0.0));
    assert_eq!(sign_and_degree(Angle::from_deg(-1.0)).0, Sign::Pisces);
}

/// The faces go round the seven planets five times and once more Mars, who has the
/// last of Pisces and the first of Aries (Middleton 1679, p. 60).
#[test]
fn mars_has_both_ends_of_the_year() {
    let face = |n: u32| {
        let middle = Angle::from_deg(f64::from(10 * n + 5));
        DignityTables::default().rulers(middle).face
    };
    assert_eq!(
        (face(0), face(1), face(2)),
        (Planet::Mars, Planet::Sun, Planet::Venus)
    );
    assert_eq!(face(35), Planet::Mars);
    for planet in Planet::ALL {
        let count = (0..36).filter(|n| face(*n) == planet).count();
        assert_eq!(
            count,
            if planet == Planet::Mars { 6 } else { 5 },
            "{planet}"
        );
    }
}

/// The lights have one sign, the others two; each exaltation lies in the sign that
/// the table of exaltations gives, and no planet is exalted where it rules, but
/// Mercury in Virgo.
#[test]
fn rulers_and_exaltations_fit_together() {
    let tables = DignityTables::default();
    for planet in Planet::ALL {
        let ruled = Sign::ALL
            .into_iter()
            .filter(|sign| tables.rulers(sign.begins()).rulership == planet);
        let light = matches!(planet, Planet::Sun | Planet::Moon);
        assert_eq!(ruled.count(), if light { 1 } else { 2 }, "{planet}");
        // The 19th degree of Aries is the one that ends at 19°.
        let inside = exaltation_of_planet(planet) - Angle::from_deg(0.5);
        let rulers = tables.rulers(inside);
        assert_eq!(rulers.exaltation, Some(planet));
        assert_eq!(rulers.rulership == planet, planet == Planet::Mercury);
    }
}

/// Worked by the printed points: J. Middleton, Practical Astrology (1679), p. 63.
#[test]
fn points_are_added_as_printed() {
    let tables = DignityTables {
        terms: TermTable::Egyptian,
        ..DignityTables::default()
    };
    let score = |planet, sign, deg, sect| {
        let dignities = tables.of(planet, degree(sign, deg), sect);
        (dignities.all().collect::<Vec<_>>(), dignities.score())
    };
    use Dignity::{Detriment, Exaltation, Face, Fall, Peregrine, Rulership, Term, Triplicity};
    // Mercury at 3° Virgo: ruler, exalted, and in his own term.
    assert_eq!(
        score(Planet::Mercury, Sign::Virgo, 3.0, Sect::Day),
        (vec![Rulership, Exaltation, Term], 11)
    );
    // The Sun at 12° Leo by day rules sign and triplicity; the face is Jupiter's.
    assert_eq!(
        score(Planet::Sun, Sign::Leo, 12.0, Sect::Day),
        (vec![Rulership, Triplicity], 8)
    );
    assert_eq!(
        score(Planet::Sun, Sign::Leo, 12.0, Sect::Night),
        (vec![Rulership], 5)
    );
    // Saturn at 27° Aries: in its fall, but in its own term.
    assert_eq!(
        score(Planet::Saturn, Sign::Aries, 27.0, Sect::Day),
        (vec![Term, Fall], -2)
    );
    // Venus at 22° Aries: in detriment, with her face.
    assert_eq!(
        score(Planet::Venus, Sign::Aries, 22.0, Sect::Day),
        (vec![Face, Detriment], -4)
    );
    // The Moon at 15° Libra: nothing is hers.
    let (what, points) = score(Planet::Moon, Sign::Libra, 15.0, Sect::Day);
    assert_eq!((what, points), (vec![Peregrine], -5));
    let kinder = DignityTables {
        points: Points::Alqabisi,
        ..tables
    };
    assert_eq!(
        kinder
            .of(Planet::Moon, degree(Sign::Libra, 15.0), Sect::Day)
            .score(),
        0
    );
}

/// The three tables part over the watery signs; `printed_tables.rs` has the pages.
#[test]
fn triplicities_differ_in_the_watery_signs() {
    let of = |table: TriplicityTable, sect| {
        Planet::ALL
            .into_iter()
            .filter(|planet| table.of(Sign::Pisces).rules(*planet, sect))
            .collect::<Vec<_>>()
    };
    assert_eq!(of(TriplicityTable::Lilly, Sect::Day), [Planet::Mars]);
    assert_eq!(
        of(TriplicityTable::Ptolemy, Sect::Day),
        [Planet::Mars, Planet::Venus]
    );
    assert_eq!(
        of(TriplicityTable::Ptolemy, Sect::Night),
        [Planet::Mars, Planet::Moon]
    );
    assert_eq!(
        of(TriplicityTable::Dorotheus, Sect::Day),
        [Planet::Venus, Planet::Moon]
    );
    for table in TriplicityTable::ALL {
        assert!(table.of(Sign::Aries).rules(Planet::Sun, Sect::Day));
        assert!(!table.of(Sign::Aries).rules(Planet::Sun, Sect::Night));
    }
}

/// The Sun's 17° and the Moon's 12°30′ (Middleton 1679, p. 57) make a limit of 14°45′.
#[test]
fn moieties_are_half_the_orbs() {
    let sum = OrbTable::Lilly.moiety(Body::Sun) + OrbTable::Lilly.moiety(Body::Moon);
    assert_eq!(sum.deg(), 14.75);
    assert_eq!(OrbTable::Biruni.moiety(Body::Mars).deg(), 4.0);
    for table in OrbTable::ALL {
        assert_eq!(table.moiety(Body::Pluto).deg(), 0.0);
        assert!(table.moiety(Body::Sun) > table.moiety(Body::Mercury));
    }
}

/// J. Middleton, Practical Astrology (1679), I.8, p. 71: the Sun in Cancer and the Moon in
/// Leo receive each other by house, the Sun in Taurus and the Moon in Aries by exaltation;
/// I.7, p. 63, counts 5 and 4 for it.
#[test]
fn mutual_reception_counts_by_house_and_by_exaltation() {
    let tables = |receptions| DignityTables {
        receptions,
        ..DignityTables::default()
    };
    let dignities = |rule, sun: Sign, other: (Planet, Sign)| {
        // Degrees in which neither has a term or a face of its own.
        let places = [
            (Planet::Sun, degree(sun, 15.0)),
            (other.0, degree(other.1, 22.0)),
        ];
        tables(rule).among(Planet::Sun, places[0].1, Sect::Night, &places)
    };
    for rule in [ReceptionRule::Counted, ReceptionRule::PointsAlone] {
        let by_house = dignities(rule, Sign::Cancer, (Planet::Moon, Sign::Leo));
        assert!(by_house.has(Dignity::RulershipExchanged));
        assert!(!by_house.has(Dignity::ExaltationExchanged));
        let by_exaltation = dignities(rule, Sign::Taurus, (Planet::Moon, Sign::Aries));
        assert!(by_exaltation.has(Dignity::ExaltationExchanged));
        assert!(!by_exaltation.has(Dignity::RulershipExchanged));
    }
    // The Sun in Sagittarius and Jupiter in Leo, with and without.
    let score = |rule| {
        let found = dignities(rule, Sign::Sagittarius, (Planet::Jupiter, Sign::Leo));
        (found.has(Dignity::Peregrine), found.score())
    };
    assert_eq!(score(ReceptionRule::Counted), (false, 5));
    assert_eq!(score(ReceptionRule::PointsAlone), (true, 0));
    assert_eq!(score(ReceptionRule::LeftOut), (true, -5));
    // One alone in the other's sign is received, not in mutual reception.
    let alone = dignities(
        ReceptionRule::Counted,
        Sign::Cancer,
        (Planet::Moon, Sign::Virgo),
    );
    assert!(!alone.has(Dignity::RulershipExchanged));
}

#[test]
fn who_receives_whom_by_which_dignity() {
    let places = [
        (Planet::Sun, degree(Sign::Cancer, 15.0)),
        (Planet::Moon, degree(Sign::Leo, 22.0)),
        (Planet::Saturn, degree(Sign::Aries, 5.0)),
    ];
    let found = DignityTables::default().receptions(&places, Sect::Day, &[]);
    let between = |guest, host| {
        let mut found = found
            .iter()
            .filter(|one| (one.guest, one.host) == (guest, host));
        found.next().map(|one| (one.by, one.in_return))
    };
    let house = Dignity::Rulership;
    assert_eq!(
        between(Planet::Sun, Planet::Moon),
        Some((house, Some(house)))
    );
    assert_eq!(
        between(Planet::Moon, Planet::Sun),
        Some((house, Some(house)))
    );
    // Saturn in Aries, where the Sun is exalted, has nothing at 15° Cancer.
    assert_eq!(
        between(Planet::Saturn, Planet::Sun),
        Some((Dignity::Exaltation, None))
    );
    assert_eq!(between(Planet::Sun, Planet::Saturn), None);
}

/// A reception is told with the aspect of the two that receive each other, whichever of them
/// is the faster, and with no other's.
#[test]
fn who_is_received_is_told_with_their_own_aspect() {
    let places = [
        (Planet::Mars, degree(Sign::Leo, 10.0)),
        (Planet::Mercury, degree(Sign::Aries, 10.0)),
        (Planet::Venus, degree(Sign::Libra, 10.0)),
    ];
    let aspect = |faster: Planet, slower: Planet, kind| Aspect {
        faster: faster.body(),
        slower: slower.body(),
        kind,
        away: Angle::ZERO,
        limit: Angle::from_deg(7.0),
        applying: false,
        by_sign: true,
    };
    let aspects = [
        aspect(Planet::Venus, Planet::Mars, AspectKind::Sextile),
        aspect(Planet::Mercury, Planet::Venus, AspectKind::Opposition),
        aspect(Planet::Mercury, Planet::Mars, AspectKind::Trine),
    ];
    let found = DignityTables::default().receptions(&places, Sect::Day, &aspects);
    let between = |guest, host| {
        let mut found = found.iter();
        found
            .find(|one| (one.guest, one.host) == (guest, host))
            .map(|one| one.aspect)
    };
    // Mercury is in the house of Mars.
    assert_eq!(
        between(Planet::Mercury, Planet::Mars),
        Some(Some(AspectKind::Trine))
    );
    for one in &found {
        let pair = [one.guest, one.host];
        let wanted = if !pair.contains(&Planet::Venus) {
            AspectKind::Trine
        } else if pair.contains(&Planet::Mars) {
            AspectKind::Sextile
        } else {
            AspectKind::Opposition
        };
        assert_eq!(one.aspect, Some(wanted), "{pair:?}");
    }
}
