use instrument::StarPointer;
use practice::{About, BodyAsked, Sighting, Stars, Stated, Task, TaskInput};

use sky::Angle;

use crate::answer::{AskAnswer, OperationAnswer};
use crate::casting::Casting;

/// In the place of a star's name: whichever of the rete serves.
pub(crate) const ANY_STAR: &str = "any";

const SIDES: [&str; 2] = ["east", "west"];
const SIDES_OF_ZENITH: [&str; 2] = ["north", "south"];
/// Besides the Sun.
const SUBJECTS: [&str; 2] = ["star", "degree"];
/// The Moon and the planets that are seen.
const BODIES: [&str; 6] = ["Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn"];

impl OperationAnswer {
    pub(crate) fn of(task: Task) -> OperationAnswer {
        let needs = task.needs().iter().map(|need| match need {
            TaskInput::Star => "star",
            TaskInput::Seen(sight) => sight.name(),
            TaskInput::Stated(stated) => stated.name(),
        });
        OperationAnswer {
            name: task.name(),
            title: task.title(),
            source: task.source().cited(),
            in_treatise: task.source().is_treatise(),
            weak: task.weak(),
            needs: needs.collect(),
            heading: task.heading(),
            asks: asks(task),
        }
    }
}

/// What a form for an operation asks, the most general first.
fn asks(task: Task) -> Vec<AskAnswer> {
    let needs = task.needs();
    let mut asks = Vec::new();
    match task.about() {
        About::Itself => {
            if needs.contains(&TaskInput::Star) {
                asks.push(star(None));
            }
        }
        About::SunStarOrDegree => {
            asks.push(of());
            asks.push(star(Some("star")));
            asks.push(AskAnswer {
                needed: true,
                left_out: None,
                where_of: Some("degree"),
                ..stated(Stated::Degree, task)
            });
        }
        About::WhateverIsSighted => asks.push(AskAnswer {
            needed: false,
            left_out: Some("the Sun"),
            ..star(None)
        }),
    }
    match task.body_asked() {
        BodyAsked::Not => {}
        BodyAsked::UnlessTold => asks.push(body(true, "as is told")),
        BodyAsked::Or(other) => asks.push(body(false, other)),
    }
    let mut sights = needs.iter().filter_map(|need| match need {
        TaskInput::Seen(sight) => Some(counted_in(*sight)),
        _ => None,
    });
    let counted_in = sights.next_back();
    for need in needs.iter().copied() {
        match need {
            TaskInput::Star => {}
            TaskInput::Seen(sight) => asks.push(seen(sight, task)),
            TaskInput::Stated(one) => asks.push(stated(one, task)),
        }
    }
    asks.extend(counted_in.map(hand));
    if task.takes_side() {
        asks.push(side(SIDES));
    } else if task.sighted_on_meridian().is_some() {
        asks.push(side(SIDES_OF_ZENITH));
    }
    asks
}

fn plain(name: &'static str, words: &'static str) -> AskAnswer {
    AskAnswer {
        name,
        place: name,
        words,
        counted_in: None,
        choices: Vec::new(),
        example: "",
        needed: false,
        left_out: None,
        where_of: None,
    }
}

fn of() -> AskAnswer {
    AskAnswer {
        choices: SUBJECTS.to_vec(),
        example: "star",
        left_out: Some("the Sun"),
        ..plain("of", "of what")
    }
}

fn side([one, other]: [&'static str; 2]) -> AskAnswer {
    AskAnswer {
        choices: vec![one, other],
        example: one,
        left_out: Some("where it stands"),
        ..plain("side", "seen in the")
    }
}

fn hand(counted_in: &'static str) -> AskAnswer {
    AskAnswer {
        counted_in: Some(counted_in),
        example: "0.25",
        left_out: Some("¼"),
        ..plain("hand", "error of my hand")
    }
}

fn star(where_of: Option<&'static str>) -> AskAnswer {
    AskAnswer {
        example: ANY_STAR,
        needed: true,
        where_of,
        ..plain("star", "star of the rete")
    }
}

/// The Moon or a planet, in the place of what is told of it.
fn body(needed: bool, left_out: &'static str) -> AskAnswer {
    AskAnswer {
        choices: BODIES.to_vec(),
        example: "Mars",
        needed,
        left_out: Some(left_out),
        ..plain("body", "Moon or planet")
    }
}

fn counted_in(sight: Sighting) -> &'static str {
    match sight {
        Sighting::Shadow | Sighting::OtherShadow => "points",
        _ => "degrees",
    }
}

fn seen(sight: Sighting, task: Task) -> AskAnswer {
    let (words, example) = match sight {
        Sighting::Altitude => ("altitude", "25°30′"),
        Sighting::OtherAltitude => ("altitude, later", "31"),
        Sighting::NoonAltitude => ("altitude on the meridian", "38°10′"),
        Sighting::UpperAltitude => ("highest altitude", "56"),
        Sighting::LowerAltitude => ("lowest altitude", "48"),
        Sighting::WandererAltitude => ("altitude of Moon or planet", "30"),
        Sighting::MorningShadow => ("morning shadow", "300"),
        Sighting::EveningShadow => ("evening shadow", "62"),
        Sighting::Shadow => ("shadow square", "4"),
        Sighting::OtherShadow => ("from the second station", "8"),
    };
    let needed = match sight {
        Sighting::OtherAltitude
        | Sighting::MorningShadow
        | Sighting::EveningShadow
        | Sighting::Shadow
        | Sighting::OtherShadow => true,
        // Of a body that is named it is what would be seen.
        Sighting::WandererAltitude => task.body_asked() != BodyAsked::UnlessTold,
        Sighting::Altitude
        | Sighting::NoonAltitude
        | Sighting::UpperAltitude
        | Sighting::LowerAltitude => false,
    };
    AskAnswer {
        place: "seen",
        counted_in: Some(counted_in(sight)),
        example,
        needed,
        left_out: (!needed).then_some("as it would be seen"),
        ..plain(sight.name(), words)
    }
}

fn stated(stated: Stated, task: Task) -> AskAnswer {
    let (words, counted_in, example, left_out) = match stated {
        Stated::Degree => ("degree", None, "11 Pisces", degree_left_out(task)),
        Stated::OtherDegree => ("second degree", None, "0 Taurus", None),
        Stated::Latitude => (
            "its latitude",
            Some("degrees"),
            "-3",
            Some("none, or the body’s"),
        ),
        Stated::UnequalHours if task.takes_numbered_hour() => {
            ("unequal hour, its number", None, "3", None)
        }
        Stated::UnequalHours => ("unequal hours", None, "3", None),
        Stated::Distance => ("distance", Some("feet or paces"), "20", None),
        Stated::EyeHeight => (
            "height of the eye",
            Some("feet or paces"),
            "5",
            Some("none"),
        ),
    };
    AskAnswer {
        place: "told",
        counted_in,
        example,
        needed: left_out.is_none(),
        left_out,
        ..plain(stated.name(), words)
    }
}

fn degree_left_out(task: Task) -> Option<&'static str> {
    match task.body_asked() {
        _ if task.takes_suns_degree() => Some("the Sun’s"),
        BodyAsked::UnlessTold | BodyAsked::Or(_) => Some("the body’s"),
        BodyAsked::Not => None,
    }
}

/// The stars of the rete, those first that serve an operation at the moment.
pub(crate) fn stars_that_serve(task: Task, casting: &Casting) -> Vec<String> {
    let latitude = casting.latitude().angle();
    let serves = |star: &&StarPointer| {
        let declination = star.declination.angle();
        let highest = Angle::QUARTER_TURN - (latitude - declination).abs();
        let lowest = (latitude + declination).abs() - Angle::QUARTER_TURN;
        match task.stars() {
            Stars::Circumpolar => lowest > Angle::ZERO,
            Stars::RiseAndSet => highest > Angle::ZERO && lowest < Angle::ZERO,
            Stars::Culminate => highest > Angle::ZERO,
            Stars::Up => {
                let at = casting.horizon();
                let at = at.position(star.right_ascension, star.declination);
                at.altitude > Angle::ZERO
            }
        }
    };
    let stars = casting.instrument.stars().iter();
    let (first, others): (Vec<_>, Vec<_>) = stars.partition(serves);
    let names = first.into_iter().chain(others);
    names.map(|star| star.name.to_owned()).collect()
}
