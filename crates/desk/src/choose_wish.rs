use figure::{
    Arc, AspectKind, AspectSought, Condition, Dignity, FigureAngle, House, OrbTable, Planet, Within,
};
use moment::WEEKDAYS;
use sky::{Angle, Body, Sign, Zodiacal};
use words::Degrees;

use crate::refusal::{Field, Refusal, quoted};

/// What someone who chooses a time wishes, as it was written and as it is understood.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Wish {
    /// As it was written.
    pub(crate) text: String,
    /// What is looked for.
    pub(crate) wanted: Wanted,
    /// Whether it must not be so.
    pub(crate) negated: bool,
    /// What it was taken for, in a sentence without its full stop.
    pub(crate) means: String,
}

/// What can be wished.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Wanted {
    /// Of the sky at the place.
    Sky(Condition),
    /// The clock stands between two times of day, in seconds since midnight.
    Clock(f64, f64),
    /// The day of the week by the clock, Monday being 0.
    Weekday(Vec<i32>),
}

/// The forms a wish can have, each by an example, with what it asks.
pub(crate) const FORMS: [(&str, &str); 24] = [
    ("ascendant in Leo", "a sign rises"),
    (
        "ascendant at 15 Leo within 3°",
        "a degree rises, or one so near",
    ),
    ("midheaven in Aries", "a sign culminates"),
    ("Moon in Taurus", "a planet is in a sign"),
    (
        "Moon at 3 Taurus within 1°",
        "a planet is at a degree, or so near",
    ),
    (
        "Jupiter rising within 5°",
        "its degree is so near the ascendant",
    ),
    (
        "Sun culminating",
        "its degree is within 5° of the midheaven",
    ),
    (
        "Saturn setting",
        "its degree is within 5° of the descendant",
    ),
    (
        "Mars at the lower midheaven",
        "its degree is within 5° of it",
    ),
    ("Jupiter in house 10", "a planet is in a house"),
    ("Moon waxing", "from new to full; or waning"),
    (
        "Moon applying to Venus",
        "towards any of the five aspects, within their orbs",
    ),
    (
        "Moon applying to Venus by trine within 6°",
        "towards one aspect, within so much",
    ),
    (
        "Moon separating from Saturn",
        "away from an aspect, within their orbs",
    ),
    ("Moon in aspect with Jupiter", "either way"),
    (
        "Moon not void of course",
        "she will yet make an aspect before she leaves her sign",
    ),
    ("hour of Venus", "the unequal hour is a planet's"),
    (
        "day of Jupiter",
        "the day, from sunrise to sunrise, is a planet's",
    ),
    ("Mercury direct", "or retrograde"),
    ("Venus dignified", "it has any of its five dignities"),
    (
        "Venus in its exaltation",
        "or rulership, triplicity, term, face, detriment, fall",
    ),
    ("Venus free of the Sun's beams", "or under them, or combust"),
    ("by day", "the Sun's centre above the horizon; or by night"),
    ("clock from 9:00 to 18:00", "and: on Monday or Thursday"),
];

/// Unless said, a planet on an angle is within this of it.
const NEAR_ANGLE: Angle = Angle::from_deg(5.0);

/// Unless said, a degree is meant with this either way.
const NEAR_DEGREE: Angle = Angle::from_deg(1.0);

impl Wish {
    /// A wish as it is written; orbs that are not said are of a table.
    pub(crate) fn parse(text: &str, orbs: OrbTable) -> Result<Wish, Refusal> {
        let plain = text
            .to_lowercase()
            .replace(['’', '\''], "’")
            .replace(',', " ");
        let mut tokens: Vec<&str> = plain
            .split_whitespace()
            .filter(|token| !["the", "is", "its", "his", "her", "a"].contains(token))
            .collect();
        let negations = tokens.iter().filter(|token| **token == "not").count();
        tokens.retain(|token| *token != "not");
        if negations > 1 {
            return Err(refused(text, "says “not” twice"));
        }
        let within = take_within(text, &mut tokens)?;
        let (wanted, turned) = understood(text, &tokens, within, orbs)?;
        let takes_orb = matches!(
            wanted,
            Wanted::Sky(
                Condition::Ascendant(_)
                    | Condition::Midheaven(_)
                    | Condition::Stands(..)
                    | Condition::OnAngle(..)
                    | Condition::InAspect(_)
            )
        );
        if within.is_some() && (!takes_orb || is_sign(&tokens)) {
            return Err(refused(text, "has nothing that “within” could go with"));
        }
        let negated = (negations == 1) != turned;
        let means = means(&wanted);
        Ok(Wish {
            text: text.split_whitespace().collect::<Vec<_>>().join(" "),
            means: if negated {
                format!("not: {means}")
            } else {
                means
            },
            wanted,
            negated,
        })
    }
}

fn is_sign(tokens: &[&str]) -> bool {
    tokens.len() == 3
        && tokens.get(1) == Some(&"in")
        && tokens.get(2).is_some_and(|one| sign(one).is_some())
}

fn refused(text: &str, why: &str) -> Refusal {
    let examples = FORMS.map(|(example, _)| example).join("; ");
    Refusal::new(
        Field::Wish,
        format!("{} {why}; these would do: {examples}", quoted(text)),
    )
    .of(text)
}

/// What follows “within”, at the end.
fn take_within(text: &str, tokens: &mut Vec<&str>) -> Result<Option<Angle>, Refusal> {
    let Some(at) = tokens
        .iter()
        .position(|token| *token == "within" || *token == "±")
    else {
        return Ok(None);
    };
    let said = tokens.split_off(at);
    let said: String = said.get(1..).unwrap_or_default().concat();
    let orb = parse_orb(&said);
    orb.filter(|deg| (0.01..=30.0).contains(deg))
        .map(|deg| Some(Angle::from_deg(deg)))
        .ok_or_else(|| {
            refused(
                text,
                "does not end in an orb of 0.01° to 30°, such as “within 5°”",
            )
        })
}

/// `5`, `5°`, `5°30′`, `30′`, in degrees.
fn parse_orb(said: &str) -> Option<f64> {
    let said = said
        .replace("degrees", "°")
        .replace("degree", "°")
        .replace('’', "′");
    let (degrees, minutes) = match said.split_once('°') {
        Some((degrees, minutes)) => (degrees, minutes),
        None if said.ends_with('′') => ("0", said.as_str()),
        None => (said.as_str(), ""),
    };
    let minutes = minutes.trim_end_matches('′');
    let minutes: f64 = if minutes.is_empty() {
        0.0
    } else {
        minutes.parse().ok()?
    };
    let degrees: f64 = degrees.parse().ok()?;
    ((0.0..60.0).contains(&minutes) && degrees >= 0.0).then_some(degrees + minutes / 60.0)
}

/// What is wished, and whether the words turn it round: waning is not waxing.
fn understood(
    text: &str,
    tokens: &[&str],
    within: Option<Angle>,
    orbs: OrbTable,
) -> Result<(Wanted, bool), Refusal> {
    let unknown = || refused(text, "is not understood");
    let plainly = |condition| Ok((Wanted::Sky(condition), false));
    let either = |condition, turned| Ok((Wanted::Sky(condition), turned));
    let a_body = |name: &str| {
        body(name).ok_or_else(|| {
            refused(
                text,
                &format!("names {}, which is no planet here", quoted(name)),
            )
        })
    };
    let a_planet = |name: &str| {
        let planet = Planet::of(a_body(name)?);
        planet.ok_or_else(|| {
            refused(
                text,
                "asks of a planet found since 1781 what the old tables have not",
            )
        })
    };
    let arc = |words: &[&str]| match words {
        ["in", name] => Ok(Arc::sign(sign(name).ok_or_else(|| {
            refused(text, &format!("names {}, which is no sign", quoted(name)))
        })?)),
        ["at", degree @ ..] => {
            let degree: Zodiacal = degree
                .join(" ")
                .parse()
                .map_err(|why| refused(text, &format!("is not understood: {why}")))?;
            Ok(Arc::about(degree.0, within.unwrap_or(NEAR_DEGREE)))
        }
        _ => Err(unknown()),
    };
    match tokens {
        ["ascendant", rest @ ..] => plainly(Condition::Ascendant(arc(rest)?)),
        ["midheaven", rest @ ..] => plainly(Condition::Midheaven(arc(rest)?)),
        ["hour", "of", planet] => plainly(Condition::HourOf(a_planet(planet)?)),
        ["day", "of", planet] => plainly(Condition::DayOf(a_planet(planet)?)),
        ["by", "day"] | ["sun", "above", "horizon"] => either(Condition::ByDay, false),
        ["by", "night"] | ["sun", "below", "horizon"] => either(Condition::ByDay, true),
        ["clock", "from", from, "to", until] => {
            let time = |said: &str| {
                time_of_day_s(said).ok_or_else(|| {
                    refused(
                        text,
                        &format!("has {}, which is no time of day", quoted(said)),
                    )
                })
            };
            let (from, until) = (time(from)?, time(until)?);
            if (from - until).abs() < 0.5 {
                return Err(refused(text, "begins and ends at one time"));
            }
            Ok((Wanted::Clock(from, until), false))
        }
        ["on", days @ ..] => {
            let names = days.iter().filter(|word| **word != "or" && **word != "and");
            let days: Option<Vec<i32>> = names.map(|name| weekday(name)).collect();
            let days = days.filter(|days| !days.is_empty());
            Ok((Wanted::Weekday(days.ok_or_else(unknown)?), false))
        }
        ["moon", "waxing"] => either(Condition::Waxing, false),
        ["moon", "waning"] => either(Condition::Waxing, true),
        ["moon", "void"] | ["moon", "void", "of", "course"] => plainly(Condition::VoidOfCourse),
        [one, "applying", "to", rest @ ..] => {
            aspect(text, a_body(one)?, rest, Some(true), within, orbs)
        }
        [one, "separating", "from", rest @ ..] => {
            aspect(text, a_body(one)?, rest, Some(false), within, orbs)
        }
        [one, "in", "aspect", "with" | "to", rest @ ..] => {
            aspect(text, a_body(one)?, rest, None, within, orbs)
        }
        [one, "in", "house", number] => {
            let house = house(number).ok_or_else(|| {
                refused(
                    text,
                    &format!(
                        "names {}, which is no house; 1 to 12 or I to XII",
                        quoted(number)
                    ),
                )
            })?;
            plainly(Condition::InHouse(a_body(one)?, house))
        }
        [one, "at", "lower", "midheaven"] => plainly(Condition::OnAngle(
            a_body(one)?,
            FigureAngle::LowerMidheaven,
            within.unwrap_or(NEAR_ANGLE),
        )),
        [one, "direct"] => either(Condition::Direct(a_body(one)?), false),
        [one, "retrograde"] => either(Condition::Direct(a_body(one)?), true),
        [one, "dignified"] => plainly(Condition::Dignified(a_planet(one)?)),
        [one, "peregrine"] => plainly(Condition::Has(a_planet(one)?, Dignity::Peregrine)),
        [one, "free", "of", "sun’s" | "suns", "beams"] => {
            either(Condition::UnderBeams(beamed(text, a_planet(one)?)?), true)
        }
        [one, "under", "sun’s" | "suns", "beams"] => {
            either(Condition::UnderBeams(beamed(text, a_planet(one)?)?), false)
        }
        [one, "combust"] => plainly(Condition::Combust(beamed(text, a_planet(one)?)?)),
        [one, "in", name] if dignity(name).is_some() => plainly(Condition::Has(
            a_planet(one)?,
            dignity(name).ok_or_else(unknown)?,
        )),
        [one, how] if angle(how).is_some() => {
            let angle = angle(how).ok_or_else(unknown)?;
            plainly(Condition::OnAngle(
                a_body(one)?,
                angle,
                within.unwrap_or(NEAR_ANGLE),
            ))
        }
        [one, rest @ ..] if body(one).is_some() => {
            plainly(Condition::Stands(a_body(one)?, arc(rest)?))
        }
        _ => Err(unknown()),
    }
}

fn beamed(text: &str, planet: Planet) -> Result<Planet, Refusal> {
    match planet {
        Planet::Sun => Err(refused(text, "asks whether the Sun hides itself")),
        planet => Ok(planet),
    }
}

/// `venus`, `venus by trine`.
fn aspect(
    text: &str,
    one: Body,
    rest: &[&str],
    applying: Option<bool>,
    within: Option<Angle>,
    orbs: OrbTable,
) -> Result<(Wanted, bool), Refusal> {
    let (other, kind) = match rest {
        [other] => (other, None),
        [other, "by", name] => {
            let mut kinds = AspectKind::ALL.into_iter();
            let kind = kinds.find(|kind| kind.name() == *name);
            let names = AspectKind::ALL.map(AspectKind::name).join(", ");
            (
                other,
                Some(kind.ok_or_else(|| {
                    refused(
                        text,
                        &format!("names {}, which is none of {names}", quoted(name)),
                    )
                })?),
            )
        }
        _ => return Err(refused(text, "is not understood")),
    };
    let other = body(other).ok_or_else(|| {
        refused(
            text,
            &format!("names {}, which is no planet here", quoted(other)),
        )
    })?;
    if one == other {
        return Err(refused(text, "asks a planet's aspect with itself"));
    }
    let sought = AspectSought {
        one,
        other,
        kind,
        applying,
        within: within.map_or(Within::Moieties(orbs), Within::Orb),
    };
    if sought.orb() <= Angle::ZERO {
        return Err(refused(
            text,
            "is of two planets that no old table gives an orb; “within 2°” would say one",
        ));
    }
    Ok((Wanted::Sky(Condition::InAspect(sought)), false))
}

fn body(name: &str) -> Option<Body> {
    Body::ALL
        .into_iter()
        .find(|body| body.name().eq_ignore_ascii_case(name))
}

fn sign(name: &str) -> Option<Sign> {
    Sign::ALL
        .into_iter()
        .find(|sign| sign.name().eq_ignore_ascii_case(name))
}

fn house(number: &str) -> Option<House> {
    let mut houses = House::ALL.into_iter();
    houses.find(|house| {
        house.roman().eq_ignore_ascii_case(number) || house.number().to_string() == number
    })
}

fn dignity(name: &str) -> Option<Dignity> {
    let mut all = Dignity::ALL.into_iter();
    all.find(|dignity| *dignity != Dignity::Peregrine && dignity.name() == name)
}

fn angle(how: &str) -> Option<FigureAngle> {
    match how {
        "rising" => Some(FigureAngle::Ascendant),
        "culminating" => Some(FigureAngle::Midheaven),
        "setting" => Some(FigureAngle::Descendant),
        _ => None,
    }
}

fn weekday(name: &str) -> Option<i32> {
    (0..)
        .zip(WEEKDAYS)
        .find(|(_, day)| day.eq_ignore_ascii_case(name))
        .map(|(number, _)| number)
}

fn time_of_day_s(said: &str) -> Option<f64> {
    let (hours, minutes) = said.split_once(':')?;
    let (hours, minutes): (u8, u8) = (hours.parse().ok()?, minutes.parse().ok()?);
    let within = minutes < 60 && (hours < 24 || (hours == 24 && minutes == 0));
    within.then_some(f64::from(hours) * 3600.0 + f64::from(minutes) * 60.0)
}

/// What a wish was taken for.
fn means(wanted: &Wanted) -> String {
    let zodiacal = |degree| Zodiacal(degree).to_string();
    let arc = |arc: Arc| format!("from {} to {}", zodiacal(arc.begins), zodiacal(arc.ends()));
    let clock = |seconds: f64| {
        format!(
            "{:.0}:{:02.0}",
            (seconds / 3600.0).floor(),
            seconds % 3600.0 / 60.0
        )
    };
    let condition = match wanted {
        Wanted::Clock(from, until) => {
            return format!(
                "the clock stands between {} and {}",
                clock(*from),
                clock(*until)
            );
        }
        Wanted::Weekday(days) => {
            let names = days
                .iter()
                .filter_map(|day| WEEKDAYS.get(usize::try_from(*day).ok()?));
            return format!(
                "by the clock it is {}",
                names.copied().collect::<Vec<_>>().join(" or ")
            );
        }
        Wanted::Sky(condition) => *condition,
    };
    match condition {
        Condition::Ascendant(one) => format!("the ascendant is {}", arc(one)),
        Condition::Midheaven(one) => format!("the midheaven is {}", arc(one)),
        Condition::Stands(body, one) => format!("{body}'s longitude is {}", arc(one)),
        Condition::OnAngle(body, angle, orb) => {
            let angle = match angle {
                FigureAngle::Ascendant => "ascendant",
                FigureAngle::Midheaven => "midheaven",
                FigureAngle::Descendant => "descendant",
                FigureAngle::LowerMidheaven => "lower midheaven",
            };
            format!("{body}'s degree is within {} of the {angle}", Degrees(orb))
        }
        Condition::InHouse(body, house) => format!("{body} is in house {house}"),
        Condition::Waxing => "the Moon's longitude is less than 180° ahead of the Sun's".to_owned(),
        Condition::InAspect(sought) => {
            let kind = sought.kind.map_or("an aspect", AspectKind::name);
            let how = match sought.applying {
                Some(true) => ", growing more exact",
                Some(false) => ", growing less exact",
                None => "",
            };
            let orb = match sought.within {
                Within::Orb(orb) => Degrees(orb).to_string(),
                Within::Moieties(table) => format!("{} ({}'s orbs, halved and added)", Degrees(sought.orb()), table.name()),
            };
            format!("{} and {} are within {orb} of {kind}{how}", sought.one, sought.other)
        }
        Condition::VoidOfCourse => "the Moon makes no exact conjunction, sextile, square, trine or opposition with the Sun, Mercury, Venus, Mars, Jupiter or Saturn before she leaves her sign".to_owned(),
        Condition::HourOf(planet) => format!("the unequal hour is {planet}'s"),
        Condition::DayOf(planet) => format!("the day, from sunrise to sunrise, is {planet}'s"),
        Condition::Direct(body) => format!("{body} moves forward"),
        Condition::Has(planet, dignity) => format!("{planet} has its {}", dignity.name()),
        Condition::Dignified(planet) => format!("{planet} has rulership, exaltation, triplicity, term or face"),
        Condition::UnderBeams(planet) => format!("{planet} is under the Sun's beams"),
        Condition::Combust(planet) => format!("{planet} is combust"),
        Condition::ByDay => "the Sun's centre is above the true horizon".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(text: &str) -> Result<Wish, Refusal> {
        Wish::parse(text, OrbTable::Lilly)
    }

    #[test]
    fn every_form_is_understood() {
        for (example, _) in FORMS {
            assert!(parsed(example).is_ok(), "{example}: {:?}", parsed(example));
        }
    }

    #[test]
    fn words_and_not_turn_a_wish_round() -> Result<(), Refusal> {
        for (text, negated) in [
            ("Moon waxing", false),
            ("Moon waning", true),
            ("Moon not waning", false),
            ("not Moon waxing", true),
            ("Mercury is not retrograde", false),
            ("Venus free of the Sun’s beams", true),
            ("Venus not under the Sun's beams", true),
            ("by night", true),
        ] {
            assert_eq!(parsed(text)?.negated, negated, "{text}");
        }
        Ok(())
    }

    #[test]
    fn orbs_are_degrees_and_minutes() -> Result<(), Refusal> {
        for (text, minutes) in [
            ("within 5", 300.0),
            ("within 5°30′", 330.0),
            ("± 30'", 30.0),
            ("within 2 degrees", 120.0),
        ] {
            let wish = parsed(&format!("Jupiter rising {text}"))?;
            let Wanted::Sky(Condition::OnAngle(_, _, orb)) = wish.wanted else {
                panic!("{wish:?}")
            };
            assert!((orb.deg() * 60.0 - minutes).abs() < 1e-9, "{text}: {orb}");
        }
        Ok(())
    }

    #[test]
    fn what_is_not_understood_says_what_would_do() {
        for (text, why) in [
            ("", "is not understood"),
            ("Jupter rising", "no planet"),
            ("Moon in Tarus", "no sign"),
            ("Moon in house 13", "no house"),
            ("Moon applying to Moon", "with itself"),
            ("Moon applying to Venus by quintile", "none of conjunction"),
            ("Moon waxing within 5°", "within"),
            ("Moon in Leo within 5°", "within"),
            ("Moon not not waxing", "twice"),
            ("hour of Uranus", "1781"),
            ("Uranus in aspect with Pluto", "no old table"),
            ("Jupiter rising within 90°", "orb"),
            ("clock from 9 to 18", "time of day"),
            ("Sun combust", "itself"),
            ("on Mondy", "is not understood"),
        ] {
            let message = parsed(text)
                .map(|wish| wish.means)
                .map_err(|refusal| refusal.message);
            assert!(
                message
                    .as_ref()
                    .is_err_and(|message| message.contains(why) && message.contains("would do")),
                "{text}: {message:?}"
            );
        }
    }
}
