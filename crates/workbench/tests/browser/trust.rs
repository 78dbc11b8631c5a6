//! How far the brass may be trusted, told beside how it is set.

use crate::bench::{Bench, cast};

const SEVILLA: [(&str, &str); 3] = [
    ("when", "2024-05-14 09:20"),
    ("at", "Sevilla, Spain"),
    ("with", "pocket instrument"),
];

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
