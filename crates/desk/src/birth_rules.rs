//! The rules by which old books put a rough time of birth right from the figure itself:
//! what each says of a moment, no more.

use figure::{DignityTables, Horizon, Lunation, Planet, Sect, TermTable, TriplicityTable};
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Angle, Body, Phase, Sign, Sky, Zodiacal};
use words::{Degrees, TimeSpan};

use crate::answer::the;
use crate::casting::Casting;
use crate::revolution::capital;

/// What a rule says of a rough time.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BirthRuleAnswer {
    /// `animodar` or `trutine-of-hermes`.
    #[schemars(extend("enum" = ["animodar", "trutine-of-hermes"]))]
    pub rule: &'static str,
    /// Its name.
    pub title: &'static str,
    /// What it says, sentence by sentence.
    pub says: Vec<String>,
    /// `ascendant` or `midheaven`: which angle it puts right.
    pub angle: &'static str,
    /// The degree that it gives this angle.
    pub degree_deg: f64,
    /// When the angle has this degree, on the clock, to the second.
    pub clock_time: String,
    /// Where it is in print.
    pub source: &'static str,
}

/// Sidereal time runs so much faster than mean time (J. Meeus, Astronomical Algorithms,
/// 1998, eq. 12.4, from memory).
const TURNS_A_DAY: f64 = 1.002_737_909_35;
const DAY_S: f64 = 86_400.0;

/// The middle stay in the womb, in days, and how far the shortest and the longest are from it.
const MIDDLE_STAY: f64 = 273.0;
const STAY_VARIES: f64 = 15.0;

/// The rules that have an answer for a rough time.
pub(crate) fn birth_rules(casting: &Casting) -> Vec<BirthRuleAnswer> {
    [animodar(casting), trutine(casting)]
        .into_iter()
        .flatten()
        .collect()
}

/// Ptolemy's: from the new or full Moon before the birth, and the planet that has most to
/// say there.
fn animodar(casting: &Casting) -> Option<BirthRuleAnswer> {
    let sky = casting.moment.sky();
    let horizon = casting.horizon();
    let lunation = Lunation::before(sky).ok()?;
    let then = Sky::at(lunation.instant).ok()?;
    let (phase, light, degree) = if lunation.phase == Phase::New {
        ("new", "both lights stood", lunation.moon)
    } else if is_up(&casting.site().horizon(&then), &then, Body::Moon) {
        (
            "full",
            "the Moon, then above the earth, stood",
            lunation.moon,
        )
    } else {
        (
            "full",
            "the Sun, then above the earth, stood",
            then.sun().longitude,
        )
    };
    let sect = if is_up(&horizon, sky, Body::Sun) {
        Sect::Day
    } else {
        Sect::Night
    };
    let of_planet = |planet: Planet| claims(planet, degree, sky, sect);
    let most = Planet::ALL
        .map(|planet| of_planet(planet).len())
        .into_iter()
        .max()?;
    let (ascendant, midheaven) = (horizon.ascendant().ok()?, horizon.midheaven());
    let place = |planet: Planet| sky.body(planet.body()).longitude;
    let from_ascendant = |planet: &Planet| to_number(ascendant, place(*planet)).abs();
    let ruler = Planet::ALL
        .into_iter()
        .filter(|planet| of_planet(*planet).len() == most)
        .min_by(|one, other| {
            from_ascendant(one)
                .deg()
                .total_cmp(&from_ascendant(other).deg())
        })?;
    let by_ascendant = to_number(ascendant, place(ruler));
    let by_midheaven = to_number(midheaven, place(ruler));
    let (angle, at) = if by_ascendant.abs() <= by_midheaven.abs() {
        ("ascendant", ascendant + by_ascendant)
    } else {
        ("midheaven", midheaven + by_midheaven)
    };
    let (clock_time, moved) = when(casting, angle, at)?;
    let within = Degrees(Angle::from_deg(
        place(ruler).in_turn().deg().rem_euclid(30.0),
    ));
    Some(BirthRuleAnswer {
        rule: "animodar",
        title: "The animodar",
        says: vec![
            format!(
                "At the {phase} Moon before it {light} at {}.",
                Zodiacal(degree)
            ),
            format!(
                "{} has most claims on that degree: {}.",
                capital(&the(ruler.name())),
                of_planet(ruler).join(", ")
            ),
            format!(
                "It stands at {within} of its sign. To that number the {angle} is the nearer of \
                 the two, and would be {}: {moved}.",
                Zodiacal(at)
            ),
        ],
        angle,
        degree_deg: at.in_turn().deg(),
        clock_time,
        source: "Ptolemy, Tetrabiblos III.2, tr. J. M. Ashmand (1822, III.3, pp. 74–75) and \
                 F. E. Robbins (1940, pp. 229–235)",
    })
}

/// That of Hermes: the Moon's place at the birth rose at the conception, and the Moon's place
/// at the conception rises at the birth.
fn trutine(casting: &Casting) -> Option<BirthRuleAnswer> {
    let moment = &casting.moment;
    let horizon = casting.horizon();
    let ascendant = horizon.ascendant().ok()?;
    let moon = moment.sky().body(Body::Moon).longitude;
    // From the ascendant on below the earth, and from the descendant on above it.
    let past = (moon - ascendant).in_turn();
    let (side, from_middle) = if past < Angle::HALF_TURN {
        ("below", past / Angle::HALF_TURN)
    } else {
        ("above", past / Angle::HALF_TURN - 2.0)
    };
    let stay = MIDDLE_STAY + STAY_VARIES * from_middle;
    let about = Sky::at(moment.instant().plus_seconds(-stay * DAY_S)).ok()?;
    let there = casting.site().horizon(&about);
    let turn = turn_until(&there, "ascendant", moon)?;
    let conceived = about.instant().plus_seconds(seconds_of(turn));
    let at = Sky::at(conceived).ok()?.body(Body::Moon).longitude;
    let (clock_time, moved) = when(casting, "ascendant", at)?;
    let date = moment.clock_at(conceived).ok()?.date;
    Some(BirthRuleAnswer {
        rule: "trutine-of-hermes",
        title: "The trutine of Hermes",
        says: vec![
            format!(
                "The Moon, at {}, stands {side} the earth, {} past the {}: the stay in the womb \
                 was {stay:.1} days, from {date}.",
                Zodiacal(moon),
                Degrees(if side == "below" {
                    past
                } else {
                    past - Angle::HALF_TURN
                }),
                if side == "below" {
                    "ascendant"
                } else {
                    "descendant"
                },
            ),
            format!(
                "When her degree rose on that day she stood at {}; that would be the ascendant \
                 of the birth: {moved}.",
                Zodiacal(at)
            ),
        ],
        angle: "ascendant",
        degree_deg: at.in_turn().deg(),
        clock_time,
        source: "pseudo-Ptolemy, Centiloquium 51, tr. J. M. Ashmand (1822, p. 157); the days by the Moon’s distance as Abraham ibn \
                 Ezra has them, The Book of Nativities (from memory)",
    })
}

/// Why a planet has something to say in a degree, in Ptolemy's five ways.
fn claims(planet: Planet, degree: Angle, sky: &Sky, sect: Sect) -> Vec<&'static str> {
    let tables = DignityTables {
        terms: TermTable::Ptolemy,
        triplicities: TriplicityTable::Ptolemy,
        ..DignityTables::default()
    };
    let rulers = tables.rulers(degree);
    let sign = |longitude: Angle| figure::sign_and_degree(longitude).0;
    let place = |sign: Sign| Sign::ALL.iter().position(|one| *one == sign).unwrap_or(0);
    let from = place(sign(sky.body(planet.body()).longitude));
    let apart = (place(sign(degree)) + 12 - from) % 12;
    let sees = matches!(apart, 0 | 2 | 3 | 4 | 6 | 8 | 9 | 10);
    [
        (rulers.triplicity.rules(planet, sect), "the triplicity"),
        (rulers.rulership == planet, "the house"),
        (rulers.exaltation == Some(planet), "the exaltation"),
        (rulers.term == planet, "the terms"),
        (sees, "the aspect"),
    ]
    .into_iter()
    .filter_map(|(has, name)| has.then_some(name))
    .collect()
}

fn is_up(horizon: &Horizon, sky: &Sky, body: Body) -> bool {
    let place = sky.body(body);
    let position = horizon.position(place.right_ascension, place.declination);
    position.altitude > Angle::ZERO
}

/// From an angle the short way to the nearest degree that has the number of another within
/// its sign.
fn to_number(angle: Angle, other: Angle) -> Angle {
    let apart = (other - angle).deg();
    Angle::from_deg((apart + 15.0).rem_euclid(30.0) - 15.0)
}

/// How far the heavens turn, the short way, until an angle has a degree.
fn turn_until(horizon: &Horizon, angle: &str, degree: Angle) -> Option<Angle> {
    let culminates = match angle {
        "ascendant" => horizon.oblique_ascension(degree).ok()? - Angle::QUARTER_TURN,
        _ => horizon.right_ascension(degree),
    };
    Some(horizon.sidereal_time.to(culminates))
}

fn seconds_of(turn: Angle) -> f64 {
    turn.deg() / 360.0 / TURNS_A_DAY * DAY_S
}

/// When an angle has a degree, on the clock; and the same in words, with how far that is
/// from the time given.
fn when(casting: &Casting, angle: &str, degree: Angle) -> Option<(String, String)> {
    let moment = &casting.moment;
    let turn = turn_until(&casting.horizon(), angle, degree)?;
    let seconds = seconds_of(turn).round();
    let clock = moment
        .clock_at(moment.instant().plus_seconds(seconds))
        .ok()?;
    let clock_time = clock.plus_seconds(clock.time.seconds().round() - clock.time.seconds());
    let clock_time = clock_time.to_string();
    let (_, time) = clock_time.split_once(' ')?;
    let way = if seconds < 0.0 { "earlier" } else { "later" };
    let apart = TimeSpan(Angle::from_hours(seconds / 3600.0));
    let said = format!("at {time}, {apart} {way}");
    Some((clock_time, said))
}
