//! What is engraved on a side, as surfaces on a grid of whole numbers: for solids and for
//! films.

pub(crate) mod area;
pub(crate) mod grid;
pub(crate) mod strokes;

use drawing::{Contour, Dash, Solid};

use self::grid::{Ring, Seen, Spot, ring, steps};
use crate::chords::chords;
use crate::ink::{Ink, Inked};
use crate::work::Work;

/// Chords leave the edges of metal by no more than this.
pub(crate) const SAGITTA_MM: f64 = 0.002;

/// The edges of some metal: outlines anticlockwise, holes clockwise.
pub(crate) fn metal(solid: &Solid, seen: Seen) -> Vec<Ring> {
    let edge = |edge: &Contour| ring(chords(edge, SAGITTA_MM), seen);
    let mut rings = Vec::new();
    for body in &solid.bodies {
        rings.extend(edge(&body.outline));
        let holes = body.holes.iter().filter_map(edge);
        rings.extend(holes.map(|mut hole| {
            hole.reverse();
            hole
        }));
    }
    rings
}

/// The lines and letters on a side.
pub(crate) fn engraved(inked: &Inked) -> impl Iterator<Item = &Ink> {
    inked.inks.iter().filter(|ink| match ink.work {
        Work::Score | Work::EngraveLine | Work::EngraveFill => true,
        Work::Guide | Work::Drill | Work::CutInside | Work::CutOutside => false,
    })
}

/// What some lines and letters cover, as surfaces that may overlap; `breadth` gives the
/// breadth of a line from that on paper, and each edge of a letter is let out by `out_mm`.
pub(crate) fn covered<'a>(
    inks: impl Iterator<Item = &'a Ink>,
    seen: Seen,
    breadth: impl Fn(f64) -> f64,
    out_mm: f64,
) -> Vec<Ring> {
    let mut rings = Vec::new();
    for ink in inks {
        if ink.filled {
            let edges = ink
                .contours
                .iter()
                .filter_map(|contour| ring(chords(contour, strokes::SAGITTA_MM), seen));
            let letters = area::filled(&edges.collect::<Vec<Ring>>());
            rings.extend(let_out(letters, out_mm));
            continue;
        }
        let breadth = breadth(ink.width_mm);
        for contour in &ink.contours {
            strokes::stroked(contour, breadth, ink.dash, seen, &mut rings);
        }
    }
    rings
}

/// Surfaces larger by so much on every side, or smaller.
pub(crate) fn let_out(rings: Vec<Ring>, by_mm: f64) -> Vec<Ring> {
    if steps(by_mm.abs()) < 1 {
        return rings;
    }
    let edges = along(&rings, 2.0 * by_mm.abs());
    if by_mm > 0.0 {
        let mut all = rings;
        all.extend(edges);
        area::united(&all)
    } else {
        area::without(&rings, &edges)
    }
}

/// Bands of some breadth along the edges of surfaces, half of it on either side.
pub(crate) fn along(rings: &[Ring], breadth_mm: f64) -> Vec<Ring> {
    let mut bands = Vec::new();
    for edge in rings {
        let corners = edge.iter().map(|spot: &Spot| grid::point(*spot));
        let mut corners = corners.collect::<Vec<_>>().into_iter();
        let Some(first) = corners.next() else {
            continue;
        };
        let pieces = corners.map(|to| drawing::Piece::Line { to });
        let edge = Contour::closed(first, pieces.collect());
        strokes::stroked(&edge, breadth_mm, Dash::Whole, Seen::FromAbove, &mut bands);
    }
    bands
}
