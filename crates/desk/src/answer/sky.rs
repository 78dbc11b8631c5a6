use schemars::JsonSchema;
use serde::Serialize;
use sky::{Body, Sky};

/// What stands in the sky, seen from the Earth's centre, by the true equator and
/// equinox of date.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SkyAnswer {
    /// True obliquity of the ecliptic.
    pub obliquity_deg: f64,
    /// The Sun, the Moon and the planets.
    pub bodies: Vec<BodyAnswer>,
}

/// Where a body appears.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BodyAnswer {
    /// Its name.
    pub name: &'static str,
    /// Ecliptic longitude.
    pub longitude_deg: f64,
    /// Ecliptic latitude.
    pub latitude_deg: f64,
    /// Right ascension.
    pub right_ascension_deg: f64,
    /// Declination.
    pub declination_deg: f64,
    /// Change of longitude in a day; negative when retrograde.
    pub speed_deg_per_day: f64,
}

impl SkyAnswer {
    pub(crate) fn of(sky: &Sky) -> SkyAnswer {
        SkyAnswer {
            obliquity_deg: sky.obliquity().deg(),
            bodies: Body::ALL
                .into_iter()
                .map(|body| BodyAnswer::of(sky, body))
                .collect(),
        }
    }
}

impl BodyAnswer {
    pub(crate) fn of(sky: &Sky, body: Body) -> BodyAnswer {
        let place = sky.body(body);
        BodyAnswer {
            name: body.name(),
            longitude_deg: place.longitude.in_turn().deg(),
            latitude_deg: place.latitude.deg(),
            right_ascension_deg: place.right_ascension.in_turn().deg(),
            declination_deg: place.declination.deg(),
            speed_deg_per_day: place.speed.deg(),
        }
    }
}
