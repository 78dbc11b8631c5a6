//! Times about a case: an uncertain one, the revolution of a year, the moments of a year
//! that have an ascendant.

use axum::Json;
use axum::extract::State;
use axum::response::Response;
use desk::{DuringRequest, MomentsRequest, RevolutionRequest};

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
