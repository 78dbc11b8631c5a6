use ::moment::{CivilDate, CivilTime, Moment, TimeOfDay, When};
use figure::Planet;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Body, Instant, Sign, Zodiacal};

use crate::answer::the;
use crate::birth_rules::{BirthRuleAnswer, birth_rules};
use crate::cabinet::Cabinet;
use crate::casting::{Casting, told_moment};
use crate::moment::ToldMoment;
use crate::planetary_hour::Hours;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::CastRequest;

/// What is asked of an uncertain time: a moment and a later one.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct DuringRequest {
    /// The earliest moment.
    pub moment: CastRequest,
    /// The latest: `HH:MM` by the same clock, of the same day or, where that is earlier, of the
    /// next.
    pub until: String,
    /// Whether Uranus, Neptune and Pluto are looked at.
    pub outer: bool,
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
    /// What holds from the earliest moment to the latest.
    pub holds: Vec<Holding>,
    /// What changes, in the order of time.
    pub changes: Vec<Change>,
    /// How long the time is, in seconds.
    pub length_s: f64,
    /// Ascendant, midheaven and lord of the hour, and whatever else changes, each as what it
    /// is in turn: a strip of time.
    pub strip: Vec<Strip>,
    /// What the rules of the old books make of the middle of it.
    pub rules: Vec<BirthRuleAnswer>,
}

/// What something is in turn, from the earliest moment to the latest.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Strip {
    /// What.
    pub what: String,
    /// How it is, in the order of time.
    pub spans: Vec<StripSpan>,
}

/// How something is for a while.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StripSpan {
    /// From when, in seconds after the earliest moment.
    pub from_s: f64,
    /// Until when.
    pub until_s: f64,
    /// How it is.
    pub value: String,
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

/// The seconds of a day.
const DAY_S: f64 = 86_400.0;

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
    let told = told_moment(&request.moment)?;
    let moment = told.moment(now_unix_s)?;
    let length_s = length_s(&told, &moment, &request.until)?;
    let first = Casting::of_moment(&request.moment, moment, cabinet)?;
    let last = first.later(length_s)?;
    let mut hours = Hours::default();
    let mut holds = facts(&first, request.outer, &mut hours)?;
    let begin = holds.clone();
    let mut changes: Vec<(f64, Change)> = Vec::new();
    let (mut before_s, mut before) = (0.0, holds.clone());
    while before_s < length_s {
        let here_s = (before_s + 60.0).min(length_s);
        let here = facts(&first.later(here_s)?, request.outer, &mut hours)?;
        for (was, is) in before.iter().zip(&here) {
            if was.value == is.value {
                continue;
            }
            let at_s = first.when_it_changes(was, (before_s, here_s), request.outer)?;
            holds.retain(|holding| holding.what != was.what);
            changes.push((
                at_s,
                Change {
                    at: on_the_clock(&first, at_s)?,
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
        from: on_the_clock(&first, 0.0)?,
        until: on_the_clock(&first, length_s)?,
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
        length_s,
        strip: strip(&begin, &changes, length_s),
        rules: birth_rules(&first.later(length_s / 2.0)?),
        changes: changes.into_iter().map(|(_, change)| change).collect(),
    })
}

/// These are in the strip whether they change or not.
const ALWAYS_SHOWN: [&str; 3] = ["ascendant", "midheaven", "planetary hour"];

/// What each thing is in turn.
fn strip(begin: &[Holding], changes: &[(f64, Change)], length_s: f64) -> Vec<Strip> {
    let of = |fact: &Holding| {
        let mut spans = vec![StripSpan {
            from_s: 0.0,
            until_s: length_s,
            value: fact.value.clone(),
        }];
        for (at_s, change) in changes.iter().filter(|(_, one)| one.what == fact.what) {
            if let Some(last) = spans.last_mut() {
                last.until_s = *at_s;
            }
            spans.push(StripSpan {
                from_s: *at_s,
                until_s: length_s,
                value: change.to.clone(),
            });
        }
        Strip {
            what: fact.what.clone(),
            spans,
        }
    };
    let strips = begin.iter().map(of);
    strips
        .filter(|strip| strip.spans.len() > 1 || ALWAYS_SHOWN.contains(&strip.what.as_str()))
        .collect()
}

impl Casting {
    /// The same case some time later, by the same clock.
    fn later(&self, seconds: f64) -> Result<Casting, Refusal> {
        self.at(When::utc_is(self.moment.utc().plus_seconds(seconds)))
    }

    /// The second at which a fact ceases to hold, between two that are counted from here.
    fn when_it_changes(
        &self,
        was: &Holding,
        span: (f64, f64),
        outer: bool,
    ) -> Result<f64, Refusal> {
        let (mut before, mut after) = span;
        let mut hours = Hours::default();
        while after - before > 1.0 {
            let middle = (before + after) / 2.0;
            let holds = facts(&self.later(middle)?, outer, &mut hours)?.contains(was);
            (before, after) = if holds {
                (middle, after)
            } else {
                (before, middle)
            };
        }
        Ok(after.round())
    }
}

/// From the earliest moment to the latest, in seconds. The latest is a time of the same
/// clock and date, or of the next day where it would come before the earliest.
fn length_s(told: &ToldMoment, first: &Moment, until: &str) -> Result<f64, Refusal> {
    let time: TimeOfDay = until.parse().map_err(|_| {
        Refusal::new(
            Field::When,
            format!("{} is no time of day; 4:30 would do", quoted(until.trim())),
        )
    })?;
    let calendar = first.civil().date.calendar();
    let said = told.when().date_in(calendar);
    let date = said.unwrap_or(first.civil().date);
    let after_s = |date: CivilDate| {
        let when = When::clock_shows(CivilTime { date, time });
        let last = told.at(when, told.which()).moment(None)?;
        Ok((last.instant().jd_ut() - first.instant().jd_ut()) * DAY_S)
    };
    let same_day_s = after_s(date)?;
    // A Julian date is good to some 40 microseconds.
    if same_day_s > -0.001 {
        return Ok(same_day_s.max(0.0));
    }
    let number = date.julian_day_number() + 1;
    after_s(CivilDate::from_julian_day_number(calendar, number))
}

/// What the clock shows some seconds after a moment.
fn on_the_clock(first: &Casting, seconds: f64) -> Result<String, Refusal> {
    let moment = &first.moment;
    let (day, fraction) = moment.instant().ut_parts();
    let instant = Instant::from_ut(day, fraction + seconds / DAY_S);
    let shown = moment
        .clock_at(instant)
        .map_err(|why| Refusal::new(Field::When, why))?;
    Ok(shown.to_string())
}

fn travel(
    what: &'static str,
    of: impl Fn(&Casting) -> Option<Angle>,
    [first, last]: [&Casting; 2],
) -> Travel {
    let (from, until) = (of(first), of(last));
    let said = |angle: Option<Angle>| {
        angle.map_or("no answer".to_owned(), |angle| Zodiacal(angle).to_string())
    };
    Travel {
        what,
        from_deg: from.map(|angle| angle.in_turn().deg()),
        until_deg: until.map(|angle| angle.in_turn().deg()),
        text: format!("{} to {}", said(from), said(until)),
    }
}

/// The facts of a moment that may change, always in the same order.
fn facts(casting: &Casting, outer: bool, hours: &mut Hours) -> Result<Vec<Holding>, Refusal> {
    let horizon = casting.horizon();
    let sky = casting.moment.sky();
    let fact = |what: String, value: String| Holding { what, value };
    let cusps = casting.method.cusps(&horizon).ok();
    let mut facts = vec![
        fact(
            "ascendant".to_owned(),
            horizon.ascendant().map_or("no answer".to_owned(), sign),
        ),
        fact("midheaven".to_owned(), sign(horizon.midheaven())),
        fact(
            "planetary hour".to_owned(),
            hours
                .planet(casting)
                .map_err(|why| Refusal::new(Field::When, why))?,
        ),
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
    for body in Body::ALL
        .into_iter()
        .filter(|body| outer || Planet::of(*body).is_some())
    {
        let longitude = sky.body(body).longitude;
        let body = the(&body.to_string());
        facts.push(fact(format!("sign of {body}"), sign(longitude)));
        let house = cusps.as_ref().map(|cusps| cusps.house_of(longitude));
        facts.push(fact(
            format!("house of {body}"),
            house.map_or("no answer".to_owned(), |house| house.to_string()),
        ));
    }
    Ok(facts)
}

fn sign(longitude: Angle) -> String {
    let within = |sign: &Sign| {
        let past = (longitude - sign.begins()).in_turn();
        past < Angle::from_deg(30.0)
    };
    let found = Sign::ALL.into_iter().find(within);
    found.map_or(String::new(), |sign| sign.name().to_owned())
}
