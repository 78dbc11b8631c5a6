//! The fonts, and the letters of them as outlines.

use std::collections::HashMap;
use std::sync::OnceLock;

use instrument::Point;
use ttf_parser::OutlineBuilder;

use crate::contour::Contour;
use crate::face::Face;
use crate::piece::Piece;

/// Libertinus Serif, cut down to the Latin letters and signs.
pub const ROMAN_FONT: &[u8] = include_bytes!("../../../data/fonts/LibertinusSerif-Regular.otf");

/// Its italic.
pub const ITALIC_FONT: &[u8] = include_bytes!("../../../data/fonts/LibertinusSerif-Italic.otf");

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
pub(crate) fn glyphs(face: Face) -> &'static HashMap<char, Glyph> {
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
    let Ok(font) = ttf_parser::Face::parse(bytes, 0) else {
        return HashMap::new();
    };
    let units = f64::from(font.units_per_em());
    let letter = |character: char| {
        let id = font.glyph_index(character)?;
        let mut pen = OutlineOf {
            scale: 1.0 / units,
            current: None,
            done: Vec::new(),
        };
        // A space has no outline.
        if font.outline_glyph(id, &mut pen).is_some() {
            pen.lift();
        }
        let bounds = || pen.done.iter().map(Contour::bounds);
        let glyph = Glyph {
            advance: f64::from(font.glyph_hor_advance(id)?) / units,
            above: -bounds().map(|(low, _)| low.y).fold(0.0, f64::min),
            below: bounds().map(|(_, high)| high.y).fold(0.0, f64::max),
            outline: pen.done,
        };
        Some((character, glyph))
    };
    let mut characters = Vec::new();
    let tables = font.tables().cmap.into_iter();
    for table in tables.flat_map(|cmap| cmap.subtables) {
        if table.is_unicode() {
            table.codepoints(|code| characters.extend(char::from_u32(code)));
        }
    }
    characters.into_iter().filter_map(letter).collect()
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

impl OutlineBuilder for OutlineOf {
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
