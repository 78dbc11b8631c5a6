//! A film: made in the browser, and decoded again by its own player, which knows nothing of
//! how the file was written.

use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::bench::{Bench, DEMONSTRATION};
use crate::webdriver::Browser;

/// How long making one may take on a machine that does other things as well.
const PATIENCE: Duration = Duration::from_secs(300);

/// What the film shows of an area, every half second: how far it is from the picture before,
/// in levels of grey of 256.
const CHANGES: &str = "
    const done = arguments[arguments.length - 1];
    const [left, top, width, height] = [AREA];
    const seen = document.querySelector('#film-seen');
    const canvas = new OffscreenCanvas(160, 90);
    const on = canvas.getContext('2d', { willReadFrequently: true });
    const at = (time) => new Promise((resolve) => {
        seen.addEventListener('seeked', () => {
            on.drawImage(seen, left, top, width, height, 0, 0, 160, 90);
            resolve([...on.getImageData(0, 0, 160, 90).data].filter((_, index) => index % 4 === 1));
        }, { once: true });
        seen.currentTime = time;
    });
    (async () => {
        const changes = [];
        let before = null;
        for (let time = 0.25; time < seen.duration; time += 0.5) {
            const now = await at(time);
            if (before) changes.push(now.reduce((sum, level, index) => sum + Math.abs(level - before[index]), 0) / now.length);
            before = now;
        }
        done(changes);
    })();
";

/// Words that are exchanged for others change an area by more than this; what an encoder makes
/// of the same words again, by less (measured: 1.3 at the most, 10 at the least).
const EXCHANGED: f64 = 5.0;

/// Parts that turn change the instrument's area by more.
const TURNED: f64 = 1.5;

fn changes(browser: &Browser, area: &str) -> Vec<f64> {
    let found = browser.run_async(&CHANGES.replace("AREA", area));
    serde_json::from_value(found).unwrap()
}

/// Makes the film that is asked for, and waits until it can be played.
fn made(browser: &Browser) -> Value {
    browser.click("#film-make");
    let begun = Instant::now();
    let is_said = "return document.querySelector('#film-said').textContent";
    let mut told = Vec::new();
    loop {
        let said = browser.run(is_said).as_str().unwrap_or_default().to_owned();
        let fault = browser.text("#film .fault");
        assert!(fault.is_empty(), "{fault}");
        if said.starts_with("Made") {
            break;
        }
        if told.last() != Some(&said) {
            told.push(said);
        }
        assert!(begun.elapsed() < PATIENCE, "{told:?}");
        std::thread::sleep(Duration::from_millis(100));
    }
    // How far it is was told meanwhile.
    assert!(
        told.iter().any(|said| said.contains("seconds are made")),
        "{told:?}"
    );
    browser.wait("return document.querySelector('#film-seen').readyState > 0");
    browser.run(
        "const { videoWidth, videoHeight, duration } = document.querySelector('#film-seen'); \
         return [videoWidth, videoHeight, duration]",
    )
}

#[test]
fn casting_is_filmed_and_decoded_again_with_every_caption() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#readings .chapter");
    browser.choose("#pace", "2.5");
    browser.click("#film .fold");
    browser.write("#film-title", "An invented lesson");
    browser.write("#film-end", "From an invented workshop");
    bench.is_accessible("a film that is asked for");
    let steps = browser.run("return document.querySelectorAll('.step').length");
    let steps = usize::try_from(steps.as_u64().unwrap()).unwrap();
    let letters = browser
        .run("return [...document.querySelectorAll('.step')].map((one) => one.textContent.length)");
    let film = made(browser);
    assert_eq!([&film[0], &film[1]], [&json!(1920), &json!(1080)]);
    // Two cards of 3 s, and for every sentence its reading time and less than 2 s of turning.
    let read: f64 = letters
        .as_array()
        .unwrap()
        .iter()
        .map(|letters| (letters.as_f64().unwrap() / 15.0).max(3.0) / 2.5)
        .sum();
    let long = film[2].as_f64().unwrap();
    assert!(
        long > read + 5.9 && long < read + 6.1 + 2.0 * 1.5 * 6.0,
        "{long} s, of which {read} s are reading"
    );
    // The words change as often as there are sentences, and once more for the last card.
    let words = changes(browser, "1110, 60, 780, 510");
    let exchanged = words.iter().filter(|one| **one > EXCHANGED).count();
    assert_eq!(exchanged, steps + 1, "{words:?}");
    // And the parts turn.
    let parts = changes(browser, "42, 30, 1020, 1020");
    let turned = parts.iter().filter(|one| **one > TURNED).count();
    assert!(turned > 4, "{parts:?}");
    bench.is_accessible("a film that was made");
    bench.is_clean();
}

#[test]
fn an_operation_is_filmed_standing_and_the_making_is_broken_off() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.choose("#operation", "sun-degree");
    browser.wait("return document.querySelectorAll('.found').length > 0");
    browser.choose("#pace", "2.5");
    browser.click("#film .fold");
    browser.choose("#film-shape", "tall");
    browser.click("#film-make");
    browser.wait("return document.querySelector('#film-said').textContent.includes('are made')");
    browser.click("#film-stop");
    browser.wait("return document.querySelector('#film-said').textContent === 'Stopped.'");
    assert_eq!(
        browser.run("return document.querySelector('#film-seen').hidden"),
        true
    );
    let film = made(browser);
    assert_eq!([&film[0], &film[1]], [&json!(1080), &json!(1920)]);
    // The card, then the one sentence: without a line of the maker's there is no last card.
    let words = changes(browser, "60, 1100, 960, 350");
    let exchanged = words.iter().filter(|one| **one > EXCHANGED).count();
    assert_eq!(exchanged, 1, "{words:?}");
    // It is saved as an MP4.
    browser.run(
        "HTMLAnchorElement.prototype.click = function () { window.savedAs = this.download; };",
    );
    browser.click("#film-save");
    assert_eq!(
        browser.run("return window.savedAs"),
        "the-sun-s-degree-for-a-date-santiago-de-compostela-galicia-spain.mp4"
    );
    bench.is_clean();
}
