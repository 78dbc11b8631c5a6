//! How far the brass may be trusted, told beside how it is set.

use crate::bench::{Bench, cast};

const SEVILLA: [(&str, &str); 3] = [
    ("when", "2024-05-14 09:20"),
    ("at", "Sevilla, Spain"),
    ("with", "pocket instrument"),
];

/// Kraków in 1897: three clocks stand with the sum, and one is taken with one press.
#[test]
fn the_clocks_that_it_may_have_been_told_by_stand_with_the_sum() {
    let krakow = [("when", "1897-03-02 14:10"), ("at", "Kraków, Poland")];
    let bench = Bench::at(390, 844, &krakow);
    let browser = &bench.browser;
    let offered = cast(&krakow).candidates;
    let text = browser.text(".candidates");
    for one in &offered {
        let ascendant = one.ascendant_text.as_deref().unwrap();
        assert!(
            text.contains(ascendant) && text.contains(&one.source),
            "{text}"
        );
    }
    bench.asking(|browser| browser.click(".candidates li:nth-child(3) button"));
    let pressed = browser.run(
        "return [...document.querySelectorAll('.candidates [aria-pressed=true]')].map((one) => one.textContent)",
    );
    assert_eq!(pressed, serde_json::json!(["8°36′ Leo"]));
    assert_eq!(
        browser.run("return document.querySelector('#offset').value"),
        "+01:00"
    );
    bench.is_accessible("clocks to choose from");
    bench.is_clean();
}

#[test]
fn the_verdict_stands_before_the_sum_and_a_way_is_taken_with_one_press() {
    let bench = Bench::at(1440, 900, &SEVILLA);
    let browser = &bench.browser;
    let verdict = cast(&SEVILLA).verdict.unwrap();
    let text = browser.text(".trust");
    assert!(text.contains(&verdict.sentence), "{text}");
    for one in &verdict.hangs {
        assert!(text.contains(&one.sentence), "{text}");
    }
    // It is seen without scrolling, beside the instrument.
    let [_, top, _, height] = bench.area(".trust-line");
    assert!(top + height < 900.0, "{top} {height}");
    let [_, sum, ..] = bench.area(".sum");
    assert!(top < sum);

    browser.click(".trust-ways summary");
    bench.asking(|browser| browser.click(".trust-ways button"));
    let taken: Vec<(&str, &str)> = SEVILLA.into_iter().chain([("sun", "ephemeris")]).collect();
    let then = cast(&taken).verdict.unwrap();
    assert!(browser.text(".trust").contains(&then.sentence));
    assert_eq!(
        browser.run("return document.querySelector('#sun').value"),
        "ephemeris"
    );
    assert!(then.sentence != verdict.sentence);
    bench.is_accessible("the verdict");
    bench.is_clean();
}
