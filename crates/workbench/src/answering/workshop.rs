//! The workshop: the parts as they would be made, their files, and plates for towns.

use std::io::{Cursor, Write};

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use desk::{ExamineRequest, PlatesRequest, WithInstrument};
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
    reckon(move || {
        let with = asked.with.as_ref();
        Ok(desk::part_pictures(
            with,
            &asked.plates,
            &asked.parts,
            &desk.cabinet(),
        )?)
    })
    .await
}

/// The files of a set, in one archive: a page can hand over one file at a time.
pub(super) async fn make(State(desk): State<Desk>, body: Body<Parts>) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let made = tokio::task::spawn_blocking(move || made(&asked, &desk)).await;
    let archive = made.map_err(Fault::inner)??;
    Ok(([(CONTENT_TYPE, "application/zip")], archive).into_response())
}

fn made(asked: &Parts, desk: &Desk) -> Result<Vec<u8>, Fault> {
    let refused = |error: &dyn std::error::Error| {
        Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, error.to_string())
    };
    let instrument = desk::to_make(asked.with.as_ref(), &asked.plates, &desk.cabinet())?;
    let today = now_unix_s().map(desk::date_of).unwrap_or_default();
    let order = Order::of(&asked.parts, &asked.formats, &asked.page, today)
        .map_err(|error| refused(&error))?;
    let files = press::press(&instrument, &order).map_err(|error| refused(&error))?;
    archive(&files).map_err(Fault::inner)
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

pub(super) async fn card(body: Body<CardAsked>) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let made = tokio::task::spawn_blocking(move || card_of(&asked)).await;
    let bytes = made.map_err(Fault::inner)??;
    Ok(([(CONTENT_TYPE, "application/pdf")], bytes).into_response())
}

fn card_of(asked: &CardAsked) -> Result<Vec<u8>, Fault> {
    let refused = |why: String| Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why);
    let paper = CardPaper::named(&asked.paper).map_err(|error| refused(error.to_string()))?;
    let answer = desk::plates(&asked.plates)?;
    let first = answer.towns.first();
    let card = first
        .and_then(|town| town_card(&answer, town))
        .ok_or_else(|| refused("a card is of a year; 2027 would do".to_owned()))?;
    press::card(&card, paper).map_err(|error| refused(error.to_string()))
}

/// A town takes 1 to 5 ms by its method: so many are answered while a page still waits.
const MOST_TOWNS: usize = 2000;

pub(super) async fn plates(body: Body<PlatesRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    let towns = request.towns.len();
    if towns > MOST_TOWNS {
        return Err(Fault::Request(
            StatusCode::UNPROCESSABLE_ENTITY,
            format!(
                "{towns} towns at once take longer than the page waits for; {MOST_TOWNS} would do, or `almuri plates --towns FILE` for any number"
            ),
        ));
    }
    reckon(move || Ok(desk::plates(&request)?)).await
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
