use std::borrow::Cow;
use std::io::{self, Read, Write};

use crate::imported::{Imported, MOST_AT_ONCE, NoCasebook, too_many};
use crate::part::Fill;
use crate::parting::{Parting, column_name};
use crate::{Case, GivenMark, Reading};
#[cfg(feature = "book")]
use crate::{CaseId, Casebook, CasebookError, Part};

/// The columns of a casebook as comma-separated values, in the order they are
/// written. They may be read in any order; `name`, `when` and `at` are needed.
///
/// `tags` are separated by semicolons; `readings` are `what=degree`, and `marks`
/// `what=mark`, so separated too. The kept figure, and who read or what was remarked,
/// are in the JSON alone.
pub const CSV_COLUMNS: [&str; 16] = [
    "name", "when", "at", "zone", "clock", "calendar", "which", "houses", "with", "by", "sun",
    "plates", "readings", "marks", "tags", "note",
];

/// Reads cases from comma-separated values with a header; semicolons or tabs may part
/// them ([`Parting`]), and then a place such as `42,88`, which may be one number with a
/// decimal comma, is refused. `check` says what else may be wrong with one.
///
/// # Errors
/// When the text is no such table at all.
pub fn read_csv(
    mut text: impl Read,
    check: impl Fn(&Case) -> Result<(), String>,
) -> Result<Imported, NoCasebook> {
    let mut whole = Vec::new();
    text.read_to_end(&mut whole)
        .map_err(|error| NoCasebook(format!("the table cannot be read: {error}")))?;
    let parting = Parting::of(&whole, &["name", "when", "at"]);
    let rows = || {
        csv::ReaderBuilder::new()
            .flexible(true)
            .delimiter(parting.separator)
            .from_reader(whole.as_slice())
    };
    // Counted before one is looked through, for that takes longer.
    if rows().byte_records().nth(MOST_AT_ONCE).is_some() {
        return Err(NoCasebook(too_many()));
    }
    let mut reader = rows();
    let header = reader
        .headers()
        .map_err(|error| NoCasebook(format!("this is no table: {error}")))?
        .clone();
    let header: Vec<String> = header.iter().map(column_name).collect();
    if let Some(unknown) = header
        .iter()
        .find(|name| !CSV_COLUMNS.contains(&name.as_str()))
    {
        let shown: String = unknown.chars().take(40).collect();
        return Err(NoCasebook(format!(
            "there is no column {shown:?}; {} would do",
            CSV_COLUMNS.join(", ")
        )));
    }
    let doubled = header
        .iter()
        .enumerate()
        .find(|(n, name)| header.iter().take(*n).any(|other| other == *name));
    if let Some((_, name)) = doubled {
        return Err(NoCasebook(format!(
            "the column {name} is there twice; once would do"
        )));
    }
    let mut imported = Imported::default();
    for record in reader.records() {
        match record {
            Ok(record) => {
                let line = parting.line(record.position());
                let case = if record.len() == header.len() {
                    case(&header, &record).and_then(|case| {
                        parting.is_no_decimal_comma(&case.at)?;
                        Ok(case)
                    })
                } else {
                    Err(format!(
                        "{} fields, and the header has {}",
                        record.len(),
                        header.len()
                    ))
                };
                imported.row(line, case, &check);
            }
            Err(error) => {
                let line = parting.line(error.position());
                imported.row(line, Err(error.to_string()), &check);
            }
        }
        imported.is_worth_going_on()?;
    }
    Ok(imported)
}

fn case(header: &[String], record: &csv::StringRecord) -> Result<Case, String> {
    let mut case = Case::default();
    for (name, value) in header.iter().zip(record.iter()) {
        let said = (!value.trim().is_empty()).then(|| value.trim().to_owned());
        match name.as_str() {
            "name" => case.name = said.unwrap_or_default(),
            "when" => case.when = said.unwrap_or_default(),
            "at" => case.at = said.unwrap_or_default(),
            "zone" => case.zone = said,
            "clock" => case.clock = said,
            "calendar" => case.calendar = said,
            "which" => case.which = said,
            "houses" => case.houses = said,
            "with" => case.with = said,
            "by" => case.by = said,
            "sun" => case.sun = said,
            "plates" => case.plates = said,
            "note" => value.clone_into(&mut case.note),
            "tags" => case.tags = parts(value).map(str::to_owned).collect(),
            "readings" => {
                case.readings = pairs(name, value)?
                    .map(|(what, degree)| Reading {
                        what,
                        degree,
                        who: None,
                    })
                    .collect();
            }
            _ => {
                case.marks = pairs(name, value)?
                    .map(|(what, mark)| GivenMark {
                        what,
                        mark,
                        remark: String::new(),
                    })
                    .collect();
            }
        }
    }
    Ok(case)
}

fn parts(value: &str) -> impl Iterator<Item = &str> {
    value
        .split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
}

fn pairs(name: &str, value: &str) -> Result<impl Iterator<Item = (String, String)>, String> {
    let pairs: Result<Vec<_>, String> = parts(value)
        .map(|part| {
            let (what, is) = part.split_once('=').ok_or_else(|| {
                let shown: String = part.chars().take(40).collect();
                format!("{name}: {shown:?} is not of the form what=value")
            })?;
            Ok((what.trim().to_owned(), is.trim().to_owned()))
        })
        .collect();
    Ok(pairs?.into_iter())
}

/// Whom a table is written for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CsvFor {
    /// Programs, [`read_csv`] among them: every cell is what was kept.
    Reading,
    /// Spreadsheets, which take some texts for formulas: those begin with an apostrophe.
    Spreadsheets,
}

impl CsvFor {
    /// A text as it stands in a cell. What begins with `=`, `+`, `-`, `@`, a tab or a
    /// carriage return is a formula to the common spreadsheets (OWASP, "CSV Injection").
    #[must_use]
    pub fn cell(self, text: &str) -> Cow<'_, str> {
        match self {
            CsvFor::Spreadsheets if text.starts_with(['=', '+', '-', '@', '\t', '\r']) => {
                Cow::Owned(format!("'{text}"))
            }
            CsvFor::Reading | CsvFor::Spreadsheets => Cow::Borrowed(text),
        }
    }
}

/// Writes cases, one in each row.
#[derive(Debug)]
pub struct CsvCases<W: Write> {
    rows: csv::Writer<W>,
    csv_for: CsvFor,
    fill: Fill,
}

impl<W: Write> CsvCases<W> {
    /// Begins the table.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn begin(csv_for: CsvFor, out: W) -> io::Result<CsvCases<W>> {
        let mut rows = csv::Writer::from_writer(out);
        rows.write_record(CSV_COLUMNS).map_err(io::Error::other)?;
        Ok(CsvCases {
            rows,
            csv_for,
            fill: Fill::default(),
        })
    }

    /// Writes a case, unless the table would be more than is read in at once: says whether
    /// it did.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn case(&mut self, case: &Case) -> io::Result<bool> {
        if self.fill.is_full() {
            return Ok(false);
        }
        let said = |text: &Option<String>| text.clone().unwrap_or_default();
        let readings: Vec<String> = case
            .readings
            .iter()
            .map(|one| format!("{}={}", one.what, one.degree))
            .collect();
        let marks: Vec<String> = case
            .marks
            .iter()
            .map(|one| format!("{}={}", one.what, one.mark))
            .collect();
        let row = [
            case.name.clone(),
            case.when.clone(),
            case.at.clone(),
            said(&case.zone),
            said(&case.clock),
            said(&case.calendar),
            said(&case.which),
            said(&case.houses),
            said(&case.with),
            said(&case.by),
            said(&case.sun),
            said(&case.plates),
            readings.join("; "),
            marks.join("; "),
            case.tags.join("; "),
            case.note.clone(),
        ];
        self.fill.takes(row.iter().map(|text| text.len() + 1).sum());
        let row = row.iter().map(|text| self.csv_for.cell(text).into_owned());
        self.rows.write_record(row).map_err(io::Error::other)?;
        Ok(true)
    }

    /// Ends the table, and tells how many cases are in it.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn end(mut self) -> io::Result<u64> {
        self.rows.flush()?;
        Ok(self.fill.cases())
    }
}

/// Writes the cases of a casebook behind one, or all, as comma-separated values: as many as
/// are read in at once.
///
/// # Errors
/// When it cannot be read or written.
#[cfg(feature = "book")]
pub fn write_csv(
    book: &Casebook,
    behind: Option<CaseId>,
    csv_for: CsvFor,
    out: &mut impl Write,
) -> Result<Part, CasebookError> {
    book.is_sound_now()?;
    let written = CasebookError::Out;
    let mut cases = CsvCases::begin(csv_for, out).map_err(written)?;
    let part = Part::of(book, behind, |case| cases.case(case).map_err(written))?;
    cases.end().map_err(written)?;
    Ok(part)
}
