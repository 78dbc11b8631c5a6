use sky::Angle;

use crate::point::Point;
use crate::specification::{Hemisphere, Top};

/// How the instrument is held and drawn: which half of the meridian is up, and
/// which way the hours run. It turns the whole plate, not just the numerals, and
/// is applied only when something is drawn.
///
/// Seen from the front, hours run clockwise on northern and anticlockwise on
/// southern instruments.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Orientation {
    hemisphere: Hemisphere,
    top: Top,
}

impl Orientation {
    /// Of an instrument of a hemisphere with this half of the meridian up.
    #[must_use]
    pub fn new(hemisphere: Hemisphere, top: Top) -> Orientation {
        Orientation { hemisphere, top }
    }

    /// Whether the hour angle runs clockwise as one looks at the front.
    #[must_use]
    pub fn clockwise(self) -> bool {
        self.hemisphere == Hemisphere::North
    }

    /// Whether east is on the left as one looks at the front.
    #[must_use]
    pub fn east_is_left(self) -> bool {
        self.clockwise() == (self.top == Top::Noon)
    }

    /// The bearing at which an hour angle is drawn: clockwise from the top.
    ///
    /// ```
    /// use instrument::{Hemisphere, Orientation, Top};
    /// use sky::Angle;
    /// let usual = Orientation::new(Hemisphere::North, Top::Noon);
    /// // East, six hours before noon, is on the left.
    /// assert_eq!(usual.bearing(Angle::from_hours(-6.0)).in_turn().deg(), 270.0);
    /// ```
    #[must_use]
    pub fn bearing(self, hour_angle: Angle) -> Angle {
        let run = if self.clockwise() {
            hour_angle
        } else {
            -hour_angle
        };
        match self.top {
            Top::Noon => run,
            Top::Midnight => run + Angle::HALF_TURN,
        }
    }

    /// A point as drawn: x to the right and y *down*, in millimetres from the pole.
    #[must_use]
    pub fn drawn(self, p: Point) -> Point {
        let up = match self.top {
            Top::Noon => 1.0,
            Top::Midnight => -1.0,
        };
        let right = if self.clockwise() { up } else { -up };
        Point {
            x: right * p.y,
            y: -up * p.x,
        }
    }

    /// The point of the instrument that is drawn at a place: [`Orientation::drawn`] backwards.
    #[must_use]
    pub fn undrawn(self, drawn: Point) -> Point {
        let up = match self.top {
            Top::Noon => 1.0,
            Top::Midnight => -1.0,
        };
        let right = if self.clockwise() { up } else { -up };
        Point {
            x: -up * drawn.y,
            y: right * drawn.x,
        }
    }

    /// The direction of the lower edge: where a hanging rete falls.
    #[must_use]
    pub fn down(self) -> Point {
        self.undrawn(Point { x: 0.0, y: 1.0 })
    }
}
