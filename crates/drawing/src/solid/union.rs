use i_overlay::core::edge_data::{EdgeDataMerge, OverlayEdgeData};
use i_overlay::core::edge_overlay::{EdgeOverlay, InputEdge};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::ShapeType;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::segm::boolean::ShapeCountBoolean;
use instrument::Point;
use sky::Angle;

use super::body::{Body, Solid};
use super::flat;
use super::source::Source;
use crate::contour::Contour;
use crate::piece::Piece;
use crate::scene::Region;

/// Chords leave the edges by no more than this while regions are united; where
/// edges cross, the crossing of the true ones is then found.
const SAGITTA_MM: f64 = 0.00025;

/// The grid on which the uniting is done.
const GRID_MM: f64 = 1e-6;

/// The number of the piece that a chord came from, and its own number on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct From {
    source: u32,
    chord: u32,
}

impl OverlayEdgeData for From {
    type Store = ();

    fn merge(both: EdgeDataMerge<ShapeCountBoolean, From>, _: &mut ()) -> From {
        // Where edges coincide either will do; the earlier one is steadier.
        both.lhs_data.min(both.rhs_data)
    }
}

/// The regions made one, less the holes.
pub(super) fn united(regions: &[Region], holes: &[Contour]) -> Solid {
    let mut sources = Vec::new();
    let mut overlay: EdgeOverlay<i64, From> = EdgeOverlay::new(8192);
    let mut add = |contour: &Contour, onward: bool, kind: ShapeType| {
        let own = Source::of(contour);
        let mut corners: Vec<(Point, From)> = Vec::new();
        for source in &own {
            #[expect(
                clippy::cast_possible_truncation,
                reason = "some thousands of pieces at most"
            )]
            let number = sources.len() as u32;
            let count = source.chords(SAGITTA_MM);
            corners.extend((0..count).map(|chord| {
                let at = source.at(f64::from(chord) / f64::from(count));
                let source = number;
                (at, From { source, chord })
            }));
            sources.push(*source);
        }
        let points: Vec<Point> = corners.iter().map(|corner| corner.0).collect();
        let turned = (flat::doubled_area(&points) >= 0.0) != onward;
        let next = corners.iter().cycle().skip(1);
        for ((from, data), (to, _)) in corners.iter().zip(next) {
            let (a, b) = if turned { (*to, *from) } else { (*from, *to) };
            overlay.add_edge(
                InputEdge {
                    a: on_grid(a),
                    b: on_grid(b),
                    data: *data,
                },
                kind,
            );
        }
    };
    for Region {
        outline,
        holes: inner,
    } in regions
    {
        add(outline, true, ShapeType::Subject);
        for hole in inner {
            // Of two regions that overlap each adds its own: a hole in the one is
            // metal where the other covers it.
            add(hole, false, ShapeType::Subject);
        }
    }
    for hole in holes {
        add(hole, true, ShapeType::Clip);
    }
    let rule = if holes.is_empty() {
        OverlayRule::Subject
    } else {
        OverlayRule::Difference
    };
    let bodies = overlay
        .build_vector_shapes(rule, FillRule::NonZero)
        .into_iter()
        .filter_map(|shape| {
            let mut contours = shape.iter().map(|contour| {
                let edges: Vec<(Point, Point, From)> = contour
                    .iter()
                    .map(|edge| (off_grid(edge.a), off_grid(edge.b), edge.data))
                    .collect();
                traced(&edges, &sources)
            });
            let outline = contours.next()??;
            Some(Body {
                outline,
                holes: contours.flatten().collect(),
            })
        })
        .collect();
    Solid { bodies }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a metre is 10⁹ steps of the grid"
)]
fn on_grid(p: Point) -> IntPoint<i64> {
    IntPoint::new(
        (p.x / GRID_MM).round() as i64,
        (p.y / GRID_MM).round() as i64,
    )
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a metre is 10⁹ steps of the grid"
)]
fn off_grid(p: IntPoint<i64>) -> Point {
    Point {
        x: p.x as f64 * GRID_MM,
        y: p.y as f64 * GRID_MM,
    }
}

/// A run of chords that came from one piece.
#[derive(Clone, Copy)]
struct Run {
    source: u32,
    from: Point,
    to: Point,
    /// How far round its centre it runs, if it is an arc.
    swept: Angle,
    /// About which parts of the piece it begins and ends.
    parts: [f64; 2],
}

/// The true edge that a ring of chords stands for.
fn traced(edges: &[(Point, Point, From)], sources: &[Source]) -> Option<Contour> {
    let source = |number: u32| sources.get(usize::try_from(number).ok()?);
    let swept = |number: u32, from: Point, to: Point| match source(number) {
        Some(Source::Arc { centre, .. }) => {
            (from - *centre).direction().to((to - *centre).direction())
        }
        _ => Angle::ZERO,
    };
    let mut runs: Vec<Run> = Vec::new();
    for (
        from,
        to,
        From {
            source: number,
            chord,
        },
    ) in edges
    {
        let swept = swept(*number, *from, *to);
        // The middle of the chord.
        let part = (f64::from(*chord) + 0.5) / f64::from(source(*number)?.chords(SAGITTA_MM));
        match runs.last_mut() {
            Some(run) if run.source == *number => {
                run.to = *to;
                run.swept += swept;
                run.parts[1] = part;
            }
            _ => runs.push(Run {
                source: *number,
                from: *from,
                to: *to,
                swept,
                parts: [part, part],
            }),
        }
    }
    // The ring may have been opened in the middle of a piece.
    if runs.len() > 1 && runs.first()?.source == runs.last()?.source {
        let last = runs.pop()?;
        let first = runs.first_mut()?;
        first.from = last.from;
        first.swept += last.swept;
        first.parts[0] = last.parts[0];
    }
    let joints = joined(&mut runs, sources)?;
    if let [run] = runs.as_slice() {
        return match source(run.source)? {
            Source::Arc {
                centre, radius_mm, ..
            } if run.swept.abs() > Angle::HALF_TURN => Some(Contour::circle(*centre, *radius_mm)),
            // A single straight or curved piece bounds nothing.
            Source::Line { .. } | Source::Arc { .. } | Source::Cubic { .. } => None,
        };
    }
    let start = joints.first().copied()?;
    let count = runs.len();
    let mut pieces: Vec<Piece> = Vec::with_capacity(count);
    for (n, run) in runs.iter().enumerate() {
        let (from, to) = (*joints.get(n)?, *joints.get((n + 1) % count)?);
        let swept = run.between(from, to, sources)?;
        pieces.push(source(run.source)?.piece([from, to], run.parts, swept));
    }
    Some(Contour::closed(start, pieces))
}

impl Run {
    /// How far round its centre it runs between two joints, if it is an arc.
    fn between(&self, from: Point, to: Point, sources: &[Source]) -> Option<Angle> {
        let Source::Arc { centre, .. } = sources.get(usize::try_from(self.source).ok()?)? else {
            return Some(Angle::ZERO);
        };
        let towards = |p: Point| (p - *centre).direction();
        // What the finer joints add or take at the two ends.
        Some(self.swept + towards(from).to(towards(self.from)) + towards(self.to).to(towards(to)))
    }

    /// Whether it still runs its own way from one joint to the other.
    fn keeps_its_way(&self, from: Point, to: Point, sources: &[Source]) -> Option<bool> {
        let source = sources.get(usize::try_from(self.source).ok()?)?;
        Some(match source {
            Source::Arc { .. } => self.between(from, to, sources)?.deg() * self.swept.deg() > 0.0,
            Source::Line { .. } | Source::Cubic { .. } => {
                let own = source.run([self.from, self.to], self.parts);
                source.run([from, to], self.parts) * own > 0.0
            }
        })
    }
}

/// Where each run meets the one before it, on the true pieces.
///
/// Pieces that all but touch cross as much as some tenths of a millimetre from where
/// their chords do. A short run beside such a crossing can so end before it begins:
/// of the true pieces that one has no part in the edge, and its neighbours meet.
fn joined(runs: &mut Vec<Run>, sources: &[Source]) -> Option<Vec<Point>> {
    let source = |number: u32| sources.get(usize::try_from(number).ok()?);
    loop {
        let count = runs.len();
        if count < 2 {
            return Some(Vec::new());
        }
        let joints: Vec<Point> = (0..count)
            .map(|n| {
                let (before, after) = (runs.get((n + count - 1) % count)?, runs.get(n)?);
                let about = [before.parts[1], after.parts[0]];
                Some(source(before.source)?.crossing(source(after.source)?, after.from, about))
            })
            .collect::<Option<_>>()?;
        let mut shortest: Option<(usize, f64)> = None;
        for (n, run) in runs.iter().enumerate() {
            let (from, to) = (*joints.get(n)?, *joints.get((n + 1) % count)?);
            let length = (run.to - run.from).radius();
            if !run.keeps_its_way(from, to, sources)?
                && shortest.is_none_or(|(_, least)| length < least)
            {
                shortest = Some((n, length));
            }
        }
        let Some((gone, _)) = shortest else {
            return Some(joints);
        };
        let run = runs.remove(gone);
        let count = count - 1;
        // The neighbours now meet where it was; two runs of one piece become one.
        let (before, after) = ((gone + count - 1) % count, gone % count);
        let first = *runs.get(before)?;
        let second = *runs.get(after)?;
        if count > 1 && first.source == second.source {
            let merged = Run {
                to: second.to,
                parts: [first.parts[0], second.parts[1]],
                swept: first.between(first.from, second.from, sources)? + second.swept,
                ..first
            };
            *runs.get_mut(before)? = merged;
            runs.remove(after);
        } else {
            let meet = (run.from + run.to) * 0.5;
            let swept = second.between(meet, second.to, sources)?;
            *runs.get_mut(after)? = Run {
                from: meet,
                swept,
                ..second
            };
        }
    }
}
