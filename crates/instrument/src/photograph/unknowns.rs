use nalgebra::DVector;

use super::adjust::{Expected, STEP};

/// What is sought in a picture, all at once. Lengths are in radii of the plate's equator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unknown {
    /// The camera's focal length: the logarithm of its part of the picture's breadth.
    Focal,
    /// Where the axis meets the picture, off its middle, in parts of its breadth.
    AxisRight,
    /// The same, down.
    AxisDown,
    /// How the camera is turned beside where it was begun with, about its three axes.
    TurnRight,
    /// The same.
    TurnDown,
    /// The same.
    TurnAxis,
    /// Where the limb's middle lies before it, in parts of the distance.
    BeforeRight,
    /// The same, down.
    BeforeDown,
    /// The logarithm of its distance.
    Distance,
    /// The term of radial distortion.
    Distortion,
    /// The outer circle of the limb's graduation.
    LimbRadius,
    /// The depth of the plate's face beneath the limb's.
    PlateDepth,
    /// The depth of the rete's face.
    ReteDepth,
    /// Where the hole lies, off the limb's middle, as drawn to the right.
    HoleRight,
    /// The same, down.
    HoleDown,
    /// The hole's radius.
    HoleRadius,
    /// Where the plate's circles lie, off the hole: towards noon.
    PlateNoon,
    /// The same, towards the west.
    PlateWest,
    /// How far the plate is turned in its notch.
    PlateTurn,
    /// The latitude of the plate, in degrees.
    Latitude,
    /// The obliquity of the plate's tropics, in degrees.
    PlateObliquity,
    /// How much larger the rete is drawn than the plate, in parts.
    ReteScale,
    /// Where the rete's stars and ring lie, off the hole, in the rete's own frame.
    ReteAries,
    /// The same, across.
    ReteAcross,
    /// How the rete is turned, in degrees: the hour angle of 0° Aries, beside the beginning's.
    ReteTurn,
    /// The obliquity of the ecliptic ring, in degrees.
    RingObliquity,
    /// How far the ring is out of place beside the stars, towards 0° Capricorn.
    RingOff,
    /// The year of the stars.
    Year,
    /// Where the rule stands, in degrees: its hour angle, beside the beginning's.
    RuleTurn,
    /// The depth of the rule's edge; nearer than the limb's face it is negative.
    RuleDepth,
    /// How far from the hole the almuri's tip was marked, in parts of the limb's radius.
    AlmuriRadius,
    /// The same of the rule's edge.
    RuleRadius,
}

impl Unknown {
    /// All, in the order of their numbers.
    pub(super) const ALL: [Unknown; 32] = [
        Unknown::Focal,
        Unknown::AxisRight,
        Unknown::AxisDown,
        Unknown::TurnRight,
        Unknown::TurnDown,
        Unknown::TurnAxis,
        Unknown::BeforeRight,
        Unknown::BeforeDown,
        Unknown::Distance,
        Unknown::Distortion,
        Unknown::LimbRadius,
        Unknown::PlateDepth,
        Unknown::ReteDepth,
        Unknown::HoleRight,
        Unknown::HoleDown,
        Unknown::HoleRadius,
        Unknown::PlateNoon,
        Unknown::PlateWest,
        Unknown::PlateTurn,
        Unknown::Latitude,
        Unknown::PlateObliquity,
        Unknown::ReteScale,
        Unknown::ReteAries,
        Unknown::ReteAcross,
        Unknown::ReteTurn,
        Unknown::RingObliquity,
        Unknown::RingOff,
        Unknown::Year,
        Unknown::RuleTurn,
        Unknown::RuleDepth,
        Unknown::AlmuriRadius,
        Unknown::RuleRadius,
    ];

    /// What is expected of it before the picture says anything: how instruments are made and
    /// pictures taken (common practice), each within bounds so wide that a picture which says
    /// something of it overrules them.
    pub(super) fn expected(self) -> Expected {
        let (at, within) = match self {
            // From a wide lens to a long one.
            Unknown::Focal => (1.3_f64.ln(), 0.5),
            Unknown::AxisRight | Unknown::AxisDown => (0.0, 0.02),
            Unknown::TurnRight | Unknown::TurnDown | Unknown::TurnAxis => (0.0, 3.0),
            Unknown::BeforeRight | Unknown::BeforeDown => (0.0, 3.0),
            Unknown::Distance => (6.0_f64.ln(), 3.0),
            Unknown::Distortion => (0.0, 0.1),
            Unknown::LimbRadius => (1.7, 0.3),
            Unknown::PlateDepth => (0.025, 0.02),
            Unknown::ReteDepth => (0.01, 0.02),
            Unknown::HoleRight | Unknown::HoleDown => (0.0, 0.02),
            Unknown::HoleRadius => (0.05, 0.04),
            Unknown::PlateNoon | Unknown::PlateWest => (0.0, 0.02),
            Unknown::PlateTurn => (0.0, 2.0),
            Unknown::Latitude => (40.0, 60.0),
            Unknown::PlateObliquity | Unknown::RingObliquity => (23.6, 0.5),
            Unknown::ReteScale => (0.0, 0.005),
            Unknown::ReteAries | Unknown::ReteAcross => (0.0, 0.01),
            Unknown::ReteTurn | Unknown::RuleTurn => (0.0, 720.0),
            Unknown::RingOff => (0.0, 0.01),
            Unknown::Year => (1500.0, 1000.0),
            Unknown::RuleDepth => (-0.02, 0.02),
            Unknown::AlmuriRadius | Unknown::RuleRadius => (1.0, 0.3),
        };
        Expected { at, within }
    }

    /// How much it is moved to see what that changes.
    pub(super) fn step(self) -> f64 {
        STEP * self.expected().within
    }

    /// Its number.
    pub(super) fn index(self) -> usize {
        self as usize
    }
}

/// A value of one of the unknowns; nothing that is none.
pub(super) fn value(at: &DVector<f64>, of: Unknown) -> f64 {
    at.get(of.index()).copied().unwrap_or(f64::NAN)
}

/// With one of them set.
pub(super) fn set(at: &mut DVector<f64>, of: Unknown, value: f64) {
    if let Some(cell) = at.get_mut(of.index()) {
        *cell = value;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_has_its_own_number() {
        for (number, one) in Unknown::ALL.into_iter().enumerate() {
            assert_eq!(one.index(), number, "{one:?}");
        }
    }
}
