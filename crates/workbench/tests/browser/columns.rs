//! The page at rest: no void in any column, nothing wider than the window, and the day and
//! the week in one glance.

use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION};

/// The longest stretch with nothing in it, in pixels, of five columns of what is worked.
const VOIDS: &str = "
    const bench = document.querySelector('.bench').getBoundingClientRect();
    const boxes = [...document.querySelectorAll('.bench *')]
        .filter((one) => one.checkVisibility() && (one.childElementCount === 0 || one.matches('p, dd, th, td, summary, .disc, .step')))
        .map((one) => one.getBoundingClientRect())
        .filter(({ width, height }) => width > 0 && height > 0)
        .sort((one, other) => one.top - other.top);
    return [0.1, 0.25, 0.5, 0.75, 0.9].map((part) => {
        const x = bench.left + part * bench.width;
        const reach = bench.width * 0.09;
        let [at, most] = [bench.top, 0];
        for (const { left, right, top, bottom } of boxes) {
            if (left > x + reach || right < x - reach) continue;
            most = Math.max(most, top - at);
            at = Math.max(at, bottom);
        }
        return Math.round(Math.max(most, bench.bottom - at));
    });
";

/// No column stands empty longer than half a common window is high.
const LONGEST_VOID: i64 = 450;

fn sized(bench: &Bench, width: u32, height: u32) {
    bench.browser.cdp(
        "Emulation.setDeviceMetricsOverride",
        json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
    );
}

fn has_no_void(bench: &Bench, shown: &str) {
    for (width, height) in [(1440, 900), (1680, 1050), (1920, 1080)] {
        sized(bench, width, height);
        let voids = bench.browser.run(VOIDS);
        let voids: Vec<i64> = voids
            .as_array()
            .unwrap()
            .iter()
            .map(|one| one.as_i64().expect("pixels"))
            .collect();
        assert!(!voids.is_empty(), "{shown}, {width}");
        assert!(
            voids.iter().all(|one| *one < LONGEST_VOID),
            "{shown}, {width}: {voids:?}"
        );
        // What is worked stands beneath the instrument, and the order of the first screen holds.
        let [_, instrument, _, high] = bench.area(".disc");
        let [_, steps, _, _] = bench.area(".steps");
        assert!(steps > instrument + high, "{shown}, {width}");
        let [set, ..] = bench.area("#set");
        let [disc, ..] = bench.area(".disc");
        let [told, ..] = bench.area(".told");
        assert!(set < disc && disc < told, "{shown}, {width}");
    }
}

#[test]
fn no_column_stands_empty_beside_what_is_worked() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    has_no_void(&bench, "the houses");
    // What lies over the instrument's room can be pressed.
    browser.click("#set summary");
    browser.click("#set summary");
    browser.click("#readings .chapter");
    has_no_void(&bench, "the ascendant");
    browser.choose("#operation", "rising-degree-of-planet");
    browser.wait("return document.querySelectorAll('.found').length > 0");
    has_no_void(&bench, "an operation");
    browser.click("#set summary");
    bench.is_accessible("an operation in three columns");
    bench.is_clean();
}

#[test]
fn a_square_figure_has_its_tables_under_it_too() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#figure .fold");
    browser.wait("return document.querySelector('.drawn svg')");
    browser.choose("#figure-form", "square");
    browser.wait("return document.querySelector('.figure-sheet').dataset.form === 'square'");
    let beneath = "
        const drawn = document.querySelector('.drawn').getBoundingClientRect();
        const body = document.querySelector('.figure-sheet').getBoundingClientRect();
        const under = [...document.querySelectorAll('.figure-tables > *')].map((one) => one.getBoundingClientRect())
            .filter(({ left, top }) => left < drawn.right && top > drawn.bottom);
        return body.bottom - Math.max(...under.map(({ bottom }) => bottom));
    ";
    let left_empty = browser.run(beneath).as_f64().unwrap();
    assert!(left_empty < 300.0, "{left_empty} px are blank under it");
}

#[test]
fn at_every_width_and_in_both_surroundings_nothing_spills() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    for surroundings in ["light", "dark"] {
        browser.run_with(
            "localStorage.setItem('almuri-surroundings', arguments[0])",
            &json!([surroundings]),
        );
        bench.go(&DEMONSTRATION);
        browser.click("#figure .fold");
        browser.wait("return document.querySelector('.drawn svg')");
        for (width, height) in [
            (390, 844),
            (768, 1024),
            (1024, 768),
            (1440, 900),
            (1920, 1080),
        ] {
            sized(&bench, width, height);
            assert_eq!(
                browser.run("return document.documentElement.scrollWidth"),
                width,
                "{surroundings}"
            );
        }
        bench.is_accessible(surroundings);
    }
}

#[test]
fn lessons_and_orders_of_the_week_stand_with_the_day() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.wait("return document.querySelectorAll('.today-column').length === 4");
    let tops = "return [...new Set([...document.querySelectorAll('.today-column')].map((one) => one.getBoundingClientRect().top))].length";
    assert_eq!(browser.run(tops), 1, "all of it in one glance");
    browser.click(".today-column summary");
    for (day, kind, what) in [
        ("2001-02-03", "order", "a plate for an invented client"),
        ("", "lesson", "an invented class"),
        ("2599-02-03", "lesson", "a far one"),
    ] {
        let before = "return document.querySelector('#today-body').dataset.looked";
        let looked = browser.run(before);
        browser.write("#week-when", &format!("\u{e003}{day}"));
        browser.choose("#week-kind", kind);
        browser.write("#week-what", &format!("{what}\u{e007}"));
        browser.wait(&format!("{before} !== '{}'", looked.as_str().unwrap()));
    }
    let shown = browser.text(".today-column");
    let (order, lesson) = (
        shown.find("order: a plate for an invented client, overdue"),
        shown.find("lesson: an invented class"),
    );
    assert!(order.is_some() && order < lesson, "{shown}");
    assert!(!shown.contains("a far one"), "{shown}");
    bench.is_accessible("the week");
    browser.click(".week-item .week-done");
    browser.wait("return document.querySelectorAll('.week-item').length === 1");
    bench.is_clean();
    // A day that there is not is refused, in words.
    browser.write("#week-when", "2024-02-31");
    browser.write("#week-what", "nothing\u{e007}");
    browser
        .wait("return document.querySelector('.today-column .fault').textContent.includes('31')");
}
