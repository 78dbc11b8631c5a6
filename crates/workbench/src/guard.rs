use std::sync::Arc;
use std::time::Duration;

use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONNECTION, CONTENT_LENGTH, CONTENT_SECURITY_POLICY, HOST, ORIGIN,
    REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use tokio::sync::Semaphore;

use crate::arrival::{arrived, too_long};
use crate::connections::Connection;
use crate::fault::Fault;
use crate::session::{self, Session};

/// By what a page on this machine is known: the names it may call the server by, and
/// that it was opened by whoever started the server.
#[derive(Clone, Debug)]
pub(crate) struct Own {
    names: Vec<String>,
    port: u16,
    session: Session,
    /// One casebook is read in at a time: it is large.
    import: Arc<Semaphore>,
}

impl Own {
    /// Of a server on this port of the loopback address.
    pub(crate) fn on_port(port: u16, session: Session) -> Own {
        let hosts = ["127.0.0.1", "localhost", "[::1]"];
        Own {
            names: hosts.map(|host| format!("{host}:{port}")).to_vec(),
            port,
            session,
            import: Arc::new(Semaphore::new(1)),
        }
    }

    fn has(&self, name: &str) -> bool {
        self.names.iter().any(|own| own.eq_ignore_ascii_case(name))
    }

    /// Takes in a question of whoever has opened the session, and has it answered.
    async fn heard(
        &self,
        request: Request,
        most_bytes: usize,
        longest: Duration,
        next: Next,
    ) -> Result<Response, Fault> {
        let connection = request.extensions().get::<Arc<Connection>>().cloned();
        if let Some(connection) = &connection {
            connection.is_known();
        }
        let _one_at_a_time = if request.uri().path() == IMPORT {
            let turn = Arc::clone(&self.import).acquire_owned().await;
            Some(turn.map_err(Fault::inner)?)
        } else {
            None
        };
        let request = arrived(request, most_bytes, longest).await?;
        let _working = connection.map(Connection::works);
        Ok(next.run(request).await)
    }

    /// Whether a request comes from this machine's own page. A foreign `Host` is
    /// a name that someone made point here; a foreign `Origin` another page.
    fn called_by(&self, headers: &HeaderMap) -> bool {
        let host = headers.get(HOST).and_then(|host| host.to_str().ok());
        if !host.is_some_and(|host| self.has(host)) || headers.get_all(HOST).iter().count() != 1 {
            return false;
        }
        let from_elsewhere = headers
            .get("sec-fetch-site")
            .is_some_and(|site| site != "same-origin" && site != "none");
        let origin = headers.get(ORIGIN).map(|origin| {
            let origin = origin.to_str().unwrap_or_default();
            origin.strip_prefix("http://").unwrap_or_default()
        });
        !from_elsewhere && origin.is_none_or(|origin| self.has(origin))
    }
}

/// No question of the page is larger; a specification has 64 KB at most.
pub(crate) const MOST_BYTES: usize = 128 * 1024;

/// Where a whole casebook is read in.
pub(crate) const IMPORT: &str = "/desk/casebook/import";

/// A casebook of 100,000 cases has some 20 MB. It stands in memory several times while it is
/// carried in or out; the command line carries larger ones.
pub(crate) const MOST_BYTES_OF_A_BOOK: usize = 32 * 1024 * 1024;

/// How much a question may say, and how long it may take to arrive.
fn bounds(path: &str) -> (usize, Duration) {
    if path == IMPORT {
        (MOST_BYTES_OF_A_BOOK, Duration::from_secs(60))
    } else {
        (MOST_BYTES, Duration::from_secs(5))
    }
}

/// How many bytes a request says it has.
fn announced(headers: &HeaderMap) -> usize {
    let length = headers.get(CONTENT_LENGTH).map(HeaderValue::to_str);
    match length {
        // What is no number is more than will be read.
        Some(length) => length
            .ok()
            .and_then(|text| text.parse().ok())
            .unwrap_or(usize::MAX),
        None => 0,
    }
}

/// What the page may do: load its own files, ask this server, and show films and pictures that
/// it made.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; \
     img-src 'self' data: blob:; media-src blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; \
     frame-ancestors 'none'";

const HEADERS: [(HeaderName, &str); 7] = [
    (CONTENT_SECURITY_POLICY, POLICY),
    (X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (X_FRAME_OPTIONS, "DENY"),
    (REFERRER_POLICY, "no-referrer"),
    // No other page may hold on to this one, or take in what it is made of.
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    ),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    ),
    // Birth data are on it: nothing of it is left in a browser's cache.
    (CACHE_CONTROL, "no-store"),
];

/// Refuses what comes from elsewhere, and puts the policy on every answer.
pub(crate) async fn guard(State(own): State<Own>, request: Request, next: Next) -> Response {
    let (most, longest) = bounds(request.uri().path());
    let path = request.uri().path();
    let refused = if !own.called_by(request.headers()) {
        let message = "This address is for the workbench's own page on this machine.";
        Some(Fault::Request(StatusCode::FORBIDDEN, message.to_owned()).into_response())
    } else if let Some(entering) = own.session.enter(path, own.port) {
        Some(entering)
    } else if !own.session.has_opened(request.headers(), own.port) {
        Some(session::refused(path))
    } else if announced(request.headers()) > most {
        Some(too_long(most).into_response())
    } else {
        None
    };
    let mut response = match refused {
        Some(mut response) => {
            let close = HeaderValue::from_static("close");
            response.headers_mut().insert(CONNECTION, close);
            response
        }
        None => match own.heard(request, most, longest, next).await {
            Ok(response) => response,
            Err(fault) => fault.into_response(),
        },
    };
    for (name, value) in HEADERS {
        let headers = response.headers_mut();
        headers
            .entry(name)
            .or_insert(HeaderValue::from_static(value));
    }
    response
}
