//! A server on a loopback socket, for tests that hold connections.

use std::net::{SocketAddr, TcpStream};
use std::thread;
use std::time::Duration;

use desk::Cabinet;
use workbench::{Book, Desk, Nowhere};

/// Longer than any answer takes, shorter than a test that hangs.
pub(crate) const PATIENCE: Duration = Duration::from_secs(60);

/// A server, with the cookie that opens it.
pub(crate) fn serve() -> (SocketAddr, String) {
    let (tell, told) = std::sync::mpsc::channel();
    thread::spawn(move || {
        let desk = Desk::new(
            Cabinet::built_in(),
            Nowhere::default(),
            Book::at(Err("no casebook is needed here".to_owned())),
        );
        workbench::run(desk, Some(0), |address, session| {
            tell.send((address, session.cookie(address.port())))
                .unwrap();
        })
        .unwrap();
    });
    told.recv().unwrap()
}

/// A connection to it.
pub(crate) fn connect(address: SocketAddr) -> TcpStream {
    let stream = TcpStream::connect(address).unwrap();
    stream.set_read_timeout(Some(PATIENCE)).unwrap();
    stream
}
