use std::borrow::Cow;

use instrument::{Orientation, Point, Stroke};
use sky::Angle;

use crate::piece::{Piece, STRAIGHT_MM, arc_by, arc_piece, reversed};
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

impl Contour {
    /// Its first point, the pieces that follow, and whether it is closed. A circle is
    /// one arc of a whole turn.
    #[must_use]
    pub fn outline(&self) -> (Point, Cow<'_, [Piece]>, bool) {
        match self {
            Contour::Circle { centre, radius_mm } => {
                let start = *centre + Point::polar(*radius_mm, Angle::ZERO);
                let whole = Piece::Arc {
                    centre: *centre,
                    sweep: Angle::FULL_TURN,
                    to: start,
                };
                (start, Cow::Owned(vec![whole]), true)
            }
            Contour::Path {
                start,
                pieces,
                closed,
            } => (*start, Cow::Borrowed(pieces), *closed),
        }
    }

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

    /// The same turned about the middle, and then moved.
    #[must_use]
    pub fn placed(&self, turn: Angle, by: Point) -> Contour {
        self.mapped(1.0, |p| p.turned(turn) + by)
    }

    /// The same as seen from behind: turned about the upright line through the middle.
    #[must_use]
    pub fn from_behind(&self) -> Contour {
        self.mapped(-1.0, |p| Point { x: -p.x, y: p.y })
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

    /// The rectangle it fills: its least and greatest coordinates. Of a curve, its
    /// control points count.
    #[must_use]
    pub fn bounds(&self) -> (Point, Point) {
        let mut points = Vec::new();
        let mut round = |centre: Point, radius: f64| {
            points.extend(
                [0.0, 90.0, 180.0, 270.0]
                    .map(|deg| centre + Point::polar(radius, Angle::from_deg(deg))),
            );
        };
        match self {
            Contour::Circle { centre, radius_mm } => round(*centre, *radius_mm),
            Contour::Path { start, pieces, .. } => {
                let mut at = *start;
                points.push(at);
                for piece in pieces {
                    match *piece {
                        Piece::Line { .. } => {}
                        Piece::Arc { centre, sweep, .. } => {
                            // The ends of the circle's axes that the arc passes.
                            let radius = (at - centre).radius();
                            let from = (at - centre).direction();
                            for deg in [0.0, 90.0, 180.0, 270.0] {
                                let axis = Angle::from_deg(deg);
                                let onward = (axis - from).in_turn();
                                let passed = if sweep.deg() >= 0.0 {
                                    onward <= sweep
                                } else {
                                    (Angle::FULL_TURN - onward) <= -sweep
                                };
                                if passed {
                                    points.push(centre + Point::polar(radius, axis));
                                }
                            }
                        }
                        Piece::Cubic { first, second, .. } => points.extend([first, second]),
                    }
                    at = piece.end();
                    points.push(at);
                }
            }
        }
        let least = |get: fn(&Point) -> f64| points.iter().map(get).fold(f64::INFINITY, f64::min);
        let most =
            |get: fn(&Point) -> f64| points.iter().map(get).fold(f64::NEG_INFINITY, f64::max);
        (
            Point {
                x: least(|p| p.x),
                y: least(|p| p.y),
            },
            Point {
                x: most(|p| p.x),
                y: most(|p| p.y),
            },
        )
    }

    /// Whether a point lies within it, closed: by how often it goes round the point.
    #[must_use]
    pub fn encloses(&self, p: Point) -> bool {
        /// A piece is followed by so many chords.
        const CHORDS: u32 = 24;
        if let Contour::Circle { centre, radius_mm } = self {
            return (p - *centre).radius() < *radius_mm;
        }
        let (start, pieces, _) = self.outline();
        // A ray to the right is crossed so many times more downwards than upwards.
        let mut rounds = 0_i32;
        let mut at = start - p;
        let mut go = |to: Point| {
            let to = to - p;
            if (at.y > 0.0) != (to.y > 0.0) && (at.cross(to) > 0.0) == (to.y > at.y) {
                rounds += if to.y > at.y { 1 } else { -1 };
            }
            at = to;
        };
        let mut from = start;
        for piece in pieces.iter() {
            let to = piece.end();
            let (low, high) = piece.hull(from);
            let is_beside = low.y < p.y && p.y < high.y && low.x < p.x && p.x < high.x;
            match piece {
                Piece::Arc { .. } | Piece::Cubic { .. } if is_beside => {
                    for n in 1..=CHORDS {
                        go(piece.at(from, f64::from(n) / f64::from(CHORDS)));
                    }
                }
                // The point sees all of a curve to one side: the ray crosses it as often as
                // the straight line between its ends.
                Piece::Line { .. } | Piece::Arc { .. } | Piece::Cubic { .. } => go(to),
            }
            from = to;
        }
        go(start);
        rounds != 0
    }

    /// Points along it, both ends among them, no further from one another than a distance.
    pub(crate) fn followed(&self, step_mm: f64) -> Vec<Point> {
        let (start, pieces, closed) = self.outline();
        let closing = closed.then_some(Piece::Line { to: start });
        let mut from = start;
        let mut points = vec![start];
        for piece in pieces.iter().copied().chain(closing) {
            let steps = (piece.length_mm(from) / step_mm).ceil().max(1.0);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a letter's stroke is millimetres long"
            )]
            let count = steps as u32;
            points.extend((1..=count).map(|n| piece.at(from, f64::from(n) / steps)));
            from = piece.end();
        }
        points
    }

    /// Its length, in millimetres.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        match self {
            Contour::Circle { radius_mm, .. } => std::f64::consts::TAU * radius_mm,
            Contour::Path {
                start,
                pieces,
                closed,
            } => {
                let mut at = *start;
                let mut length = 0.0;
                for piece in pieces {
                    length += piece.length_mm(at);
                    at = piece.end();
                }
                if *closed {
                    length += (*start - at).radius();
                }
                length
            }
        }
    }

    /// The parts of it that are kept of each piece, from where that begins; itself where
    /// all of it is kept.
    pub(crate) fn parted(
        &self,
        mut kept: impl FnMut(Point, &Piece) -> Vec<(f64, f64)>,
    ) -> Vec<Contour> {
        const WHOLE: (f64, f64) = (0.0, 1.0);
        let (start, pieces, closed) = self.outline();
        let mut pieces = pieces.into_owned();
        let end = pieces.last().map_or(start, Piece::end);
        if closed && (end - start).radius() > STRAIGHT_MM {
            pieces.push(Piece::Line { to: start });
        }
        let (mut at, mut all) = (start, true);
        let mut parts: Vec<(Point, Vec<Piece>)> = Vec::new();
        // Whether the last part reaches to where the next piece begins.
        let mut open = false;
        let mut first_open = false;
        for (n, piece) in pieces.iter().enumerate() {
            let spans = kept(at, piece);
            all &= spans == [WHOLE];
            if n == 0 {
                first_open = spans.first().is_some_and(|span| span.0 <= 0.0);
            }
            let mut reaches = false;
            for (from, to) in spans {
                let (begin, part) = if (from, to) == WHOLE {
                    (at, *piece)
                } else {
                    piece.between(at, from, to)
                };
                match parts.last_mut() {
                    Some((_, pieces)) if open && from <= 0.0 => pieces.push(part),
                    _ => parts.push((begin, vec![part])),
                }
                reaches = to >= 1.0;
            }
            open = reaches;
            at = piece.end();
        }
        if all {
            return vec![self.clone()];
        }
        // What was cut open in the middle of a part is that part again.
        if closed && open && first_open && parts.len() > 1 {
            let first = parts.remove(0);
            if let Some((_, pieces)) = parts.last_mut() {
                pieces.extend(first.1);
            }
        }
        parts
            .into_iter()
            .map(|(start, pieces)| Contour::open(start, pieces))
            .collect()
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
