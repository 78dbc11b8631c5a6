//! A delivered piece held against its specification on the page, by its photograph.

use serde_json::{Value, json};

use crate::bench::{Bench, DEMONSTRATION};
use crate::face::{laid_in, taken};

/// The class instrument delivered as it was drawn, and with its plate off its hole.
#[test]
fn a_delivered_piece_is_held_against_its_specification() {
    let bench = Bench::at(1440, 1000, &DEMONSTRATION);
    let browser = &bench.browser;
    let photograph = |plate_off: Value, seed: u32| {
        taken(
            &bench,
            &json!({
                "size": 1600, "lean": 9, "towards": 75, "turn": 3, "bend": 0.01, "rete": 133, "rule": 40,
                "depths": { "mater": 0, "plate": 1.2, "rete": 0.5, "rule": -1 },
                "off": { "plate": plate_off }, "parts": ["mater", "plate", "rete"],
                "noise": 0.3, "seed": seed,
            }),
        )
    };
    let good = photograph(json!([0, 0]), 2);
    laid_in(&bench, &good);
    browser.click("#examine-against");
    browser.write("#examine-within", "0.3");
    let held = |verdict: &str| {
        browser.keys("#examine", "\u{e007}");
        browser.wait(&format!(
            "return document.querySelector('#examined').textContent.includes('{verdict}')"
        ));
        browser.wait("return document.querySelector('.photograph-over svg .good') !== null");
        let rows = browser.run(
            "return [...document.querySelectorAll('#examined tbody tr')].map((one) => [...one.children].map((cell) => cell.textContent))",
        );
        let off =
            browser.run("return document.querySelectorAll('.photograph-over svg .off').length");
        (rows, off.as_u64().unwrap())
    };
    let (rows, off) = held("It is accepted");
    assert_eq!(off, 0, "{rows}");
    assert!(rows.as_array().unwrap().len() > 35, "{rows}");

    // Down is towards midnight.
    let bad = photograph(json!([0, 0.9]), 3);
    browser.keys("#photograph-file", &bad.path().display().to_string());
    browser
        .wait("return document.querySelector('#photograph-told').textContent.includes('0 marks')");
    browser.run_with(
        "document.querySelector('#measurements').value = arguments[0]",
        &json!([bad.text()]),
    );
    let (rows, off) = held("It is not accepted");
    assert!(off > 5, "{off}, {rows}");
    let worst = &rows[0];
    let text = |cell: usize| worst[cell].as_str().unwrap();
    let plate = ["tropic", "equator", "horizon", "almucantar", "meridian"];
    assert!(
        plate.iter().any(|kind| text(0).starts_with(kind)),
        "{worst}"
    );
    let towards_noon: f64 = text(2).replace('−', "-").parse().unwrap();
    assert!((towards_noon + 0.9).abs() < 0.35, "{worst}");
    assert_eq!(text(4), "too far off");
    bench.is_accessible("a delivered piece");
    bench.is_clean();
}
