//! The case worked with the pen.

use axum::Json;
use axum::response::Response;
use desk::ReckonRequest;

use super::{Body, now_unix_s, reckon};
use crate::fault::Fault;

pub(super) async fn reckoned(body: Body<ReckonRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::reckoned(&request, now_unix_s())?)).await
}
