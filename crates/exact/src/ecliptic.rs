//! What rises and culminates with a star or a planet, and the ascensions of arcs.

use instrument::Pick;
use practice::{Finding, Sighting, Stated};
use sky::Angle;

use crate::answers::Answers;
use crate::facts::{Facts, Place};

pub(crate) fn right_ascension(facts: &Facts<'_>) -> Answers {
    let arc = told_arc(facts).map(|(first, second)| {
        let horizon = facts.horizon(Angle::ZERO);
        (horizon.right_ascension(second) - horizon.right_ascension(first)).in_turn()
    });
    Answers::of([(Finding::RightAscension, arc)])
}

pub(crate) fn oblique_ascension(facts: &Facts<'_>) -> Answers {
    let arc = oblique_ascensions(facts).map(|(first, second)| (second - first).in_turn());
    Answers::of([(Finding::ObliqueAscension, arc)])
}

/// Skeat's correction of II.17: the oblique ascensions are halved.
pub(crate) fn star_degree_by_two_altitudes(facts: &Facts<'_>) -> Answers {
    let middle = oblique_ascensions(facts).map(|(first, second)| {
        let middle = first + (second - first).in_turn() / 2.0;
        facts.horizon(middle - Angle::QUARTER_TURN)
    });
    let degree = middle.map(|middle| middle.midheaven());
    let rising = middle.and_then(|middle| middle.ascendant().ok());
    Answers::of([
        (Finding::CulminatingDegree, degree),
        (Finding::OldCulminatingDegree, degree),
        (Finding::OldRisingDegree, rising),
    ])
}

fn told_arc(facts: &Facts<'_>) -> Option<(Angle, Angle)> {
    facts
        .stated(Stated::Degree)
        .zip(facts.stated(Stated::OtherDegree))
}

fn oblique_ascensions(facts: &Facts<'_>) -> Option<(Angle, Angle)> {
    let (first, second) = told_arc(facts)?;
    let horizon = facts.horizon(Angle::ZERO);
    let first = horizon.oblique_ascension(first).ok()?;
    Some((first, horizon.oblique_ascension(second).ok()?))
}

pub(crate) fn culminating_degree(facts: &Facts<'_>) -> Answers {
    let star = facts.star();
    let degree = star.map(|star| facts.horizon(star.right_ascension).midheaven());
    Answers::of([(Finding::CulminatingDegree, degree)])
}

pub(crate) fn rising_degree(facts: &Facts<'_>) -> Answers {
    let star = facts.star();
    let setting = star.and_then(|star| {
        let arcs = facts.arcs(star.declination)?;
        let ascendant = ascendant_at(facts, star, arcs.setting())?;
        Some((ascendant + Angle::HALF_TURN).in_turn())
    });
    Answers::of([
        (
            Finding::RisingDegree,
            star.and_then(|star| rises_with(facts, star)),
        ),
        (Finding::SettingDegree, setting),
    ])
}

pub(crate) fn rising_degree_of_planet(facts: &Facts<'_>) -> Answers {
    let degree = facts.stated(Stated::Degree);
    let Some((longitude, latitude)) = degree.zip(facts.stated(Stated::Latitude)) else {
        return Answers::default();
    };
    let rising = rises_with(facts, facts.zodiacal(longitude, latitude));
    let of_degree = facts.meridian_altitude(facts.degree(longitude).declination);
    Answers::of([
        (Finding::RisingDegree, rising),
        (Finding::OldRisingDegree, rising),
        (Finding::MeridianAltitude, Some(of_degree)),
    ])
}

fn rises_with(facts: &Facts<'_>, body: Place) -> Option<Angle> {
    let arcs = facts.arcs(body.declination)?;
    ascendant_at(facts, body, arcs.rising())
}

fn ascendant_at(facts: &Facts<'_>, body: Place, hour_angle: Angle) -> Option<Angle> {
    let horizon = facts.horizon(hour_angle + body.right_ascension);
    horizon.ascendant().ok()
}

/// The ecliptic's degree at an altitude: sin h is a wave along the ecliptic.
pub(crate) fn moon_degree(facts: &Facts<'_>) -> Answers {
    Answers::of([(Finding::MoonDegree, degree_at_altitude(facts))])
}

fn degree_at_altitude(facts: &Facts<'_>) -> Option<Angle> {
    let (star, altitude) = (facts.star()?, facts.seen(Sighting::Altitude)?);
    let wanted = facts.seen(Sighting::WandererAltitude)?;
    let at = facts.hour_angle_at(star.declination, altitude, facts.choices.side)?;
    let horizon = facts.horizon(at + star.right_ascension);
    let sine = |longitude: f64| {
        let position = horizon.position_of_degree(Angle::from_deg(longitude));
        position.altitude.sin()
    };
    let (a, b) = (sine(0.0), sine(90.0));
    let crest = Angle::atan2(b, a);
    let ratio = wanted.sin() / libm::hypot(a, b);
    let off = (ratio.abs() <= 1.0).then(|| Angle::acos(ratio))?;
    let east = |degree: &Angle| {
        let azimuth = horizon.position_of_degree(*degree).azimuth;
        (azimuth < Angle::HALF_TURN) == (facts.choices.other_side != Pick::Western)
    };
    let mut on_side = [crest + off, crest - off].into_iter().filter(east);
    let first = on_side.next()?;
    on_side.next().is_none().then(|| first.in_turn())
}
