//! The server as a router, and how the page asks it.

use std::sync::OnceLock;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::Request;
use axum::response::Response;
use desk::Cabinet;
use serde_json::Value;
use tower::ServiceExt;
use workbench::{Book, Desk, Nowhere, Session, app};

pub(crate) const PORT: u16 = 7314;

/// One session for all tests.
pub(crate) fn session() -> Session {
    static SESSION: OnceLock<Session> = OnceLock::new();
    SESSION.get_or_init(|| Session::fresh().unwrap()).clone()
}

pub(crate) fn server() -> Router {
    let book = Book::at(Err("no casebook is needed here".to_owned()));
    let desk = Desk::new(Cabinet::built_in(), Nowhere::default(), book);
    app(desk, PORT, session())
}

pub(crate) async fn answer(request: Request<Body>) -> Response {
    server().oneshot(request).await.unwrap()
}

pub(crate) fn get(path: &str) -> axum::http::request::Builder {
    Request::get(path)
        .header("host", format!("127.0.0.1:{PORT}"))
        .header("cookie", session().cookie(PORT))
}

pub(crate) fn post(path: &str, body: impl ToString) -> Request<Body> {
    Request::post(path)
        .header("host", format!("127.0.0.1:{PORT}"))
        .header("cookie", session().cookie(PORT))
        .header("content-type", "application/json")
        .body(Body::from(body.to_string()))
        .unwrap()
}

pub(crate) async fn json_of(response: Response) -> Value {
    let bytes = to_bytes(response.into_body(), 1 << 25).await.unwrap();
    serde_json::from_slice(&bytes).unwrap()
}
