//! Times about a case: an uncertain one, the revolution of a year, the moments of a year
//! that have an ascendant, a time that is sought, and the year's book.

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use desk::{
    ChooseAnswer, ChooseRequest, DuringRequest, MomentsRequest, RevolutionRequest, YearRequest,
};
use press::BookPaper;
use serde::{Deserialize, Serialize};

use super::{Body, Desk, now_unix_s, reckon};
use crate::fault::Fault;

pub(super) async fn during(
    State(desk): State<Desk>,
    body: Body<DuringRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::during(&request, &desk.cabinet(), now_unix_s())?)).await
}

pub(super) async fn revolution(
    State(desk): State<Desk>,
    body: Body<RevolutionRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::revolution(&request, &desk.cabinet(), now_unix_s())?)).await
}

pub(super) async fn moments(
    State(desk): State<Desk>,
    body: Body<MomentsRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::moments(&request, &desk.cabinet(), now_unix_s())?)).await
}

/// The times that were found, and the strip of the weeks for the page's own colours.
#[derive(Serialize)]
struct Chosen {
    #[serde(flatten)]
    answer: ChooseAnswer,
    svg: String,
}

pub(super) async fn choose(_: State<Desk>, body: Body<ChooseRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || {
        let answer = desk::choose(&request, now_unix_s())?;
        let svg = desk::choice_svg(&answer, "chosen-");
        Ok(Chosen { answer, svg })
    })
    .await
}

pub(super) async fn choose_forms() -> Response {
    Json(desk::choose_forms()).into_response()
}

fn refused(error: impl std::fmt::Display) -> Fault {
    Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, error.to_string())
}

/// The times that were found, for a calendar.
pub(super) async fn choose_calendar(
    _: State<Desk>,
    body: Body<ChooseRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    let made = tokio::task::spawn_blocking(move || {
        let answer = desk::choose(&request, now_unix_s())?;
        handouts::choice_calendar(&answer, None).map_err(refused)
    })
    .await;
    let text = made.map_err(Fault::inner)??;
    Ok(([(CONTENT_TYPE, "text/calendar; charset=utf-8")], text).into_response())
}

/// A year's book, and its paper.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BookAsked {
    year: YearRequest,
    paper: String,
}

pub(super) async fn year_book(
    State(desk): State<Desk>,
    body: Body<BookAsked>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let made = tokio::task::spawn_blocking(move || {
        let paper = BookPaper::named(&asked.paper).map_err(refused)?;
        let answer = desk::year(&asked.year, &desk.cabinet(), now_unix_s())?;
        press::year_book(&handouts::year_handout(&answer), paper).map_err(refused)
    })
    .await;
    let bytes = made.map_err(Fault::inner)??;
    Ok(([(CONTENT_TYPE, "application/pdf")], bytes).into_response())
}

/// Which events of a year go into a calendar.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct YearCalendarAsked {
    year: YearRequest,
    kinds: Vec<String>,
}

pub(super) async fn year_calendar(
    State(desk): State<Desk>,
    body: Body<YearCalendarAsked>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let made = tokio::task::spawn_blocking(move || {
        let answer = desk::year(&asked.year, &desk.cabinet(), now_unix_s())?;
        handouts::year_calendar(&answer, &asked.kinds, None).map_err(refused)
    })
    .await;
    let text = made.map_err(Fault::inner)??;
    Ok(([(CONTENT_TYPE, "text/calendar; charset=utf-8")], text).into_response())
}
