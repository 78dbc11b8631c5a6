//! `cargo bench -p workbench`: how long a turn of the instrument takes from request
//! to answer, with one page turning and with fifty.

#![expect(clippy::print_stdout, reason = "a benchmark tells what it measured")]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::sync::mpsc;
use std::thread;
use std::time::{Duration, Instant};

use desk::Cabinet;
use workbench::{Book, Desk, Nowhere};

/// Turns that a page asks for, after some to warm up.
const TURNS: u32 = 2000;
const WARM_UP: u32 = 100;

fn main() {
    let (tell, told) = mpsc::channel();
    thread::spawn(move || {
        let desk = Desk::new(
            Cabinet::built_in(),
            Nowhere::default(),
            Book::at(Err("no casebook is needed here".to_owned())),
        );
        workbench::run(desk, Some(0), |address, session| {
            let _ = tell.send((address, session.cookie(address.port())));
        })
    });
    let Ok((address, cookie)) = told.recv() else {
        return;
    };
    for pages in [1, 50] {
        let clients: Vec<_> = (0..pages)
            .map(|page| {
                let cookie = cookie.clone();
                thread::spawn(move || turns(address, &cookie, page, TURNS / pages.min(10)))
            })
            .collect();
        let mut times: Vec<Duration> = clients
            .into_iter()
            .flat_map(|client| client.join().unwrap_or_default())
            .collect();
        times.sort();
        let at = |part: usize| times.get((times.len() - 1) * part / 100);
        println!(
            "{pages:>2} pages: p50 {:?}, p99 {:?} ({} turns)",
            at(50).copied().unwrap_or_default(),
            at(99).copied().unwrap_or_default(),
            times.len()
        );
    }
}

/// Turns the rete step by step over one connection, as a page does.
fn turns(address: SocketAddr, cookie: &str, page: u32, count: u32) -> Vec<Duration> {
    let mut times = Vec::new();
    let Ok(mut stream) = TcpStream::connect(address) else {
        return times;
    };
    let _ = stream.set_nodelay(true);
    let Ok(copy) = stream.try_clone() else {
        return times;
    };
    let mut reader = BufReader::new(copy);
    for step in 0..count + WARM_UP {
        let rete = f64::from((page * 37 + step * 7) % 3600) / 10.0;
        let body = format!(
            r#"{{"case":{{"when":"2024-05-14 09:20","at":"Santiago de Compostela, Galicia, Spain","with":{{"named":"class instrument"}}}},"state":{{"plate_latitude_deg":42,"rete_deg":{rete},"rule_deg":282}}}}"#
        );
        let request = format!(
            "POST /desk/turn HTTP/1.1\r\nHost: {address}\r\nCookie: {cookie}\r\nContent-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        );
        let begun = Instant::now();
        if stream.write_all(request.as_bytes()).is_err() {
            break;
        }
        let answer = answer(&mut reader);
        if step >= WARM_UP {
            times.push(begun.elapsed());
        }
        assert!(answer.contains("\"words\":\"Ascendant "), "{answer}");
    }
    times
}

/// The body of the next answer.
fn answer(reader: &mut BufReader<TcpStream>) -> String {
    let mut length = 0;
    let mut line = String::new();
    while reader.read_line(&mut line).is_ok_and(|read| read > 2) {
        if let Some(value) = line.strip_prefix("content-length: ") {
            length = value.trim().parse().unwrap_or(0);
        }
        line.clear();
    }
    let mut body = vec![0; length];
    let _ = reader.read_exact(&mut body);
    String::from_utf8_lossy(&body).into_owned()
}
