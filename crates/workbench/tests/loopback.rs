//! The server on a loopback socket, with clients that mean it no good.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

mod on_a_socket;

use std::io::{Read, Write};
use std::net::SocketAddr;
use std::thread;
use std::time::Instant;

use on_a_socket::{PATIENCE, connect, serve};

/// What the server says to these bytes until it hangs up.
fn says(address: SocketAddr, bytes: &[u8]) -> String {
    let mut stream = connect(address);
    // It may hang up before all is said.
    let _ = stream.write_all(bytes);
    let mut answer = Vec::new();
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

/// The status of a whole turn of the instrument.
fn turn(address: SocketAddr, cookie: &str) -> String {
    let body = r#"{"case":{"when":"2024-05-14 09:20","at":"42.8806,-8.5449","zone":"Europe/Madrid"},"state":{"plate_latitude_deg":42,"rete_deg":12,"rule_deg":34}}"#;
    let request = format!(
        "POST /desk/turn HTTP/1.1\r\nHost: {address}\r\nCookie: {cookie}\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    );
    let answer = says(address, request.as_bytes());
    answer.lines().next().unwrap_or_default().to_owned()
}

const OK: &str = "HTTP/1.1 200 OK";

#[test]
fn two_hundred_at_once_are_all_answered() {
    let (address, cookie) = serve();
    let clients: Vec<_> = (0..200)
        .map(|_| {
            let cookie = cookie.clone();
            thread::spawn(move || turn(address, &cookie))
        })
        .collect();
    for client in clients {
        assert_eq!(client.join().unwrap(), OK);
    }
}

#[test]
fn slow_clients_are_let_go_and_hold_up_no_other() {
    let (address, cookie) = serve();
    let begun = Instant::now();
    let slow: Vec<_> = (0..200)
        .map(|index| {
            let mut stream = connect(address);
            // Some say nothing, some half a head, some a head and half a body.
            let part = match index % 3 {
                0 => String::new(),
                1 => "GET / HTT".to_owned(),
                _ => format!(
                    "POST /desk/cast HTTP/1.1\r\nHost: {address}\r\nCookie: {cookie}\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{{"
                ),
            };
            stream.write_all(part.as_bytes()).unwrap();
            stream
        })
        .collect();
    assert_eq!(turn(address, &cookie), OK);
    for mut stream in slow {
        let mut answer = Vec::new();
        // Hung up on, or told that it took too long: but not kept.
        let _ = stream.read_to_end(&mut answer);
        let answer = String::from_utf8_lossy(&answer);
        assert!(
            answer.is_empty() || answer.starts_with("HTTP/1.1 408"),
            "{answer}"
        );
    }
    assert!(begun.elapsed() < PATIENCE);
    assert_eq!(turn(address, &cookie), OK);
}

#[test]
fn nonsense_is_answered_or_hung_up_on() {
    let (address, cookie) = serve();
    let long = format!(
        "GET /{} HTTP/1.1\r\nCookie: {cookie}\r\nHost: {address}\r\n\r\n",
        "a".repeat(100_000)
    );
    let many = format!(
        "GET / HTTP/1.1\r\nCookie: {cookie}\r\nHost: {address}\r\n{}\r\n",
        "X: y\r\n".repeat(2_000)
    );
    let twice = format!(
        "GET / HTTP/1.1\r\nCookie: {cookie}\r\nHost: {address}\r\nHost: evil.example\r\n\r\n"
    );
    let lies = format!(
        "POST /desk/cast HTTP/1.1\r\nHost: {address}\r\nCookie: {cookie}\r\nContent-Type: application/json\r\nContent-Length: 99999999999\r\n\r\n{{}}"
    );
    let both = format!(
        "POST /desk/cast HTTP/1.1\r\nHost: {address}\r\nCookie: {cookie}\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n"
    );
    for bytes in [
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03".as_slice(),
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
        b"\x00\xff\xfe\r\n\r\n",
        b"GET http://evil.example/ HTTP/1.1\r\nHost: evil.example\r\n\r\n",
        long.as_bytes(),
        many.as_bytes(),
        twice.as_bytes(),
        lies.as_bytes(),
        both.as_bytes(),
    ] {
        let answer = says(address, bytes);
        assert!(
            answer.is_empty() || answer.starts_with("HTTP/1.1 4"),
            "{answer}"
        );
    }
    assert_eq!(turn(address, &cookie), OK);
}
