use std::future::Future;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use thiserror::Error;
use tokio::net::{TcpListener, TcpStream};
use tower::ServiceExt;

use crate::answering::{Desk, app};
use crate::connections::{Connection, Connections};
use crate::fault::log;
use crate::session::Session;
use crate::timed_writes::TimedWrites;

/// Why the server cannot start or go on.
#[derive(Debug, Error)]
pub enum ServeError {
    /// The port is not to be had.
    #[error(
        "port {port} of the loopback address cannot be used ({error}); --port 0 takes any that is free"
    )]
    Port {
        /// The port asked for.
        port: u16,
        /// What the system says.
        error: std::io::Error,
    },
    /// The port is not to be had in the local network.
    #[error(
        "port {port} cannot be used in the local network ({error}); --port 0 takes any that is free"
    )]
    SharedPort {
        /// The port asked for.
        port: u16,
        /// What the system says.
        error: std::io::Error,
    },
    /// The system gives no threads or signals to serve with.
    #[error("the server cannot be started: {0}")]
    System(std::io::Error),
}

/// The port that is tried where none is asked for: an address that stays the same
/// can be kept as a bookmark.
const USUAL_PORT: u16 = 7314;

/// Of more connections than this one is let go ([`Connections`]).
const MOST_CONNECTIONS: usize = 512;

/// A client that takes longer to say what it wants is let go.
const SLOWEST_HEADER: Duration = Duration::from_secs(5);

/// An answer that has not been read whole by then is not read at all.
const SLOWEST_READING: Duration = Duration::from_secs(30);

/// So many answers are worked at once; the others wait. A core works one at a time, and
/// each may need some memory.
const MOST_AT_ONCE: usize = 32;

/// How long requests under way may take once the server is to stop.
pub(crate) const LAST_WAIT: Duration = Duration::from_secs(2);

/// Serves the workbench until the program is told to end, by Ctrl-C or by the
/// system. `started` hears the address and the session, which has the page's. Without a port the usual one is taken, or
/// any that is free.
///
/// # Errors
/// When the port cannot be had, or the system gives no threads.
pub fn run(
    desk: Desk,
    port: Option<u16>,
    started: impl FnOnce(SocketAddr, &Session),
) -> Result<(), ServeError> {
    let session = Session::fresh().map_err(ServeError::System)?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .max_blocking_threads(MOST_AT_ONCE)
        .build()
        .map_err(ServeError::System)?;
    let served = runtime.block_on(async {
        let (listener, address) = match port {
            Some(port) => listen(port).await?,
            None => match listen(USUAL_PORT).await {
                Ok(taken) => taken,
                Err(_) => listen(0).await?,
            },
        };
        let stop = told_to_end().map_err(ServeError::System)?;
        started(address, &session);
        serve(desk, listener, session, stop).await;
        Ok(())
    });
    // What still reckons then is let go with the program.
    runtime.shutdown_timeout(LAST_WAIT);
    served
}

/// Waits for Ctrl-C, or for the system to end the program.
#[cfg(unix)]
pub(crate) fn told_to_end() -> std::io::Result<impl Future<Output = ()>> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut interrupt = signal(SignalKind::interrupt())?;
    let mut terminate = signal(SignalKind::terminate())?;
    Ok(async move {
        tokio::select! {
            _ = interrupt.recv() => {}
            _ = terminate.recv() => {}
        }
    })
}

/// Waits for Ctrl-C.
#[cfg(not(unix))]
pub(crate) fn told_to_end() -> std::io::Result<impl Future<Output = ()>> {
    Ok(async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    })
}

/// Takes a port of the loopback address; 0 takes any that is free.
///
/// # Errors
/// When the port cannot be had.
pub async fn listen(port: u16) -> Result<(TcpListener, SocketAddr), ServeError> {
    let refused = |error| ServeError::Port { port, error };
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))
        .await
        .map_err(refused)?;
    let address = listener.local_addr().map_err(refused)?;
    Ok((listener, address))
}

/// Serves the workbench to whoever opens the session until it is told to stop; requests under way are answered
/// first.
pub async fn serve(
    desk: Desk,
    listener: TcpListener,
    session: Session,
    stop: impl Future<Output = ()>,
) {
    let port = listener.local_addr().map_or(0, |address| address.port());
    let service = app(desk, port, session);
    served(service, listener, SLOWEST_READING, stop).await;
}

/// Serves until it is told to stop. A client that has not read an answer whole within so
/// long is let go.
pub(crate) async fn served(
    service: Router,
    listener: TcpListener,
    slowest_reading: Duration,
    stop: impl Future<Output = ()>,
) {
    let mut http = hyper::server::conn::http1::Builder::new();
    http.timer(TokioTimer::new())
        .header_read_timeout(SLOWEST_HEADER)
        .max_buf_size(32 * 1024);
    let graceful = GracefulShutdown::new();
    let connections = Connections::at_most(MOST_CONNECTIONS);
    let mut stop = std::pin::pin!(stop);
    loop {
        let stream = tokio::select! {
            stream = next(&listener, &connections) => stream,
            () = &mut stop => break,
        };
        let Some((stream, connection)) = stream else {
            continue;
        };
        let own = Arc::clone(&connection);
        let service = service.clone().map_request(move |mut request: Request<_>| {
            request.extensions_mut().insert(Arc::clone(&own));
            request
        });
        let stream = TokioIo::new(TimedWrites::new(stream, slowest_reading));
        let served =
            graceful.watch(http.serve_connection(stream, TowerToHyperService::new(service)));
        tokio::spawn(async move {
            tokio::select! {
                // A client that hangs up or talks nonsense has already had its answer.
                _ = served => {}
                () = connection.is_let_go() => {}
            }
        });
    }
    drop(listener);
    // Whoever is still connected after this is cut off when the program ends.
    let _ = tokio::time::timeout(LAST_WAIT, graceful.shutdown()).await;
}

/// The next connection, for which another may be let go.
async fn next(
    listener: &TcpListener,
    connections: &Connections,
) -> Option<(TcpStream, Arc<Connection>)> {
    match listener.accept().await {
        Ok((stream, _)) => {
            // Answers are small and awaited: they are not to be gathered up.
            let _ = stream.set_nodelay(true);
            Some((stream, connections.open()?))
        }
        Err(error) => {
            log(&format!("a connection cannot be taken: {error}"));
            // Where handles have run out one more is needed, and trying again at once
            // would only spin.
            connections.let_one_go();
            tokio::time::sleep(Duration::from_millis(50)).await;
            None
        }
    }
}
