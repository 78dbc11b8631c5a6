use sofars::coords::ltecm;
use sofars::pnp::{ltpecl, ltpequ};

use crate::vector::{Matrix, dot};
use crate::{Angle, Latitude};

/// Precession over long spans: J. Vondrák, N. Capitaine and P. Wallace, "New
/// precession expressions, valid for long time intervals", A&A 534 (2011) A22.
/// Within 0.01″ of IAU 2006 for centuries around 2000; the latter's polynomials
/// leave it by 0.7″ at the year −600.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Precession {
    /// From the axes of the ICRS to the mean ecliptic and equinox of date.
    pub(crate) to_ecliptic: Matrix,
    /// Angle between the mean equator and the ecliptic of date.
    pub(crate) mean_obliquity: Angle,
}

impl Precession {
    pub(crate) fn at(centuries: f64) -> Precession {
        let epoch = 2000.0 + 100.0 * centuries;
        Precession {
            to_ecliptic: ltecm(epoch),
            mean_obliquity: Angle::acos(dot(ltpecl(epoch), ltpequ(epoch))),
        }
    }
}

/// The angle between equator and ecliptic, with its sine and cosine.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Obliquity {
    pub(crate) angle: Angle,
    sin: f64,
    cos: f64,
}

impl Obliquity {
    pub(crate) fn new(angle: Angle) -> Obliquity {
        let (sin, cos) = angle.sin_cos();
        Obliquity { angle, sin, cos }
    }

    /// From ecliptic longitude and latitude to right ascension and declination.
    pub(crate) fn equatorial(&self, longitude: Angle, latitude: Latitude) -> (Angle, Latitude) {
        self.tilted(self.sin, longitude, latitude)
    }

    /// From right ascension and declination to ecliptic longitude and latitude.
    pub(crate) fn ecliptic(&self, ra: Angle, declination: Latitude) -> (Angle, Latitude) {
        self.tilted(-self.sin, ra, declination)
    }

    fn tilted(&self, sin: f64, along: Angle, above: Latitude) -> (Angle, Latitude) {
        let (s, c) = along.sin_cos();
        let (z, r) = above.angle().sin_cos();
        direction([
            r * c,
            r * s * self.cos - z * sin,
            r * s * sin + z * self.cos,
        ])
    }

    /// The same point in equatorial axes, from ecliptic ones.
    pub(crate) fn rotated_to_equator(&self, [x, y, z]: [f64; 3]) -> [f64; 3] {
        [x, y * self.cos - z * self.sin, y * self.sin + z * self.cos]
    }
}

/// Where a vector of any length points: in the turn, and above the plane.
pub(crate) fn direction([x, y, z]: [f64; 3]) -> (Angle, Latitude) {
    (
        Angle::atan2(y, x).in_turn(),
        // The arc tangent keeps its digits near the pole, where the sine loses them.
        Latitude::from_deg(z.atan2(x.hypot(y)).to_degrees()).unwrap_or_default(),
    )
}
