use sofars::pnp::ltpb;

use super::{JulianEpoch, Star};
use crate::frame::direction;
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
    /// section 1.5.5). Two things are left out, and small against any rete. No
    /// radial velocity is assumed, for the catalogue has none: in 600 years that
    /// displaces α Centauri by 23″, 82 and ο² Eridani by 13″ to 17″, and no
    /// other star here by more than 4″. And in a wide pair the catalogue's
    /// motion is that of its own years, not of the pair's centre: for α Centauri
    /// some 2′ in 600 years.
    ///
    /// [`Sky::star`](crate::Sky::star) gives the apparent place.
    #[must_use]
    pub fn direction(&self, epoch: JulianEpoch) -> [f64; 3] {
        let (sin_ra, cos_ra) = self.right_ascension.sin_cos();
        let (sin_dec, cos_dec) = self.declination.angle().sin_cos();
        let years = epoch.year() - JulianEpoch::HIPPARCOS.year();
        let east = self.motion_in_right_ascension.rad() * years;
        let north = self.motion_in_declination.rad() * years;
        let along = [
            cos_dec * cos_ra - east * sin_ra - north * sin_dec * cos_ra,
            cos_dec * sin_ra + east * cos_ra - north * sin_dec * sin_ra,
            sin_dec + north * cos_dec,
        ];
        scaled(along, 1.0 / length(along))
    }

    /// The mean place of date.
    ///
    /// Precession is that of Vondrák, Capitaine & Wallace 2011, which keeps
    /// within 0.001″ of IAU 2006 from 1900 to 2100 and holds for the whole span
    /// of [`JulianEpoch`].
    #[must_use]
    pub fn mean_place(&self, epoch: JulianEpoch) -> MeanPlace {
        let (right_ascension, declination) =
            direction(turned(&ltpb(epoch.year()), self.direction(epoch)));
        MeanPlace {
            right_ascension,
            declination,
        }
    }
}
