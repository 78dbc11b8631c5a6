use instrument::{Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::glyphs::text_width;
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, Lettering, width};
use crate::planet_glyph::{FigurePoint, planet_glyph};
use crate::scaled::placed;
use crate::scene::{Dash, Fill, Group, Item, Layer, Metal, Region, Scene, Trace, Weight};
use crate::sign_glyph::sign_glyph;
use crate::wrapping::wrapped;

pub(crate) const HAIR_MM: f64 = 0.13;

/// Sheets are laid out larger than they are drawn: so they fit a page of A4 or of
/// letter size.
const DRAWN: f64 = 0.9;

/// One thing in a line of writing.
#[derive(Clone, Debug, PartialEq)]
pub enum Run {
    /// Upright letters.
    Text(String),
    /// Slanting letters, a little smaller.
    Note(String),
    /// A drawn character.
    Point(FigurePoint),
    /// A dotted line to write on.
    Blank,
}

/// Parts of the size of the type: slanting letters, drawn characters, the gap between two
/// things, the line to write on.
pub(crate) const NOTE: f64 = 0.88;
const GLYPH: f64 = 1.1;
pub(crate) const GAP: f64 = 0.3;
const BLANK: f64 = 8.0;
/// The height of a line with all that reaches above and below it.
const HIGH: f64 = 1.12;

impl Run {
    /// Its width as a part of the size of the type.
    fn width(&self) -> f64 {
        match self {
            Run::Text(text) => text_width(text, Face::Roman),
            Run::Note(text) => text_width(text, Face::Italic) * NOTE,
            Run::Point(_) => GLYPH,
            Run::Blank => BLANK,
        }
    }
}

/// The width of a line of writing, as a part of the size of the type.
pub(crate) fn runs_width(runs: &[Run]) -> f64 {
    let gaps = runs.len().saturating_sub(1);
    runs.iter().map(Run::width).sum::<f64>() + GAP * gaps as f64
}

/// A sheet being drawn: what stands on it, and the space that labels take.
#[derive(Clone, Default)]
pub(crate) struct Page {
    pub(crate) items: Vec<Item>,
    pub(crate) boxes: Vec<LabelBox>,
}

impl Page {
    pub(crate) fn line(&mut self, weight: Weight, contours: Vec<Contour>) {
        self.stroke(weight, Dash::Whole, contours);
    }

    pub(crate) fn stroke(&mut self, weight: Weight, dash: Dash, contours: Vec<Contour>) {
        if contours.is_empty() {
            return;
        }
        self.items.push(Item::Stroke(Trace {
            line: None,
            contours,
            weight,
            dash,
            scale: false,
            lit: false,
            layer: Layer::Engrave,
        }));
    }

    pub(crate) fn fill(&mut self, metal: Metal, regions: Vec<Region>) {
        if regions.is_empty() {
            return;
        }
        self.items.push(Item::Fill(Fill {
            metal,
            regions,
            layer: Layer::Engrave,
        }));
    }

    pub(crate) fn glyph(&mut self, mark: FigurePoint, middle: Point, size_mm: f64) {
        self.boxes
            .push(LabelBox::new(middle, size_mm, size_mm, Angle::ZERO));
        self.line(glyph_weight(size_mm), planet_glyph(mark, middle, size_mm));
    }

    pub(crate) fn sign(&mut self, sign: usize, middle: Point, size_mm: f64, weight: Weight) {
        self.sign_along(sign, middle, size_mm, weight, Angle::ZERO);
    }

    /// A sign's character, its foot along a direction.
    pub(crate) fn sign_along(
        &mut self,
        sign: usize,
        middle: Point,
        size_mm: f64,
        weight: Weight,
        along: Angle,
    ) {
        self.boxes
            .push(LabelBox::new(middle, size_mm, size_mm, along));
        self.line(weight, sign_glyph(sign, middle, size_mm, along));
    }

    /// Letters, upright, about a middle.
    pub(crate) fn text(&mut self, text: &str, size_mm: f64, face: Face, middle: Point) {
        let lettering = letters(text, size_mm, face, middle);
        self.boxes.extend(lettering.boxes());
        self.items.push(Item::Text(lettering));
    }

    /// A line of writing that begins at a place, in the middle of its height.
    pub(crate) fn runs(&mut self, runs: &[Run], size_mm: f64, from: Point) {
        let mut x = from.x;
        for run in runs {
            let wide = run.width() * size_mm;
            let middle = Point {
                x: x + wide / 2.0,
                y: from.y,
            };
            let lettering = match run {
                Run::Text(text) => Some(letters(text, size_mm, Face::Roman, middle)),
                Run::Note(text) => Some(letters(text, size_mm * NOTE, Face::Italic, middle)),
                Run::Point(mark) => {
                    let glyph = planet_glyph(*mark, middle, GLYPH * size_mm);
                    self.line(glyph_weight(GLYPH * size_mm), glyph);
                    None
                }
                Run::Blank => {
                    let y = from.y + size_mm * 0.3;
                    let end = Point { x: x + wide, y };
                    let line = Contour::line(Point { x, y }, end);
                    self.stroke(Weight::Fine, Dash::Dotted, vec![line]);
                    None
                }
            };
            self.items.extend(lettering.map(Item::Text));
            x += wide + GAP * size_mm;
        }
        let wide = runs_width(runs) * size_mm;
        let middle = Point {
            x: from.x + wide / 2.0,
            y: from.y,
        };
        self.boxes
            .push(LabelBox::new(middle, wide, HIGH * size_mm, Angle::ZERO));
    }

    /// Lines of writing one under another, as large as the room allows at each
    /// height, and no larger than asked.
    pub(crate) fn writing(
        &mut self,
        lines: &[String],
        most_mm: f64,
        half_height_mm: f64,
        half_width: impl Fn(f64) -> f64,
    ) {
        const LEADING: f64 = 1.45;
        const LEAST_MM: f64 = 1.2;
        let count = lines.len() as f64;
        let mut size = most_mm;
        let top = |size: f64, n: usize| (n as f64 - (count - 1.0) / 2.0) * size * LEADING;
        let fits = |size: f64| {
            lines.iter().enumerate().all(|(n, line)| {
                let y = top(size, n);
                let edge = y.abs() + size / 2.0;
                edge <= half_height_mm && width(line) * size / 2.0 <= half_width(edge)
            })
        };
        while size > LEAST_MM && !fits(size) {
            size -= 0.05;
        }
        for (n, line) in lines.iter().enumerate() {
            let face = if n == 0 { Face::Roman } else { Face::Italic };
            let middle = Point {
                x: 0.0,
                y: top(size, n),
            };
            self.text(line, size, face, middle);
        }
    }

    /// The same elsewhere.
    fn moved(self, by: Point) -> Page {
        Page {
            items: self
                .items
                .iter()
                .map(|item| placed(item, 1.0, by))
                .collect(),
            boxes: self.boxes.iter().map(|one| one.moved(by)).collect(),
        }
    }
}

/// Smaller characters are drawn with a finer pen.
fn glyph_weight(size_mm: f64) -> Weight {
    const LARGE_MM: f64 = 3.6;
    if size_mm > LARGE_MM {
        Weight::Edge
    } else {
        Weight::Middle
    }
}

/// Letters, upright, about a middle.
pub(crate) fn letters(text: &str, size_mm: f64, face: Face, middle: Point) -> Lettering {
    Lettering {
        text: text.to_owned(),
        size_mm,
        face,
        baseline: Baseline::Straight {
            middle,
            along: Angle::ZERO,
        },
        clears: false,
        line: None,
    }
}

/// A text in lines no longer than a width, broken between words.
pub(crate) fn within(text: &str, face: Face, size_mm: f64, width_mm: f64) -> Vec<String> {
    wrapped(text, |line| text_width(line, face) * size_mm <= width_mm)
}

/// A page that is drawn, and how far it reaches.
#[derive(Clone)]
pub(crate) struct Leaf {
    pub(crate) page: Page,
    pub(crate) low: Point,
    pub(crate) high: Point,
}

/// Between two leaves that are laid beside each other.
const BETWEEN_MM: f64 = 8.0;

impl Leaf {
    /// About a middle, as far to every side.
    pub(crate) fn square(page: Page, reach_mm: f64) -> Leaf {
        let corner = Point {
            x: reach_mm,
            y: reach_mm,
        };
        Leaf {
            page,
            low: Point::POLE - corner,
            high: corner,
        }
    }

    /// This one on the left of another, or above it where both are wide.
    pub(crate) fn with(self, other: Leaf) -> Leaf {
        let wide = |leaf: &Leaf| leaf.high.x - leaf.low.x > 1.1 * (leaf.high.y - leaf.low.y);
        let by = if wide(&self) {
            Point {
                x: self.low.x - other.low.x,
                y: self.high.y - other.low.y + BETWEEN_MM,
            }
        } else {
            Point {
                x: self.high.x - other.low.x + BETWEEN_MM,
                y: self.low.y - other.low.y,
            }
        };
        let other_high = other.high + by;
        let moved = other.page.moved(by);
        let mut page = self.page;
        page.items.extend(moved.items);
        page.boxes.extend(moved.boxes);
        Leaf {
            page,
            low: self.low,
            high: Point {
                x: self.high.x.max(other_high.x),
                y: self.high.y.max(other_high.y),
            },
        }
    }

    /// The leaf as a drawing, with its middle in the middle.
    pub(crate) fn scene(self, title: &str, description: &str, name: &'static str) -> Scene {
        let middle = (self.low + self.high) * 0.5;
        let reach = self.high - middle;
        Scene {
            title: title.to_owned(),
            description: description.to_owned(),
            reach_mm: reach.x,
            upright_mm: reach.y,
            hair_mm: HAIR_MM,
            groups: vec![Group {
                name,
                // A figure is drawn on paper, and the plate comes nearest.
                part: Part::Plate,
                title: title.to_owned(),
                turn: Angle::ZERO,
                pole: Point::POLE,
                items: self.page.moved(Point::POLE - middle).items,
            }],
        }
        .scaled(DRAWN)
    }
}
