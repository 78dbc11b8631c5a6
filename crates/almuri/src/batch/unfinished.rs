use std::cell::Cell;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};

use super::output::{Output, Written};
use super::piece::Worked;
use crate::failure::Failure;

/// How far a run had come: everything before this is written, nothing after it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Checkpoint {
    pub(super) rows: u64,
    pub(super) refused: u64,
    pub(super) output: Written,
    input_byte: u64,
    input_line: u64,
    input_record: u64,
}

impl Checkpoint {
    pub(super) fn take(&mut self, piece: &Worked, output: Written) {
        self.rows += piece.rows;
        self.refused += piece.refused;
        self.output = output;
        self.input_byte = piece.after.byte();
        self.input_line = piece.after.line();
        self.input_record = piece.after.record();
    }

    /// Whether a table of so many bytes has been read to its end.
    pub(super) fn is_at_end_of(&self, bytes: u64) -> bool {
        self.input_byte >= bytes
    }

    pub(super) fn position(&self) -> csv::Position {
        let mut position = csv::Position::new();
        position
            .set_byte(self.input_byte)
            .set_line(self.input_line)
            .set_record(self.input_record);
        position
    }
}

/// The note that lets a broken run be gone on with, beside the output.
pub(super) struct Unfinished {
    path: PathBuf,
    of: Identity,
    kept: Cell<Instant>,
}

/// What the run is of: the same table, by its length and its time, and the same rules.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Identity {
    version: u32,
    input: PathBuf,
    bytes: u64,
    changed_ns: u128,
    rules: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Note {
    of: Identity,
    at: Checkpoint,
}

/// So much work is done again at most after a crash.
const EVERY: Duration = Duration::from_secs(2);

impl Unfinished {
    pub(super) fn of(
        output: &Path,
        input: &Path,
        bytes: u64,
        rules: &str,
    ) -> Result<Unfinished, Failure> {
        let mut name = output.file_name().unwrap_or_default().to_owned();
        name.push(".unfinished");
        let changed = std::fs::metadata(input)
            .and_then(|about| about.modified())
            .ok()
            .and_then(|at| at.duration_since(std::time::UNIX_EPOCH).ok());
        Ok(Unfinished {
            path: output.with_file_name(name),
            of: Identity {
                version: 2,
                input: std::fs::canonicalize(input).unwrap_or_else(|_| input.to_owned()),
                bytes,
                changed_ns: changed.map_or(0, |since| since.as_nanos()),
                rules: rules.to_owned(),
            },
            kept: Cell::new(Instant::now()),
        })
    }

    /// Where a broken run of the same had come to; none where there was none.
    pub(super) fn found(&self) -> Result<Option<Checkpoint>, Failure> {
        let text = match std::fs::read_to_string(&self.path) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
            other => other.map_err(|error| self.failure(&error))?,
        };
        let note: Option<Note> = serde_json::from_str(&text).ok();
        match note {
            Some(note) if note.of == self.of => Ok(Some(note.at)),
            _ => Err(Failure::bad_input(format!(
                "an unfinished run of another table or by other rules is noted in {}; --afresh begins anew",
                self.path.display()
            ))),
        }
    }

    pub(super) fn keep_now_and_then(
        &self,
        at: &Checkpoint,
        output: &mut Output,
    ) -> Result<(), Failure> {
        if self.kept.get().elapsed() < EVERY {
            return Ok(());
        }
        self.keep(at, output)?;
        self.kept.set(Instant::now());
        Ok(())
    }

    /// Notes how far it has come, once what is written is on the disk.
    pub(super) fn keep(&self, at: &Checkpoint, output: &mut Output) -> Result<(), Failure> {
        if at.rows == 0 {
            return Ok(());
        }
        output.settle()?;
        let note = Note {
            of: self.of.clone(),
            at: at.clone(),
        };
        let text = serde_json::to_string(&note).map_err(Failure::other)?;
        let fresh = self.path.with_extension("unfinished.new");
        let kept = std::fs::write(&fresh, text).and_then(|()| std::fs::rename(&fresh, &self.path));
        kept.map_err(|error| self.failure(&error))
    }

    pub(super) fn forget(&self) -> Result<(), Failure> {
        match std::fs::remove_file(&self.path) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(self.failure(&error)),
            _ => Ok(()),
        }
    }

    fn failure(&self, error: &std::io::Error) -> Failure {
        Failure::other(format!("{} cannot be used: {error}", self.path.display()))
    }
}
