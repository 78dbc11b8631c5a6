//! Edges as the paths of a PDF.

use drawing::{Contour, Piece};
use instrument::Point;
use krilla::geom::{Path, PathBuilder};

use crate::moves::{Move, moves};

/// Points to a millimetre.
const POINTS: f64 = 72.0 / 25.4;

#[expect(
    clippy::cast_possible_truncation,
    reason = "PDF libraries reckon in single precision: 0.00003 mm at half a metre"
)]
pub(crate) fn points(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

/// The path of some contours, moved to where their centre stands.
pub(crate) fn path_of<'a>(
    contours: impl IntoIterator<Item = &'a Contour>,
    centre: Point,
) -> Option<Path> {
    let mut builder = PathBuilder::new();
    let at = |p: Point| {
        let p = p + centre;
        (points(p.x), points(p.y))
    };
    for step in moves(contours) {
        match step {
            Move::To(p) => {
                let (x, y) = at(p);
                builder.move_to(x, y);
            }
            Move::Line(p) => {
                let (x, y) = at(p);
                builder.line_to(x, y);
            }
            Move::Cubic(first, second, to) => {
                let ((a, b), (c, d), (x, y)) = (at(first), at(second), at(to));
                builder.cubic_to(a, b, c, d, x, y);
            }
            Move::Close => builder.close(),
        }
    }
    builder.finish()
}

pub(crate) fn closed_path(corners: &[Point]) -> Option<Path> {
    let (first, rest) = corners.split_first()?;
    let contour = Contour::closed(
        *first,
        rest.iter().map(|to| Piece::Line { to: *to }).collect(),
    );
    path_of(&[contour], Point::POLE)
}
