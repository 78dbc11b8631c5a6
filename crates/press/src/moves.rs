use drawing::{Contour, Piece};
use instrument::Point;
use sky::Angle;

/// A step along contours, for formats that know straight lines and curves but no arcs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Move {
    /// Begin at a point.
    To(Point),
    /// Straight on to a point.
    Line(Point),
    /// Along a curve: two controls and the end.
    Cubic(Point, Point, Point),
    /// Back to where the contour began.
    Close,
}

/// The steps along contours, arcs as curves.
pub(crate) fn moves<'a>(contours: impl IntoIterator<Item = &'a Contour>) -> Vec<Move> {
    let mut steps = Vec::new();
    for contour in contours {
        let (start, pieces, closed) = contour.outline();
        steps.push(Move::To(start));
        let mut last = start;
        for piece in pieces.iter() {
            match *piece {
                Piece::Line { to } => steps.push(Move::Line(to)),
                Piece::Cubic { first, second, to } => steps.push(Move::Cubic(first, second, to)),
                Piece::Arc { centre, sweep, to } => {
                    let parts = curves(last, centre, sweep, to).into_iter();
                    steps.extend(parts.map(|[first, second, end]| Move::Cubic(first, second, end)));
                }
            }
            last = piece.end();
        }
        if closed {
            steps.push(Move::Close);
        }
    }
    steps
}

/// Arcs are turned into curves in pieces of at most this: a curve for 22.5° leaves
/// its arc by 7e-8 of the radius.
const LONGEST_ARC_DEG: f64 = 22.5;

/// An arc as curves: controls and ends.
fn curves(from: Point, centre: Point, sweep: Angle, to: Point) -> Vec<[Point; 3]> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "an arc is at most a turn long"
    )]
    let count = (sweep.abs().deg() / LONGEST_ARC_DEG).ceil().max(1.0) as u32;
    let each = sweep / f64::from(count);
    let handle = (each / 4.0).tan() * (4.0 / 3.0);
    let mut begin = from;
    (1..=count)
        .map(|n| {
            let end = if n == count {
                to
            } else {
                centre + (from - centre).turned(each * f64::from(n))
            };
            let controls = [
                begin + (begin - centre).perpendicular() * handle,
                end - (end - centre).perpendicular() * handle,
            ];
            begin = end;
            [controls[0], controls[1], end]
        })
        .collect()
}
