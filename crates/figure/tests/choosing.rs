//! When conditions hold: against a look at every minute that knows nothing of how they are
//! sought, against the books' own examples, and the ground on which no boundary is missed.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use figure::{
    Almanac, Arc, Aspect, AspectKind, AspectSought, BeamLimits, Border, Choices, Choosing,
    Condition, Dignity, FigureAngle, Horizon, House, Method, OrbTable, Planet, PlanetaryHour, Sect,
    Site, SolarDay, Spans, Sunrise, TermTable, TriplicityTable, UnderSun, Within,
};
use sky::{Angle, Body, Instant, Latitude, Sign, Sky, ingresses, moon_phases, stations};

const MINUTE_S: f64 = 60.0;
const DAY_S: f64 = 86_400.0;

/// Numbers without rhyme: SplitMix64.
struct Dice(u64);

impl Dice {
    fn below(&mut self, count: usize) -> usize {
        (self.unit() * count as f64) as usize
    }

    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    fn orb(&mut self) -> Angle {
        Angle::from_deg(0.5 + 9.0 * self.unit())
    }

    fn arc(&mut self) -> Arc {
        if self.below(2) == 0 {
            Arc::sign(self.of(&Sign::ALL))
        } else {
            Arc::about(Angle::from_deg(360.0 * self.unit()), self.orb())
        }
    }

    fn condition(&mut self) -> Condition {
        let body = self.of(&Body::ALL);
        let planet = self.of(&Planet::ALL);
        let dignity = self.of(&Dignity::ALL);
        let no_sun = self.of(&[Planet::Moon, Planet::Mercury, Planet::Venus, Planet::Mars]);
        match self.below(17) {
            0 => Condition::Ascendant(self.arc()),
            1 => Condition::Midheaven(self.arc()),
            2 => Condition::Stands(self.of(&[Body::Moon, Body::Sun, Body::Mercury]), self.arc()),
            3 | 4 => Condition::OnAngle(
                body,
                self.of(&[
                    FigureAngle::Ascendant,
                    FigureAngle::Midheaven,
                    FigureAngle::Descendant,
                    FigureAngle::LowerMidheaven,
                ]),
                self.orb(),
            ),
            5 | 6 => Condition::InHouse(body, self.of(&House::ALL)),
            7 => Condition::Waxing,
            8 | 9 => Condition::InAspect(AspectSought {
                one: Body::Moon,
                other: self.of(&[Body::Sun, Body::Venus, Body::Saturn, Body::Neptune]),
                kind: (self.below(2) == 0).then(|| self.of(&AspectKind::ALL)),
                applying: self.of(&[None, Some(true), Some(false)]),
                within: self.of(&[
                    Within::Orb(Angle::from_deg(6.0)),
                    Within::Moieties(OrbTable::Lilly),
                ]),
            }),
            10 => Condition::VoidOfCourse,
            11 => Condition::HourOf(planet),
            12 => Condition::DayOf(planet),
            13 => Condition::Direct(self.of(&[Body::Mercury, Body::Venus, Body::Pluto])),
            14 => self.of(&[
                Condition::Has(planet, dignity),
                Condition::Dignified(planet),
            ]),
            15 => self.of(&[Condition::UnderBeams(no_sun), Condition::Combust(no_sun)]),
            _ => Condition::ByDay,
        }
    }

    fn choices(&mut self) -> Choices {
        let mut choices = Choices {
            method: self.of(&Method::ALL),
            border: self.of(&Border::ALL),
            sunrise: self.of(&Sunrise::ALL),
            beams: self.of(&BeamLimits::ALL),
            ..Choices::default()
        };
        choices.dignities.terms = self.of(&TermTable::ALL);
        choices.dignities.triplicities = self.of(&TriplicityTable::ALL);
        choices
    }
}

/// What is so at every minute, from the ephemeris itself.
struct Minutes {
    skies: Vec<Sky>,
    site: Site,
}

impl Minutes {
    fn of(from: Instant, count: u32, site: Site) -> Minutes {
        let sky = |minute| Sky::at(from.plus_seconds(f64::from(minute) * MINUTE_S)).unwrap();
        Minutes {
            skies: (0..count).map(sky).collect(),
            site,
        }
    }

    fn holds(&self, condition: &Condition, choices: &Choices) -> Vec<bool> {
        match condition {
            Condition::VoidOfCourse => self.void_of_course(),
            Condition::HourOf(planet) => self.hours(choices, |hour| hour.ruler == *planet),
            Condition::DayOf(planet) => self.hours(choices, |hour| hour.day_ruler == *planet),
            _ => {
                let skies = self.skies.iter();
                skies.map(|sky| self.at(sky, condition, choices)).collect()
            }
        }
    }

    fn at(&self, sky: &Sky, condition: &Condition, choices: &Choices) -> bool {
        let horizon = self.site.horizon(sky);
        let sun = sky.sun();
        let up = horizon
            .position(sun.right_ascension, sun.declination)
            .altitude
            > Angle::ZERO;
        let sect = if up { Sect::Day } else { Sect::Night };
        let longitude = |body: Body| sky.body(body).longitude;
        let dignities = |planet: Planet| {
            let tables = choices.dignities;
            tables.of(planet, longitude(planet.body()), sect)
        };
        let under = |planet: Planet| choices.beams.of(longitude(planet.body()), sun.longitude);
        match *condition {
            Condition::Ascendant(arc) => horizon.ascendant().is_ok_and(|at| arc.holds(at)),
            Condition::Midheaven(arc) => arc.holds(horizon.midheaven()),
            Condition::Stands(body, arc) => arc.holds(longitude(body)),
            Condition::OnAngle(body, angle, orb) => {
                let (degree, turned) = match angle {
                    FigureAngle::Ascendant => (horizon.ascendant().ok(), 0.0),
                    FigureAngle::Descendant => (horizon.ascendant().ok(), 180.0),
                    FigureAngle::Midheaven => (Some(horizon.midheaven()), 0.0),
                    FigureAngle::LowerMidheaven => (Some(horizon.midheaven()), 180.0),
                };
                let away = |degree: Angle| {
                    let degree = degree + Angle::from_deg(turned);
                    degree.to(longitude(body)).abs()
                };
                degree.is_some_and(|degree| away(degree) <= orb)
            }
            Condition::InHouse(body, house) => {
                let cusps = choices.method.cusps(&horizon);
                let of = |cusps| choices.border.house_of(&cusps, longitude(body));
                cusps.is_ok_and(|cusps| of(cusps) == house)
            }
            Condition::Waxing => {
                (longitude(Body::Moon) - sun.longitude).in_turn() < Angle::HALF_TURN
            }
            Condition::InAspect(sought) => {
                let place = |body| (body, sky.body(body));
                let (one, other) = (place(sought.one), place(sought.other));
                match sought.within {
                    Within::Moieties(orbs) => {
                        let found = Aspect::between((one.0, &one.1), (other.0, &other.1), orbs);
                        found.is_some_and(|found| {
                            sought.kind.is_none_or(|kind| kind == found.kind)
                                && sought.applying.is_none_or(|wants| wants == found.applying)
                        })
                    }
                    Within::Orb(orb) => sought.kinds().any(|kind| {
                        let lacks = |hours: f64| {
                            let on = |(_, place): (Body, sky::Apparent)| {
                                place.longitude + place.speed * (hours / 24.0)
                            };
                            (on(one).to(on(other)).abs() - kind.arc()).abs()
                        };
                        let applies = lacks(0.001) < lacks(0.0);
                        lacks(0.0) <= orb && sought.applying.is_none_or(|wants| wants == applies)
                    }),
                }
            }
            Condition::Direct(body) => !sky.body(body).is_retrograde(),
            Condition::Has(planet, dignity) => dignities(planet).has(dignity),
            Condition::Dignified(planet) => !dignities(planet).has(Dignity::Peregrine),
            Condition::UnderBeams(planet) => under(planet).is_some(),
            Condition::Combust(planet) => under(planet).is_some_and(|how| how < UnderSun::Beams),
            Condition::ByDay => up,
            Condition::VoidOfCourse | Condition::HourOf(_) | Condition::DayOf(_) => unreachable!(),
        }
    }

    fn hours(&self, choices: &Choices, wanted: impl Fn(&PlanetaryHour) -> bool) -> Vec<bool> {
        let mut last: Option<SolarDay> = None;
        let of = |sky: &Sky| {
            let now = sky.instant();
            let holds = |day: &SolarDay| {
                now.seconds_since(day.begins) > 1.0 && day.ends.seconds_since(now) > 1.0
            };
            last = match last.filter(holds) {
                Some(day) => Some(day),
                None => SolarDay::at(sky, self.site, choices.sunrise).unwrap().ok(),
            };
            last.is_some_and(|day| wanted(&PlanetaryHour::at(&day, now, AHEAD_S)))
        };
        self.skies.iter().map(of).collect()
    }

    /// Backward through the minutes: where she leaves a sign she has just been void, and
    /// where she makes an aspect she was not. What comes behind the last minute is looked
    /// for until she leaves her sign.
    fn void_of_course(&self) -> Vec<bool> {
        let last = self.skies.last().unwrap().instant();
        let beyond = Minutes::of(last.plus_seconds(MINUTE_S), 3 * 1440, self.site);
        let skies: Vec<&Sky> = self.skies.iter().chain(&beyond.skies).collect();
        let mut void = vec![false; skies.len()];
        for index in (0..skies.len() - 1).rev() {
            let (now, next) = (skies[index], skies[index + 1]);
            let moon = |sky: &Sky| sky.body(Body::Moon).longitude;
            let leaves = sign(moon(now)) != sign(moon(next));
            let perfects = Planet::ALL.into_iter().map(Planet::body).any(|body| {
                let apart = |sky: &Sky| moon(sky).to(sky.body(body).longitude);
                body != Body::Moon
                    && AspectKind::ALL.into_iter().any(|kind| {
                        [kind.arc(), -kind.arc()].into_iter().any(|arc| {
                            let (a, b) =
                                ((apart(now) - arc).signed(), (apart(next) - arc).signed());
                            a.abs() < Angle::from_deg(1.0) && (a < Angle::ZERO) != (b < Angle::ZERO)
                        })
                    })
            });
            void[index] = if leaves {
                true
            } else if perfects {
                false
            } else {
                void[index + 1]
            };
        }
        void.truncate(self.skies.len());
        void
    }
}

fn sign(longitude: Angle) -> u32 {
    (longitude.in_turn().deg() / 30.0).floor() as u32
}

/// An hour ahead of UT, all the year.
const AHEAD_S: f64 = 3600.0;

fn sought(almanac: &Almanac, site: Site, choices: &Choices, wishes: &[(Condition, bool)]) -> Spans {
    let choosing = Choosing {
        almanac,
        site,
        choices,
        clock_ahead_of_ut_s: &|_| AHEAD_S,
    };
    let bounds = almanac.bounds();
    let of = |(condition, wanted): &(Condition, bool)| {
        let spans = choosing.spans(condition).unwrap();
        if *wanted { spans } else { spans.not(bounds) }
    };
    let all = Spans::one(bounds.0, bounds.1);
    wishes.iter().fold(all, |all, one| all.and(&of(one)))
}

/// Holds what is found against a look at every minute; gives at how many of them it holds.
fn agreed(
    almanac: &Almanac,
    looks: &Minutes,
    choices: &Choices,
    wishes: &[(Condition, bool)],
) -> u32 {
    let spans = sought(almanac, looks.site, choices, wishes);
    let each: Vec<Vec<bool>> = wishes
        .iter()
        .map(|(condition, _)| looks.holds(condition, choices))
        .collect();
    let mut held = 0;
    for minute in 0..looks.skies.len() {
        let at = minute as f64 * MINUTE_S;
        let holds = wishes
            .iter()
            .zip(&each)
            .all(|((_, wanted), each)| each[minute] == *wanted);
        // To the second: within one of a boundary either is right.
        let near = spans
            .iter()
            .any(|(a, b)| (a - at).abs() < 1.0 || (b - at).abs() < 1.0);
        assert!(
            near || spans.contains(at) == holds,
            "{wishes:?} by {choices:?} from {:?} at {:?}, minute {minute}: {holds}",
            almanac.from(),
            looks.site
        );
        held += u32::from(holds);
    }
    held
}

/// Random questions, each of one to three conditions, some of them negated, at random
/// places and by random rules. `ALMURI_QUESTIONS=200` asks so many, of four days each.
#[test]
fn a_look_at_every_minute_agrees() {
    let asked = std::env::var("ALMURI_QUESTIONS");
    let (questions, days) = asked.map_or((20, 2), |count| (count.parse().unwrap(), 4));
    let (mut compared, mut held) = (0, 0);
    for question in 0..questions {
        let mut dice = Dice(question);
        let site = Site {
            latitude: Latitude::from_deg(128.0 * dice.unit() - 64.0).unwrap(),
            longitude: Angle::from_deg(360.0 * dice.unit() - 180.0),
        };
        let from = Instant::from_jd_ut(2_433_282.5 + 55_000.0 * dice.unit());
        let minutes = days * 1440;
        let almanac = Almanac::of(from, from.plus_seconds(f64::from(minutes) * MINUTE_S)).unwrap();
        let choices = dice.choices();
        let wishes: Vec<(Condition, bool)> = (0..1 + dice.below(3))
            .map(|_| (dice.condition(), dice.below(4) > 0))
            .collect();
        let looks = Minutes::of(from, minutes, site);
        held += agreed(&almanac, &looks, &choices, &wishes);
        compared += minutes;
    }
    assert!(held > compared / 50, "{held} of {compared} minutes hold");
}

/// What random questions seldom ask: every dignity of one planet, and aspects of two planets
/// of like speed, one of which turns back meanwhile.
#[test]
fn dignities_and_aspects_of_the_inner_planets_are_found() {
    let site = Site {
        latitude: Latitude::from_deg(40.0).unwrap(),
        longitude: Angle::ZERO,
    };
    let days = |from: f64, days: u32| {
        let from = Instant::from_jd_ut(from);
        let until = from.plus_seconds(f64::from(days) * DAY_S);
        let almanac = Almanac::of(from, until).unwrap();
        (almanac, Minutes::of(from, days * 1440, site))
    };
    let (almanac, looks) = days(2_460_310.5, 5);
    for dignity in Dignity::ALL {
        let wish = (Condition::Has(Planet::Moon, dignity), true);
        agreed(&almanac, &looks, &Choices::default(), &[wish]);
    }
    // Mercury overtakes the Sun on 28 February 2024, turns back on 1 April and forward on the
    // 25th, and meets Venus between.
    let mut held = 0;
    for from in [2_460_368.0, 2_460_401.0, 2_460_418.0, 2_460_425.0] {
        let (almanac, looks) = days(from, 2);
        for other in [Body::Sun, Body::Venus] {
            for applying in [true, false] {
                let aspect = Condition::InAspect(AspectSought {
                    one: Body::Mercury,
                    other,
                    kind: Some(AspectKind::Conjunction),
                    applying: Some(applying),
                    within: Within::Orb(Angle::from_deg(20.0)),
                });
                held += agreed(&almanac, &looks, &Choices::default(), &[(aspect, true)]);
            }
        }
    }
    assert!(held > 1440, "{held} minutes hold");
}

/// Beyond the polar circles the ascendant leaps, goes backward and passes signs over.
#[test]
fn the_ascendant_is_found_up_to_the_poles() {
    let from = Instant::from_jd_ut(2_461_406.5);
    let almanac = Almanac::of(from, from.plus_seconds(DAY_S)).unwrap();
    for latitude in [67.0, -70.5, 78.2, -85.0, 89.0] {
        let site = Site {
            latitude: Latitude::from_deg(latitude).unwrap(),
            longitude: Angle::from_deg(15.6),
        };
        let choices = Choices {
            method: Method::Equal,
            ..Choices::default()
        };
        let looks = Minutes::of(from, 1440, site);
        let rising = |body| {
            let orb = Angle::from_deg(5.0);
            Condition::OnAngle(body, FigureAngle::Ascendant, orb)
        };
        let asked = Sign::ALL.map(|sign| Condition::Ascendant(Arc::sign(sign)));
        let asked = asked.into_iter().chain([
            rising(Body::Jupiter),
            rising(Body::Saturn),
            Condition::InHouse(Body::Moon, House::X),
        ]);
        for condition in asked {
            let spans = sought(&almanac, site, &choices, &[(condition, true)]);
            for (minute, holds) in looks.holds(&condition, &choices).into_iter().enumerate() {
                let at = minute as f64 * MINUTE_S;
                let near = spans
                    .iter()
                    .any(|(a, b)| (a - at).abs() < 1.0 || (b - at).abs() < 1.0);
                assert!(
                    near || spans.contains(at) == holds,
                    "{condition:?} at {latitude}°, minute {minute}: {holds}"
                );
            }
        }
    }
}

/// The table is the ephemeris to what its documentation says.
#[test]
fn between_its_rows_the_almanac_is_the_ephemeris() {
    let site = Site {
        latitude: Latitude::from_deg(51.5).unwrap(),
        longitude: Angle::ZERO,
    };
    let mut dice = Dice(7);
    for _ in 0..30 {
        let from = Instant::from_jd_ut(2_305_448.0 + 370_000.0 * dice.unit());
        let almanac = Almanac::of(from, from.plus_seconds(10.0 * DAY_S)).unwrap();
        for _ in 0..40 {
            let at = 10.0 * DAY_S * dice.unit();
            let sky = Sky::at(from.plus_seconds(at)).unwrap();
            for body in Body::ALL {
                let off = almanac.longitude(body, at).to(sky.body(body).longitude);
                assert!(off.abs().arcsec() < 0.02, "{body}: {}″", off.arcsec());
            }
            let sidereal = almanac.horizon(site, at).sidereal_time;
            let off = sidereal.to(site.horizon(&sky).sidereal_time).abs();
            assert!(off.arcsec() < 15.1, "{}″", off.arcsec());
        }
    }
}

/// Ingresses, phases and stations of a year, each found by a search of its own.
#[test]
fn boundaries_are_those_of_the_events_to_the_second() {
    let [from, until] = [2_461_406.5, 2_461_771.5].map(Instant::from_jd_ut); // the year 2027
    let almanac = Almanac::of(from, until).unwrap();
    let site = Site {
        latitude: Latitude::ZERO,
        longitude: Angle::ZERO,
    };
    let choices = Choices::default();
    let begins = |condition: Condition| -> Vec<f64> {
        let spans = sought(&almanac, site, &choices, &[(condition, true)]);
        spans
            .iter()
            .map(|(begins, _)| begins)
            .filter(|at| *at > 0.0)
            .collect()
    };
    let same = |found: Vec<f64>, events: Vec<Instant>| {
        assert_eq!(found.len(), events.len());
        for (found, event) in found.iter().zip(&events) {
            let off = found - event.seconds_since(from);
            assert!(off.abs() < 0.5, "{off} s");
        }
    };
    for body in [Body::Sun, Body::Moon, Body::Mercury, Body::Mars] {
        let into_leo = ingresses(body, from, until).unwrap().map(Result::unwrap);
        let border = |retrograde| Angle::from_deg(if retrograde { 150.0 } else { 120.0 });
        let into_leo =
            into_leo.filter(|one| (one.border - border(one.retrograde)).abs().deg() < 1.0);
        same(
            begins(Condition::Stands(body, Arc::sign(Sign::Leo))),
            into_leo.map(|one| one.instant).collect(),
        );
    }
    let new = moon_phases(from, until).unwrap().map(Result::unwrap);
    let new = new.filter(|one| one.phase == sky::Phase::New);
    same(
        begins(Condition::Waxing),
        new.map(|one| one.instant).collect(),
    );
    let direct = stations(Body::Mercury, from, until)
        .unwrap()
        .map(Result::unwrap);
    let direct = direct.filter(|one| !one.turns_retrograde);
    same(
        begins(Condition::Direct(Body::Mercury)),
        direct.map(|one| one.instant).collect(),
    );
}

/// The ground for houses: up to 64° every cusp of every method goes forward, by more than
/// the Moon's 15.4° in the 361° of a day.
#[test]
fn up_to_64_degrees_every_cusp_outruns_the_moon() {
    const STEP_DEG: f64 = 0.25;
    for latitude in [
        -64.0, -60.0, -45.0, -20.0, 0.0, 30.0, 52.0, 60.0, 62.0, 64.0,
    ] {
        let latitude = Latitude::from_deg(latitude).unwrap();
        // Of 601 BC to 2650 AD.
        for obliquity in [23.35, 23.8] {
            for method in Method::ALL {
                let cusps = |step: u32| {
                    let horizon = Horizon {
                        sidereal_time: Angle::from_deg(f64::from(step) * STEP_DEG),
                        obliquity: Angle::from_deg(obliquity),
                        latitude,
                    };
                    method.cusps(&horizon).unwrap().all()
                };
                let mut before = cusps(0);
                for step in 1..=1440 {
                    let now = cusps(step);
                    for (house, (a, b)) in before.iter().zip(now).enumerate() {
                        let on = a.to(b).deg() / STEP_DEG;
                        if method != Method::WholeSign {
                            assert!(
                                on > 15.4 / 361.0,
                                "{method} at {latitude:?}, cusp {}, {}°: {on}",
                                house + 1,
                                f64::from(step) * STEP_DEG
                            );
                        }
                    }
                    before = now;
                }
            }
        }
    }
}

/// J. Middleton, Practical Astrology (1679): p. 80, the Moon of 6 January 1677 void at
/// noon, past Mars, and at three o'clock in Cancer on her way to Saturn; p. 142, that of 17
/// October 1674, half past nine in the evening, "from void": she had left Virgo, her last
/// aspect there the trine of Mars at 27°14′ (own computation). Julian dates, at London.
#[test]
fn the_moon_is_void_where_middleton_has_her_so() {
    let london = Site {
        latitude: Latitude::from_deg(51.5).unwrap(),
        longitude: Angle::ZERO,
    };
    let choices = Choices::default();
    let void = [(Condition::VoidOfCourse, true)];
    let almanac = |jd_ut: f64, days: f64| {
        let from = Instant::from_jd_ut(jd_ut);
        Almanac::of(from, from.plus_seconds(days * DAY_S)).unwrap()
    };
    let noon = almanac(2_333_588.0, 1.0); // 6 January 1677
    let spans = sought(&noon, london, &choices, &void);
    assert!(spans.contains(0.0) && !spans.contains(3.0 * 3600.0));
    let evening = 2_332_776.0 + 9.5 / 24.0; // 17 October 1674
    let before = almanac(evening - 2.0, 2.0);
    let spans = sought(&before, london, &choices, &void);
    let (from, until) = spans.iter().last().unwrap();
    let moon = |at| before.longitude(Body::Moon, at).deg();
    assert!(
        (moon(from) - (177.0 + 14.0 / 60.0)).abs() < 1.0 / 60.0,
        "{}",
        moon(from)
    );
    assert!((moon(until) - 180.0).abs() < 1e-4);
    assert!(!spans.contains(2.0 * DAY_S - 1.0));
}
