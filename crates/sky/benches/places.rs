//! How long a sky and its bodies take: `cargo bench -p sky`.
//!
//! Each timed run must give the very places of an untimed one, and those must be
//! JPL's (`reference/apparent_places.csv`).

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;
use std::hint::black_box;
use std::time::{Duration, Instant as Clock};

use sky::{Angle, Body, Instant, Sky, Span};

const MOMENTS: usize = 10_000;
const RUNS: usize = 5;
const PLACES: &str = include_str!("../../../reference/apparent_places.csv");

fn main() -> Result<(), Box<dyn Error>> {
    let begin = Clock::now();
    let first = Sky::at(Instant::from_jd_tt(2_451_545.0))?.sun();
    println!("the first place, checking the file: {:?}", begin.elapsed());
    assert_place(first.longitude, 280.368_166);
    assert_table()?;

    let whole = Span::FIRST_JD..Span::LAST_JD;
    let modern = 2_415_020.5..2_451_544.5;
    for (name, span) in [("whole span", whole), ("1900 to 1999", modern)] {
        let instants: Vec<Instant> = Numbers(1)
            .take(MOMENTS)
            .map(|u| Instant::from_jd_tt(span.start + u * (span.end - span.start)))
            .collect();
        println!("\n{MOMENTS} random moments, {name}:");
        report("a sky", 1, &instants, |sky| sky.sidereal_time())?;
        report("a sky and ten bodies", 1, &instants, |sky| {
            Body::ALL
                .map(|body| sky.body(body).longitude)
                .into_iter()
                .sum()
        })?;
        for body in Body::ALL {
            report(body.name(), 20, &instants, |sky| sky.body(body).longitude)?;
        }
    }
    Ok(())
}

/// Best of some runs. With more than one repetition the skies are made beforehand, and
/// the time is that of the answer alone.
fn report(
    name: &str,
    repeat: u32,
    instants: &[Instant],
    answer: impl Fn(&Sky) -> Angle,
) -> Result<(), Box<dyn Error>> {
    let skies = instants
        .iter()
        .map(|at| Sky::at(*at))
        .collect::<Result<Vec<_>, _>>()?;
    let expected: Angle = skies.iter().map(&answer).sum();
    let mut best = Duration::MAX;
    for _ in 0..RUNS {
        let begin = Clock::now();
        let mut found = Angle::ZERO;
        if repeat == 1 {
            for at in instants {
                found += answer(&Sky::at(black_box(*at))?);
            }
        } else {
            for _ in 0..repeat {
                found = skies.iter().map(|sky| answer(black_box(sky))).sum();
            }
        }
        best = best.min(begin.elapsed() / repeat);
        assert!(
            (found - expected).abs() < Angle::from_arcsec(1e-3),
            "{name}: {found} {expected}"
        );
    }
    let each = best.as_secs_f64() * 1e6 / instants.len() as f64;
    println!("{name:>22} {each:7.3} µs {:12.0} a second", 1e6 / each);
    Ok(())
}

fn assert_table() -> Result<(), Box<dyn Error>> {
    for row in PLACES.lines().skip(3) {
        let row: Vec<&str> = row.split(',').collect();
        let sky = Sky::at(Instant::from_jd_tt(row[0].parse()?))?;
        for body in Body::ALL.into_iter().filter(|body| body.name() == row[1]) {
            assert_place(sky.body(body).longitude, row[2].parse()?);
        }
    }
    Ok(())
}

fn assert_place(found: Angle, given_deg: f64) {
    let off = found.to(Angle::from_deg(given_deg)).arcsec().abs();
    assert!(off < 0.2, "{found} is {off}″ from {given_deg}");
}

/// Numbers in [0, 1) that are the same on every run (Steele, Lea and Flood 2014).
struct Numbers(u64);

impl Iterator for Numbers {
    type Item = f64;

    fn next(&mut self) -> Option<f64> {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        Some((z ^ (z >> 31)) as f64 / 2f64.powi(64))
    }
}
