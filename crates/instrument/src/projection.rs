use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::point::Point;
use crate::specification::Hemisphere;

/// Stereographic projection of the sphere from one pole onto the plane of the
/// equator (Ptolemy, *Planisphaerium*): circles stay circles, angles stay angles.
///
/// Northern instruments project from the south pole, southern ones from the
/// north pole. A place in the sky is given by hour angle and declination; on
/// the plane the hour angle is the direction, and the radius is
/// r = r_eq · tan((90° ∓ δ)/2).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projection {
    equator_mm: f64,
    hemisphere: Hemisphere,
}

/// A direction in space: x towards the equator's noon point, y towards the
/// west point, z towards the north pole.
pub(crate) type Direction = [f64; 3];

impl Projection {
    /// A projection whose equator has this radius.
    #[must_use]
    pub fn new(equator_radius_mm: f64, hemisphere: Hemisphere) -> Projection {
        Projection {
            equator_mm: equator_radius_mm,
            hemisphere,
        }
    }

    /// The equator's radius in millimetres.
    #[must_use]
    pub fn equator_mm(&self) -> f64 {
        self.equator_mm
    }

    /// Which hemisphere's instruments it serves.
    #[must_use]
    pub fn hemisphere(&self) -> Hemisphere {
        self.hemisphere
    }

    /// The radius in millimetres of the circle of a declination; infinite at the
    /// pole projected from.
    #[must_use]
    pub fn radius(&self, declination: Latitude) -> f64 {
        let from_pole = Angle::QUARTER_TURN - declination.angle() * self.sign();
        self.equator_mm * (from_pole / 2.0).tan()
    }

    /// The declination of the circle at a radius in millimetres.
    #[must_use]
    pub fn declination(&self, radius_mm: f64) -> Latitude {
        let (r2, e2) = (radius_mm * radius_mm, self.equator_mm * self.equator_mm);
        Latitude::asin(self.sign() * (e2 - r2) / (e2 + r2))
    }

    /// The point of an hour angle and a declination.
    #[must_use]
    pub fn point(&self, hour_angle: Angle, declination: Latitude) -> Point {
        Point::polar(self.radius(declination), hour_angle)
    }

    /// The point of a direction in space; none for the pole projected from.
    #[must_use]
    pub(crate) fn seen(&self, [x, y, z]: Direction) -> Option<Point> {
        /// Farther off no drawing reaches.
        const FAR: f64 = 1e9;
        let point = Point::polar(self.radius(Latitude::asin(z)), Angle::atan2(y, x));
        (point.radius() < FAR * self.equator_mm).then_some(point)
    }

    /// How many millimetres a small arc of the sky takes at a point, per degree;
    /// the same in every direction, for the projection keeps angles.
    #[must_use]
    pub fn mm_per_degree(&self, at: Point) -> f64 {
        let scale = (self.equator_mm * self.equator_mm + at.dot(at)) / (2.0 * self.equator_mm);
        scale.to_radians()
    }

    /// The projection of the circle cut from the sphere by the plane n·v = `height`,
    /// with n of unit length. Its value is negative where n·v > `height`, that is
    /// on the side towards n.
    #[must_use]
    pub(crate) fn section(&self, normal: Direction, height: f64) -> Circline {
        // With v = (2Rx, 2Ry, R² − r²)/(R² + r²), the plane's equation times
        // −(R² + r²), R the equator's radius.
        let [nx, ny, nz] = normal;
        let nz = nz * self.sign();
        let r = self.equator_mm;
        Circline::from_coefficients(
            height + nz,
            -2.0 * r * nx,
            -2.0 * r * ny,
            r * r * (height - nz),
        )
    }

    /// The circle of all points with this declination.
    #[must_use]
    pub fn parallel(&self, declination: Latitude) -> Circline {
        Circline::circle(Point::POLE, self.radius(declination))
    }

    /// +1 for northern instruments, −1 for southern.
    fn sign(&self) -> f64 {
        match self.hemisphere {
            Hemisphere::North => 1.0,
            Hemisphere::South => -1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NORTH: Projection = Projection {
        equator_mm: 1.0,
        hemisphere: Hemisphere::North,
    };

    /// Radii of the tropics: r_Cancer = tan((90° − ε)/2), r_Capricorn = tan((90° + ε)/2),
    /// after Ptolemy's Planisphaerium; numbers for ε = 23°30′ computed independently.
    #[test]
    fn tropics() {
        let tropic = Latitude::from_deg(23.5).unwrap();
        assert!((NORTH.radius(tropic) - 0.655_629).abs() < 1e-6);
        assert!((NORTH.radius(-tropic) - 1.525_253).abs() < 1e-6);
        let south = Projection::new(1.0, Hemisphere::South);
        assert!((south.radius(-tropic) - 0.655_629).abs() < 1e-6);
    }

    #[test]
    fn radius_and_declination_undo_each_other() {
        for hemisphere in [Hemisphere::North, Hemisphere::South] {
            let projection = Projection::new(37.5, hemisphere);
            for deg in -89..=89 {
                let declination = Latitude::from_deg(f64::from(deg)).unwrap();
                let back = projection.declination(projection.radius(declination));
                assert!((back.deg() - declination.deg()).abs() < 1e-11);
            }
        }
    }
}
