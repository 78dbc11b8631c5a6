//! The workshop: the parts as they would be made, their files, and plates for towns.

use std::io::{Cursor, Write};

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use desk::{ExamineRequest, PlatesRequest, WithInstrument};
use patience::Patience;
use press::{CardPaper, Order, Printed};
use serde::{Deserialize, Serialize};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::{Body, Desk, now_unix_s, reckon};
use crate::fault::Fault;
use handouts::town_card;

/// Which instrument is looked at, with which plates, and which of its parts.
#[derive(Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Parts {
    with: Option<WithInstrument>,
    plates: Vec<String>,
    parts: Vec<String>,
    formats: Vec<String>,
    page: String,
}

impl Default for Parts {
    fn default() -> Parts {
        Parts {
            with: None,
            plates: Vec::new(),
            parts: Vec::new(),
            formats: Vec::new(),
            page: "a4".to_owned(),
        }
    }
}

pub(super) async fn preview(
    State(desk): State<Desk>,
    body: Body<Parts>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let long_work = desk.long_work.clone();
    let pictures = long_work.done(move |patience| {
        Ok(desk::part_pictures(
            asked.with.as_ref(),
            &asked.plates,
            &asked.parts,
            &desk.cabinet(),
            patience,
        )?)
    });
    Ok(Json(pictures.await?).into_response())
}

/// The files of a set, in one archive: a page can hand over one file at a time.
pub(super) async fn make(State(desk): State<Desk>, body: Body<Parts>) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let long_work = desk.long_work.clone();
    let archive = long_work.done(move |patience| made(&asked, &desk, patience));
    Ok(([(CONTENT_TYPE, "application/zip")], archive.await?).into_response())
}

fn made(asked: &Parts, desk: &Desk, patience: Patience<'_>) -> Result<Vec<u8>, Fault> {
    let refused = |error: &dyn std::error::Error| {
        Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, error.to_string())
    };
    let instrument = desk::to_make(asked.with.as_ref(), &asked.plates, &desk.cabinet())?;
    let today = now_unix_s().map(desk::date_of).unwrap_or_default();
    let order = Order::of(&asked.parts, &asked.formats, &asked.page, today)
        .map_err(|error| refused(&error))?;
    let set = press::set(&instrument, &order, patience).map_err(|error| refused(&error))?;
    archive(&set.files).map_err(Fault::inner)
}

/// The files as they are, one after the other: it goes no further than this machine.
pub(super) fn archive(files: &[Printed]) -> zip::result::ZipResult<Vec<u8>> {
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for file in files {
        archive.start_file(file.name.as_str(), stored)?;
        archive.write_all(&file.bytes)?;
    }
    Ok(archive.finish()?.into_inner())
}

/// The card of a town.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CardAsked {
    plates: PlatesRequest,
    paper: String,
}

pub(super) async fn card(
    State(desk): State<Desk>,
    body: Body<CardAsked>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let card = desk
        .long_work
        .done(move |patience| card_of(&asked, patience));
    Ok(([(CONTENT_TYPE, "application/pdf")], card.await?).into_response())
}

fn card_of(asked: &CardAsked, patience: Patience<'_>) -> Result<Vec<u8>, Fault> {
    let refused = |why: String| Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why);
    let paper = CardPaper::named(&asked.paper).map_err(|error| refused(error.to_string()))?;
    let towns = asked.plates.towns.len();
    if towns > 1 {
        return Err(refused(format!(
            "a card is of one town, and {towns} are named; each by itself would do"
        )));
    }
    let answer = desk::plates(&asked.plates, patience)?;
    let first = answer.towns.first();
    let card = first
        .and_then(|town| town_card(&answer, town))
        .ok_or_else(|| refused("a card is of a year; 2027 would do".to_owned()))?;
    press::card(&card, paper).map_err(|error| refused(error.to_string()))
}

pub(super) async fn plates(
    State(desk): State<Desk>,
    body: Body<PlatesRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    let plates = desk
        .long_work
        .done(move |patience| Ok(desk::plates(&request, patience)?));
    Ok(Json(plates.await?).into_response())
}

pub(super) async fn examine(
    State(desk): State<Desk>,
    body: Body<ExamineRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::examine(&request, &desk.cabinet())?)).await
}

/// A file of measurements as an example.
#[derive(Serialize)]
pub(super) struct Example {
    measurements: &'static str,
}

pub(super) async fn example() -> Json<Example> {
    Json(Example {
        measurements: desk::EXAMPLE_MEASUREMENTS,
    })
}
