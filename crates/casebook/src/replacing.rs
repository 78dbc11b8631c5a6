//! The steps in which a backup takes the place of a casebook. They are noted beforehand, so
//! that whatever breaks them off, the next opening goes on with them.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::beside::beside;
use crate::turn::Turn;
use crate::{CasebookError, private};

/// The logs that SQLite keeps beside a file.
const LOGS: [&str; 2] = ["-wal", "-shm"];

/// What is to take the casebook's place.
pub(crate) fn part(path: &Path) -> PathBuf {
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
pub(crate) fn note(path: &Path, aside: Option<&Path>) -> Result<(), CasebookError> {
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
pub(crate) fn finish(path: &Path, _turn: &Turn) -> Result<(), CasebookError> {
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
