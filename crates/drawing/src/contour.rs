use instrument::{Orientation, Point, Stroke};
use sky::Angle;

use crate::smooth::smooth_through;

/// One unbroken outline or line of a drawing.
///
/// In a [`Scene`](crate::Scene) its points are as drawn: x to the right and y
/// *down*, in millimetres from the pole; directions and sweeps then run
/// clockwise. [`Contour::drawn`] makes such a contour from one in the plane of the
/// instrument.
#[derive(Clone, Debug, PartialEq)]
pub enum Contour {
    /// A whole circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius in millimetres.
        radius_mm: f64,
    },
    /// Pieces joined end to end.
    Path {
        /// Where it begins.
        start: Point,
        /// Its pieces in order.
        pieces: Vec<Piece>,
        /// Whether a straight piece leads back to the beginning.
        closed: bool,
    },
}

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

/// An arc whose middle is nearer its chord than this is drawn as the chord.
const STRAIGHT_MM: f64 = 5e-5;

impl Contour {
    /// A whole circle.
    #[must_use]
    pub fn circle(centre: Point, radius_mm: f64) -> Contour {
        Contour::Circle { centre, radius_mm }
    }

    /// A straight line.
    #[must_use]
    pub fn line(from: Point, to: Point) -> Contour {
        Contour::open(from, vec![Piece::Line { to }])
    }

    /// An open path.
    #[must_use]
    pub fn open(start: Point, pieces: Vec<Piece>) -> Contour {
        Contour::Path {
            start,
            pieces,
            closed: false,
        }
    }

    /// A closed path.
    #[must_use]
    pub fn closed(start: Point, pieces: Vec<Piece>) -> Contour {
        Contour::Path {
            start,
            pieces,
            closed: true,
        }
    }

    /// A part of a circle, from a direction onwards.
    #[must_use]
    pub fn arc(centre: Point, radius_mm: f64, from: Angle, sweep: Angle) -> Contour {
        let start = centre + Point::polar(radius_mm, from);
        Contour::open(start, vec![arc_piece(centre, radius_mm, from, sweep)])
    }

    /// The arc from the first point by way of the second to the third.
    #[must_use]
    pub fn arc_by(from: Point, by: Point, to: Point) -> Contour {
        Contour::open(from, vec![arc_by(from, by, to)])
    }

    /// A smooth curve through points.
    #[must_use]
    pub fn smooth(points: &[Point]) -> Contour {
        let start = points.first().copied().unwrap_or_default();
        Contour::open(start, smooth_through(points))
    }

    /// What is drawn of a line of the instrument, in the instrument's plane.
    #[must_use]
    pub fn of(stroke: &Stroke) -> Contour {
        match stroke {
            Stroke::Circle { centre, radius_mm } => Contour::circle(*centre, *radius_mm),
            Stroke::Arc {
                centre,
                radius_mm,
                from,
                sweep,
            } => Contour::arc(*centre, *radius_mm, *from, *sweep),
            Stroke::Segment { from, to } => Contour::line(*from, *to),
            Stroke::Curve(points) => Contour::smooth(points),
        }
    }

    /// The same, as drawn in an orientation.
    #[must_use]
    pub fn drawn(&self, orientation: Orientation) -> Contour {
        let sense = if orientation.clockwise() { 1.0 } else { -1.0 };
        self.mapped(sense, |p| orientation.drawn(p))
    }

    /// Carried over by a mapping that keeps shapes: `sense` is −1 when it mirrors.
    pub(crate) fn mapped(&self, sense: f64, map: impl Fn(Point) -> Point) -> Contour {
        match self {
            Contour::Circle { centre, radius_mm } => Contour::circle(map(*centre), *radius_mm),
            Contour::Path {
                start,
                pieces,
                closed,
            } => Contour::Path {
                start: map(*start),
                pieces: pieces
                    .iter()
                    .map(|piece| match *piece {
                        Piece::Line { to } => Piece::Line { to: map(to) },
                        Piece::Arc { centre, sweep, to } => Piece::Arc {
                            centre: map(centre),
                            sweep: sweep * sense,
                            to: map(to),
                        },
                        Piece::Cubic { first, second, to } => Piece::Cubic {
                            first: map(first),
                            second: map(second),
                            to: map(to),
                        },
                    })
                    .collect(),
                closed: *closed,
            },
        }
    }

    /// The same path run the other way; a circle stays as it is.
    #[must_use]
    pub fn reversed(&self) -> Contour {
        let Contour::Path {
            start,
            pieces,
            closed,
        } = self
        else {
            return self.clone();
        };
        Contour::Path {
            start: pieces.last().map_or(*start, Piece::end),
            pieces: reversed(*start, pieces),
            closed: *closed,
        }
    }

    /// Whether a closed path runs in the sense in which directions are counted.
    pub(crate) fn runs_onward(&self) -> bool {
        match self {
            Contour::Circle { .. } => true,
            Contour::Path { start, pieces, .. } => {
                let mut corners = vec![*start];
                for piece in pieces {
                    let from = corners.last().copied().unwrap_or_default();
                    match *piece {
                        Piece::Line { .. } => {}
                        Piece::Arc { centre, sweep, .. } => {
                            corners.extend(
                                [1.0, 2.0, 3.0]
                                    .map(|n| centre + (from - centre).turned(sweep * (n / 4.0))),
                            );
                        }
                        Piece::Cubic { first, second, .. } => corners.extend([first, second]),
                    }
                    corners.push(piece.end());
                }
                let next = corners.iter().cycle().skip(1);
                let doubled: f64 = corners.iter().zip(next).map(|(p, q)| p.cross(*q)).sum();
                doubled >= 0.0
            }
        }
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
        _ => Piece::Line { to },
    }
}
