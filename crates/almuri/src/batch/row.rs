use std::io::{BufRead, Read};
use std::path::Path;

use ::casebook::{CsvFor, Parting};
use csv::StringRecord;
use desk::{Batch, BatchFigure, BatchRow};
use serde::Serialize;

use crate::casebook::{csv_for, not_for_spreadsheets};
use crate::failure::Failure;

/// The longest header.
pub(super) const MOST_OF_HEAD: usize = 64 * 1024;

/// The first line, or as much of it as a header may be, taken out of what comes.
pub(super) fn head(input: &mut impl BufRead) -> std::io::Result<Vec<u8>> {
    let mut line = Vec::new();
    input
        .take(MOST_OF_HEAD as u64)
        .read_until(b'\n', &mut line)?;
    Ok(line)
}

/// What the figures are written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    Csv(CsvFor),
    JsonLines,
}

impl Form {
    /// By the end of the file's name.
    pub(super) fn of(path: &Path, for_spreadsheets: bool) -> Result<Form, Failure> {
        if path.as_os_str() == "-" {
            return Ok(Form::Csv(csv_for(for_spreadsheets)));
        }
        match ending(path).as_deref() {
            Some("csv") => Ok(Form::Csv(csv_for(for_spreadsheets))),
            Some("jsonl") if for_spreadsheets => Err(not_for_spreadsheets(path)),
            Some("jsonl") => Ok(Form::JsonLines),
            _ => Err(Failure::bad_input(format!(
                "{} ends neither in .csv nor in .jsonl; one of them would do",
                path.display()
            ))),
        }
    }
}

/// The columns that a row may have.
const KNOWN: [&str; 8] = [
    "when", "at", "name", "zone", "clock", "calendar", "which", "houses",
];

/// Where they stand in the table at hand.
#[derive(Clone, Debug)]
pub(super) struct Columns {
    places: [Option<usize>; KNOWN.len()],
    width: usize,
    parting: Parting,
}

/// A row of JSON lines.
#[derive(Serialize)]
struct Line<'a> {
    line: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<&'a str>,
    when: &'a str,
    at: &'a str,
    figure: Option<&'a BatchFigure>,
    error: Option<&'a str>,
}

impl Columns {
    /// The columns that a row needs.
    pub(super) const NEEDED: [&str; 2] = ["when", "at"];

    pub(super) fn of(header: &StringRecord, parting: Parting) -> Result<Columns, Failure> {
        let mut places = [None; KNOWN.len()];
        for (index, name) in header.iter().enumerate() {
            let name = ::casebook::column_name(name);
            let Some(known) = KNOWN.iter().position(|known| *known == name) else {
                // A table may have columns of its own.
                continue;
            };
            if let Some(place) = places.get_mut(known) {
                if place.is_some() {
                    return Err(Failure::bad_input(format!(
                        "the column {name} is there twice; once would do"
                    )));
                }
                *place = Some(index);
            }
        }
        if let [Some(_), Some(_), ..] = places {
            return Ok(Columns {
                places,
                width: header.len(),
                parting,
            });
        }
        let there: Vec<&str> = header.iter().take(20).collect();
        Err(Failure::bad_input(format!(
            "the table has the columns {}; it needs `when` and `at`, and may have {}",
            there.join(", "),
            KNOWN.get(2..).unwrap_or_default().join(", ")
        )))
    }

    fn field<'a>(&self, record: &'a StringRecord, known: usize) -> Option<&'a str> {
        let place = self.places.get(known).copied().flatten()?;
        record
            .get(place)
            .map(str::trim)
            .filter(|text| !text.is_empty())
    }

    /// The first line of the output.
    pub(super) fn head(&self, form: Form, batch: &Batch) -> Vec<u8> {
        match form {
            Form::JsonLines => Vec::new(),
            Form::Csv(_) => {
                format!("line,name,when,at,error,{}\n", batch.columns().join(",")).into_bytes()
            }
        }
    }

    /// Writes the line of a row; false where it has no figure.
    pub(super) fn write(
        &self,
        record: &StringRecord,
        form: Form,
        batch: &mut Batch,
        out: &mut String,
    ) -> bool {
        let line = self.parting.line(record.position());
        let figure = self.figure(record, batch);
        let (when, at) = (
            self.field(record, 0).unwrap_or(""),
            self.field(record, 1).unwrap_or(""),
        );
        let name = self.field(record, 2);
        match form {
            Form::JsonLines => {
                let row = Line {
                    line,
                    name,
                    when,
                    at,
                    figure: figure.as_ref().ok(),
                    error: figure.as_ref().err().map(String::as_str),
                };
                // Texts and numbers, none of which can fail to be written.
                out.push_str(&serde_json::to_string(&row).unwrap_or_default());
            }
            Form::Csv(csv_for) => {
                out.push_str(&line.to_string());
                let error = figure.as_ref().err().map_or("", String::as_str);
                for text in [name.unwrap_or(""), when, at, error] {
                    out.push(',');
                    quoted(out, &csv_for.cell(text));
                }
                out.push(',');
                match &figure {
                    Ok(figure) => figure.write_csv(out),
                    // One comma fewer than there are columns.
                    Err(_) => out.extend(std::iter::repeat_n(',', batch.columns().len() - 1)),
                }
            }
        }
        out.push('\n');
        figure.is_ok()
    }

    fn figure(&self, record: &StringRecord, batch: &mut Batch) -> Result<BatchFigure, String> {
        if record.is_empty() {
            return Err("the row is no text in UTF-8".to_owned());
        }
        if record.len() != self.width {
            return Err(format!(
                "the row has {} fields, and the header {}",
                record.len(),
                self.width
            ));
        }
        let needed = |known: usize, what: &str| {
            self.field(record, known)
                .ok_or_else(|| format!("{what} is missing"))
        };
        let at = needed(1, "a place")?;
        self.parting.is_no_decimal_comma(at)?;
        let row = BatchRow {
            when: needed(0, "a date and time")?,
            at,
            zone: self.field(record, 3),
            clock: self.field(record, 4),
            calendar: self.field(record, 5),
            which: self.field(record, 6),
            houses: self.field(record, 7),
        };
        batch.figure(row).map_err(|refusal| refusal.message)
    }
}

/// A field, in quotes where it needs them.
fn quoted(out: &mut String, text: &str) {
    if text.contains(['"', ',', '\n', '\r']) {
        out.push('"');
        out.push_str(&text.replace('"', "\"\""));
        out.push('"');
    } else {
        out.push_str(text);
    }
}

/// The end of a file's name, in small letters.
fn ending(path: &Path) -> Option<String> {
    Some(path.extension()?.to_str()?.to_lowercase())
}
