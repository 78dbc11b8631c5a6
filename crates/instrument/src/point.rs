use std::ops::{Add, Mul, Neg, Sub};

use sky::Angle;

/// A point (or a displacement) in the plane of the instrument, in millimetres.
///
/// The pole is the origin. The x axis runs along the noon half of the meridian
/// line and the y axis towards the west, so that the direction of a point,
/// [`Point::direction`], *is* its hour angle. Which of these is drawn up, left
/// or right is settled by the [`Orientation`](crate::Orientation), when drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// Millimetres along the noon half of the meridian line.
    pub x: f64,
    /// Millimetres towards the west.
    pub y: f64,
}

impl Point {
    /// The pole, in the middle of mater, plate and rete.
    pub const POLE: Point = Point { x: 0.0, y: 0.0 };

    /// The point at a distance from the pole, in a direction counted as hour angles are.
    #[must_use]
    pub fn polar(radius_mm: f64, direction: Angle) -> Point {
        let (sin, cos) = direction.sin_cos();
        Point {
            x: radius_mm * cos,
            y: radius_mm * sin,
        }
    }

    /// Its distance from the pole, in millimetres.
    #[must_use]
    pub fn radius(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// Its hour angle, in (−180°, 180°].
    #[must_use]
    pub fn direction(self) -> Angle {
        Angle::atan2(self.y, self.x)
    }

    /// The point carried round the pole.
    #[must_use]
    pub fn turned(self, by: Angle) -> Point {
        self.turned_onto(Point::polar(1.0, by))
    }

    /// The point carried round the pole by the direction of a unit vector, for many points
    /// that are turned alike.
    #[must_use]
    pub fn turned_onto(self, unit: Point) -> Point {
        Point {
            x: self.x * unit.x - self.y * unit.y,
            y: self.x * unit.y + self.y * unit.x,
        }
    }

    /// The scalar product of two displacements.
    #[must_use]
    pub fn dot(self, other: Point) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The area spanned by two displacements; positive when `other` lies on the west-turning side.
    #[must_use]
    pub fn cross(self, other: Point) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// The displacement turned by a right angle.
    #[must_use]
    pub fn perpendicular(self) -> Point {
        Point {
            x: -self.y,
            y: self.x,
        }
    }
}

impl Add for Point {
    type Output = Point;
    fn add(self, other: Point) -> Point {
        Point {
            x: self.x + other.x,
            y: self.y + other.y,
        }
    }
}

impl Sub for Point {
    type Output = Point;
    fn sub(self, other: Point) -> Point {
        Point {
            x: self.x - other.x,
            y: self.y - other.y,
        }
    }
}

impl Neg for Point {
    type Output = Point;
    fn neg(self) -> Point {
        Point {
            x: -self.x,
            y: -self.y,
        }
    }
}

impl Mul<f64> for Point {
    type Output = Point;
    fn mul(self, factor: f64) -> Point {
        Point {
            x: self.x * factor,
            y: self.y * factor,
        }
    }
}
