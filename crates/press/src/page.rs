use std::rc::Rc;

use drawing::Contour;
use instrument::Point;

use crate::ink::{Ink, Inked};
use crate::order::PageSize;

/// Free margin round a page, in millimetres; printers leave about 5.
pub(crate) const MARGIN: f64 = 9.0;
/// What the title block and the check line take at the foot.
pub(crate) const FOOT: f64 = 24.0;
/// What one piece's own words take beneath it.
pub(crate) const CAPTION: f64 = 6.0;
/// The least width given to a piece, for its caption's sake.
const LEAST_WIDTH: f64 = 34.0;
/// How far neighbouring tiles overlap.
pub(crate) const OVERLAP: f64 = 12.0;

/// A page of a document: pieces, or a tile of one that is larger than a page.
#[derive(Clone, Debug)]
pub(crate) struct Page<'a> {
    pub(crate) size: PageSize,
    pub(crate) placed: Vec<Placed<'a>>,
    pub(crate) tile: Option<Tile>,
}

/// A piece with the place of its own centre on the page.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Placed<'a> {
    pub(crate) piece: &'a Inked,
    pub(crate) centre: Point,
}

/// Which part of a piece a page shows.
#[derive(Clone, Debug)]
pub(crate) struct Tile {
    pub(crate) column: u32,
    pub(crate) row: u32,
    pub(crate) columns: u32,
    pub(crate) rows: u32,
    /// The width and height that are shown, from the margins' corner.
    pub(crate) shown: (f64, f64),
    /// Where registration marks stand, on the page.
    pub(crate) marks: Vec<Point>,
    /// Where what is shown begins, on the piece.
    corner: Point,
    /// The rectangles of all that is put down on the piece, for all of its tiles.
    rectangles: Rc<Rectangles>,
}

/// For each ink of a piece the rectangles that its contours fill.
type Rectangles = Vec<Vec<(Point, Point)>>;

impl Tile {
    /// Those contours of the piece's ink of a number that reach into the tile: of a large
    /// piece a page bears few, and one that bore all would say most of them for nothing.
    pub(crate) fn touched<'a>(
        &'a self,
        number: usize,
        ink: &'a Ink,
    ) -> impl Iterator<Item = &'a Contour> {
        let about = if ink.filled { 0.0 } else { ink.width_mm / 2.0 };
        let (low, (width, height)) = (self.corner, self.shown);
        let rectangles = self.rectangles.get(number).into_iter().flatten();
        ink.contours
            .iter()
            .zip(rectangles)
            .filter(move |(_, (least, most))| {
                least.x - about <= low.x + width
                    && most.x + about >= low.x
                    && least.y - about <= low.y + height
                    && most.y + about >= low.y
            })
            .map(|(contour, _)| contour)
    }
}

/// The room for drawing on a page: its width and height.
pub(crate) fn room(size: PageSize) -> (f64, f64) {
    (
        size.width_mm - 2.0 * MARGIN,
        size.height_mm - 2.0 * MARGIN - FOOT,
    )
}

/// A page that holds a piece at its true size.
pub(crate) fn holding(piece: &Inked) -> PageSize {
    let (width, height) = extent(piece);
    PageSize {
        width_mm: width.max(LEAST_WIDTH) + 2.0 * MARGIN + 1.0,
        height_mm: height + CAPTION + 2.0 * MARGIN + FOOT + 1.0,
    }
}

/// Pieces laid out on pages: small ones together, large ones on tiles.
pub(crate) fn pages<'a>(pieces: &[&'a Inked], size: PageSize) -> Vec<Page<'a>> {
    let mut pages: Vec<Page<'a>> = Vec::new();
    let mut shelf = Shelf::default();
    for piece in pieces {
        let (w, h) = extent(piece);
        let w = w.max(LEAST_WIDTH);
        let (width, height) = room(size);
        if w > width || h + CAPTION > height {
            pages.extend(tiled(piece, size));
            // What is smaller begins on a page of its own.
            shelf = Shelf::default();
            continue;
        }
        let spot = match pages.last_mut().filter(|page| page.tile.is_none()) {
            Some(page) if !shelf.is_new => shelf
                .place(w, h + CAPTION, width, height)
                .map(|spot| (spot, page)),
            _ => None,
        };
        let (spot, page) = if let Some(found) = spot {
            found
        } else {
            pages.push(Page {
                size,
                placed: Vec::new(),
                tile: None,
            });
            shelf = Shelf {
                is_new: false,
                ..Shelf::default()
            };
            let spot = shelf
                .place(w, h + CAPTION, width, height)
                .unwrap_or(Point::POLE);
            match pages.last_mut() {
                Some(page) => (spot, page),
                None => continue,
            }
        };
        page.placed.push(Placed {
            piece,
            centre: spot
                + Point {
                    x: MARGIN,
                    y: MARGIN,
                }
                - piece.low,
        });
    }
    for page in &mut pages {
        centre(page);
    }
    pages
}

/// A single piece stands in the middle of its page.
fn centre(page: &mut Page<'_>) {
    let (width, _) = room(page.size);
    if let ([one], None) = (page.placed.as_mut_slice(), &page.tile) {
        let (w, _) = extent(one.piece);
        one.centre.x = MARGIN + (width - w) / 2.0 - one.piece.low.x;
    }
}

pub(crate) fn extent(piece: &Inked) -> (f64, f64) {
    (piece.high.x - piece.low.x, piece.high.y - piece.low.y)
}

/// Rows of pieces, filled from the left and from above.
#[derive(Debug)]
struct Shelf {
    is_new: bool,
    x: f64,
    y: f64,
    tallest: f64,
}

impl Default for Shelf {
    fn default() -> Shelf {
        Shelf {
            is_new: true,
            x: 0.0,
            y: 0.0,
            tallest: 0.0,
        }
    }
}

impl Shelf {
    fn place(&mut self, w: f64, h: f64, width: f64, height: f64) -> Option<Point> {
        const GAP: f64 = 8.0;
        if self.x > 0.0 && self.x + w > width {
            self.y += self.tallest + GAP;
            self.x = 0.0;
            self.tallest = 0.0;
        }
        if self.y + h > height {
            return None;
        }
        let spot = Point {
            x: self.x,
            y: self.y,
        };
        self.x += w + GAP;
        self.tallest = self.tallest.max(h);
        Some(spot)
    }
}

fn tiled<'a>(piece: &'a Inked, size: PageSize) -> Vec<Page<'a>> {
    let (width, height) = room(size);
    let (w, h) = extent(piece);
    let count = |whole: f64, room: f64| {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "some dozens of tiles at most"
        )]
        let count = ((whole - OVERLAP) / (room - OVERLAP)).ceil().max(1.0) as u32;
        count
    };
    let (columns, rows) = (count(w, width), count(h, height));
    // Tiles of one size: a last one with a sliver on it is hard to lay true.
    let step = (
        (w - OVERLAP) / f64::from(columns),
        (h - OVERLAP) / f64::from(rows),
    );
    let shown = (step.0 + OVERLAP, step.1 + OVERLAP);
    let rectangles = |ink: &Ink| ink.contours.iter().map(Contour::bounds).collect();
    let rectangles: Rc<Rectangles> = Rc::new(piece.inks.iter().map(rectangles).collect());
    let mut pages = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let corner = Point {
                x: piece.low.x + f64::from(column) * step.0,
                y: piece.low.y + f64::from(row) * step.1,
            };
            let centre = Point {
                x: MARGIN,
                y: MARGIN,
            } - corner;
            // Marks stand in the middle of every overlap, and so on both its tiles.
            let mut marks = Vec::new();
            let inside = |p: Point| {
                let q = p - corner;
                (0.0..=shown.0).contains(&q.x) && (0.0..=shown.1).contains(&q.y)
            };
            let seam = |n: u32, low: f64, step: f64| low + f64::from(n) * step + OVERLAP / 2.0;
            let thirds = [0.2, 0.5, 0.8];
            for n in 1..columns {
                for m in 0..rows {
                    for part in thirds {
                        marks.push(Point {
                            x: seam(n, piece.low.x, step.0),
                            y: piece.low.y + (f64::from(m) + part) * step.1,
                        });
                    }
                }
            }
            for n in 1..rows {
                for m in 0..columns {
                    for part in thirds {
                        marks.push(Point {
                            x: piece.low.x + (f64::from(m) + part) * step.0,
                            y: seam(n, piece.low.y, step.1),
                        });
                    }
                }
            }
            marks.retain(|mark| inside(*mark));
            pages.push(Page {
                size,
                placed: vec![Placed { piece, centre }],
                tile: Some(Tile {
                    shown,
                    column: column + 1,
                    row: row + 1,
                    columns,
                    rows,
                    marks: marks.into_iter().map(|mark| mark + centre).collect(),
                    corner,
                    rectangles: Rc::clone(&rectangles),
                }),
            });
        }
    }
    pages
}

#[cfg(test)]
mod tests {
    use drawing::{Making, workpieces};
    use instrument::{Instrument, Specification};

    use super::*;
    use crate::moves::{Move, moves};

    /// Points along a contour, close enough that none of its pieces is passed over.
    fn along(contour: &Contour) -> Vec<Point> {
        const PARTS: u32 = 64;
        let mut at = Point::POLE;
        let mut points = Vec::new();
        for step in moves([contour]) {
            let (first, second, to) = match step {
                Move::To(to) => {
                    at = to;
                    continue;
                }
                Move::Line(to) => (at, to, to),
                Move::Cubic(first, second, to) => (first, second, to),
                Move::Close => continue,
            };
            for n in 0..=PARTS {
                let (t, s) = (
                    f64::from(n) / f64::from(PARTS),
                    f64::from(PARTS - n) / f64::from(PARTS),
                );
                points.push(
                    at * (s * s * s)
                        + first * (3.0 * s * s * t)
                        + second * (3.0 * s * t * t)
                        + to * (t * t * t),
                );
            }
            at = to;
        }
        points
    }

    #[test]
    fn a_tile_bears_all_that_reaches_into_it_and_little_else() {
        let text = "version = 1\nname = \"large\"\ndiameter_mm = 600\nepoch_year = 2025\nplates_deg = [42]";
        let instrument = Instrument::new(Specification::from_toml(text).unwrap());
        for workpiece in workpieces(&instrument, &[Making::Plates, Making::Rete, Making::Back]) {
            let piece = Inked::of(&workpiece, &instrument, "");
            let whole: usize = piece.inks.iter().map(|ink| ink.contours.len()).sum();
            let mut borne = 0;
            let pages = pages(&[&piece], PageSize::A4);
            for page in &pages {
                let tile = page.tile.as_ref().unwrap();
                let inside = |p: Point| {
                    let q = p - tile.corner;
                    (0.0..=tile.shown.0).contains(&q.x) && (0.0..=tile.shown.1).contains(&q.y)
                };
                for (number, ink) in piece.inks.iter().enumerate() {
                    let touched: Vec<&Contour> = tile.touched(number, ink).collect();
                    borne += touched.len();
                    for contour in &ink.contours {
                        let reaches = along(contour).into_iter().any(inside);
                        let is_borne = touched.iter().any(|one| std::ptr::eq(*one, contour));
                        assert!(
                            is_borne || !reaches,
                            "{} {number} {contour:?}",
                            workpiece.name
                        );
                    }
                }
            }
            assert!(pages.len() > 8, "{}", pages.len());
            assert!(
                borne < whole * 3,
                "{}: {borne} on {} pages of {whole}",
                workpiece.name,
                pages.len()
            );
        }
    }
}
