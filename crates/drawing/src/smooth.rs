use instrument::Point;

use crate::piece::Piece;

/// Cubic Bézier curves through all the points, one from each to the next.
///
/// The tangent at a point is that of the polynomial through the five points about
/// it, with the chords as parameter, so that the curve leaves a smooth original
/// with the fourth power of the spacing (0.001 mm for the 49 points of an
/// unequal-hour line on the largest plate).
pub(crate) fn smooth_through(points: &[Point]) -> Vec<Piece> {
    let mut along = 0.0;
    let mut last = points.first().copied().unwrap_or_default();
    let places: Vec<f64> = points
        .iter()
        .map(|p| {
            along += (*p - last).radius();
            last = *p;
            along
        })
        .collect();
    let tangents: Vec<Point> = (0..points.len())
        .map(|n| tangent(points, &places, n))
        .collect();
    let ends = points.windows(2).zip(places.windows(2));
    ends.zip(tangents.windows(2))
        .filter_map(|((ends, places), tangents)| {
            let (&[from, to], &[a, b], &[t, u]) = (ends, places, tangents) else {
                return None;
            };
            let third = (b - a) / 3.0;
            Some(Piece::Cubic {
                first: from + t * third,
                second: to - u * third,
                to,
            })
        })
        .collect()
}

/// The derivative at the nth point of the polynomial through up to five points about it.
fn tangent(points: &[Point], places: &[f64], n: usize) -> Point {
    let count = points.len().min(5);
    let first = n.saturating_sub(2).min(points.len() - count);
    let near = first..first + count;
    let at = places.get(n).copied().unwrap_or(0.0);
    let node = |i: usize| places.get(i).copied().unwrap_or(0.0);
    let mut sum = Point::POLE;
    for i in near.clone() {
        // The derivative at `at` of the Lagrange polynomial that is 1 at i.
        let others = near.clone().filter(|j| *j != i);
        let weight = if i == n {
            others.map(|j| 1.0 / (at - node(j))).sum()
        } else {
            others
                .map(|j| {
                    let top = if j == n { 1.0 } else { at - node(j) };
                    top / (node(i) - node(j))
                })
                .product::<f64>()
        };
        sum = sum + points.get(i).copied().unwrap_or_default() * weight;
    }
    sum
}
