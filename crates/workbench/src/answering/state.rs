use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use axum::Json;
use axum::extract::rejection::JsonRejection;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::Cabinet;
use page::{Holder, Kept};
use serde::Serialize;

use crate::book::Book;
use crate::fault::Fault;
use crate::kept::{Keeper, NotKept};
use crate::shelf::Shelf;
use crate::waiting::LongWork;

/// What the server asks: the desk, with the instruments at hand, the keeper of the
/// settings, and the casebook.
#[derive(Clone)]
pub struct Desk {
    pub(super) shelf: Arc<Shelf>,
    pub(super) keeper: Arc<dyn Keeper>,
    pub(super) book: Arc<Book>,
    pub(super) long_work: LongWork,
}

impl Desk {
    /// With these instruments, settings kept by this keeper, and this casebook.
    #[must_use]
    pub fn new(shelf: impl Into<Shelf>, keeper: impl Keeper, book: Book) -> Desk {
        Desk {
            shelf: Arc::new(shelf.into()),
            keeper: Arc::new(keeper),
            book: Arc::new(book),
            long_work: LongWork::default(),
        }
    }
}

impl Holder for Desk {
    fn cabinet(&self) -> Arc<Cabinet> {
        self.shelf.cabinet()
    }

    fn settings(&self) -> Result<Kept, String> {
        self.keeper.kept().map_err(|why| why.to_string())
    }

    fn now_unix_s(&self) -> Option<f64> {
        let since = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
        Some(since.as_secs_f64())
    }
}

pub(super) type Body<T> = Result<Json<T>, JsonRejection>;

pub(super) fn not_kept(why: NotKept) -> Fault {
    Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why.to_string())
}

/// Reckons beside the threads that serve, so that a long answer holds up no other.
pub(super) async fn reckon<T, F>(work: F) -> Result<Response, Fault>
where
    T: Serialize + Send + 'static,
    F: FnOnce() -> Result<T, Fault> + Send + 'static,
{
    let done = tokio::task::spawn_blocking(work).await;
    let answer = done.map_err(Fault::inner)??;
    Ok(Json(answer).into_response())
}
