use instrument::Point;
use sky::Angle;

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

    /// A circle that holds it: its middle and radius.
    #[must_use]
    pub fn around(&self) -> (Point, f64) {
        (self.middle, self.half.0.hypot(self.half.1))
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
