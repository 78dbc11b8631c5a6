//! Beside the brass: the working on a phone, either way round, one sentence at a time.

use serde_json::{Value, json};

use crate::bench::{Bench, DEMONSTRATION, cast};
use crate::webdriver::Browser;

/// A phone either way round, and a small one.
const PHONES: [(u32, u32); 4] = [(390, 844), (844, 390), (360, 640), (640, 360)];

/// Whether an element is wholly within the window, and nothing that scrolls hides a part.
const WITHIN: &str = "
    const one = document.querySelector(arguments[0]);
    const { left, top, right, bottom } = one.getBoundingClientRect();
    if (right - left < 1 || top < -0.5 || left < -0.5 || bottom > innerHeight + 0.5 || right > innerWidth + 0.5)
        return `${arguments[0]}: ${[left, top, right, bottom]} of ${[innerWidth, innerHeight]}`;
    for (let over = one.parentElement; over && over !== document.body; over = over.parentElement) {
        const box = over.getBoundingClientRect();
        if (getComputedStyle(over).overflowY !== 'visible' && (top < box.top - 0.5 || bottom > box.bottom + 0.5))
            return `${arguments[0]} is hidden by ${over.className}: ${[top, bottom]} of ${[box.top, box.bottom]}`;
    }
    return true;
";

fn is_within(browser: &Browser, selector: &str, state: &str) {
    let got = browser.run_with(WITHIN, &json!([selector]));
    assert_eq!(got, true, "{state}");
}

/// Where an element stands in the window, as the browser writes it.
fn place_of(browser: &Browser, selector: &str) -> Value {
    browser.run_with(
        "return JSON.stringify(document.querySelector(arguments[0]).getBoundingClientRect())",
        &json!([selector]),
    )
}

/// Opens it, and stands at its beginning.
fn begun(bench: &Bench) -> &Browser {
    bench.browser.click("#open-beside");
    bench
        .browser
        .wait("return document.querySelector('#beside').dataset.at === '0'");
    &bench.browser
}

/// Waits until a sentence stands there and the parts have gone as it says.
fn stands_at(browser: &Browser, number: usize) {
    browser.wait(&format!(
        "return document.querySelector('#beside').dataset.at === '{number}' \
             && document.querySelector('#steps-body').dataset.arrived === '{number}'"
    ));
}

fn at(browser: &Browser) -> Value {
    browser.run("return document.querySelector('#beside').dataset.at")
}

/// A finger put down, moved and lifted.
fn swipe(browser: &Browser, from: (f64, f64), to: (f64, f64)) {
    let touch = |kind: &str, place: Option<(f64, f64)>| {
        let points: Vec<_> = place
            .iter()
            .map(|(x, y)| json!({ "x": x.round(), "y": y.round() }))
            .collect();
        browser.cdp(
            "Input.dispatchTouchEvent",
            json!({ "type": kind, "touchPoints": points }),
        );
    };
    touch("touchStart", Some(from));
    for part in 1..=6 {
        let part = f64::from(part) / 6.0;
        touch(
            "touchMove",
            Some((
                from.0 + (to.0 - from.0) * part,
                from.1 + (to.1 - from.1) * part,
            )),
        );
    }
    touch("touchEnd", None);
}

fn with_fingers(browser: &Browser) {
    browser.cdp(
        "Emulation.setTouchEmulationEnabled",
        json!({ "enabled": true, "maxTouchPoints": 2 }),
    );
}

/// Presses the keys of the pad: digits, the mark between the numbers, and a sign's button.
fn press(browser: &Browser, keys: &[&str]) {
    for key in keys {
        let found = browser.run_with(
            "const key = [...document.querySelectorAll('.pad-body button')].find((one) => one.textContent === arguments[0]); \
             key?.click(); return Boolean(key)",
            &json!([key]),
        );
        assert_eq!(found, true, "{key}");
    }
}

#[test]
fn a_newcomer_on_a_phone_sees_the_way_in_and_is_led_to_the_end_by_one_press() {
    for (width, height) in PHONES {
        let bench = Bench::open(width, height);
        let browser = &bench.browser;
        is_within(browser, "#open-beside", "the way in");
        let [.., high] = bench.area("#open-beside");
        assert!(high >= 48.0, "{high}");
        begun(&bench);
        for seen in ["#beside-next", ".beside-where", "#beside-here", ".disc"] {
            is_within(browser, seen, "the beginning");
        }
        for fact in 1..=3 {
            let fact = format!(".beside-facts > div:nth-child({fact})");
            is_within(browser, &fact, &format!("{width} × {height}"));
        }
        let count = browser.run("return document.querySelectorAll('.beside-sentence').length");
        let count = usize::try_from(count.as_u64().unwrap()).unwrap();
        assert_eq!(count, 6, "to the ascendant alone");
        for number in 1..=count {
            browser.click("#beside-next");
            stands_at(browser, number);
        }
        browser.click("#beside-next");
        let read = browser.text(".beside-reads tbody");
        assert!(read.contains("Ascendant"), "{read}");
        is_within(browser, ".beside-reads", "the end");
        if width < height {
            is_within(browser, ".disc", "the end");
        }
        browser.click("#beside-next");
        browser.wait("return document.querySelector('#beside').hidden");
        assert_eq!(
            browser.run("return document.activeElement.id"),
            "open-beside"
        );
        bench.is_clean();
    }
}

#[test]
fn the_end_of_a_chapter_leads_on_to_the_next() {
    let bench = Bench::open(390, 844);
    let browser = begun(&bench);
    for number in 1..=6 {
        browser.click("#beside-next");
        stands_at(browser, number);
    }
    browser.click("#beside-next");
    bench.is_accessible("the end of a chapter");
    browser.click(".beside-end .chapter");
    stands_at(browser, 7);
    is_within(browser, ".beside-sentence.now", "the next chapter");
    assert_eq!(
        browser.run("return document.querySelectorAll('.beside-sentence').length"),
        19
    );
    bench.is_clean();
}

#[test]
fn the_sentence_never_leaves_its_place_on_the_screen() {
    for (width, height) in PHONES {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        let browser = begun(&bench);
        let working = cast(&DEMONSTRATION).working.unwrap();
        let steps: Vec<_> = working
            .steps
            .iter()
            .filter(|step| step.procedure.is_none_or(|one| one == "turning"))
            .collect();
        let mut place = None;
        for (index, step) in steps.iter().enumerate() {
            let state = format!("{width} × {height}, sentence {}", index + 1);
            browser.click("#beside-next");
            stands_at(browser, index + 1);
            let said = browser.text(".beside-sentence.now");
            assert!(said.ends_with(&step.instruction), "{said}");
            for seen in [
                ".beside-sentence.now",
                "#beside-next",
                "#beside-back",
                ".disc",
            ] {
                is_within(browser, seen, &state);
            }
            // What is read lies under the lens, which is half as wide as the instrument.
            let laid = browser.run("return !document.querySelector('.lens').hidden");
            assert_eq!(laid, step.look_at.is_some(), "{state}");
            if step.look_at.is_some() {
                let [.., disc, _] = bench.area(".disc");
                let [.., lens, _] = bench.area(".lens");
                assert!(lens > 0.5 * disc, "{state}: {lens} of {disc}");
            }
            // It stands under the instrument, or beside it, and in one place.
            let [left, top, ..] = bench.area(".beside-sentence.now");
            let [disc, above, size, _] = bench.area(".disc");
            if width < height {
                assert!(top >= above + size, "{state}");
            } else {
                assert!(left >= disc + size, "{state}");
            }
            let now = place_of(browser, ".beside-sentence.now");
            assert_eq!(*place.get_or_insert_with(|| now.clone()), now, "{state}");
        }
        bench.is_clean();
    }
}

#[test]
fn a_swipe_turns_the_leaf_and_no_other_touch_does() {
    for (width, height) in PHONES {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        with_fingers(&bench.browser);
        let browser = begun(&bench);
        let [left, top, wide, high] = bench.area(".disc");
        let over = (left + wide / 2.0, top + high / 2.0);
        let [left, top, wide, _] = bench.area(".beside-bar");
        let beneath = (left + wide / 2.0, top + 90.0);
        let by = |(x, y): (f64, f64), across: f64, down: f64| {
            swipe(browser, (x, y), (x + across, y + down));
        };
        by(over, -120.0, 10.0);
        stands_at(browser, 1);
        let before = bench.state();
        by(beneath, -120.0, -10.0);
        stands_at(browser, 2);
        by(over, -20.0, 0.0);
        by(over, 10.0, 100.0);
        by(over, -80.0, 90.0);
        assert_eq!(at(browser), "2", "{width} × {height}");
        by(over, 120.0, 0.0);
        stands_at(browser, 1);
        // The finger that swipes turns no part of the instrument.
        assert_eq!(bench.state(), before);
        by(over, 120.0, 0.0);
        assert_eq!(at(browser), "0");
        by(over, 120.0, 0.0);
        assert_eq!(at(browser), "0");
        bench.is_clean();
    }
}

#[test]
fn a_reading_typed_with_keys_and_signs_is_what_arrives() {
    let bench = Bench::at(390, 844, &DEMONSTRATION);
    let browser = begun(&bench);
    let kept = |name: &str| {
        browser.run_with(
            "return new URLSearchParams(location.hash.slice(1)).get('read.' + arguments[0])",
            &json!([name]),
        )
    };
    for number in 1..=2 {
        browser.click("#beside-next");
        stands_at(browser, number);
    }
    // The hour for the rule: numbers alone.
    browser.click("#beside-read");
    assert_eq!(
        browser.run("return document.querySelector('.pad-signs').checkVisibility()"),
        false
    );
    press(browser, &["6", "4", "9"]);
    bench.asking(|browser| browser.click("#beside-next"));
    assert_eq!(kept("local-time"), "6:49");
    stands_at(browser, 2);
    for number in 3..=6 {
        browser.click("#beside-next");
        stands_at(browser, number);
    }
    // The pad leaves the sentence where it is, and calls no keyboard up.
    let place = place_of(browser, ".beside-sentence.now");
    let before = bench.state();
    browser.click("#beside-read");
    assert_eq!(place_of(browser, ".beside-sentence.now"), place);
    assert_eq!(
        browser.run("return document.activeElement.inputMode"),
        "none"
    );
    let next = "return document.querySelector('#beside-next').disabled";
    // There are no 41 degrees in a sign, and no degree without its sign.
    press(browser, &["2", "7", "3", "0"]);
    assert_eq!(browser.run(next), true);
    press(browser, &["Gemini"]);
    assert_eq!(
        browser.run("return document.querySelector('#pad-reading').value"),
        "27°30′ Gemini"
    );
    press(browser, &["⌫"]);
    press(browser, &["5"]);
    bench.asking(|browser| browser.click("#beside-next"));
    assert_eq!(kept("ascendant"), "27°35′ Gemini");
    // Nothing has moved for it: not the sentence, not the brass.
    stands_at(browser, 6);
    assert_eq!(bench.state(), before);
    assert!(browser.text("#beside-read").contains("27°35′ Gemini"));
    // A sign alone will do.
    browser.click("#beside-next");
    stands_at(browser, 7);
    browser.click("#beside-read");
    press(browser, &["Pisces"]);
    bench.asking(|browser| browser.click("#beside-next"));
    assert_eq!(kept("midheaven"), "Pisces");
    // Who has a keyboard types; what cannot be is refused beside it, and taken back by nothing.
    browser.click("#beside-read");
    bench.asking(|browser| browser.write("#pad-reading", "31 Pisces\u{e007}"));
    assert!(
        browser.text("#pad-fault").contains("31"),
        "{}",
        browser.text("#pad-fault")
    );
    bench.is_accessible("a reading refused");
    let refused = browser.complaints();
    assert!(refused.iter().all(|one| one.contains("422")), "{refused:?}");
    bench.asking(|browser| browser.write("#pad-reading", "1 pis\u{e007}"));
    assert_eq!(kept("midheaven"), "1 Pisces");
    // At the end it stands against what this brass shows, with its mark.
    for _ in 0..20 {
        if at(browser) != "20" {
            browser.click("#beside-next");
        }
    }
    assert_eq!(at(browser), "20");
    let told = browser.text(".beside-reads tbody tr:first-child");
    assert!(told.contains("27°35′ Gemini"), "{told}");
    let answer = cast(&DEMONSTRATION);
    let shows = desk::words::Zodiacal(desk::words::Angle::from_deg(
        answer.reading.unwrap().ascendant_deg.unwrap(),
    ));
    assert!(told.contains(&shows.to_string()), "{told}");
    assert!(browser.text("#beside-own").contains("Right"));
    // And on the whole page.
    browser.click("#beside-leave");
    browser.wait("return document.querySelector('#beside').hidden");
    assert_eq!(
        browser.run("return document.querySelector('.reads input').value"),
        "27°35′ Gemini"
    );
    assert_eq!(kept("ascendant"), "27°35′ Gemini");
    bench.is_clean();
}

/// The largest amounts of red, green and blue anywhere in the window.
fn brightest(browser: &Browser) -> [u64; 3] {
    let shot = browser.cdp("Page.captureScreenshot", json!({ "format": "png" }));
    let picture = shot["data"].as_str().unwrap();
    browser.run(&format!("window.shot = '{picture}'"));
    let got = browser.run_async(
        "const done = arguments[arguments.length - 1]; const picture = new Image(); \
         picture.onload = () => { \
             const canvas = document.createElement('canvas'); \
             [canvas.width, canvas.height] = [picture.width, picture.height]; \
             const drawing = canvas.getContext('2d'); drawing.drawImage(picture, 0, 0); \
             const { data } = drawing.getImageData(0, 0, canvas.width, canvas.height); \
             const most = [0, 0, 0]; \
             for (let i = 0; i < data.length; i += 1) if (i % 4 < 3 && data[i] > most[i % 4]) most[i % 4] = data[i]; \
             done(most); \
         }; \
         picture.src = 'data:image/png;base64,' + window.shot;",
    );
    [0, 1, 2].map(|colour| got[colour].as_u64().unwrap())
}

#[test]
fn the_red_light_leaves_no_other_colour_anywhere() {
    let bench = Bench::at(390, 844, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.run("localStorage.setItem('almuri-surroundings', 'dark')");
    bench.go(&DEMONSTRATION);
    let browser = begun(&bench);
    browser.click("#beside-red");
    let is_red = |state: &str| {
        let [red, green, blue] = brightest(browser);
        assert!(
            red > 200 && green == 0 && blue == 0,
            "{state}: {red} {green} {blue}"
        );
        bench.is_accessible(state);
    };
    is_red("the beginning in red");
    for number in 1..=6 {
        browser.click("#beside-next");
        stands_at(browser, number);
    }
    is_red("a sentence in red");
    browser.click("#beside-sum");
    is_red("the sum in red");
    browser.click("#beside-sum");
    browser.click("#beside-read");
    is_red("the pad in red");
    browser.click("#beside-back");
    browser.click("#beside-leave");
    browser.wait("return document.querySelector('#beside').hidden");
    browser.click("#open-settings");
    is_red("the whole page in red");
    assert_eq!(
        browser.run("return document.querySelector('#surroundings').value"),
        "red"
    );
    // Put out, the surroundings are those from before.
    begun(&bench);
    browser.click("#beside-red");
    assert_eq!(
        browser.run("return document.documentElement.dataset.surroundings"),
        "dark"
    );
    assert_ne!(brightest(browser)[1], 0);
    bench.is_clean();
}

/// A browser that counts how often it is asked for the screen or for the place.
const COUNTED: &str = "
    window.asked = { held: 0, released: 0, place: 0 };
    Object.defineProperty(navigator, 'wakeLock', { value: { request: async () => {
        window.asked.held += 1;
        return { release: async () => { window.asked.released += 1; } };
    } } });
    const find = navigator.geolocation.getCurrentPosition.bind(navigator.geolocation);
    navigator.geolocation.getCurrentPosition = (...how) => { window.asked.place += 1; find(...how); };
";

/// Has every page begin with a script.
fn beginning_with(browser: &Browser, script: &str) {
    browser.cdp(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": script }),
    );
}

#[test]
fn the_screen_is_kept_awake_only_while_one_works_beside_the_brass() {
    let bench = Bench::at(390, 844, &DEMONSTRATION);
    beginning_with(&bench.browser, COUNTED);
    bench.go(&DEMONSTRATION);
    let browser = &bench.browser;
    assert_eq!(browser.run("return window.asked.held"), 0);
    begun(&bench);
    browser.wait("return window.asked.held === 1");
    assert!(browser.text("#beside-awake").contains("stays awake"));
    // A browser takes it back when the page is not seen; it is asked again.
    browser.run("document.dispatchEvent(new Event('visibilitychange'))");
    browser.wait("return window.asked.held === 2");
    browser.click("#beside-leave");
    browser.wait("return window.asked.released > 0");
    browser.run("document.dispatchEvent(new Event('visibilitychange'))");
    assert_eq!(browser.run("return window.asked.held"), 2);
    // On an address that is not secure it says so.
    beginning_with(
        browser,
        "Object.defineProperty(window, 'isSecureContext', { value: false })",
    );
    bench.go(&DEMONSTRATION);
    begun(&bench);
    let said = browser.text("#beside-awake");
    assert!(said.contains("needs a secure address"), "{said}");
    assert_eq!(browser.run("return window.asked.held"), 0);
    browser.click("#beside-here");
    let said = browser.text("#beside .here-said");
    assert!(said.contains("secure address"), "{said}");
    bench.is_clean();
}

#[test]
fn now_and_here_is_one_press_and_nobody_is_asked_before() {
    let bench = Bench::at(390, 844, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.cdp(
        "Emulation.setTimezoneOverride",
        json!({ "timezoneId": "Europe/Madrid" }),
    );
    // An invented somewhere by Sevilla.
    browser.cdp(
        "Emulation.setGeolocationOverride",
        json!({ "latitude": 37.389_12, "longitude": -5.984_48, "accuracy": 20 }),
    );
    beginning_with(browser, COUNTED);
    bench.go(&DEMONSTRATION);
    begun(&bench);
    assert_eq!(browser.run("return window.asked.place"), 0);
    let allow = |setting: &str| {
        let origin = browser.run("return location.origin");
        browser.cdp(
            "Browser.setPermission",
            json!({ "permission": { "name": "geolocation" }, "setting": setting, "origin": origin }),
        );
    };
    allow("denied");
    browser.click("#beside-here");
    let said = browser.wait("return document.querySelector('#beside .here-said').textContent.includes('not allowed') && document.querySelector('#beside .here-said').textContent");
    assert!(said.as_str().unwrap().contains("Write the town"), "{said}");
    bench.is_accessible("a place refused");
    allow("granted");
    bench.asking(|browser| browser.click("#beside-here"));
    assert_eq!(browser.run("return window.asked.place"), 2);
    let kept = browser.run("return location.hash");
    let kept = kept.as_str().unwrap();
    assert!(kept.contains("at=37.389%2C-5.984"), "{kept}");
    assert!(kept.contains("zone=Europe%2FMadrid"), "{kept}");
    assert!(
        !kept.contains("when=now"),
        "the moment stands still: {kept}"
    );
    let seconds = browser.run(
        "const when = new URLSearchParams(location.hash.slice(1)).get('when'); \
         return (Date.now() - new Date(when.replace(' ', 'T')).getTime()) / 1000",
    );
    let seconds = seconds.as_f64().unwrap();
    assert!((0.0..120.0).contains(&seconds), "{seconds} s ago");
    assert!(
        browser.text(".beside-where").contains("37°23′"),
        "{}",
        browser.text(".beside-where")
    );
    // It is on the whole page too.
    browser.click("#beside-leave");
    browser.wait("return document.querySelector('#beside').hidden");
    bench.go(&DEMONSTRATION);
    assert_eq!(browser.run("return window.asked.place"), 0);
    bench.asking(|browser| browser.click("#here"));
    assert_eq!(browser.run("return window.asked.place"), 1);
    bench.is_clean();
}

#[test]
fn every_state_is_accessible_and_led_by_keys_alone() {
    for (width, height) in [(390, 844), (844, 390)] {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        let browser = &bench.browser;
        browser.keys("#open-beside", "\u{e007}");
        browser.wait("return document.querySelector('#beside').dataset.at === '0'");
        assert_eq!(
            browser.run("return document.activeElement.id"),
            "beside-next"
        );
        bench.is_accessible("the beginning");
        // By Enter on what has the focus, by arrows, and by a remote control's keys.
        browser.keys("#beside-next", "\u{e007}");
        stands_at(browser, 1);
        bench.is_accessible("a sentence");
        browser.keys("body", "\u{e014}");
        stands_at(browser, 2);
        browser.keys("body", "\u{e00f}");
        stands_at(browser, 3);
        bench.is_accessible("a sentence with a reading, on the back");
        browser.keys("body", "\u{e012}");
        stands_at(browser, 2);
        browser.keys("#beside-sum", "\u{e007}");
        bench.is_accessible("the sum");
        assert!(browser.text("#beside .sum").contains("06:49:28"));
        browser.keys("body", "\u{e00c}");
        for number in 3..=6 {
            browser.keys("body", "\u{e014}");
            stands_at(browser, number);
        }
        browser.keys("#beside-read", "\u{e007}");
        bench.is_accessible("the pad");
        // In the pad the arrows move within what is written, and turn no leaf.
        browser.keys("#pad-reading", "27 ge\u{e012}\u{e014}");
        bench.asking(|browser| browser.keys("#pad-reading", "\u{e007}"));
        assert_eq!(
            browser.run("return document.activeElement.id"),
            "beside-next"
        );
        assert!(browser.text("#beside-read").contains("27 Gemini"));
        bench.is_accessible("a sentence with what was read");
        // Everything that can be pressed is large enough for a thumb, and is told.
        let small = browser.run(
            "return [...document.querySelectorAll('#beside button')].filter((one) => one.checkVisibility()) \
                 .filter((one) => one.getBoundingClientRect().height < 44).map((one) => one.id)",
        );
        assert_eq!(small, json!([]));
        let untold = browser.run(
            "return [...document.querySelectorAll('#beside :is(button, input)')].filter((one) => { \
                 one.focus({ preventScroll: true }); \
                 return one.checkVisibility() && !one.disabled && !document.querySelector('#effect').textContent; \
             }).map((one) => one.id)",
        );
        assert_eq!(untold, json!([]));
        for _ in 0..20 {
            if at(browser) != "20" {
                browser.keys("body", "\u{e014}");
            }
        }
        assert_eq!(at(browser), "20");
        bench.is_accessible("the end");
        browser.keys("body", "\u{e014}");
        assert_eq!(at(browser), "20");
        browser.keys("body", "\u{e00c}");
        browser.wait("return document.querySelector('#beside').hidden");
        bench.is_clean();
    }
}

#[test]
fn a_page_that_was_forgotten_in_a_pocket_goes_on_where_it_was() {
    let bench = Bench::at(390, 844, &DEMONSTRATION);
    let browser = begun(&bench);
    for number in 1..=6 {
        browser.click("#beside-next");
        stands_at(browser, number);
    }
    browser.click("#beside-read");
    press(browser, &["2", "7", "Gemini"]);
    bench.asking(|browser| browser.click("#beside-next"));
    browser.run("location.reload()");
    browser.wait("return document.body.dataset.ready === 'yes'");
    stands_at(browser, 6);
    assert!(browser.text("#beside-read").contains("27 Gemini"));
    // The way back leads to the whole page, and takes no reading along.
    browser.run("history.back()");
    browser.wait("return document.querySelector('#beside').hidden");
    bench.settled();
    assert_eq!(
        browser.run("return document.querySelector('.reads input').value"),
        "27 Gemini"
    );
    browser.run("location.reload()");
    browser.wait("return document.body.dataset.ready === 'yes'");
    assert_eq!(
        browser.run("return document.querySelector('#beside').hidden"),
        true
    );
    // The instrument stands on the page again.
    assert_eq!(
        browser.run("return document.querySelector('#at-hand #stage') !== null"),
        true
    );
    bench.is_clean();
}
