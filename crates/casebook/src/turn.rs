//! One at a time: whoever makes, restores or cleans copies of a casebook.

use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::{CasebookError, private};

/// The turn to work on a casebook's copies: its backups, what restorations set aside,
/// and what is half made of either. It ends when this is dropped, or with the process.
#[derive(Debug)]
pub(crate) struct Turn {
    _lock: File,
}

/// How long we wait for another process to finish writing.
pub(crate) const PATIENCE: Duration = Duration::from_secs(10);

/// How often we ask whether it is our turn.
const AGAIN: Duration = Duration::from_millis(20);

impl Turn {
    /// Waits for its turn, no longer than `patience`.
    pub(crate) fn wait(book: &Path, patience: Duration) -> Result<Turn, CasebookError> {
        let path = file(book);
        let failed = |error| CasebookError::file(&path, error);
        let lock = private::file(&path).map_err(failed)?;
        let begun = Instant::now();
        loop {
            match lock.try_lock() {
                Ok(()) => return Ok(Turn { _lock: lock }),
                Err(TryLockError::WouldBlock) if begun.elapsed() < patience => {
                    std::thread::sleep(AGAIN);
                }
                Err(TryLockError::WouldBlock) => return Err(CasebookError::Busy),
                Err(TryLockError::Error(error)) => return Err(failed(error)),
            }
        }
    }
}

/// The file that is locked; nothing is in it.
fn file(book: &Path) -> PathBuf {
    let mut name = book.as_os_str().to_owned();
    name.push(".turn");
    PathBuf::from(name)
}
