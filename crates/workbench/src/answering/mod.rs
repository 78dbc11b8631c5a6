use std::time::Duration;

use axum::extract::{DefaultBodyLimit, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get, post};
use axum::{Json, Router};
use page::{Kept, Pace, QUESTIONS, Question};
use patience::Patience;
use serde_json::value::RawValue;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::timeout::TimeoutLayer;

use crate::asset;
use crate::fault::{Fault, panicked};
use crate::guard::{IMPORT, Own, guard};
use crate::session::Session;

mod cabinet;
mod casebook;
mod class;
mod state;
mod today;

pub use state::Desk;
use state::{Body, not_kept, reckon};

/// No answer takes longer.
const LONGEST: Duration = Duration::from_secs(10);

/// A set of large parts takes seconds, on a slow machine or behind another many more.
const LONGEST_WORK: Duration = Duration::from_secs(120);

/// A whole casebook may be read in, or cleaned of what was deleted. A change is waited for
/// until it is answered for.
const LONGEST_CHANGE: Duration = Duration::from_secs(600);

/// The whole server as a router, for a port of the loopback address and whoever has
/// opened the session.
pub fn app(desk: Desk, port: u16, session: Session) -> Router {
    let own = from_fn_with_state(Own::on_port(port, session), guard);
    let quick = questions(Pace::Quick)
        .route("/desk/settings", post(keep))
        .route("/desk/today", post(today::today))
        .route("/desk/cabinet/keep", post(cabinet::keep))
        .route("/desk/cabinet/delete", post(cabinet::delete))
        .route("/desk/casebook/find", post(casebook::find))
        .route("/desk/class/list", post(class::list))
        .route("/desk/class/look", post(class::look))
        .route("/desk/class/paper", post(class::paper))
        .fallback(asset::asset)
        .layer(within(LONGEST));
    let long = questions(Pace::Slow)
        .route("/desk/class/give-out", post(class::give_out))
        .route("/desk/class/print", post(class::print))
        .layer(within(LONGEST_WORK));
    let changes = Router::new()
        .route("/desk/casebook/keep", post(casebook::keep))
        .route("/desk/casebook/edit", post(casebook::edit))
        .route("/desk/casebook/undo", post(casebook::undo))
        .route("/desk/casebook/delete", post(casebook::delete))
        .route("/desk/casebook/export", post(casebook::export))
        .route(IMPORT, post(casebook::import))
        .route("/desk/class/keep", post(class::keep))
        .route("/desk/class/delete", post(class::delete))
        .route("/desk/class/answer", post(class::answer))
        .layer(within(LONGEST_CHANGE));
    quick
        .merge(long)
        .merge(changes)
        .method_not_allowed_fallback(not_allowed)
        .with_state(desk)
        // The guard has bounded it already.
        .layer(DefaultBodyLimit::disable())
        .layer(CatchPanicLayer::custom(panicked))
        .layer(own)
}

fn within(longest: Duration) -> TimeoutLayer {
    TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, longest)
}

/// The page's questions that may take so long.
fn questions(pace: Pace) -> Router<Desk> {
    let of_pace = QUESTIONS.iter().filter(|question| question.pace == pace);
    of_pace.fold(Router::new(), |router, question| {
        router.route(&format!("/desk/{}", question.name), asked(question))
    })
}

/// How a question comes: one that says nothing more is fetched, any other brings JSON.
fn asked(question: &'static Question) -> MethodRouter<Desk> {
    let answer = move |desk: Desk, body: Box<str>| async move {
        let long_work = desk.long_work.clone();
        let work =
            move |patience: Patience<'_>| Ok(question.answer(body.as_bytes(), &desk, patience)?);
        let answer: page::Answer = match question.pace {
            Pace::Slow => long_work.done(work).await?,
            Pace::Quick => {
                let done = tokio::task::spawn_blocking(move || work(Patience::ENDLESS)).await;
                done.map_err(Fault::inner)??
            }
        };
        Ok::<_, Fault>(([(CONTENT_TYPE, answer.kind)], answer.bytes).into_response())
    };
    if question.is_bare {
        get(move |State(desk): State<Desk>| answer(desk, Box::default()))
    } else {
        post(
            move |State(desk): State<Desk>, body: Body<Box<RawValue>>| async move {
                let Json(body) = body?;
                answer(desk, body.into()).await
            },
        )
    }
}

async fn keep(State(desk): State<Desk>, body: Body<Kept>) -> Result<Response, Fault> {
    let Json(kept) = body?;
    reckon(move || desk.keeper.keep(kept).map_err(not_kept)).await
}

async fn not_allowed() -> Fault {
    Fault::Request(
        StatusCode::METHOD_NOT_ALLOWED,
        "This is not how the page asks.".to_owned(),
    )
}
