use instrument::Point;
use sky::Angle;

use crate::contour::Contour;
use crate::piece::{Piece, reversed};
use crate::scene::Region;

/// A part of a circle, or a straight line, run from one end to the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Bend {
    pub(crate) from: Point,
    /// The direction in which it sets out, and the unit vector in it.
    heading: Angle,
    unit: Point,
    /// One over its radius, in 1/mm, positive where it turns as directions are counted.
    curvature: f64,
    pub(crate) length: f64,
    end: Point,
    /// The centre and radius of its circle, unless it is straight.
    circle: Option<(Point, f64)>,
}

/// Below this curvature, in 1/mm, nobody could tell an arc from its chord.
const STRAIGHT: f64 = 1e-7;

impl Bend {
    fn new(from: Point, heading: Angle, curvature: f64, length: f64) -> Bend {
        let unit = Point::polar(1.0, heading);
        let circle = (curvature.abs() >= STRAIGHT).then(|| {
            let towards = unit.perpendicular();
            (from + towards * (1.0 / curvature), 1.0 / curvature.abs())
        });
        let mut bend = Bend {
            from,
            heading,
            unit,
            curvature,
            length,
            end: from,
            circle,
        };
        bend.end = bend.at(length);
        bend
    }

    pub(crate) fn straight(from: Point, to: Point) -> Bend {
        let chord = to - from;
        Bend::new(from, chord.direction(), 0.0, chord.radius())
    }

    /// Part of a circle about a centre.
    pub(crate) fn round(centre: Point, radius_mm: f64, from: Angle, sweep: Angle) -> Bend {
        let sense = sweep.deg().signum();
        Bend::new(
            centre + Point::polar(radius_mm, from),
            from + Angle::QUARTER_TURN * sense,
            sense / radius_mm,
            radius_mm * sweep.rad().abs(),
        )
    }

    /// The arc through three points.
    pub(crate) fn through(from: Point, over: Point, to: Point) -> Bend {
        // On the way it turns by twice the angle between its two chords.
        let turn = (over - from).direction().to((to - over).direction());
        Bend::setting_out(from, (to - from).direction() - turn, to)
    }

    /// The arc that sets out in a direction and comes to a point.
    fn setting_out(from: Point, heading: Angle, to: Point) -> Bend {
        let chord = to - from;
        let off = heading.to(chord.direction());
        let half = off.rad();
        let curvature = 2.0 * off.sin() / chord.radius().max(1e-12);
        if curvature.abs() < STRAIGHT {
            return Bend::straight(from, to);
        }
        Bend::new(from, heading, curvature, 2.0 * half / curvature)
    }

    /// Its circle, unless it is straight.
    pub(crate) fn circle(&self) -> Option<(Point, f64)> {
        self.circle
    }

    pub(crate) fn at(&self, mm: f64) -> Point {
        match self.circle() {
            None => self.from + self.unit * mm,
            Some((centre, _)) => centre + (self.from - centre).turned(self.turned(mm)),
        }
    }

    fn turned(&self, mm: f64) -> Angle {
        Angle::from_rad(mm * self.curvature)
    }

    pub(crate) fn along(&self, mm: f64) -> Point {
        Point::polar(1.0, self.heading + self.turned(mm))
    }

    /// How far a point is from it.
    pub(crate) fn distance(&self, p: Point) -> f64 {
        let ends = || (p - self.from).radius().min((p - self.end).radius());
        match self.circle() {
            None => {
                let along = (p - self.from).dot(self.unit);
                if (0.0..=self.length).contains(&along) {
                    (p - self.from).cross(self.unit).abs()
                } else {
                    ends()
                }
            }
            Some((centre, radius)) => {
                if self.is_beside(p, centre) {
                    ((p - centre).radius() - radius).abs()
                } else {
                    ends()
                }
            }
        }
    }

    /// Whether a point lies in the sector of the circle's plane that the arc spans. Angles
    /// are not needed for it: tens of thousands of points are asked for.
    fn is_beside(&self, p: Point, centre: Point) -> bool {
        use std::f64::consts::{PI, TAU};
        let sense = self.curvature.signum();
        let [from, end, p] = [self.from, self.end, p].map(|point| point - centre);
        let (after_from, before_end) = (from.cross(p) * sense >= 0.0, p.cross(end) * sense >= 0.0);
        let swept = self.length * self.curvature.abs();
        if swept <= PI {
            after_from && before_end
        } else {
            swept >= TAU || after_from || before_end
        }
    }

    /// The same so far to the left of it.
    fn beside(&self, mm: f64) -> (Point, Piece) {
        let across = |s: f64| self.at(s) + self.along(s).perpendicular() * mm;
        let to = across(self.length);
        let piece = match self.circle() {
            None => Piece::Line { to },
            Some((centre, _)) => Piece::Arc {
                centre,
                sweep: self.turned(self.length),
                to,
            },
        };
        (across(0.0), piece)
    }
}

/// A line of arcs that run on into one another without a corner.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SmoothLine(Vec<Bend>);

impl SmoothLine {
    pub(crate) fn of(bend: Bend) -> SmoothLine {
        SmoothLine(vec![bend])
    }

    /// Arcs of which each sets out where the one before ends, without a corner.
    pub(crate) fn all(bends: Vec<Bend>) -> SmoothLine {
        SmoothLine(bends)
    }

    /// Several of them as one, each begun where the one before ends, without a corner.
    pub(crate) fn joined(courses: Vec<SmoothLine>) -> SmoothLine {
        SmoothLine(courses.into_iter().flat_map(|course| course.0).collect())
    }

    /// Two arcs that set out from one point in a direction and come to another in
    /// a direction, the first of them about a part of the whole. Without an answer
    /// where the way would have to turn back.
    pub(crate) fn bent(
        (from, out): (Point, Point),
        (to, along): (Point, Point),
        part: f64,
    ) -> Option<SmoothLine> {
        // The ends of the arcs' tangents: lengths a from the beginning, b from the end.
        let ratio = part / (1.0 - part);
        let v = to - from;
        let bend = ratio * (out.dot(along) - 1.0) * 2.0;
        let slope = v.dot(out * ratio + along);
        let whole = v.dot(v);
        let b = if bend.abs() < 1e-9 {
            whole / (2.0 * slope)
        } else {
            let root = (slope * slope - bend * whole).sqrt();
            (slope - root) / bend
        };
        if !(b.is_finite() && b > 0.0) {
            return None;
        }
        let a = ratio * b;
        let joint = (from + out * a) * (b / (a + b)) + (to - along * b) * (a / (a + b));
        let first = Bend::setting_out(from, out.direction(), joint);
        let heading = first.heading + first.turned(first.length);
        let second = Bend::setting_out(joint, heading, to);
        let gentle = |bend: &Bend| bend.turned(bend.length).abs().deg() < 140.0;
        (gentle(&first) && gentle(&second)).then(|| SmoothLine(vec![first, second]))
    }

    pub(crate) fn length(&self) -> f64 {
        self.0.iter().map(|bend| bend.length).sum()
    }

    /// The bend at a distance along it, and how far along that bend it is.
    pub(crate) fn bend_at(&self, mm: f64) -> (Bend, f64) {
        let mut left = mm;
        let mut found = Bend::straight(Point::POLE, Point::POLE);
        for (n, bend) in self.0.iter().enumerate() {
            found = *bend;
            if left <= bend.length || n + 1 == self.0.len() {
                break;
            }
            left -= bend.length;
        }
        (found, left)
    }

    pub(crate) fn at(&self, mm: f64) -> Point {
        let (bend, left) = self.bend_at(mm);
        bend.at(left)
    }

    pub(crate) fn along(&self, mm: f64) -> Point {
        let (bend, left) = self.bend_at(mm);
        bend.along(left)
    }

    /// The curvature at a distance along it.
    pub(crate) fn curvature(&self, mm: f64) -> f64 {
        self.bend_at(mm).0.curvature
    }

    /// The size of its greatest curvature.
    pub(crate) fn sharpest(&self) -> f64 {
        let curvatures = self.0.iter().map(|bend| bend.curvature.abs());
        curvatures.fold(0.0, f64::max)
    }

    pub(crate) fn distance(&self, p: Point) -> f64 {
        let distances = self.0.iter().map(|bend| bend.distance(p));
        distances.fold(f64::INFINITY, f64::min)
    }

    /// The line itself, from a distance along it to its end.
    pub(crate) fn line_from(&self, mm: f64) -> Contour {
        let mut pieces = Vec::new();
        let mut start = self.at(mm);
        let mut before = 0.0;
        for bend in &self.0 {
            let skipped = (mm - before).clamp(0.0, bend.length);
            before += bend.length;
            if bend.length - skipped < 1e-6 {
                continue;
            }
            let rest = Bend::new(
                bend.at(skipped),
                bend.heading + bend.turned(skipped),
                bend.curvature,
                bend.length - skipped,
            );
            if pieces.is_empty() {
                start = rest.from;
            }
            pieces.push(rest.beside(0.0).1);
        }
        Contour::open(start, pieces)
    }

    /// A strip of metal along it.
    pub(crate) fn strip(&self, half: f64) -> Region {
        let side = |mm: f64| {
            let sides: Vec<(Point, Piece)> = self.0.iter().map(|bend| bend.beside(mm)).collect();
            let start = sides.first().map_or(Point::POLE, |side| side.0);
            let pieces: Vec<Piece> = sides.into_iter().map(|side| side.1).collect();
            (start, pieces)
        };
        let (left, mut pieces) = side(half);
        let (right, back) = side(-half);
        let far = back.last().map_or(right, Piece::end);
        pieces.push(Piece::Line { to: far });
        pieces.extend(reversed(right, &back));
        Region::whole(Contour::closed(left, pieces))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// Of an arc of any sweep, as of the nearest of many places on it.
        #[test]
        fn the_distance_is_that_of_the_nearest_place(
            (radius, from, swept) in (1.0..50.0_f64, 0.0..360.0_f64, 1.0..360.0_f64),
            onward in any::<bool>(),
            (x, y) in (-80.0..80.0_f64, -80.0..80.0_f64),
        ) {
            const PLACES: u32 = 4000;
            let sweep = Angle::from_deg(if onward { swept } else { -swept });
            let bend = Bend::round(Point { x: 3.0, y: -2.0 }, radius, Angle::from_deg(from), sweep);
            let p = Point { x, y };
            let nearest = (0..=PLACES)
                .map(|n| (p - bend.at(bend.length * f64::from(n) / f64::from(PLACES))).radius())
                .fold(f64::INFINITY, f64::min);
            let step = bend.length / f64::from(PLACES);
            let found = bend.distance(p);
            prop_assert!(found <= nearest + 1e-9 && nearest - found <= step, "{} {}", found, nearest);
        }
    }
}
