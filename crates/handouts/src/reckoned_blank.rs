//! The sheet of a figure worked with the pen, its numbers left to be found.

use desk::words::with_signs_drawn;
use desk::{OpenedAnswer, OpenedRowAnswer, ReckonAnswer, SheetLineAnswer, SheetStepAnswer};
use press::{
    Block, Column, Figure, FigurePart, FigureTable, Form, FormLine, Handout, SumRow, Table,
};

/// How many steps that are alike have room beside each other to be written in.
const BESIDE: usize = 6;

/// A figure worked with the pen with its numbers left to be found, and the rows of the tables
/// beside them: an exercise, to which the worked sheet is the key. Steps that are alike are
/// one form, a column for each.
#[must_use]
pub fn reckoned_blank(answer: &ReckonAnswer) -> Handout {
    let mut blocks = vec![
        Block::Title(answer.working.title.clone()),
        Block::Lead(format!(
            "{} ({} calendar); {}",
            answer.moment.clock_time, answer.moment.calendar, answer.place.name
        )),
        Block::WriteIn(vec!["name".to_owned(), "date".to_owned()]),
        Block::Small(
            "Before every step stand the rows of the tables that it needs, and those about them. \
             Fill in every line; degrees to the minute, times to the second."
                .to_owned(),
        ),
    ];
    let mut number = 1;
    for steps in answer.working.steps.chunk_by(are_alike) {
        blocks.push(Block::Intro(told(steps, number)));
        for page in together(steps) {
            blocks.push(page);
        }
        match steps {
            [step] if !writes_at_once(step) => blocks.push(sum(step, number == 1)),
            [step] => blocks.push(form(&step.lines.iter().collect::<Vec<_>>(), &[])),
            several => {
                let count = several.len().div_ceil(BESIDE);
                for some in several.chunks(several.len().div_ceil(count)) {
                    let found = some.iter().filter_map(|step| step.lines.last());
                    let lines = some.first().map_or(&[][..], |step| step.lines.as_slice());
                    blocks.push(form(&found.collect::<Vec<_>>(), lines));
                }
            }
        }
        number += steps.len();
    }
    Handout {
        title: answer.working.title.clone(),
        foot: answer.place.name.clone(),
        blocks,
    }
}

/// Whether two steps write the same lines, but for what they find.
fn are_alike(one: &SheetStepAnswer, other: &SheetStepAnswer) -> bool {
    let lines = |step: &SheetStepAnswer| {
        let all = step.lines.split_last().map_or(&[][..], |(_, all)| all);
        all.iter().map(|line| line.what.clone()).collect::<Vec<_>>()
    };
    !lines(one).is_empty() && lines(one) == lines(other)
}

/// Whether a step only writes down what it finds, line by line.
fn writes_at_once(step: &SheetStepAnswer) -> bool {
    step.lines.iter().all(|line| line.sign == "=")
}

/// What is done; of steps that are alike, what the first does and what the others find.
fn told(steps: &[SheetStepAnswer], number: usize) -> String {
    let Some((first, others)) = steps.split_first() else {
        return String::new();
    };
    if others.is_empty() {
        return format!("{number}. {}", first.instruction);
    }
    let found = others.iter().filter_map(|step| step.lines.last());
    let found: Vec<&str> = found.map(|line| line.what.as_str()).collect();
    format!(
        "{number}–{}. {} So too: {}.",
        number + others.len(),
        first.instruction,
        found.join(", ")
    )
}

fn sum(step: &SheetStepAnswer, is_first: bool) -> Block {
    let lines = step.lines.iter().enumerate().map(|(place, line)| {
        // The first line of the first step is what one is given.
        let given = is_first && place == 0;
        let room = || "…………………".to_owned();
        let makes = line.sign == "=";
        SumRow {
            words: line.what.clone(),
            reason: String::new(),
            amount: match (makes, given) {
                (true, _) => String::new(),
                (false, true) => line.figure.clone(),
                (false, false) => format!("{} {}", line.sign, room()).trim().to_owned(),
            },
            result: if makes { room() } else { String::new() },
        }
    });
    Block::Sum(lines.collect())
}

/// A column for everything found; where there are no lines that lead to it, a line to write
/// it on.
fn form(found: &[&SheetLineAnswer], lines: &[SheetLineAnswer]) -> Block {
    let line = |line: &SheetLineAnswer, words: &str| {
        let makes = line.sign == "=";
        FormLine {
            words: words.to_owned(),
            sign: if makes { "" } else { line.sign }.to_owned(),
            makes,
        }
    };
    let last = lines.len().saturating_sub(1);
    let mut lines: Vec<FormLine> = lines
        .iter()
        .enumerate()
        .map(|(n, one)| line(one, if n == last { "found" } else { &one.what }))
        .collect();
    if lines.is_empty() {
        lines.extend(found.first().map(|one| line(one, "found")));
    }
    Block::Form(Form {
        columns: found.iter().map(|one| one.what.clone()).collect(),
        lines,
    })
}

/// The pages of tables that lie open beside steps, those of one table that have columns in
/// common made one.
fn together(steps: &[SheetStepAnswer]) -> Vec<Block> {
    let mut pages: Vec<OpenedAnswer> = Vec::new();
    for page in steps.iter().flat_map(|step| &step.opened) {
        let page = seen(page);
        let shares = |one: &OpenedAnswer| {
            let mut columns = one.columns.iter();
            one.table == page.table && columns.any(|column| page.columns.contains(column))
        };
        match pages.iter_mut().find(|one| shares(one)) {
            Some(one) => *one = merged(one, &page),
            None => pages.push(page),
        }
    }
    pages.iter().map(|page| laid_open(&taken(page))).collect()
}

/// Of a page that is too broad for paper the columns that are taken from.
fn taken(page: &OpenedAnswer) -> OpenedAnswer {
    const ROOM: usize = 8;
    let is_taken = |column: usize| {
        let mut rows = page.rows.iter();
        rows.any(|row| row.lit.get(column) == Some(&true))
    };
    let is_broad = page.columns.len() > ROOM;
    columns(page, |column| !is_broad || is_taken(column))
}

/// Of a broad page the columns that are taken from and those beside them.
fn seen(page: &OpenedAnswer) -> OpenedAnswer {
    /// How many columns have room beside each other.
    const ROOM: usize = 4;
    let is_taken = |column: usize| {
        let mut rows = page.rows.iter();
        rows.any(|row| row.lit.get(column) == Some(&true))
    };
    let is_near = |column: &usize| {
        let near = column.saturating_sub(1)..=column + 1;
        page.columns.len() <= ROOM || near.into_iter().any(is_taken)
    };
    columns(page, |column| is_near(&column))
}

/// Some columns of a page.
fn columns(page: &OpenedAnswer, is_seen: impl Fn(usize) -> bool) -> OpenedAnswer {
    fn of<T: Clone>(all: &[T], is_seen: impl Fn(usize) -> bool) -> Vec<T> {
        let seen = all
            .iter()
            .enumerate()
            .filter(|(column, _)| is_seen(*column));
        seen.map(|(_, one)| one.clone()).collect()
    }
    let row = |row: &OpenedRowAnswer| OpenedRowAnswer {
        row: row.row.clone(),
        cells: of(&row.cells, &is_seen),
        lit: of(&row.lit, &is_seen),
    };
    OpenedAnswer {
        columns: of(&page.columns, &is_seen),
        rows: page.rows.iter().map(row).collect(),
        ..page.clone()
    }
}

/// Two pages of one table: all rows and columns that are seen on either.
fn merged(one: &OpenedAnswer, other: &OpenedAnswer) -> OpenedAnswer {
    let joined = |mut all: Vec<String>, more: &mut dyn Iterator<Item = &String>| {
        for text in more {
            if !all.contains(text) {
                all.push(text.clone());
            }
        }
        // Numbers in their order; days and hours are the same on all pages.
        if all.iter().all(|text| text.parse::<u32>().is_ok()) {
            all.sort_by_key(|text| text.parse::<u32>().unwrap_or(0));
        }
        all
    };
    let columns = joined(one.columns.clone(), &mut other.columns.iter());
    let first = one.rows.iter().map(|row| row.row.clone()).collect();
    let rows = joined(first, &mut other.rows.iter().map(|row| &row.row));
    // What stands in a place of either page, and whether it is taken from there.
    let on = |page: &OpenedAnswer, row: &str, column: &str| {
        let row = page.rows.iter().find(|one| one.row == row)?;
        let place = page.columns.iter().position(|one| one == column)?;
        let cell = row.cells.get(place).filter(|cell| !cell.is_empty())?;
        Some((cell.clone(), row.lit.get(place) == Some(&true)))
    };
    let row = |row: String| {
        let both = |column: &String| [one, other].map(|page| on(page, &row, column));
        let places = columns.iter().map(|column| {
            let both = both(column);
            let is_lit = both.iter().flatten().any(|(_, is_lit)| *is_lit);
            let cell = both.into_iter().flatten().next();
            (cell.map(|(cell, _)| cell).unwrap_or_default(), is_lit)
        });
        let (cells, lit) = places.unzip();
        OpenedRowAnswer { row, cells, lit }
    };
    OpenedAnswer {
        rows: rows.into_iter().map(row).collect(),
        columns: columns.clone(),
        ..one.clone()
    }
}

/// A page of a table in print: a few rows across the page, many in strips.
fn laid_open(page: &OpenedAnswer) -> Block {
    /// How many rows stand beneath each other before they are parted into strips.
    const FEW: usize = 8;
    const STRIPS: usize = 3;
    if page.rows.len() <= FEW {
        let mut columns = vec![Column::left(&page.argument, 24.0)];
        let heads = page.columns.iter();
        columns.extend(heads.map(|head| Column::left(head, 15.0)));
        let row = |row: &OpenedRowAnswer| {
            let cells = row.cells.iter().map(|cell| with_signs_drawn(cell));
            std::iter::once(row.row.clone()).chain(cells).collect()
        };
        return Block::Table(Table {
            columns,
            rows: page.rows.iter().map(row).collect(),
            whole: true,
            close: true,
            ..Table::default()
        });
    }
    let plain = |text: &String| Figure {
        text: text.clone(),
        ..Figure::default()
    };
    let row = |row: &OpenedRowAnswer| {
        let cells = std::iter::once(&row.row).chain(&row.cells);
        cells.map(plain).collect()
    };
    let each = page.rows.len().div_ceil(STRIPS).div_ceil(5) * 5;
    let part = |rows: &[OpenedRowAnswer]| FigurePart {
        rows: rows.iter().map(row).collect(),
        ..FigurePart::default()
    };
    let heads = std::iter::once(&page.argument).chain(&page.columns);
    Block::Figures(FigureTable {
        heads: heads.map(|head| [head.clone(), String::new()]).collect(),
        parts: page.rows.chunks(each).map(part).collect(),
    })
}
