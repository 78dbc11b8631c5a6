use instrument::Point;
use sky::Angle;

use crate::contour::Contour;
use crate::piece::Piece;

/// One piece of an edge, with its beginning: what a flattened edge came from.
#[derive(Clone, Copy, Debug)]
pub(super) enum Source {
    Line {
        from: Point,
        to: Point,
    },
    Arc {
        centre: Point,
        radius_mm: f64,
        from: Point,
        sweep: Angle,
    },
    Cubic {
        ends: [Point; 2],
        controls: [Point; 2],
    },
}

impl Source {
    /// The pieces of a contour, closed.
    pub(super) fn of(contour: &Contour) -> Vec<Source> {
        match contour {
            Contour::Circle { centre, radius_mm } => vec![Source::Arc {
                centre: *centre,
                radius_mm: *radius_mm,
                from: *centre + Point::polar(*radius_mm, Angle::ZERO),
                sweep: Angle::FULL_TURN,
            }],
            Contour::Path {
                start,
                pieces,
                closed,
            } => {
                let mut at = *start;
                let mut sources: Vec<Source> = pieces
                    .iter()
                    .map(|piece| {
                        let from = at;
                        at = piece.end();
                        match *piece {
                            Piece::Line { to } => Source::Line { from, to },
                            Piece::Arc { centre, sweep, .. } => Source::Arc {
                                centre,
                                radius_mm: (from - centre).radius(),
                                from,
                                sweep,
                            },
                            Piece::Cubic { first, second, to } => Source::Cubic {
                                ends: [from, to],
                                controls: [first, second],
                            },
                        }
                    })
                    .collect();
                if *closed && (at - *start).radius() > 1e-9 {
                    sources.push(Source::Line {
                        from: at,
                        to: *start,
                    });
                }
                sources
            }
        }
    }

    /// The point at a part of it.
    pub(super) fn at(&self, part: f64) -> Point {
        match *self {
            Source::Line { from, to } => from + (to - from) * part,
            Source::Arc {
                centre,
                from,
                sweep,
                ..
            } => centre + (from - centre).turned(sweep * part),
            Source::Cubic {
                ends: [a, d],
                controls: [b, c],
            } => {
                let q = 1.0 - part;
                a * (q * q * q)
                    + b * (3.0 * q * q * part)
                    + c * (3.0 * q * part * part)
                    + d * (part * part * part)
            }
        }
    }

    /// The derivative by the part.
    fn along(&self, part: f64) -> Point {
        match *self {
            Source::Line { from, to } => to - from,
            Source::Arc {
                centre,
                from,
                sweep,
                ..
            } => (from - centre).turned(sweep * part).perpendicular() * sweep.rad(),
            Source::Cubic {
                ends: [a, d],
                controls: [b, c],
            } => {
                let q = 1.0 - part;
                (b - a) * (3.0 * q * q) + (c - b) * (6.0 * q * part) + (d - c) * (3.0 * part * part)
            }
        }
    }

    /// Into how many chords it is cut so that none is further off than a distance.
    pub(super) fn chords(&self, sagitta_mm: f64) -> u32 {
        let count = match *self {
            Source::Line { .. } => 1.0,
            Source::Arc {
                radius_mm, sweep, ..
            } => {
                let each = 2.0 * (2.0 * sagitta_mm / radius_mm.max(sagitta_mm)).sqrt();
                (sweep.rad().abs() / each).ceil()
            }
            Source::Cubic {
                ends: [a, d],
                controls: [b, c],
            } => {
                // The second differences of the control points bound the curvature.
                let bend = (a - b * 2.0 + c).radius().max((b - c * 2.0 + d).radius());
                (0.75 * bend / sagitta_mm).sqrt().ceil()
            }
        };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped to some thousands"
        )]
        let count = count.clamp(1.0, 20_000.0) as u32;
        count
    }

    /// The part of it nearest to a point that lies on it or close by. A curve may pass by twice:
    /// it is looked for from a part `about` there.
    fn part_near(&self, p: Point, about: f64) -> f64 {
        match *self {
            Source::Line { from, to } => {
                let along = to - from;
                (p - from).dot(along) / along.dot(along).max(1e-18)
            }
            Source::Arc {
                centre,
                from,
                sweep,
                ..
            } => {
                let turned = (from - centre).direction().to((p - centre).direction());
                turned.deg() / sweep.deg()
            }
            Source::Cubic { .. } => {
                let mut best = about;
                for _ in 0..12 {
                    let along = self.along(best);
                    let step = (p - self.at(best)).dot(along) / along.dot(along).max(1e-18);
                    best = (best + step).clamp(0.0, 1.0);
                }
                best
            }
        }
    }

    /// The point on it (or on its whole circle or line) nearest to one close by, and
    /// the unit vector across it there.
    fn foot(&self, p: Point, about: f64) -> (Point, Point) {
        match *self {
            Source::Line { from, to } => {
                let along = (to - from) * (1.0 / (to - from).radius().max(1e-12));
                (from + along * (p - from).dot(along), along.perpendicular())
            }
            Source::Arc {
                centre, radius_mm, ..
            } => {
                let out = p - centre;
                let unit = out * (1.0 / out.radius().max(1e-12));
                (centre + unit * radius_mm, unit)
            }
            Source::Cubic { .. } => {
                let part = self.part_near(p, about);
                let along = self.along(part);
                let unit = along * (1.0 / along.radius().max(1e-12));
                (self.at(part), unit.perpendicular())
            }
        }
    }

    /// Where two pieces cross, near a point found on their chords, about these parts of each.
    pub(super) fn crossing(&self, other: &Source, near: Point, about: [f64; 2]) -> Point {
        /// Pieces that meet at a smaller angle than its sine touch.
        const TOUCHING: f64 = 0.002;
        /// Chords may cross this far from where the pieces do; further away is another crossing.
        const NEAR_MM: f64 = 0.5;
        let mut p = near;
        for _ in 0..10 {
            let [own, others] = about;
            let ((foot, across), (other_foot, other_across)) =
                (self.foot(p, own), other.foot(p, others));
            let sine = across.cross(other_across);
            if sine.abs() < TOUCHING || (p - near).radius() > NEAR_MM {
                return self.touching(other, near, about);
            }
            let (a, b) = ((foot - p).dot(across), (other_foot - p).dot(other_across));
            let step = Point {
                x: (a * other_across.y - b * across.y) / sine,
                y: (b * across.x - a * other_across.x) / sine,
            };
            p = p + step;
            if step.radius() < 1e-11 {
                return p;
            }
        }
        self.touching(other, near, about)
    }

    /// A point that lies on both of two pieces that run on into each other.
    fn touching(&self, other: &Source, near: Point, [own, others]: [f64; 2]) -> Point {
        let mut p = near;
        for _ in 0..40 {
            p = other.foot(self.foot(p, own).0, others).0;
        }
        p
    }

    /// How far it is from one point on it to another, about these parts of it, positive
    /// onward, by no scale in particular.
    pub(super) fn run(&self, [from, to]: [Point; 2], [first, last]: [f64; 2]) -> f64 {
        self.part_near(to, last) - self.part_near(from, first)
    }

    /// The piece from one point on it to another, about these parts of it, in its own sense or
    /// the other way; `swept` is how far round an arc it runs.
    pub(super) fn piece(
        &self,
        [from, to]: [Point; 2],
        [first, last]: [f64; 2],
        swept: Angle,
    ) -> Piece {
        match *self {
            Source::Line { .. } => Piece::Line { to },
            Source::Arc { centre, .. } => Piece::Arc {
                centre,
                sweep: swept,
                to,
            },
            Source::Cubic { .. } => {
                let (t, u) = (self.part_near(from, first), self.part_near(to, last));
                let third = (u - t) / 3.0;
                Piece::Cubic {
                    first: from + self.along(t) * third,
                    second: to - self.along(u) * third,
                    to,
                }
            }
        }
    }
}
