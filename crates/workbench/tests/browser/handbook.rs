//! The handbook on the page: its chapters lead to what they name, and back.

use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, texts};

#[test]
fn the_handbook_leads_to_what_it_names_and_each_part_to_its_chapter() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#handbook .fold");
    let titles = browser.run(
        "return [...document.querySelectorAll('.handbook-chapter > summary')].map((one) => one.textContent)",
    );
    assert_eq!(
        texts(&titles),
        [
            "A first figure",
            "A class",
            "An instrument made",
            "An old one examined",
            "A year's calendar"
        ]
    );
    browser.click(".handbook-chapter:nth-of-type(2) > summary");
    bench.is_accessible("a chapter of the handbook");
    browser.click(".handbook-chapter[open] .handbook-there");
    assert_eq!(
        browser.run("return document.activeElement.textContent"),
        json!("Teaching")
    );
    // And back, from another part to another chapter.
    browser.click("#workshop .fold");
    browser.click("#workshop .in-handbook button");
    assert_eq!(
        browser.run(
            "return [...document.querySelectorAll('.handbook-chapter[open] > summary')].map((one) => one.textContent)",
        ),
        json!(["A class", "An instrument made"])
    );
    // The workshop makes instruments and examines them.
    browser.click("#workshop .in-handbook button:nth-of-type(2)");
    assert_eq!(
        browser.run(
            "return [...document.querySelectorAll('.handbook-chapter[open] > summary')].at(-1).textContent",
        ),
        json!("An old one examined")
    );
    bench.is_clean();
}
