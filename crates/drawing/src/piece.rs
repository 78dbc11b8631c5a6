use instrument::Point;
use sky::Angle;

/// One piece of a path, from where the piece before it ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Piece {
    /// A straight line.
    Line {
        /// Its end.
        to: Point,
    },
    /// A part of a circle.
    Arc {
        /// The circle's centre.
        centre: Point,
        /// How far it runs, in the sense in which directions are counted.
        sweep: Angle,
        /// Its end.
        to: Point,
    },
    /// A cubic Bézier curve.
    Cubic {
        /// The first control point.
        first: Point,
        /// The second control point.
        second: Point,
        /// Its end.
        to: Point,
    },
}

impl Piece {
    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> Point {
        match *self {
            Piece::Line { to } | Piece::Arc { to, .. } | Piece::Cubic { to, .. } => to,
        }
    }
}

impl Piece {
    /// A rectangle that holds it, given where it begins: by the whole circle of an arc, and
    /// the control points of a curve.
    pub(crate) fn hull(&self, from: Point) -> (Point, Point) {
        let of = |points: &[Point]| {
            let least = points.iter().copied().reduce(|p, q| Point {
                x: p.x.min(q.x),
                y: p.y.min(q.y),
            });
            let most = points.iter().copied().reduce(|p, q| Point {
                x: p.x.max(q.x),
                y: p.y.max(q.y),
            });
            (least.unwrap_or(from), most.unwrap_or(from))
        };
        match *self {
            Piece::Line { to } => of(&[from, to]),
            Piece::Arc { centre, .. } => {
                let radius = (from - centre).radius();
                let reach = Point {
                    x: radius,
                    y: radius,
                };
                (centre - reach, centre + reach)
            }
            Piece::Cubic { first, second, to } => of(&[from, first, second, to]),
        }
    }

    /// The point at a part of it, given where it begins.
    #[must_use]
    pub fn at(&self, from: Point, part: f64) -> Point {
        match *self {
            Piece::Line { to } => from + (to - from) * part,
            Piece::Arc { centre, sweep, .. } => centre + (from - centre).turned(sweep * part),
            Piece::Cubic { first, second, to } => {
                let rest = 1.0 - part;
                from * (rest * rest * rest)
                    + first * (3.0 * rest * rest * part)
                    + second * (3.0 * rest * part * part)
                    + to * (part * part * part)
            }
        }
    }

    /// Its length, given where it begins; of a curve, of 32 chords.
    #[must_use]
    pub fn length_mm(&self, from: Point) -> f64 {
        match *self {
            Piece::Line { to } => (to - from).radius(),
            Piece::Arc { centre, sweep, .. } => (from - centre).radius() * sweep.rad().abs(),
            Piece::Cubic { .. } => (0..32)
                .map(|n| {
                    let at = |n: i32| self.at(from, f64::from(n) / 32.0);
                    (at(n + 1) - at(n)).radius()
                })
                .sum(),
        }
    }

    /// The part of it between two parts, given where it begins.
    #[must_use]
    pub fn between(&self, from: Point, first: f64, last: f64) -> (Point, Piece) {
        let (start, end) = (self.at(from, first), self.at(from, last));
        let piece = match *self {
            Piece::Line { .. } => Piece::Line { to: end },
            Piece::Arc { centre, sweep, .. } => Piece::Arc {
                centre,
                sweep: sweep * (last - first),
                to: end,
            },
            Piece::Cubic {
                first: one,
                second: two,
                to,
            } => {
                // Blossoms of the curve.
                let mix = |p: Point, q: Point, t: f64| p + (q - p) * t;
                let blossom = |a: f64, b: f64, c: f64| {
                    let (p, q, r) = (mix(from, one, a), mix(one, two, a), mix(two, to, a));
                    mix(mix(p, q, b), mix(q, r, b), c)
                };
                Piece::Cubic {
                    first: blossom(first, first, last),
                    second: blossom(first, last, last),
                    to: end,
                }
            }
        };
        (start, piece)
    }
}

/// An arc whose middle is nearer its chord than this is drawn as the chord.
pub(crate) const STRAIGHT_MM: f64 = 5e-5;

/// A part of a circle, or its chord where nobody could tell them apart.
pub(crate) fn arc_piece(centre: Point, radius_mm: f64, from: Angle, sweep: Angle) -> Piece {
    let to = centre + Point::polar(radius_mm, from + sweep);
    let half = (sweep / 4.0).sin();
    let sagitta = 2.0 * radius_mm * half * half;
    if sagitta < STRAIGHT_MM && sweep.abs() < Angle::QUARTER_TURN {
        return Piece::Line { to };
    }
    Piece::Arc { centre, sweep, to }
}

/// The piece from the first point by way of the second to the third.
pub(crate) fn arc_by(from: Point, by: Point, to: Point) -> Piece {
    let circle = instrument::Circline::through(from, by, to).and_then(|line| line.as_circle());
    let Some((centre, radius_mm)) = circle else {
        return Piece::Line { to };
    };
    let first = (from - centre).direction();
    let halfway = first.to((by - centre).direction());
    let whole = first.to((to - centre).direction());
    let same_way = halfway.deg().signum() == whole.deg().signum();
    let sweep = if same_way && halfway.abs() <= whole.abs() {
        whole
    } else {
        whole - Angle::FULL_TURN * whole.deg().signum()
    };
    match arc_piece(centre, radius_mm, first, sweep) {
        Piece::Arc { centre, sweep, .. } => Piece::Arc { centre, sweep, to },
        Piece::Line { .. } | Piece::Cubic { .. } => Piece::Line { to },
    }
}

/// The pieces of a path run the other way, from its end back to its start.
pub(crate) fn reversed(start: Point, pieces: &[Piece]) -> Vec<Piece> {
    let mut at = start;
    let mut back: Vec<Piece> = pieces
        .iter()
        .map(|piece| {
            let to = at;
            at = piece.end();
            match *piece {
                Piece::Line { .. } => Piece::Line { to },
                Piece::Arc { centre, sweep, .. } => Piece::Arc {
                    centre,
                    sweep: -sweep,
                    to,
                },
                Piece::Cubic { first, second, .. } => Piece::Cubic {
                    first: second,
                    second: first,
                    to,
                },
            }
        })
        .collect();
    back.reverse();
    back
}
