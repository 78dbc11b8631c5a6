use crate::handout::{Handout, Picture};
use crate::leaf::Words;
use crate::order::PageSize;
use crate::rows::Setter;
use drawing::Face;
use instrument::Point;

use crate::letters::text_width;

/// Free margin at the sides and above.
pub(crate) const EDGE: f64 = 19.0;
/// Free margin below; the foot stands in it.
const BOTTOM: f64 = 20.0;

/// What is put down in a row or on a page.
#[derive(Clone, Debug)]
pub(crate) enum Mark<'a> {
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
    pub(crate) marks: Vec<Mark<'a>>,
}

/// A page of marks.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sheet<'a> {
    pub(crate) marks: Vec<Mark<'a>>,
}

/// A handout laid out on pages.
pub(crate) fn pages(handout: &Handout, size: PageSize) -> Vec<Sheet<'_>> {
    let rows = Setter::on(size).rows(handout);
    let room = size.height_mm - EDGE - BOTTOM;
    let mut sheets = vec![Sheet::default()];
    let mut y = 0.0;
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        // A row with those after it that it must not leave.
        let together = rest.iter().take_while(|row| row.keeps).count() + 1;
        let (block, after) = rest.split_at(together.min(rest.len()));
        rest = after;
        let height: f64 = block.iter().map(|row| row.height + row.above).sum::<f64>();
        let breaks = block.iter().any(|row| row.breaks);
        // What is higher than a page is parted all the same.
        let parted = height > room;
        if y > 0.0 && (breaks || (y + height > room && !parted)) {
            sheets.push(Sheet::default());
            y = 0.0;
        }
        for row in block {
            if y > 0.0 && parted && y + row.above + row.height > room {
                sheets.push(Sheet::default());
                y = 0.0;
            }
            if y > 0.0 {
                y += row.above;
            } else if let (Some(head), true) = (&row.head, sheets.len() > 1) {
                put(&mut sheets, head, 0.0);
                y += head.height;
            }
            put(&mut sheets, row, y);
            y += row.height;
        }
    }
    let count = sheets.len();
    for (number, sheet) in sheets.iter_mut().enumerate() {
        foot(sheet, handout, size, number + 1, count);
    }
    sheets
}

fn put<'a>(sheets: &mut [Sheet<'a>], row: &Row<'a>, y: f64) {
    let down = Point {
        x: 0.0,
        y: y + EDGE,
    };
    if let Some(sheet) = sheets.last_mut() {
        let moved = row.marks.iter().map(|mark| mark.moved(down));
        sheet.marks.extend(moved);
    }
}

impl<'a> Mark<'a> {
    fn moved(&self, by: Point) -> Mark<'a> {
        match self.clone() {
            Mark::Words(words) => Mark::Words(Words {
                at: words.at + by,
                ..words
            }),
            Mark::Rule {
                from,
                to,
                width_mm,
                dotted,
            } => Mark::Rule {
                from: from + by,
                to: to + by,
                width_mm,
                dotted,
            },
            Mark::Picture {
                picture,
                centre,
                radius_mm,
            } => Mark::Picture {
                picture,
                centre: centre + by,
                radius_mm,
            },
            Mark::Glass {
                picture,
                centre,
                radius_mm,
            } => Mark::Glass {
                picture,
                centre: centre + by,
                radius_mm,
            },
        }
    }
}

/// The title, what else is said on every page, and the page's number.
fn foot(sheet: &mut Sheet<'_>, handout: &Handout, size: PageSize, number: usize, count: usize) {
    const SIZE: f64 = 2.9;
    let y = size.height_mm - 11.0;
    let (left, right) = (EDGE, size.width_mm - EDGE);
    sheet.marks.push(Mark::Rule {
        from: Point {
            x: left,
            y: y - 4.2,
        },
        to: Point {
            x: right,
            y: y - 4.2,
        },
        width_mm: 0.1,
        dotted: false,
    });
    let mut write = |text: String, x: f64, part: f64| {
        let long = text_width(&text, Face::Italic) * SIZE;
        sheet.marks.push(Mark::Words(Words {
            at: Point {
                x: x - long * part,
                y,
            },
            size_mm: SIZE,
            face: Face::Italic,
            text,
        }));
        long
    };
    let page = format!("page {number} of {count}");
    let taken = write(page, right, 1.0);
    let middle = text_width(&handout.foot, Face::Italic) * SIZE;
    let room = right - left - taken - middle - 12.0;
    write(
        crate::rows::shortened_to(&handout.title, room / SIZE, Face::Italic),
        left,
        0.0,
    );
    if !handout.foot.is_empty() {
        write(handout.foot.clone(), right - taken - 6.0, 1.0);
    }
}
