use drawing::{Contour, Face, FigurePoint, Piece, planet_glyph, sign_glyph, text_width};
use instrument::Point;
use sky::{Angle, Body};

use crate::card::{HEIGHT, WIDTH};
use crate::leaf::{Leaf, broken, sexagesimal};
use crate::year_book::{BookPaper, SignAndDegree, YearBook, YearLine, YearMonth, YearNote};

/// Free margin at the sides, above and below.
const EDGE: f64 = 11.5;
const RIGHT: f64 = WIDTH - EDGE;
/// The size of text, and of the table's figures.
const BODY: f64 = 3.5;
const FIGURES: f64 = 3.05;

fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// The pages of the book, and their size in millimetres.
pub(crate) fn leaves(book: &YearBook, paper: BookPaper) -> ((f64, f64), Vec<Leaf>) {
    let mut first = prose(&format!("For {}", town(book)), &book.first);
    first.hours_of_planets(HEIGHT - 92.0);
    let mut pages = vec![cover(book), first, glance(book)];
    for (n, month) in book.months.iter().enumerate() {
        pages.push(days(book, month, 4 + 2 * n));
        pages.push(happens(book, month, 5 + 2 * n));
    }
    pages.push(prose("How it is meant", &book.meant));
    let scale = paper.scale();
    let (width, height) = (WIDTH * scale, HEIGHT * scale);
    let pages: Vec<Leaf> = pages.into_iter().map(|page| page.scaled(scale)).collect();
    if !paper.is_folded() {
        return ((width, height), pages);
    }
    let sides = folded(pages.len());
    let side = |[left, right]: &[usize; 2]| {
        let page = |n: &usize| pages.get(*n).cloned().unwrap_or_default();
        page(left).beside(page(right), width)
    };
    ((2.0 * width, height), sides.iter().map(side).collect())
}

/// Which two pages stand on each side of the sheets, printed on both sides, turned over the
/// short edge, laid one in another and folded; pages count from 0.
fn folded(count: usize) -> Vec<[usize; 2]> {
    let whole = count.div_ceil(4) * 4;
    let sheets = 0..whole / 4;
    sheets
        .flat_map(|sheet| {
            let (first, last) = (2 * sheet, whole - 1 - 2 * sheet);
            [[last, first], [first + 1, last - 1]]
        })
        .collect()
}

fn town(book: &YearBook) -> &str {
    book.town.split(", ").next().unwrap_or(&book.town)
}

fn cover(book: &YearBook) -> Leaf {
    let mut leaf = Leaf::default();
    let middle = WIDTH / 2.0;
    leaf.frame();
    leaf.write(
        (middle, 40.0),
        21.0,
        Face::Roman,
        0.5,
        &book.year.to_string(),
    );
    leaf.write(
        (middle, 50.5),
        5.0,
        Face::Italic,
        0.5,
        "the year’s book for the astrolabe",
    );
    leaf.emblem(book.plate_deg, at(middle, 105.0), 84.0);
    let name = town(book);
    let size = (100.0 / text_width(name, Face::Roman)).clamp(5.0, 10.0);
    leaf.write((middle, 167.0), size, Face::Roman, 0.5, name);
    let place = format!(
        "{}, {}",
        sexagesimal(book.latitude_deg, ["N", "S"]),
        sexagesimal(book.longitude_deg, ["E", "W"])
    );
    leaf.write((middle, 174.5), 4.2, Face::Roman, 0.5, &place);
    let with = format!("with {}", book.instrument);
    let size = (105.0 / text_width(&with, Face::Italic)).clamp(2.4, 4.2);
    leaf.write((middle, 183.0), size, Face::Italic, 0.5, &with);
    leaf
}

/// A page of paragraphs under a heading.
fn prose(head: &str, paragraphs: &[String]) -> Leaf {
    let mut leaf = Leaf::default();
    let mut y = leaf.head_line(head) + 3.0;
    for paragraph in paragraphs {
        for line in broken(paragraph, (RIGHT - EDGE) / BODY, Face::Roman) {
            leaf.write((EDGE, y), BODY, Face::Roman, 0.0, &line);
            y += BODY * 1.36;
        }
        y += 2.2;
    }
    leaf.cautions();
    leaf
}

/// Eclipses, seasons, stations and clocks of the whole year, in columns as small as need be.
fn glance(book: &YearBook) -> Leaf {
    let mut leaf = Leaf::default();
    let top = leaf.head_line(&format!("{} at a glance", book.year));
    leaf.notes(&book.glance, top + 3.0, HEIGHT - 20.0);
    leaf.number(3);
    leaf
}

/// The columns of a month's table: where each ends or, for signs, stands.
const DAY: f64 = EDGE + 5.0;
const WEEKDAY: f64 = EDGE + 6.8;
const RULER: f64 = EDGE + 15.2;
const SCALE: f64 = EDGE + 31.0;
const SUN: f64 = EDGE + 47.0;
const TIMES: [f64; 5] = [
    EDGE + 57.5,
    EDGE + 67.5,
    EDGE + 77.5,
    EDGE + 88.0,
    EDGE + 101.0,
];
const MOON: f64 = EDGE + 116.5;
const PHASE: f64 = RIGHT - 2.2;

fn days(book: &YearBook, month: &YearMonth, number: usize) -> Leaf {
    let mut leaf = Leaf::default();
    leaf.head_line(&format!("{} {}", month.name, book.year));
    let head = 29.5;
    let mut heading = |x: f64, part: f64, lines: [&str; 2]| {
        for (n, line) in lines.iter().enumerate() {
            let y = head - 3.2 + 3.2 * n as f64;
            leaf.write((x, y), 2.55, Face::Italic, part, line);
        }
    };
    heading(RULER, 0.5, ["", "day of"]);
    if month.days.iter().any(|day| day.scale.is_some()) {
        heading(SCALE, 1.0, ["Sun,", "on scale"]);
    }
    heading(SUN, 1.0, ["Sun,", "at noon"]);
    for (x, lines) in TIMES.iter().zip([
        ["Sun", "rises"],
        ["Sun", "sets"],
        ["hour of", "the day"],
        ["hour of", "the night"],
        ["equation", "of time"],
    ]) {
        heading(*x, 1.0, lines);
    }
    heading(MOON, 1.0, ["Moon,", "at noon"]);
    leaf.rule(head + 1.8, EDGE, RIGHT);
    let step = (HEIGHT - 19.0 - head - 4.0) / 31.0;
    // Rows in fives, as they are read.
    let mut y = head + 2.2;
    for day in &month.days {
        y += step;
        leaf.day(day, book.latitude_deg >= 0.0, y - step * 0.22);
        if day.day.is_multiple_of(5) && usize::from(day.day) < month.days.len() {
            leaf.rule(y + step * 0.10, EDGE, RIGHT);
        }
    }
    leaf.number(number);
    leaf
}

fn happens(book: &YearBook, month: &YearMonth, number: usize) -> Leaf {
    let mut leaf = Leaf::default();
    let top = leaf.head_line(&format!("{} {}", month.name, book.year));
    let foot = HEIGHT - 19.0;
    let stars = 5.0 + 5.2 * month.stars.len() as f64;
    let mut y = leaf.notes(&month.events, top + 2.0, foot - stars - 16.0);
    if !month.stars.is_empty() {
        y += 8.0;
        leaf.heading_at(EDGE, y, "Stars of the evening");
        y = leaf.notes(&month.stars, y + 3.0, foot);
    }
    y += 4.0;
    // What is left is for the owner's own hand.
    while y < foot {
        y += 7.5;
        if y < foot {
            leaf.dotted(y, EDGE, RIGHT);
        }
    }
    leaf.number(number);
    leaf
}

impl Leaf {
    /// The heading of a page; says where what follows begins.
    fn head_line(&mut self, text: &str) -> f64 {
        self.write((EDGE, 19.0), 6.6, Face::Roman, 0.0, text);
        self.rule(22.0, EDGE, RIGHT);
        26.0
    }

    fn heading_at(&mut self, x: f64, y: f64, text: &str) {
        self.write((x, y), 4.4, Face::Italic, 0.0, text);
        let from = x + text_width(text, Face::Italic) * 4.4 + 3.0;
        self.rule(y - 1.2, from, RIGHT);
    }

    /// The number of a page, at its outer edge; none for 0.
    fn number(&mut self, number: usize) {
        let (x, part) = if number.is_multiple_of(2) {
            (EDGE, 0.0)
        } else {
            (RIGHT, 1.0)
        };
        if number > 0 {
            self.write(
                (x, HEIGHT - 10.0),
                3.2,
                Face::Italic,
                part,
                &number.to_string(),
            );
        }
    }

    fn dotted(&mut self, y: f64, from: f64, to: f64) {
        let mut x = from;
        let mut dots = Vec::new();
        while x < to {
            dots.push(Contour::line(at(x, y), at(x + 0.25, y)));
            x += 1.6;
        }
        self.line(dots, 0.2);
    }

    /// Notes one under another, each with its day and time before it, no lower than a foot:
    /// smaller where there are many. Says where the last stands.
    fn notes(&mut self, notes: &[YearNote], top: f64, foot: f64) -> f64 {
        const SIZES: [f64; 6] = [BODY, 3.2, 2.9, 2.65, 2.4, 2.2];
        const GAP: f64 = 0.9;
        let longest = |of: fn(&YearNote) -> &str| {
            let widths = notes.iter().map(|note| text_width(of(note), Face::Italic));
            widths.fold(0.0, f64::max)
        };
        let day = longest(|note| &note.day);
        let time = longest(|note| &note.time);
        // Where the day and the time end, and what happens begins.
        let time_ends = if time > 0.0 { day + GAP + time } else { day };
        let begins = time_ends + 1.4 * GAP;
        let lines = |size: f64| -> Vec<Vec<String>> {
            let room = (RIGHT - EDGE) / size - begins;
            let broken = |note: &YearNote| broken(&note.what, room, Face::Roman);
            notes.iter().map(broken).collect()
        };
        let height = |size: f64| {
            let count: usize = lines(size).iter().map(Vec::len).sum();
            count as f64 * size * 1.34 + notes.len() as f64 * size * 0.16
        };
        let fits = |size: &f64| top + height(*size) <= foot;
        let size = SIZES.into_iter().find(fits).unwrap_or(2.2);
        let mut y = top + size;
        for (note, lines) in notes.iter().zip(lines(size)) {
            self.write((EDGE + day * size, y), size, Face::Italic, 1.0, &note.day);
            self.write(
                (EDGE + time_ends * size, y),
                size,
                Face::Italic,
                1.0,
                &note.time,
            );
            for line in lines {
                self.write((EDGE + begins * size, y), size, Face::Roman, 0.0, &line);
                y += size * 1.34;
            }
            y += size * 0.16;
        }
        y - size
    }

    /// The planets of the twelve hours of each day and each night of the week.
    fn hours_of_planets(&mut self, top: f64) {
        const ROW: f64 = 4.9;
        let column = (RIGHT - EDGE) / 15.6;
        self.heading_at(EDGE, top, "The planets of the hours");
        // Saturn's day stands third before the Sun's in the order of the spheres.
        const SPHERES: [Body; 7] = [
            Body::Saturn,
            Body::Jupiter,
            Body::Mars,
            Body::Sun,
            Body::Venus,
            Body::Mercury,
            Body::Moon,
        ];
        const WEEK: [(&str, usize); 7] = [
            ("Su", 3),
            ("Mo", 6),
            ("Tu", 2),
            ("We", 5),
            ("Th", 1),
            ("Fr", 4),
            ("Sa", 0),
        ];
        for (part, name, before) in [(0.0, "by day", 0), (1.0, "by night", 12)] {
            let left = EDGE + column * (1.0 + 7.4 * part);
            let x = |day: usize| left + column * (day as f64 + 0.5);
            self.write(
                (left + column * 3.5, top + 6.2),
                3.0,
                Face::Italic,
                0.5,
                name,
            );
            for (day, (short, first)) in WEEK.iter().enumerate() {
                self.write((x(day), top + 11.0), 3.0, Face::Italic, 0.5, short);
                for hour in 0..12 {
                    let y = top + 11.0 + ROW * (f64::from(hour) + 1.0);
                    let ruler = SPHERES[(first + before + hour as usize) % 7];
                    self.line(
                        planet_glyph(FigurePoint::Body(ruler), at(x(day), y - 1.0), 2.9),
                        0.19,
                    );
                }
            }
        }
        for hour in 1..=12 {
            let y = top + 11.0 + ROW * f64::from(hour);
            self.write(
                (EDGE + 5.0, y),
                FIGURES,
                Face::Roman,
                1.0,
                &hour.to_string(),
            );
        }
        self.rule(top + 12.4, EDGE, RIGHT);
    }

    fn day(&mut self, day: &YearLine, in_north: bool, y: f64) {
        let middle = y - FIGURES * 0.33;
        self.write((DAY, y), FIGURES, Face::Roman, 1.0, &day.day.to_string());
        self.write(
            (WEEKDAY, y),
            FIGURES * 0.92,
            Face::Italic,
            0.0,
            &day.weekday,
        );
        self.line(
            planet_glyph(FigurePoint::Body(day.ruler), at(RULER, middle), 2.9),
            0.19,
        );
        if let Some(scale) = &day.scale {
            self.degree(scale, SCALE, y);
        }
        self.degree(&day.sun, SUN, y);
        for (x, text) in TIMES.iter().zip(&day.times) {
            self.write((*x, y), FIGURES, Face::Roman, 1.0, text);
        }
        self.degree(&day.moon, MOON, y);
        self.phase(at(PHASE, middle), 1.45, day.elongation, in_north);
    }

    /// A degree that ends at a place, its sign drawn behind it.
    fn degree(&mut self, degree: &SignAndDegree, x: f64, y: f64) {
        let sign = at(x - 1.5, y - FIGURES * 0.33);
        self.line(sign_glyph(degree.sign, sign, 2.7, Angle::ZERO), 0.19);
        self.write((x - 3.6, y), FIGURES, Face::Roman, 1.0, &degree.degree);
    }

    /// The Moon's disc, its dark part black: in the north lit on the right while she waxes,
    /// in the south on the left.
    fn phase(&mut self, centre: Point, radius: f64, elongation: Angle, in_north: bool) {
        const POINTS: u32 = 24;
        let waxes = elongation.in_turn() < Angle::HALF_TURN;
        let dark_side = if waxes == in_north { -1.0 } else { 1.0 };
        // Where the terminator crosses the middle, towards the lit side.
        let bulge = elongation.cos();
        let along = |n: u32| Angle::from_deg(180.0 * f64::from(n) / f64::from(POINTS) - 90.0);
        let limb = (0..=POINTS).map(|n| {
            let (sin, cos) = along(n).sin_cos();
            at(dark_side * cos * radius, sin * radius)
        });
        let terminator = (0..=POINTS).rev().map(|n| {
            let (sin, cos) = along(n).sin_cos();
            at(-dark_side * cos * bulge * radius, sin * radius)
        });
        let mut edge = limb.chain(terminator).map(|point| centre + point);
        if let Some(start) = edge.next() {
            let pieces = edge.map(|to| Piece::Line { to }).collect();
            self.filled(vec![Contour::closed(start, pieces)]);
        }
        self.line(vec![Contour::circle(centre, radius)], 0.16);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every page once, and the outermost sheet has the first page and the last.
    #[test]
    fn a_folded_book_has_every_page_once() {
        for count in [4, 27, 28, 32] {
            let sides = folded(count);
            let mut pages: Vec<usize> = sides.iter().flatten().copied().collect();
            pages.sort_unstable();
            let whole = count.div_ceil(4) * 4;
            assert_eq!(pages, (0..whole).collect::<Vec<_>>());
            assert_eq!(sides.first(), Some(&[whole - 1, 0]));
            // Opened in the middle, two pages follow one another on one side.
            let inner = sides.last().copied().unwrap_or_default();
            assert_eq!(inner[0] + 1, inner[1]);
        }
    }
}
