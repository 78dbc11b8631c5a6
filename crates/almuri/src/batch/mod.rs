//! Many figures at once: rows are read by one thread, worked on by one for each
//! core, and written in their order by this one. No more than a few pieces are
//! under way at a time, so that memory does not grow with the table.

mod output;
mod piece;
mod row;
mod unfinished;

use std::collections::BTreeMap;
use std::io::{BufRead, Read};
use std::path::Path;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex};
use std::thread;

use ::casebook::Parting;
use desk::{Batch, CastRequest, FigureRequest};

use crate::arguments::BatchArguments;
use crate::failure::Failure;
use crate::interrupt;
use crate::progress::Progress;
use output::Output;
use piece::{Piece, Worked};
use row::{Columns, Form};
use unfinished::{Checkpoint, Unfinished};

/// Rows that are handed to a core together.
const PIECE: usize = 256;

/// Pieces under way for each core.
const AHEAD: usize = 4;

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
    let input = &arguments.input;
    let unreadable = |error: &dyn std::fmt::Display| {
        Failure::bad_input(format!(
            "{} cannot be read ({error}); a table with a header would do",
            input.display()
        ))
    };
    let head = first_line(input).map_err(|error| unreadable(&error))?;
    let parting = Parting::of(&head, &Columns::NEEDED);
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .delimiter(parting.separator)
        .from_path(input)
        .map_err(|error| unreadable(&error))?;
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
            output.write(&columns.head(form, &batch))?;
            output
        }
    };
    let cores = arguments
        .cores
        .unwrap_or_else(|| thread::available_parallelism().map_or(1, usize::from));
    if !(1..=1024).contains(&cores) {
        return Err(Failure::bad_input(format!(
            "--cores {cores} is out of range; 1 to 1024 would do"
        )));
    }

    interrupt::stops_in_order();
    let mut progress = Progress::new(bytes, false);
    let columns = Arc::new(columns);
    let (to_cores, for_cores) = sync_channel::<Piece>(cores * AHEAD);
    let (to_writer, worked) = sync_channel::<(u64, Result<Worked, Failure>)>(cores * AHEAD);
    let tickets = Tickets::new(2 * cores * AHEAD);
    let for_cores = Arc::new(Mutex::new(for_cores));
    thread::scope(|scope| {
        let (failing, tickets_of_reader) = (to_writer.clone(), &tickets);
        scope.spawn(move || {
            read(reader, &to_cores, &failing, tickets_of_reader);
        });
        for _ in 0..cores {
            let (for_cores, to_writer) = (Arc::clone(&for_cores), to_writer.clone());
            let (mut batch, columns) = (batch.clone(), Arc::clone(&columns));
            scope.spawn(move || {
                while let Some(piece) = next(&for_cores) {
                    let number = piece.number;
                    let worked = work(piece, &columns, form, &mut batch);
                    if to_writer.send((number, Ok(worked))).is_err() {
                        return;
                    }
                }
            });
        }
        // With the last core gone the reader finds nobody to hand pieces to.
        drop(for_cores);
        drop(to_writer);
        let written = write(
            &worked,
            &mut output,
            &mut done,
            &tickets,
            &unfinished,
            &mut progress,
        );
        // Whatever is still under way is let go.
        drop(worked);
        tickets.close();
        written
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
    Ok(said(arguments, &done))
}

/// The first line of a file, or as much of it as a header may be.
fn first_line(path: &Path) -> std::io::Result<Vec<u8>> {
    const MOST_BYTES: u64 = 64 * 1024;
    let mut line = Vec::new();
    let file = std::fs::File::open(path)?.take(MOST_BYTES);
    std::io::BufReader::new(file).read_until(b'\n', &mut line)?;
    Ok(line)
}

fn said(arguments: &BatchArguments, done: &Checkpoint) -> String {
    let (rows, refused) = (done.rows, done.refused);
    let shown = arguments.output.display();
    if arguments.json {
        return serde_json::json!({ "file": shown.to_string(), "rows": rows, "refused": refused })
            .to_string()
            + "\n";
    }
    match refused {
        0 => format!("{rows} figures written to {shown}\n"),
        _ => format!(
            "{rows} rows written to {shown}; {refused} have no figure, and say why in the column error\n"
        ),
    }
}

/// How many pieces may be under way: read and not yet written.
struct Tickets {
    give: SyncSender<()>,
    take: Mutex<Receiver<()>>,
    closed: std::sync::atomic::AtomicBool,
}

impl Tickets {
    fn new(count: usize) -> Tickets {
        // One more, so that closing never waits.
        let (give, take) = sync_channel(count + 1);
        for _ in 0..count {
            // There is room for all of them.
            let _ = give.try_send(());
        }
        Tickets {
            give,
            take: Mutex::new(take),
            closed: std::sync::atomic::AtomicBool::new(false),
        }
    }

    /// Waits for one; false when no more are wanted.
    fn take(&self) -> bool {
        let taken = self.take.lock().is_ok_and(|take| take.recv().is_ok());
        taken && !self.closed.load(std::sync::atomic::Ordering::Relaxed)
    }

    fn give_back(&self) {
        // There is always room: each was taken before.
        let _ = self.give.try_send(());
    }

    fn close(&self) {
        self.closed
            .store(true, std::sync::atomic::Ordering::Relaxed);
        self.give_back();
    }
}

fn next(pieces: &Mutex<Receiver<Piece>>) -> Option<Piece> {
    pieces.lock().ok()?.recv().ok()
}

fn read(
    mut reader: csv::Reader<std::fs::File>,
    to_cores: &SyncSender<Piece>,
    failing: &SyncSender<(u64, Result<Worked, Failure>)>,
    tickets: &Tickets,
) {
    for number in 0.. {
        if interrupt::asked() || !tickets.take() {
            return;
        }
        let mut rows = Vec::with_capacity(PIECE);
        while rows.len() < PIECE {
            let mut record = csv::StringRecord::new();
            match reader.read_record(&mut record) {
                Ok(true) => rows.push(record),
                Ok(false) => break,
                // Bytes that are no text: the row is kept, and has no figure.
                Err(error) if matches!(error.kind(), csv::ErrorKind::Utf8 { .. }) => {
                    let mut empty = csv::StringRecord::new();
                    empty.set_position(error.position().cloned());
                    rows.push(empty);
                }
                Err(error) => {
                    // Where nobody listens any more there is nothing to tell.
                    let _ = failing.send((number, Err(Failure::other(error))));
                    return;
                }
            }
        }
        let last = rows.len() < PIECE;
        let after = reader.position().clone();
        let piece = Piece {
            number,
            rows,
            after,
        };
        if to_cores.send(piece).is_err() || last {
            return;
        }
    }
}

fn work(piece: Piece, columns: &Columns, form: Form, batch: &mut Batch) -> Worked {
    let mut text = String::with_capacity(piece.rows.len() * 1024);
    let mut refused = 0;
    for record in &piece.rows {
        refused += u64::from(!columns.write(record, form, batch, &mut text));
    }
    Worked {
        text,
        rows: piece.rows.len() as u64,
        refused,
        after: piece.after,
    }
}

/// Writes the pieces in their order, whichever is worked first.
fn write(
    worked: &Receiver<(u64, Result<Worked, Failure>)>,
    output: &mut Output,
    done: &mut Checkpoint,
    tickets: &Tickets,
    unfinished: &Unfinished,
    progress: &mut Progress,
) -> Result<(), Failure> {
    let mut waiting = BTreeMap::new();
    let mut next = 0;
    for (number, piece) in worked {
        waiting.insert(number, piece);
        while let Some(piece) = waiting.remove(&next) {
            let piece = piece?;
            output.write(piece.text.as_bytes())?;
            done.take(&piece, output.written());
            unfinished.keep_now_and_then(done, output)?;
            progress.at(piece.after.byte());
            next += 1;
            tickets.give_back();
        }
    }
    Ok(())
}
