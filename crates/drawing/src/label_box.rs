use instrument::Point;
use sky::Angle;

use crate::contour::Contour;
use crate::piece::Piece;

/// The space a label takes: a rectangle at any slant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelBox {
    middle: Point,
    /// Half its length along `along`, and half its height across.
    half: (f64, f64),
    /// The unit vector along its length.
    along: Point,
}

impl LabelBox {
    /// A rectangle by its middle, length and height in millimetres, and slant.
    #[must_use]
    pub fn new(middle: Point, length_mm: f64, height_mm: f64, along: Angle) -> LabelBox {
        LabelBox {
            middle,
            half: (length_mm / 2.0, height_mm / 2.0),
            along: Point::polar(1.0, along),
        }
    }

    /// The same elsewhere.
    #[must_use]
    pub(crate) fn moved(self, by: Point) -> LabelBox {
        LabelBox {
            middle: self.middle + by,
            ..self
        }
    }

    /// Larger by a margin on every side.
    #[must_use]
    pub fn with_margin(self, mm: f64) -> LabelBox {
        LabelBox {
            half: (self.half.0 + mm, self.half.1 + mm),
            ..self
        }
    }

    /// Whether two rectangles share more than an edge.
    #[must_use]
    pub fn overlaps(&self, other: &LabelBox) -> bool {
        let apart = other.middle - self.middle;
        let far = self.half.0 + self.half.1 + other.half.0 + other.half.1;
        if apart.dot(apart) > far * far {
            return false;
        }
        // Two rectangles are apart when a side of one of them separates them.
        let axes = [
            self.along,
            self.along.perpendicular(),
            other.along,
            other.along.perpendicular(),
        ];
        axes.into_iter()
            .all(|axis| apart.dot(axis).abs() < self.extent(axis) + other.extent(axis) - 1e-9)
    }

    /// Whether a point lies in it.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        let off = p - self.middle;
        off.dot(self.along).abs() <= self.half.0
            && off.dot(self.along.perpendicular()).abs() <= self.half.1
    }

    /// Whether any part of a line lies in it.
    #[must_use]
    pub fn touches(&self, line: &Contour) -> bool {
        let (middle, reach) = self.around();
        if let Contour::Circle { centre, radius_mm } = line
            && ((middle - *centre).radius() - radius_mm).abs() > reach
        {
            return false;
        }
        let (start, pieces, closed) = line.outline();
        let closing = closed.then_some(Piece::Line { to: start });
        let mut at = start;
        pieces.iter().copied().chain(closing).any(|piece| {
            let from = std::mem::replace(&mut at, piece.end());
            self.touches_piece(from, &piece)
        })
    }

    fn touches_piece(&self, from: Point, piece: &Piece) -> bool {
        /// A curve is followed by so many chords.
        const CHORDS: u32 = 24;
        match *piece {
            Piece::Line { to } => self.touches_segment(from, to),
            Piece::Arc { centre, sweep, .. } => {
                let (middle, reach) = self.around();
                let radius = (from - centre).radius();
                ((middle - centre).radius() - radius).abs() <= reach
                    && (self.contains(from) || self.sides_meet(centre, from, sweep))
            }
            Piece::Cubic { first, second, to } => {
                // It lies between its ends and control points (their convex hull).
                let (middle, reach) = self.around();
                let hull = [from, first, second, to].map(|p| p - middle);
                let beyond = |far: &dyn Fn(&Point) -> f64| hull.iter().all(|p| far(p) > reach);
                let apart =
                    beyond(&|p| p.x) || beyond(&|p| -p.x) || beyond(&|p| p.y) || beyond(&|p| -p.y);
                !apart
                    && (0..CHORDS).any(|n| {
                        let at = |n: u32| piece.at(from, f64::from(n) / f64::from(CHORDS));
                        self.touches_segment(at(n), at(n + 1))
                    })
            }
        }
    }

    /// Whether a straight line comes into it: what is left of the line between both pairs
    /// of sides.
    fn touches_segment(&self, from: Point, to: Point) -> bool {
        let (start, along) = (from - self.middle, to - from);
        let sides = [
            (self.along, self.half.0),
            (self.along.perpendicular(), self.half.1),
        ];
        let (mut first, mut last) = (0.0_f64, 1.0_f64);
        for (axis, half) in sides {
            let (at, step) = (start.dot(axis), along.dot(axis));
            if step.abs() < 1e-12 {
                if at.abs() > half {
                    return false;
                }
                continue;
            }
            let (one, other) = ((-half - at) / step, (half - at) / step);
            first = first.max(one.min(other));
            last = last.min(one.max(other));
        }
        first <= last
    }

    /// Whether one of its sides meets the part of a circle that begins at a point.
    fn sides_meet(&self, centre: Point, from: Point, sweep: Angle) -> bool {
        let radius = (from - centre).radius();
        let begins = (from - centre).direction();
        let on_arc = |p: Point| {
            let onward = (p - centre).direction() - begins;
            let onward = if sweep.deg() < 0.0 { -onward } else { onward };
            onward.in_turn() <= sweep.abs()
        };
        let corners = self.corners();
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).any(|(corner, other)| {
            // |corner + t·side − centre| = radius.
            let (start, side) = (*corner - centre, *other - *corner);
            let (a, b) = (side.dot(side), start.dot(side));
            let root = b * b - a * (start.dot(start) - radius * radius);
            let meets = |sign: f64| {
                let t = (-b + sign * root.sqrt()) / a;
                (0.0..=1.0).contains(&t) && on_arc(*corner + side * t)
            };
            root >= 0.0 && (meets(1.0) || meets(-1.0))
        })
    }

    /// A circle that holds it: its middle and radius.
    #[must_use]
    pub fn around(&self) -> (Point, f64) {
        (self.middle, libm::hypot(self.half.0, self.half.1))
    }

    /// Its four corners.
    #[must_use]
    pub fn corners(&self) -> [Point; 4] {
        let along = self.along * self.half.0;
        let across = self.along.perpendicular() * self.half.1;
        let m = self.middle;
        [
            m - along - across,
            m + along - across,
            m + along + across,
            m - along + across,
        ]
    }

    fn extent(&self, axis: Point) -> f64 {
        self.half.0 * self.along.dot(axis).abs()
            + self.half.1 * self.along.perpendicular().dot(axis).abs()
    }
}

/// The space taken by the labels of a part so far.
#[derive(Clone, Debug, Default)]
pub(crate) struct Taken(Vec<LabelBox>);

impl Taken {
    /// Takes the space of some boxes, unless a part of it is taken already.
    pub(crate) fn take(&mut self, boxes: &[LabelBox], margin_mm: f64) -> bool {
        if !self.free(boxes, margin_mm) {
            return false;
        }
        self.0.extend_from_slice(boxes);
        true
    }

    /// Whether the space of some boxes is free, with a margin about them.
    pub(crate) fn free(&self, boxes: &[LabelBox], margin_mm: f64) -> bool {
        boxes.iter().all(|wanted| {
            let wanted = wanted.with_margin(margin_mm);
            !self.0.iter().any(|taken| taken.overlaps(&wanted))
        })
    }
}
