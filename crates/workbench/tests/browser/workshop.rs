//! The workshop on the page.

use desk::{Cabinet, WithInstrument};
use patience::Patience;
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION};

#[test]
fn parts_are_looked_at_and_their_files_made() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    let shown = || browser.run("return document.querySelector('#workshop').dataset.shown");
    let again = |act: &dyn Fn()| {
        let before = shown();
        act();
        browser.wait(&format!(
            "return document.querySelector('#workshop').dataset.shown !== {before}"
        ));
    };
    browser.wait("return document.querySelector('.glass-sheet svg')");
    assert!(browser.text("#piece-told").contains("one piece"));
    bench.is_accessible("the workshop");
    // Nearer, by button and by key, with the middle in its place.
    let times = || {
        let got =
            browser.run("return Number(document.querySelector('.glass-bench').dataset.times)");
        got.as_f64().unwrap()
    };
    let whole = times();
    browser.click(".glass .row button[aria-label=Nearer]");
    assert!((times() / whole - 1.5).abs() < 1e-9);
    browser.keys(".glass-bench", "+");
    assert!((times() / whole - 2.25).abs() < 1e-9);
    let middle = browser.run(
        "const on = document.querySelector('.glass-bench').getBoundingClientRect(); \
         const of = document.querySelector('.glass-sheet').getBoundingClientRect(); \
         return (on.left + on.width / 2 - of.left) / of.width",
    );
    assert!((middle.as_f64().unwrap() - 0.5).abs() < 0.02, "{middle}");
    // True size, by the browser's own millimetres.
    browser.click(".glass .row button:nth-child(2)");
    let broad = browser.run(
        "return document.querySelector('.glass-sheet').getBoundingClientRect().width * 25.4 / 96",
    );
    let class = WithInstrument::Named("class instrument".to_owned());
    let rete = ["rete".to_owned()];
    let pictures = desk::part_pictures(
        Some(&class),
        &[],
        &rete,
        &Cabinet::built_in(),
        Patience::ENDLESS,
    )
    .unwrap();
    let off_mm = broad.as_f64().unwrap() - pictures[0].width_mm;
    // The browser says the bench's breadth in whole pixels.
    assert!(off_mm.abs() < 25.4 / 96.0, "{off_mm}");

    // Plates of other places, each a piece of its own.
    again(&|| browser.choose("#part", "plates"));
    again(&|| browser.choose("#make-plates", "Oxford, United Kingdom; 35.5"));
    let left_out = browser.run("return document.querySelector('#left-out').textContent");
    let left_out = left_out.as_str().unwrap();
    assert!(left_out.contains("_"), "no key: {left_out}");
    let pieces = browser.text("#pieces");
    assert!(pieces.contains("51") && pieces.contains("35"), "{pieces}");

    // The files, in one archive.
    browser.run(
        "const make = URL.createObjectURL; \
         URL.createObjectURL = (blob) => { blob.arrayBuffer().then((bytes) => { \
             window.archive = new TextDecoder('latin1').decode(bytes); }); return make.call(URL, blob); }",
    );
    browser.click("#whole-set");
    // By rates of one's own.
    browser.run("for (const one of document.querySelectorAll('.making details')) one.open = true");
    browser.choose("#rates-of", "copper");
    for (id, value) in [
        ("batch", "3"),
        ("kilogram", "12.5"),
        ("cut", "200"),
        ("hour", "60"),
    ] {
        browser.run(&format!(
            "document.querySelector('#rates-{id}').value = '{value}'"
        ));
    }
    browser.click("#make-files");
    let archive = browser.wait("return window.archive");
    let archive = archive.as_str().unwrap();
    assert!(archive.starts_with("PK"), "no archive");
    for name in ["manifest.json", "sheet.txt", "drawings.pdf", ".dxf", ".svg"] {
        assert!(archive.contains(name), "{name}");
    }
    for told in ["copper", "\"batch\": 3"] {
        assert!(archive.contains(told), "{told}");
    }
    bench.is_clean();

    // What cannot be cut is said, and where; a specification is refused by its own words.
    let thin = "version = 1\nname = \"thin\"\ndiameter_mm = 60\nhemisphere = \"north\"\nobliquity_deg = 23.44\nplates_deg = [42]\n[parts]\nleast_width_mm = 5.0\n";
    again(&|| browser.choose("#part", "rete"));
    again(&|| {
        browser.run_with(
            "const one = document.querySelector('#specification'); one.value = arguments[0]; \
             one.dispatchEvent(new Event('change'));",
            &json!([thin]),
        );
    });
    let flaw = browser.text("#workshop [role=alert]");
    assert!(
        flaw.contains("cannot be made") || flaw.contains("least_width"),
        "{flaw}"
    );
    again(&|| browser.choose("#specification", "diameter = big"));
    let refused = browser.text("#workshop [role=alert]");
    assert!(refused.contains("diameter"), "{refused}");
    bench.is_accessible("a specification refused");
}

#[test]
fn towns_are_told_their_plates_and_a_new_one_is_looked_at() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('.glass-sheet svg')");
    browser.run("document.querySelector('#plate-towns').value = 'Santiago de Compostela, Galicia, Spain\\n69.65,18.96'");
    browser.click("#ask-plates");
    browser.wait("return document.querySelector('#plates-found table')");
    let found = browser.text("#plates-found");
    assert!(
        found.contains("69°39′ N") && found.contains("a plate of its own"),
        "{found}"
    );
    bench.is_accessible("plates for towns");
    // Its card, a page to print.
    browser.run(
        "const make = URL.createObjectURL; \
         URL.createObjectURL = (blob) => { blob.slice(0, 5).text().then((head) => { window.card = head; }); \
             return make.call(URL, blob); }",
    );
    browser.click("#plates-found .card");
    assert_eq!(browser.wait("return window.card"), "%PDF-");
    browser.click("#plates-found td button:not(.card)");
    browser.wait("return document.querySelector('#piece-told').textContent.includes('69')");
    bench.is_clean();
    browser.run("document.querySelector('#plate-towns').value = 'Nowhereton'");
    browser.click("#ask-plates");
    browser.wait("return document.querySelector('.town-plates [role=alert]').textContent.includes('Nowhereton')");
}

#[test]
fn an_instrument_is_examined() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('.glass-sheet svg')");
    let answers = "return Number(document.querySelector('#examined').dataset.answers ?? 0)";
    browser.click("#examine-example");
    browser.wait(&format!("{answers} === 1"));
    let request = desk::ExamineRequest {
        measurements: desk::EXAMPLE_MEASUREMENTS.to_owned(),
        ..desk::ExamineRequest::default()
    };
    let answer = desk::examine(&request, &Cabinet::built_in()).unwrap();
    let text = browser.text("#examined");
    for sentence in &answer.sentences {
        assert!(text.contains(sentence), "{sentence}: {text}");
    }
    bench.is_accessible("an instrument examined");
    // What was found is looked at as an instrument.
    let before = browser.run("return document.querySelector('#workshop').dataset.shown");
    browser.click("#work-with");
    browser.wait(&format!(
        "return document.querySelector('#workshop').dataset.shown !== {before}"
    ));
    let taken = browser.run("return document.querySelector('#specification').value");
    assert_eq!(taken.as_str(), answer.specification.as_deref());
    bench.is_clean();
    // Held against what it was not, and then what is none.
    browser.click("#examine-against");
    browser.click("#examine");
    browser.wait(&format!("{answers} === 2"));
    let text = browser.text("#examined");
    assert!(text.contains("Against the class instrument"), "{text}");
    browser.run("document.querySelector('#measurements').value = 'version = 2'");
    browser.click("#examine");
    browser.wait(&format!("{answers} === 3"));
    let fault = "return document.querySelector('.examining > .fault').textContent";
    let fault = browser.run(fault);
    assert!(fault.as_str().unwrap().contains("version = 1"), "{fault}");
}
