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

mod backup;
mod book;
mod cabinet_folder;
mod case;
mod date;
mod deletion;
mod error;
mod exchange_csv;
mod exchange_json;
mod parting;
mod private;
mod read_only;
mod restoring;
mod schema;
mod search;
mod stored;
mod sums;
mod turn;

pub use backup::Backup;
pub use book::{Casebook, Undone};
pub use cabinet_folder::{CabinetError, CabinetFolder, FolderFile, FolderState};
pub use case::{Case, CaseId, Kept, Mark, Reading};
pub use deletion::{Deleted, Left};
pub use error::{CasebookError, Unreadable};
pub use exchange_csv::{CSV_COLUMNS, CsvFor, read_csv, write_csv};
pub use exchange_json::{BadRow, Imported, read_json, write_json};
pub use parting::{Parting, column_name};
pub use search::Found;
