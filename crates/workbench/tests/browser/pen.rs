//! The case worked with the pen.

use desk::ReckonRequest;
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
            let lit = browser
                .run("return document.querySelectorAll('#pen-step .lit-rows tbody tr').length");
            assert_eq!(lit, json!(step.takes.len()));
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
