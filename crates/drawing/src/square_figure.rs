use instrument::{House, Point};

use crate::contour::Contour;
use crate::face::Face;
use crate::figure_sheet::{FigureSheet, Placement, REACH_MM, Written};
use crate::lettering::width;
use crate::page::{Leaf, Page};
use crate::piece::Piece;
use crate::scene::Weight;

/// Half the side of the square, in millimetres.
const HALF: f64 = 99.0;

/// The largest type of a body's line; the least in which all houses are written alike; and
/// the least that is tried for a house with many.
const MOST_TYPE_MM: f64 = 6.0;
const USUAL_TYPE_MM: f64 = 4.4;
const LEAST_TYPE_MM: f64 = 1.4;
const STEP_MM: f64 = 0.1;

/// Parts of the size of the type: the height of a line, the glyphs, the gaps.
const LINE: f64 = 1.55;
const GLYPH: f64 = 1.15;
const GAP: f64 = 0.35;
/// Between a label and the lines of the figure.
const CLEAR_MM: f64 = 1.2;

impl FigureSheet {
    /// The square figure of the old books: the first house on the left, the tenth
    /// above, the bodies of each house written in it in the order of the signs.
    pub(crate) fn square_leaf(&self) -> Leaf {
        let mut page = Page::default();
        frame(&mut page);
        let size = self.common_type();
        for house in House::ALL {
            self.house(&mut page, house, size);
        }
        let inner = HALF / 2.0 - 4.0;
        let mut centre = self.heading.clone();
        centre.push(self.from.clone());
        page.writing(&centre, 5.0, inner, |_| inner);
        Leaf::square(page, REACH_MM)
    }

    /// The largest type that every house has room for, and no smaller than usual.
    fn common_type(&self) -> f64 {
        House::ALL.into_iter().fold(MOST_TYPE_MM, |size, house| {
            let bodies = self.in_house(house).len();
            let mut size = size;
            while size > USUAL_TYPE_MM && places(house, bodies, size).is_none() {
                size -= STEP_MM;
            }
            size
        })
    }

    /// What stands in a house, in this size or as large as the house allows.
    fn house(&self, page: &mut Page, house: House, mut size: f64) {
        let bodies = self.in_house(house);
        let places = loop {
            match places(house, bodies.len(), size) {
                Some(places) => break places,
                None if size < LEAST_TYPE_MM => return,
                None => size -= STEP_MM,
            }
        };
        let Some((heading, rest)) = places.split_first() else {
            return;
        };
        self.heading(page, house, *heading, size);
        for (placement, place) in bodies.iter().zip(rest) {
            body(page, placement, *place, size);
        }
    }

    /// The bodies of a house, in the order of the signs from its cusp.
    fn in_house(&self, house: House) -> Vec<Placement> {
        let mut bodies: Vec<Placement> = self
            .marks
            .iter()
            .filter(|placement| !self.blank && placement.house == Some(house))
            .copied()
            .collect();
        // What counts with the house from before its cusp comes first.
        let cusp = self.cusp(house).unwrap_or_default();
        bodies.sort_by(|a, b| {
            let onward = |one: &Placement| {
                let from_cusp = cusp.to(one.longitude).deg();
                if from_cusp < -30.0 {
                    from_cusp + 360.0
                } else {
                    from_cusp
                }
            };
            onward(a).total_cmp(&onward(b))
        });
        bodies
    }

    fn cusp(&self, house: House) -> Option<sky::Angle> {
        let index = usize::from(house.number() - 1);
        self.cusps?.get(index).copied()
    }

    /// The house's numeral, and the degree and sign on its cusp.
    fn heading(&self, page: &mut Page, house: House, middle: Point, size: f64) {
        let numeral = house.to_string();
        let Some(cusp) = self.cusp(house) else {
            page.text(&numeral, size, Face::Italic, middle);
            return;
        };
        let written = Written::of(cusp);
        let (numeral_width, text) = (width("VIII") * size, written.text());
        let text_width = width("29°59′") * size;
        let whole = heading_width(size);
        let left = middle.x - whole / 2.0;
        let at = |x: f64| Point {
            x: left + x,
            y: middle.y,
        };
        page.text(&numeral, size, Face::Italic, at(numeral_width / 2.0));
        let text_at = numeral_width + GAP * size;
        page.text(&text, size, Face::Roman, at(text_at + text_width / 2.0));
        let sign_at = text_at + text_width + GAP * size + GLYPH * size / 2.0;
        page.sign(written.sign, at(sign_at), GLYPH * size, Weight::Middle);
        // Ruled off from the bodies below or beside it.
        let y = middle.y + LINE * size * 0.48;
        page.line(
            Weight::Hair,
            vec![Contour::line(
                Point { x: left, y },
                Point { x: left + whole, y },
            )],
        );
    }
}

fn heading_width(size: f64) -> f64 {
    width("VIII29°59′") * size + (2.0 * GAP + GLYPH) * size
}

fn body_width(size: f64) -> f64 {
    (width("29°59′") + width("r") + 2.0 * GLYPH + 3.0 * GAP) * size
}

/// A body's glyph, its degree and sign, and whether it goes backward.
fn body(page: &mut Page, placement: &Placement, middle: Point, size: f64) {
    let written = Written::of(placement.longitude);
    let left = middle.x - body_width(size) / 2.0;
    let at = |x: f64| Point {
        x: left + x,
        y: middle.y,
    };
    let (glyph, gap) = (GLYPH * size, GAP * size);
    page.glyph(placement.mark, at(glyph / 2.0), glyph);
    let text = width("29°59′") * size;
    page.text(
        &written.text(),
        size,
        Face::Roman,
        // The signs stand under one another, and so do the minutes.
        at(glyph + gap + text - width(&written.text()) * size / 2.0),
    );
    let sign = glyph + gap + text + gap;
    page.sign(written.sign, at(sign + glyph / 2.0), glyph, Weight::Middle);
    if placement.retrograde {
        let r = sign + glyph + gap + width("r") * size / 2.0;
        page.text("r", size, Face::Italic, at(r));
    }
}

fn point(x: f64, y: f64) -> Point {
    Point {
        x: x * HALF,
        y: y * HALF,
    }
}

fn frame(page: &mut Page) {
    let polygon = |corners: [(f64, f64); 4]| {
        let [first, rest @ ..] = corners.map(|(x, y)| point(x, y));
        Contour::closed(first, rest.map(|to| Piece::Line { to }).to_vec())
    };
    let square = |half: f64| polygon([(-half, -half), (half, -half), (half, half), (-half, half)]);
    page.line(Weight::Strong, vec![square(1.0)]);
    page.line(Weight::Edge, vec![square(0.5)]);
    page.line(
        Weight::Middle,
        vec![polygon([(-1.0, 0.0), (0.0, -1.0), (1.0, 0.0), (0.0, 1.0)])],
    );
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let diagonals = corners.map(|(x, y)| Contour::line(point(x, y), point(x / 2.0, y / 2.0)));
    page.line(Weight::Middle, diagonals.to_vec());
}

/// The triangle of a house.
fn triangle(house: House) -> [Point; 3] {
    let corners = match house.number() {
        1 => [(-1.0, 0.0), (-0.5, -0.5), (-0.5, 0.5)],
        2 => [(-1.0, 0.0), (-1.0, 1.0), (-0.5, 0.5)],
        3 => [(-1.0, 1.0), (0.0, 1.0), (-0.5, 0.5)],
        4 => [(0.0, 1.0), (-0.5, 0.5), (0.5, 0.5)],
        5 => [(0.0, 1.0), (1.0, 1.0), (0.5, 0.5)],
        6 => [(1.0, 1.0), (1.0, 0.0), (0.5, 0.5)],
        7 => [(1.0, 0.0), (0.5, 0.5), (0.5, -0.5)],
        8 => [(1.0, 0.0), (1.0, -1.0), (0.5, -0.5)],
        9 => [(1.0, -1.0), (0.0, -1.0), (0.5, -0.5)],
        10 => [(0.0, -1.0), (0.5, -0.5), (-0.5, -0.5)],
        11 => [(0.0, -1.0), (-1.0, -1.0), (-0.5, -0.5)],
        _ => [(-1.0, -1.0), (-1.0, 0.0), (-0.5, -0.5)],
    };
    corners.map(|(x, y)| point(x, y))
}

/// Where the heading and the bodies of a house stand; none where they do not fit
/// at this size. In as few columns as will do, as near the middle of the triangle
/// as there is room.
fn places(house: House, bodies: usize, size: f64) -> Option<Vec<Point>> {
    const MOST_COLUMNS: usize = 4;
    (1..=MOST_COLUMNS).find_map(|columns| block(&triangle(house), bodies, columns, size))
}

fn block(triangle: &[Point; 3], bodies: usize, columns: usize, size: f64) -> Option<Vec<Point>> {
    const STEP_MM: f64 = 0.25;
    let lines = bodies.div_ceil(columns);
    let columns = bodies.div_ceil(lines.max(1)).max(1);
    let (line, gap) = (LINE * size, 2.5 * GAP * size);
    let column = body_width(size) + gap;
    let mut wanted = heading_width(size);
    if bodies > 0 {
        wanted = wanted.max(column * columns as f64 - gap);
    }
    let height = line * (lines + 1) as f64;
    let ys = triangle.map(|p| p.y);
    let top = ys.into_iter().fold(f64::MAX, f64::min) + CLEAR_MM;
    let bottom = ys.into_iter().fold(f64::MIN, f64::max) - CLEAR_MM;
    let middle = ys.into_iter().sum::<f64>() / 3.0;
    let mut best: Option<(f64, f64, f64)> = None;
    let mut y = top;
    while y + height <= bottom {
        if let Some((left, right)) = room(triangle, y, y + height)
            && right - left >= wanted
        {
            let away = (y + height / 2.0 - middle).abs();
            if best.is_none_or(|(least, ..)| away < least) {
                best = Some((away, y, (left + right) / 2.0));
            }
        }
        y += STEP_MM;
    }
    let (_, y, x) = best?;
    let row = |n: usize| y + line * (n as f64 + 0.5);
    let first = x - column * (columns - 1) as f64 / 2.0;
    let mut found = vec![Point { x, y: row(0) }];
    found.extend((0..bodies).map(|n| Point {
        x: first + column * (n / lines) as f64,
        y: row(1 + n % lines),
    }));
    Some(found)
}

/// The stretch that lies inside a triangle over a whole band of heights.
fn room(triangle: &[Point; 3], top: f64, bottom: f64) -> Option<(f64, f64)> {
    let at = |y: f64| {
        let mut crossings = Vec::new();
        for (n, from) in triangle.iter().enumerate() {
            let to = triangle[(n + 1) % 3];
            let rise = to.y - from.y;
            if rise.abs() > 1e-9 {
                let part = (y - from.y) / rise;
                if (-1e-9..=1.0 + 1e-9).contains(&part) {
                    crossings.push(from.x + (to.x - from.x) * part);
                }
            }
        }
        let left = crossings.iter().copied().fold(f64::MAX, f64::min);
        let right = crossings.iter().copied().fold(f64::MIN, f64::max);
        (left + CLEAR_MM, right - CLEAR_MM)
    };
    let (above, below) = (at(top), at(bottom));
    let (left, right) = (above.0.max(below.0), above.1.min(below.1));
    (right > left).then_some((left, right))
}
