use std::fs::{File, OpenOptions};
use std::io::Read;
use std::path::Path;

use rusqlite::backup::Backup;
use rusqlite::{Connection, MAIN_DB, OpenFlags};

use crate::CasebookError;
use crate::beside::log_of;
use crate::error::is_for_want_of_leave;
use crate::turn::PATIENCE;

/// Where the head of a file says that changes go to a log beside it, for a reader
/// and for a writer; and what it says where they do not.
const HOW_IT_IS_KEPT: std::ops::Range<usize> = 18..20;
const WITHOUT_LOG: [u8; 2] = [1, 1];

/// A copy in memory is no larger; a book of 500,000 cases has some 150 MB.
const MOST_BYTES: u64 = 192 << 20;

/// Pages copied at a time.
const PAGES: i32 = 4096;

/// Whether a file is there that may not be written to. Nothing is written to find out.
pub(crate) fn may_only_be_read(path: &Path) -> bool {
    let refused = OpenOptions::new().write(true).open(path).err();
    refused.is_some_and(|error| is_for_want_of_leave(&error))
}

/// A casebook's file as it is at this moment, in memory: SQLite itself would need a log
/// beside the file to read it.
pub(crate) fn in_memory(path: &Path) -> Result<Connection, CasebookError> {
    let unreadable = |error| CasebookError::file(path, error);
    let mut file = File::open(path).map_err(unreadable)?;
    let about = file.metadata().map_err(unreadable)?;
    if about.len() > MOST_BYTES {
        return Err(CasebookError::TooLargeToRead {
            path: path.to_owned(),
            most_mb: MOST_BYTES >> 20,
        });
    }
    // What the log holds is a part of the book, and another program may be at work.
    if has_log(path) {
        return with_its_log(path);
    }
    let length = usize::try_from(about.len()).unwrap_or_default();
    let mut head = Vec::new();
    file.by_ref()
        .take(HOW_IT_IS_KEPT.end as u64)
        .read_to_end(&mut head)
        .map_err(unreadable)?;
    if let Some(how) = head.get_mut(HOW_IT_IS_KEPT) {
        how.copy_from_slice(&WITHOUT_LOG);
    }
    let mut memory = Connection::open_in_memory()?;
    if length > 0 {
        memory.deserialize_read_exact(MAIN_DB, head.as_slice().chain(file), length, false)?;
    }
    let changed = path.metadata().and_then(|about| about.modified());
    if has_log(path) || changed.map_err(unreadable)? != about.modified().map_err(unreadable)? {
        return Err(CasebookError::Busy);
    }
    Ok(memory)
}

/// The same where there is a log. To read it SQLite needs the index that its writer
/// left beside it, or would put one there.
fn with_its_log(path: &Path) -> Result<Connection, CasebookError> {
    let mut index = path.as_os_str().to_owned();
    index.push("-shm");
    File::open(&index).map_err(|_| CasebookError::LogLeft(path.to_owned()))?;
    let source = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
    source.busy_timeout(PATIENCE)?;
    let mut memory = Connection::open_in_memory()?;
    let copying = Backup::new(&source, &mut memory)?;
    copying.run_to_completion(PAGES, std::time::Duration::ZERO, None)?;
    drop(copying);
    Ok(memory)
}

fn has_log(path: &Path) -> bool {
    log_of(path).metadata().is_ok_and(|log| log.len() > 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Case, Casebook};

    fn case(name: &str) -> Case {
        Case {
            name: name.to_owned(),
            when: "1391-03-12 09:00".to_owned(),
            at: "Oxford".to_owned(),
            ..Case::default()
        }
    }

    fn cases(memory: &Connection) -> i64 {
        memory
            .query_row("SELECT count(*) FROM cases", [], |row| row.get(0))
            .expect("counted")
    }

    #[test]
    fn what_another_program_has_in_its_log_is_read() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("casebook.sqlite");
        let mut book = Casebook::open(&path).expect("opens");
        book.keep(case("In the log")).expect("kept");
        assert!(has_log(&path));
        assert_eq!(cases(&in_memory(&path).expect("read")), 1);
        drop(book);
        assert!(!has_log(&path));
        assert_eq!(cases(&in_memory(&path).expect("read")), 1);
    }

    #[test]
    fn a_copy_in_memory_has_a_bound() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("casebook.sqlite");
        drop(Casebook::open(&path).expect("opens"));
        // Of nothing but zeros, so that it takes no room.
        let file = OpenOptions::new().write(true).open(&path).expect("opens");
        file.set_len(MOST_BYTES + 1).expect("lengthened");
        let error = in_memory(&path).expect_err("refused").to_string();
        assert!(error.contains("more than 192 MB"), "{error}");
    }

    #[test]
    fn a_log_that_cannot_be_read_without_writing_is_told() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("casebook.sqlite");
        let mut book = Casebook::open(&path).expect("opens");
        book.keep(case("In the log")).expect("kept");
        let copy = folder.path().join("copy.sqlite");
        std::fs::copy(&path, &copy).expect("copied");
        std::fs::copy(log_of(&path), log_of(&copy)).expect("copied");
        let error = in_memory(&copy).expect_err("refused");
        assert!(matches!(error, CasebookError::LogLeft(_)), "{error}");
    }
}
