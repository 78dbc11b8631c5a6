use drawing::{Baseline, Contour, Dash, Face, Lettering, lettered, text_width};
use instrument::{Letters, Point};
use sky::Angle;

use crate::plane::grid::{Ring, Seen};
use crate::plane::{area, strokes};

/// Marks stand so far from the edge of a film.
const INWARD_MM: f64 = 6.0;
const LINE_MM: f64 = 0.1;
/// Across a hole for a pin of register.
const HOLE_MM: f64 = 3.0;
const SCALE_MM: f64 = 50.0;

/// What brings both films of a sheet together, and what tells one from another. `reach` is
/// how far the film reaches to either side, upwards and downwards.
pub(super) fn marks(reach: (f64, f64, f64), is_back: bool, told: &str) -> Vec<Ring> {
    let (aside, top, bottom) = reach;
    let x = aside - INWARD_MM;
    let (top, bottom) = (top + INWARD_MM, bottom - INWARD_MM);
    let middle = f64::midpoint(top, bottom);
    let at = |x: f64, y: f64| Point { x, y };
    let sense = if is_back { -1.0 } else { 1.0 };
    let mut lines = Vec::new();
    for corner in [at(-x, top), at(x, top), at(-x, bottom), at(x, bottom)] {
        lines.extend(cross(corner, 4.0));
        lines.push(Contour::circle(corner, 2.0));
    }
    // Not at one height, so that films that are turned about do not fit.
    for hole in [at(-x * sense, middle - 10.0), at(x * sense, middle)] {
        lines.extend(cross(hole, 2.5));
        lines.push(Contour::circle(hole, HOLE_MM / 2.0));
    }
    let half = SCALE_MM / 2.0;
    lines.push(Contour::line(at(-half, bottom), at(half, bottom)));
    for end in [-half, half] {
        lines.push(Contour::line(at(end, bottom - 1.5), at(end, bottom + 1.5)));
    }
    let mut rings = Vec::new();
    for line in &lines {
        strokes::stroked(line, LINE_MM, Dash::Whole, Seen::FromAbove, &mut rings);
    }
    rings.extend(words(told, at(0.0, top), 2.0 * x - 14.0));
    rings.extend(words("50 mm", at(0.0, bottom + 3.0), SCALE_MM));
    rings
}

fn cross(at: Point, arm: f64) -> [Contour; 2] {
    let (along, across) = (Point { x: arm, y: 0.0 }, Point { x: 0.0, y: arm });
    [
        Contour::line(at - along, at + along),
        Contour::line(at - across, at + across),
    ]
}

/// A text about a middle, no broader than it may be.
fn words(text: &str, middle: Point, most_mm: f64) -> Vec<Ring> {
    const SIZE_MM: f64 = 3.0;
    let breadth = text_width(text, Face::Roman).max(1.0);
    let lettering = Lettering {
        text: text.to_owned(),
        size_mm: SIZE_MM.min(most_mm / breadth),
        face: Face::Roman,
        baseline: Baseline::Straight {
            middle,
            along: Angle::ZERO,
        },
        clears: false,
        line: None,
    };
    let edges = lettered(&lettering, Letters::Serif);
    let edges = edges.iter().filter_map(|contour| {
        let corners = crate::chords::chords(contour, strokes::SAGITTA_MM);
        crate::plane::grid::ring(corners, Seen::FromAbove)
    });
    area::filled(&edges.collect::<Vec<Ring>>())
}
