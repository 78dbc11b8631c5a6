//! Directions along the horizon.

use practice::{Finding, Sighting};
use sky::Angle;

use crate::answers::Answers;
use crate::facts::Facts;

pub(crate) fn azimuth_by_altitude(facts: &Facts<'_>) -> Answers {
    Answers::of([(Finding::Azimuth, at_altitude(facts))])
}

pub(crate) fn four_quarters(facts: &Facts<'_>) -> Answers {
    let azimuth = at_altitude(facts);
    let from_south = azimuth.map(|azimuth| (azimuth - Angle::HALF_TURN).signed());
    Answers::of([
        (Finding::Azimuth, azimuth),
        (Finding::FromSouth, from_south),
    ])
}

fn at_altitude(facts: &Facts<'_>) -> Option<Angle> {
    let (body, altitude) = (facts.subject()?, facts.seen(Sighting::Altitude)?);
    let at = facts.hour_angle_at(body.declination, altitude, facts.choices.side)?;
    let horizon = facts.horizon(at + body.right_ascension);
    let position = horizon.position(body.right_ascension, body.declination);
    Some(position.azimuth)
}

/// cos A = sin δ / cos φ.
pub(crate) fn sunrise_azimuth(facts: &Facts<'_>) -> Answers {
    let azimuth = facts.subject().and_then(|body| {
        facts.arcs(body.declination)?;
        Some(Angle::acos(body.declination.sin() / facts.latitude.cos()))
    });
    let setting = azimuth.map(|azimuth| Angle::FULL_TURN - azimuth);
    Answers::of([
        (Finding::Azimuth, azimuth),
        (Finding::SettingAzimuth, setting),
    ])
}

pub(crate) fn azimuth_at_hour(facts: &Facts<'_>) -> Answers {
    let position = facts.subject().map(|body| {
        let horizon = facts.horizon(facts.sidereal_time());
        horizon.position(body.right_ascension, body.declination)
    });
    Answers::of([
        (Finding::Azimuth, position.map(|at| at.azimuth)),
        (Finding::Altitude, position.map(|at| at.altitude)),
    ])
}
