use instrument::{Back, LineId, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::lettering::{Baseline, Lettering};
use crate::limb::{is_multiple, radial};
use crate::pen::Pen;
use crate::scene::Weight;
use crate::thinning::Thinning;

/// Steps between strokes, finest first, and the shadow to which one that has room is kept.
const STEPS: [f64; 7] = [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0];

/// No longer shadow has a stroke.
const LONGEST: f64 = 200.0;

/// Shadows that are numbered, where they have strokes.
const NUMBERED: [u8; 13] = [1, 2, 3, 4, 5, 6, 9, 12, 15, 20, 30, 50, 100];

/// The scale of cotangents round the lower half of the field: twelve digits on the right,
/// seven feet on the left.
pub(crate) fn engrave(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let (outer, inner) = (back.bands.field, back.bands.shadow);
    let at = |part: f64| outer - (outer - inner) * part;
    let round = Contour::arc(Point::POLE, inner, Angle::QUARTER_TURN, Angle::HALF_TURN);
    pen.line(LineId::Cotangents, Weight::Fine, &[round]);
    let (mut hair, mut fine) = (Vec::new(), Vec::new());
    for right in [true, false] {
        for shadow in strokes(back, right, inner, m.gap) {
            let bearing = back.cotangent(shadow, right);
            let numbered = NUMBERED
                .iter()
                .any(|n| (f64::from(*n) - shadow).abs() < 1e-9);
            if numbered {
                fine.push(radial(bearing, at(0.0), at(0.36)));
            } else if is_multiple(shadow, 1.0) {
                hair.push(radial(bearing, at(0.0), at(0.26)));
            } else {
                hair.push(radial(bearing, at(0.0), at(0.18)));
            }
        }
    }
    pen.scale(LineId::Cotangents, Weight::Hair, &hair);
    pen.scale(LineId::Cotangents, Weight::Fine, &fine);
    numbers(pen, back);
}

/// The shadows that have strokes: from 0 on by the finest step that keeps the gap, then by
/// coarser ones.
fn strokes(back: &Back, right: bool, radius: f64, gap: f64) -> Vec<f64> {
    let bearing = |shadow: f64| back.cotangent(shadow, right);
    let apart = |one: f64, other: f64| bearing(one).to(bearing(other)).abs().rad() * radius;
    let level = if right { 1.0 } else { 3.0 } * 90.0;
    let mut all = Vec::new();
    let mut shadow = 0.0;
    // Beside the axes no stroke is closer to them than to another.
    while shadow < LONGEST {
        let next = STEPS.iter().find_map(|step| {
            let next = (shadow / step + 1.0 + 1e-9).floor() * step;
            let reached = apart(shadow, next) >= gap && apart(next, next + step) >= gap;
            reached.then_some(next)
        });
        let Some(next) = next else { break };
        if bearing(next).to(Angle::from_deg(level)).abs().rad() * radius < gap {
            break;
        }
        all.push(next);
        shadow = next;
    }
    all
}

fn numbers(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let (outer, inner) = (back.bands.field, back.bands.shadow);
    let Some(size) = m.type_for((outer - inner) * 0.42, 0.9) else {
        pen.unlettered("numbers of the scale of cotangents");
        return;
    };
    for right in [true, false] {
        let lettered = strokes(back, right, inner, m.gap);
        for shadow in NUMBERED {
            if !lettered
                .iter()
                .any(|one| (one - f64::from(shadow)).abs() < 1e-9)
            {
                continue;
            }
            let bearing = back.cotangent(f64::from(shadow), right);
            let middle = Point::polar(outer - (outer - inner) * 0.67, bearing);
            let ways: Vec<Lettering> = m
                .smaller(size)
                .map(|size_mm| Lettering {
                    text: shadow.to_string(),
                    size_mm,
                    face: Face::Italic,
                    baseline: pen.round(Point::POLE, middle),
                    clears: false,
                    line: Some(LineId::Cotangents),
                })
                .collect();
            if !pen.letter_first(ways) {
                pen.thins([Thinning::crowded("some numbers of the scale of cotangents")]);
            }
        }
    }
    for (text, deg) in [("digiti", 156.0), ("pedes", 204.0)] {
        let middle = |out: f64| Point::polar(inner * out, Angle::from_deg(deg));
        let ways: Vec<Lettering> = m
            .smaller(size)
            .flat_map(|size| [0.91, 0.88, 0.94].map(|out| (size, out)))
            .map(|(size_mm, out)| Lettering {
                text: text.to_owned(),
                size_mm,
                face: Face::Italic,
                // The right way up below the centre.
                baseline: Baseline::upright(
                    pen.drawn(middle(out)),
                    pen.direction(middle(out)) + Angle::QUARTER_TURN,
                ),
                clears: false,
                line: None,
            })
            .collect();
        if !pen.letter_first(ways) {
            pen.crowded("words of the scale of cotangents");
        }
    }
}
