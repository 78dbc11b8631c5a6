use desk::{Cell, PrintedTable, Table, TableRequest};

use crate::arguments::TablesArguments;
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::interrupt;
use crate::picture::write_whole;
use crate::settings::Settings;
use crate::sheet::Sheet;

/// The word that asks for all of them in one.
const BOOK: &str = "book";

/// Prints a table, a book of them, or the list of those that there are.
pub(crate) fn run(arguments: &TablesArguments) -> Result<String, Failure> {
    let Some(name) = &arguments.name else {
        return list(arguments.json);
    };
    let request = request(name, arguments)?;
    let form = form(arguments)?;
    let (text, bytes) = if name.eq_ignore_ascii_case(BOOK) {
        book(&request, arguments, form)?
    } else {
        let printed = desk::table(&request, now_unix_s())?;
        match form {
            Form::Pdf => {
                let size = press::PageSize::parse(&arguments.page)?;
                let handout = handouts::table_handout(&printed);
                (String::new(), pdf(&handout, size)?)
            }
            Form::Csv => (printed.answer.csv(), Vec::new()),
            Form::Json => (json(&printed.answer)?, Vec::new()),
            Form::Text => (page(&printed), Vec::new()),
        }
    };
    let Some(path) = &arguments.output else {
        return Ok(text);
    };
    let bytes = if bytes.is_empty() {
        text.into_bytes()
    } else {
        bytes
    };
    write_whole(path, &bytes, arguments.overwrite)?;
    let shown = path.display().to_string();
    Ok(if arguments.json {
        serde_json::json!({ "file": shown }).to_string() + "\n"
    } else {
        shown + "\n"
    })
}

/// What is written.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Text,
    Csv,
    Json,
    Pdf,
}

/// By the file's end, or by what is said.
fn form(arguments: &TablesArguments) -> Result<Form, Failure> {
    let Some(path) = &arguments.output else {
        return Ok(match (arguments.csv, arguments.json) {
            (true, _) => Form::Csv,
            (_, true) => Form::Json,
            _ => Form::Text,
        });
    };
    let end = path.extension().and_then(|end| end.to_str());
    match end.map(str::to_lowercase).as_deref() {
        Some("pdf") => Ok(Form::Pdf),
        Some("csv") => Ok(Form::Csv),
        Some("json") => Ok(Form::Json),
        Some("txt") => Ok(Form::Text),
        _ => Err(Failure::bad_input(format!(
            "{} does not say by its end what to write; .pdf, .csv, .json or .txt would do",
            path.display()
        ))),
    }
}

fn request(name: &str, arguments: &TablesArguments) -> Result<TableRequest, Failure> {
    let kept = if arguments.no_settings {
        Settings::default()
    } else {
        Settings::kept()?
    };
    let (at, zone) = match (&arguments.at, kept.home) {
        (Some(at), _) => (Some(at.clone()), arguments.zone.clone()),
        (None, home) => (home, arguments.zone.clone().or(kept.zone)),
    };
    Ok(TableRequest {
        name: name.to_owned(),
        at,
        zone,
        clock: arguments.clock.clone(),
        year: arguments.year,
        month: arguments.month,
        calendar: arguments.calendar.clone(),
        hour: arguments.hour.clone(),
        obliquity: arguments.obliquity,
        houses: arguments.houses.clone().or(kept.houses),
        by: arguments.by.clone(),
    })
}

fn book(
    request: &TableRequest,
    arguments: &TablesArguments,
    form: Form,
) -> Result<(String, Vec<u8>), Failure> {
    let tables = desk::table_book(request, now_unix_s())?;
    match form {
        Form::Pdf => {
            let size = press::PageSize::parse(&arguments.page)?;
            let handout = handouts::table_book_handout(&tables);
            Ok((String::new(), pdf(&handout, size)?))
        }
        Form::Json => {
            let answers: Vec<_> = tables.iter().map(|one| &one.answer).collect();
            Ok((json(&serde_json::json!({ "tables": answers }))?, Vec::new()))
        }
        Form::Text => Ok((tables.iter().map(page).collect(), Vec::new())),
        Form::Csv => Err(Failure::bad_input(
            "a book has tables of many kinds, and a CSV file one; the name of a table, or \
             -o book.pdf, would do",
        )),
    }
}

/// A table or a book of them as a PDF, as long as it is waited for.
fn pdf(handout: &press::Handout, size: press::PageSize) -> Result<Vec<u8>, Failure> {
    interrupt::work(|patience| Ok(press::handout(handout, size, patience)?))
}

fn json(answer: &impl serde::Serialize) -> Result<String, Failure> {
    Ok(serde_json::to_string(answer).map_err(Failure::other)? + "\n")
}

fn list(as_json: bool) -> Result<String, Failure> {
    let kinds = desk::table_kinds();
    if as_json {
        return json(&kinds);
    }
    let mut text = String::new();
    for kind in &kinds {
        let made_for = kind.made_for;
        text.push_str(&format!(
            "{:<28}{}\n{:28}{made_for}\n",
            kind.name, kind.what, ""
        ));
    }
    text.push_str(&format!(
        "{BOOK:<28}all of them in one, with a contents page: -o book.pdf\n"
    ));
    Ok(text)
}

/// A table as a page of plain text.
fn page(printed: &PrintedTable) -> String {
    let answer = &printed.answer;
    let mut sheet = Sheet::default();
    sheet.line(&answer.title);
    sheet.line("");
    for sentence in &answer.definitions {
        sheet.paragraph(sentence);
    }
    sheet.paragraph(&answer.rounding);
    if let Some(interpolation) = &answer.interpolation {
        sheet.paragraph(interpolation);
    }
    let mut text = sheet.text();
    for columns in blocks(&printed.table) {
        block(&mut text, &printed.table, &columns);
    }
    text
}

/// As broad as a terminal is at least.
const WIDTH: usize = 96;
const GAP: usize = 2;

/// The columns that go side by side, in as few blocks as there must be, none of which
/// has many more than another.
fn blocks(table: &Table) -> Vec<Vec<usize>> {
    let widths = widths(table);
    let room = WIDTH.saturating_sub(argument_width(table));
    let total: usize = widths.iter().map(|width| width + GAP).sum();
    let count = total.div_ceil(room.max(1)).max(1);
    let each = widths.len().div_ceil(count).max(1);
    let columns: Vec<usize> = (0..widths.len()).collect();
    columns.chunks(each).map(<[usize]>::to_vec).collect()
}

fn argument_width(table: &Table) -> usize {
    let cells = table.rows().map(|row| length(&signed(&row.argument)));
    cells
        .chain([length(&table.head.argument.head)])
        .max()
        .unwrap_or(0)
}

fn widths(table: &Table) -> Vec<usize> {
    let of = |index: usize, head: &str| {
        let cells = table.rows().filter_map(|row| row.cells.get(index));
        let widest = cells.map(|cell| length(&signed(cell))).max();
        widest.unwrap_or(0).max(length(head))
    };
    let columns = table.head.columns.iter().enumerate();
    columns.map(|(index, one)| of(index, &one.head)).collect()
}

fn length(text: &str) -> usize {
    text.chars().count()
}

/// With its sign before it, where it has one.
fn signed(cell: &Cell) -> String {
    match (cell.figure(), cell.sign()) {
        (Some(figure), Some(sign)) => format!("{} {:>6}", sign.symbol(), figure.without_sign()),
        _ => cell.to_string(),
    }
}

/// Without its sign, in the room for both.
fn unsigned(cell: &Cell) -> String {
    match (cell.figure(), cell.sign()) {
        (Some(figure), Some(_)) => format!("  {:>6}", figure.without_sign()),
        _ => cell.to_string(),
    }
}

/// A block of columns: rows in fives, a sign said where it changes and at the head.
fn block(text: &mut String, table: &Table, columns: &[usize]) {
    let (widths, side) = (widths(table), argument_width(table));
    for part in &table.parts {
        text.push('\n');
        if !part.heading.is_empty() {
            text.push_str(&format!("{}\n\n", part.heading));
        }
        text.push_str(&format!("{:>side$}", table.head.argument.head));
        for index in columns {
            let width = widths[*index] + GAP;
            text.push_str(&format!("{:>width$}", table.head.columns[*index].head));
        }
        text.push('\n');
        let mut above: Option<&desk::TableRow> = None;
        for (number, row) in part.rows.iter().enumerate() {
            if number > 0 && number.is_multiple_of(5) {
                text.push('\n');
            }
            text.push_str(&format!("{:>side$}", signed(&row.argument)));
            for index in columns {
                let cell = &row.cells[*index];
                let same = above.is_some_and(|above| above.cells[*index].sign() == cell.sign());
                let written = if same { unsigned(cell) } else { signed(cell) };
                text.push_str(&format!("{written:>width$}", width = widths[*index] + GAP));
            }
            text.push('\n');
            above = Some(row);
        }
        for note in &part.notes {
            text.push('\n');
            let mut sheet = Sheet::default();
            sheet.paragraph(note);
            text.push_str(&sheet.text());
        }
    }
}
