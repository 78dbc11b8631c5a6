//! Marks at their places on a page, and rows of them that are never parted.

use instrument::Point;

use crate::code::Code;
use crate::handout::Picture;
use crate::leaf::Words;
use crate::order::PageSize;

/// Free margin at the sides and above.
pub(crate) const EDGE: f64 = 19.0;
/// Free margin below; the foot stands in it.
pub(crate) const BOTTOM: f64 = 20.0;

/// How high the rows of a page may be together.
pub(crate) fn room(size: PageSize) -> f64 {
    size.height_mm - EDGE - BOTTOM
}

/// What is put down in a row or on a page.
#[derive(Clone, Debug)]
pub(crate) enum PageMark<'a> {
    Words(Words),
    /// A straight line.
    Rule {
        from: Point,
        to: Point,
        width_mm: f64,
        dotted: bool,
    },
    /// An instrument, within a circle of this radius about its centre.
    Picture {
        picture: &'a Picture,
        centre: Point,
        radius_mm: f64,
    },
    /// The page of a title, by its number among them, ending here; it is written once the
    /// pages are laid out.
    PageOf {
        title: usize,
        end: Point,
        size_mm: f64,
    },
    /// A code for telephones, with its light edge.
    Code {
        code: &'a Code,
        corner: Point,
        wide_mm: f64,
    },
    /// What its glass shows.
    Glass {
        picture: &'a Picture,
        centre: Point,
        radius_mm: f64,
    },
}

/// A row: what is never parted.
#[derive(Clone, Debug, Default)]
pub(crate) struct Row<'a> {
    /// The gap before it, but at the head of a page.
    pub(crate) above: f64,
    pub(crate) height: f64,
    /// Whether it stands on the page of the row after it.
    pub(crate) keeps: bool,
    /// Whether it begins a page.
    pub(crate) breaks: bool,
    /// What is said again where it begins a page that is not the first of its table.
    pub(crate) head: Option<Box<Row<'a>>>,
    pub(crate) marks: Vec<PageMark<'a>>,
    /// Whether a title begins with it.
    pub(crate) is_title: bool,
    /// How much of its height may be taken away where that saves a page.
    pub(crate) spare: f64,
}

impl<'a> PageMark<'a> {
    pub(crate) fn moved(&self, by: Point) -> PageMark<'a> {
        match self.clone() {
            PageMark::Words(words) => PageMark::Words(Words {
                at: words.at + by,
                ..words
            }),
            PageMark::Rule {
                from,
                to,
                width_mm,
                dotted,
            } => PageMark::Rule {
                from: from + by,
                to: to + by,
                width_mm,
                dotted,
            },
            PageMark::PageOf {
                title,
                end,
                size_mm,
            } => PageMark::PageOf {
                title,
                end: end + by,
                size_mm,
            },
            PageMark::Picture {
                picture,
                centre,
                radius_mm,
            } => PageMark::Picture {
                picture,
                centre: centre + by,
                radius_mm,
            },
            PageMark::Code {
                code,
                corner,
                wide_mm,
            } => PageMark::Code {
                code,
                corner: corner + by,
                wide_mm,
            },
            PageMark::Glass {
                picture,
                centre,
                radius_mm,
            } => PageMark::Glass {
                picture,
                centre: centre + by,
                radius_mm,
            },
        }
    }
}
