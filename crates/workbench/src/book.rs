use std::path::PathBuf;
use std::sync::Mutex;

use axum::http::StatusCode;
use casebook::{Casebook, CasebookError, NoCasebook};

use crate::fault::Fault;

/// The casebook of the page: opened when it is first asked for, and kept open.
#[derive(Debug)]
pub struct Book {
    place: Result<PathBuf, String>,
    open: Mutex<Open>,
}

#[derive(Debug, Default)]
struct Open {
    book: Option<Casebook>,
    /// Whether one was ever open: then its file is not begun anew where it is missing.
    once: bool,
}

impl Book {
    /// In this file; or, where there is no place for one, the reason why.
    #[must_use]
    pub fn at(place: Result<PathBuf, String>) -> Book {
        Book {
            place,
            open: Mutex::default(),
        }
    }

    /// Works with the open book.
    pub(crate) fn with<T>(
        &self,
        work: impl FnOnce(&mut Casebook) -> Result<T, Fault>,
    ) -> Result<T, Fault> {
        // What a broken-off request left is a rolled back transaction.
        let mut open = self
            .open
            .lock()
            .unwrap_or_else(|broken| broken.into_inner());
        let Open { book, once } = &mut *open;
        // What may only be read is a copy of a moment, and may be written to again.
        let is_stale = |book: &Casebook| book.is_read_only() || !book.is_in_place();
        if book.as_ref().is_some_and(is_stale) {
            *book = None;
        }
        let book = match book {
            Some(book) => book,
            none => none.insert(self.opened(*once)?),
        };
        *once = true;
        work(book)
    }

    fn opened(&self, once: bool) -> Result<Casebook, Fault> {
        let broken = |why| Fault::Request(StatusCode::INTERNAL_SERVER_ERROR, why);
        let place = self.place.as_ref().map_err(|why| broken(why.clone()))?;
        if once && !place.exists() {
            return Err(broken(format!(
                "the casebook {} is no longer there; put it back, or start the workbench again to begin a new one",
                place.display()
            )));
        }
        Ok(Casebook::open(place)?)
    }
}

impl From<CasebookError> for Fault {
    fn from(error: CasebookError) -> Fault {
        let status = if error.is_bad_input() {
            StatusCode::UNPROCESSABLE_ENTITY
        } else {
            // The file's own trouble: the person can do something about it.
            StatusCode::INTERNAL_SERVER_ERROR
        };
        Fault::Request(status, error.to_string())
    }
}

impl From<NoCasebook> for Fault {
    fn from(why: NoCasebook) -> Fault {
        Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why.to_string())
    }
}
