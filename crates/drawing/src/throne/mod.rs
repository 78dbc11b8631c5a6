//! The throne above the mater, by which it hangs: a form a function.

mod forms;
mod shoulders;

use instrument::{Point, Throne as Form};
use sky::Angle;

use crate::contour::Contour;
use crate::scene::Region;

/// The throne above the mater, as drawn.
pub(crate) struct Throne {
    pub(crate) regions: Vec<Region>,
    pub(crate) holes: Vec<Contour>,
}

/// What a throne stands on and must hold, in millimetres.
struct Seat {
    /// The mater's radius.
    mater: f64,
    /// The diameter of the ring's hole, and the radius of the metal about it.
    ring_hole: f64,
    boss: f64,
}

/// A place by its distance from the centre and its angle from the top, clockwise.
fn up(radius: f64, from_top_deg: f64) -> Point {
    Point::polar(radius, Angle::from_deg(from_top_deg - 90.0))
}

impl Seat {
    fn ring_hole(&self, middle: Point) -> Contour {
        Contour::circle(middle, self.ring_hole / 2.0)
    }
}

impl Throne {
    pub(crate) fn of(form: Form, mater_mm: f64, ring_hole_mm: f64) -> Throne {
        let wall = (0.028 * mater_mm).max(1.2);
        let seat = Seat {
            mater: mater_mm,
            ring_hole: ring_hole_mm,
            boss: ring_hole_mm / 2.0 + wall,
        };
        match form {
            Form::Shoulders => seat.shoulders(),
            Form::Trefoil => seat.trefoil(),
            Form::Ogee => seat.ogee(),
            Form::Crown => seat.crown(),
            Form::Scrolls => seat.scrolls(),
            Form::Lobed => seat.lobed(),
        }
    }
}
