use sky::{Angle, Latitude};

use crate::ecliptic;

/// The horizon of a place at a moment: all that the angles and the houses depend on.
///
/// Right ascensions, declinations and longitudes are apparent, of the true
/// equator, equinox and ecliptic of date. All answers are geometric: without
/// refraction, for the centre of the Earth. They are good to 1e-12° except
/// where the question itself is ill put, as near the poles or while the
/// ecliptic lies almost along the horizon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Horizon {
    /// Local apparent sidereal time, as an angle: the right ascension on the
    /// meridian, called RAMC in the books.
    pub sidereal_time: Angle,
    /// The true obliquity of the ecliptic.
    pub obliquity: Angle,
    /// The place's latitude, north positive.
    pub latitude: Latitude,
}

/// Where something stands as seen from a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HorizonPosition {
    /// Height above the horizon, in [−90°, 90°]; no refraction.
    pub altitude: Angle,
    /// Direction along the horizon, in [0°, 360°) from north by east.
    pub azimuth: Angle,
}

impl Horizon {
    /// The midheaven: the longitude of the ecliptic degree whose right
    /// ascension is the sidereal time. In [0°, 360°).
    ///
    /// At polar latitudes it may lie below the horizon, and is not swapped for
    /// its opposite. It does not depend on the latitude, so that it has an
    /// answer even at the poles, for the meridian that the sidereal time
    /// belongs to.
    #[must_use]
    pub fn midheaven(&self) -> Angle {
        self.degree_at_right_ascension(self.sidereal_time)
    }

    /// The altitude of the midheaven; negative where it culminates below the
    /// horizon, which happens within the polar circles alone.
    #[must_use]
    pub fn midheaven_altitude(&self) -> Angle {
        let midheaven = self.midheaven();
        self.position(self.right_ascension(midheaven), self.declination(midheaven))
            .altitude
    }

    /// Right ascension of the ecliptic degree at a longitude. In [0°, 360°).
    #[must_use]
    pub fn right_ascension(&self, longitude: Angle) -> Angle {
        ecliptic::right_ascension(longitude, self.obliquity)
    }

    /// Declination of the ecliptic degree at a longitude.
    #[must_use]
    pub fn declination(&self, longitude: Angle) -> Latitude {
        ecliptic::declination(longitude, self.obliquity)
    }

    /// Right ascension and declination of the ecliptic degree at a longitude together.
    pub(crate) fn on_equator(&self, longitude: Angle) -> (Angle, Latitude) {
        ecliptic::on_equator(longitude, self.obliquity)
    }

    /// Longitude of the ecliptic degree with this right ascension. In [0°, 360°).
    #[must_use]
    pub fn degree_at_right_ascension(&self, right_ascension: Angle) -> Angle {
        ecliptic::on_hour_circle(right_ascension, self.obliquity)
    }

    /// Hour angle, from the meridian westward, in (−180°, 180°].
    #[must_use]
    pub fn hour_angle(&self, right_ascension: Angle) -> Angle {
        right_ascension.to(self.sidereal_time)
    }

    /// Altitude and azimuth of a point of the sky.
    ///
    /// At the poles the azimuth is counted from the meridian that the sidereal
    /// time belongs to.
    #[must_use]
    pub fn position(&self, right_ascension: Angle, declination: Latitude) -> HorizonPosition {
        let (sin_hour, cos_hour) = self.hour_angle(right_ascension).sin_cos();
        let (sin_declination, cos_declination) = declination.angle().sin_cos();
        let (sin_latitude, cos_latitude) = self.latitude.angle().sin_cos();
        let north = cos_latitude * sin_declination - sin_latitude * cos_declination * cos_hour;
        let east = -cos_declination * sin_hour;
        let up = sin_latitude * sin_declination + cos_latitude * cos_declination * cos_hour;
        HorizonPosition {
            // By the tangent: the sine alone would lose half the digits near the zenith.
            altitude: Angle::atan2(up, libm::hypot(north, east)),
            azimuth: Angle::atan2(east, north).in_turn(),
        }
    }

    /// Altitude and azimuth of the ecliptic degree at a longitude.
    #[must_use]
    pub fn position_of_degree(&self, longitude: Angle) -> HorizonPosition {
        self.position(self.right_ascension(longitude), self.declination(longitude))
    }
}
