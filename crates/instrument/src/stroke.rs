use sky::Angle;

use crate::circline::Circline;
use crate::line::LineId;
use crate::point::Point;

/// A line as engraved: its identity and the pieces that are drawn of it, in the
/// frame of its part.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Which line it is.
    pub id: LineId,
    /// What is drawn; never empty.
    pub strokes: Vec<Stroke>,
}

/// One unbroken piece of a line.
#[derive(Clone, Debug, PartialEq)]
pub enum Stroke {
    /// A whole circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius in millimetres.
        radius_mm: f64,
    },
    /// A part of a circle.
    Arc {
        /// The circle's centre.
        centre: Point,
        /// The circle's radius in millimetres.
        radius_mm: f64,
        /// The direction of its first point from the centre.
        from: Angle,
        /// How far it runs, positive as hour angles run.
        sweep: Angle,
    },
    /// A straight piece.
    Segment {
        /// One end.
        from: Point,
        /// The other end.
        to: Point,
    },
    /// A true curve, by points close enough together for a smooth curve through
    /// them to stay within 0.001 mm.
    Curve(Vec<Point>),
}

impl Stroke {
    /// The same carried round the pole.
    #[must_use]
    pub fn turned(&self, by: Angle) -> Stroke {
        match self {
            Stroke::Circle { centre, radius_mm } => Stroke::Circle {
                centre: centre.turned(by),
                radius_mm: *radius_mm,
            },
            Stroke::Arc {
                centre,
                radius_mm,
                from,
                sweep,
            } => Stroke::Arc {
                centre: centre.turned(by),
                radius_mm: *radius_mm,
                from: *from + by,
                sweep: *sweep,
            },
            Stroke::Segment { from, to } => Stroke::Segment {
                from: from.turned(by),
                to: to.turned(by),
            },
            Stroke::Curve(points) => Stroke::Curve(points.iter().map(|p| p.turned(by)).collect()),
        }
    }

    /// The point at a part of its length, from 0 at its beginning to 1 at its end.
    ///
    /// Along a [`Stroke::Curve`] only the given points are met exactly.
    #[must_use]
    pub fn at(&self, part: f64) -> Point {
        match self {
            Stroke::Circle { centre, radius_mm } => {
                *centre + Point::polar(*radius_mm, Angle::FULL_TURN * part)
            }
            Stroke::Arc {
                centre,
                radius_mm,
                from,
                sweep,
            } => *centre + Point::polar(*radius_mm, *from + *sweep * part),
            Stroke::Segment { from, to } => *from + (*to - *from) * part,
            Stroke::Curve(points) => {
                let last = points.len().saturating_sub(1);
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    clippy::cast_precision_loss,
                    reason = "an index into a list of some dozens of points"
                )]
                let index = (part.clamp(0.0, 1.0) * last as f64).round() as usize;
                points.get(index).copied().unwrap_or_default()
            }
        }
    }
}

/// The arc from the first point by way of the second to the third.
pub(crate) fn arc_through([from, by, to]: [Point; 3]) -> Stroke {
    match Circline::through(from, by, to).and_then(|line| line.as_circle()) {
        None => Stroke::Segment { from, to },
        Some((centre, radius_mm)) => {
            let first = (from - centre).direction();
            let halfway = first.to((by - centre).direction());
            let whole = first.to((to - centre).direction());
            // The way round on which the second point lies.
            let sweep =
                if halfway.deg().signum() == whole.deg().signum() && halfway.abs() <= whole.abs() {
                    whole
                } else {
                    whole - Angle::FULL_TURN * whole.deg().signum()
                };
            Stroke::Arc {
                centre,
                radius_mm,
                from: first,
                sweep,
            }
        }
    }
}

/// The pieces of a circle or straight line for which `keep` holds, given every
/// line at which that can change. A straight line must be bounded by the cutters.
pub(crate) fn clipped(
    line: &Circline,
    cutters: &[Circline],
    keep: impl Fn(Point) -> bool,
) -> Vec<Stroke> {
    let cuts: Vec<Point> = cutters
        .iter()
        .flat_map(|cutter| line.meets(cutter).points().to_vec())
        .collect();
    match line.as_circle() {
        Some((centre, radius_mm)) => clipped_circle(centre, radius_mm, &cuts, keep),
        None => clipped_straight(line, &cuts, keep),
    }
}

fn clipped_circle(
    centre: Point,
    radius_mm: f64,
    cuts: &[Point],
    keep: impl Fn(Point) -> bool,
) -> Vec<Stroke> {
    let mut directions: Vec<f64> = cuts
        .iter()
        .map(|cut| (*cut - centre).direction().in_turn().deg())
        .collect();
    directions.sort_by(f64::total_cmp);
    directions.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let Some(first) = directions.first().copied() else {
        let whole = Stroke::Circle { centre, radius_mm };
        return if keep(whole.at(0.0)) {
            vec![whole]
        } else {
            Vec::new()
        };
    };
    directions.push(first + 360.0);
    let mut arcs: Vec<(f64, f64)> = Vec::new();
    for pair in directions.windows(2) {
        let &[from, to] = pair else { continue };
        let middle = centre + Point::polar(radius_mm, Angle::from_deg(from.midpoint(to)));
        if !keep(middle) {
            continue;
        }
        match arcs.last_mut() {
            Some(last) if (last.1 - from).abs() < 1e-9 => last.1 = to,
            _ => arcs.push((from, to)),
        }
    }
    // A piece that runs through the first cut was found as two.
    if let [head, .., tail] = arcs.as_mut_slice()
        && (tail.1 - 360.0 - head.0).abs() < 1e-9
    {
        head.0 = tail.0 - 360.0;
        arcs.pop();
    }
    arcs.into_iter()
        .map(|(from, to)| {
            if to - from > 360.0 - 1e-9 {
                return Stroke::Circle { centre, radius_mm };
            }
            Stroke::Arc {
                centre,
                radius_mm,
                from: Angle::from_deg(from),
                sweep: Angle::from_deg(to - from),
            }
        })
        .collect()
}

fn clipped_straight(line: &Circline, cuts: &[Point], keep: impl Fn(Point) -> bool) -> Vec<Stroke> {
    let Some((foot, along)) = line.as_straight() else {
        return Vec::new();
    };
    let mut places: Vec<f64> = cuts.iter().map(|cut| (*cut - foot).dot(along)).collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let mut pieces: Vec<(f64, f64)> = Vec::new();
    for pair in places.windows(2) {
        let &[from, to] = pair else { continue };
        if !keep(foot + along * from.midpoint(to)) {
            continue;
        }
        match pieces.last_mut() {
            Some(last) if (last.1 - from).abs() < 1e-9 => last.1 = to,
            _ => pieces.push((from, to)),
        }
    }
    pieces
        .into_iter()
        .map(|(from, to)| Stroke::Segment {
            from: foot + along * from,
            to: foot + along * to,
        })
        .collect()
}
