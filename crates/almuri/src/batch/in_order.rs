use std::collections::BTreeMap;
use std::io::Read;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex};
use std::thread;

use desk::Batch;

use super::piece::{Piece, Worked};
use super::row::{Columns, Form};
use super::rows_read::RowsRead;
use crate::failure::Failure;
use crate::interrupt;

/// Rows that are handed to a core together, and so many bytes of long ones.
const PIECE: usize = 256;
const PIECE_BYTES: usize = 1 << 18;

/// Pieces under way for each core.
const AHEAD: usize = 4;

/// Works the rows of a table, and hands over piece after piece in its order.
pub(super) fn in_order<R: Read + Send>(
    reader: csv::Reader<RowsRead<R>>,
    columns: Columns,
    form: Form,
    batch: &Batch,
    cores: usize,
    take: impl FnMut(&Worked) -> Result<(), Failure>,
) -> Result<(), Failure> {
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
                    // The same command takes up what was read and not worked.
                    if interrupt::asked() {
                        return;
                    }
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
        let taken = taken(&worked, &tickets, take);
        // Whatever is still under way is let go.
        drop(worked);
        tickets.close();
        taken
    })
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

fn read<R: Read>(
    mut reader: csv::Reader<RowsRead<R>>,
    to_cores: &SyncSender<Piece>,
    failing: &SyncSender<(u64, Result<Worked, Failure>)>,
    tickets: &Tickets,
) {
    for number in 0.. {
        if interrupt::asked() || !tickets.take() {
            return;
        }
        let mut rows = Vec::with_capacity(PIECE);
        let (mut bytes, mut last) = (0, false);
        while rows.len() < PIECE && bytes < PIECE_BYTES {
            let mut record = csv::StringRecord::new();
            reader.get_mut().begin_row();
            match reader.read_record(&mut record) {
                Ok(true) => {
                    bytes += record.as_slice().len();
                    rows.push(record);
                }
                Ok(false) => {
                    last = true;
                    break;
                }
                // Bytes that are no text: the row is kept, and has no figure.
                Err(error) if matches!(error.kind(), csv::ErrorKind::Utf8 { .. }) => {
                    let mut empty = csv::StringRecord::new();
                    empty.set_position(error.position().cloned());
                    rows.push(empty);
                }
                Err(error) => {
                    let line = record.position().map_or(0, csv::Position::line);
                    let why = format!("the table cannot be read from line {line} on: {error}");
                    // Where nobody listens any more there is nothing to tell.
                    let _ = failing.send((number, Err(Failure::bad_input(why))));
                    return;
                }
            }
        }
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

/// Hands the pieces over in their order, whichever is worked first.
fn taken(
    worked: &Receiver<(u64, Result<Worked, Failure>)>,
    tickets: &Tickets,
    mut take: impl FnMut(&Worked) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let mut waiting = BTreeMap::new();
    let mut next = 0;
    for (number, piece) in worked {
        waiting.insert(number, piece);
        while let Some(piece) = waiting.remove(&next) {
            take(&piece?)?;
            next += 1;
            tickets.give_back();
        }
    }
    Ok(())
}
