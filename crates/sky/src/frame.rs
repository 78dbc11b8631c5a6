use crate::vector::{Matrix, Vector, cross, dot, length, scaled};
use crate::vondrak::{ecliptic_pole, equator_pole};
use crate::{Angle, Latitude};

/// Precession over long spans: J. Vondrák, N. Capitaine and P. Wallace, "New
/// precession expressions, valid for long time intervals", A&A 534 (2011) A22.
/// Within 0.01″ of IAU 2006 for centuries around 2000; the latter's polynomials
/// leave it by 0.7″ at the year −600.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Precession {
    /// From the axes of the ICRS to the mean ecliptic and equinox of date.
    pub(crate) to_ecliptic: Matrix,
    /// The same to the mean equator and equinox of date.
    pub(crate) to_equator: Matrix,
    /// Angle between the mean equator and the ecliptic of date.
    pub(crate) mean_obliquity: Angle,
}

/// What the axes of the ICRS are turned by from the mean equator and equinox of
/// J2000.0, in radians: about the pole's x and y, and in right ascension (IERS
/// Conventions 2010, eqs. 5.21 and 5.33).
const FRAME_BIAS: [f64; 3] = [
    Angle::from_arcsec(-0.016_617).rad(),
    Angle::from_arcsec(-0.006_819_2).rad(),
    Angle::from_arcsec(-0.014_6).rad(),
];

impl Precession {
    pub(crate) fn at(centuries: f64) -> Precession {
        let equator = equator_pole(centuries);
        let ecliptic = ecliptic_pole(centuries);
        let to_equinox = cross(equator, ecliptic);
        let equinox = scaled(to_equinox, 1.0 / length(to_equinox));
        let axes = |pole: Vector| [equinox, cross(pole, equinox), pole].map(in_icrs);
        Precession {
            to_ecliptic: axes(ecliptic),
            to_equator: axes(equator),
            mean_obliquity: Angle::acos(dot(ecliptic, equator)),
        }
    }
}

/// An axis in those of the ICRS, from those of the mean equator and equinox of J2000.0.
fn in_icrs([x, y, z]: Vector) -> Vector {
    let [dx, de, dr] = FRAME_BIAS;
    [
        x - y * dr + z * dx,
        x * dr + y + z * de,
        z - x * dx - y * de,
    ]
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
        Latitude::from_deg(libm::atan2(z, (x * x + y * y).sqrt()).to_degrees()).unwrap_or_default(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use sofars::coords::ltecm;
    use sofars::pnp::ltpb;

    /// The axes are those of ERFA's own routine, put together here so that the
    /// obliquity costs nothing more.
    #[test]
    fn axes_of_date() {
        for centuries in [-26.0, -6.1, 0.0, 0.25, 6.5] {
            let (found, year) = (Precession::at(centuries), 2000.0 + 100.0 * centuries);
            let both = [
                (found.to_ecliptic, ltecm(year)),
                (found.to_equator, ltpb(year)),
            ];
            for (found, given) in both {
                for (a, b) in found.as_flattened().iter().zip(given.as_flattened()) {
                    assert!((a - b).abs() < 1e-15, "{centuries}: {found:?} {given:?}");
                }
            }
        }
    }
}
