//! Altitudes on the meridian, declinations, latitudes.

use practice::{Finding, Quantity, Sighting, Stated};
use sky::{Angle, Latitude};

use crate::answers::Answers;
use crate::facts::{Facts, Place};

pub(crate) fn meridian_altitude(facts: &Facts<'_>) -> Answers {
    let subject = facts.subject();
    let altitude = subject.map(|at| facts.meridian_altitude(at.declination));
    Answers::of([(Finding::MeridianAltitude, altitude)])
}

/// sin λ = sin δ / sin ε, in the half of the year that it is.
pub(crate) fn sun_degree_by_altitude(facts: &Facts<'_>) -> Answers {
    let seen = facts.seen_on_meridian(Sighting::NoonAltitude);
    let degree = seen.and_then(|altitude| {
        let sine = declination_at(facts, altitude) / facts.obliquity.sin();
        let first = (sine.abs() <= 1.0).then(|| Angle::asin(sine))?;
        let season = facts.conditions.given.sun.longitude;
        let other = Angle::HALF_TURN - first;
        let nearer = season.to(first).abs() <= season.to(other).abs();
        Some(if nearer { first } else { other }.in_turn())
    });
    with_seen(facts, seen, Answers::of([(Finding::SunDegree, degree)]))
}

pub(crate) fn equally_long_days(facts: &Facts<'_>) -> Answers {
    let degree = facts.stated(Stated::Degree);
    let declination = degree.map(|degree| facts.degree(degree).declination);
    let other = degree.map(|degree| (Angle::HALF_TURN - degree).in_turn());
    Answers::of([
        (
            Finding::MeridianAltitude,
            declination.map(|declination| facts.meridian_altitude(declination)),
        ),
        (Finding::OtherDegree, other),
    ])
}

pub(crate) fn declination(facts: &Facts<'_>) -> Answers {
    let degree = facts.told_degree();
    degree.map_or_else(Answers::default, |degree| {
        declined(facts, degree.declination)
    })
}

pub(crate) fn plate_latitude(facts: &Facts<'_>) -> Answers {
    let pole = facts.latitude.angle().abs();
    Answers::of([
        (Finding::PoleAltitude, Some(pole)),
        (Finding::EquatorAltitude, Some(Angle::QUARTER_TURN - pole)),
    ])
}

pub(crate) fn latitude_by_circumpolar_star(facts: &Facts<'_>) -> Answers {
    let upper = facts.seen_on_meridian(Sighting::UpperAltitude);
    let lower = facts.seen(Sighting::LowerAltitude);
    let pole = upper.zip(lower).map(|(upper, lower)| (upper + lower) / 2.0);
    with_seen(facts, upper, Answers::of([(Finding::PoleAltitude, pole)]))
}

pub(crate) fn latitude_by_noon_sun(facts: &Facts<'_>) -> Answers {
    latitude_by(facts, facts.sun)
}

pub(crate) fn latitude_by_star(facts: &Facts<'_>) -> Answers {
    let star = facts.star();
    star.map_or_else(Answers::default, |star| latitude_by(facts, star))
}

/// The latitude that gives the altitude seen, on the circle of latitude:
/// sin δ = sin β cos ε + cos β sin λ sin ε.
pub(crate) fn planet_latitude(facts: &Facts<'_>) -> Answers {
    let seen = facts.seen_on_meridian(Sighting::WandererAltitude);
    let Some((degree, altitude)) = facts.stated(Stated::Degree).zip(seen) else {
        return Answers::default();
    };
    let of_degree = facts.meridian_altitude(facts.degree(degree).declination);
    // Seen on the meridian, the planet culminates with another degree than its own; the
    // declination alone is used.
    let sine = declination_at(facts, altitude);
    let (a, b) = (facts.obliquity.cos(), degree.sin() * facts.obliquity.sin());
    let size = libm::hypot(a, b);
    let latitude = (sine.abs() <= size).then(|| Angle::asin(sine / size) - Angle::atan2(b, a));
    let answers = Answers::of([
        (Finding::MeridianAltitude, Some(of_degree)),
        (Finding::PlanetLatitude, latitude),
    ]);
    with_seen(facts, seen, answers)
}

/// The sine of the declination that has an altitude on the meridian, north positive.
fn declination_at(facts: &Facts<'_>, altitude: Angle) -> f64 {
    let from_equator = altitude + facts.latitude.angle().abs() - Angle::QUARTER_TURN;
    from_equator.sin() * facts.towards_pole()
}

/// With what was seen beyond the zenith, counted on through it.
fn with_seen(facts: &Facts<'_>, seen: Option<Angle>, mut answers: Answers) -> Answers {
    let counted = seen.filter(|_| facts.choices.beyond_zenith);
    answers.put(Quantity::Found(Finding::ThroughZenith), counted);
    answers
}

fn declined(facts: &Facts<'_>, declination: Latitude) -> Answers {
    let equator = Angle::QUARTER_TURN - facts.latitude.angle().abs();
    Answers::of([
        (
            Finding::MeridianAltitude,
            Some(facts.meridian_altitude(declination)),
        ),
        (Finding::EquatorAltitude, Some(equator)),
        (Finding::Declination, Some(declination.angle())),
    ])
}

fn latitude_by(facts: &Facts<'_>, body: Place) -> Answers {
    let Some(noon) = facts.seen_on_meridian(Sighting::NoonAltitude) else {
        return Answers::default();
    };
    let equator = noon - body.declination.angle() * facts.towards_pole();
    let mut answers = declined(facts, body.declination);
    answers.put(Quantity::Found(Finding::EquatorHere), Some(equator));
    answers.put(
        Quantity::Found(Finding::PoleAltitude),
        Some(Angle::QUARTER_TURN - equator),
    );
    with_seen(facts, Some(noon), answers)
}
