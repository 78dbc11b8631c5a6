use instrument::Point;

/// A straight piece of an edge, which is followed by many of them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chord {
    pub(crate) from: Point,
    pub(crate) to: Point,
}

impl Chord {
    /// Its least and greatest coordinates.
    pub(crate) fn bounds(&self) -> (Point, Point) {
        let (a, b) = (self.from, self.to);
        let least = Point {
            x: a.x.min(b.x),
            y: a.y.min(b.y),
        };
        let most = Point {
            x: a.x.max(b.x),
            y: a.y.max(b.y),
        };
        (least, most)
    }

    /// How far a place is from it.
    pub(crate) fn distance(&self, p: Point) -> f64 {
        let along = self.to - self.from;
        let part = (p - self.from).dot(along) / along.dot(along).max(1e-18);
        (p - (self.from + along * part.clamp(0.0, 1.0))).radius()
    }

    /// Whether a ray to the right of a place crosses it. One from within closed chords
    /// crosses an odd number of them.
    pub(crate) fn is_crossed_from(&self, p: Point) -> bool {
        let (a, b) = (self.from, self.to);
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * ((p.y - a.y) / (b.y - a.y))
    }
}
