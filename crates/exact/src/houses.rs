//! The houses, and directions to the angles.

use figure::{Method, SemiArcs};
use instrument::House;
use practice::{Finding, Procedure, Quantity, Stated};
use sky::Angle;

use crate::answers::Answers;
use crate::facts::{Facts, Place};

pub(crate) fn houses_by_hours(facts: &Facts<'_>) -> Answers {
    houses(facts, Procedure::Turning)
}

pub(crate) fn houses_by_limb(facts: &Facts<'_>) -> Answers {
    houses(facts, Procedure::LimbThirds)
}

fn houses(facts: &Facts<'_>, procedure: Procedure) -> Answers {
    let sidereal_time = facts.sidereal_time();
    let mut answers = Answers::default().with_angles(facts, sidereal_time);
    let Ok(cusps) = Method::Alcabitius.cusps(&facts.horizon(sidereal_time)) else {
        return answers;
    };
    for (house, cusp) in House::ALL.into_iter().zip(cusps.all()) {
        if procedure.read_houses().contains(&house) {
            answers.put(Quantity::Cusp(procedure, house), Some(cusp));
        }
    }
    answers
}

pub(crate) fn direction_to_ascendant(facts: &Facts<'_>) -> Answers {
    direction(facts, |body| {
        facts.arcs(body.declination).map(SemiArcs::rising)
    })
}

pub(crate) fn direction_to_midheaven(facts: &Facts<'_>) -> Answers {
    direction(facts, |_| Some(Angle::ZERO))
}

/// From the sidereal time of the moment to that at which the place comes to the angle,
/// where it has an hour angle.
fn direction(facts: &Facts<'_>, hour_angle: impl Fn(Place) -> Option<Angle>) -> Answers {
    let degree = facts.stated(Stated::Degree);
    let arc = degree
        .zip(facts.stated(Stated::Latitude))
        .and_then(|(longitude, latitude)| {
            let body = facts.zodiacal(longitude, latitude);
            let now = facts.sidereal_time();
            Some((hour_angle(body)? + body.right_ascension - now).in_turn())
        });
    Answers::of([(Finding::DirectionArc, arc)])
}
