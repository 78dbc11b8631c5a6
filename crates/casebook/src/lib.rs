//! What is kept: moments and places with their figures, readings taken, marks
//! given, notes and tags, in one SQLite file that stays on the user's machine.
//!
//! A [`Casebook`] is opened with [`Casebook::open`], which makes the day's backup; the
//! whole file is looked through before anything is written to it. A [`Case`] is kept as it was said; nothing here
//! knows what a moment or a place means, or computes anything with it.
//!
//! The instruments of one's own lie beside it, in a [`CabinetFolder`] of plain text files.
//!
//! Nothing is lost: every change is a transaction in a write-ahead log that is on
//! the disk before the change is answered for; an edit can be undone; and what has
//! been deleted is gone from the file, its log and its backups.
//!
//! Without the feature `book` there are only cases, and the formats in which they go out
//! and in, for whoever keeps them elsewhere.

#[cfg(feature = "book")]
mod backup;
#[cfg(feature = "book")]
mod beside;
#[cfg(feature = "book")]
mod book;
#[cfg(feature = "book")]
mod cabinet_folder;
mod case;
#[cfg(feature = "book")]
mod checksum;
mod class;
#[cfg(feature = "book")]
mod class_rows;
#[cfg(feature = "book")]
mod classes;
#[cfg(feature = "book")]
mod date;
#[cfg(feature = "book")]
mod deletion;
#[cfg(feature = "book")]
mod error;
mod exchange_csv;
mod exchange_json;
#[cfg(feature = "book")]
mod guides;
mod imported;
#[cfg(feature = "book")]
mod kind;
mod part;
mod parting;
#[cfg(feature = "book")]
mod private;
#[cfg(feature = "book")]
mod read_only;
#[cfg(feature = "book")]
mod replacing;
#[cfg(feature = "book")]
mod restoring;
#[cfg(feature = "book")]
mod schema;
#[cfg(feature = "book")]
mod search;
#[cfg(feature = "book")]
mod sound;
#[cfg(feature = "book")]
mod stored;
#[cfg(feature = "book")]
mod sums;
#[cfg(feature = "book")]
mod turn;

#[cfg(feature = "book")]
pub use beside::Backup;
#[cfg(feature = "book")]
pub use book::{Casebook, Undone};
#[cfg(feature = "book")]
pub use cabinet_folder::{CabinetError, CabinetFolder, FolderFile, FolderState};
pub use case::{Case, CaseId, GivenMark, Kept, Reading};
pub use class::{
    Answer, Answered, Asked, Class, ClassId, ClassOut, KeptClass, KeptPaper, Paper, PaperId, Pupil,
};
#[cfg(feature = "book")]
pub use deletion::{Deleted, Left};
#[cfg(feature = "book")]
pub use error::{CasebookError, Unreadable};
#[cfg(feature = "book")]
pub use exchange_csv::write_csv;
pub use exchange_csv::{CSV_COLUMNS, CsvCases, CsvFor, read_csv};
#[cfg(feature = "book")]
pub use exchange_json::write_json;
pub use exchange_json::{JsonCases, read_json};
pub use imported::{BadRow, Imported, NoCasebook};
#[cfg(feature = "book")]
pub use part::Part;
pub use parting::{Parting, column_name};
#[cfg(feature = "book")]
pub use search::Found;
