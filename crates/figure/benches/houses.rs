//! How long the figure takes: `cargo bench -p figure`. The answer is checked
//! before it is timed.

use std::hint::black_box;
use std::time::{Duration, Instant};

use figure::{Horizon, House, Method};
use sky::{Angle, Latitude};

fn main() {
    // Under `cargo test --benches` once is enough to see that it runs.
    let runs = if std::env::args().any(|arg| arg == "--bench") {
        200_000
    } else {
        1
    };
    // Chaucer's nine of the clock (Treatise on the Astrolabe, II.3).
    let horizon = Horizon {
        sidereal_time: Angle::from_deg(315.917),
        obliquity: Angle::from_deg(23.5208),
        latitude: Latitude::from_deg(51.0 + 50.0 / 60.0).expect("Oxford"),
    };
    for method in Method::ALL {
        let cusps = method
            .cusps(&horizon)
            .expect("every method answers at Oxford");
        let off = cusps.get(House::I).to(first_cusp(method)).abs();
        assert!(off < Angle::from_deg(0.5), "{method} is off by {off}");
    }

    report("ascendant", runs, || black_box(&horizon).ascendant());
    for method in Method::ALL {
        report(method.name(), runs, || method.cusps(black_box(&horizon)));
    }
    report("every method", runs, || {
        Method::ALL.map(|method| method.cusps(black_box(&horizon)))
    });
}

/// Cusp I to the degree.
fn first_cusp(method: Method) -> Angle {
    Angle::from_deg(match method {
        Method::WholeSign => 60.0,
        Method::EqualFromMidheaven | Method::Morinus => 43.0,
        Method::Meridian => 48.0,
        _ => 80.0,
    })
}

#[expect(clippy::print_stdout, reason = "a benchmark's report is its purpose")]
fn report<T>(name: &str, runs: u32, mut task: impl FnMut() -> T) {
    // The best of several rounds: the others were disturbed.
    let best = (0..5)
        .map(|_| {
            let start = Instant::now();
            for _ in 0..runs {
                black_box(task());
            }
            start.elapsed()
        })
        .min()
        .unwrap_or(Duration::ZERO);
    println!(
        "{name:24} {:8.3} µs",
        best.as_secs_f64() * 1e6 / f64::from(runs)
    );
}
