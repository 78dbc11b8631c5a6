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
        .merge(of_own(Takes::Answer))
        .fallback(asset::asset)
        .layer(within(LONGEST));
    let long = questions(Pace::Slow)
        .merge(of_own(Takes::Work))
        .layer(within(LONGEST_WORK));
    let changes = of_own(Takes::Change).layer(within(LONGEST_CHANGE));
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

/// How long something of the server's own may take.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Takes {
    /// As long as an answer.
    Answer,
    /// As long as a change of the casebook.
    Change,
    /// As long as work.
    Work,
}

/// What is asked under a path of the server's own: how long it may take, and how.
type OwnQuestion = (&'static str, Takes, fn() -> MethodRouter<Desk>);

/// What is asked beside the page's [`QUESTIONS`]: of what is kept here, and of today.
#[rustfmt::skip]
const OWN: &[OwnQuestion] = &[
    ("/desk/settings", Takes::Answer, || post(keep)),
    ("/desk/today", Takes::Answer, || post(today::today)),
    ("/desk/cabinet/keep", Takes::Answer, || post(cabinet::keep)),
    ("/desk/cabinet/delete", Takes::Answer, || post(cabinet::delete)),
    ("/desk/casebook/find", Takes::Answer, || post(casebook::find)),
    ("/desk/casebook/keep", Takes::Change, || post(casebook::keep)),
    ("/desk/casebook/edit", Takes::Change, || post(casebook::edit)),
    ("/desk/casebook/undo", Takes::Change, || post(casebook::undo)),
    ("/desk/casebook/delete", Takes::Change, || post(casebook::delete)),
    ("/desk/casebook/export", Takes::Change, || post(casebook::export)),
    (IMPORT, Takes::Change, || post(casebook::import)),
    ("/desk/class/list", Takes::Answer, || post(class::list)),
    ("/desk/class/look", Takes::Answer, || post(class::look)),
    ("/desk/class/paper", Takes::Answer, || post(class::paper)),
    ("/desk/class/post", Takes::Answer, || post(class::post)),
    ("/desk/class/keep", Takes::Change, || post(class::keep)),
    ("/desk/class/delete", Takes::Change, || post(class::delete)),
    ("/desk/class/answer", Takes::Change, || post(class::answer)),
    ("/desk/class/collect", Takes::Change, || post(class::collect)),
    ("/desk/class/give-out", Takes::Work, || post(class::give_out)),
    ("/desk/class/print", Takes::Work, || post(class::print)),
];

fn of_own(takes: Takes) -> Router<Desk> {
    let of_them = OWN.iter().filter(|(_, how_long, _)| *how_long == takes);
    of_them.fold(Router::new(), |router, (path, _, asked)| {
        router.route(path, asked())
    })
}

/// Every path under which something is asked; what else is served are the page's files.
pub fn paths() -> impl Iterator<Item = String> {
    let questions = QUESTIONS.iter().map(path_of);
    questions.chain(OWN.iter().map(|(path, ..)| (*path).to_owned()))
}

fn path_of(question: &Question) -> String {
    format!("/desk/{}", question.name)
}

fn within(longest: Duration) -> TimeoutLayer {
    TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, longest)
}

/// The page's questions that may take so long.
fn questions(pace: Pace) -> Router<Desk> {
    let of_pace = QUESTIONS.iter().filter(|question| question.pace == pace);
    of_pace.fold(Router::new(), |router, question| {
        router.route(&path_of(question), asked(question))
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
