use sky::Angle;

use crate::circline::Circline;
use crate::point::Point;

/// The number of an unequal-hour line: 0 on the western horizon, 6 on the
/// midnight line, 12 on the eastern horizon.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnequalHour(u8);

impl UnequalHour {
    /// The line with this number; `None` above 12.
    #[must_use]
    pub const fn new(number: u8) -> Option<UnequalHour> {
        if number <= 12 {
            Some(UnequalHour(number))
        } else {
            None
        }
    }

    /// Every line that is engraved: 1 to 11, between the two ends of the horizon.
    pub fn engraved() -> impl Iterator<Item = UnequalHour> {
        (1..=11).map(UnequalHour)
    }

    /// Its number.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// The part of the night arc that lies behind it.
    #[must_use]
    pub fn part_of_night(self) -> f64 {
        f64::from(self.0) / 12.0
    }
}

/// The night arcs of a plate: what its horizon leaves below of every circle
/// round the pole. The true unequal-hour lines divide each of them in twelve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NightArcs {
    horizon: Circline,
    /// The middle of every night arc. On a circle about the pole the horizon's value
    /// is a mean and a wave, which is highest there.
    midnight: Angle,
    /// The height of the wave for each millimetre of the circle's radius.
    slope: f64,
}

/// One circle's night arc, as directions from the pole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NightArc {
    /// Where the circle leaves the upper side, in the west.
    pub west: Angle,
    /// From there to the eastern horizon, by way of the midnight line.
    pub length: Angle,
}

impl NightArc {
    /// The direction of a division of the arc: 0 is the western horizon, 1 the eastern.
    #[must_use]
    pub fn at(&self, part: f64) -> Angle {
        self.west + self.length * part
    }

    /// Where a direction divides the arc: from 0 in the west to 1 in the east
    /// while it lies below the horizon.
    #[must_use]
    pub fn part(&self, direction: Angle) -> f64 {
        let middle = self.at(0.5);
        0.5 + middle.to(direction) / self.length
    }
}

impl NightArcs {
    /// Of a horizon whose value is negative above.
    #[must_use]
    pub(crate) fn of(horizon: Circline) -> NightArcs {
        let at_pole = horizon.gradient(Point::POLE);
        NightArcs {
            horizon,
            midnight: at_pole.direction(),
            slope: at_pole.radius(),
        }
    }

    /// The radii in millimetres between which circles about the pole have a night
    /// and a day; a hair within, for at the ends themselves the one or the other is nothing.
    #[must_use]
    pub fn radii(&self) -> (f64, f64) {
        const WITHIN: f64 = 1e-12;
        let (nearest, farthest) = match (self.horizon.as_circle(), self.horizon.as_straight()) {
            (Some((centre, radius)), _) => {
                let apart = centre.radius();
                ((radius - apart).abs(), radius + apart)
            }
            (None, Some((foot, _))) => (foot.radius(), f64::INFINITY),
            (None, None) => (0.0, f64::INFINITY),
        };
        (nearest * (1.0 + WITHIN), farthest * (1.0 - WITHIN))
    }

    /// The horizon that leaves them below.
    pub(crate) fn horizon(&self) -> &Circline {
        &self.horizon
    }

    /// The night arc of the circle with this radius about the pole; `None` when
    /// the circle does not cross the horizon.
    #[must_use]
    pub fn at_radius(&self, radius_mm: f64) -> Option<NightArc> {
        let mean = self.horizon.mean_at_radius(radius_mm);
        let wave = self.slope * radius_mm;
        if mean.abs() >= wave {
            return None;
        }
        let half = Angle::acos(-mean / wave);
        let midnight = self.midnight;
        Some(NightArc {
            west: midnight - half,
            length: half * 2.0,
        })
    }
}
