//! Operations of the treatise, chosen, filled in and played on the page.

use std::collections::BTreeMap;

use desk::{AskAnswer, Cabinet, OperationAnswer, WorkAnswer, WorkRequest};
use serde_json::{Value, json};

use crate::DIGITS;
use crate::bench::{Bench, DEMONSTRATION, request, texts};

/// What the page asks of the desk when an operation is chosen: examples of what it
/// cannot do without.
fn asked(operation: &OperationAnswer) -> WorkRequest {
    let needed = |place: &str| -> BTreeMap<String, String> {
        let asks = operation.asks.iter();
        asks.filter(|ask| ask.place == place && ask.needed && ask.where_of.is_none())
            .map(|ask| (ask.name.to_owned(), ask.example.to_owned()))
            .collect()
    };
    let one = |place: &str| needed(place).into_values().next();
    WorkRequest {
        operation: operation.name.to_owned(),
        moment: request(&DEMONSTRATION),
        star: one("star"),
        body: one("body"),
        seen: needed("seen"),
        told: needed("told"),
        ..WorkRequest::default()
    }
}

fn worked(request: &WorkRequest) -> WorkAnswer {
    desk::work(request, &Cabinet::built_in(), None).unwrap()
}

/// Waits for the desk's answer to what is done.
fn working(bench: &Bench, act: impl FnOnce()) {
    let count = "return Number(document.querySelector('#findings-body').dataset.worked ?? 0)";
    let before = bench.browser.run(count);
    act();
    bench.browser.wait(&format!("{count} > {before}"));
}

fn choose(bench: &Bench, operation: &str) {
    working(bench, || bench.browser.choose("#operation", operation));
}

/// Plays all steps by the button, as fast as they go, and says how each left things.
const PLAY: &str = "
    const done = arguments[arguments.length - 1];
    const working = document.querySelector('#steps-body');
    const stage = document.querySelector('#stage');
    const arrived = (number) => new Promise((resolve) => {
        const look = () => (working.dataset.arrived === number ? resolve() : setTimeout(look, 2));
        look();
    });
    (async () => {
        const played = [];
        const count = document.querySelectorAll('.step').length;
        for (let number = 1; number <= count; number += 1) {
            document.querySelector('#next-step').click();
            await arrived(String(number));
            const { rete, rule, alidade } = stage.dataset;
            played.push({
                instruction: document.querySelector('.step[aria-current]').textContent,
                rete: Number(rete), rule: Number(rule), alidade: Number(alidade),
                side: document.querySelector('.disc').dataset.side,
                lit: [...new Set([...document.querySelectorAll('.disc .lit')].map((one) => one.dataset.line))],
                lens: !document.querySelector('.lens').hidden,
            });
        }
        done(played);
    })();
";

#[test]
fn every_operation_is_played_as_the_desk_works_it() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let all = desk::operations();
    let offered = texts(
        &browser.run("return [...document.querySelectorAll('#operation optgroup option')].map((one) => one.value)"),
    );
    assert_eq!(offered.len(), all.len());
    // What the demonstration's back does not bear is refused there.
    for operation in all
        .iter()
        .filter(|one| one.heading != "The back's own lines")
    {
        let name = operation.name;
        let says = worked(&asked(operation));
        choose(&bench, name);
        let played = browser.run_async(PLAY);
        let played = played.as_array().unwrap();
        assert_eq!(played.len(), says.working.steps.len(), "{name}");
        for (played, step) in played.iter().zip(&says.working.steps) {
            let instruction = &step.instruction;
            assert_eq!(played["instruction"], json!(instruction), "{name}");
            for (part, deg) in [
                ("rete", step.state.rete_deg),
                ("rule", step.state.rule_deg),
                ("alidade", step.state.alidade_deg),
            ] {
                let off = (played[part].as_f64().unwrap() - deg).abs();
                assert!(off < DIGITS, "{name}: {instruction} {part} {off}");
            }
            assert_eq!(played["side"], step.side, "{name}: {instruction}");
            assert_eq!(
                played["lens"],
                step.look_at.is_some(),
                "{name}: {instruction}"
            );
            let lit = texts(&played["lit"]);
            for line in &step.lines {
                assert!(
                    lit.contains(line),
                    "{name}: {line} is not lit: {instruction}"
                );
            }
        }
        assert_eq!(findings(&bench), found(&says), "{name}");
    }
    bench.is_accessible("an operation");
    bench.is_clean();
}

/// What stands under “What is found”.
fn findings(bench: &Bench) -> Value {
    bench.browser.run(
        "const of = (box, selector) => box.querySelector(selector)?.textContent ?? null; \
         return [...document.querySelectorAll('.found')].map((box) => [of(box, '.reading'), of(box, '.clock'), \
             of(box, '.to'), of(box, '.exact b'), of(box, '.sentence')]) \
             .concat([...document.querySelectorAll('#findings .notes p')].map((note) => note.textContent))",
    )
}

/// The same as the desk says it.
fn found(answer: &WorkAnswer) -> Value {
    let capital = |text: &str| {
        let mut letters = text.chars();
        let first = letters.next().map(|first| first.to_uppercase().to_string());
        first.unwrap_or_default() + letters.as_str()
    };
    let each = answer.findings.iter().map(|one| {
        let to = [
            one.reads_to_text.as_ref().map(|to| format!("to {to}")),
            one.within_text.as_ref().map(|to| format!("within {to}")),
        ];
        let to: Vec<String> = to.into_iter().flatten().collect();
        let reason = one.reason.as_ref().map(|reason| format!("{reason}."));
        json!([
            one.text,
            one.clock
                .as_ref()
                .map(|clock| format!("{clock} by the clock")),
            (!to.is_empty()).then(|| to.join(", ")),
            one.exact_text,
            capital(&one.sentence.clone().or(reason).unwrap_or_default()),
        ])
    });
    let notes = answer.notes.iter().map(|note| json!(note));
    each.chain(notes).collect()
}

fn ask<'a>(operation: &'a OperationAnswer, name: &str) -> &'a AskAnswer {
    operation.asks.iter().find(|ask| ask.name == name).unwrap()
}

#[test]
fn what_is_seen_is_given_and_a_link_keeps_it() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    choose(&bench, "hour-by-star");
    assert!(browser.text(".about").contains("II.3"));
    let all = desk::operations();
    let operation = all.iter().find(|one| one.name == "hour-by-star").unwrap();
    assert_eq!(browser.text(".weak"), operation.weak);
    assert_eq!(ask(operation, "star").place, "star");
    // Another star, out of the catalogue: its pointer has a name of its own.
    working(&bench, || browser.write("#ask-star", "Aldebaran\u{e007}"));
    working(&bench, || browser.write("#ask-altitude", "25°15′\u{e007}"));
    working(&bench, || browser.write("#ask-hand", "0.5\u{e007}"));
    working(&bench, || browser.choose("#ask-side", "west"));
    let asked = WorkRequest {
        operation: "hour-by-star".to_owned(),
        moment: request(&DEMONSTRATION),
        star: Some("Aldebaran".to_owned()),
        seen: BTreeMap::from([("altitude".to_owned(), "25°15′".to_owned())]),
        hand: Some(0.5),
        side: Some("west".to_owned()),
        ..WorkRequest::default()
    };
    let says = worked(&asked);
    assert_eq!(findings(&bench), found(&says));
    // The shares open as a picture and a table.
    browser.click(".found:first-child summary");
    let shares = browser.text(".found:first-child .share-table");
    for share in &says.findings[0].shares {
        assert!(shares.contains(share.words), "{} {shares}", share.words);
    }
    bench.is_accessible("an operation's shares");
    // The same again from the address alone.
    let address = browser.run("return location.href");
    browser.go("about:blank");
    browser.go(address.as_str().unwrap());
    bench.settled();
    browser.wait("return document.querySelectorAll('.found').length > 0");
    assert_eq!(findings(&bench), found(&says));
    assert_eq!(
        browser.run("return document.querySelector('#ask-altitude').value"),
        "25°15′"
    );
    // A new moment is worked anew.
    bench.asking(|browser| browser.write("#time", "21:00\u{e007}"));
    let later = WorkRequest {
        moment: desk::CastRequest {
            when: "2024-05-14 21:00".to_owned(),
            ..request(&DEMONSTRATION)
        },
        ..asked
    };
    let first = &found(&worked(&later))[0][0];
    browser.wait(&format!(
        "return document.querySelector('.found .reading').textContent === {first}"
    ));
    // And back to the casting, whose readings stand there again.
    browser.choose("#operation", "");
    assert_eq!(
        browser.run("return [document.querySelector('#findings').hidden, document.querySelector('#readings').hidden]"),
        json!([true, false])
    );
    assert!(
        !browser
            .run("return location.hash")
            .to_string()
            .contains("work")
    );
    bench.is_clean();
}

#[test]
fn what_is_wrong_is_said_beside_its_field() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    for (operation, field, value, names) in [
        ("hour-by-sun", "altitude", "95", "95"),
        ("hour-by-sun", "hand", "steady", "steady"),
        ("height-by-recta", "distance", "\u{e003}", "distance"),
        ("height-by-versa", "shadow", "many", "many"),
        ("right-ascension", "other-degree", "41 Taurus", "41 Taurus"),
        ("star-up", "star", "Nibiru", "Nibiru"),
    ] {
        choose(&bench, operation);
        working(&bench, || {
            browser.write(&format!("#ask-{field}"), &format!("{value}\u{e007}"));
        });
        let said = browser.text("#fault-operation");
        assert!(said.contains(names), "{operation}: {said}");
        assert_eq!(
            browser.run_with(
                "return document.querySelector(arguments[0]).getAttribute('aria-invalid')",
                &json!([format!("#ask-{field}")])
            ),
            "true"
        );
        bench.is_accessible("an operation refused");
    }
    // What only matters for a star or a degree is asked only then.
    choose(&bench, "azimuth-at-hour");
    let shown = |field: &str| {
        let place = json!([format!("#ask-{field}")]);
        browser.run_with(
            "return document.querySelector(arguments[0]).getClientRects().length > 0",
            &place,
        )
    };
    assert_eq!(
        (shown("star"), shown("degree")),
        (json!(false), json!(false))
    );
    working(&bench, || browser.choose("#ask-of", "degree"));
    assert_eq!(
        (shown("star"), shown("degree")),
        (json!(false), json!(true))
    );
    working(&bench, || browser.choose("#ask-of", "star"));
    assert_eq!(
        (shown("star"), shown("degree")),
        (json!(true), json!(false))
    );
}

#[test]
fn an_operation_is_worked_by_keys_alone_and_fits_a_telephone() {
    let bench = Bench::at(360, 740, &DEMONSTRATION);
    let browser = &bench.browser;
    // By its first letters in the list, then on to the field, then to the steps.
    working(&bench, || browser.keys("#operation", "The azimuth from"));
    assert_eq!(
        browser.run("return document.querySelector('#operation').value"),
        "azimuth-by-altitude"
    );
    working(&bench, || browser.keys("#ask-altitude", "20°30′\u{e007}"));
    let wide = "return document.documentElement.scrollWidth";
    assert_eq!(browser.run(wide), 360);
    browser.keys("#next-step", "\u{e007}");
    browser.wait("return document.querySelector('#steps-body').dataset.arrived === '1'");
    browser.keys(".step[aria-current]", "\u{e015}");
    browser.wait("return document.querySelector('#steps-body').dataset.arrived === '2'");
    browser.keys(".found summary", "\u{e007}");
    assert_eq!(
        browser.run("return document.querySelector('.found').open"),
        true
    );
    assert_eq!(browser.run(wide), 360);
    bench.is_accessible("an operation at 360 px");
    // Printed, its steps stand beside what it finds.
    browser.cdp("Emulation.setEmulatedMedia", json!({ "media": "print" }));
    let seen = |selector: &str| {
        browser.run_with(
            "return document.querySelector(arguments[0]).getClientRects().length > 0",
            &json!([selector]),
        )
    };
    for shown in [".steps", ".found", ".disc", ".about"] {
        assert_eq!(seen(shown), true, "{shown}");
    }
    for left_out in ["#operation", "#next-step", ".set-facts", "#readings-body"] {
        assert_eq!(seen(left_out), false, "{left_out}");
    }
    bench.is_clean();
}
