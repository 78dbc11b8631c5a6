//! Day and night, twilights, equal and unequal hours, and what is up how long.

use figure::SemiArcs;
use instrument::Pick;
use practice::{Finding, Value};
use sky::Angle;

use crate::answers::Answers;
use crate::facts::{Facts, Place};

/// The Sun's arcs; `None` where it does not rise and set.
fn arcs(facts: &Facts<'_>) -> Option<SemiArcs> {
    facts.arcs(facts.sun.declination)
}

/// The hour at which the Sun stands 18° below the horizon.
fn twilight(facts: &Facts<'_>, side: Pick) -> Option<Angle> {
    facts.hour_angle_at(facts.sun.declination, Angle::from_deg(-18.0), side)
}

pub(crate) fn dawn_and_nightfall(facts: &Facts<'_>) -> Answers {
    let dawn = twilight(facts, Pick::Eastern);
    let sunrise = arcs(facts).map(SemiArcs::rising);
    let length = dawn.zip(sunrise).map(|(dawn, sunrise)| sunrise - dawn);
    Answers::of([
        (Finding::Dawn, dawn),
        (Finding::Sunrise, sunrise),
        (Finding::Twilight, length),
        (Finding::Nightfall, twilight(facts, Pick::Western)),
    ])
}

pub(crate) fn day_with_twilights(facts: &Facts<'_>) -> Answers {
    let dawn = twilight(facts, Pick::Eastern);
    let nightfall = twilight(facts, Pick::Western);
    let whole = dawn
        .zip(nightfall)
        .map(|(dawn, nightfall)| nightfall - dawn);
    Answers::of([
        (Finding::Dawn, dawn),
        (Finding::Nightfall, nightfall),
        (Finding::DayWithTwilights, whole),
    ])
}

pub(crate) fn day_and_night(facts: &Facts<'_>) -> Answers {
    let arcs = arcs(facts);
    Answers::of([
        (Finding::Sunrise, arcs.map(SemiArcs::rising)),
        (Finding::Sunset, arcs.map(SemiArcs::setting)),
        (Finding::DayArc, arcs.map(SemiArcs::day)),
        (Finding::NightArc, arcs.map(SemiArcs::night)),
    ])
}

pub(crate) fn unequal_hours(facts: &Facts<'_>) -> Answers {
    let arcs = arcs(facts);
    let of_day = arcs.map(SemiArcs::unequal_hour_of_day);
    let of_night = arcs.map(SemiArcs::unequal_hour_of_night);
    let mut answers = day_and_night(facts);
    for (finding, value) in [
        (Finding::UnequalHourOfDay, of_day),
        (Finding::UnequalHourOfNight, of_night),
    ] {
        answers.put(practice::Quantity::Found(finding), value);
    }
    answers
}

pub(crate) fn equal_hours(facts: &Facts<'_>) -> Answers {
    let mut answers = unequal_hours(facts);
    let by_night = facts.choices.hour > 12;
    let length = arcs(facts).map(|arcs| {
        if by_night {
            arcs.unequal_hour_of_night()
        } else {
            arcs.unequal_hour_of_day()
        }
    });
    let stated = facts.unequal_hours();
    let hours = length.zip(stated).map(|(length, stated)| length * stated);
    answers.put(practice::Quantity::Found(Finding::EqualHours), hours);
    answers
}

pub(crate) fn hours_gone(facts: &Facts<'_>) -> Answers {
    let hour = facts.conditions.hour_for_rule();
    let arcs = arcs(facts);
    let since = |from: fn(SemiArcs) -> Angle| arcs.map(|arcs| (hour - from(arcs)).in_turn());
    Answers::of([
        (Finding::Hour, Some(hour).filter(|_| arcs.is_some())),
        (Finding::Sunrise, arcs.map(SemiArcs::rising)),
        (Finding::SinceSunrise, since(SemiArcs::rising)),
        (Finding::Sunset, arcs.map(SemiArcs::setting)),
        (Finding::SinceSunset, since(SemiArcs::setting)),
    ])
}

pub(crate) fn planetary_hour(facts: &Facts<'_>) -> Answers {
    let hour = facts.conditions.hour_for_rule();
    let now = arcs(facts).map(|arcs| {
        let since_sunrise = (hour - arcs.rising()).in_turn();
        let since_sunset = (hour - arcs.setting()).in_turn();
        Value::UnequalHours(if since_sunrise < arcs.day() {
            since_sunrise / arcs.unequal_hour_of_day()
        } else {
            12.0 + since_sunset / arcs.unequal_hour_of_night()
        })
    });
    let mut answers = Answers::default();
    answers.put_value(practice::Quantity::Found(Finding::UnequalHour), now);
    answers
}

pub(crate) fn hour_span(facts: &Facts<'_>) -> Answers {
    let number = f64::from(facts.choices.hour.clamp(1, 24));
    let after = |hours: f64| {
        let arcs = arcs(facts)?;
        let at = if hours <= 12.0 {
            arcs.rising() + arcs.unequal_hour_of_day() * hours
        } else {
            arcs.setting() + arcs.unequal_hour_of_night() * (hours - 12.0)
        };
        Some(at.signed())
    };
    Answers::of([
        (Finding::HourBegins, after(number - 1.0)),
        (Finding::HourEnds, after(number)),
    ])
}

pub(crate) fn star_up(facts: &Facts<'_>) -> Answers {
    facts
        .star()
        .map_or_else(Answers::default, |star| up(facts, star))
}

pub(crate) fn degree_up(facts: &Facts<'_>) -> Answers {
    let degree = facts.told_degree();
    degree.map_or_else(Answers::default, |degree| up(facts, degree))
}

fn up(facts: &Facts<'_>, body: Place) -> Answers {
    let hour = |hour_angle: Angle| facts.hour_at(hour_angle + body.right_ascension);
    let arcs = facts.arcs(body.declination);
    Answers::of([
        (Finding::Culmination, Some(hour(Angle::ZERO))),
        (Finding::Rising, arcs.map(|arcs| hour(arcs.rising()))),
        (Finding::Setting, arcs.map(|arcs| hour(arcs.setting()))),
        (Finding::ArcAbove, arcs.map(SemiArcs::day)),
    ])
}
