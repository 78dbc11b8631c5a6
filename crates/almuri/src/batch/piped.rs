//! The same through a pipe: `-` is standard input, and standard output. Nothing is noted of
//! how far it came, for what comes through a pipe cannot be read again.

use std::io::{BufReader, Read, Write};
use std::path::Path;

use ::casebook::Parting;
use desk::Batch;

use super::in_order::in_order;
use super::output::said;
use super::row::{Columns, Form, MOST_OF_HEAD, head};
use super::rows_read::RowsRead;
use crate::arguments::BatchArguments;
use crate::failure::Failure;
use crate::interrupt;
use crate::part_file::PartFile;

/// What a pipe is called in place of a file.
fn is_pipe(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Whether a pipe is meant for either side.
pub(super) fn is_asked(arguments: &BatchArguments) -> bool {
    is_pipe(&arguments.input) || is_pipe(&arguments.output)
}

/// Where the figures go.
enum Out {
    Pipe(std::io::Stdout),
    File(PartFile),
}

impl Out {
    fn write(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        match self {
            Out::Pipe(out) => out
                .write_all(bytes)
                .and_then(|()| out.flush())
                .map_err(|error| {
                    Failure::other(format!("standard output cannot be written: {error}"))
                }),
            Out::File(file) => file.write_all(bytes),
        }
    }
}

/// Finishes every figure of what comes.
pub(super) fn run(
    arguments: &BatchArguments,
    batch: &Batch,
    form: Form,
    cores: usize,
) -> Result<String, Failure> {
    if is_pipe(&arguments.output) && arguments.json {
        return Err(Failure::bad_input(
            "--json with -o - would put two things into one pipe; one of them would do",
        ));
    }
    let shown = if is_pipe(&arguments.input) {
        "standard input".to_owned()
    } else {
        arguments.input.display().to_string()
    };
    let unreadable = |error: &dyn std::fmt::Display| {
        Failure::bad_input(format!(
            "{shown} cannot be read ({error}); a table with a header would do"
        ))
    };
    let input: Box<dyn Read + Send> = if is_pipe(&arguments.input) {
        Box::new(std::io::stdin())
    } else {
        Box::new(std::fs::File::open(&arguments.input).map_err(|error| unreadable(&error))?)
    };
    let mut input = BufReader::with_capacity(MOST_OF_HEAD, input);
    let head = head(&mut input).map_err(|error| unreadable(&error))?;
    let parting = Parting::of(&head, &Columns::NEEDED);
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .delimiter(parting.separator)
        .from_reader(RowsRead::of(std::io::Cursor::new(head).chain(input)));
    let header = reader.headers().map_err(|error| unreadable(&error))?;
    let columns = Columns::of(header, parting)?;
    let mut out = if is_pipe(&arguments.output) {
        Out::Pipe(std::io::stdout())
    } else {
        Out::File(PartFile::create(&arguments.output, arguments.overwrite)?)
    };
    if !arguments.without_header {
        out.write(&columns.head(form, batch))?;
    }
    let (mut rows, mut refused) = (0, 0);
    in_order(reader, columns, form, batch, cores, |piece| {
        rows += piece.rows;
        refused += piece.refused;
        out.write(piece.text.as_bytes())
    })?;
    if interrupt::asked() {
        return Err(Failure::other(format!("stopped after {} rows", rows)));
    }
    match out {
        Out::Pipe(_) => Ok(String::new()),
        Out::File(file) => {
            file.finish()?;
            Ok(said(arguments, rows, refused))
        }
    }
}
