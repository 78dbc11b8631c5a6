//! A deletion is begun, done in the book, done in every copy, and finished. It is
//! noted in the book from its beginning, so that whatever breaks it off, the next
//! opening goes on with it.

use std::fmt;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, params};

use crate::beside::{self, log_of};
use crate::turn::{PATIENCE, Turn};
use crate::{CaseId, Casebook, CasebookError, Kept, stored, sums};

/// What came of a deletion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deleted {
    /// Where something of it may still stand, and why. Empty once it is gone for good;
    /// else every opening of the casebook tries again.
    pub left: Vec<Left>,
}

/// A file in which something that was deleted may still stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// The file.
    pub path: PathBuf,
    /// Why it could not be taken out.
    pub why: String,
}

impl fmt::Display for Left {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.path.display(), self.why)
    }
}

impl Left {
    fn new(path: &Path, why: &CasebookError) -> Left {
        let why = match why {
            // Its sentence is about the book that is open, and speaks of changes.
            CasebookError::DiskFull => "there is no room on the disk to write it anew".to_owned(),
            CasebookError::Damaged { what, .. } | CasebookError::Unsound(what) => {
                format!("it is damaged, {what}; once the file is removed, the deletion is finished")
            }
            other => other.to_string(),
        };
        Left {
            path: path.to_owned(),
            why,
        }
    }
}

impl Casebook {
    /// Deletes a case for good: from the file, from its log, from what could be
    /// undone, from the backups, and from what a restoration set aside. A case that
    /// cannot be read any more can be deleted too.
    ///
    /// # Errors
    /// When there is no such case, or nothing may be written. Once the case is gone from
    /// the book this is no error any more: what is left elsewhere is in the answer.
    pub fn delete(&mut self, id: CaseId) -> Result<Deleted, CasebookError> {
        self.delete_if(id, |_| true)
    }

    /// The same, as long as the case is still the version that was looked at.
    ///
    /// # Errors
    /// As [`Casebook::delete`], and when it was changed meanwhile.
    pub fn delete_version(&mut self, id: CaseId, version: i64) -> Result<Deleted, CasebookError> {
        self.delete_if(id, |kept| kept.version == version)
    }

    fn delete_if(
        &mut self,
        id: CaseId,
        meant: impl Fn(&Kept) -> bool,
    ) -> Result<Deleted, CasebookError> {
        self.delete_rows(|transaction| {
            match stored::get(transaction, id) {
                Ok(kept) if !meant(&kept) => Err(CasebookError::Changed(id)),
                // A case that cannot be read any more can be deleted too.
                Ok(_) | Err(CasebookError::Unreadable(_)) => Ok(vec![id]),
                Err(other) => Err(other),
            }
        })
    }

    /// Deletes rows for good. Where one cannot be read, what is left is taken for what was
    /// kept.
    pub(crate) fn delete_rows(
        &mut self,
        which: impl FnOnce(&Connection) -> Result<Vec<CaseId>, CasebookError>,
    ) -> Result<Deleted, CasebookError> {
        self.change(|transaction| {
            let mut readable = true;
            for row in which(transaction)? {
                readable &= match stored::find(transaction, row.0) {
                    Err(CasebookError::Unreadable(_)) => false,
                    other => other.map(|_| true)?,
                };
                // The number may stand for another case in a backup, the mark never.
                let uid = stored::uid(transaction, row)?;
                begin(transaction, &uid)?;
                stored::remove(transaction, row)?;
            }
            if readable {
                Ok(())
            } else {
                sums::settle(transaction)
            }
        })?;
        let left = self.finish_deletions(PATIENCE);
        Ok(Deleted { left })
    }

    /// The marks of what was deleted and may still stand somewhere.
    pub(crate) fn unfinished(&self) -> Result<Vec<String>, CasebookError> {
        let mut statement = self.connection().prepare("SELECT uid FROM deletions")?;
        let uids = statement.query_map([], |row| row.get(0))?;
        Ok(uids.collect::<rusqlite::Result<_>>()?)
    }

    /// Goes on with deletions that were begun, and tells where they are not finished.
    pub(crate) fn finish_deletions(&mut self, patience: Duration) -> Vec<Left> {
        let path = self.path().to_owned();
        let mut left = Vec::new();
        let finished = self.unfinished().and_then(|uids| {
            if uids.is_empty() {
                return Ok(());
            }
            let _turn = Turn::wait(&path, patience)?;
            for part in beside::parts(&path) {
                if let Err(error) = overwrite(&part) {
                    left.push(Left::new(&part, &CasebookError::file(&part, error)));
                }
            }
            if let Err(error) = self.scrub() {
                left.push(Left::new(&path, &error));
            }
            let backups = beside::backups(&path)?
                .into_iter()
                .map(|backup| backup.path);
            for copy in backups.chain(beside::aside(&path)) {
                if let Err(error) = take_out(&copy, &uids) {
                    left.push(Left::new(&copy, &error));
                }
            }
            if left.is_empty() {
                self.forget(&uids)?;
            }
            Ok(())
        });
        if let Err(error) = finished {
            left.push(Left::new(&path, &error));
        }
        left
    }

    /// Takes cases out of a copy by their marks, noting that this is begun where there is
    /// one.
    fn remove_by_marks(&mut self, uids: &[String]) -> Result<(), CasebookError> {
        self.change(|transaction| {
            for uid in uids {
                if let Some(id) = stored::id_of(transaction, uid)? {
                    begin(transaction, uid)?;
                    stored::remove(transaction, id)?;
                }
            }
            Ok(())
        })
    }

    /// Takes deletions over that another book had begun, so that this one goes on with
    /// them: what is deleted may stand in copies though it never stood here.
    pub(crate) fn take_over(&mut self, uids: &[String]) -> Result<(), CasebookError> {
        self.change(|transaction| {
            for uid in uids {
                begin(transaction, uid)?;
                if let Some(id) = stored::id_of(transaction, uid)? {
                    stored::remove(transaction, id)?;
                }
            }
            Ok(())
        })
    }

    /// Writes the file anew without the space of what was deleted, and empties the log.
    fn scrub(&mut self) -> Result<(), CasebookError> {
        let connection = self.connection();
        connection.execute_batch("VACUUM")?;
        let held: bool =
            connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
        if held {
            return Err(CasebookError::Text(format!(
                "another program is reading {}",
                log_of(self.path()).display()
            )));
        }
        Ok(())
    }

    /// Notes that deletions are finished.
    fn forget(&mut self, uids: &[String]) -> Result<(), CasebookError> {
        self.change(|transaction| {
            for uid in uids {
                transaction.execute("DELETE FROM deletions WHERE uid = ?1", params![uid])?;
            }
            Ok(())
        })
    }
}

/// Notes that a deletion is begun.
fn begin(transaction: &Connection, uid: &str) -> Result<(), CasebookError> {
    transaction.execute("INSERT OR IGNORE INTO deletions(uid) VALUES(?1)", [uid])?;
    Ok(())
}

/// Takes cases out of a copy, and what was begun in it before.
fn take_out(copy: &Path, uids: &[String]) -> Result<(), CasebookError> {
    let mut book = Casebook::open_copy(copy)?;
    book.remove_by_marks(uids)?;
    let begun = book.unfinished()?;
    if !begun.is_empty() {
        book.scrub()?;
        book.forget(&begun)?;
    }
    Ok(())
}

/// Removes a file that was never finished, writing over what was in it.
fn overwrite(path: &Path) -> std::io::Result<()> {
    static BLOCK: [u8; 65_536] = [0; 65_536];
    let mut file = std::fs::OpenOptions::new().write(true).open(path)?;
    let mut left = file.metadata()?.len();
    while left > 0 {
        let now = usize::try_from(left).map_or(BLOCK.len(), |left| left.min(BLOCK.len()));
        file.write_all(&BLOCK[..now])?;
        left -= now as u64;
    }
    file.sync_all()?;
    drop(file);
    std::fs::remove_file(path)
}
