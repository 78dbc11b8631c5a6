use drawing::{Face, text_width};
use instrument::Point;

use crate::fitting::fitted;
use crate::handout::{Figure, FigurePart, FigureTable};
use crate::leaf::Words;
use crate::row::{PageMark, Row};

/// The size of the figures, and the smallest that are still read by lamplight.
const SIZE: f64 = 3.2;
const LEAST: f64 = 2.85;
/// The distance of rows in sizes, and how much more parts five from five.
const LEADING: f64 = 1.13;
const FIVES: f64 = 0.28;
/// Room for a sign before its degrees, in sizes.
const SIGN: f64 = 1.05;
/// Room between columns, in sizes: as little as there may be, as is wanted, and as much as
/// a strip that stands alone is drawn apart.
const CLOSE: f64 = 0.6;
const BETWEEN: f64 = 0.85;
const WIDE: f64 = 1.9;
/// Between strips that stand side by side.
const STRIPS: f64 = 7.0;
/// How many rows a strip beside others has at most: more would not stand on a page.
const MOST_ROWS: usize = 60;
/// A strip of so many rows stands on one page.
const WHOLE_ROWS: usize = 35;
/// The thinnest rule that a printer keeps.
const HAIR: f64 = 0.1;

/// The least rows that begin a table on a page that others have begun.
const FEW_ROWS: usize = 15;

/// The room that a table has.
pub(crate) struct Space {
    pub(crate) left: f64,
    pub(crate) right: f64,
    /// How high a page is.
    pub(crate) page: f64,
    /// How much of it is left where the table begins.
    pub(crate) left_of_page: f64,
}

/// A table of figures as rows of a page: as many strips side by side as there is room
/// for, their rows in fives, a sign said where it changes and at the head of each five.
pub(crate) fn figures<'a>(table: &FigureTable, space: &Space) -> Vec<Row<'a>> {
    let mut rows = Vec::new();
    let sheet = Sheet {
        widths: widths(table),
        heads: &table.heads,
    };
    let width = space.right - space.left;
    let count: usize = table.parts.iter().map(|part| part.rows.len()).sum();
    for (number, columns) in sheet.blocks(width).into_iter().enumerate() {
        let strip = Strip::of(&sheet, columns, width, count > WHOLE_ROWS);
        // What stands beneath other columns of the table begins where they end.
        let left_of_page = if number == 0 { space.left_of_page } else { 0.0 };
        let (strip, bands) = banded(strip, table, width, (left_of_page, space.page));
        for band in &bands {
            rows.extend(strip.band(band, space.left, space.right));
        }
    }
    rows
}

/// Pieces that stand side by side, band beneath band. One long part goes on from strip to
/// strip and from page to page; several stand beside each other, all in one band if that can
/// be.
fn banded<'s, 't>(
    strip: Strip<'s>,
    table: &'t FigureTable,
    width: f64,
    (left_of_page, page): (f64, f64),
) -> (Strip<'s>, Vec<Vec<Piece<'t>>>) {
    let beside = strip.beside(width);
    let parts = &table.parts;
    if beside > 1 {
        let here = strip.fitting(table, left_of_page);
        if let Some(band) = one_band(parts, beside, here) {
            return (strip, vec![band]);
        }
        if let [part] = parts.as_slice()
            && part.rows.len() > WHOLE_ROWS
        {
            return strip.long(table, part, (left_of_page, page), beside);
        }
    }
    let most = if beside > 1 { MOST_ROWS } else { usize::MAX };
    let pieces: Vec<Piece<'_>> = parts
        .iter()
        .flat_map(|part| Piece::of(part, most))
        .collect();
    let count = pieces.len().div_ceil(beside).max(1);
    let each = pieces.len().div_ceil(count).max(1);
    let longest = pieces.iter().map(|piece| piece.rows.len()).max();
    let strip = strip.shrunk(table, longest.unwrap_or(0), count, page);
    let mut pieces = pieces.into_iter();
    let bands = std::iter::from_fn(|| {
        let band: Vec<Piece<'_>> = pieces.by_ref().take(each).collect();
        (!band.is_empty()).then_some(band)
    });
    (strip, bands.collect())
}

/// All parts in one band of as few rows as there must be, and no more than are given room;
/// none if that cannot be.
fn one_band(parts: &[FigurePart], beside: usize, most: usize) -> Option<Vec<Piece<'_>>> {
    let cut = |height: usize| {
        let pieces = parts.iter().flat_map(move |part| {
            let is_long = part.rows.len() > WHOLE_ROWS;
            Piece::of(part, if is_long { height } else { usize::MAX })
        });
        pieces.collect::<Vec<_>>()
    };
    let mut bands = (1..=most / 5).map(|fives| cut(fives * 5));
    bands.find(|band| band.len() <= beside && band.iter().all(|piece| piece.rows.len() <= most))
}

/// One long part: down the first strip, then down the one beside it, page after page, `here`
/// rows deep on the first; on the last page the strips are equally long.
fn long_bands(part: &FigurePart, beside: usize, here: usize, page: usize) -> Vec<Vec<Piece<'_>>> {
    // Where only a few would stand on it, a page is left to what stands there.
    let mut most = if here < FEW_ROWS { page } else { here };
    let mut rest = part.rows.as_slice();
    let mut bands = Vec::new();
    while !rest.is_empty() {
        let even = rest.len().div_ceil(beside).div_ceil(5) * 5;
        let each = even.min(most).max(5);
        let (band, after) = rest.split_at((each * beside).min(rest.len()));
        let count = band.len().div_ceil(each);
        let piece = |(number, rows)| Piece {
            part,
            rows,
            last: after.is_empty() && number == count,
        };
        bands.push((1..).zip(band.chunks(each)).map(piece).collect());
        rest = after;
        most = page;
    }
    bands
}

/// Rows of a part that stand beneath one another.
struct Piece<'t> {
    part: &'t FigurePart,
    rows: &'t [Vec<Figure>],
    /// Whether the part ends with it.
    last: bool,
}

impl<'t> Piece<'t> {
    /// A part in as few pieces of so many rows at most as there must be, none much longer than
    /// another, and each of whole fives.
    fn of(part: &'t FigurePart, most: usize) -> Vec<Piece<'t>> {
        let count = part.rows.len().div_ceil(most).max(1);
        let each = part.rows.len().div_ceil(count).div_ceil(5).max(1) * 5;
        let chunks: Vec<&[Vec<Figure>]> = part.rows.chunks(each).collect();
        let last = chunks.len().saturating_sub(1);
        let piece = |(index, rows): (usize, &'t [Vec<Figure>])| Piece {
            part,
            rows,
            last: index == last,
        };
        chunks.into_iter().enumerate().map(piece).collect()
    }
}

/// What a table takes, in sizes.
struct Sheet<'t> {
    /// Of each column: the figures, and the room before them for a sign.
    widths: Vec<(f64, f64)>,
    heads: &'t [[String; 2]],
}

/// The widest figures of each column, and its heads.
fn widths(table: &FigureTable) -> Vec<(f64, f64)> {
    let of = |(index, heads): (usize, &[String; 2])| {
        let rows = table.parts.iter().flat_map(|part| &part.rows);
        let cells: Vec<&Figure> = rows.filter_map(|row| row.get(index)).collect();
        let sign = if cells.iter().any(|cell| cell.sign.is_some()) {
            SIGN
        } else {
            0.0
        };
        let widest = |widths: &mut dyn Iterator<Item = f64>| widths.fold(0.0, f64::max);
        let figures = widest(&mut cells.iter().map(|cell| text_width(&cell.text, Face::Roman)));
        // A head is broken at its blanks.
        let words = heads.iter().flat_map(|head| head.split(' '));
        let head = widest(&mut words.map(|word| text_width(word, Face::Italic) * HEAD));
        (figures.max(head - sign), sign)
    };
    table.heads.iter().enumerate().map(of).collect()
}

/// Heads are so much smaller than figures.
const HEAD: f64 = 0.88;

impl<'t> Sheet<'t> {
    /// How much columns take, with a room behind each.
    fn long(&self, columns: &[usize], between: f64) -> f64 {
        let of = |index: &usize| {
            let (figures, sign) = self.widths.get(*index).copied().unwrap_or_default();
            figures + sign + between
        };
        columns.iter().map(of).sum()
    }

    /// The columns that go side by side, the argument before them, in as few blocks as
    /// there must be.
    fn blocks(&self, width: f64) -> Vec<Vec<usize>> {
        let columns: Vec<usize> = (1..self.widths.len()).collect();
        let side = self.long(&[0], CLOSE);
        let room = (width / LEAST + CLOSE - side).max(1.0);
        let count = (self.long(&columns, CLOSE) / room).ceil().max(1.0) as usize;
        let each = columns.len().div_ceil(count).max(1);
        columns
            .chunks(each)
            .map(|some| [&[0], some].concat())
            .collect()
    }
}

/// A strip of columns, in its size.
struct Strip<'t> {
    size: f64,
    /// Room behind each column, in sizes.
    between: f64,
    columns: Vec<usize>,
    sheet: &'t Sheet<'t>,
}

impl<'t> Strip<'t> {
    /// As large as is wanted, or as there is room; what stands alone is drawn apart. Of a long
    /// table two are set side by side where that can be read.
    fn of(sheet: &'t Sheet<'t>, columns: Vec<usize>, width: f64, is_long: bool) -> Strip<'t> {
        let close = (sheet.long(&columns, CLOSE) - CLOSE).max(1.0);
        let gaps = columns.len().saturating_sub(1).max(1) as f64;
        let fill = |width: f64, size: f64| (width / size - sheet.long(&columns, 0.0)) / gaps;
        let size = (width / close).min(SIZE);
        let strip = Strip {
            size,
            between: fill(width, size).clamp(CLOSE, BETWEEN),
            columns: columns.clone(),
            sheet,
        };
        if strip.beside(width) > 1 {
            return strip;
        }
        // A hair less than half, so that both find room.
        let half = (width - STRIPS) / 2.0 - 0.01;
        let size = (half / close).min(SIZE);
        if is_long && size >= LEAST {
            let between = fill(half, size).clamp(CLOSE, BETWEEN);
            return Strip {
                size,
                between,
                ..strip
            };
        }
        let between = fill(width, strip.size).clamp(CLOSE, WIDE);
        Strip { between, ..strip }
    }
}

fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

fn rule<'a>(from: Point, to: Point) -> PageMark<'a> {
    PageMark::Rule {
        from,
        to,
        width_mm: HAIR,
        dotted: false,
    }
}

impl<'t> Strip<'t> {
    fn width(&self) -> f64 {
        (self.sheet.long(&self.columns, self.between) - self.between) * self.size
    }

    /// How high so many rows are, without their heads.
    fn high(&self, rows: usize) -> f64 {
        let fives = rows.saturating_sub(1) / 5;
        self.size * (rows as f64 * LEADING + fives as f64 * FIVES)
    }

    /// The height of what stands above the rows.
    fn head(&self, table: &FigureTable) -> f64 {
        let pieces = table
            .parts
            .iter()
            .flat_map(|part| Piece::of(part, usize::MAX));
        let pieces: Vec<Piece<'_>> = pieces.collect();
        let head = self.heads(&pieces, &[]);
        head.above + head.height
    }

    /// How many rows in whole fives find room beneath their heads.
    fn fitting(&self, table: &FigureTable, high: f64) -> usize {
        let room = high - self.head(table);
        let fits = |fives: &usize| self.high(fives * 5) <= room;
        (1..=MOST_ROWS).take_while(fits).last().unwrap_or(0) * 5
    }

    /// One long part in bands, as large as lets it stand on as few pages as can be.
    fn long<'p>(
        self,
        table: &FigureTable,
        part: &'p FigurePart,
        (left_of_page, page): (f64, f64),
        beside: usize,
    ) -> (Strip<'t>, Vec<Vec<Piece<'p>>>) {
        const STEP: f64 = 0.05;
        let mut best: Option<(Strip<'t>, Vec<Vec<Piece<'p>>>)> = None;
        let mut size = self.size;
        while best.is_none() || size >= LEAST {
            let strip = Strip {
                size,
                columns: self.columns.clone(),
                ..self
            };
            let [here, all_page] = [left_of_page, page].map(|high| strip.fitting(table, high));
            let bands = long_bands(part, beside, here, all_page);
            let is_fewer = |(_, others): &(_, Vec<_>)| bands.len() < others.len();
            if best.as_ref().is_none_or(is_fewer) {
                best = Some((strip, bands));
            }
            size -= STEP;
        }
        best.unwrap_or((self, Vec::new()))
    }

    /// In a smaller size, if one more band then finds room on a page.
    fn shrunk(self, table: &FigureTable, rows: usize, bands: usize, page: f64) -> Strip<'t> {
        let band = self.head(table) + self.high(rows);
        let more = (page / band).floor() + 1.0;
        let size = self.size * page / (more * band) * 0.999;
        let has_notes = table.parts.iter().any(|part| !part.notes.is_empty());
        if more > 1.0 && more <= bands as f64 && size >= LEAST && !has_notes {
            Strip { size, ..self }
        } else {
            self
        }
    }

    /// How many stand side by side.
    fn beside(&self, width: f64) -> usize {
        ((width + STRIPS) / (self.width() + STRIPS))
            .floor()
            .max(1.0) as usize
    }

    /// Pieces side by side, with heads, and beneath them what is told of their parts.
    fn band<'a>(&self, pieces: &[Piece<'_>], left: f64, right: f64) -> Vec<Row<'a>> {
        let starts: Vec<f64> = (0..pieces.len())
            .map(|index| left + index as f64 * (self.width() + STRIPS))
            .collect();
        let head = self.heads(pieces, &starts);
        let longest = pieces.iter().map(|piece| piece.rows.len()).max();
        let longest = longest.unwrap_or(0);
        let whole = pieces.len() > 1 || longest <= WHOLE_ROWS;
        let mut rows = vec![head.clone()];
        for number in 0..longest {
            let mut row = Row {
                height: self.size * LEADING,
                keeps: number + 1 < longest && (whole || !(number + 1).is_multiple_of(5)),
                head: Some(Box::new(head.clone())),
                ..Row::default()
            };
            let base = self.size;
            let fives = number > 0 && number.is_multiple_of(5);
            let down = if fives { self.size * FIVES } else { 0.0 };
            row.height += down;
            for (piece, x) in pieces.iter().zip(&starts) {
                let Some(cells) = piece.rows.get(number) else {
                    continue;
                };
                // Each five begins with its signs: the first of them may head a page.
                let above = number.checked_sub(1).filter(|_| !number.is_multiple_of(5));
                let above = above.and_then(|above| piece.rows.get(above));
                self.cells(&mut row, cells, above, at(*x, base + down));
                // The rule beside the argument runs down without a gap.
                let edge =
                    x + (self.sheet.long(&[0], self.between) - self.between * 0.5) * self.size;
                row.marks.push(rule(at(edge, 0.0), at(edge, row.height)));
            }
            rows.push(row);
        }
        for piece in pieces.iter().filter(|piece| piece.last) {
            for note in &piece.part.notes {
                rows.extend(note_rows(note, left, right));
            }
        }
        rows
    }

    fn cells(&self, row: &mut Row<'_>, cells: &[Figure], above: Option<&Vec<Figure>>, from: Point) {
        let mut x = from.x;
        for index in &self.columns {
            let (figures, sign) = self.sheet.widths.get(*index).copied().unwrap_or_default();
            let Some(cell) = cells.get(*index) else {
                continue;
            };
            let changed =
                above.is_none_or(|above| above.get(*index).and_then(|cell| cell.sign) != cell.sign);
            if let (Some(character), true) = (cell.sign, changed) {
                self.write(row, at(x, from.y), 0.0, character.to_string());
            }
            if cell.is_words {
                self.write(
                    row,
                    at(x + sign * self.size, from.y),
                    0.0,
                    cell.text.clone(),
                );
            } else {
                let end = x + (sign + figures) * self.size;
                self.write(row, at(end, from.y), 1.0, cell.text.clone());
            }
            x += (sign + figures + self.between) * self.size;
        }
    }

    fn write(&self, row: &mut Row<'_>, place: Point, part: f64, text: String) {
        let long = text_width(&text, Face::Roman) * self.size;
        row.marks.push(PageMark::Words(Words {
            at: at(place.x - long * part, place.y),
            size_mm: self.size,
            face: Face::Roman,
            text,
        }));
    }

    /// What stands above pieces: the parts' headings, the columns' names and units.
    fn heads<'a>(&self, pieces: &[Piece<'_>], starts: &[f64]) -> Row<'a> {
        let mut row = Row {
            above: 3.0,
            keeps: true,
            ..Row::default()
        };
        let mut y = 0.0;
        if pieces.iter().any(|piece| !piece.part.heading.is_empty()) {
            let size = self.size * 1.2;
            y += size * 1.15;
            for (piece, x) in pieces.iter().zip(starts) {
                row.marks.push(PageMark::Words(Words {
                    at: at(*x, y),
                    size_mm: size,
                    face: Face::Italic,
                    text: piece.part.heading.clone(),
                }));
            }
            y += size * 0.35;
        }
        let size = self.size * HEAD;
        // Names in as many lines as the longest takes, ending together; units beneath.
        let names: Vec<Vec<String>> = self
            .columns
            .iter()
            .map(|index| {
                let (figures, sign) = self.sheet.widths.get(*index).copied().unwrap_or_default();
                let room = (figures + sign + self.between * 0.5) / HEAD;
                let name = self.sheet.heads.get(*index).map_or("", |[name, _]| name);
                fitted(name, room, Face::Italic)
            })
            .collect();
        let lines = names.iter().map(Vec::len).max().unwrap_or(0);
        let has_units = self.sheet.heads.iter().any(|[_, units]| !units.is_empty());
        let units_at = y + size * 1.15 * (lines + usize::from(has_units)) as f64;
        for x in starts {
            let mut edge = *x;
            for (index, name) in self.columns.iter().zip(&names) {
                let (figures, sign) = self.sheet.widths.get(*index).copied().unwrap_or_default();
                let end = edge + (sign + figures) * self.size;
                let mut put = |text: &str, y: f64| {
                    let long = text_width(text, Face::Italic) * size;
                    row.marks.push(PageMark::Words(Words {
                        at: at(end - long, y),
                        size_mm: size,
                        face: Face::Italic,
                        text: text.to_owned(),
                    }));
                };
                for (n, line) in name.iter().enumerate() {
                    let line_from_last =
                        (name.len() - n) as f64 - if has_units { 0.0 } else { 1.0 };
                    put(line, units_at - size * 1.15 * line_from_last);
                }
                let units = self.sheet.heads.get(*index).map_or("", |[_, units]| units);
                put(units, units_at);
                edge = end + self.between * self.size;
            }
        }
        let under = units_at + size * 0.42;
        for x in starts {
            let end = x + self.width();
            row.marks.push(rule(at(*x, under), at(end, under)));
        }
        row.height = under + self.size * 0.25;
        row
    }
}

/// What is told beneath a part, in small letters across the page.
fn note_rows<'a>(note: &str, left: f64, right: f64) -> Vec<Row<'a>> {
    const SMALL: f64 = 2.95;
    let lines = fitted(note, (right - left) / SMALL, Face::Roman);
    let row = |(index, text): (usize, String)| Row {
        above: if index == 0 { 2.2 } else { 0.0 },
        height: SMALL * 1.28,
        marks: vec![PageMark::Words(Words {
            at: at(left, SMALL),
            size_mm: SMALL,
            face: Face::Roman,
            text,
        })],
        ..Row::default()
    };
    lines.into_iter().enumerate().map(row).collect()
}
