//! Correcting on the page: right readings, a slip, a figure from print, a refusal.

use std::collections::BTreeMap;

use desk::{Cabinet, CorrectAnswer, CorrectRequest};
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, cast, request, texts};

/// Does something that corrects, and waits for what it says.
fn correcting(bench: &Bench, act: impl FnOnce()) {
    let count = "return Number(document.querySelector('#verdict').dataset.answers ?? 0)";
    let before = bench.browser.run(count);
    act();
    bench.browser.wait(&format!("{count} > {before}"));
}

fn open(bench: &Bench) {
    bench.browser.click("#correcting .fold");
}

fn corrected(request: &CorrectRequest) -> CorrectAnswer {
    desk::correct(request, &Cabinet::built_in(), None).unwrap()
}

/// What stands in the boxes of the form.
fn given(bench: &Bench) -> BTreeMap<String, String> {
    let got = bench.browser.run(
        "return Object.fromEntries([...document.querySelectorAll('.pupil input')] \
             .filter((one) => one.value).map((one) => [one.id.replace('pupil-', ''), one.value]))",
    );
    serde_json::from_value(got).unwrap()
}

fn list(bench: &Bench, selector: &str) -> Vec<String> {
    texts(&bench.browser.run_with(
        "return [...document.querySelectorAll(arguments[0])].map((one) => one.textContent)",
        &json!([selector]),
    ))
}

#[test]
fn right_readings_are_called_right() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let answer = cast(&DEMONSTRATION);
    let reading = answer.reading.unwrap();
    let said = |deg: f64| desk::words::Zodiacal(desk::words::Angle::from_deg(deg)).to_string();
    open(&bench);
    // What was read in the boxes above is taken over.
    let ascendant = said(reading.ascendant_deg.unwrap());
    bench.asking(|browser| {
        browser.write(
            ".reads tr:first-child input",
            &format!("{ascendant}\u{e007}"),
        );
    });
    browser.click("#take-mine");
    assert_eq!(given(&bench)["ascendant"], ascendant);
    browser.write("#pupil-midheaven", &said(reading.midheaven_deg.unwrap()));
    correcting(&bench, || {
        browser.write("#pupil-local-time", "6:49\u{e007}")
    });
    assert_eq!(
        browser.run("return document.querySelector('#verdict').dataset.verdict"),
        "right"
    );
    assert_eq!(list(&bench, ".checked td.right").len(), 3);
    assert!(list(&bench, ".checked td.wrong").is_empty());
    bench.is_accessible("readings that are right");
    // Of another moment they are not, and the page says so of itself.
    correcting(&bench, || browser.write("#time", "12:20\u{e007}"));
    assert!(!list(&bench, ".checked td.wrong").is_empty());
    bench.is_clean();
}

#[test]
fn the_invented_pupils_slip_is_named_first() {
    let bench = Bench::at(
        1440,
        900,
        &[
            ("when", "2001-01-01 12:00"),
            DEMONSTRATION[1],
            DEMONSTRATION[2],
        ],
    );
    let browser = &bench.browser;
    open(&bench);
    correcting(&bench, || browser.click("#invented"));
    let says = corrected(&CorrectRequest {
        moment: request(&DEMONSTRATION),
        read: given(&bench),
        figure: false,
    });
    // Longitude left out, and nothing else comes near.
    assert_eq!(
        says.judged.explanations[0].slips[0].name,
        "longitude-left-out"
    );
    assert_eq!(browser.text("#verdict > .sentence"), says.judged.sentence);
    let first = browser.text(".explanations li:first-child p");
    let slip = &says.judged.explanations[0].slips[0];
    assert_eq!(first, format!("{} {}", slip.words, slip.mend));
    let rows = list(&bench, ".checked tbody tr");
    assert_eq!(rows.len(), says.judged.readings.len());
    for reading in &says.judged.readings {
        let row = rows
            .iter()
            .find(|row| row.starts_with(&reading.what))
            .unwrap();
        assert!(row.contains(&reading.read_text), "{row}");
        assert!(row.contains(reading.should_text.as_ref().unwrap()), "{row}");
        assert_eq!(row.contains("✓ right"), reading.mark == "right", "{row}");
        assert_eq!(
            row.contains("✗ not right"),
            reading.mark == "wrong",
            "{row}"
        );
    }
    assert!(browser.text("#verdict h3").contains("An invented pupil"));
    browser.click(".others summary");
    bench.is_accessible("a slip found");
    browser.cdp(
        "Emulation.setDeviceMetricsOverride",
        json!({ "width": 360, "height": 740, "deviceScaleFactor": 1, "mobile": false }),
    );
    assert_eq!(
        browser.run("return document.documentElement.scrollWidth"),
        360
    );
    bench.is_accessible("a slip found, at 360 px");
    bench.is_clean();
}

/// J. Middleton, *Practical Astrology* (1679) I.9: Regiomontanus' houses for 51°32′ on
/// 6 January 1677 at three in the afternoon, asked about as three in the morning.
#[test]
fn a_figure_from_print_is_traced_and_a_wrong_degree_refused_beside_its_field() {
    let bench = Bench::at(
        1440,
        900,
        &[
            ("when", "1677-01-06 03:00"),
            ("at", "51.5333,0"),
            ("clock", "sun"),
            ("calendar", "julian"),
            ("zone", "Europe/London"),
        ],
    );
    let browser = &bench.browser;
    open(&bench);
    correcting(&bench, || browser.write("#pupil-XI", "41 Aries\u{e007}"));
    let said = browser.text("#fault-correcting");
    assert!(said.contains("41 Aries"), "{said}");
    assert_eq!(
        browser.run(
            "return document.activeElement.id + document.activeElement.getAttribute('aria-invalid')"
        ),
        "pupil-XItrue"
    );
    bench.is_accessible("a degree refused");
    for (what, degree) in [
        ("midheaven", "13 Pisces"),
        ("XI", "21°16′ Aries"),
        ("XII", "12°31′ Gemini"),
        ("ascendant", "14°54′ Cancer"),
        ("II", "4°21′ Leo"),
        ("III", "21°18′ Leo"),
    ] {
        browser.write(&format!("#pupil-{what}"), degree);
    }
    // On the instrument nothing of it fits; as a figure of whatever making it does.
    correcting(&bench, || browser.keys("#correct", "\u{e007}"));
    let whole = |figure| {
        let mut moment = request(&[("when", "1677-01-06 03:00"), ("at", "51.5333,0")]);
        moment.clock = Some("sun".to_owned());
        moment.calendar = Some("julian".to_owned());
        moment.zone = Some("Europe/London".to_owned());
        corrected(&CorrectRequest {
            moment,
            read: given(&bench),
            figure,
        })
    };
    let as_read = whole(false);
    assert_eq!(
        browser.text("#verdict > .sentence"),
        as_read.judged.sentence
    );
    browser.click("#printed");
    correcting(&bench, || browser.keys("#correct", "\u{e007}"));
    let as_printed = whole(true);
    assert_eq!(
        browser.text("#verdict > .sentence"),
        as_printed.judged.sentence
    );
    let names: Vec<&str> = as_printed.judged.explanations[0]
        .slips
        .iter()
        .map(|slip| slip.name.as_str())
        .collect();
    assert_eq!(names, ["half-a-day", "houses-regiomontanus"]);
    let first = browser.text(".explanations li:first-child");
    for slip in &as_printed.judged.explanations[0].slips {
        assert!(first.contains(&slip.words), "{first}");
    }
    bench.is_accessible("a figure from print");
    // Nothing is not read.
    browser.click("#correct-clear");
    correcting(&bench, || browser.keys("#correct", "\u{e007}"));
    assert!(
        browser
            .text("#fault-correcting")
            .contains("nothing is read")
    );
}
