//! How long a full set takes: `cargo bench -p press --features documents`. Each timed
//! run must give the very bytes of an untimed one.

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;
use std::time::Instant as Clock;

use instrument::{Instrument, Specification};
use press::{Format, Order, press};

/// Five plates, engraved on both sides.
const FULL: &str = r#"
    version = 1
    name = "full set"
    diameter_mm = 200
    epoch_year = 2025
    plates_deg = [30, 36, 42, 48, 54, 60, 66, 90, 0, 51.75]
    [parts]
    rule = "declinations"
    calendar_scale = "eccentric"
"#;

fn main() -> Result<(), Box<dyn Error>> {
    let rounds = if std::env::args().any(|arg| arg == "--bench") {
        7
    } else {
        1
    };
    let mut formats = vec![Format::Svg, Format::Dxf];
    if cfg!(feature = "documents") {
        formats.push(Format::Pdf);
    }
    let order = Order {
        formats,
        ..Order::default()
    };
    let make = || {
        press(&Instrument::new(Specification::from_toml(FULL)?), &order)
            .map_err(Box::<dyn Error>::from)
    };
    let wanted = make()?;
    let mut times: Vec<f64> = Vec::new();
    for _ in 0..rounds {
        let clock = Clock::now();
        let made = make()?;
        times.push(clock.elapsed().as_secs_f64());
        if made != wanted {
            return Err("two runs gave different files".into());
        }
    }
    times.sort_by(f64::total_cmp);
    let bytes: usize = wanted.iter().map(|file| file.bytes.len()).sum();
    println!(
        "a full set of {} files, {bytes} bytes: {:.2} s",
        wanted.len(),
        times.get(times.len() / 2).copied().unwrap_or(0.0)
    );
    Ok(())
}
