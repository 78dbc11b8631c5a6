use instrument::Point;
use sky::{Angle, Body};

use crate::contour::Contour;
use crate::sign_glyph::{
    Move::{self, Curve, Line, Ring, To},
    strokes,
};

/// What a figure shows besides the signs and houses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FigurePoint {
    /// The Sun, the Moon or a planet.
    Body(Body),
    /// The Moon's ascending node.
    NorthNode,
    /// The Moon's descending node.
    SouthNode,
    /// The lot of Fortune.
    Fortune,
}

impl FigurePoint {
    /// Its name in words.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            FigurePoint::Body(body) => body.name(),
            FigurePoint::NorthNode => "north node",
            FigurePoint::SouthNode => "south node",
            FigurePoint::Fortune => "Fortune",
        }
    }
}

const SUN: &[Move] = &[Ring(0.0, 0.0, 0.42), Ring(0.0, 0.0, 0.035)];
const MOON: &[Move] = &[
    To(-0.22, -0.46),
    Curve(0.14, -0.48, 0.42, -0.28, 0.42, 0.0),
    Curve(0.42, 0.28, 0.14, 0.48, -0.22, 0.46),
    Curve(0.02, 0.34, 0.14, 0.18, 0.14, 0.0),
    Curve(0.14, -0.18, 0.02, -0.34, -0.22, -0.46),
];
const MERCURY: &[Move] = &[
    Ring(0.0, -0.06, 0.21),
    To(0.0, 0.15),
    Line(0.0, 0.49),
    To(-0.17, 0.32),
    Line(0.17, 0.32),
    To(-0.23, -0.49),
    Curve(-0.21, -0.34, -0.11, -0.27, 0.0, -0.27),
    Curve(0.11, -0.27, 0.21, -0.34, 0.23, -0.49),
];
const VENUS: &[Move] = &[
    Ring(0.0, -0.21, 0.27),
    To(0.0, 0.06),
    Line(0.0, 0.49),
    To(-0.20, 0.28),
    Line(0.20, 0.28),
];
const MARS: &[Move] = &[
    Ring(-0.12, 0.15, 0.30),
    To(0.10, -0.07),
    Line(0.44, -0.43),
    To(0.17, -0.45),
    Line(0.45, -0.45),
    Line(0.45, -0.16),
];
const JUPITER: &[Move] = &[
    To(-0.36, -0.30),
    Curve(-0.32, -0.46, -0.20, -0.49, -0.12, -0.45),
    Curve(-0.01, -0.40, 0.01, -0.24, -0.07, -0.08),
    Curve(-0.14, 0.05, -0.26, 0.15, -0.40, 0.21),
    Line(0.42, 0.21),
    To(0.20, -0.14),
    Line(0.20, 0.49),
];
const SATURN: &[Move] = &[
    To(-0.16, -0.49),
    Line(-0.16, 0.26),
    To(-0.36, -0.33),
    Line(0.06, -0.33),
    To(-0.16, 0.02),
    Curve(-0.08, -0.18, 0.26, -0.22, 0.27, 0.03),
    Curve(0.27, 0.20, 0.10, 0.24, 0.10, 0.38),
    Curve(0.10, 0.50, 0.25, 0.51, 0.33, 0.41),
];
const URANUS: &[Move] = &[
    To(-0.34, -0.47),
    Line(-0.34, 0.13),
    To(0.34, -0.47),
    Line(0.34, 0.13),
    To(-0.34, -0.17),
    Line(0.34, -0.17),
    To(0.0, -0.47),
    Line(0.0, 0.22),
    Ring(0.0, 0.35, 0.13),
];
const NEPTUNE: &[Move] = &[
    To(-0.38, -0.42),
    Curve(-0.38, 0.00, -0.20, 0.10, 0.0, 0.10),
    Curve(0.20, 0.10, 0.38, 0.00, 0.38, -0.42),
    To(0.0, -0.48),
    Line(0.0, 0.49),
    To(-0.18, 0.31),
    Line(0.18, 0.31),
];
const PLUTO: &[Move] = &[
    To(-0.22, -0.47),
    Line(-0.22, 0.47),
    Line(0.28, 0.47),
    To(-0.22, -0.47),
    Line(0.04, -0.47),
    Curve(0.34, -0.47, 0.34, 0.02, 0.04, 0.02),
    Line(-0.22, 0.02),
];
const NORTH_NODE: &[Move] = &[
    Ring(-0.29, 0.33, 0.13),
    Ring(0.29, 0.33, 0.13),
    To(-0.22, 0.22),
    Curve(-0.52, -0.14, -0.36, -0.48, 0.0, -0.48),
    Curve(0.36, -0.48, 0.52, -0.14, 0.22, 0.22),
];
const SOUTH_NODE: &[Move] = &[
    Ring(-0.29, -0.33, 0.13),
    Ring(0.29, -0.33, 0.13),
    To(-0.22, -0.22),
    Curve(-0.52, 0.14, -0.36, 0.48, 0.0, 0.48),
    Curve(0.36, 0.48, 0.52, 0.14, 0.22, -0.22),
];
const FORTUNE: &[Move] = &[
    Ring(0.0, 0.0, 0.42),
    To(-0.297, -0.297),
    Line(0.297, 0.297),
    To(0.297, -0.297),
    Line(-0.297, 0.297),
];

/// The drawn character of a planet, a node or the lot of Fortune, as single
/// strokes, upright about a middle.
#[must_use]
pub fn planet_glyph(mark: FigurePoint, middle: Point, size_mm: f64) -> Vec<Contour> {
    planet_glyph_along(mark, middle, size_mm, Angle::ZERO)
}

/// The same upright in a direction, clockwise from the right.
pub(crate) fn planet_glyph_along(
    mark: FigurePoint,
    middle: Point,
    size_mm: f64,
    along: Angle,
) -> Vec<Contour> {
    let moves = match mark {
        FigurePoint::Body(Body::Sun) => SUN,
        FigurePoint::Body(Body::Moon) => MOON,
        FigurePoint::Body(Body::Mercury) => MERCURY,
        FigurePoint::Body(Body::Venus) => VENUS,
        FigurePoint::Body(Body::Mars) => MARS,
        FigurePoint::Body(Body::Jupiter) => JUPITER,
        FigurePoint::Body(Body::Saturn) => SATURN,
        FigurePoint::Body(Body::Uranus) => URANUS,
        FigurePoint::Body(Body::Neptune) => NEPTUNE,
        FigurePoint::Body(Body::Pluto) => PLUTO,
        FigurePoint::NorthNode => NORTH_NODE,
        FigurePoint::SouthNode => SOUTH_NODE,
        FigurePoint::Fortune => FORTUNE,
    };
    strokes(moves, middle, size_mm, along)
}
