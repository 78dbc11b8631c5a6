//! The points of accidental dignities as two books have them, what befalls a planet, and
//! whole sets of rules by author.

use figure::{
    Accident, AccidentPoints, AspectKind, Author, BeamLimits, Choices, Dignity, Figure,
    FortuneState, House, Planet, PointedStar, Points, Site, TermTable, UnderSun,
};
use sky::{Angle, Body, Instant, Latitude, Sign, Sky};

use AccidentPoints::{Lilly, Middleton};

/// J. Middleton, Practical Astrology (1679), p. 63, and W. Ramesey, Astrologia Restaurata
/// (1653), pp. 66–67, who has Lilly's table; the pages as transcribed (EEBO-TCP A50786 and
/// A57689). Where they part, both are given.
#[test]
fn points_of_two_books_row_by_row() {
    use AspectKind::{Conjunction, Opposition, Sextile, Square, Trine};
    use Planet::{Jupiter, Mars, Saturn, Venus};
    let house = Accident::House;
    let same = |accident, points: i32| {
        assert_eq!(Lilly.of(accident), Some(points), "{accident:?}");
        assert_eq!(Middleton.of(accident), Some(points), "{accident:?}");
    };
    for (houses, points) in [
        (&[House::I, House::X][..], 5),
        (&[House::VII, House::IV, House::XI], 4),
        (&[House::II, House::V], 3),
        (&[House::IX], 2),
        (&[House::III], 1),
        (&[House::XII], -5),
    ] {
        for one in houses {
            same(house(*one), points);
        }
    }
    same(Accident::Direct, 4);
    same(Accident::Swift, 2);
    same(Accident::RisesOnItsSide, 2);
    same(Accident::FreeOfBeams, 5);
    same(Accident::Heart, 5);
    same(Accident::With(PointedStar::Spica), 5);
    same(Accident::Retrograde, -5);
    same(Accident::Slow, -2);
    same(Accident::RisesOnTheOther, -2);
    same(Accident::Combust, -5);
    same(Accident::UnderBeams, -4);
    same(Accident::Besieged, -5);
    same(Accident::SouthNode, -4);
    same(Accident::With(PointedStar::Algol), -5);
    for planet in [Jupiter, Venus] {
        same(Accident::Partile(Conjunction, planet), 5);
        same(Accident::Partile(Trine, planet), 4);
    }
    for planet in [Saturn, Mars] {
        same(Accident::Partile(Square, planet), -3);
    }
    // Lilly's and Ramesey's, then Middleton's.
    for (accident, ramesey, middleton) in [
        (house(House::VIII), Some(-2), Some(-4)),
        (house(House::VI), Some(-2), Some(-4)),
        (Accident::NorthNode, Some(4), Some(5)),
        (Accident::Partile(Sextile, Venus), Some(3), None),
        (Accident::Partile(Conjunction, Mars), Some(-5), Some(-4)),
        (Accident::Partile(Opposition, Saturn), Some(-4), Some(-5)),
        (Accident::With(PointedStar::Regulus), Some(6), None),
        (Accident::TermOf(Jupiter), None, Some(1)),
        (Accident::TermOf(Mars), None, Some(-1)),
        (Accident::TermOf(Planet::Mercury), None, None),
    ] {
        assert_eq!(Lilly.of(accident), ramesey, "{accident:?}");
        assert_eq!(Middleton.of(accident), middleton, "{accident:?}");
    }
}

/// Both books, p. 63 and pp. 66–67: 5, 4, 3, 2, 1, and 5, 4, 5 off; mutual reception by
/// house 5.
#[test]
fn points_of_essential_dignities_as_in_both_books() {
    for (dignity, points) in [
        (Dignity::Rulership, 5),
        (Dignity::RulershipExchanged, 5),
        (Dignity::Exaltation, 4),
        (Dignity::Triplicity, 3),
        (Dignity::Term, 2),
        (Dignity::Face, 1),
        (Dignity::Detriment, -5),
        (Dignity::Fall, -4),
        (Dignity::Peregrine, -5),
    ] {
        assert_eq!(Points::Lilly.of(dignity), points, "{dignity:?}");
    }
}

/// Middleton, p. 93, as transcribed.
#[test]
fn points_of_the_lot_of_fortune() {
    use AspectKind::{Conjunction, Opposition, Square, Trine};
    for (state, points) in [
        (FortuneState::In(Sign::Taurus), 5),
        (FortuneState::In(Sign::Gemini), 3),
        (FortuneState::In(Sign::Virgo), 2),
        (FortuneState::In(Sign::Aries), 0),
        (FortuneState::In(Sign::Aquarius), -5),
        (FortuneState::House(House::X), 5),
        (FortuneState::House(House::XI), 4),
        (FortuneState::House(House::V), 3),
        (FortuneState::House(House::IX), 2),
        (FortuneState::House(House::III), 1),
        (FortuneState::House(House::XII), -5),
        (FortuneState::House(House::VIII), -4),
        (FortuneState::Combust(false), 5),
        (FortuneState::Combust(true), -5),
        (FortuneState::Partile(Conjunction, Planet::Venus), 5),
        (FortuneState::Partile(Trine, Planet::Jupiter), 3),
        (FortuneState::Partile(Conjunction, Planet::Mars), -5),
        (FortuneState::Partile(Opposition, Planet::Saturn), -4),
        (FortuneState::Partile(Square, Planet::Saturn), -3),
        (FortuneState::Node(true), 2),
        (FortuneState::Node(false), -3),
        (FortuneState::With(PointedStar::Regulus), 6),
        (FortuneState::With(PointedStar::Spica), 5),
        (FortuneState::With(PointedStar::Algol), -4),
        (FortuneState::TermOf(Planet::Mars), -2),
    ] {
        assert_eq!(state.points(), Some(points), "{state:?}");
    }
    assert_eq!(FortuneState::TermOf(Planet::Venus).points(), None);
}

/// What is counted of the lot is what it stands in: in the first six degrees of Aries,
/// which are Jupiter's term in both tables (Ptolemy, Tetrabiblos I.20–21), it is in that.
#[test]
fn the_lot_of_fortune_stands_in_a_term() {
    let (sky, figure) = cast(2_460_000.5);
    let states = figure.fortune_states(&sky, &Choices::default(), Angle::from_deg(3.0));
    assert!(states.contains(&FortuneState::In(Sign::Aries)));
    assert!(states.contains(&FortuneState::TermOf(Planet::Jupiter)));
}

/// Middleton, pp. 70–72: combust within 8°30′, under the beams within 17°, in the heart
/// within 16′ of longitude and of latitude. (Lilly has 17′.)
#[test]
fn the_heart_is_asked_for_in_latitude_too() {
    let sky = Sky::at(Instant::from_jd_ut(2_460_000.5)).expect("in the span");
    let sun = sky.sun();
    let planet = |away_arcmin: f64, latitude_deg: f64| {
        let mut place = sun;
        place.longitude = (sun.longitude + Angle::from_arcmin(away_arcmin)).in_turn();
        place.latitude = Latitude::from_deg(latitude_deg).expect("a latitude");
        place
    };
    let of = |away, latitude| BeamLimits::Middleton.of_body(&planet(away, latitude), &sun);
    assert_eq!(of(15.9, 0.1), Some(UnderSun::Heart));
    assert_eq!(of(15.9, 0.3), Some(UnderSun::Combust));
    assert_eq!(of(16.1, 0.0), Some(UnderSun::Combust));
    assert_eq!(of(8.5 * 60.0 - 0.1, 0.0), Some(UnderSun::Combust));
    assert_eq!(of(8.5 * 60.0 + 0.1, 0.0), Some(UnderSun::Beams));
    assert_eq!(of(17.0 * 60.0 + 0.1, 0.0), None);
    let lilly = BeamLimits::Lilly.of_body(&planet(16.5, 2.0), &sun);
    assert_eq!(lilly, Some(UnderSun::Heart));
}

fn cast(jd_ut: f64) -> (Sky, Figure) {
    let sky = Sky::at(Instant::from_jd_ut(jd_ut)).expect("in the span");
    let site = Site {
        latitude: Latitude::from_deg(51.5).expect("a latitude"),
        longitude: Angle::ZERO,
    };
    let figure = Figure::cast(&sky, site, 0.0, &Choices::default()).expect("in the span");
    (sky, figure)
}

/// What must hold of every planet of every sky.
#[test]
fn what_befalls_is_of_one_kind_each() {
    let mut besieged = 0;
    for day in 0..2_000 {
        let (sky, figure) = cast(2_440_000.5 + 11.37 * f64::from(day));
        for planet in Planet::ALL {
            let found = figure.accidents(&sky, planet);
            let has = |accident| usize::from(found.contains(&accident));
            let light = matches!(planet, Planet::Sun | Planet::Moon);
            let way = has(Accident::Direct) + has(Accident::Retrograde);
            assert_eq!(way, usize::from(!light), "{planet} {found:?}");
            assert_eq!(has(Accident::Swift) + has(Accident::Slow), 1);
            let beams = has(Accident::FreeOfBeams)
                + has(Accident::Heart)
                + has(Accident::Combust)
                + has(Accident::UnderBeams);
            assert_eq!(beams, usize::from(planet != Planet::Sun));
            besieged += has(Accident::Besieged);
            // The Moon waxes while she sets after the Sun.
            if planet == Planet::Moon {
                let elongation =
                    figure.body(Body::Moon).expect("shown").place.longitude - sky.sun().longitude;
                let waxes = elongation.in_turn() < Angle::HALF_TURN;
                assert_eq!(found.contains(&Accident::RisesOnItsSide), waxes);
            }
            // The term that it stands in is told of, unless it is its own.
            let longitude = figure.body(planet.body()).expect("shown").place.longitude;
            let term = Choices::default().dignities.rulers(longitude).term;
            assert_eq!(has(Accident::TermOf(term)), usize::from(term != planet));
            let standing = figure.standing(planet).expect("shown");
            assert_eq!(
                standing.joy,
                figure
                    .body(planet.body())
                    .expect("shown")
                    .house
                    .map(|house| house == rejoices_in(planet))
            );
        }
    }
    // Of 14,000 places some lie so.
    assert!((10..1_000).contains(&besieged), "{besieged}");
}

/// W. Lilly, An Introduction to Astrology (1647; ed. 1852), pp. 28–34, house by house.
fn rejoices_in(planet: Planet) -> House {
    match planet {
        Planet::Mercury => House::I,
        Planet::Moon => House::III,
        Planet::Venus => House::V,
        Planet::Mars => House::VI,
        Planet::Sun => House::IX,
        Planet::Jupiter => House::XI,
        Planet::Saturn => House::XII,
    }
}

/// With an author nothing is mixed but where the book is silent, and a rule named besides
/// is told.
#[test]
fn a_set_is_whole_or_says_what_is_not_its_own() {
    for author in Author::ALL {
        let choices = author.choices();
        let mixed = author.mixed_with(&choices);
        assert!(
            mixed.iter().all(|one| one.own.is_none()),
            "{author:?} {mixed:?}"
        );
    }
    assert!(
        Author::Lilly
            .mixed_with(&Author::Lilly.choices())
            .is_empty()
    );
    let mut choices = Author::Lilly.choices();
    choices.dignities.terms = TermTable::Egyptian;
    let mixed = Author::Lilly.mixed_with(&choices);
    assert_eq!(mixed.len(), 1);
    assert_eq!(
        (mixed[0].rule, mixed[0].own, mixed[0].taken),
        ("terms", Some("lilly"), "egyptian")
    );
}
