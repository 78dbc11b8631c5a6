//! How long films for etching take: `cargo bench -p press --features documents --bench films`,
//! with the names of instruments of the cabinet behind `--`, or for those measured in
//! `reference/speed.md`. Every timed run must give the very bytes of an untimed one, whose
//! checksum is told, so that two builds can be laid side by side.

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;
use std::path::Path;
use std::time::Instant as Clock;

use instrument::{Instrument, Specification};
use press::{Format, Order, press};

/// The smallest, the usual and the largest ones.
const INSTRUMENTS: [&str; 4] = ["pocket", "class", "great-wheel", "lecture"];

/// The same set with more and more in it.
const SETS: [(&str, &[Format]); 3] = [
    ("no films", &[]),
    ("PDF", &[Format::Film]),
    ("PDF, pictures", &[Format::Film, Format::FilmPng]),
];

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let rounds = if arguments.iter().any(|word| word == "--bench") {
        7
    } else {
        1
    };
    let mut named: Vec<&str> = arguments.iter().map(String::as_str).collect();
    named.retain(|word| !word.starts_with('-'));
    if named.is_empty() {
        named.extend(INSTRUMENTS);
    }
    for name in named {
        for (what, formats) in SETS {
            measured(name, what, formats, rounds)?;
        }
    }
    Ok(())
}

fn measured(
    name: &str,
    what: &str,
    formats: &[Format],
    rounds: usize,
) -> Result<(), Box<dyn Error>> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../data/cabinet")
        .join(format!("{name}.toml"));
    let text = std::fs::read_to_string(&file).map_err(|error| format!("{name}: {error}"))?;
    let order = Order {
        formats: formats.to_vec(),
        ..Order::default()
    };
    let make = || {
        press(&Instrument::new(Specification::from_toml(&text)?), &order)
            .map_err(Box::<dyn Error>::from)
    };
    let wanted = make()?;
    let mut times = Vec::new();
    for _ in 0..rounds {
        let clock = Clock::now();
        let made = make()?;
        times.push(clock.elapsed().as_secs_f64());
        if made != wanted {
            return Err(format!("{name}: two runs gave different files").into());
        }
    }
    times.sort_by(f64::total_cmp);
    let at = |n: usize| times.get(n).copied().unwrap_or_default();
    let mut checksum = crc32fast::Hasher::new();
    for file in &wanted {
        checksum.update(file.name.as_bytes());
        checksum.update(&file.bytes);
    }
    let bytes: usize = wanted.iter().map(|file| file.bytes.len()).sum();
    println!(
        "{name}, {what}: median {:.2} s, best {:.2} s; {} files, {bytes} bytes, checksum {:08x}",
        at(times.len() / 2),
        at(0),
        wanted.len(),
        checksum.finalize(),
    );
    Ok(())
}
