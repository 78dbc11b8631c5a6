//! The instrument turned by a finger.

use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION};

#[test]
fn a_finger_turns_the_rete_as_the_mouse_does_and_the_page_stays() {
    let bench = Bench::at(768, 1024, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.cdp(
        "Emulation.setTouchEmulationEnabled",
        json!({ "enabled": true, "maxTouchPoints": 1 }),
    );
    let [left, top, width, _] = bench.area(".disc");
    let (rete, rule) = bench.state();
    let at = |bearing: f64| {
        let (sine, cosine) = bearing.to_radians().sin_cos();
        let part = width / 2.0 * 0.78;
        (
            (left + width / 2.0 + sine * part).round(),
            (top + width / 2.0 - cosine * part).round(),
        )
    };
    let touch = |kind: &str, place: Option<(f64, f64)>| {
        let points: Vec<_> = place
            .iter()
            .map(|(x, y)| json!({ "x": x, "y": y }))
            .collect();
        browser.cdp(
            "Input.dispatchTouchEvent",
            json!({ "type": kind, "touchPoints": points }),
        );
    };
    // A quarter turn clockwise, where there is no rule, down the right side: a finger
    // that moves so would scroll the page anywhere else.
    let begin = rule + 60.0;
    touch("touchStart", Some(at(begin)));
    for by in 1..=18 {
        touch("touchMove", Some(at(begin + 5.0 * f64::from(by))));
    }
    touch("touchEnd", None);
    bench.settled();
    let turned = bench.state();
    let off = (turned.0 - rete - 90.0 + 180.0).rem_euclid(360.0) - 180.0;
    // Fingers are put down on whole pixels: one is 0.4° at this radius.
    assert!(off.abs() < 0.6, "{rete} {turned:?}");
    assert!((turned.1 - rule).abs() < 1e-9);
    assert_eq!(browser.run("return scrollY"), 0);

    // Beside the instrument the same finger scrolls.
    let [left, top, _, _] = bench.area("#working");
    let at = |by: f64| Some(((left + 40.0).round(), (top + 60.0 - by).round()));
    touch("touchStart", at(0.0));
    for by in 1..=10 {
        touch("touchMove", at(20.0 * f64::from(by)));
    }
    touch("touchEnd", None);
    browser.wait("return scrollY > 0");
    bench.is_clean();
}
