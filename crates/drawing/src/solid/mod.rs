//! Metal as it is cut: regions made one, with their true arcs, and proofs that
//! the outline can be cut.

mod arcs;
mod body;
mod chord;
mod flat;
mod ground;
mod grown;
mod proof;
mod source;
mod union;

use crate::contour::Contour;
use crate::scene::Region;

pub use body::{Body, Solid};
pub(crate) use chord::Chord;
pub(crate) use flat::corners;
pub(crate) use ground::Ground;
pub use proof::{Flaw, ThinSpot};

impl Solid {
    /// What some regions cover together, less some holes.
    #[must_use]
    pub fn of(regions: &[Region], holes: &[Contour]) -> Solid {
        union::united(regions, holes)
    }

    /// The same, larger on every side by a breadth; holes grow smaller by it.
    ///
    /// This is how the breadth that a cut takes away is made good.
    #[must_use]
    pub fn grown(&self, by_mm: f64) -> Solid {
        if by_mm <= 0.0 {
            return self.clone();
        }
        grown::grown(self, by_mm)
    }

    /// Whether it can be cut out as one piece: one body, every edge closed and
    /// crossing neither itself nor another, nowhere thinner than a width.
    ///
    /// # Errors
    /// The first thing that is wrong, and where.
    pub fn is_one_piece(&self, least_width_mm: f64) -> Result<(), Flaw> {
        proof::one_piece(self, least_width_mm)
    }

    /// Where it is thinner than a width.
    #[must_use]
    pub fn thin_spots(&self, least_width_mm: f64) -> Vec<ThinSpot> {
        proof::thin_spots(self, least_width_mm)
    }
}
