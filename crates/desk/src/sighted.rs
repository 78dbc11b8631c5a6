//! Altitudes as they are seen, and as they stand: the air raises everything, and from the
//! Earth's surface what is near is seen lower than from its centre.

use figure::Refraction;
use practice::Value;
use sky::{Angle, Body};

/// What an altitude is taken of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Sighted {
    /// A body of the sky.
    Body(Body),
    /// A star, or a body that is not said: too far away to have a parallax.
    FarAway,
    /// Nothing that sends light: a degree of the zodiac, or a shadow's points.
    NoLight,
}

/// What parts an altitude that is seen from how the thing stands.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Displaced {
    /// By how much the air raises it: mean refraction.
    pub(crate) raised: Angle,
    /// By how much parallax lowers it.
    pub(crate) lowered: Angle,
}

const EARTH_RADIUS_AU: f64 = 6_378.137 / 149_597_870.7;

impl Displaced {
    /// Of an altitude that is seen. The Earth is taken as a sphere, which puts the Moon
    /// 0.3′ off at most.
    pub(crate) fn of_seen(seen: Angle, distance_au: Option<f64>) -> Displaced {
        let raised = Refraction::Mean.of_seen(seen);
        let parallax = |au| Angle::asin(EARTH_RADIUS_AU / au * (seen - raised).cos());
        Displaced {
            raised,
            lowered: distance_au.map_or(Angle::ZERO, parallax),
        }
    }

    /// Where the thing stands, from the Earth's centre and without air.
    pub(crate) fn stands(self, seen: Angle) -> Angle {
        seen - self.raised + self.lowered
    }

    /// The same of any value that is seen: nothing parts points or directions.
    pub(crate) fn where_it_stands(self, seen: Value) -> Value {
        match seen {
            Value::Height(altitude) => Value::Height(self.stands(altitude)),
            Value::Degree(_)
            | Value::TimeOfDay(_)
            | Value::Arc(_)
            | Value::Azimuth(_)
            | Value::UnequalHours(_)
            | Value::Points(_)
            | Value::Length(_) => seen,
        }
    }
}

/// The altitude at which something is seen that stands at another from the Earth's centre
/// and without air.
pub(crate) fn as_seen(stands: Angle, distance_au: Option<f64>) -> Angle {
    let parallax = |au: f64| {
        let near = EARTH_RADIUS_AU / au;
        Angle::atan2(near * stands.cos(), 1.0 - near * stands.sin())
    };
    let airless = stands - distance_au.map_or(Angle::ZERO, parallax);
    airless + Refraction::Mean.at(airless)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_seen_leads_back_to_where_it_stands() {
        for deg in -5..=90 {
            for distance_au in [None, Some(1.0), Some(0.0025)] {
                let stands = Angle::from_deg(f64::from(deg));
                let seen = as_seen(stands, distance_au);
                let back = Displaced::of_seen(seen, distance_au).stands(seen);
                assert!((back - stands).abs().deg() < 1e-9, "{stands}: {back}");
            }
        }
    }

    /// The Moon's horizontal parallax at her mean distance of 384 400 km is 57′02″
    /// (*Explanatory Supplement*, 2013); at the zenith there is none.
    #[test]
    fn the_moon_is_seen_lower() {
        let au = Some(384_400.0 / 149_597_870.7);
        let parallax = Displaced::of_seen(Angle::ZERO, au).lowered;
        assert!((parallax.deg() * 60.0 - 57.0).abs() < 0.2, "{parallax}");
        assert!(
            Displaced::of_seen(Angle::QUARTER_TURN, au)
                .lowered
                .abs()
                .deg()
                < 1e-9
        );
    }
}
