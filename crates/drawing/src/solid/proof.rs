use std::collections::HashMap;
use std::fmt;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use i_overlay::mesh::float::outline::offset::OutlineOffset;
use i_overlay::mesh::float::style::{LineJoin, OutlineStyle};
use instrument::Point;

use super::body::Solid;
use super::flat;
use crate::contour::Contour;
use crate::piece::Piece;

/// Why something cannot be cut as one piece of metal.
#[derive(Clone, Debug, PartialEq)]
pub enum Flaw {
    /// There is no metal at all.
    Empty,
    /// It falls apart.
    Pieces {
        /// Into how many pieces.
        count: usize,
        /// Where the smallest of them is.
        at: Point,
    },
    /// An edge does not return to where it began, by more than a thousandth of a millimetre.
    Open {
        /// Where it begins.
        at: Point,
    },
    /// Edges cross.
    Crossing {
        /// Where.
        at: Point,
    },
    /// It is too thin.
    Thin {
        /// The places, the worst first.
        spots: Vec<ThinSpot>,
        /// The width that was asked for.
        least_width_mm: f64,
    },
}

/// A place that is too thin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThinSpot {
    /// Its middle.
    pub at: Point,
    /// How much of it is too thin, in square millimetres.
    pub area_mm2: f64,
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = |p: &Point| {
            let side = if p.x < 0.0 { "left" } else { "right" };
            let height = if p.y < 0.0 { "above" } else { "below" };
            format!(
                "{:.1} mm to the {side} of and {:.1} mm {height} the centre",
                p.x.abs(),
                p.y.abs()
            )
        };
        match self {
            Flaw::Empty => f.write_str("there is no metal"),
            Flaw::Pieces { count, at } => {
                write!(f, "it falls into {count} pieces, one of them {}", place(at))
            }
            Flaw::Open { at } => write!(f, "an edge is not closed {}", place(at)),
            Flaw::Crossing { at } => write!(f, "edges cross {}", place(at)),
            Flaw::Thin {
                spots,
                least_width_mm,
            } => {
                write!(f, "it is thinner than {least_width_mm:.2} mm ")?;
                let places: Vec<String> =
                    spots.iter().take(3).map(|spot| place(&spot.at)).collect();
                f.write_str(&places.join("; "))?;
                match spots.len() {
                    0..=3 => Ok(()),
                    more => write!(f, "; and in {} more places", more - 3),
                }
            }
        }
    }
}

/// Chords for the proofs leave the edges by no more than this.
const SAGITTA_MM: f64 = 0.002;

/// Edges that pass each other by less than that are looked at with chords as fine as these.
const FINE_SAGITTA_MM: f64 = 0.00005;

/// The same for the proof of widths, which chords take twice as much from.
const WIDTH_SAGITTA_MM: f64 = 0.004;

/// Widths are proven to this part of what is asked for: the proof cuts curves into chords.
const PROVEN: f64 = 0.97;

pub(super) fn one_piece(solid: &Solid, least_width_mm: f64) -> Result<(), Flaw> {
    match solid.bodies.as_slice() {
        [] => return Err(Flaw::Empty),
        [_] => {}
        bodies => {
            let sizes = bodies
                .iter()
                .min_by(|a, b| {
                    flat::area(&a.outline)
                        .abs()
                        .total_cmp(&flat::area(&b.outline).abs())
                })
                .map(|body| beginning(&body.outline));
            return Err(Flaw::Pieces {
                count: bodies.len(),
                at: sizes.unwrap_or_default(),
            });
        }
    }
    for edge in solid.edges() {
        if !is_closed(edge) {
            return Err(Flaw::Open {
                at: beginning(edge),
            });
        }
    }
    if crossing(solid, SAGITTA_MM).is_some()
        && let Some(at) = crossing(solid, FINE_SAGITTA_MM)
    {
        return Err(Flaw::Crossing { at });
    }
    let spots = thin_spots(solid, least_width_mm);
    if spots.is_empty() {
        Ok(())
    } else {
        Err(Flaw::Thin {
            spots,
            least_width_mm,
        })
    }
}

fn beginning(contour: &Contour) -> Point {
    match contour {
        Contour::Circle { centre, radius_mm } => {
            *centre
                + Point {
                    x: *radius_mm,
                    y: 0.0,
                }
        }
        Contour::Path { start, .. } => *start,
    }
}

/// Whether a path ends where it began, and every arc ends on its own circle.
fn is_closed(contour: &Contour) -> bool {
    const CLOSED_MM: f64 = 0.001;
    let Contour::Path {
        start,
        pieces,
        closed,
    } = contour
    else {
        return true;
    };
    let mut at = *start;
    for piece in pieces {
        if let Piece::Arc { centre, sweep, to } = *piece {
            let reached = centre + (at - centre).turned(sweep);
            if (reached - to).radius() > CLOSED_MM {
                return false;
            }
        }
        at = piece.end();
    }
    // A closed path is closed by a straight piece where it does not return by itself.
    *closed || (at - *start).radius() < CLOSED_MM
}

/// A place where edges, cut into chords that leave them by so much, cross one another or
/// themselves.
///
/// Every chord is held against those that share a cell of a grid with it.
fn crossing(solid: &Solid, sagitta_mm: f64) -> Option<Point> {
    const CELL_MM: f64 = 0.7;
    let mut chords: Vec<(Point, Point)> = Vec::new();
    // Which chords follow one another on the same edge, and so share an end.
    let mut ring: Vec<(usize, usize)> = Vec::new();
    for edge in solid.edges() {
        let corners = flat::corners(edge, sagitta_mm);
        let first = chords.len();
        let next = corners.iter().cycle().skip(1);
        chords.extend(corners.iter().copied().zip(next.copied()));
        ring.extend(std::iter::repeat_n((first, corners.len()), corners.len()));
    }
    #[expect(clippy::cast_possible_truncation, reason = "cells of a metre at most")]
    let cell = |x: f64| (x / CELL_MM).floor() as i64;
    let mut grid: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
    for (number, (p, q)) in chords.iter().enumerate() {
        for column in cell(p.x.min(q.x))..=cell(p.x.max(q.x)) {
            for row in cell(p.y.min(q.y))..=cell(p.y.max(q.y)) {
                grid.entry((column, row)).or_default().push(number);
            }
        }
    }
    let neighbours = |a: usize, b: usize| {
        let (Some((first, count)), Some(other)) = (ring.get(a), ring.get(b)) else {
            return false;
        };
        first == &other.0 && {
            let apart = a.abs_diff(b);
            apart <= 1 || apart == count - 1
        }
    };
    let mut cells: Vec<&Vec<usize>> = grid.values().collect();
    cells.sort();
    for cell in cells {
        for (n, a) in cell.iter().enumerate() {
            for b in cell.iter().skip(n + 1) {
                if neighbours(*a, *b) {
                    continue;
                }
                let (Some(one), Some(other)) = (chords.get(*a), chords.get(*b)) else {
                    continue;
                };
                if cross(*one, *other) {
                    return Some((one.0 + one.1) * 0.5);
                }
            }
        }
    }
    None
}

/// Whether two chords cross in their middles, not only near an end.
fn cross((p, q): (Point, Point), (r, s): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, at: Point| {
        let along = to - from;
        (at - from).cross(along) / along.radius().max(1e-12)
    };
    // What lies so close to a line lies on it.
    let apart = |a: f64, b: f64| a * b < 0.0 && a.abs().min(b.abs()) > 1e-5;
    apart(side(p, q, r), side(p, q, s)) && apart(side(r, s, p), side(r, s, q))
}

/// Where a disc of the width cannot reach while it stays on the metal.
///
/// The metal is drawn in by half the width and let out again; what is then missing
/// is too thin, but for what a disc always misses in a corner of a right angle.
pub(super) fn thin_spots(solid: &Solid, least_width_mm: f64) -> Vec<ThinSpot> {
    // Nothing is thinner than nothing.
    if least_width_mm <= 0.0 {
        return Vec::new();
    }
    let half = least_width_mm * PROVEN / 2.0;
    let shapes = solid.points(WIDTH_SAGITTA_MM);
    let round = |offset: f64| OutlineStyle::new(offset).line_join(LineJoin::Round(0.1));
    let drawn_in = shapes.outline_as::<i64>(&round(-half));
    let let_out = drawn_in.outline_as::<i64>(&round(half + 0.003));
    let missing = shapes.overlay_as::<i64>(&let_out, OverlayRule::Difference, FillRule::NonZero);
    // In a right angle (4 − π)/4 of a square of half the width is missed.
    let corner = half * half * (1.0 - std::f64::consts::FRAC_PI_4) * 1.25;
    let mut spots: Vec<ThinSpot> = missing
        .iter()
        .filter_map(|shape| {
            let contour = shape.first()?;
            let points: Vec<Point> = contour
                .iter()
                .map(|[x, y]| Point { x: *x, y: *y })
                .collect();
            let area_mm2 = flat::doubled_area(&points).abs() / 2.0;
            #[expect(clippy::cast_precision_loss, reason = "some thousands of corners")]
            let count = points.len() as f64;
            let at = points.iter().fold(Point::POLE, |sum, p| sum + *p) * (1.0 / count);
            (area_mm2 > corner).then_some(ThinSpot { at, area_mm2 })
        })
        .collect();
    spots.sort_by(|a, b| b.area_mm2.total_cmp(&a.area_mm2));
    spots
}
