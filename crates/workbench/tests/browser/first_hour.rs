//! The first hour: the walk, the rising sign alone, and instrument and sentence together.

use desk::{Cabinet, StateRequest, TurnRequest};
use serde_json::{Value, json};

use crate::bench::{Bench, DEMONSTRATION, request, texts};

const SIZES: [(u32, u32); 4] = [(1440, 900), (768, 1024), (390, 844), (360, 740)];

/// Whether an element is wholly on the screen, and under nothing that sticks above it.
const IN_VIEW: &str = "
    const one = document.querySelector(arguments[0]);
    const { left, top, right, bottom } = one.getBoundingClientRect();
    const walk = document.querySelector('#walk');
    const over = walk.hidden || walk.contains(one) ? 0 : Math.max(0, walk.getBoundingClientRect().bottom);
    return top >= over - 1 && bottom <= innerHeight + 1 && left >= -1 && right <= innerWidth + 1
        ? true : `${arguments[0]}: ${[left, top, right, bottom, over]}`;
";

fn in_view(bench: &Bench, selector: &str) -> Value {
    bench.browser.run_with(IN_VIEW, &json!([selector]))
}

#[test]
fn the_walk_and_what_it_lights_are_on_the_screen_and_it_ends_at_ones_own() {
    for (width, height) in SIZES {
        let bench = Bench::open(width, height);
        let browser = &bench.browser;
        let part = |number: usize| {
            browser.wait(&format!(
                "return document.querySelector('#walk').dataset.at === '{number}'"
            ));
            bench.settled();
            assert_eq!(in_view(&bench, ".walked"), true, "{width}: {number}");
            assert_eq!(in_view(&bench, "#walk-text"), true, "{width}: {number}");
            assert_eq!(in_view(&bench, "#walk-next"), true, "{width}: {number}");
        };
        for number in 1..=9 {
            part(number);
            if number == 4 {
                // With the sentence the instrument too.
                assert_eq!(in_view(&bench, ".disc"), true, "{width}");
            }
            if number == 7 {
                bench.is_accessible("the walk at one’s own moment");
                bench.asking(|browser| browser.write("#date", "1987-11-03\u{e007}"));
                bench.asking(|browser| browser.write("#place", "Lisbon, Portugal\u{e007}"));
            }
            if number == 8 {
                bench.asking(|browser| browser.choose("#with", "pocket instrument"));
                assert_eq!(
                    in_view(&bench, ".walked"),
                    true,
                    "{width}: the brass chosen"
                );
            }
            browser.click("#walk-next");
        }
        assert_eq!(
            browser.run("return document.querySelector('#walk').hidden"),
            true
        );
        let address = browser.run("return location.hash");
        let address = address.as_str().unwrap();
        for own in ["1987-11-03", "Lisbon", "pocket"] {
            assert!(address.contains(own), "{address}");
        }
        bench.is_clean();
    }
}

#[test]
fn instrument_and_sentence_are_on_the_screen_together_at_every_step() {
    for (width, height) in SIZES {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        let browser = &bench.browser;
        let count =
            texts(&browser.run(
                "return [...document.querySelectorAll('.step')].map((one) => one.textContent)",
            ));
        assert!(count.len() > 15);
        let together = |number: usize| {
            browser.wait(&format!(
                "return document.querySelector('#steps-body').dataset.arrived === '{number}'"
            ));
            for one in [".disc", "#now-step .sentence", "#next-step"] {
                assert_eq!(in_view(&bench, one), true, "{width}: step {number}");
            }
            let lens = browser.run("return document.querySelector('.lens').hidden");
            if lens == false {
                assert_eq!(in_view(&bench, ".lens"), true, "{width}: step {number}");
            }
        };
        for (index, sentence) in count.iter().enumerate() {
            browser.click("#next-step");
            together(index + 1);
            assert!(
                browser
                    .text("#now-step .sentence")
                    .ends_with(sentence.as_str())
            );
        }
        // Chosen in the list, however far down it stands.
        browser
            .run("document.querySelector('.steps li:last-child').scrollIntoView({ block: 'end' })");
        browser.click(".steps li:last-child button");
        together(count.len());
        bench.is_clean();
    }
}

#[test]
fn the_rising_sign_alone_comes_before_the_houses() {
    let bench = Bench::open(1440, 900);
    let browser = &bench.browser;
    browser.click("#walk-end");
    let count = |selector: &str| {
        browser.run_with(
            "return document.querySelectorAll(arguments[0]).length",
            &json!([selector]),
        )
    };
    let shown = |selector: &str| {
        browser.run_with(
            "return document.querySelector(arguments[0]).checkVisibility()",
            &json!([selector]),
        )
    };
    let first = "return [...document.querySelectorAll('.step')].at(-1).textContent";
    assert!(browser.run(first).as_str().unwrap().contains("ascendant"));
    assert_eq!(count(".reads tbody tr"), 1);
    assert_eq!(count(".why-one"), 1);
    assert_eq!(shown("#by"), false);
    bench.is_accessible("the rising sign alone");
    // On, from the end of the sentences; and it is remembered.
    browser.click("#steps .chapter");
    assert_eq!(count(".reads tbody tr"), 12);
    assert_eq!(shown("#by"), true);
    bench.go(&[]);
    assert_eq!(count(".reads tbody tr"), 12);
    browser.click("#readings .chapter");
    assert_eq!(count(".reads tbody tr"), 1);
    bench.go(&DEMONSTRATION);
    assert_eq!(count(".reads tbody tr"), 1);
    bench.is_clean();
}

#[test]
fn trying_alone_hides_what_should_be_until_ones_own_is_written() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    // The seed is drawn by the browser: here always the first, a figure to be cast.
    let open = || {
        browser.run("Math.random = () => 0");
        browser.click("#trying .fold");
    };
    open();
    let draw = |number: usize| {
        browser.click("#try-draw");
        browser.wait(&format!(
            "return document.querySelector('.trying-case').dataset.drawn === '{number}'"
        ));
        let operation =
            browser.run("return document.querySelector('.trying-case').dataset.operation");
        operation.as_str().unwrap().to_owned()
    };
    let answer = |all: &str| {
        let before =
            browser.run("return document.querySelector('#try-verdict').dataset.answers ?? '0'");
        browser.run_with(
            "for (const one of document.querySelectorAll('#trying form input')) one.value = arguments[0]",
            &json!([all]),
        );
        browser.click("#try-read");
        browser.wait(&format!(
            "return document.querySelector('#try-verdict').dataset.answers !== '{}'",
            before.as_str().unwrap()
        ));
    };
    let first = draw(1);
    let card = browser.text("#trying");
    assert!(card.contains("class instrument"), "{card}");
    assert!(!card.contains("within"), "{card}");
    assert_eq!(browser.text("#try-verdict"), "");
    bench.is_accessible("a case drawn");
    // An empty answer shows nothing; one's own does, be it ever so wrong.
    answer("");
    assert_eq!(browser.text("#try-verdict"), "");
    browser.write("#try-local-time", "3:00");
    browser.click("#try-read");
    browser.wait("return document.querySelector('#try-verdict table')");
    assert!(browser.text("#try-verdict").contains("Should be"));
    assert!(browser.text("#try-lately").contains("comes again"));
    bench.is_accessible("a case answered");
    // What went wrong comes again: the second draw is as it comes, the third is this.
    draw(2);
    assert_eq!(browser.text("#try-verdict"), "");
    assert_eq!(draw(3), first);
    assert!(browser.text(".trying-case").contains("so it comes again"));
    // And it stays through a reload.
    bench.go(&DEMONSTRATION);
    open();
    assert_eq!(draw(1), first);
    browser.write("#try-local-time", "3:00");
    browser.click("#try-read");
    browser.wait("return document.querySelector('#try-verdict table')");
    bench.asking(|browser| browser.click("#try-show"));
    assert!(!browser.text("#headline").contains("2024-05-14"));
    assert_eq!(in_view(&bench, ".disc"), true);
}

/// The controls that can have the focus and of which nothing is told.
const UNTOLD: &str = "
    const all = [...document.querySelectorAll('header button, main :is(button, input, select, textarea, summary, .slider)')];
    const untold = [];
    for (const one of all) {
        if (!one.checkVisibility() || one.disabled) continue;
        one.focus({ preventScroll: true });
        const told = document.querySelector('#effect').textContent;
        const described = (one.getAttribute('aria-describedby') ?? '').split(' ').includes('effect');
        if (document.activeElement !== one || !told || !described) untold.push(one.outerHTML.slice(0, 120));
    }
    document.activeElement.blur();
    return untold;
";

#[test]
fn what_a_control_does_is_told_in_a_line_when_it_has_the_focus() {
    for (width, height) in [(1440, 900), (360, 740)] {
        let bench = Bench::open(width, height);
        let browser = &bench.browser;
        browser.click("#open-settings");
        assert_eq!(browser.run(UNTOLD), json!([]), "the first screen");
        browser.click("#walk-end");
        for leaf in [
            "trying",
            "figure",
            "times",
            "pen",
            "correcting",
            "teaching",
            "workshop",
            "casebook",
        ] {
            browser.run(&format!("document.querySelector('#{leaf} .fold').click()"));
        }
        browser.run("for (const one of document.querySelectorAll('details')) one.open = true");
        assert_eq!(browser.run(UNTOLD), json!([]), "all of it");
        assert_eq!(browser.text("#effect"), "");
        browser.run("document.querySelector('#now').focus()");
        assert_eq!(browser.text("#effect"), "Takes this minute.");
        let [_, top, _, height_of_line] = bench.area("#effect");
        assert!(
            (top + height_of_line - f64::from(height)).abs() < 1.0,
            "{top}"
        );
    }
}

/// The Sun laid under the other end of the rule: what one reads then, and the slip named
/// beneath it.
#[test]
fn what_was_done_wrong_is_named_at_once_beneath_what_was_read() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let (rete_deg, rule_deg) = bench.state();
    let shown = |rete_deg: f64| {
        let asked = TurnRequest {
            case: request(&DEMONSTRATION),
            state: StateRequest {
                plate_latitude_deg: 42.0,
                rete_deg,
                rule_deg,
                alidade_deg: 0.0,
            },
            pointer: None,
        };
        let answer = desk::turn(&asked, &Cabinet::built_in(), None).unwrap();
        answer.ascendant.unwrap().text.unwrap()
    };
    let write = |text: &str| {
        bench.asking(|browser| browser.write(".reads input", &format!("{text}\u{e007}")));
        browser.text("#own")
    };
    let said = write(&shown((rete_deg + 180.0) % 360.0));
    assert!(said.contains("What did I do wrong?"), "{said}");
    assert!(said.contains("other end"), "{said}");
    bench.is_accessible("what was done wrong");
    let said = write(&shown(rete_deg));
    assert!(said.contains("Right"), "{said}");
    // A sign alone is a reading too.
    let text = shown(rete_deg);
    let sign = text.split_whitespace().last().unwrap().to_owned();
    let said = write(&sign);
    assert!(said.contains("Right"), "{sign}: {said}");
    bench.is_clean();
}
