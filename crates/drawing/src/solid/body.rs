use instrument::Point;

use super::flat;
use crate::contour::Contour;
use crate::scene::Region;

/// A surface by its edges: bodies that neither touch nor overlap.
///
/// Regions that overlap are made one with [`Solid::of`]. Arcs stay arcs and curves
/// stay curves: every piece of an edge is a part of a piece of what went in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Solid {
    /// The bodies.
    pub bodies: Vec<Body>,
}

/// One connected piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Its outer edge.
    pub outline: Contour,
    /// The edges of its holes.
    pub holes: Vec<Contour>,
}

impl Solid {
    /// All its edges in the order in which they are cut: holes while the metal is still
    /// held by its sheet, the outlines last.
    pub fn edges(&self) -> impl Iterator<Item = &Contour> {
        let holes = self.bodies.iter().flat_map(|body| &body.holes);
        holes.chain(self.bodies.iter().map(|body| &body.outline))
    }

    /// Its bodies as regions.
    #[must_use]
    pub fn regions(&self) -> Vec<Region> {
        let region = |body: &Body| Region {
            outline: body.outline.clone(),
            holes: body.holes.clone(),
        };
        self.bodies.iter().map(region).collect()
    }

    /// Its area, in square millimetres.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.bodies
            .iter()
            .map(|body| {
                let holes: f64 = body.holes.iter().map(|hole| flat::area(hole).abs()).sum();
                flat::area(&body.outline).abs() - holes
            })
            .sum()
    }

    /// Its corners, cut into chords: bodies of rings, the outer one first.
    pub(super) fn points(&self, sagitta_mm: f64) -> Vec<Vec<Vec<[f64; 2]>>> {
        let corners = |contour: &Contour, onward: bool| -> Vec<[f64; 2]> {
            let mut corners: Vec<Point> = flat::corners(contour, sagitta_mm);
            if (flat::doubled_area(&corners) >= 0.0) != onward {
                corners.reverse();
            }
            corners.into_iter().map(|p| [p.x, p.y]).collect()
        };
        self.bodies
            .iter()
            .map(|body| {
                let holes = body.holes.iter().map(|hole| corners(hole, false));
                std::iter::once(corners(&body.outline, true))
                    .chain(holes)
                    .collect()
            })
            .collect()
    }
}
