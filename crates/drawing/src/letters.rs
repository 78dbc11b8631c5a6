use std::collections::HashMap;
use std::sync::OnceLock;

use instrument::{Letters, Point};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};
use sky::Angle;

use crate::contour::{Contour, Piece};
use crate::hershey;
use crate::lettering::{Baseline, Face, Lettering};

/// Libertinus Serif, cut down to the Latin letters and signs.
pub const ROMAN_FONT: &[u8] = include_bytes!("../../../data/fonts/LibertinusSerif-Regular.otf");
/// Its italic.
pub const ITALIC_FONT: &[u8] = include_bytes!("../../../data/fonts/LibertinusSerif-Italic.otf");

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

fn single(lettering: &Lettering) -> Vec<Contour> {
    let glyphs: Vec<hershey::Glyph> = lettering.text.chars().filter_map(hershey::glyph).collect();
    let scale = lettering.height_mm() / hershey::CAPITAL;
    // They run wider than the serif letters for which room was found, and are condensed.
    let natural: f64 = glyphs.iter().map(|glyph| glyph.width * scale).sum();
    let narrow = (lettering.length_mm() / natural).min(1.0);
    let widths: Vec<f64> = glyphs
        .iter()
        .map(|glyph| glyph.width * scale * narrow)
        .collect();
    let mut contours = Vec::new();
    for (glyph, spot) in glyphs.iter().zip(spots(lettering, &widths)) {
        let place = |p: &Point| {
            let letter = Point {
                x: p.x * narrow,
                y: p.y,
            };
            spot.origin + (letter * scale).turned(spot.along)
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

/// A letter of the font, for a type of size 1: y down from the baseline.
#[derive(Clone, Debug, Default)]
pub(crate) struct Glyph {
    pub(crate) advance: f64,
    /// How far it reaches above and below the baseline.
    pub(crate) above: f64,
    pub(crate) below: f64,
    pub(crate) outline: Vec<Contour>,
}

/// The letters of a face, read once.
fn glyphs(face: Face) -> &'static HashMap<char, Glyph> {
    static FACES: OnceLock<[HashMap<char, Glyph>; 2]> = OnceLock::new();
    let [roman, italic] = FACES.get_or_init(|| [ROMAN_FONT, ITALIC_FONT].map(read));
    match face {
        Face::Roman => roman,
        Face::Italic => italic,
    }
}

/// The letter of a character; `None` where the face has none.
pub(crate) fn glyph(character: char, face: Face) -> Option<&'static Glyph> {
    glyphs(face).get(&character)
}

/// The width of a text in a face, as a part of the size of the type.
#[must_use]
pub fn text_width(text: &str, face: Face) -> f64 {
    let known = text.chars().filter_map(|character| glyph(character, face));
    known.map(|glyph| glyph.advance).sum()
}

fn read(bytes: &'static [u8]) -> HashMap<char, Glyph> {
    let Ok(font) = FontRef::new(bytes) else {
        return HashMap::new();
    };
    let (size, location) = (Size::unscaled(), LocationRef::default());
    let units = f64::from(font.metrics(size, location).units_per_em);
    let (metrics, outlines) = (font.glyph_metrics(size, location), font.outline_glyphs());
    let letter = |(code, id): (u32, GlyphId)| {
        let mut pen = OutlineOf {
            scale: 1.0 / units,
            current: None,
            done: Vec::new(),
        };
        // A space has no outline.
        if let Some(outline) = outlines.get(id) {
            outline
                .draw(DrawSettings::unhinted(size, location), &mut pen)
                .ok()?;
            pen.lift();
        }
        let bounds = || pen.done.iter().map(Contour::bounds);
        let glyph = Glyph {
            advance: f64::from(metrics.advance_width(id)?) / units,
            above: -bounds().map(|(low, _)| low.y).fold(0.0, f64::min),
            below: bounds().map(|(_, high)| high.y).fold(0.0, f64::max),
            outline: pen.done,
        };
        Some((char::from_u32(code)?, glyph))
    };
    font.charmap().mappings().filter_map(letter).collect()
}

fn serif(lettering: &Lettering) -> Vec<Contour> {
    let scale = lettering.size_mm;
    placed(lettering)
        .into_iter()
        .flat_map(|(_, glyph, spot)| {
            glyph.outline.iter().map(move |contour| {
                contour.mapped(1.0, |p| spot.origin + (p * scale).turned(spot.along))
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

/// Takes a glyph's outline, y up in units of the font.
struct OutlineOf {
    scale: f64,
    current: Option<(Point, Vec<Piece>)>,
    done: Vec<Contour>,
}

impl OutlineOf {
    fn place(&self, x: f32, y: f32) -> Point {
        Point {
            x: f64::from(x) * self.scale,
            y: -f64::from(y) * self.scale,
        }
    }

    fn at(&self) -> Point {
        let at = |(start, pieces): &(Point, Vec<Piece>)| pieces.last().map_or(*start, Piece::end);
        self.current.as_ref().map_or(Point::POLE, at)
    }

    fn push(&mut self, piece: Piece) {
        if let Some((_, pieces)) = &mut self.current {
            pieces.push(piece);
        }
    }

    fn lift(&mut self) {
        if let Some((start, pieces)) = self.current.take()
            && !pieces.is_empty()
        {
            self.done.push(Contour::closed(start, pieces));
        }
    }
}

impl OutlinePen for OutlineOf {
    fn move_to(&mut self, x: f32, y: f32) {
        self.lift();
        self.current = Some((self.place(x, y), Vec::new()));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let to = self.place(x, y);
        self.push(Piece::Line { to });
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        let (from, control, to) = (self.at(), self.place(cx, cy), self.place(x, y));
        self.push(Piece::Cubic {
            first: from + (control - from) * (2.0 / 3.0),
            second: to + (control - to) * (2.0 / 3.0),
            to,
        });
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let piece = Piece::Cubic {
            first: self.place(ax, ay),
            second: self.place(bx, by),
            to: self.place(x, y),
        };
        self.push(piece);
    }

    fn close(&mut self) {
        self.lift();
    }
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
