use instrument::{Letters, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::glyphs::{Glyph, glyph, glyphs, text_width};
use crate::hershey;
use crate::lettering::{Baseline, CAPITAL, Lettering, width};
use crate::piece::Piece;

/// Where a letter is put: its origin on the baseline, and the direction of the baseline.
#[derive(Clone, Copy)]
pub(crate) struct Spot {
    pub(crate) origin: Point,
    pub(crate) along: Angle,
}

/// The letters of a lettering as edges: outlines to be filled, or single strokes. What
/// the font has not is left out; [`lacking`] finds it.
#[must_use]
pub fn lettered(lettering: &Lettering, letters: Letters) -> Vec<Contour> {
    match letters {
        Letters::Serif => serif(lettering),
        Letters::SingleStroke => single(lettering),
    }
}

/// The first letter of a text that is not in the font with which it is engraved.
#[must_use]
pub fn lacking(text: &str, face: Face, letters: Letters) -> Option<char> {
    text.chars().find(|character| match letters {
        Letters::Serif => !glyphs(face).contains_key(character),
        Letters::SingleStroke => hershey::glyph(*character).is_none(),
    })
}

/// How long a text is when it is lettered, as a part of the size of its type.
pub(crate) fn lettered_width(text: &str, face: Face, letters: Letters) -> f64 {
    match letters {
        Letters::Serif => text_width(text, face),
        Letters::SingleStroke => stroked_width(text).min(width(text)),
    }
}

/// How long a text in single strokes is before it is condensed, as a part of its size.
fn stroked_width(text: &str) -> f64 {
    let glyphs = text.chars().filter_map(hershey::glyph);
    glyphs.map(|glyph| glyph.width).sum::<f64>() * CAPITAL / hershey::CAPITAL
}

fn single(lettering: &Lettering) -> Vec<Contour> {
    let glyphs: Vec<hershey::Glyph> = lettering.text.chars().filter_map(hershey::glyph).collect();
    let scale = lettering.height_mm() / hershey::CAPITAL;
    // They run wider than the serif letters for which room was found, and are condensed.
    let narrow = (width(&lettering.text) / stroked_width(&lettering.text)).min(1.0);
    let widths: Vec<f64> = glyphs
        .iter()
        .map(|glyph| glyph.width * scale * narrow)
        .collect();
    let mut contours = Vec::new();
    for (glyph, spot) in glyphs.iter().zip(spots(lettering, &widths)) {
        let along = Point::polar(1.0, spot.along);
        let place = |p: &Point| {
            let letter = Point {
                x: p.x * narrow,
                y: p.y,
            };
            spot.origin + (letter * scale).turned_onto(along)
        };
        for stroke in &glyph.strokes {
            let mut points = stroke.iter().map(place);
            if let Some(start) = points.next() {
                contours.push(Contour::open(
                    start,
                    points.map(|to| Piece::Line { to }).collect(),
                ));
            }
        }
    }
    contours
}

fn serif(lettering: &Lettering) -> Vec<Contour> {
    let scale = lettering.size_mm;
    placed(lettering)
        .into_iter()
        .flat_map(|(_, glyph, spot)| {
            let along = Point::polar(1.0, spot.along);
            glyph.outline.iter().map(move |contour| {
                contour.mapped(1.0, |p| spot.origin + (p * scale).turned_onto(along))
            })
        })
        .collect()
}

/// The letters of a lettering and where they stand.
pub(crate) fn placed(lettering: &Lettering) -> Vec<(char, &'static Glyph, Spot)> {
    let known = |character: char| Some((character, glyph(character, lettering.face)?));
    let letters: Vec<(char, &'static Glyph)> = lettering.text.chars().filter_map(known).collect();
    let widths: Vec<f64> = letters
        .iter()
        .map(|(_, glyph)| glyph.advance * lettering.size_mm)
        .collect();
    letters
        .into_iter()
        .zip(spots(lettering, &widths))
        .map(|((character, glyph), spot)| (character, glyph, spot))
        .collect()
}

/// Where letters of some widths stand on the baseline of a lettering.
fn spots(lettering: &Lettering, widths: &[f64]) -> Vec<Spot> {
    let whole: f64 = widths.iter().sum();
    let drop = lettering.height_mm() / 2.0;
    let mut gone = 0.0;
    widths
        .iter()
        .map(|width| {
            let (begins, middle) = (gone - whole / 2.0, gone + width / 2.0 - whole / 2.0);
            gone += width;
            match lettering.baseline {
                Baseline::Straight { middle, along } => Spot {
                    origin: middle
                        + Point::polar(begins, along)
                        + Point::polar(drop, along + Angle::QUARTER_TURN),
                    along,
                },
                Baseline::Arc {
                    centre,
                    radius_mm,
                    middle: direction,
                    outward,
                } => {
                    let side = if outward { 1.0 } else { -1.0 };
                    // Each letter stands upright over the middle of its own width.
                    let there = direction + Angle::from_rad(middle / radius_mm) * side;
                    let along = there + Angle::QUARTER_TURN * side;
                    let radius = radius_mm - drop * side;
                    Spot {
                        origin: centre
                            + Point::polar(radius, there)
                            + Point::polar(-width / 2.0, along),
                        along,
                    }
                }
            }
        })
        .collect()
}
