use std::fmt;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use serde::Serialize;
use thiserror::Error;

use crate::{CaseId, ClassId, NoCasebook, PaperId};

/// Why a casebook cannot do what was asked. What it holds is as it was before.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum CasebookError {
    /// The file is damaged, or is no casebook.
    #[error(
        "the casebook {} is damaged or is no casebook ({what}); restore a backup from {}, or name another file",
        path.display(),
        backups.display()
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was found.
        what: String,
        /// Where its backups are.
        backups: PathBuf,
    },
    /// A later program made the file.
    #[error(
        "the casebook {} is of version {found}, and this program knows versions up to {known}; a later program would do",
        path.display()
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// The latest this program knows.
        known: i64,
    },
    /// No case has this number.
    #[error("there is no case {0}, or no longer; the list shows those there are")]
    NoCase(CaseId),
    /// The case is not as it was kept.
    #[error(
        "{0}; a backup made before has it as it was (`backups` shows those there are), and once it is deleted the others can be copied and carried out again"
    )]
    Unreadable(Unreadable),
    /// The case was changed since it was looked at.
    #[error("case {0} was changed meanwhile by someone else; look at it again first")]
    Changed(CaseId),
    /// No class has this number.
    #[error("there is no class {0}, or no longer; the list of classes shows those there are")]
    NoClass(ClassId),
    /// No paper has this number.
    #[error("there is no sheet {0}, or no longer; its class shows those there are")]
    NoPaper(PaperId),
    /// Nothing was given to a pupil of this name.
    #[error("nothing was given to {0:?} in this class; its sheets show to whom something was")]
    NoPapersOf(String),
    /// The class was changed since it was looked at.
    #[error("class {0} was changed meanwhile by someone else; look at it again first")]
    ClassChanged(ClassId),
    /// The paper was changed since it was looked at.
    #[error("sheet {0} was changed meanwhile by someone else; look at it again first")]
    PaperChanged(PaperId),
    /// The class has no room for another sheet.
    #[error(
        "class {0} has as many sheets as a class can have, 48 MB of them; kept anew under another name it has room for those that follow"
    )]
    ClassFull(ClassId),
    /// A class or a paper cannot be kept: a sentence.
    #[error("{0}")]
    UnfitClass(String),
    /// The case cannot be kept.
    #[error("this case cannot be kept: {0}")]
    Unfit(String),
    /// There is nothing to undo.
    #[error("there is nothing to undo")]
    NothingToUndo,
    /// No backup has this name.
    #[error("there is no backup {name:?}; {}", if .there.is_empty() { "none has been made yet".to_owned() } else { format!("there are {}", .there.join(", ")) })]
    NoBackup {
        /// What was asked for.
        name: String,
        /// What there is.
        there: Vec<String>,
    },
    /// The disk has no room.
    #[error("there is no room left on the disk for the casebook; nothing was changed")]
    DiskFull,
    /// Its file or its folder may not be written to.
    #[error(
        "the casebook may only be read here; a file and a folder that may be written to would do"
    )]
    ReadOnly,
    /// It may only be read, and what is in its log cannot be read without writing.
    #[error(
        "the casebook {} may only be read here, and its last changes lie in a log that was left beside it; opened once where it may be written to, it takes them in",
        .0.display()
    )]
    LogLeft(PathBuf),
    /// It may only be read, and is too large to be read in whole.
    #[error(
        "the casebook {} may only be read here, and has more than {most_mb} MB, which are not read in; opened where it may be written to, it may be of any size",
        path.display()
    )]
    TooLargeToRead {
        /// The file.
        path: PathBuf,
        /// How many megabytes are read in.
        most_mb: u64,
    },
    /// The file was moved or deleted while it was open.
    #[error(
        "the casebook {} is no longer there, and nothing more is kept in it; put it back, and open it again",
        .0.display()
    )]
    Gone(PathBuf),
    /// Another program holds it for longer than we wait.
    #[error("the casebook is in use by another program; try again when that has finished")]
    Busy,
    /// A file cannot be read or written.
    #[error("{} cannot be used: {why}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// Why.
        why: std::io::Error,
    },
    /// What goes out cannot be written where it goes.
    #[error("what is carried out cannot be written: {0}")]
    Out(std::io::Error),
    /// A text that should be read is not what it should be.
    #[error("{0}")]
    Text(String),
    /// What was to be read lies on a damaged page.
    #[error("the casebook is damaged ({0}); restore a backup, `backups` shows those there are")]
    Unsound(String),
    /// Anything else that SQLite says.
    #[error("the casebook cannot be used: {0}")]
    Sqlite(rusqlite::Error),
}

impl From<rusqlite::Error> for CasebookError {
    fn from(error: rusqlite::Error) -> CasebookError {
        use rusqlite::ErrorCode;
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => CasebookError::DiskFull,
            Some(ErrorCode::ReadOnly) => CasebookError::ReadOnly,
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => CasebookError::Busy,
            Some(ErrorCode::NotADatabase | ErrorCode::DatabaseCorrupt) => {
                CasebookError::Unsound(error.to_string())
            }
            _ => CasebookError::Sqlite(error),
        }
    }
}

/// A case that is not as it was kept, so that it is not shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unreadable {
    /// Its number.
    pub id: CaseId,
    /// What was found, to follow its number.
    pub why: String,
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "case {} {}", self.id, self.why)
    }
}

impl Unreadable {
    /// What the user should know of it.
    pub(crate) fn notice(&self) -> String {
        format!("{self}; no backup is made of the casebook as long as it is there")
    }
}

impl From<NoCasebook> for CasebookError {
    fn from(NoCasebook(why): NoCasebook) -> CasebookError {
        CasebookError::Text(why)
    }
}

impl From<Unreadable> for CasebookError {
    fn from(unreadable: Unreadable) -> CasebookError {
        CasebookError::Unreadable(unreadable)
    }
}

impl CasebookError {
    pub(crate) fn file(path: &Path, why: std::io::Error) -> CasebookError {
        CasebookError::File {
            path: path.to_owned(),
            why,
        }
    }

    /// Whether the file or its folder may not be written to.
    pub(crate) fn is_for_want_of_leave(&self) -> bool {
        match self {
            CasebookError::ReadOnly => true,
            CasebookError::File { why, .. } => is_for_want_of_leave(why),
            // No log can be put beside it.
            CasebookError::Sqlite(error) => {
                error.sqlite_error_code() == Some(rusqlite::ErrorCode::CannotOpen)
            }
            _ => false,
        }
    }

    /// Whether it is the input that is at fault, and not the file or the machine.
    #[must_use]
    pub fn is_bad_input(&self) -> bool {
        matches!(
            self,
            CasebookError::NoCase(_)
                | CasebookError::Changed(_)
                | CasebookError::NoClass(_)
                | CasebookError::NoPaper(_)
                | CasebookError::NoPapersOf(_)
                | CasebookError::ClassChanged(_)
                | CasebookError::PaperChanged(_)
                | CasebookError::ClassFull(_)
                | CasebookError::UnfitClass(_)
                | CasebookError::Unfit(_)
                | CasebookError::NothingToUndo
                | CasebookError::NoBackup { .. }
                | CasebookError::Text(_)
        )
    }
}

/// Whether the file or its folder is what may not be written to.
pub(crate) fn is_for_want_of_leave(error: &std::io::Error) -> bool {
    matches!(
        error.kind(),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem
    )
}
