use sky::{Angle, Latitude};

use crate::ecliptic;
use crate::{NoAnswer, Reason, Subject};

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

/// The sine below which two planes cannot be told apart, nor a point from a
/// plane: some fifty roundings, 6e-13°.
const COINCIDENT: f64 = 1e-14;

impl Horizon {
    /// The ascendant: the longitude of the ecliptic degree on the eastern half
    /// of the horizon, where it rises. In [0°, 360°).
    ///
    /// tan λ = cos θ / −(sin θ cos ε + tan φ sin ε); J. Meeus, Astronomical
    /// Algorithms (2nd ed. 1998), chapter 14. Taken by quadrant, the formula
    /// gives the crossing at which the horizon's east is reached from the
    /// midheaven's side; while the midheaven is below the horizon, at polar
    /// latitudes, that is the western one, and its opposite is returned. The
    /// ascendant follows the midheaven in the order of the signs by less than
    /// half a turn, always.
    ///
    /// # Errors
    /// At ±90°, where there is no east; where the ecliptic lies along the
    /// horizon; and at the instant, at polar latitudes, when it crosses the
    /// horizon due north and south.
    pub fn ascendant(&self) -> Result<Angle, NoAnswer> {
        self.eastern_degree()
            .map_err(|reason| self.no_answer(Subject::Ascendant, reason))
    }

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
            altitude: Angle::atan2(up, north.hypot(east)),
            azimuth: Angle::atan2(east, north).in_turn(),
        }
    }

    /// Altitude and azimuth of the ecliptic degree at a longitude.
    #[must_use]
    pub fn position_of_degree(&self, longitude: Angle) -> HorizonPosition {
        self.position(self.right_ascension(longitude), self.declination(longitude))
    }

    pub(crate) fn no_answer(&self, subject: Subject, reason: Reason) -> NoAnswer {
        NoAnswer {
            subject,
            reason,
            horizon: *self,
        }
    }

    /// Cosine of the angle between the north points of the ecliptic and of the
    /// horizon: positive while the midheaven is above the horizon.
    pub(crate) fn midheaven_side(&self) -> f64 {
        let (sin_latitude, cos_latitude) = self.latitude.angle().sin_cos();
        let (sin_obliquity, cos_obliquity) = self.obliquity.sin_cos();
        sin_latitude * sin_obliquity * self.sidereal_time.sin() + cos_latitude * cos_obliquity
    }

    pub(crate) fn eastern_degree(&self) -> Result<Angle, Reason> {
        let finite = self.sidereal_time.is_finite() && self.obliquity.is_finite();
        if !finite {
            return Err(Reason::NotFinite);
        }
        if self.latitude.deg().abs() >= 90.0 {
            return Err(Reason::Pole);
        }
        let (sin_time, cos_time) = self.sidereal_time.sin_cos();
        let (sin_latitude, cos_latitude) = self.latitude.angle().sin_cos();
        let (sin_obliquity, cos_obliquity) = self.obliquity.sin_cos();
        // The vector product of the two planes' poles; its length is the sine
        // of the angle between them.
        let y = cos_time * cos_latitude;
        let x = -(sin_time * cos_obliquity * cos_latitude + sin_latitude * sin_obliquity);
        if y.hypot(x) < COINCIDENT {
            return Err(Reason::EclipticOnHorizon);
        }
        let side = self.midheaven_side();
        if side.abs() < COINCIDENT {
            return Err(Reason::MidheavenOnHorizon);
        }
        let crossing = Angle::atan2(y, x);
        let eastern = if side > 0.0 {
            crossing
        } else {
            crossing + Angle::HALF_TURN
        };
        Ok((eastern + TEST_SHIFT).in_turn())
    }
}

/// Zero but in a build that proves that no reading of an instrument depends on it.
const TEST_SHIFT: Angle = Angle::from_deg(if cfg!(feature = "test-shift-ascendant") {
    1.0
} else {
    0.0
});
