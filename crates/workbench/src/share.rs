//! A built site, for a class in the same room: its files and nothing else, to whoever is in
//! the local network. Nothing of this machine's cases and settings is behind it; it has no
//! desk at all, for the page brings its own.

use std::collections::BTreeMap;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::header::{ALLOW, CACHE_CONTROL, CONTENT_TYPE, X_CONTENT_TYPE_OPTIONS};
use axum::http::{Method, StatusCode, Uri};
use axum::response::{IntoResponse, Response};
use thiserror::Error;
use tokio::net::TcpListener;

use crate::server::{LAST_WAIT, ServeError, served, told_to_end};

/// The port that is tried where none is asked for.
const USUAL_PORT: u16 = 7315;

/// Thirty telephones on one wireless network take their time over a piece of 10 MB.
const SLOWEST_READING: Duration = Duration::from_secs(600);

/// A built site has some 50 MB in 100 files: what has more than this is another folder.
const MOST_BYTES: u64 = 256 * 1024 * 1024;
const MOST_FILES: usize = 4096;

/// Why a site cannot be shared.
#[derive(Debug, Error)]
pub enum ShareError {
    /// The folder holds none.
    #[error("{} holds no built site ({why}); `cargo xtask site` builds one in target/site", folder.display())]
    NoSite {
        /// The folder that was named.
        folder: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// It cannot be served.
    #[error(transparent)]
    Serve(#[from] ServeError),
}

/// The files of a site, read once: what changes in the folder afterwards is not served, and
/// no path reaches beyond them.
#[derive(Clone, Debug)]
pub struct SharedSite {
    files: Arc<BTreeMap<String, Bytes>>,
}

impl SharedSite {
    /// Reads the files of a folder. What is no plain file, such as a link, is left out.
    ///
    /// # Errors
    /// When it cannot be read, has no page, or holds more than a site does: 256 MB or 4096
    /// files and folders.
    pub fn read(folder: &Path) -> Result<SharedSite, ShareError> {
        let no_site = |why: String| ShareError::NoSite {
            folder: folder.to_owned(),
            why,
        };
        let unread = |error: std::io::Error| no_site(error.to_string());
        let page = folder.join("index.html");
        if !std::fs::symlink_metadata(&page).is_ok_and(|page| page.is_file()) {
            return Err(no_site("it has no index.html".to_owned()));
        }
        let page = Bytes::from(std::fs::read(page).map_err(unread)?);
        let mut files = BTreeMap::from([("/".to_owned(), page)]);
        let mut folders = vec![(String::new(), folder.to_owned())];
        let (mut entries, mut bytes) = (0, 0);
        while let Some((within, path)) = folders.pop() {
            for entry in std::fs::read_dir(&path).map_err(unread)? {
                let entry = entry.map_err(unread)?;
                entries += 1;
                if entries > MOST_FILES {
                    return Err(no_site(format!(
                        "it has more than {MOST_FILES} files and folders"
                    )));
                }
                let kind = entry.file_type().map_err(unread)?;
                let Ok(name) = entry.file_name().into_string() else {
                    continue;
                };
                let served_as = format!("{within}/{name}");
                if kind.is_dir() {
                    folders.push((served_as, entry.path()));
                } else if kind.is_file() {
                    bytes += entry.metadata().map_err(unread)?.len();
                    if bytes > MOST_BYTES {
                        let most = MOST_BYTES / (1024 * 1024);
                        return Err(no_site(format!("it has more than {most} MB")));
                    }
                    let read = std::fs::read(entry.path()).map_err(unread)?;
                    files.insert(served_as, Bytes::from(read));
                }
            }
        }
        Ok(SharedSite {
            files: Arc::new(files),
        })
    }

    fn routes(self) -> Router {
        Router::new().fallback(file).with_state(self)
    }
}

async fn file(State(site): State<SharedSite>, method: Method, uri: Uri) -> Response {
    if method != Method::GET && method != Method::HEAD {
        let allowed = [(ALLOW, "GET, HEAD")];
        let why = "Only files are here, to be read.\n";
        return (StatusCode::METHOD_NOT_ALLOWED, allowed, why).into_response();
    }
    let Some(bytes) = site.files.get(uri.path()) else {
        return (StatusCode::NOT_FOUND, "There is no such file here.\n").into_response();
    };
    let kind = match uri.path().rsplit_once('.').map(|(_, end)| end) {
        None | Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("jpg") => "image/jpeg",
        Some("woff2") => "font/woff2",
        Some("webmanifest") => "application/manifest+json",
        Some(_) => "application/octet-stream",
    };
    let headers = [
        (CONTENT_TYPE, kind),
        // The folder may be built anew and shared again.
        (CACHE_CONTROL, "no-cache"),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
    ];
    (headers, bytes.clone()).into_response()
}

/// Serves a site to the local network until the program is told to end. `started` hears the
/// address under which others reach it.
///
/// # Errors
/// When the port cannot be had, or the system gives no threads.
pub fn share(
    site: SharedSite,
    port: Option<u16>,
    started: impl FnOnce(SocketAddr),
) -> Result<(), ServeError> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(ServeError::System)?;
    let shared = runtime.block_on(async {
        let listener = match port {
            Some(port) => listen(port).await?,
            None => match listen(USUAL_PORT).await {
                Ok(taken) => taken,
                Err(_) => listen(0).await?,
            },
        };
        let taken = listener.local_addr().map_err(ServeError::System)?;
        let stop = told_to_end().map_err(ServeError::System)?;
        started(SocketAddr::new(own_address(), taken.port()));
        served(site.routes(), listener, SLOWEST_READING, stop).await;
        Ok(())
    });
    runtime.shutdown_timeout(LAST_WAIT);
    shared
}

async fn listen(port: u16) -> Result<TcpListener, ServeError> {
    TcpListener::bind((Ipv4Addr::UNSPECIFIED, port))
        .await
        .map_err(|error| ServeError::SharedPort { port, error })
}

/// The address of this machine in the network that it would reach others by; no packet is
/// sent to find it. Where there is no network, its own.
fn own_address() -> IpAddr {
    /// An address for documentation (RFC 5737), which leads out of any local network.
    const ELSEWHERE: (Ipv4Addr, u16) = (Ipv4Addr::new(192, 0, 2, 1), 9);
    let asked = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).and_then(|socket| {
        socket.connect(ELSEWHERE)?;
        socket.local_addr()
    });
    asked.map_or(IpAddr::V4(Ipv4Addr::LOCALHOST), |address| address.ip())
}
