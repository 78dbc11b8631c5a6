//! The finished figure: houses of bodies, lots, aspects, and what holds of them all.

#![expect(clippy::float_cmp, reason = "printed values, exact in binary")]

use figure::{
    AspectKind, BeamLimits, Border, Change, Choices, Cusps, Figure, GivenAngles, House, Lots,
    LotsByNight, Method, OrbTable, Sect, Site, UnderSun, antiscion, contra_antiscion,
};
use proptest::prelude::*;
use sky::{Angle, Body, Instant, Latitude, Sky};

fn figure(jd_ut: f64, latitude_deg: f64, choices: &Choices) -> (Sky, Site, Figure) {
    let sky = Sky::at(Instant::from_jd_ut(jd_ut)).expect("in the span");
    let site = Site {
        latitude: Latitude::from_deg(latitude_deg).expect("a latitude"),
        longitude: Angle::from_deg(-8.5449),
    };
    let figure = Figure::cast(&sky, site, 0.0, choices).expect("in the span");
    (sky, site, figure)
}

/// Chaucer II.4: what stands from five degrees above the degree that rises to
/// twenty-five below counts as with it; with equal houses that is the rule of five
/// degrees exactly.
#[test]
fn chaucers_five_degrees() {
    let cusps = Cusps::given(std::array::from_fn(|n| {
        Angle::from_deg(30.0 * n as f64 + 12.0)
    }))
    .expect("in order");
    let house = |deg| Border::FiveDegrees.house_of(&cusps, Angle::from_deg(deg));
    assert_eq!(house(12.0 - 5.0), House::I);
    assert_eq!(house(12.0 - 5.001), House::XII);
    assert_eq!(house(12.0 + 24.999), House::I);
    assert_eq!(house(12.0 + 25.0), House::II);
    assert_eq!(
        Border::Cusp.house_of(&cusps, Angle::from_deg(11.0)),
        House::XII
    );
}

#[test]
fn cusps_out_of_order_are_refused() {
    let mut cusps: [Angle; 12] = std::array::from_fn(|n| Angle::from_deg(30.0 * n as f64));
    assert!(Cusps::given(cusps).is_ok());
    cusps.swap(3, 4);
    let message = Cusps::given(cusps).expect_err("out of order").to_string();
    assert!(message.contains("order of the signs would do"), "{message}");
    cusps[5] = Angle::from_deg(f64::NAN);
    assert!(Cusps::given(cusps).is_err());
}

/// Lilly's limits, p. 113 (from memory): 17′, 8°30′ in the same sign, 17°.
#[test]
fn beams_of_the_sun() {
    let of = |sun, planet| BeamLimits::Lilly.of(Angle::from_deg(planet), Angle::from_deg(sun));
    assert_eq!(of(10.0, 10.28), Some(UnderSun::Heart));
    assert_eq!(of(10.0, 18.5), Some(UnderSun::Combust));
    assert_eq!(of(27.0, 33.0), Some(UnderSun::Beams), "another sign");
    assert_eq!(of(10.0, 27.0), Some(UnderSun::Beams));
    assert_eq!(of(10.0, 27.1), None);
    assert_eq!(of(359.0, 3.0), Some(UnderSun::Beams));
}

/// Stars stand where ERFA has them appear (`reference/stars_apparent.py`), with
/// aberration and nutation, which a mean place lacks.
#[test]
fn stars_near_the_figure_are_where_they_appear() {
    // As for the stars themselves; a longitude is wider than an arc by sec β, at most 6.
    let within = Angle::from_arcsec(0.03);
    let choices = Choices {
        star_orb: Angle::from_deg(10.0),
        ..Choices::default()
    };
    let (mut compared, mut furthest_arcsec) = (0, 0.0_f64);
    for row in include_str!("../../sky/tests/data/stars_apparent.csv").lines() {
        let fields: Result<Vec<f64>, _> = row.split(',').map(str::parse).collect();
        let Ok([hip, jd_tt, longitude, latitude, ..]) = fields.as_deref() else {
            continue;
        };
        let star = sky::star_named(&format!("HIP {hip}")).expect(row);
        if star.instrument_name.is_none() || latitude.abs() > 80.0 {
            continue;
        }
        let sky = Sky::at(Instant::from_jd_tt(*jd_tt)).expect(row);
        let site = Site {
            latitude: Latitude::from_deg(42.9).expect("a latitude"),
            longitude: Angle::from_deg(-8.5449),
        };
        let figure = Figure::cast(&sky, site, 0.0, &choices).expect("in the span");
        let expected = Angle::from_deg(*longitude);
        for near in figure.stars.iter().filter(|near| near.star == star.label()) {
            assert!(
                expected.to(near.longitude).abs() < within,
                "{row}: {near:?}"
            );
            compared += 1;
        }
        let mean = star.mean_place(sky::JulianEpoch::from_jd_tt(*jd_tt).expect(row));
        let mean = sky.ecliptic(mean.right_ascension, mean.declination).0;
        furthest_arcsec = furthest_arcsec.max(expected.to(mean).abs().arcsec());
    }
    assert!(compared > 100, "{compared}");
    // Mean places would not pass.
    assert!(furthest_arcsec > 20.0, "{furthest_arcsec}");
}

#[test]
fn antiscia_have_the_same_day() {
    // 10° Taurus and 20° Leo: Middleton (1679), p. 53.
    assert_eq!(antiscion(Angle::from_deg(40.0)).deg(), 140.0);
    assert_eq!(contra_antiscion(Angle::from_deg(40.0)).deg(), 320.0);
}

#[test]
fn lists_of_lots_say_what_is_wrong() {
    let wrong = |text: &str| {
        Lots::built_in()
            .extended_by(text)
            .expect_err(text)
            .to_string()
    };
    let lot = |day: &str| {
        format!("version = 1\n[[lot]]\nname = \"x\"\nday = \"{day}\"\nnight = \"same\"\n")
    };
    assert!(wrong("").contains("version = 1"));
    assert!(wrong("version = 1\nlots = 3").contains("`[[lot]]` would do"));
    assert!(wrong("version = 1\n[[lot]").contains("line 2"));
    assert!(wrong(&lot("ascendant + Moon")).contains("is no formula"));
    assert!(wrong(&lot("ascendant + Moon - Sun + Mars")).contains("A + B - C"));
    assert!(
        wrong(&lot("ascendant + Moon - x")).contains("before it"),
        "in a circle"
    );
    assert!(
        wrong("version = 1\n[[lot]]\nname = \"Moon\"\nday = \"same\"\nnight = \"same\"")
            .contains("cannot be the name")
    );
    assert!(wrong(&"#".repeat(300_000)).contains("bytes long"));
    assert!(Lots::built_in().all().len() >= 10);
    let more = lot("cusp VIII + ruler of II - north node");
    assert_eq!(
        Lots::built_in()
            .extended_by(&more)
            .expect("sound")
            .all()
            .len(),
        Lots::built_in().all().len() + 1
    );
}

proptest! {
    /// What would change by a little time does change when the time is changed so
    /// much, and not before.
    #[test]
    fn close_calls_come_true(jd in 2_300_000.0..2_600_000.0, latitude in -60.0..60.0) {
        const WITHIN_S: f64 = 240.0;
        let choices = Choices { border: Border::FiveDegrees, ..Choices::default() };
        let (sky, _, now) = figure(jd, latitude, &choices);
        for close in now.close_calls(&sky, &choices, WITHIN_S) {
            prop_assert!(close.seconds.abs() <= WITHIN_S);
            // Seconds of a day in a Julian date are known to 0.04 ms.
            let at = |more: f64| {
                let seconds = close.seconds + close.seconds.signum() * more;
                figure(jd + seconds / 86_400.0, latitude, &choices).2
            };
            if let Change::House(body, from, to) = close.change {
                prop_assert_eq!(at(-1.0).body(body).expect("shown").house, Some(from));
                prop_assert_eq!(at(1.0).body(body).expect("shown").house, Some(to));
                prop_assert!(close.away.expect("a degree").abs() < Angle::from_deg(5.0));
            }
            if let Change::Ascendant(..) | Change::Midheaven(..) = close.change {
                // A degree of the sphere turns by in the time; an ascendant goes six times as
                // fast at most, so far from the pole. What is to come lies ahead.
                let away = close.away.expect("a degree").deg();
                prop_assert!(away.abs() < 6.0 && away * close.seconds >= 0.0, "{close:?}");
            }
            if let Change::Hour(_, to) = close.change {
                prop_assert_eq!(at(1.0).hour.expect("rises").ruler, to);
            }
        }
    }

    /// Fortune and Spirit stand as far from the ascendant on either side, and
    /// Fortune is as far from the ascendant as the Moon from the Sun (Middleton 1679,
    /// p. 93).
    #[test]
    fn fortune_and_spirit(jd in 2_000_000.0..2_600_000.0, latitude in -65.0..65.0, unchanged: bool) {
        let by_night = if unchanged { LotsByNight::Unchanged } else { LotsByNight::AsListed };
        let choices = Choices { by_night, ..Choices::default() };
        let (_, _, figure) = figure(jd, latitude, &choices);
        let ascendant = figure.ascendant.expect("between the circles");
        let lot = |n: usize| figure.lots[n].expect("a lot").0;
        let moon = figure.body(Body::Moon).expect("shown").place.longitude;
        let sun = figure.body(Body::Sun).expect("shown").place.longitude;
        let sense = if figure.sect == Sect::Night && !unchanged { -1.0 } else { 1.0 };
        let from_ascendant = ascendant.to(lot(0));
        prop_assert!((from_ascendant - sun.to(moon) * sense).signed().abs().deg() < 1e-9);
        prop_assert!((from_ascendant + ascendant.to(lot(1))).signed().abs().deg() < 1e-9);
    }

    /// Every aspect lacks no more than half the sum of the orbs, and none that does is left out.
    #[test]
    fn aspects_are_all_and_only_those_within_their_moieties(jd in 1_600_000.0..2_680_000.0) {
        let choices = Choices { outer: true, orbs: OrbTable::Biruni, ..Choices::default() };
        let (_, _, figure) = figure(jd, 40.0, &choices);
        for (n, one) in figure.bodies.iter().enumerate() {
            for other in &figure.bodies[n + 1..] {
                let apart = one.place.longitude.to(other.place.longitude).abs();
                let limit = OrbTable::Biruni.moiety(one.body) + OrbTable::Biruni.moiety(other.body);
                let expected = AspectKind::ALL.into_iter().find(|kind| {
                    limit > Angle::ZERO && (apart - kind.arc()).abs() <= limit
                });
                let found = figure.aspects.iter().find(|aspect| {
                    [aspect.faster, aspect.slower].contains(&one.body)
                        && [aspect.faster, aspect.slower].contains(&other.body)
                });
                prop_assert_eq!(found.map(|aspect| aspect.kind), expected);
            }
        }
    }

    /// An aspect that applies is nearer exactness an hour later.
    #[test]
    fn applying_aspects_close(jd in 2_000_000.0..2_600_000.0) {
        let (_, _, now) = figure(jd, 40.0, &Choices::default());
        let (_, _, then) = figure(jd + 1.0 / 240.0, 40.0, &Choices::default());
        for aspect in &now.aspects {
            let later = then.aspects.iter().find(|one| (one.faster, one.slower) == (aspect.faster, aspect.slower));
            let Some(later) = later else { continue };
            // Exactness itself may be passed in the meantime, and a planet may stand still.
            if aspect.away > Angle::from_arcmin(6.0) && (later.away - aspect.away).abs().arcsec() > 0.1 {
                prop_assert_eq!(aspect.applying, later.away < aspect.away, "{:?}", aspect);
            }
        }
    }

    /// From its own exact angles, a figure comes out as it is.
    #[test]
    fn a_perfect_reading_changes_nothing(jd in 2_300_000.0..2_600_000.0, latitude in -60.0..60.0) {
        let choices = Choices { method: Method::Alcabitius, ..Choices::default() };
        let (sky, site, exact) = figure(jd, latitude, &choices);
        let given = GivenAngles {
            ascendant: exact.ascendant.expect("between the circles"),
            midheaven: exact.midheaven,
            cusps: exact.cusps.ok(),
            hours: None,
        };
        let read = Figure::from_angles(&sky, site, 0.0, &given, &choices).expect("in the span");
        for (one, other) in exact.bodies.iter().zip(&read.bodies) {
            prop_assert_eq!(one.house, other.house);
        }
        // The Sun's 0.8″ of latitude is all that can part the sects.
        let altitude = site.horizon(&sky).position_of_degree(sky.sun().longitude).altitude;
        if altitude.abs().arcsec() > 10.0 {
            prop_assert_eq!(exact.sect, read.sect);
            prop_assert_eq!(&exact.lots, &read.lots);
            let (exact, read) = (exact.hour.expect("rises"), read.hour.expect("rises"));
            let to_border = sky.instant().seconds_since(exact.begins).min(exact.ends.seconds_since(sky.instant()));
            if to_border > 400.0 {
                prop_assert_eq!(exact.ruler, read.ruler);
            }
        }
    }
}
