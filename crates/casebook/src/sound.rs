//! Whether what is in a file is a casebook, whole and readable.

use std::path::Path;

use rusqlite::{Connection, MAIN_DB, OpenFlags};

use crate::turn::PATIENCE;
use crate::{CasebookError, Unreadable, beside, schema, sums};

/// That a file is a casebook, its pages are sound, and no case is missing; and which
/// cases cannot be read.
pub(crate) fn unreadable_in(
    connection: &Connection,
    path: &Path,
) -> Result<Vec<Unreadable>, CasebookError> {
    is_casebook(connection, path)?;
    check_with(connection, path, "quick_check")?;
    if schema::is_known(connection, path)? < schema::WITH_SUMS {
        return Ok(Vec::new());
    }
    sums::agree(connection).map_err(|error| damaged(path, error))
}

/// The same, and that every case can be read.
pub(crate) fn is_sound(connection: &Connection, path: &Path) -> Result<(), CasebookError> {
    none_unreadable(unreadable_in(connection, path)?)
}

pub(crate) fn none_unreadable(all: Vec<Unreadable>) -> Result<(), CasebookError> {
    match all.into_iter().next() {
        Some(first) => Err(CasebookError::Unreadable(first)),
        None => Ok(()),
    }
}

pub(crate) fn is_casebook(connection: &Connection, path: &Path) -> Result<(), CasebookError> {
    let ours = schema::is_ours(connection).map_err(|error| damaged(path, error))?;
    if !ours {
        return Err(CasebookError::Damaged {
            path: path.to_owned(),
            what: "it holds something else".to_owned(),
            backups: beside::folder(path),
        });
    }
    Ok(())
}

pub(crate) fn check_with(
    connection: &Connection,
    path: &Path,
    how: &str,
) -> Result<(), CasebookError> {
    let look = |connection: &Connection| -> rusqlite::Result<String> {
        connection.query_row(&format!("PRAGMA {how}(1)"), [], |row| row.get(0))
    };
    let mut result = look(connection);
    // The index of words, looked through while another keeps a case, may seem not to agree with
    // the cases, and what was read of it is not read anew: damage is what is found by another
    // connection while nobody can write.
    let is_unsound = result.as_ref().is_ok_and(|said| said != "ok");
    if is_unsound
        && others_may_write(connection)
        && let Ok(alone) = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_WRITE)
    {
        alone.busy_timeout(PATIENCE)?;
        if alone.execute_batch("BEGIN IMMEDIATE").is_ok() {
            result = look(&alone);
        }
    }
    match result {
        Ok(said) if said == "ok" => Ok(()),
        Ok(said) => Err(CasebookError::Damaged {
            path: path.to_owned(),
            what: said,
            backups: beside::folder(path),
        }),
        Err(error) => Err(damaged(path, error.into())),
    }
}

/// Whether it reads the file itself, not a copy of it or one that nobody writes to, and holds no
/// lock of its own.
fn others_may_write(connection: &Connection) -> bool {
    connection.path().is_some_and(|path| !path.is_empty())
        && connection.is_readonly(MAIN_DB) == Ok(false)
        && connection.is_autocommit()
}

pub(crate) fn damaged(path: &Path, error: CasebookError) -> CasebookError {
    match error {
        CasebookError::Unsound(what) => CasebookError::Damaged {
            path: path.to_owned(),
            what,
            backups: beside::folder(path),
        },
        other => other,
    }
}
