//! The program without a command: it says its address, serves, and ends when told.

#![cfg(unix)]
#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

fn almuri(arguments: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args(arguments)
        .env("XDG_CONFIG_HOME", env!("CARGO_TARGET_TMPDIR"))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// The address that the program says, without its scheme: host with port, and what
/// opens the page.
fn address(child: &mut Child) -> (String, String) {
    let mut line = String::new();
    let mut out = BufReader::new(child.stdout.take().unwrap());
    out.read_line(&mut line).unwrap();
    let address = line.trim().strip_prefix("The workbench is at http://");
    let (host, entrance) = address.unwrap().split_once('/').unwrap();
    (host.to_owned(), format!("/{entrance}"))
}

fn status(address: &str, path: &str) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    write!(
        stream,
        "GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n"
    )
    .unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer.lines().next().unwrap_or_default().to_owned()
}

#[test]
fn it_serves_and_ends_cleanly_when_told() {
    for signal in ["INT", "TERM"] {
        let mut child = almuri(&["--no-open", "--port", "0"]);
        let (address, entrance) = address(&mut child);
        assert!(address.starts_with("127.0.0.1:"), "{address}");
        assert_eq!(status(&address, &entrance), "HTTP/1.1 303 See Other");
        assert_eq!(status(&address, "/"), "HTTP/1.1 403 Forbidden");
        // A page that stays open holds the end up no longer than it must.
        let _open = TcpStream::connect(&address).unwrap();
        let told = Instant::now();
        let kill = Command::new("kill")
            .args([&format!("-{signal}"), &child.id().to_string()])
            .status();
        assert!(kill.unwrap().success());
        assert!(child.wait().unwrap().success(), "{signal}");
        assert!(told.elapsed() < Duration::from_secs(6), "{signal}");
        assert!(TcpStream::connect(&address).is_err());
    }
}

#[test]
fn a_port_that_is_taken_is_said() {
    let mut first = almuri(&["--no-open", "--port", "0"]);
    let (taken, _) = address(&mut first);
    let port = taken.rsplit(':').next().unwrap();
    let second = almuri(&["--no-open", "--port", port])
        .wait_with_output()
        .unwrap();
    assert_eq!(second.status.code(), Some(1));
    assert!(second.stdout.is_empty());
    let said = String::from_utf8(second.stderr).unwrap();
    assert!(said.contains(port) && said.contains("--port 0"), "{said}");
    first.kill().unwrap();
    first.wait().unwrap();
}

/// What is answered on a connection that stays open: an answer ends where no more comes.
fn asks(page: &mut TcpStream, path: &str, host: &str, more: &str) -> String {
    write!(page, "GET {path} HTTP/1.1\r\nHost: {host}\r\n{more}\r\n").unwrap();
    page.set_read_timeout(Some(Duration::from_millis(500)))
        .unwrap();
    let mut answer = Vec::new();
    let _ = page.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

/// Strangers who say nothing are let go after five seconds in any case; one too many is
/// let go at once, and the page never.
#[test]
fn one_connection_too_many_lets_the_oldest_stranger_go() {
    let mut child = almuri(&["--no-open", "--port", "0"]);
    let (address, entrance) = address(&mut child);
    let connect = || TcpStream::connect(&address).unwrap();
    let entered = asks(&mut connect(), &entrance, &address, "");
    let cookie = entered
        .lines()
        .find_map(|line| line.strip_prefix("set-cookie: "))
        .and_then(|set| set.split(';').next())
        .unwrap();
    let known = format!("Cookie: {cookie}\r\n");
    let mut page = connect();
    let is_answered = |page: &mut TcpStream| {
        asks(page, "/desk/start", &address, &known).starts_with("HTTP/1.1 200 OK")
    };
    assert!(is_answered(&mut page));
    let begun = Instant::now();
    let mut strangers: Vec<TcpStream> = (0..600).map(|_| connect()).collect();
    // The end of it, or an error where it was hung up on.
    assert_eq!(strangers[0].read(&mut [0]).unwrap_or(0), 0);
    assert!(begun.elapsed() < Duration::from_secs(4));
    // The last of them is held yet.
    let last = strangers.last_mut().unwrap();
    last.set_read_timeout(Some(Duration::from_millis(50)))
        .unwrap();
    assert!(last.read(&mut [0]).is_err());
    assert!(is_answered(&mut page));
    child.kill().unwrap();
    child.wait().unwrap();
}
