//! Words that show what they name, the parts with their names, the glossary.

use serde_json::json;

use crate::bench::Bench;

/// The lines and parts that are shown besides those being read.
const POINTED: &str = "return [...document.querySelectorAll('.disc .pointed')]
    .map((one) => one.dataset.line ?? `part:${one.dataset.part}`)";

#[test]
fn what_a_sentence_names_lights_up_and_a_number_has_a_finer_one() {
    for (width, height) in [(1440, 900), (390, 844)] {
        let bench = Bench::open(width, height);
        let browser = &bench.browser;
        let said = &crate::bench::cast(&crate::bench::DEMONSTRATION)
            .working
            .unwrap()
            .steps;
        // The rule is set in the fourth step of the demonstration.
        for number in 1..=4 {
            browser.click("#next-step");
            browser.wait(&format!(
                "return document.querySelector('#now-step').dataset.at === '{number}'"
            ));
        }
        let rule = &said[3];
        for (index, run) in rule
            .said
            .iter()
            .filter(|run| !run.shows.is_empty())
            .enumerate()
        {
            browser.run_with(
                "document.querySelectorAll('#now-step .names')[arguments[0]].focus()",
                &json!([index]),
            );
            let pointed = browser.run(POINTED);
            for shown in &run.shows {
                assert!(
                    pointed
                        .as_array()
                        .is_some_and(|all| all.contains(&json!(shown))),
                    "{}: {shown} is not among {pointed}",
                    run.text
                );
            }
        }
        browser.run("document.activeElement.blur()");
        assert_eq!(browser.run(POINTED), json!([]));
        let finer = rule.said.iter().find_map(|run| run.finer.clone()).unwrap();
        assert!(!browser.text("#now-step .sentence").contains(&finer));
        browser.click("#now-step .finely");
        assert!(
            browser.text("#now-step .sentence").contains(&finer),
            "{finer}"
        );
        bench.is_accessible("a sentence with its finer number");
        bench.is_clean();
    }
}

#[test]
fn the_parts_bear_their_names_beside_the_instrument_and_in_the_first_hour() {
    for (width, height) in [(1440, 900), (390, 844)] {
        let bench = Bench::open(width, height);
        let browser = &bench.browser;
        browser.click("#parts-named > summary");
        browser.wait("return document.querySelector('#parts-named svg') !== null");
        let names = "return [...document.querySelectorAll('#parts-named text')].map((one) => one.textContent)";
        for name in ["rete", "horizon", "edge of the rule"] {
            assert!(
                browser
                    .run(names)
                    .as_array()
                    .is_some_and(|all| all.contains(&json!(name))),
                "{name}"
            );
        }
        browser.click("#first-hour .fold");
        browser.wait("return document.querySelectorAll('#first-hour .glossary dt').length > 30");
        let told = browser.text("#first-hour");
        for words in ["Never look at the Sun", "rising sign", "riet"] {
            assert!(told.contains(words), "{words}");
        }
        // A word of the glossary lights its line in the pictures.
        browser.run(
            "[...document.querySelectorAll('#first-hour .glossary button')]
                .find((one) => one.textContent === 'horizon').focus()",
        );
        let lit = browser.run(
            "return document.querySelectorAll('#first-hour [data-line=\"horizon\"].lit').length",
        );
        assert_eq!(lit, 1);
        let wide = browser.run("return document.documentElement.scrollWidth <= innerWidth");
        assert_eq!(wide, true, "{width}");
        bench.is_accessible("the first hour");
        bench.is_clean();
    }
}
