use instrument::Point;
use sky::Angle;

use super::body::Solid;
use crate::contour::Contour;
use crate::piece::{Piece, arc_piece};
use crate::scene::Region;

/// How far the arcs may be from the curves they follow.
const WITHIN_MM: f64 = 0.001;

/// The solid with every place added that is within a distance of its edges.
pub(super) fn grown(solid: &Solid, by_mm: f64) -> Solid {
    let mut regions = solid.regions();
    for edge in solid.edges() {
        regions.extend(swept(&edge.as_arcs(WITHIN_MM), by_mm));
    }
    Solid::of(&regions, &[])
}

/// What a disc covers whose centre goes along a contour of lines and arcs.
fn swept(contour: &Contour, radius_mm: f64) -> Vec<Region> {
    let disc = |p: Point| Region::whole(Contour::circle(p, radius_mm));
    match contour {
        Contour::Circle {
            centre,
            radius_mm: r,
        } => vec![ring(*centre, r + radius_mm, r - radius_mm)],
        Contour::Path {
            start,
            pieces,
            closed,
        } => {
            let mut at = *start;
            let mut regions = vec![disc(at)];
            let closing = closed.then_some(Piece::Line { to: *start });
            for piece in pieces.iter().copied().chain(closing) {
                let to = piece.end();
                if (to - at).radius() < 1e-9 {
                    continue;
                }
                match piece {
                    Piece::Arc { centre, sweep, .. } => {
                        regions.push(sector(centre, at, sweep, radius_mm));
                    }
                    Piece::Line { .. } | Piece::Cubic { .. } => {
                        let along = to - at;
                        let across = along.perpendicular() * (radius_mm / along.radius());
                        regions.push(Region::whole(Contour::closed(
                            at + across,
                            [to + across, to - across, at - across]
                                .map(|to| Piece::Line { to })
                                .to_vec(),
                        )));
                    }
                }
                regions.push(disc(to));
                at = to;
            }
            regions
        }
    }
}

fn ring(centre: Point, outer: f64, inner: f64) -> Region {
    if inner > 0.0 {
        Region::ring(centre, outer, inner)
    } else {
        Region::whole(Contour::circle(centre, outer))
    }
}

/// What is covered along an arc, between its two ends.
fn sector(centre: Point, from: Point, sweep: Angle, half: f64) -> Region {
    let r = (from - centre).radius();
    let begin = (from - centre).direction();
    if sweep.abs() >= Angle::FULL_TURN {
        return ring(centre, r + half, r - half);
    }
    let (outer, inner) = (r + half, (r - half).max(0.0));
    let end = begin + sweep;
    let start = centre + Point::polar(outer, begin);
    let mut pieces = vec![arc_piece(centre, outer, begin, sweep)];
    pieces.push(Piece::Line {
        to: centre + Point::polar(inner, end),
    });
    if inner > 0.0 {
        pieces.push(arc_piece(centre, inner, end, -sweep));
    }
    Region::whole(Contour::closed(start, pieces))
}
