//! Drawings for the page and for files: the figure, and instruments compared.

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use desk::{CompareAnswer, CompareRequest, DrawFigureRequest};
use press::DrawingFormat;
use serde::{Deserialize, Serialize};

use super::{Body, Desk, now_unix_s, reckon};
use crate::fault::Fault;

/// A drawing.
#[derive(Serialize)]
struct Drawn {
    svg: String,
}

pub(super) async fn figure(
    State(desk): State<Desk>,
    body: Body<DrawFigureRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || {
        let svg = desk::draw_figure(&request, &desk.cabinet(), now_unix_s())?;
        Ok(Drawn { svg })
    })
    .await
}

/// A figure to be saved.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FigureFile {
    drawing: DrawFigureRequest,
    format: String,
}

pub(super) async fn figure_file(
    State(desk): State<Desk>,
    body: Body<FigureFile>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let made = tokio::task::spawn_blocking(move || made(&asked, &desk)).await;
    let (kind, bytes) = made.map_err(Fault::inner)??;
    Ok(([(CONTENT_TYPE, kind)], bytes).into_response())
}

fn made(asked: &FigureFile, desk: &Desk) -> Result<(&'static str, Vec<u8>), Fault> {
    let refused = |why: String| Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why);
    let format = DrawingFormat::named(&asked.format).ok_or_else(|| {
        let names = DrawingFormat::ALL.map(DrawingFormat::name).join(", ");
        refused(format!("this is no format of drawings; {names} would do"))
    })?;
    let scene = desk::figure_scene(&asked.drawing, &desk.cabinet(), now_unix_s())?;
    let bytes = press::drawing_file(&scene, "figure", format)
        .map_err(|error| refused(error.to_string()))?;
    let kind = match format {
        DrawingFormat::Svg => "image/svg+xml",
        DrawingFormat::Pdf => "application/pdf",
        DrawingFormat::Png => "image/png",
    };
    Ok((kind, bytes))
}

/// Instruments side by side, and their picture for the page's own colours.
#[derive(Serialize)]
struct Compared {
    #[serde(flatten)]
    answer: CompareAnswer,
    svg: String,
}

pub(super) async fn comparison(
    State(desk): State<Desk>,
    body: Body<CompareRequest>,
) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || {
        let answer = desk::compare(&request, &desk.cabinet(), now_unix_s())?;
        let svg = desk::comparison_svg(&answer, "compared-");
        Ok(Compared { answer, svg })
    })
    .await
}
