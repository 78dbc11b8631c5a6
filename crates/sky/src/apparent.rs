use crate::{Angle, Latitude};

/// Where a body appears from the Earth's centre: light time, deflection by the
/// Sun, aberration, precession and nutation are all in it, and everything is
/// referred to the true ecliptic, equator and equinox of date.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apparent {
    /// Ecliptic longitude, in [0°, 360°).
    pub longitude: Angle,
    /// Ecliptic latitude, north positive.
    pub latitude: Latitude,
    /// Distance the light has travelled, in astronomical units.
    pub distance_au: f64,
    /// Right ascension, in [0°, 360°).
    pub right_ascension: Angle,
    /// Declination, north positive.
    pub declination: Latitude,
    /// Motion in longitude in one day; negative while the body is retrograde.
    pub speed: Angle,
}

impl Apparent {
    /// Whether the body moves backward through the signs.
    #[must_use]
    pub fn is_retrograde(&self) -> bool {
        self.speed < Angle::ZERO
    }
}
