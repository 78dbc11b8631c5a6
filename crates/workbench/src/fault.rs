use axum::Json;
use axum::extract::rejection::JsonRejection;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::Refusal;
use serde_json::json;

/// What a request comes to when it cannot be answered: a status, and a sentence.
#[derive(Debug)]
pub(crate) enum Fault {
    /// The desk cannot answer: bad input, with the field it belongs to.
    Refused(Refusal),
    /// Something is wrong with the request itself.
    Request(StatusCode, String),
    /// Something is wrong here; the details have gone to the log.
    Inner,
}

impl Fault {
    /// A fault of ours: logged, and told in general words.
    pub(crate) fn inner(details: impl std::fmt::Display) -> Fault {
        log(&details);
        Fault::Inner
    }
}

/// What the page says of a fault of ours.
const INNER: &str =
    "Something went wrong inside the program. The terminal it was started from says more.";

impl From<Refusal> for Fault {
    fn from(refusal: Refusal) -> Fault {
        Fault::Refused(refusal)
    }
}

impl From<page::Fault> for Fault {
    fn from(fault: page::Fault) -> Fault {
        match fault {
            page::Fault::Refused(refusal) => Fault::Refused(refusal),
            page::Fault::Asked(why) => Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why),
            page::Fault::Elsewhere => {
                Fault::inner("the workbench is built whole, and this one was not")
            }
            page::Fault::Inner(details) => Fault::inner(details),
        }
    }
}

impl From<JsonRejection> for Fault {
    fn from(rejection: JsonRejection) -> Fault {
        Fault::Request(rejection.status(), rejection.body_text())
    }
}

impl IntoResponse for Fault {
    fn into_response(self) -> Response {
        let (status, body) = match self {
            Fault::Refused(refusal) => (StatusCode::UNPROCESSABLE_ENTITY, json!(refusal)),
            Fault::Request(status, message) => (status, json!({ "message": message })),
            Fault::Inner => (
                StatusCode::INTERNAL_SERVER_ERROR,
                json!({ "message": INNER }),
            ),
        };
        (status, Json(body)).into_response()
    }
}

/// What a caught panic is answered with.
pub(crate) fn panicked(panic: Box<dyn std::any::Any + Send>) -> Response {
    let details = panic
        .downcast_ref::<String>()
        .cloned()
        .or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()))
        .unwrap_or_default();
    Fault::inner(format!("a request broke off: {details}")).into_response()
}

/// Writes to standard error, where the person who started the program looks.
pub(crate) fn log(details: &impl std::fmt::Display) {
    use std::io::Write;
    // Where standard error is gone there is nobody left to tell.
    let _ = writeln!(std::io::stderr(), "almuri: {details}");
}
