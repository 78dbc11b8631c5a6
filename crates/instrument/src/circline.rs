use sky::Angle;

use crate::point::Point;

/// A circle or a straight line: the points with a(x² + y²) + bx + cy + d = 0.
///
/// Stereographic projection turns every circle on the sphere into one of these,
/// and keeping both as one kind makes the horizon of the equator, the −18° line
/// of latitude 18° and the meridian line no special cases.
///
/// The value of the expression is negative on one side and positive on the
/// other; constructors say which.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circline {
    a: f64,
    b: f64,
    c: f64,
    d: f64,
}

impl Circline {
    /// From the four coefficients, scaled so that the gradient on the line is of order one.
    ///
    /// The coefficients must not all vanish.
    #[must_use]
    pub(crate) fn from_coefficients(a: f64, b: f64, c: f64, d: f64) -> Circline {
        // On the line |∇|² = b² + c² − 4ad, the discriminant: it is positive for
        // every real circle and line, and twice the radius is its root over |a|.
        let scale = (b * b + c * c - 4.0 * a * d).abs().sqrt();
        let scale = if scale > 0.0 { scale } else { 1.0 };
        Circline {
            a: a / scale,
            b: b / scale,
            c: c / scale,
            d: d / scale,
        }
    }

    /// A circle; inside is negative.
    #[must_use]
    pub fn circle(centre: Point, radius_mm: f64) -> Circline {
        Circline::from_coefficients(
            1.0,
            -2.0 * centre.x,
            -2.0 * centre.y,
            centre.dot(centre) - radius_mm * radius_mm,
        )
    }

    /// The straight line through a point along a direction; positive on the side
    /// of [`Point::perpendicular`].
    #[must_use]
    pub fn straight(through: Point, along: Point) -> Circline {
        let normal = along.perpendicular();
        Circline::from_coefficients(0.0, normal.x, normal.y, -normal.dot(through))
    }

    /// The circle through three points, or the straight line when they lie on one;
    /// `None` when two of them are the same.
    #[must_use]
    pub fn through(p: Point, q: Point, r: Point) -> Option<Circline> {
        // Moved to p, d = 0 and two linear equations remain for (a, b, c).
        let (u, v) = (q - p, r - p);
        let (u2, v2) = (u.dot(u), v.dot(v));
        let w = r - q;
        if u2 == 0.0 || v2 == 0.0 || w.dot(w) == 0.0 {
            return None;
        }
        let a = u.cross(v);
        let b = u.y * v2 - v.y * u2;
        let c = v.x * u2 - u.x * v2;
        Some(Circline::from_coefficients(a, b, c, 0.0).moved(p))
    }

    /// The expression a(x² + y²) + bx + cy + d at a point, in millimetres near the
    /// line: its size there is the distance from the line.
    #[must_use]
    pub fn value(&self, p: Point) -> f64 {
        self.a * p.dot(p) + self.b * p.x + self.c * p.y + self.d
    }

    /// How far a point is from the line, in millimetres.
    #[must_use]
    pub fn distance_mm(&self, p: Point) -> f64 {
        match (self.as_circle(), self.as_straight()) {
            (Some((centre, radius)), _) => ((p - centre).radius() - radius).abs(),
            (None, Some((foot, along))) => along.cross(p - foot).abs(),
            // One of the two it always is.
            (None, None) => self.value(p).abs(),
        }
    }

    /// The direction in which [`Circline::value`] grows fastest.
    #[must_use]
    pub fn gradient(&self, p: Point) -> Point {
        Point {
            x: 2.0 * self.a * p.x + self.b,
            y: 2.0 * self.a * p.y + self.c,
        }
    }

    /// The mean of [`Circline::value`] round a circle about the pole.
    pub(crate) fn mean_at_radius(&self, radius_mm: f64) -> f64 {
        self.a * radius_mm * radius_mm + self.d
    }

    /// Centre and radius in millimetres; `None` for a straight line.
    ///
    /// A circle of radius beyond 10⁷ mm counts as straight: over the whole of the
    /// largest instrument it leaves the straight line by less than 0.01 mm.
    #[must_use]
    pub fn as_circle(&self) -> Option<(Point, f64)> {
        let discriminant = self.b * self.b + self.c * self.c - 4.0 * self.a * self.d;
        let radius = discriminant.abs().sqrt() / (2.0 * self.a.abs());
        (radius < 1e7).then(|| {
            let centre = Point {
                x: -self.b / (2.0 * self.a),
                y: -self.c / (2.0 * self.a),
            };
            (centre, radius)
        })
    }

    /// A point of the straight line nearest the pole, and its unit direction;
    /// `None` for a circle.
    #[must_use]
    pub fn as_straight(&self) -> Option<(Point, Point)> {
        if self.as_circle().is_some() {
            return None;
        }
        let normal = Point {
            x: self.b,
            y: self.c,
        };
        let length = normal.dot(normal).sqrt();
        let unit = normal * (1.0 / length);
        Some((unit * (-self.d / length), -unit.perpendicular()))
    }

    /// The same line shifted.
    #[must_use]
    pub fn moved(&self, by: Point) -> Circline {
        Circline {
            a: self.a,
            b: self.b - 2.0 * self.a * by.x,
            c: self.c - 2.0 * self.a * by.y,
            d: self.d + self.a * by.dot(by) - self.b * by.x - self.c * by.y,
        }
    }

    /// The same line carried round the pole.
    #[must_use]
    pub fn turned(&self, by: Angle) -> Circline {
        self.turned_onto(Point::polar(1.0, by))
    }

    /// The same turned about the pole as the point (1, 0) is turned onto a point at distance 1.
    #[must_use]
    pub(crate) fn turned_onto(&self, unit: Point) -> Circline {
        let bc = Point {
            x: self.b,
            y: self.c,
        }
        .turned_onto(unit);
        Circline {
            b: bc.x,
            c: bc.y,
            ..*self
        }
    }

    /// Where two lines meet: no point, one (touching, or two straight lines) or two.
    ///
    /// A line does not meet itself.
    #[must_use]
    pub fn meets(&self, other: &Circline) -> Meetings {
        // The combination without x² + y² is the straight line through the
        // meeting points (the radical axis); it meets the rounder of the two.
        let (axis, round) = if self.a.abs() >= other.a.abs() {
            (other.less(self), self)
        } else {
            (self.less(other), other)
        };
        let (b, c, d) = axis;
        let size = (b * b + c * c).sqrt();
        // Concentric circles, parallel lines, or one line twice.
        if size < 1e-14 {
            return Meetings::default();
        }
        let normal = Point {
            x: b / size,
            y: c / size,
        };
        let foot = normal * (-d / size);
        let along = normal.perpendicular();
        // The round one's equation along the axis: q₂t² + q₁t + q₀ = 0.
        let q2 = round.a;
        let q1 = round.gradient(foot).dot(along);
        let q0 = round.value(foot);
        let mut found = Meetings::default();
        for t in quadratic(q2, q1, q0) {
            if t.is_finite() {
                found.push(foot + along * t);
            }
        }
        found
    }

    /// The straight line `self − (self.a / round.a)·round`, as (b, c, d).
    fn less(&self, round: &Circline) -> (f64, f64, f64) {
        let k = if round.a == 0.0 {
            0.0
        } else {
            self.a / round.a
        };
        (
            self.b - k * round.b,
            self.c - k * round.c,
            self.d - k * round.d,
        )
    }
}

/// Up to two points where lines meet.
#[derive(Clone, Copy, Debug, Default)]
pub struct Meetings {
    points: [Point; 2],
    count: usize,
}

impl Meetings {
    fn push(&mut self, p: Point) {
        if let Some(slot) = self.points.get_mut(self.count) {
            *slot = p;
            self.count += 1;
        }
    }

    /// The points.
    #[must_use]
    pub fn points(&self) -> &[Point] {
        self.points.get(..self.count).unwrap_or(&[])
    }
}

impl IntoIterator for Meetings {
    type Item = Point;
    type IntoIter = std::iter::Take<std::array::IntoIter<Point, 2>>;

    fn into_iter(self) -> Self::IntoIter {
        self.points.into_iter().take(self.count)
    }
}

/// A crossing this nearly tangent (in the square of the sine of its angle) counts as touching.
const TOUCHING: f64 = 1e-14;

/// The real roots of q₂t² + q₁t + q₀, without loss of digits when q₂ is small.
///
/// The discriminant is the square of the sine of the angle at which the axis
/// crosses the circle, for a [`Circline`] is scaled to a gradient of one. Where there is no
/// root, or no second one, no finite number stands for it.
fn quadratic(q2: f64, q1: f64, q0: f64) -> [f64; 2] {
    let discriminant = q1 * q1 - 4.0 * q2 * q0;
    if discriminant.abs() <= TOUCHING {
        return [-q1 / (2.0 * q2), f64::NAN];
    }
    // The sum that does not cancel. A negative discriminant makes it no number.
    let sum = -0.5 * (q1 + discriminant.sqrt().copysign(q1));
    [q0 / sum, sum / q2]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn point(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    #[test]
    fn a_circle_and_a_tangent_touch_once() {
        let circle = Circline::circle(point(3.0, 0.0), 2.0);
        let tangent = Circline::straight(point(5.0, 0.0), point(0.0, 1.0));
        let found = circle.meets(&tangent);
        assert!(!found.points().is_empty());
        for p in found.points() {
            assert!((p.x - 5.0).abs() < 1e-7 && p.y.abs() < 1e-6);
        }
    }

    #[test]
    fn parallel_lines_and_concentric_circles_do_not_meet() {
        let one = Circline::straight(point(0.0, 1.0), point(1.0, 0.0));
        let two = Circline::straight(point(0.0, 2.0), point(1.0, 0.0));
        assert!(one.meets(&two).points().is_empty());
        let inner = Circline::circle(Point::POLE, 1.0);
        let outer = Circline::circle(Point::POLE, 2.0);
        assert!(inner.meets(&outer).points().is_empty());
        assert!(inner.meets(&inner).points().is_empty());
    }

    #[test]
    fn two_straight_lines_meet_once() {
        let one = Circline::straight(point(0.0, 1.0), point(1.0, 0.0));
        let two = Circline::straight(point(2.0, 0.0), point(0.0, 1.0));
        let found = one.meets(&two);
        assert_eq!(found.points().len(), 1);
        assert!((found.points()[0] - point(2.0, 1.0)).radius() < 1e-12);
    }

    proptest! {
        #[test]
        fn meeting_points_lie_on_both(
            x in -50.0..50.0, y in -50.0..50.0, r in 1.0..90.0,
            u in -50.0..50.0, v in -50.0..50.0, s in 1.0..90.0,
        ) {
            let one = Circline::circle(point(x, y), r);
            let two = Circline::circle(point(u, v), s);
            let found = one.meets(&two);
            let between = point(x, y) - point(u, v);
            let apart = between.radius();
            let cross = apart < r + s - 1e-6 && apart > (r - s).abs() + 1e-6;
            if cross {
                prop_assert_eq!(found.points().len(), 2);
            }
            for p in found.points() {
                prop_assert!(one.value(*p).abs() < 1e-6, "{}", one.value(*p));
                prop_assert!(two.value(*p).abs() < 1e-6, "{}", two.value(*p));
            }
        }

        #[test]
        fn the_circle_through_three_points_has_them(
            x in -50.0..50.0, y in -50.0..50.0, u in -50.0..50.0, v in -50.0..50.0,
            s in -50.0..50.0, t in -50.0..50.0,
        ) {
            let (p, q, r) = (point(x, y), point(u, v), point(s, t));
            prop_assume!((q - p).cross(r - p).abs() > 1.0);
            let line = Circline::through(p, q, r).expect("three points apart");
            for on in [p, q, r] {
                prop_assert!(line.value(on).abs() < 1e-8);
            }
        }

        #[test]
        fn moving_and_turning_carry_the_points_along(
            x in -50.0..50.0, y in -50.0..50.0, r in 1.0..90.0, turn in -400.0..400.0,
            along in 0.0..360.0,
        ) {
            let circle = Circline::circle(point(x, y), r);
            let on = point(x, y) + Point::polar(r, Angle::from_deg(along));
            let by = Angle::from_deg(turn);
            prop_assert!(circle.turned(by).value(on.turned(by)).abs() < 1e-9);
            let shift = point(y, x);
            prop_assert!(circle.moved(shift).value(on + shift).abs() < 1e-9);
        }
    }
}
