use instrument::Point;

use super::source::Source;
use crate::contour::Contour;
use crate::piece::{Piece, arc_by};

impl Contour {
    /// The same with every curve followed by arcs that leave it by no more than a distance.
    #[must_use]
    pub fn as_arcs(&self, within_mm: f64) -> Contour {
        let Contour::Path {
            start,
            pieces,
            closed,
        } = self
        else {
            return self.clone();
        };
        let mut at = *start;
        let mut followed = Vec::with_capacity(pieces.len());
        for piece in pieces {
            if let Piece::Cubic { first, second, to } = *piece {
                let curve = Source::Cubic {
                    ends: [at, to],
                    controls: [first, second],
                };
                follow(&curve, 0.0, 1.0, within_mm, 0, &mut followed);
            } else {
                followed.push(*piece);
            }
            at = piece.end();
        }
        Contour::Path {
            start: *start,
            pieces: followed,
            closed: *closed,
        }
    }
}

fn follow(curve: &Source, t: f64, u: f64, within_mm: f64, depth: u32, out: &mut Vec<Piece>) {
    const DEEPEST: u32 = 12;
    let at = |part: f64| curve.at(t + (u - t) * part);
    let piece = arc_by(at(0.0), at(0.5), at(1.0));
    let off = |p: Point| match piece {
        Piece::Arc { centre, .. } => ((p - centre).radius() - (at(0.0) - centre).radius()).abs(),
        Piece::Line { .. } | Piece::Cubic { .. } => {
            let along = at(1.0) - at(0.0);
            (p - at(0.0)).cross(along).abs() / along.radius().max(1e-12)
        }
    };
    let fits = [0.125, 0.25, 0.375, 0.625, 0.75, 0.875]
        .iter()
        .all(|part| off(at(*part)) <= within_mm);
    // An arc that turns back on itself follows nothing.
    let slight = match piece {
        Piece::Arc { sweep, .. } => sweep.abs().deg() < 150.0,
        Piece::Line { .. } | Piece::Cubic { .. } => true,
    };
    if depth >= DEEPEST || fits && slight {
        out.push(piece);
        return;
    }
    let middle = f64::midpoint(t, u);
    follow(curve, t, middle, within_mm, depth + 1, out);
    follow(curve, middle, u, within_mm, depth + 1, out);
}
