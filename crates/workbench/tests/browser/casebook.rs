//! The casebook, today and the figure on the page.

use desk::{Cabinet, FigureRequest};
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, request, texts};
use crate::webdriver::Browser;

const STATUS: &str = "#casebook [role=status]";
const FAULT: &str = "#casebook [role=alert]";

/// Does something with the casebook and waits until it says how that went.
fn said(browser: &Browser, act: impl FnOnce()) -> String {
    browser.run_with(
        "for (const at of arguments) document.querySelector(at).textContent = ''",
        &json!([STATUS, FAULT]),
    );
    act();
    let both = format!(
        "return document.querySelector('{STATUS}').textContent + document.querySelector('{FAULT}').textContent"
    );
    browser
        .wait(&format!("{both} || false"))
        .as_str()
        .unwrap()
        .to_owned()
}

/// The names in the list of cases, once it shows as many.
fn listed(browser: &Browser, count: usize) -> Vec<String> {
    browser.wait(&format!(
        "return document.querySelectorAll('.cases .take-up').length === {count}"
    ));
    texts(&browser.run(
        "return [...document.querySelectorAll('.cases .take-up b')].map((one) => one.textContent)",
    ))
}

#[test]
fn a_case_is_kept_found_edited_undone_carried_out_and_in_and_deleted() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.wait("return document.querySelector('#today-body').dataset.looked");
    assert!(browser.text("#today").contains("None is kept yet."));
    browser.click("#open-casebook");
    assert!(listed(browser, 0).is_empty());

    // Keep, with a reading of a pupil's.
    bench.asking(|browser| browser.write(".reads tr:first-child input", "29 Gemini\u{e007}"));
    let unnamed = said(browser, || browser.click("#keep-new"));
    assert_eq!(unnamed, "This case cannot be kept: a name is missing.");
    browser.write("#case-name", "Class example, invented");
    browser.write("#case-tags", "spring class, pupil");
    browser.write("#case-reader", "an invented pupil");
    browser.write("#case-figure", "Ascendant 28 Gemini <b>in print</b>");
    assert_eq!(
        said(browser, || browser.click("#keep-new")),
        "Kept as case 1."
    );
    assert_eq!(listed(browser, 1), ["Class example, invented"]);
    browser.wait("return document.querySelectorAll('#today li').length >= 2");
    let today = browser.text("#today");
    assert!(today.contains("1 read by an invented pupil"), "{today}");

    // Another, of a place that no plate at hand serves.
    bench.asking(|browser| browser.write("#place", "69.65,18.96\u{e007}"));
    browser.click("#put-back");
    browser.write("#case-name", "Far north, invented");
    assert_eq!(
        said(browser, || browser.click("#keep-new")),
        "Kept as case 2."
    );
    listed(browser, 2);
    browser.wait("return document.querySelector('#today').innerText.includes('69°39′ N')");
    bench.is_accessible("the casebook");

    // Find, by the beginning of a word; by a tag.
    browser.write("#book-words", "exam");
    assert_eq!(listed(browser, 1), ["Class example, invented"]);
    browser.write("#book-words", "\u{e003}");
    listed(browser, 2);
    browser.click(".tags button:first-child");
    assert_eq!(listed(browser, 1), ["Class example, invented"]);

    // Take it up: the page is at that case again, with its reading.
    bench.asking(|browser| browser.click(".cases .take-up"));
    assert!(
        browser
            .run("return document.querySelector('#place').value")
            .as_str()
            .unwrap()
            .starts_with("Santiago")
    );
    assert_eq!(
        browser.run("return document.querySelector('.reads input').value"),
        "29 Gemini"
    );

    assert_eq!(
        browser.run("return document.querySelector('#case-figure').value"),
        "Ascendant 28 Gemini <b>in print</b>"
    );

    // Mark it: then nothing of it waits. Undo, and it waits again.
    browser.write("#case-marked", "ascendant");
    browser.write("#case-mark", "two degrees too far");
    assert_eq!(
        said(browser, || browser.click("#keep-changes")),
        "The changes of case 1 are kept."
    );
    browser.wait("return document.querySelector('.marks').innerText.includes('two degrees')");
    browser.wait("return !document.querySelector('#today').innerText.includes('invented pupil')");
    assert_eq!(
        said(browser, || browser.click("#book-undo")),
        "Case 1, Class example, invented, is again as it was."
    );
    browser.wait("return document.querySelector('#today').innerText.includes('invented pupil')");

    // What waits is corrected from there, and the verdict kept as its mark.
    bench.asking(|browser| browser.click("#today .today-column:nth-child(3) li:last-child button"));
    assert_eq!(
        browser.run("return document.querySelector('#pupil-ascendant').value"),
        "29 Gemini"
    );
    browser.click("#correct");
    browser.wait("return document.querySelector('#verdict').innerText.length > 0");
    browser.click("#keep-verdict");
    browser.wait("return !document.querySelector('#today').innerText.includes('invented pupil')");
    browser.wait("return document.querySelector('.marks').innerText.startsWith('the readings: ')");
    said(browser, || browser.click("#book-undo"));

    // Out.
    browser.run(
        "window.written = []; const make = URL.createObjectURL; \
         URL.createObjectURL = (blob) => { blob.text().then((text) => window.written.push(text)); return make.call(URL, blob); }",
    );
    assert_eq!(
        said(browser, || browser.click("#export-csv")),
        "2 cases written. Who read, remarks and kept figures are in the JSON alone."
    );
    let csv = browser.wait("return window.written[0]");
    let csv = csv.as_str().unwrap();
    assert!(csv.starts_with("name,when,at,"), "{csv}");

    // Gone for good, after being asked.
    browser.click(".cases li:last-child > button:nth-child(2)");
    bench.is_accessible("a deletion asked about");
    assert_eq!(
        said(browser, || browser
            .click(".cases .row:not([hidden]) .delete-for-good")),
        "Case 1, Class example, invented, is deleted."
    );
    browser.write("#book-words", "\u{e003}");
    assert_eq!(listed(browser, 0).len(), 0, "its tag is gone with it");
    browser.write("#book-words", "north");
    assert_eq!(listed(browser, 1), ["Far north, invented"]);

    // In: first refused for a bad row, then the good ones alone.
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("cases.csv");
    let bad = format!("{csv}Wrong,2024-02-30 10:00,\"51.5,0\",,,,,,,,,,,\n");
    std::fs::write(&file, bad).unwrap();
    browser.write("#book-words", "\u{e003}");
    let refused = said(browser, || {
        browser.keys("#book-file", file.to_str().unwrap());
    });
    assert_eq!(refused, "1 of 3 rows cannot be kept, and none was.");
    assert!(browser.text(".bad-rows").starts_with("line 4: "));
    bench.is_accessible("a row refused");
    assert_eq!(
        said(browser, || browser.click("#good-only")),
        "2 cases kept."
    );
    listed(browser, 3);
}

#[test]
fn each_case_has_its_readings_its_verdict_and_what_is_being_written() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.wait("return document.querySelector('#today-body').dataset.looked");
    browser.click("#open-casebook");
    let read = "return document.querySelector('.reads input').value";
    for (name, degree) in [("One", "29 Gemini\u{e007}"), ("Other", "4 Cancer\u{e007}")] {
        bench.asking(|browser| browser.write(".reads tr:first-child input", degree));
        browser.write("#case-name", name);
        browser.write("#case-reader", name);
        said(browser, || browser.click("#keep-new"));
    }
    assert_eq!(
        said(browser, || browser.click("#keep-new")),
        "Kept already, as case 2."
    );
    assert_eq!(listed(browser, 2), ["Other", "One"]);

    // At once: whatever changes in the book makes the lists anew.
    let press = |selector: &str| {
        browser.run_with(
            "document.querySelector(arguments[0]).click()",
            &json!([selector]),
        );
    };
    bench.asking(|_| press(".cases li:last-child .take-up"));
    assert_eq!(browser.run(read), "29 Gemini");
    browser.wait(
        "return document.querySelectorAll('#today .today-column:nth-child(3) li').length === 2",
    );
    let waiting = |child: &str| format!("#today .today-column:nth-child(3) li:{child} button");
    let offered = "return !document.querySelector('#keep-verdict').closest('p').hidden";
    bench.asking(|_| press(&waiting("last-child")));
    browser.click("#correct");
    browser.wait(offered);
    bench.asking(|_| press(&waiting("first-child")));
    assert_eq!(browser.run(read), "4 Cancer");
    assert_eq!(
        browser.run(offered),
        false,
        "a verdict on one is none on the other"
    );

    browser.write("#case-note", "being written");
    let deleted = said(browser, || {
        press(".cases li:last-child .delete-for-good");
    });
    assert_eq!(deleted, "Case 1, One, is deleted.");
    assert_eq!(
        browser.run("return document.querySelector('#case-note').value"),
        "being written"
    );
    bench.asking(|browser| browser.write("#time", "10:20\u{e007}"));
    assert!(
        browser
            .text("#case-elsewhere")
            .contains("kept for 2024-05-14 09:20")
    );
}

#[test]
fn the_figure_is_drawn_and_told_as_the_desk_has_it() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#figure .fold");
    browser.wait("return document.querySelector('.drawn svg')");
    let figure = FigureRequest {
        cast: request(&DEMONSTRATION),
        ..FigureRequest::default()
    };
    let answer = desk::figure(&figure, &Cabinet::built_in(), None).unwrap();
    let shown = texts(&browser.run(
        "return [...document.querySelectorAll('.figure-tables table:first-of-type tbody tr')].slice(0, 7) \
             .map((row) => row.cells[1].textContent)",
    ));
    let places: Vec<String> = answer
        .exact
        .bodies
        .iter()
        .map(|body| {
            desk::words::Zodiacal(desk::words::Angle::from_deg(body.longitude_deg)).to_string()
        })
        .collect();
    assert_eq!(shown, places);
    let described = browser.run("return document.querySelector('.drawn desc').textContent");
    assert!(described.as_str().unwrap().contains(
        "Mars 10°29′ Aries, 1°15′ south of the ecliptic, in house X, above the horizon."
    ));
    bench.is_accessible("the figure");

    // As read, blank, square, then with the outer planets and by other terms.
    let drawn = || browser.run("return document.querySelector('#figure').dataset.shown");
    let again = |act: &dyn Fn()| {
        let before = drawn();
        act();
        browser.wait(&format!(
            "return document.querySelector('#figure').dataset.shown !== {before}"
        ));
    };
    let says = |text: &str| {
        let drawn = browser.run("return document.querySelector('.drawn').textContent");
        drawn.as_str().unwrap().contains(text)
    };
    assert!(says("houses by alcabitius"));
    again(&|| browser.choose("#figure-filled", "as-read"));
    assert!(says("read by turning on"));
    again(&|| browser.choose("#figure-filled", "blank"));
    assert!(says("to be filled in"));
    again(&|| browser.choose("#figure-filled", "calculated"));
    let circles = "return document.querySelectorAll('.drawn circle').length";
    let on_the_brass = browser.run(circles);
    again(&|| browser.choose("#figure-form", "square"));
    assert_ne!(browser.run(circles), on_the_brass);
    again(&|| browser.click("#figure-outer"));
    assert!(browser.text(".figure-tables").contains("Pluto"));
    browser.click("#figure .figure-rules summary");
    again(&|| browser.choose("#rule-terms", "ptolemy"));
    assert!(
        browser
            .run("return document.querySelector('.sources').textContent")
            .as_str()
            .unwrap()
            .contains("ptolemy")
    );
    // An author's rules take the place of those chosen one by one.
    again(&|| browser.choose("#rule-author", "alqabisi"));
    let taken = browser.run("return document.querySelector('#rule-terms').value");
    assert_eq!(taken, "egyptian");
    // A leaf is told as the desk has it, and follows the case.
    browser.click("[data-leaf='degrees'] summary");
    browser.wait("return document.querySelector('[data-leaf=\"degrees\"] tbody td')");
    let leaf = browser.run("return document.querySelector('[data-leaf=\"degrees\"]').textContent");
    assert!(leaf.as_str().unwrap().contains("mansion from 20°06′ Aries"));
    again(&|| browser.choose("#rule-author", "none"));
    browser.click("[data-leaf='degrees'] summary");
    // It is saved as it is drawn.
    browser.run(
        "window.saved = []; const make = URL.createObjectURL; \
         URL.createObjectURL = (blob) => { blob.slice(0, 5).text().then((head) => window.saved.push(head)); \
             return make.call(URL, blob); }",
    );
    for (format, head) in [("svg", "<svg "), ("pdf", "%PDF-"), ("png", "PNG")] {
        browser.click(&format!("#save-{format}"));
        browser.wait(&format!("return window.saved.at(-1)?.includes('{head}')"));
    }
    // Years before Christ are a sign longer; what is taken from their dates is not.
    again(&|| bench.asking(|browser| browser.write("#date", "-0500-05-14\u{e007}")));
    let words = browser.text(".figure-words");
    assert!(
        words.contains("the fourth of the day, 08:19 to 09:30,"),
        "{words}"
    );
    again(&|| bench.asking(|browser| browser.write("#date", "2024-05-14\u{e007}")));
    // It follows the case, and says where there is none.
    again(&|| bench.asking(|browser| browser.write("#time", "10:20\u{e007}")));
    assert!(
        browser
            .run("return document.querySelector('.drawn title').textContent")
            .as_str()
            .unwrap()
            .contains("10:20")
    );
    bench.is_clean();
    again(&|| bench.asking(|browser| browser.write("#place", "78.2,15.6\u{e007}")));
    again(&|| bench.asking(|browser| browser.choose("#houses", "placidus")));
    let why = browser.text("#figure [role=alert]");
    assert!(why.contains("lacidus has no answer"), "{why}");
    bench.is_accessible("no figure");
}

#[test]
fn what_was_read_is_drawn_printed_and_saved_beside_what_is_calculated_or_alone() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let filled = "return document.querySelector('#figure-filled').value";
    let drawn = "return document.querySelector('.drawn').textContent";
    browser.click("#figure .fold");
    browser.wait("return document.querySelector('.drawn svg')");
    assert_eq!(browser.run(filled), "calculated");
    // An hour that was set is no reading.
    browser.run("document.querySelector('#readings details').open = true");
    bench.asking(|browser| browser.write("#own-local-time", "6:49\u{e007}"));
    assert_eq!(browser.run(filled), "calculated");
    bench.asking(|browser| browser.write(".reads tr:first-child input", "11 Cancer\u{e007}"));
    browser.wait(&format!("{drawn}.includes('and by eye')"));
    assert_eq!(browser.run(filled), "both");
    let both = browser.run(drawn);
    let both = both.as_str().unwrap();
    assert!(
        both.contains("11°00′ Cancer") && both.contains("27°54′ Gemini"),
        "{both}"
    );
    // What is saved is what is drawn, under a name that says so.
    browser.run(
        "window.saved = {}; const make = URL.createObjectURL; let last = null; \
         URL.createObjectURL = (blob) => { last = blob; return make.call(URL, blob); }; \
         HTMLAnchorElement.prototype.click = function () { last.text().then((text) => { window.saved[this.download] = text; }); };",
    );
    browser.click("#save-svg");
    browser.wait("return Object.keys(window.saved).length === 1");
    browser.choose("#figure-filled", "as-read");
    browser.wait(&format!(
        "return !({}).includes('27°54′ Gemini')",
        &drawn[7..]
    ));
    assert!(
        browser
            .run(drawn)
            .as_str()
            .unwrap()
            .contains("11°00′ Cancer")
    );
    browser.click("#save-svg");
    browser.wait("return Object.keys(window.saved).length === 2");
    let saved = browser.run(
        "return Object.entries(window.saved).map(([name, text]) => [name, /<desc[^>]*>([^]*?)<\\/desc>/.exec(text)[1]])",
    );
    for (number, (name, calculated)) in [("both.svg", true), ("as-read.svg", false)]
        .iter()
        .enumerate()
    {
        let [file, text] = [0, 1].map(|one| saved[number][one].as_str().unwrap().to_owned());
        assert!(file.ends_with(name), "{file}");
        assert!(text.contains("11°00′ Cancer"), "{file}: {text}");
        assert_eq!(
            text.contains("27°54′ Gemini"),
            *calculated,
            "{file}: {text}"
        );
    }
    // Printed it is alone on its sheet.
    browser.run("window.print = () => {}");
    browser.click("#print-figure");
    browser.cdp(
        "Emulation.setEmulatedMedia",
        serde_json::json!({ "media": "print" }),
    );
    for (part, seen) in [
        (".drawn svg", true),
        (".figure-words", true),
        (".set-facts", false),
        ("#figure-form", false),
        (".masthead", false),
    ] {
        let is = browser.run_with(
            "return document.querySelector(arguments[0]).getClientRects().length > 0",
            &serde_json::json!([part]),
        );
        assert_eq!(is, seen, "{part}");
    }
    browser.cdp(
        "Emulation.setEmulatedMedia",
        serde_json::json!({ "media": "" }),
    );
    browser.run("dispatchEvent(new Event('afterprint'))");
    // What was chosen stays.
    bench.asking(|browser| browser.write("#time", "09:21\u{e007}"));
    assert_eq!(browser.run(filled), "as-read");
    bench.is_accessible("the figure as read");
    bench.is_clean();
}

#[test]
fn narrow_the_leaves_do_not_spill() {
    let bench = Bench::at(360, 740, &DEMONSTRATION);
    let browser = &bench.browser;
    for leaf in [
        "figure",
        "times",
        "pen",
        "correcting",
        "teaching",
        "workshop",
        "casebook",
    ] {
        browser.click(&format!("#{leaf} .fold"));
    }
    browser.click("#class-example");
    browser.click("#examine-example");
    browser.click("#ask-compare");
    browser.wait("return document.querySelector('#compared svg')");
    browser.wait("return document.querySelector('#work-with')");
    browser.wait("return document.querySelector('.drawn svg')");
    assert_eq!(
        browser.run("return document.documentElement.scrollWidth"),
        360
    );
    bench.is_accessible("leaves at 360 px");
}
