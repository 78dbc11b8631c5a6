//! Many figures at once: rows are read by one thread, worked on by one for each
//! core, and written in their order by this one. No more than a few pieces are
//! under way at a time, so that memory does not grow with the table.

mod in_order;
mod output;
mod piece;
mod piped;
mod row;
mod rows_read;
mod unfinished;

use std::fs::File;
use std::io::BufReader;
use std::thread;

use ::casebook::Parting;
use desk::{Batch, CastRequest, FigureRequest};

use crate::arguments::BatchArguments;
use crate::failure::Failure;
use crate::interrupt;
use crate::progress::Progress;
use in_order::in_order;
use output::{Output, said};
use row::{Columns, Form, head};
use rows_read::RowsRead;
use unfinished::Unfinished;

/// Finishes every figure of a table.
pub(crate) fn run(arguments: &BatchArguments) -> Result<String, Failure> {
    let form = Form::of(&arguments.output, arguments.for_spreadsheets)?;
    let request = FigureRequest {
        cast: CastRequest {
            houses: arguments.houses.clone(),
            ..CastRequest::default()
        },
        ..crate::figure::rules(&arguments.rules)?
    };
    let batch = Batch::of(&request)?;
    let cores = cores(arguments)?;
    if piped::is_asked(arguments) {
        return piped::run(arguments, &batch, form, cores);
    }
    let input = &arguments.input;
    let unreadable = |error: &dyn std::fmt::Display| {
        Failure::bad_input(format!(
            "{} cannot be read ({error}); a table with a header would do",
            input.display()
        ))
    };
    let mut file = File::open(input)
        .map(BufReader::new)
        .map_err(|error| unreadable(&error))?;
    let head = head(&mut file).map_err(|error| unreadable(&error))?;
    let parting = Parting::of(&head, &Columns::NEEDED);
    let table = File::open(input).map_err(|error| unreadable(&error))?;
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .delimiter(parting.separator)
        .from_reader(RowsRead::of(table));
    let header = reader.headers().map_err(|error| unreadable(&error))?;
    let columns = Columns::of(header, parting)?;
    let bytes = std::fs::metadata(input)
        .map_err(|error| unreadable(&error))?
        .len();

    let unfinished = Unfinished::of(
        &arguments.output,
        input,
        bytes,
        &format!("{form:?} {request:?}"),
    )?;
    let begun = if arguments.afresh {
        None
    } else {
        unfinished.found()?
    };
    let mut done = begun.clone().unwrap_or_default();
    if arguments.output.is_file() && !arguments.overwrite {
        return Err(Failure::bad_input(format!(
            "{} is there already; another name, or --overwrite, would do",
            arguments.output.display()
        )));
    }
    let mut output = match &begun {
        Some(checkpoint) => {
            reader
                .seek(checkpoint.position())
                .map_err(|error| unreadable(&error))?;
            Output::take_up(&arguments.output, checkpoint.output)?
        }
        None => {
            unfinished.forget()?;
            let mut output = Output::begin(&arguments.output)?;
            if !arguments.without_header {
                output.write(&columns.head(form, &batch))?;
            }
            output
        }
    };
    interrupt::stops_in_order();
    let mut progress = Progress::new(bytes, false);
    in_order(reader, columns, form, &batch, cores, |piece| {
        output.write(piece.text.as_bytes())?;
        done.take(piece, output.written());
        unfinished.keep_now_and_then(&done, &mut output)?;
        progress.at(piece.after.byte());
        Ok(())
    })?;
    drop(progress);
    if interrupt::asked() && !done.is_at_end_of(bytes) {
        unfinished.keep(&done, &mut output)?;
        return Err(Failure::other(format!(
            "stopped after {} rows; the same command goes on from there",
            done.rows
        )));
    }
    // The end is one rename. A run that is killed just before it is done again.
    unfinished.forget()?;
    output.finish()?;
    Ok(said(arguments, done.rows, done.refused))
}

/// How many cores are worked on.
fn cores(arguments: &BatchArguments) -> Result<usize, Failure> {
    let cores = arguments
        .cores
        .unwrap_or_else(|| thread::available_parallelism().map_or(1, usize::from));
    if (1..=1024).contains(&cores) {
        Ok(cores)
    } else {
        Err(Failure::bad_input(format!(
            "--cores {cores} is out of range; 1 to 1024 would do"
        )))
    }
}
