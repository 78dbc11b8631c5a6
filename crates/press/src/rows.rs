use drawing::{Face, text_width};
use instrument::Point;

use crate::figures::{self, Space};
use crate::fitting::{fitted, shortened_to};
use crate::handout::{
    Block, CodeBlock, Form, Handout, Picture, Question, StepBlock, SumRow, Table,
};
use crate::leaf::Words;
use crate::order::PageSize;
use crate::parted::Parted;
use crate::row::{EDGE, PageMark, Row, room};

/// The size of the text, and the distance of its lines in sizes.
const BODY: f64 = 3.7;
const SMALL: f64 = 3.05;
const LEADING: f64 = 1.32;
/// The size of what stands in tables, and in close ones: the least that is read by lamplight.
const CELL: f64 = 3.3;
const CLOSE: f64 = 2.85;
/// The distance of close lines, in sizes.
const SOLID: f64 = 1.05;
/// What parts rows that begin anew from those above, in a close table.
const APART: f64 = 0.7;
/// The radius of an instrument's picture, as large as lets three steps stand on a page, and
/// of its glass.
const PICTURE: f64 = 38.0;
const GLASS: f64 = 17.0;
const GAP: f64 = 4.0;

/// Breaks blocks into rows.
pub(crate) struct Setter {
    left: f64,
    right: f64,
    /// How high a page is filled.
    room: f64,
}

fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Setter {
    pub(crate) fn on(size: PageSize) -> Setter {
        Setter {
            left: EDGE,
            right: size.width_mm - EDGE,
            room: room(size),
        }
    }

    fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn rows<'a>(&self, handout: &'a Handout) -> Vec<Row<'a>> {
        let mut rows: Vec<Row<'a>> = Vec::new();
        let mut breaks = false;
        let mut after_table = false;
        let mut after_small = false;
        let mut titles = 0;
        for block in &handout.blocks {
            if *block == Block::NewPage {
                breaks = true;
                continue;
            }
            let mut set = match block {
                Block::Contents => self.contents(handout, titles),
                Block::Figures(table) => {
                    let left_of_page = if breaks {
                        self.room
                    } else {
                        self.left_of_page(&rows)
                    };
                    figures::figures(
                        table,
                        &Space {
                            left: self.left,
                            right: self.right,
                            page: self.room,
                            left_of_page,
                        },
                    )
                }
                other => self.block(other),
            };
            if matches!(block, Block::Title(_))
                && let Some(first) = set.first_mut()
            {
                first.is_title = true;
                titles += 1;
            }
            let is_table = matches!(block, Block::Table(_));
            let goes_on = matches!(block, Block::Table(table) if !table.close);
            let works = matches!(block, Block::Sum(_) | Block::Form(_));
            if (goes_on && after_table) || (works && (after_table || after_small)) {
                // It belongs to what stands before, and begins on the page where that ends.
                if let Some(last) = rows.last_mut() {
                    last.keeps = !breaks;
                }
            }
            if works
                && after_table
                && let Some(first) = set.first_mut()
            {
                first.above += 1.5;
            }
            after_table = is_table || matches!(block, Block::Figures(_));
            after_small = matches!(block, Block::Small(_));
            if let Some(first) = set.first_mut() {
                first.breaks |= std::mem::take(&mut breaks);
            }
            rows.extend(set);
        }
        rows
    }

    /// How much room the rows leave on the page on which they end.
    fn left_of_page(&self, rows: &[Row<'_>]) -> f64 {
        let chapter = rows.iter().rposition(|row| row.breaks).unwrap_or(0);
        let (_, chapter) = rows.split_at(chapter);
        self.room - Parted::of(chapter, self.room, self.room).last
    }

    fn block<'a>(&self, block: &'a Block) -> Vec<Row<'a>> {
        match block {
            Block::NewPage | Block::Contents | Block::Figures(_) => Vec::new(),
            Block::Title(text) => self.lines(text, 7.6, Face::Roman, 0.0, true),
            Block::Lead(text) => self.lines(text, 4.2, Face::Italic, 1.0, true),
            Block::Heading(text) => self.heading(text),
            Block::Text(text) => self.lines(text, BODY, Face::Roman, 1.8, false),
            Block::Intro(text) => self.lines(text, BODY, Face::Roman, 1.8, true),
            Block::Small(text) => self.lines(text, SMALL, Face::Italic, 1.4, false),
            Block::WriteIn(names) => vec![self.write_in(names)],
            Block::Sum(rows) => self.sum(rows),
            Block::Form(form) => self.form(form),
            Block::Step(step) => vec![self.step(step)],
            Block::Named(picture) => vec![self.named(picture)],
            Block::Table(table) => self.table(table),
            Block::Code(block) => vec![self.code(block)],
            Block::Question(question) => self.question(question),
        }
    }

    /// Lines of a text; a single one is never left alone on a page.
    fn lines<'a>(
        &self,
        text: &str,
        size: f64,
        face: Face,
        above: f64,
        keeps: bool,
    ) -> Vec<Row<'a>> {
        let lines = fitted(text, self.width() / size, face);
        let count = lines.len();
        let put = |(n, line): (usize, String)| Row {
            above: if n == 0 { above } else { 0.0 },
            height: size * LEADING,
            keeps: keeps || (n == 0 && count > 1) || (n + 2 == count),
            marks: vec![words(self.left, size, size, face, 0.0, &line)],
            ..Row::default()
        };
        lines.into_iter().enumerate().map(put).collect()
    }

    /// The titles but for those before it, a line each, with their pages.
    fn contents<'a>(&self, handout: &Handout, before: usize) -> Vec<Row<'a>> {
        let titles = handout.blocks.iter().filter_map(|block| match block {
            Block::Title(title) => Some(title),
            _ => None,
        });
        let line = |(title, text): (usize, &String)| {
            let room = (self.width() - 16.0) / BODY;
            let text = shortened_to(text, room, Face::Roman);
            let long = text_width(&text, Face::Roman) * BODY;
            Row {
                height: BODY * LEADING + 1.0,
                marks: vec![
                    words(self.left, BODY, BODY, Face::Roman, 0.0, &text),
                    dots(self.left + long + 2.0, BODY, self.right - 9.0),
                    PageMark::PageOf {
                        title,
                        end: at(self.right, BODY),
                        size_mm: BODY,
                    },
                ],
                ..Row::default()
            }
        };
        titles.enumerate().skip(before).map(line).collect()
    }

    fn heading<'a>(&self, text: &str) -> Vec<Row<'a>> {
        let size = 5.0;
        let mut rows = self.lines(text, size, Face::Italic, 6.0, true);
        if let Some(last) = rows.last_mut()
            && let Some(PageMark::Words(written)) = last.marks.first()
        {
            let from = self.left + text_width(&written.text, Face::Italic) * size + 3.0;
            if from < self.right - 5.0 {
                last.marks.push(rule(from, size - 1.3, self.right, 0.15));
            }
            last.height += 1.2;
        }
        rows
    }

    fn write_in<'a>(&self, names: &[String]) -> Row<'a> {
        let mut row = Row {
            above: 3.0,
            height: BODY * LEADING + 2.0,
            ..Row::default()
        };
        #[expect(clippy::cast_precision_loss, reason = "two or three")]
        let share = self.width() / names.len().max(1) as f64;
        let mut x = self.left;
        for name in names {
            let long = text_width(name, Face::Italic) * BODY;
            row.marks
                .push(words(x, BODY, BODY, Face::Italic, 0.0, name));
            row.marks
                .push(dots(x + long + 2.0, BODY + 0.6, x + share - 4.0));
            x += share;
        }
        row
    }

    /// What is added, in a column, and what comes of it beside it.
    fn sum<'a>(&self, sum: &[SumRow]) -> Vec<Row<'a>> {
        let (amounts, results) = (self.right - 42.0, self.right - 2.0);
        let room = amounts - 34.0 - self.left;
        let last = sum.len().saturating_sub(1);
        let mut rows = Vec::new();
        for (n, line) in sum.iter().enumerate() {
            let mut row = Row {
                above: if n == 0 { 1.5 } else { 0.2 },
                keeps: n < last,
                ..Row::default()
            };
            let mut y = BODY;
            for text in fitted(&line.words, room / BODY, Face::Roman) {
                row.marks
                    .push(words(self.left + 4.0, y, BODY, Face::Roman, 0.0, &text));
                y += BODY * LEADING;
            }
            row.marks
                .push(words(amounts, BODY, BODY, Face::Roman, 1.0, &line.amount));
            row.marks
                .push(words(results, BODY, BODY, Face::Roman, 1.0, &line.result));
            if n == last && n > 0 {
                row.marks.push(rule(amounts + 8.0, -0.6, self.right, 0.2));
            }
            if !line.reason.is_empty() {
                for text in fitted(&line.reason, room / SMALL, Face::Italic) {
                    let y = y - (BODY - SMALL) - 0.4;
                    row.marks
                        .push(words(self.left + 7.0, y, SMALL, Face::Italic, 0.0, &text));
                    row.height += SMALL * LEADING;
                }
            }
            row.height = y - BODY + row.height + 1.2;
            rows.push(row);
        }
        rows
    }

    /// Lines with a place to write in for each column; above what comes of others, a rule.
    fn form<'a>(&self, form: &Form) -> Vec<Row<'a>> {
        const NAMES: f64 = 58.0;
        const BETWEEN: f64 = 3.0;
        let each = (self.width() - NAMES) / count(form.columns.len().max(1));
        let places = || (0..form.columns.len()).map(|n| self.left + NAMES + each * count(n));
        let mut head = Row {
            above: 2.0,
            height: SMALL * LEADING,
            keeps: true,
            ..Row::default()
        };
        for (x, name) in places().zip(&form.columns) {
            let name = shortened_to(name, (each - BETWEEN) / SMALL, Face::Italic);
            head.marks
                .push(words(x + 3.0, SMALL, SMALL, Face::Italic, 0.0, &name));
        }
        let mut rows = vec![head];
        let last = form.lines.len().saturating_sub(1);
        for (n, line) in form.lines.iter().enumerate() {
            let mut row = Row {
                height: 6.8,
                spare: 0.6,
                keeps: n < last,
                ..Row::default()
            };
            let base = 5.6;
            let room = (NAMES - BETWEEN) / SMALL;
            let said = fitted(&line.words, room, Face::Roman);
            let up = SMALL * count(said.len().saturating_sub(1));
            for (n, text) in said.iter().enumerate() {
                let y = base - up + SMALL * count(n);
                row.marks
                    .push(words(self.left, y, SMALL, Face::Roman, 0.0, text));
            }
            for x in places() {
                row.marks
                    .push(words(x, base, SMALL, Face::Roman, 0.0, &line.sign));
                row.marks
                    .push(dots(x + 3.0, base + 0.5, x + each - BETWEEN));
                if line.makes && n > 0 {
                    row.marks.push(rule(x, 0.4, x + each - BETWEEN, 0.15));
                }
            }
            rows.push(row);
        }
        rows
    }

    fn named<'a>(&self, picture: &'a Picture) -> Row<'a> {
        let (radius_mm, height) = (self.width() / 2.0, self.width() * 0.6);
        Row {
            above: GAP,
            height,
            marks: vec![PageMark::Picture {
                picture,
                centre: at(self.left + radius_mm, height / 2.0),
                radius_mm,
            }],
            ..Row::default()
        }
    }

    fn code<'a>(&self, block: &'a CodeBlock) -> Row<'a> {
        const WIDE: f64 = 38.0;
        let mut row = Row {
            above: GAP,
            height: WIDE,
            marks: vec![PageMark::Code {
                code: &block.code,
                corner: at(self.left, 0.0),
                wide_mm: WIDE,
            }],
            ..Row::default()
        };
        let left = self.left + WIDE + GAP;
        let mut y = 8.0;
        for line in fitted(&block.words, (self.right - left) / BODY, Face::Roman) {
            row.marks
                .push(words(left, y, BODY, Face::Roman, 0.0, &line));
            y += BODY * LEADING;
        }
        row.height = row.height.max(y);
        row
    }

    fn step<'a>(&self, step: &'a StepBlock) -> Row<'a> {
        let mut row = Row {
            above: 3.4,
            ..Row::default()
        };
        let indent = 9.0;
        let mut room = self.width() - indent;
        if let Some(picture) = &step.picture {
            row.marks.push(PageMark::Picture {
                picture,
                centre: at(self.right - PICTURE, PICTURE),
                radius_mm: PICTURE,
            });
            room -= 2.0 * PICTURE + GAP;
        }
        row.marks.push(words(
            self.left,
            4.6,
            5.0,
            Face::Italic,
            0.0,
            &format!("{}.", step.number),
        ));
        let mut y = 4.6;
        for line in fitted(&step.text, room / BODY, Face::Roman) {
            row.marks
                .push(words(self.left + indent, y, BODY, Face::Roman, 0.0, &line));
            y += BODY * LEADING;
        }
        y += 1.0;
        if !step.remark.is_empty() {
            for line in fitted(&step.remark, room / SMALL, Face::Italic) {
                row.marks.push(words(
                    self.left + indent,
                    y,
                    SMALL,
                    Face::Italic,
                    0.0,
                    &line,
                ));
                y += SMALL * LEADING;
            }
        }
        row.height = y - BODY + 1.0;
        if let Some(picture) = &step.picture {
            if picture.glass.is_some() {
                // Beneath the words, towards the place in the picture that it shows.
                let down = (row.height + GAP).max(2.0 * (PICTURE - GLASS)) + GLASS;
                row.marks.push(PageMark::Glass {
                    picture,
                    centre: at(self.left + indent + room - GLASS, down),
                    radius_mm: GLASS,
                });
                row.height = down + GLASS;
            }
            row.height = row.height.max(2.0 * PICTURE);
        }
        row
    }

    fn table<'a>(&self, table: &Table) -> Vec<Row<'a>> {
        let (cell, gap, leading, between) = if table.close {
            (CLOSE, 0.0, SOLID, 2.0)
        } else {
            (CELL, 0.5, LEADING, 3.0)
        };
        let shares: f64 = table.columns.iter().map(|column| column.share).sum();
        let mut x = self.left;
        let columns: Vec<(f64, f64, bool)> = table
            .columns
            .iter()
            .map(|column| {
                let width = (self.width() + between) * column.share / shares.max(1e-9);
                let place = (x, width - between, column.right);
                x += width;
                place
            })
            .collect();
        let set = |texts: &[String], size: f64, face: Face| {
            let mut row = Row::default();
            let mut most = 1;
            for (text, (x, width, right)) in texts.iter().zip(&columns) {
                let lines = fitted(text, width / size, face);
                most = most.max(lines.len());
                for (n, line) in lines.iter().enumerate() {
                    #[expect(clippy::cast_precision_loss, reason = "some lines of a cell")]
                    let y = size + n as f64 * size * leading;
                    let (x, part) = if *right { (x + width, 1.0) } else { (*x, 0.0) };
                    row.marks.push(words(x, y, size, face, part, line));
                }
            }
            #[expect(clippy::cast_precision_loss, reason = "some lines of a cell")]
            let height = most as f64 * size * leading + gap;
            row.height = height;
            row
        };
        let heads: Vec<String> = table.columns.iter().map(|one| one.head.clone()).collect();
        let mut head = set(&heads, SMALL.min(cell), Face::Italic);
        // Close lines leave less room for what reaches below them.
        let (under, beneath) = if table.close { (0.8, 0.3) } else { (0.3, 1.0) };
        head.marks
            .push(rule(self.left, head.height + under, self.right, 0.15));
        head.height += under + beneath;
        head.above = if table.close { 2.0 } else { 1.5 };
        head.keeps = true;
        let again = Box::new(head.clone());
        let mut rows = Vec::new();
        if heads.iter().any(|head| !head.is_empty()) {
            rows.push(head);
        }
        let last = table.rows.len().saturating_sub(1);
        // In a close table what begins a row goes on beside those that begin with nothing.
        let goes_on = |n: usize| {
            let row = table.rows.get(n).and_then(|row| row.first());
            table.close && row.is_some_and(String::is_empty)
        };
        let room = columns.first().map_or(0.0, |(_, width, _)| *width);
        // How far down from here it still reaches.
        let mut reaches = 0.0_f64;
        for (n, texts) in table.rows.iter().enumerate() {
            let mut row = match texts.split_first() {
                Some((side, others)) if table.close => {
                    let others = others.iter().cloned();
                    let texts: Vec<String> = std::iter::once(String::new()).chain(others).collect();
                    let mut row = set(&texts, cell, Face::Roman);
                    if !side.is_empty() {
                        let lines = fitted(side, room / cell, Face::Roman);
                        for (line, text) in lines.iter().enumerate() {
                            let y = cell + count(line) * cell * leading;
                            let line = words(self.left, y, cell, Face::Roman, 0.0, text);
                            row.marks.push(line);
                        }
                        reaches = count(lines.len()) * cell * leading;
                        row.above = if n == 0 { 0.0 } else { APART };
                    }
                    if !goes_on(n + 1) {
                        row.height = row.height.max(reaches);
                    }
                    reaches -= row.height;
                    row
                }
                _ => set(texts, cell, Face::Roman),
            };
            row.head = Some(again.clone());
            row.keeps = n < last && (table.whole || n == 0 || n + 1 == last || goes_on(n + 1));
            if table.summed && n == last && n > 0 {
                for mark in &mut row.marks {
                    *mark = mark_down(mark, 0.9);
                }
                row.height += 0.9;
                row.marks.push(rule(self.left, 0.2, self.right, 0.15));
            }
            rows.push(row);
        }
        rows
    }

    fn question<'a>(&self, question: &Question) -> Vec<Row<'a>> {
        let indent = 9.0;
        let room = self.width() - indent;
        let mut first = Row {
            above: 7.0,
            keeps: true,
            ..Row::default()
        };
        first.marks.push(words(
            self.left,
            4.6,
            5.0,
            Face::Italic,
            0.0,
            &format!("{}.", question.number),
        ));
        let mut y = 4.6;
        for line in fitted(&question.text, room / BODY, Face::Roman) {
            first
                .marks
                .push(words(self.left + indent, y, BODY, Face::Roman, 0.0, &line));
            y += BODY * LEADING;
        }
        for given in &question.given {
            y += 0.6;
            for line in fitted(given, (room - 4.0) / BODY, Face::Roman) {
                first.marks.push(words(
                    self.left + indent + 4.0,
                    y,
                    BODY,
                    Face::Roman,
                    0.0,
                    &line,
                ));
                y += BODY * LEADING;
            }
        }
        first.height = y - BODY + 1.0;
        let mut rows = vec![first];
        let (named, lined) = (self.left + indent + 4.0, self.right - 62.0);
        let last = question.asks.len().saturating_sub(1);
        for (n, what) in question.asks.iter().enumerate() {
            let mut row = Row {
                height: 7.6,
                // Ruled paper has lines no nearer than these.
                spare: 1.3,
                keeps: n < last,
                ..Row::default()
            };
            let base = 6.2;
            let what = shortened_to(what, (lined - named - 38.0) / BODY, Face::Italic);
            let long = text_width(&what, Face::Italic) * BODY;
            row.marks
                .push(words(named, base, BODY, Face::Italic, 0.0, &what));
            row.marks
                .push(dots(named + long + 2.0, base + 0.5, lined - 4.0));
            let on = "read on";
            let long = text_width(on, Face::Italic) * SMALL;
            row.marks
                .push(words(lined, base, SMALL, Face::Italic, 0.0, on));
            row.marks
                .push(dots(lined + long + 2.0, base + 0.5, self.right));
            rows.push(row);
        }
        rows
    }
}

/// A small number of columns or lines.
#[expect(clippy::cast_precision_loss, reason = "some columns or lines")]
fn count(number: usize) -> f64 {
    number as f64
}

fn words<'a>(x: f64, y: f64, size_mm: f64, face: Face, part: f64, text: &str) -> PageMark<'a> {
    let text = text.replace('\'', "’");
    let long = text_width(&text, face) * size_mm;
    PageMark::Words(Words {
        at: at(x - long * part, y),
        size_mm,
        face,
        text,
    })
}

fn rule<'a>(from: f64, y: f64, to: f64, width_mm: f64) -> PageMark<'a> {
    PageMark::Rule {
        from: at(from, y),
        to: at(to, y),
        width_mm,
        dotted: false,
    }
}

/// A line to write on.
fn dots<'a>(from: f64, y: f64, to: f64) -> PageMark<'a> {
    PageMark::Rule {
        from: at(from, y),
        to: at(to, y),
        width_mm: 0.25,
        dotted: true,
    }
}

fn mark_down<'a>(mark: &PageMark<'a>, by: f64) -> PageMark<'a> {
    match mark.clone() {
        PageMark::Words(one) => PageMark::Words(Words {
            at: one.at + at(0.0, by),
            ..one
        }),
        other => other,
    }
}
