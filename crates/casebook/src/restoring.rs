//! A backup takes the place of a casebook in steps that are noted beforehand, so that
//! whatever breaks it off, the next opening goes on with it.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags};

use crate::backup::{self, beside};
use crate::book::{PATIENCE, is_sound};
use crate::turn::Turn;
use crate::{Casebook, CasebookError, private, read_only, schema};

/// The logs that SQLite keeps beside a file.
const LOGS: [&str; 2] = ["-wal", "-shm"];

impl Casebook {
    /// Puts a backup in the place of the casebook in a file, which need not be
    /// readable. The present file is kept beside it under another name, which is
    /// returned; none where there was no file. What was deleted since the backup was
    /// made stays deleted, where the present file can still say so.
    ///
    /// # Errors
    /// When there is no such backup, it is not sound itself, or the file may not be
    /// written to.
    pub fn restore(path: &Path, name: &str) -> Result<Option<PathBuf>, CasebookError> {
        let there = backup::all(path)?;
        let Some(backup) = there.iter().find(|one| one.name == name) else {
            return Err(CasebookError::NoBackup {
                name: name.to_owned(),
                there: there.into_iter().map(|one| one.name).collect(),
            });
        };
        if read_only::may_only_be_read(path) {
            return Err(CasebookError::ReadOnly);
        }
        let wants_leave = |error: CasebookError| match error {
            error if error.is_for_want_of_leave() => CasebookError::ReadOnly,
            other => other,
        };
        let turn = Turn::wait(path, PATIENCE).map_err(wants_leave)?;
        finish(path, &turn)?;
        let source = Connection::open_with_flags(&backup.path, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
        is_sound(&source, &backup.path)?;
        schema::is_known(&source, &backup.path)?;
        let part = part(path);
        backup::copy(&source, &part).map_err(wants_leave)?;
        let begun = begun_deletions(path);
        if !begun.is_empty() {
            let mut restored = Casebook::open_copy(&part)?;
            restored.remove_by_marks(&begun)?;
        }
        let aside = path.exists().then(|| free_name(path));
        note(path, aside.as_deref())?;
        finish(path, &turn)?;
        Ok(aside)
    }
}

/// What is to take the casebook's place.
fn part(path: &Path) -> PathBuf {
    beside(path, "restored.part")
}

/// The note that a restoration is under way; the file's new name is in it, or nothing
/// where there was no file.
fn note_of(path: &Path) -> PathBuf {
    beside(path, "restoring")
}

/// Goes on with a restoration that was broken off, if there is one.
pub(crate) fn take_up(path: &Path, patience: Duration) -> Result<(), CasebookError> {
    if note_of(path).exists() {
        let turn = Turn::wait(path, patience)?;
        finish(path, &turn)?;
    }
    Ok(())
}

/// Notes what is to be done, on the disk, before any name is changed.
fn note(path: &Path, aside: Option<&Path>) -> Result<(), CasebookError> {
    let note = note_of(path);
    let failed = |error| CasebookError::file(&note, error);
    let half = beside(path, "restoring.part");
    let name = aside.and_then(Path::file_name).unwrap_or_default();
    let mut file = private::file(&half).map_err(failed)?;
    file.set_len(0)
        .and_then(|()| file.write_all(name.as_encoded_bytes()))
        .and_then(|()| file.sync_all())
        .and_then(|()| std::fs::rename(&half, &note))
        .and_then(|()| private::sync_folder_of(&note))
        .map_err(failed)
}

/// Changes the names as the note says. Each step is done once, however often it is
/// begun: as long as the new file has its first name, the old one is in the way.
fn finish(path: &Path, _turn: &Turn) -> Result<(), CasebookError> {
    let note = note_of(path);
    let Ok(name) = std::fs::read(&note) else {
        return Ok(());
    };
    let failed = |error| CasebookError::file(path, error);
    let part = part(path);
    if part.exists() {
        if !name.is_empty() {
            let name = String::from_utf8(name).map_err(|_| {
                CasebookError::Text(format!("{} is not readable text", note.display()))
            })?;
            let aside = path.with_file_name(name);
            for end in LOGS.into_iter().chain([""]) {
                let (from, to) = (with_end(path, end), with_end(&aside, end));
                if from.exists() {
                    std::fs::rename(from, to).map_err(failed)?;
                }
            }
        }
        std::fs::rename(&part, path).map_err(failed)?;
        private::sync_folder_of(path).map_err(failed)?;
    }
    std::fs::remove_file(&note).map_err(|error| CasebookError::file(&note, error))
}

fn with_end(path: &Path, end: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(end);
    PathBuf::from(name)
}

/// A name beside the casebook that nothing has.
fn free_name(path: &Path) -> PathBuf {
    let last = backup::numbered(path)
        .last()
        .map_or(0, |(number, _)| *number);
    beside(path, &format!("before-{}", last + 1))
}

/// The marks of deletions that the present file knows of and that are not finished;
/// none where it cannot be read.
fn begun_deletions(path: &Path) -> Vec<String> {
    if !path.exists() {
        return Vec::new();
    }
    Casebook::open_copy(path)
        .and_then(|book| book.unfinished())
        .unwrap_or_default()
}
