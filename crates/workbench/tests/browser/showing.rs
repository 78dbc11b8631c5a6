//! The showing to a class: asked before it is answered, a pointer, the lens large, in
//! landscape and portrait.

use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, cast};

/// What of the showing lies outside the window or over something else.
const CROWDED: &str = "
    const shown = ['.stage', '.now-step .sentence', '.question', '.lens-aside .lens', '.showing-bar']
        .map((name) => [name, document.querySelector(name)])
        .filter(([, one]) => one?.checkVisibility())
        .map(([name, one]) => [name, one.getBoundingClientRect()]);
    const found = shown
        .filter(([, box]) => box.left < -1 || box.top < -1 || box.right > innerWidth + 1 || box.bottom > innerHeight + 1)
        .map(([name]) => `${name} is outside`);
    for (const [index, [name, one]] of shown.entries()) {
        for (const [other, box] of shown.slice(index + 1)) {
            const wide = Math.min(one.right, box.right) - Math.max(one.left, box.left);
            const high = Math.min(one.bottom, box.bottom) - Math.max(one.top, box.top);
            if (wide > 1 && high > 1) found.push(`${name} over ${other}`);
        }
    }
    return found;
";

fn begun(width: u32, height: u32) -> Bench {
    let bench = Bench::at(width, height, &DEMONSTRATION);
    // A window is tried, of this size; a screen is as large as it is.
    bench
        .browser
        .run("Element.prototype.requestFullscreen = () => Promise.reject(new Error('refused'))");
    bench.browser.click("#show");
    bench
        .browser
        .wait("return document.documentElement.classList.contains('showing')");
    bench
}

#[test]
fn each_sentence_is_asked_before_its_answer() {
    let bench = begun(1440, 900);
    let browser = &bench.browser;
    browser.click("#withhold");
    browser.click("#end-showing");
    browser.click("#show");
    let working = cast(&DEMONSTRATION).working.unwrap();
    let steps: Vec<_> = working
        .steps
        .iter()
        .filter(|step| step.procedure.is_none_or(|one| one == "turning"))
        .collect();
    for (number, step) in steps.iter().enumerate() {
        browser.wait(&format!(
            "return document.querySelector('.now-step').dataset.at === '{}' && !document.querySelector('.question').hidden",
            number + 1
        ));
        let asked = browser.text(".now-step .sentence");
        if let Some(reading) = &step.reading {
            // Neither the number nor how it stands among the strokes is said.
            assert!(asked.contains('…'), "{asked}");
            let runs = &step.said;
            let number = runs.iter().rfind(|run| run.finer.is_some());
            if let Some(number) = number {
                assert!(!asked.contains(&number.text), "{asked}");
            } else {
                assert!(!asked.contains(reading.text.as_ref().unwrap()), "{asked}");
            }
            assert!(
                browser.text(".question").ends_with("what do you find?"),
                "{}",
                browser.text(".question")
            );
        }
        if step.rete_turn_deg.is_some_and(|turn| turn.abs() > 1.0) {
            // The parts wait.
            let (rete, _) = bench.state();
            assert!((rete - step.state.rete_deg).abs() > 1e-6, "{asked}");
        }
        if number == 5 {
            bench.is_accessible("a sentence that is asked");
        }
        // A remote control's key shows the answer, and then the next sentence.
        browser.keys("body", "\u{e00f}");
        browser.wait("return document.querySelector('.question').hidden");
        bench.settled();
        let told = browser.run(
            "return [...document.querySelectorAll('.now-step .sentence > span')].map((one) => one.textContent).join('')",
        );
        assert!(
            told.as_str().unwrap().ends_with(&step.instruction),
            "{told}"
        );
        let (rete, _) = bench.state();
        assert!((rete - step.state.rete_deg).abs() < 1e-6, "{told}");
        browser.keys("body", "\u{e00f}");
    }
    bench.is_clean();
}

#[test]
fn sentence_instrument_and_a_large_lens_have_their_room_in_any_window() {
    let bench = begun(1440, 900);
    let browser = &bench.browser;
    browser.click("#withhold");
    for (width, height) in [
        (1440, 900),
        (1920, 1080),
        (1024, 768),
        (768, 1024),
        (390, 844),
        (1080, 1920),
    ] {
        browser.cdp(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
        );
        // Where it is narrow the button hides once a step is chosen.
        browser.click("#end-showing");
        browser.run("document.querySelector('#show').click()");
        let mut lenses = 0;
        loop {
            assert_eq!(browser.run(CROWDED), json!([]), "{width}");
            lenses += i32::from(
                browser.run("return !document.querySelector('.lens-aside .lens')?.hidden") == true,
            );
            let [_, _, wide, _] = bench.area(".stage");
            assert!(wide > 0.5 * f64::from(width.min(height)), "{width}: {wide}");
            if browser.run("return document.querySelector('#next-step').disabled") == true {
                break;
            }
            browser.click(".showing-bar button:nth-of-type(2)");
            bench.settled();
        }
        assert!(lenses > 6, "{width}: {lenses}");
    }
    // Put away it lies on the instrument, as on the page.
    browser.click("#large-lens");
    assert_eq!(
        browser.run("return document.querySelector('.lens').parentElement.className"),
        "stage"
    );
}

#[test]
fn a_pointer_follows_the_hand_and_the_keys() {
    let bench = begun(1440, 900);
    let browser = &bench.browser;
    let ring = || bench.area(".pointer");
    assert_eq!(
        browser.run("return document.querySelector('.pointer').hidden"),
        true
    );
    browser.click("#pointing");
    browser.drag(&[(200.0, 300.0), (500.0, 400.0)]);
    let [left, top, wide, high] = ring();
    assert!(wide > 50.0, "it is seen from the last row: {wide}");
    assert!((left + wide / 2.0 - 500.0).abs() < 2.0, "{left}");
    assert!((top + high / 2.0 - 400.0).abs() < 2.0, "{top}");
    let at = browser.run("return document.querySelector('.now-step').dataset.at");
    browser.keys("body", "\u{e008}\u{e014}\u{e014}");
    let [moved, ..] = ring();
    assert!(moved > left + 40.0, "{left} {moved}");
    assert_eq!(
        browser.run("return document.querySelector('.now-step').dataset.at"),
        at,
        "with Shift the keys point, and do not go on"
    );
    bench.is_accessible("the pointer");
    browser.click("#end-showing");
    assert_eq!(
        browser.run("return document.querySelector('.pointer').hidden"),
        true
    );
    bench.is_clean();
}
