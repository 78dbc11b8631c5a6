//! The Sun's degree, altitudes, and the hour from them.

use practice::{Finding, Quantity, Sighting};

use crate::answers::Answers;
use crate::facts::{Facts, Place};

pub(crate) fn sun_degree(facts: &Facts<'_>) -> Answers {
    let mut answers = Answers::default();
    let longitude = facts.conditions.given.sun.longitude;
    answers.put(Quantity::SunDegree, Some(longitude));
    answers
}

pub(crate) fn altitude(facts: &Facts<'_>) -> Answers {
    let mut answers = Answers::default();
    let altitude = facts.seen(Sighting::Altitude);
    answers.put(Quantity::Seen(Sighting::Altitude), altitude);
    answers
}

pub(crate) fn hour_by_sun(facts: &Facts<'_>) -> Answers {
    hour_by(facts, facts.sun).unwrap_or_default()
}

pub(crate) fn hour_by_star(facts: &Facts<'_>) -> Answers {
    let star = facts.star();
    star.and_then(|star| hour_by(facts, star))
        .unwrap_or_default()
}

pub(crate) fn between_almucantars(facts: &Facts<'_>) -> Answers {
    hour_by_sun(facts)
}

fn hour_by(facts: &Facts<'_>, body: Place) -> Option<Answers> {
    let altitude = facts.seen(Sighting::Altitude)?;
    let hour_angle = facts.hour_angle_at(body.declination, altitude, facts.choices.side)?;
    let sidereal_time = hour_angle + body.right_ascension;
    let hour = facts.hour_at(sidereal_time);
    let answers = Answers::of([(Finding::Hour, Some(hour))]);
    Some(answers.with_angles(facts, sidereal_time))
}
