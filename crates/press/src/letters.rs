use std::sync::OnceLock;

use drawing::{Baseline, Contour, Face, Lettering, Piece};
use instrument::{Letters, Point};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};
use sky::Angle;

use crate::hershey;

/// Libertinus Serif, cut down to the Latin letters and signs.
pub(crate) const ROMAN: &[u8] = include_bytes!("../../../data/fonts/LibertinusSerif-Regular.otf");
/// Its italic.
pub(crate) const ITALIC: &[u8] = include_bytes!("../../../data/fonts/LibertinusSerif-Italic.otf");

/// Where a letter is put: its origin on the baseline, and the direction of the baseline.
#[derive(Clone, Copy)]
struct Spot {
    origin: Point,
    along: Angle,
}

/// The letters of a lettering as edges: outlines to be filled, or single strokes.
pub(crate) fn lettered(lettering: &Lettering, letters: Letters) -> Vec<Contour> {
    match letters {
        Letters::Serif => serif(lettering),
        Letters::SingleStroke => single(lettering),
    }
}

fn single(lettering: &Lettering) -> Vec<Contour> {
    let glyphs: Vec<hershey::Glyph> = lettering.text.chars().map(hershey::glyph).collect();
    let scale = lettering.height_mm() / hershey::CAPITAL;
    let widths: Vec<f64> = glyphs.iter().map(|glyph| glyph.width * scale).collect();
    let mut contours = Vec::new();
    for (glyph, spot) in glyphs.iter().zip(spots(lettering, &widths)) {
        let place = |p: &Point| spot.origin + (*p * scale).turned(spot.along);
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

/// A face, read once.
struct Loaded {
    font: FontRef<'static>,
    units: f64,
}

fn loaded(face: Face) -> Option<&'static Loaded> {
    static FACES: OnceLock<[Option<Loaded>; 2]> = OnceLock::new();
    let [roman, italic] = FACES.get_or_init(|| {
        [ROMAN, ITALIC].map(|bytes| {
            let font = FontRef::new(bytes).ok()?;
            let metrics = font.metrics(Size::unscaled(), LocationRef::default());
            Some(Loaded {
                units: f64::from(metrics.units_per_em),
                font,
            })
        })
    });
    match face {
        Face::Roman => roman.as_ref(),
        Face::Italic => italic.as_ref(),
    }
}

/// The width of a text in a face, as a part of the size of the type.
#[cfg(feature = "documents")]
pub(crate) fn text_width(text: &str, face: Face) -> f64 {
    loaded(face).map_or(0.0, |loaded| {
        let size: f64 = text.chars().map(|c| loaded.advance(c).1).sum();
        size / loaded.units
    })
}

impl Loaded {
    fn advance(&self, character: char) -> (GlyphId, f64) {
        let glyph = self.font.charmap().map(character).unwrap_or_default();
        let metrics = self
            .font
            .glyph_metrics(Size::unscaled(), LocationRef::default());
        let advance = metrics.advance_width(glyph).unwrap_or(0.0);
        (glyph, f64::from(advance))
    }
}

fn serif(lettering: &Lettering) -> Vec<Contour> {
    let Some(loaded) = loaded(lettering.face) else {
        return Vec::new();
    };
    let scale = lettering.size_mm / loaded.units;
    let glyphs: Vec<(GlyphId, f64)> = lettering
        .text
        .chars()
        .map(|character| loaded.advance(character))
        .collect();
    let widths: Vec<f64> = glyphs.iter().map(|(_, advance)| advance * scale).collect();
    let outlines = loaded.font.outline_glyphs();
    let mut contours = Vec::new();
    for ((glyph, _), spot) in glyphs.iter().zip(spots(lettering, &widths)) {
        let Some(outline) = outlines.get(*glyph) else {
            continue;
        };
        let mut pen = OutlineOf {
            spot,
            scale,
            current: None,
            done: Vec::new(),
        };
        let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        if outline.draw(settings, &mut pen).is_ok() {
            pen.lift();
            contours.extend(pen.done);
        }
    }
    contours
}

/// Takes a glyph's outline, y up in units of the font, and puts it in its place.
struct OutlineOf {
    spot: Spot,
    scale: f64,
    current: Option<(Point, Vec<Piece>)>,
    done: Vec<Contour>,
}

impl OutlineOf {
    fn place(&self, x: f32, y: f32) -> Point {
        let p = Point {
            x: f64::from(x) * self.scale,
            y: -f64::from(y) * self.scale,
        };
        self.spot.origin + p.turned(self.spot.along)
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
