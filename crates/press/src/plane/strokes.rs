use drawing::{Contour, Dash};
use instrument::Point;
use sky::Angle;

use super::grid::{Ring, Seen, ring};
use crate::chords::chords;

/// Chords leave what is engraved by no more than this.
pub(crate) const SAGITTA_MM: f64 = 0.004;

/// Long dashes and the gaps between them, and the distance of dots, as on paper.
const DASHES_MM: [f64; 2] = [1.4, 0.7];
const DOTS_MM: f64 = 0.7;

/// Puts down what a tool of some breadth leaves along a line: surfaces that may overlap.
pub(crate) fn stroked(
    contour: &Contour,
    breadth_mm: f64,
    dash: Dash,
    seen: Seen,
    out: &mut Vec<Ring>,
) {
    let half = breadth_mm / 2.0;
    let mut points = chords(contour, SAGITTA_MM);
    let (_, _, closed) = contour.outline();
    if closed && let Some(first) = points.first().copied() {
        points.push(first);
    }
    points.dedup_by(|a, b| (*a - *b).radius() < 1e-6);
    match dash {
        Dash::Whole => strip(&points, half, closed, seen, out),
        Dash::Dashed => {
            for dash in parted(&points, DASHES_MM) {
                strip(&dash, half, false, seen, out);
            }
        }
        Dash::Dotted => {
            let dots = parted(&points, [0.01, DOTS_MM]);
            out.extend(
                dots.iter()
                    .filter_map(|dot| disc(*dot.first()?, half, seen)),
            );
        }
    }
}

/// The parts of a line between its gaps.
fn parted(points: &[Point], [dash, gap]: [f64; 2]) -> Vec<Vec<Point>> {
    let mut parts = Vec::new();
    let mut part: Vec<Point> = points.first().copied().into_iter().collect();
    let (mut is_dash, mut left) = (true, dash);
    for (from, to) in points.iter().zip(points.iter().skip(1)) {
        let length = (*to - *from).radius();
        let mut gone = 0.0;
        // Every turn takes away a dash or a gap, so that it ends.
        while length - gone > left {
            gone += left;
            let at = *from + (*to - *from) * (gone / length);
            part.push(at);
            if is_dash {
                parts.push(std::mem::take(&mut part));
            }
            part = vec![at];
            is_dash = !is_dash;
            left = if is_dash { dash } else { gap };
        }
        left -= length - gone;
        part.push(*to);
    }
    if is_dash {
        parts.push(part);
    }
    parts
}

/// A line so broad. Where it bends sharply it is two, with a disc about the bend.
fn strip(points: &[Point], half: f64, closed: bool, seen: Seen, out: &mut Vec<Ring>) {
    /// The cosine of 20°.
    const STRAIGHT_ON: f64 = 0.94;
    let count = points.len();
    if count < 2 {
        out.extend(points.first().and_then(|at| disc(*at, half, seen)));
        return;
    }
    let along = |n: usize| -> Option<(Point, f64)> {
        let way = *points.get(n + 1)? - *points.get(n)?;
        let length = way.radius();
        Some((way * (1.0 / length), length))
    };
    // How far from the line its edge stands at a corner, along the corner's middle; none
    // where it bends too sharply for its edge to go with it.
    let across = |before: (Point, f64), after: (Point, f64)| -> Option<Point> {
        let cosine = before.0.dot(after.0);
        let tangent = ((1.0 - cosine) / (1.0 + cosine).max(1e-9)).max(0.0).sqrt();
        let room = before.1.min(after.1);
        (cosine > STRAIGHT_ON && half * tangent < 0.4 * room).then(|| {
            let middle = before.0 + after.0;
            middle.perpendicular() * (2.0 * half / middle.dot(middle))
        })
    };
    let butt = |way: (Point, f64)| way.0.perpendicular() * half;
    let (Some(first), Some(last)) = (along(0), along(count - 2)) else {
        return;
    };
    let meets = if closed { across(last, first) } else { None };
    if closed && meets.is_none() {
        out.extend(points.first().and_then(|at| disc(*at, half, seen)));
    }
    let mut left = Vec::new();
    let mut right = Vec::new();
    let go = |at: Point, across: Point, left: &mut Vec<Point>, right: &mut Vec<Point>| {
        left.push(at + across);
        right.push(at - across);
    };
    let end = |left: &mut Vec<Point>, right: &mut Vec<Point>, out: &mut Vec<Ring>| {
        let edge = std::mem::take(left).into_iter();
        let back = std::mem::take(right).into_iter().rev();
        out.extend(ring(edge.chain(back), seen));
    };
    for (n, at) in points.iter().enumerate() {
        let (before, after) = (n.checked_sub(1).and_then(along), along(n));
        match (before, after) {
            (None, Some(_)) => go(
                *at,
                meets.unwrap_or_else(|| butt(first)),
                &mut left,
                &mut right,
            ),
            (Some(_), None) => go(
                *at,
                meets.unwrap_or_else(|| butt(last)),
                &mut left,
                &mut right,
            ),
            (Some(before), Some(after)) => match across(before, after) {
                Some(across) => go(*at, across, &mut left, &mut right),
                None => {
                    go(*at, butt(before), &mut left, &mut right);
                    end(&mut left, &mut right, out);
                    out.extend(disc(*at, half, seen));
                    go(*at, butt(after), &mut left, &mut right);
                }
            },
            (None, None) => {}
        }
    }
    end(&mut left, &mut right, out);
}

/// A disc, as a regular figure of twelve sides.
fn disc(at: Point, half: f64, seen: Seen) -> Option<Ring> {
    let corners = (0..12).map(|n| at + Point::polar(half, Angle::from_deg(f64::from(n) * 30.0)));
    ring(corners, seen)
}
