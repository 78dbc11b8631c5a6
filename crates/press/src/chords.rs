use drawing::{Contour, Piece};
use instrument::Point;

/// The corners of a contour cut into chords that leave it by no more than a distance; the
/// first of a closed one is not repeated.
pub(crate) fn chords(contour: &Contour, sagitta_mm: f64) -> Vec<Point> {
    let (start, pieces, closed) = contour.outline();
    let followed = Contour::open(start, pieces.into_owned()).as_arcs(sagitta_mm / 2.0);
    let (start, pieces, _) = followed.outline();
    let mut at = start;
    let mut points = vec![start];
    for piece in pieces.iter() {
        let count = match *piece {
            Piece::Line { .. } | Piece::Cubic { .. } => 1,
            Piece::Arc { centre, sweep, .. } => {
                let radius = (at - centre).radius().max(sagitta_mm);
                let each = 2.0 * libm::acos(1.0 - sagitta_mm / radius);
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "an arc is at most a turn long"
                )]
                let count = (sweep.rad().abs() / each).ceil().max(1.0) as u32;
                count
            }
        };
        points.extend((1..=count).map(|n| piece.at(at, f64::from(n) / f64::from(count))));
        at = piece.end();
    }
    // A closed one that returns by itself.
    if closed && points.len() > 1 && (at - start).radius() < 1e-6 {
        points.pop();
    }
    points
}
