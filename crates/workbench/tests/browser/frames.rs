//! How long a frame takes while the rete is dragged, at sizes up to 4K, beside the same
//! drag with the rete painted anew for every frame.
//!
//! `cargo test -p workbench --test browser frames -- --ignored --nocapture`, on a
//! machine that does nothing else.

#![expect(clippy::print_stdout, reason = "it tells what it measured")]

use crate::bench::{Bench, DEMONSTRATION};

const SIZES: [(u32, u32); 3] = [(1440, 900), (2560, 1440), (3840, 2160)];

/// Places that a drag goes through, in steps of 20 ms.
const STEPS: u32 = 120;

#[test]
#[ignore = "measures, and holds nothing against what it measured"]
fn frames_of_a_drag() {
    for (width, height) in SIZES {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        for (name, style) in [
            ("turned by transforms", ""),
            ("painted anew", "will-change: auto !important"),
        ] {
            bench.browser.run(&format!(
                "for (const layer of document.querySelectorAll('.layer')) layer.style.cssText += '; {style}'"
            ));
            let times = drag(&bench);
            let at = |part: usize| times[(times.len() - 1) * part / 100];
            println!(
                "{width} x {height}, {name}: a frame every {:.1} ms, nine in ten within {:.1} ms ({} frames)",
                at(50),
                at(90),
                times.len()
            );
        }
    }
}

/// Drags the rete about the pole; the times between frames, shortest first.
fn drag(bench: &Bench) -> Vec<f64> {
    let [x, y, wide, _] = bench.area(".disc");
    let (x, y, reach) = (x + wide / 2.0, y + wide / 2.0, wide * 0.22);
    let path: Vec<(f64, f64)> = (0..STEPS)
        .map(|step| {
            let (sine, cosine) = (f64::from(step) * 0.01).sin_cos();
            (x + reach * cosine, y + reach * sine)
        })
        .collect();
    bench.browser.run(
        "const frames = window.frames_ = []; \
         const frame = (now) => { frames.push(now); if (window.frames_ === frames) requestAnimationFrame(frame); }; \
         requestAnimationFrame(frame)",
    );
    bench.browser.drag(&path);
    let times = bench.browser.run(
        "const frames = window.frames_; window.frames_ = null; \
         return frames.slice(1).map((now, index) => now - frames[index])",
    );
    let mut times: Vec<f64> = serde_json::from_value(times).unwrap();
    times.sort_by(f64::total_cmp);
    times
}
