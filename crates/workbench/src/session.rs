use std::net::SocketAddr;

use axum::http::header::{COOKIE, HeaderValue, LOCATION, SET_COOKIE};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};

use crate::fault::Fault;

/// Who may speak to a server: whoever has opened the address that it told when it
/// started. Other accounts of the machine reach the loopback address too, and do not
/// know it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    key: String,
}

/// Where the address leads that is told: to the page, with the cookie that opens it.
const ENTRANCE: &str = "/enter/";

impl Session {
    /// A session with a key of its own: 128 bits that nobody can guess.
    ///
    /// # Errors
    /// When the system has no random numbers to give.
    pub fn fresh() -> std::io::Result<Session> {
        let mut bytes = [0_u8; 16];
        getrandom::fill(&mut bytes).map_err(std::io::Error::other)?;
        let key = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Session { key })
    }

    /// The address by which the page is opened.
    #[must_use]
    pub fn page(&self, address: SocketAddr) -> String {
        format!("http://{address}{ENTRANCE}{}", self.key)
    }

    /// The cookie by which the browser is known from then on. Browsers share cookies
    /// between the ports of a host, so that each port has one of its own.
    #[must_use]
    pub fn cookie(&self, port: u16) -> String {
        format!("{}={}", name(port), self.key)
    }

    /// Lets in whoever opens the address that was told: the answer is the way to the
    /// page. None where something else is asked for.
    pub(crate) fn enter(&self, path: &str, port: u16) -> Option<Response> {
        let key = path.strip_prefix(ENTRANCE)?;
        if !self.is(key) {
            return Some(refused(path));
        }
        let cookie = format!("{}; Path=/; HttpOnly; SameSite=Strict", self.cookie(port));
        let mut response = StatusCode::SEE_OTHER.into_response();
        let headers = response.headers_mut();
        headers.insert(LOCATION, HeaderValue::from_static("/"));
        if let Ok(cookie) = HeaderValue::from_str(&cookie) {
            headers.insert(SET_COOKIE, cookie);
        }
        Some(response)
    }

    /// Whether a request bears the cookie.
    pub(crate) fn has_opened(&self, headers: &HeaderMap, port: u16) -> bool {
        let name = name(port);
        headers
            .get_all(COOKIE)
            .iter()
            .filter_map(|cookies| cookies.to_str().ok())
            .flat_map(|cookies| cookies.split(';'))
            .filter_map(|cookie| cookie.trim().split_once('='))
            .any(|(one, value)| one == name && self.is(value))
    }

    /// Takes as long for a key that begins rightly as for any other.
    fn is(&self, key: &str) -> bool {
        let differ = self
            .key
            .bytes()
            .zip(key.bytes())
            .fold(0, |differ, (own, other)| differ | (own ^ other));
        self.key.len() == key.len() && differ == 0
    }
}

fn name(port: u16) -> String {
    format!("almuri-{port}")
}

/// What whoever has not opened the address is told.
pub(crate) fn refused(path: &str) -> Response {
    const WHY: &str = "This workbench belongs to whoever started it, or was started anew. Open the address that the terminal shows.";
    if path.starts_with("/desk/") {
        Fault::Request(StatusCode::FORBIDDEN, WHY.to_owned()).into_response()
    } else {
        (StatusCode::FORBIDDEN, WHY).into_response()
    }
}
