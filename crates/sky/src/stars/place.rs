use super::{JulianEpoch, Star};
use crate::frame::{Precession, direction};
use crate::vector::{length, scaled, turned};
use crate::{Angle, Latitude};

/// Where a star stands among the stars of its time: from the mean equator and
/// equinox of date, seen from the solar system's centre, without nutation,
/// aberration or parallax. It is what a rete is drawn from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanPlace {
    /// Right ascension of date, in [0°, 360°).
    pub right_ascension: Angle,
    /// Declination of date.
    pub declination: Latitude,
}

/// Where a star appears from the Earth's centre: motion, parallax, deflection by
/// the Sun, aberration, precession and nutation are all in it, and everything is
/// referred to the true ecliptic, equator and equinox of date.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StarPlace {
    /// Ecliptic longitude, in [0°, 360°).
    pub longitude: Angle,
    /// Ecliptic latitude, north positive.
    pub latitude: Latitude,
    /// Right ascension, in [0°, 360°).
    pub right_ascension: Angle,
    /// Declination, north positive.
    pub declination: Latitude,
}

impl Star {
    /// The direction of the star at an epoch from the solar system's centre, a
    /// unit vector along the axes of the ICRS: x towards the equinox, z towards
    /// the pole.
    ///
    /// The star moves in a straight line at a steady speed (ESA SP-1200, vol. 1,
    /// section 1.5.5). Where it is not known how fast it recedes, it is taken to keep its
    /// distance: [`Star::may_be_off`] says by how much that may put it wrong. In a wide
    /// pair the catalogue's motion is that of its own years, not of the pair's centre: for
    /// α Centauri some 2′ in 600 years.
    ///
    /// [`Sky::star`](crate::Sky::star) gives the apparent place.
    #[must_use]
    pub fn direction(&self, epoch: JulianEpoch) -> [f64; 3] {
        let (sin_ra, cos_ra) = self.right_ascension.sin_cos();
        let (sin_dec, cos_dec) = self.declination.angle().sin_cos();
        let years = epoch.year() - JulianEpoch::HIPPARCOS.year();
        let east = self.motion_in_right_ascension.rad() * years;
        let north = self.motion_in_declination.rad() * years;
        let distance = 1.0 + self.recession(self.recedes_km_s.unwrap_or_default()) * years;
        let along = [
            distance * cos_dec * cos_ra - east * sin_ra - north * sin_dec * cos_ra,
            distance * cos_dec * sin_ra + east * cos_ra - north * sin_dec * sin_ra,
            distance * sin_dec + north * cos_dec,
        ];
        scaled(along, 1.0 / length(along))
    }

    /// By what part of itself the distance grows in a year, at a speed.
    fn recession(&self, recedes_km_s: f64) -> f64 {
        /// An astronomical unit in a Julian year.
        const KM_S_OF_AU_A_YEAR: f64 = 4.740_470_5;
        self.parallax.rad().max(0.0) * recedes_km_s / KM_S_OF_AU_A_YEAR
    }

    /// How far the direction may be off at an epoch, for all that is not known of how fast
    /// the star recedes: of the nearest it is known to 2 km/s, of others it is taken to be
    /// less than 100 km/s (common practice: few stars of our neighbourhood are faster).
    #[must_use]
    pub fn may_be_off(&self, epoch: JulianEpoch) -> Angle {
        let unknown_km_s = match self.recedes_km_s {
            Some(_) => 2.0,
            None => 100.0,
        };
        let years = epoch.year() - JulianEpoch::HIPPARCOS.year();
        let motion = libm::hypot(
            self.motion_in_right_ascension.rad(),
            self.motion_in_declination.rad(),
        );
        Angle::from_rad(motion * self.recession(unknown_km_s) * years * years)
    }

    /// The mean place of date.
    ///
    /// Precession is that of Vondrák, Capitaine & Wallace 2011, which keeps
    /// within 0.001″ of IAU 2006 from 1900 to 2100 and holds for the whole span
    /// of [`JulianEpoch`].
    #[must_use]
    pub fn mean_place(&self, epoch: JulianEpoch) -> MeanPlace {
        let axes = Precession::at((epoch.year() - 2000.0) / 100.0);
        let (right_ascension, declination) =
            direction(turned(&axes.to_equator, self.direction(epoch)));
        MeanPlace {
            right_ascension,
            declination,
        }
    }
}
