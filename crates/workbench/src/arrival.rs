use std::time::Duration;

use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::{Method, StatusCode};

use crate::fault::Fault;

/// Takes a question in, whole and in time, before anything is worked for it.
///
/// # Errors
/// When it is too long, comes too slowly, or is no object of JSON: a list in its place
/// would be read as an object that says nothing.
pub(crate) async fn arrived(
    request: Request,
    most_bytes: usize,
    longest: Duration,
) -> Result<Request, Fault> {
    let (parts, body) = request.into_parts();
    let bytes = match tokio::time::timeout(longest, to_bytes(body, most_bytes)).await {
        Err(_) => {
            let seconds = longest.as_secs();
            return Err(Fault::Request(
                StatusCode::REQUEST_TIMEOUT,
                format!("The question was not there whole after {seconds} s."),
            ));
        }
        Ok(Err(_)) => return Err(too_long(most_bytes)),
        Ok(Ok(bytes)) => bytes,
    };
    let first = bytes.iter().find(|byte| !byte.is_ascii_whitespace());
    if parts.method == Method::POST && first.is_some_and(|byte| *byte != b'{') {
        return Err(Fault::Request(
            StatusCode::UNPROCESSABLE_ENTITY,
            "A question is an object of JSON, such as {\"when\": \"2024-05-14 09:20\"}.".to_owned(),
        ));
    }
    Ok(Request::from_parts(parts, Body::from(bytes)))
}

/// What a question is told that is longer than it may be.
pub(crate) fn too_long(most_bytes: usize) -> Fault {
    Fault::Request(
        StatusCode::PAYLOAD_TOO_LARGE,
        format!("The page asks with {most_bytes} bytes at most here."),
    )
}
