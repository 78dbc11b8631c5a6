use moment::CivilTime;
use practice::Measure;
use practice::words::Said;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Body, Sign};

use crate::cabinet::Cabinet;
use crate::casting::Casting;
use crate::planetary_hour::at as planetary_hour;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::CastRequest;

/// What is asked of an uncertain time: a moment and a later one.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct DuringRequest {
    /// The earliest moment.
    pub moment: CastRequest,
    /// The latest: `HH:MM` of the same day or, where that is earlier, of the next.
    pub until: String,
}

/// What holds throughout an uncertain time, and what changes when.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DuringAnswer {
    /// The earliest moment, on the clock.
    pub from: String,
    /// The latest.
    pub until: String,
    /// How far the angles travel.
    pub travels: Vec<Travel>,
    /// What is so all the time.
    pub holds: Vec<Holding>,
    /// What changes, in the order of time.
    pub changes: Vec<Change>,
}

/// How far an angle travels.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Travel {
    /// `ascendant` or `midheaven`.
    pub what: &'static str,
    /// At the earliest moment; null where it has no answer.
    pub from_deg: Option<f64>,
    /// At the latest.
    pub until_deg: Option<f64>,
    /// Both in words.
    pub text: String,
}

/// Something that holds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Holding {
    /// What.
    pub what: String,
    /// How it is.
    pub value: String,
}

/// Something that changes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Change {
    /// When, on the same clock, to the second.
    pub at: String,
    /// What.
    pub what: String,
    /// How it was.
    pub from: String,
    /// How it is then.
    pub to: String,
}

/// The longest time that is looked through: a day.
const LONGEST_S: f64 = 86_400.0;

/// Says what holds throughout an uncertain time, and what changes when.
///
/// The sky is looked at every minute, and each change narrowed to the second: what
/// comes and goes within a minute is passed over.
///
/// # Errors
/// When the request cannot be understood.
pub fn during(
    request: &DuringRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<DuringAnswer, Refusal> {
    let first = Casting::of(&request.moment, cabinet, now_unix_s)?;
    let length_s = length(&first.moment.civil, &request.until)?;
    let later = Later {
        request,
        cabinet,
        now_unix_s,
        first: &first,
    };
    let last = later.by(length_s)?;
    let mut holds = facts(&first);
    let mut changes: Vec<(f64, Change)> = Vec::new();
    let (mut before_s, mut before) = (0.0, holds.clone());
    while before_s < length_s {
        let here_s = (before_s + 60.0).min(length_s);
        let here = facts(&later.by(here_s)?);
        for (was, is) in before.iter().zip(&here) {
            if was.value == is.value {
                continue;
            }
            let at_s = later.when_it_changes(was, (before_s, here_s))?;
            holds.retain(|holding| holding.what != was.what);
            changes.push((
                at_s,
                Change {
                    at: first.moment.civil.plus_seconds(at_s).to_string(),
                    what: was.what.clone(),
                    from: was.value.clone(),
                    to: is.value.clone(),
                },
            ));
        }
        (before_s, before) = (here_s, here);
    }
    changes.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    Ok(DuringAnswer {
        from: first.moment.civil.to_string(),
        until: first.moment.civil.plus_seconds(length_s).to_string(),
        travels: vec![
            travel(
                "ascendant",
                |casting| casting.horizon().ascendant().ok(),
                [&first, &last],
            ),
            travel(
                "midheaven",
                |casting| Some(casting.horizon().midheaven()),
                [&first, &last],
            ),
        ],
        holds,
        changes: changes.into_iter().map(|(_, change)| change).collect(),
    })
}

/// The same case some time later.
struct Later<'a> {
    request: &'a DuringRequest,
    cabinet: &'a Cabinet,
    now_unix_s: Option<f64>,
    first: &'a Casting,
}

impl Later<'_> {
    fn by(&self, seconds: f64) -> Result<Casting, Refusal> {
        let utc = self.first.moment.utc.plus_seconds(seconds);
        let request = CastRequest {
            when: utc.to_string(),
            clock: Some("+00:00".to_owned()),
            calendar: Some(utc.date.calendar().to_string().to_lowercase()),
            which: None,
            ..self.request.moment.clone()
        };
        Casting::of(&request, self.cabinet, self.now_unix_s)
    }

    /// The second at which a fact ceases to hold.
    fn when_it_changes(&self, was: &Holding, span: (f64, f64)) -> Result<f64, Refusal> {
        let (mut before, mut after) = span;
        while after - before > 1.0 {
            let middle = (before + after) / 2.0;
            let holds = facts(&self.by(middle)?).contains(was);
            (before, after) = if holds {
                (middle, after)
            } else {
                (before, middle)
            };
        }
        Ok(after.round())
    }
}

fn length(from: &CivilTime, until: &str) -> Result<f64, Refusal> {
    let wrong = || {
        Refusal::new(
            Field::When,
            format!("{} is no time of day; 4:30 would do", quoted(until)),
        )
    };
    let (hour, minute) = until.trim().split_once(':').ok_or_else(wrong)?;
    let hour: u32 = hour.parse().map_err(|_| wrong())?;
    let minute: u32 = minute.parse().map_err(|_| wrong())?;
    let time = moment::TimeOfDay::new(hour, minute, 0.0).ok_or_else(wrong)?;
    Ok((time.seconds() - from.time.seconds()).rem_euclid(LONGEST_S))
}

fn travel(
    what: &'static str,
    of: impl Fn(&Casting) -> Option<Angle>,
    [first, last]: [&Casting; 2],
) -> Travel {
    let (from, until) = (of(first), of(last));
    let said = |angle: Option<Angle>| {
        angle.map_or("no answer".to_owned(), |angle| {
            Said(Measure::Degree, angle).to_string()
        })
    };
    Travel {
        what,
        from_deg: from.map(|angle| angle.in_turn().deg()),
        until_deg: until.map(|angle| angle.in_turn().deg()),
        text: format!("{} to {}", said(from), said(until)),
    }
}

/// What is so at a moment, always in the same order.
fn facts(casting: &Casting) -> Vec<Holding> {
    let horizon = casting.horizon();
    let sky = &casting.moment.sky;
    let fact = |what: String, value: String| Holding { what, value };
    let cusps = casting.method.cusps(&horizon).ok();
    let mut facts = vec![
        fact(
            "ascendant".to_owned(),
            horizon.ascendant().map_or("no answer".to_owned(), sign),
        ),
        fact("midheaven".to_owned(), sign(horizon.midheaven())),
        fact("planetary hour".to_owned(), planetary_hour(casting)),
    ];
    let sun = sky.sun();
    let above = horizon
        .position(sun.right_ascension, sun.declination)
        .altitude
        > Angle::ZERO;
    let sect = if above {
        "above the horizon"
    } else {
        "below the horizon"
    };
    facts.push(fact("Sun".to_owned(), sect.to_owned()));
    for body in Body::ALL {
        let longitude = sky.body(body).longitude;
        facts.push(fact(format!("sign of {body}"), sign(longitude)));
        let house = cusps.as_ref().map(|cusps| cusps.house_of(longitude));
        facts.push(fact(
            format!("house of {body}"),
            house.map_or("no answer".to_owned(), |house| house.to_string()),
        ));
    }
    facts
}

fn sign(longitude: Angle) -> String {
    let within = |sign: &Sign| {
        let past = (longitude - sign.begins()).in_turn();
        past < Angle::from_deg(30.0)
    };
    let found = Sign::ALL.into_iter().find(within);
    found.map_or(String::new(), |sign| sign.name().to_owned())
}
