//! The case worked with the pen.

use desk::ReckonRequest;
use desk::words::{Angle, Zodiacal};
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, request};

fn asked() -> ReckonRequest {
    let case = request(&DEMONSTRATION);
    ReckonRequest {
        when: case.when,
        at: case.at,
        zone: case.zone,
        houses: case.houses,
        ..ReckonRequest::default()
    }
}

/// Each step is played: its sentence, the cells it takes with their rows lit, and its lines.
#[test]
fn the_sheet_is_played_step_by_step() {
    for (width, height) in [(1440, 900), (390, 844)] {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        let browser = &bench.browser;
        browser.click("#pen .fold");
        browser.click("#pen-ask");
        browser.wait("return document.querySelector('#pen-found').dataset.answers === '1'");
        let answer = desk::reckoned(&asked(), &desk::Cabinet::built_in(), None).unwrap();
        let steps = &answer.working.steps;
        for (index, step) in steps.iter().enumerate() {
            let shown = browser.text("#pen-step");
            assert!(shown.contains(&step.instruction), "{index}: {shown}");
            for taken in &step.takes {
                assert!(
                    shown.contains(&taken.row) && shown.contains(&taken.cell),
                    "{shown}"
                );
            }
            // Their pages lie open: as many cells are lit as are taken, and a row beside them.
            let taken = browser.run(
                "return document.querySelectorAll('#pen-step .open-page tr.lit td.taken').length",
            );
            let mut cells: Vec<_> = step
                .takes
                .iter()
                .map(|one| (&one.title, &one.row, &one.column))
                .collect();
            cells.sort_unstable();
            cells.dedup();
            assert_eq!(taken, json!(cells.len()));
            let rows = browser
                .run("return document.querySelectorAll('#pen-step .open-page tbody tr').length");
            let all: usize = step.opened.iter().map(|page| page.rows.len()).sum();
            assert_eq!(rows, json!(all));
            if index + 1 < steps.len() {
                browser.click("#pen-on");
            }
        }
        let end = browser.run("return document.querySelector('#pen-on').disabled");
        assert_eq!(end, json!(true));
        let wide = browser.run("return document.documentElement.scrollWidth <= innerWidth");
        assert_eq!(wide, json!(true));
        bench.is_accessible("a figure by tables and pen");
        bench.is_clean();
    }
}

/// What one found on a sheet of one's own is corrected, the sheet is printed, and the three
/// roads stand beside each other.
#[test]
fn a_sheet_of_ones_own_is_corrected() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#pen .fold");
    browser.click("#pen-ask");
    browser.wait("return document.querySelector('#pen-found').dataset.answers === '1'");
    let text = browser.text("#pen-found");
    assert!(text.contains("Three roads to the same numbers"), "{text}");
    assert!(text.contains("by tables and pen is"), "{text}");
    // Morning for afternoon: by the desk's own hand that slips.
    let answer = desk::reckoned(
        &ReckonRequest {
            when: asked().when.replace(" 09:20", " 21:20"),
            ..asked()
        },
        &desk::Cabinet::built_in(),
        None,
    )
    .unwrap();
    let shown = |deg: Option<f64>| Zodiacal(Angle::from_deg(deg.unwrap())).to_string();
    browser.click(".pen-own summary");
    browser.write("#pen-own-ascendant", &shown(answer.found.ascendant_deg));
    browser.write(
        "#pen-own-midheaven",
        &shown(Some(answer.found.midheaven_deg)),
    );
    browser.click("#pen-correct");
    browser.wait("return document.querySelector('#pen-own-verdict').dataset.verdict === 'slips'");
    let verdict = browser.text("#pen-own-verdict");
    assert!(
        verdict.contains("Morning was taken for afternoon"),
        "{verdict}"
    );
    browser.click("#pen-print-blank");
    bench.is_accessible("a sheet of one's own");
    bench.is_clean();
}
