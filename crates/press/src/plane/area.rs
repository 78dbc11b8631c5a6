use std::collections::HashMap;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;

use super::grid::{Ring, Spot, square};

/// What is smaller than this, in squares of the grid's step, is left out: a hundredth of a
/// millimetre squared, which no tool makes and no eye sees.
const LEAST: u64 = 100;

/// The edges of what some surfaces cover together. They may overlap.
pub(crate) fn united(rings: &[Ring]) -> Vec<Ring> {
    overlaid(rings, &[], OverlayRule::Subject, FillRule::NonZero)
}

/// The edges of what lies within an odd number of closed lines, as letters are filled.
pub(crate) fn filled(rings: &[Ring]) -> Vec<Ring> {
    overlaid(rings, &[], OverlayRule::Subject, FillRule::EvenOdd)
}

/// The edges of what some surfaces cover within others.
pub(crate) fn within(rings: &[Ring], others: &[Ring]) -> Vec<Ring> {
    overlaid(rings, others, OverlayRule::Intersect, FillRule::NonZero)
}

/// The edges of what some surfaces cover and others leave.
pub(crate) fn without(rings: &[Ring], others: &[Ring]) -> Vec<Ring> {
    overlaid(rings, others, OverlayRule::Difference, FillRule::NonZero)
}

fn overlaid(subject: &[Ring], clip: &[Ring], rule: OverlayRule, fill: FillRule) -> Vec<Ring> {
    let corners = subject.iter().chain(clip).map(Vec::len).sum();
    let mut overlay: Overlay<i32> = Overlay::new(corners);
    overlay.options.min_output_area = LEAST;
    for ring in subject {
        overlay.add_contour(ring, ShapeType::Subject);
    }
    for ring in clip {
        overlay.add_contour(ring, ShapeType::Clip);
    }
    overlay.overlay(rule, fill).into_iter().flatten().collect()
}

/// The same with no place through which edges pass twice: such a place becomes a little
/// square that joins what met there, for edges that only touch would make a solid that is
/// held together by a line without breadth.
pub(crate) fn joined(mut rings: Vec<Ring>) -> Vec<Ring> {
    for reach in 2..10 {
        let spots = met_twice(&rings);
        if spots.is_empty() {
            break;
        }
        rings = with_squares(rings, &spots, reach);
    }
    rings
}

/// The same with squares about some places.
pub(crate) fn with_squares(mut rings: Vec<Ring>, at: &[Spot], reach: i32) -> Vec<Ring> {
    rings.extend(at.iter().map(|spot| square(*spot, reach)));
    united(&rings)
}

/// Places that edges pass more than once.
fn met_twice(rings: &[Ring]) -> Vec<Spot> {
    let mut passed: HashMap<(i32, i32), u32> = HashMap::new();
    for spot in rings.iter().flatten() {
        *passed.entry((spot.x, spot.y)).or_default() += 1;
    }
    let mut twice: Vec<(i32, i32)> = passed
        .into_iter()
        .filter_map(|(spot, count)| (count > 1).then_some(spot))
        .collect();
    // A map has no order, and the same order is to give the same bytes.
    twice.sort_unstable();
    twice.into_iter().map(|(x, y)| Spot::new(x, y)).collect()
}
