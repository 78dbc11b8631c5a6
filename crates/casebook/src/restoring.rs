//! A backup, and the deletions that it does not know of, take the place of a casebook.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, OpenFlags};

use crate::beside::{self, beside};
use crate::replacing::{finish, note, part};
use crate::sound::is_sound;
use crate::turn::{PATIENCE, Turn};
use crate::{Casebook, CasebookError, backup, read_only, schema};

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
        let there = beside::backups(path)?;
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
        let begun = begun_deletions(path)?;
        if !begun.is_empty() {
            Casebook::open_copy(&part)?.take_over(&begun)?;
        }
        let aside = path.exists().then(|| free_name(path));
        note(path, aside.as_deref())?;
        finish(path, &turn)?;
        Ok(aside)
    }
}

/// A name beside the casebook that nothing has.
fn free_name(path: &Path) -> PathBuf {
    let last = beside::set_aside(path)
        .last()
        .map_or(0, |(number, _)| *number);
    beside(path, &format!("before-{}", last + 1))
}

/// The marks of deletions that the present file knows of and that are not finished;
/// none where it is damaged.
fn begun_deletions(path: &Path) -> Result<Vec<String>, CasebookError> {
    if !path.exists() {
        return Ok(Vec::new());
    }
    match Casebook::open_copy(path).and_then(|book| book.unfinished()) {
        // It may be readable another time, and then says what it knows.
        Err(
            error @ (CasebookError::DiskFull
            | CasebookError::Busy
            | CasebookError::ReadOnly
            | CasebookError::File { .. }),
        ) => Err(error),
        Err(_) => Ok(Vec::new()),
        begun => begun,
    }
}
