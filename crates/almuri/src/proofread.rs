use std::path::Path;

use desk::{ProofreadAnswer, ProofreadRequest, ProofreadRow};

use crate::arguments::ProofreadArguments;
use crate::failure::Failure;
use crate::sheet::Sheet;

/// Looks a table of one's own through for the printer's slips.
pub(crate) fn run(arguments: &ProofreadArguments) -> Result<String, Failure> {
    let (columns, rows) = table(&arguments.table)?;
    let request = ProofreadRequest {
        columns,
        rows,
        only: arguments.column.clone(),
        by: arguments.by.clone(),
        each: arguments.each.clone(),
        sums: arguments.sum.clone(),
        within: arguments.within,
    };
    let answer = desk::proofread(&request)?;
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    Ok(sheet(&answer))
}

/// The columns and the rows of a file; lines that begin with # are remarks.
fn table(path: &Path) -> Result<(Vec<String>, Vec<ProofreadRow>), Failure> {
    /// No printed table is longer.
    const MOST_BYTES: u64 = 8 * 1024 * 1024;
    let wrong = |why: &dyn std::fmt::Display| {
        Failure::bad_input(format!(
            "{} cannot be read as a table ({why}); values separated by commas, with the names of \
             the columns in the first line, would do",
            path.display()
        ))
    };
    let length = std::fs::metadata(path).map_err(|why| wrong(&why))?.len();
    if length > MOST_BYTES {
        return Err(wrong(&"it is longer than 8 MB"));
    }
    let text = std::fs::read_to_string(path).map_err(|why| wrong(&why))?;
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let headers = reader.headers().map_err(|why| wrong(&why))?;
    let columns = headers.iter().map(str::to_owned).collect();
    let mut lines = Lines::of(&text);
    let rows = reader
        .records()
        .map(|record| {
            let record = record.map_err(|why| wrong(&why))?;
            let at = record.position().map_or(0, csv::Position::byte);
            Ok(ProofreadRow {
                line: lines.at(usize::try_from(at).unwrap_or(text.len())),
                cells: record.iter().map(str::to_owned).collect(),
            })
        })
        .collect::<Result<_, Failure>>()?;
    Ok((columns, rows))
}

/// The lines of places in a text, each behind the one before.
struct Lines<'a> {
    text: &'a str,
    counted: usize,
    line: u64,
}

impl<'a> Lines<'a> {
    fn of(text: &'a str) -> Lines<'a> {
        Lines {
            text,
            counted: 0,
            line: 1,
        }
    }

    /// The line of a place, from 1; remarks before a record belong to it, and are passed over.
    fn at(&mut self, at: usize) -> u64 {
        let between = self.text.get(self.counted..at).unwrap_or_default();
        self.line += between.matches('\n').count() as u64;
        self.counted = at;
        let rest = self.text.get(at..).unwrap_or_default();
        let remarks = rest
            .lines()
            .take_while(|line| line.starts_with('#') || line.is_empty());
        self.line + remarks.count() as u64
    }
}

fn sheet(answer: &ProofreadAnswer) -> String {
    let mut sheet = Sheet::default();
    for column in &answer.columns {
        let of = column
            .of
            .as_ref()
            .map_or(String::new(), |of| format!("{of}, "));
        sheet.line(&format!(
            "{of}{}: {} numbers, each held against its neighbours within {}",
            column.column, column.numbers, column.within_text
        ));
    }
    sheet.title("Numbers that jump");
    if answer.slips.is_empty() {
        sheet.line("none");
    } else {
        sheet.line(&format!(
            "  {:>5}  {:<12}{:<14}{:<18}{:<18}",
            "line", "row", "column", "printed", "wanted"
        ));
    }
    for slip in &answer.slips {
        sheet.line(&format!(
            "  {:>5}  {:<12}{:<14}{:<18}{:<18}{}",
            slip.line, slip.row, slip.column, slip.printed, slip.wanted, slip.words
        ));
    }
    if !answer.sums.is_empty() {
        sheet.title("Sums that are none");
    }
    for sum in &answer.sums {
        sheet.line(&format!(
            "  {:>5}  {:<12}{}: printed {}, and the parts make {}",
            sum.line, sum.row, sum.sum, sum.printed, sum.makes
        ));
    }
    sheet.text()
}
