use instrument::Point;
use sky::Angle;

use crate::contour::Contour;
use crate::piece::Piece;

/// One movement of the pen, in a square of side 1 about the origin, y down.
#[derive(Clone, Copy)]
pub(crate) enum Move {
    /// Lifted, and set down here.
    To(f64, f64),
    /// Straight on to here.
    Line(f64, f64),
    /// On along a cubic Bézier curve.
    Curve(f64, f64, f64, f64, f64, f64),
    /// A whole circle: centre and radius.
    Ring(f64, f64, f64),
}

use Move::{Curve, Line, Ring, To};

const ARIES: &[Move] = &[
    To(0.0, 0.48),
    Line(0.0, -0.06),
    Curve(0.0, -0.30, -0.08, -0.48, -0.24, -0.48),
    Curve(-0.36, -0.48, -0.44, -0.39, -0.44, -0.28),
    Curve(-0.44, -0.19, -0.39, -0.12, -0.31, -0.11),
    To(0.0, -0.06),
    Curve(0.0, -0.30, 0.08, -0.48, 0.24, -0.48),
    Curve(0.36, -0.48, 0.44, -0.39, 0.44, -0.28),
    Curve(0.44, -0.19, 0.39, -0.12, 0.31, -0.11),
];
const TAURUS: &[Move] = &[
    Ring(0.0, 0.17, 0.30),
    To(-0.42, -0.48),
    Curve(-0.36, -0.24, -0.20, -0.13, 0.0, -0.13),
    Curve(0.20, -0.13, 0.36, -0.24, 0.42, -0.48),
];
const GEMINI: &[Move] = &[
    To(-0.42, -0.48),
    Curve(-0.20, -0.37, 0.20, -0.37, 0.42, -0.48),
    To(-0.42, 0.48),
    Curve(-0.20, 0.37, 0.20, 0.37, 0.42, 0.48),
    To(-0.17, -0.41),
    Line(-0.17, 0.41),
    To(0.17, -0.41),
    Line(0.17, 0.41),
];
const CANCER: &[Move] = &[
    Ring(-0.28, -0.13, 0.15),
    To(-0.42, -0.18),
    Curve(-0.36, -0.38, -0.16, -0.45, 0.06, -0.42),
    Curve(0.24, -0.40, 0.38, -0.34, 0.46, -0.25),
    Ring(0.28, 0.13, 0.15),
    To(0.42, 0.18),
    Curve(0.36, 0.38, 0.16, 0.45, -0.06, 0.42),
    Curve(-0.24, 0.40, -0.38, 0.34, -0.46, 0.25),
];
const LEO: &[Move] = &[
    Ring(-0.27, 0.12, 0.15),
    To(-0.16, 0.02),
    Curve(-0.20, -0.10, -0.28, -0.18, -0.28, -0.29),
    Curve(-0.28, -0.42, -0.16, -0.49, -0.02, -0.49),
    Curve(0.14, -0.49, 0.26, -0.40, 0.26, -0.25),
    Curve(0.26, -0.06, 0.09, 0.10, 0.09, 0.30),
    Curve(0.09, 0.42, 0.16, 0.48, 0.25, 0.48),
    Curve(0.33, 0.48, 0.39, 0.43, 0.41, 0.36),
];
const VIRGO: &[Move] = &[
    To(-0.49, -0.38),
    Curve(-0.42, -0.46, -0.35, -0.42, -0.35, -0.30),
    Line(-0.35, 0.32),
    To(-0.35, -0.28),
    Curve(-0.31, -0.45, -0.13, -0.46, -0.13, -0.28),
    Line(-0.13, 0.32),
    To(-0.13, -0.28),
    Curve(-0.09, -0.45, 0.09, -0.46, 0.09, -0.28),
    Line(0.09, 0.20),
    Curve(0.09, 0.38, 0.20, 0.48, 0.38, 0.46),
    To(0.09, -0.14),
    Curve(0.17, -0.32, 0.41, -0.32, 0.41, -0.06),
    Curve(0.41, 0.16, 0.20, 0.34, -0.04, 0.47),
];
const LIBRA: &[Move] = &[
    To(-0.46, 0.40),
    Line(0.46, 0.40),
    To(-0.46, 0.17),
    Line(-0.14, 0.17),
    Curve(-0.24, 0.10, -0.29, 0.01, -0.29, -0.10),
    Curve(-0.29, -0.27, -0.16, -0.39, 0.0, -0.39),
    Curve(0.16, -0.39, 0.29, -0.27, 0.29, -0.10),
    Curve(0.29, 0.01, 0.24, 0.10, 0.14, 0.17),
    Line(0.46, 0.17),
];
const SCORPIO: &[Move] = &[
    To(-0.49, -0.38),
    Curve(-0.42, -0.46, -0.35, -0.42, -0.35, -0.30),
    Line(-0.35, 0.30),
    To(-0.35, -0.28),
    Curve(-0.31, -0.45, -0.12, -0.46, -0.12, -0.28),
    Line(-0.12, 0.30),
    To(-0.12, -0.28),
    Curve(-0.08, -0.45, 0.11, -0.46, 0.11, -0.28),
    Line(0.11, 0.18),
    Curve(0.11, 0.36, 0.24, 0.44, 0.46, 0.34),
    To(0.32, 0.24),
    Line(0.46, 0.34),
    Line(0.36, 0.48),
];
const SAGITTARIUS: &[Move] = &[
    To(-0.42, 0.44),
    Line(0.42, -0.42),
    To(0.12, -0.43),
    Line(0.42, -0.42),
    Line(0.43, -0.12),
    To(-0.32, 0.0),
    Line(0.02, 0.33),
];
const CAPRICORNUS: &[Move] = &[
    To(-0.48, -0.40),
    Curve(-0.36, -0.42, -0.33, -0.30, -0.31, -0.16),
    Line(-0.26, 0.22),
    Line(-0.19, -0.12),
    Curve(-0.15, -0.32, -0.08, -0.43, 0.02, -0.43),
    Curve(0.12, -0.43, 0.14, -0.30, 0.14, -0.12),
    Line(0.14, 0.20),
    Curve(0.14, 0.38, 0.06, 0.48, -0.08, 0.48),
    To(0.14, 0.20),
    Curve(0.14, 0.06, 0.21, -0.03, 0.31, -0.03),
    Curve(0.41, -0.03, 0.47, 0.05, 0.47, 0.14),
    Curve(0.47, 0.24, 0.40, 0.32, 0.31, 0.32),
    Curve(0.22, 0.32, 0.15, 0.27, 0.14, 0.20),
];
const AQUARIUS: &[Move] = &[
    To(-0.47, -0.04),
    Line(-0.27, -0.26),
    Line(-0.14, -0.06),
    Line(0.06, -0.26),
    Line(0.19, -0.06),
    Line(0.38, -0.26),
    Line(0.47, -0.12),
    To(-0.47, 0.30),
    Line(-0.27, 0.08),
    Line(-0.14, 0.28),
    Line(0.06, 0.08),
    Line(0.19, 0.28),
    Line(0.38, 0.08),
    Line(0.47, 0.22),
];
const PISCES: &[Move] = &[
    To(-0.36, -0.48),
    Curve(-0.09, -0.26, -0.09, 0.26, -0.36, 0.48),
    To(0.36, -0.48),
    Curve(0.09, -0.26, 0.09, 0.26, 0.36, 0.48),
    To(-0.40, 0.0),
    Line(0.40, 0.0),
];

const GLYPHS: [&[Move]; 12] = [
    ARIES,
    TAURUS,
    GEMINI,
    CANCER,
    LEO,
    VIRGO,
    LIBRA,
    SCORPIO,
    SAGITTARIUS,
    CAPRICORNUS,
    AQUARIUS,
    PISCES,
];

/// The drawn character of a sign (0 is Aries), as single strokes.
///
/// It stands upright in the direction `along`, which is clockwise from the
/// right, about a middle, all as drawn.
#[must_use]
pub fn sign_glyph(sign: usize, middle: Point, size_mm: f64, along: Angle) -> Vec<Contour> {
    strokes(
        GLYPHS.get(sign).copied().unwrap_or(&[]),
        middle,
        size_mm,
        along,
    )
}

/// Movements of the pen carried out about a middle.
pub(crate) fn strokes(moves: &[Move], middle: Point, size_mm: f64, along: Angle) -> Vec<Contour> {
    let at = |x: f64, y: f64| middle + Point { x, y }.turned(along) * size_mm;
    let mut contours = Vec::new();
    let mut pen: Option<(Point, Vec<Piece>)> = None;
    let lift = |pen: &mut Option<(Point, Vec<Piece>)>, contours: &mut Vec<Contour>| {
        if let Some((start, pieces)) = pen.take() {
            contours.push(Contour::open(start, pieces));
        }
    };
    for step in moves {
        match *step {
            To(x, y) => {
                lift(&mut pen, &mut contours);
                pen = Some((at(x, y), Vec::new()));
            }
            Line(x, y) => {
                if let Some((_, pieces)) = &mut pen {
                    pieces.push(Piece::Line { to: at(x, y) });
                }
            }
            Curve(a, b, c, d, x, y) => {
                if let Some((_, pieces)) = &mut pen {
                    pieces.push(Piece::Cubic {
                        first: at(a, b),
                        second: at(c, d),
                        to: at(x, y),
                    });
                }
            }
            Ring(x, y, radius) => contours.push(Contour::circle(at(x, y), radius * size_mm)),
        }
    }
    lift(&mut pen, &mut contours);
    contours
}
