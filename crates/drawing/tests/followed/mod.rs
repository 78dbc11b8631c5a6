//! Drawn lines followed by points.

use drawing::Contour;
use instrument::Point;

/// Points along a drawn line, twelve on each of its pieces.
pub(crate) fn points(contour: &Contour) -> Vec<Point> {
    let (start, pieces, _) = contour.outline();
    let mut at = start;
    let mut all = vec![start];
    for piece in pieces.iter() {
        all.extend((1..=12).map(|n| piece.at(at, f64::from(n) / 12.0)));
        at = piece.end();
    }
    all
}
