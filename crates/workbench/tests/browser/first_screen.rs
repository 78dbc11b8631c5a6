//! The first screen: fields that stay where they are, places as they are meant, clocks of
//! every kind, and what is doubtful beside the sum.

use desk::CastRequest;
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, cast, request, texts};

/// Fields and buttons that lie over one another or touch, and fields whose value is cut off.
const CROWDED: &str = "
    const all = [...document.querySelectorAll('main :is(button, input, select, textarea)')]
        .filter((one) => one.checkVisibility() && !one.closest('.at-hand, #walk'));
    const boxes = all.map((one) => one.getBoundingClientRect());
    const name = (one) => one.id || one.textContent;
    const found = [];
    const isField = (one) => one.matches('input:not([type=checkbox]), select, textarea');
    for (let i = 0; i < all.length; i += 1) {
        if (isField(all[i]) && all[i].matches('.case input') && all[i].scrollWidth > all[i].clientWidth) {
            found.push(`${name(all[i])} is cut off`);
        }
        for (let j = i + 1; j < all.length; j += 1) {
            const wide = Math.min(boxes[i].right, boxes[j].right) - Math.max(boxes[i].left, boxes[j].left);
            const high = Math.min(boxes[i].bottom, boxes[j].bottom) - Math.max(boxes[i].top, boxes[j].top);
            const apart = isField(all[i]) === isField(all[j]) ? 0 : 3;
            if (wide > 0.5 && high > 0.5 - apart) found.push(`${name(all[i])} over ${name(all[j])}`);
        }
    }
    return found;
";

#[test]
fn no_button_lies_over_a_field_and_no_value_is_cut_off() {
    let mut case = DEMONSTRATION;
    case[0] = ("when", "2024-05-14 09:20:30");
    let bench = Bench::at(1440, 900, &case);
    let browser = &bench.browser;
    browser.click("#open-settings");
    for leaf in ["times", "correcting", "teaching", "casebook"] {
        browser.run(&format!("document.querySelector('#{leaf} .fold').click()"));
    }
    browser.run("for (const one of document.querySelectorAll('details')) one.open = true");
    for (width, height) in [(1440, 900), (1000, 800), (768, 1024), (360, 740)] {
        browser.cdp(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
        );
        assert_eq!(browser.run(CROWDED), json!([]), "{width}");
    }
}

/// Where the boxes of a form stand, from the first of them.
const BOXES: &str = "
    const boxes = [...document.querySelectorAll(arguments[0])].map((one) => one.getBoundingClientRect());
    return JSON.stringify(boxes.map(({ left, top, width }) => [left, top - boxes[0].top, width]));
";

#[test]
fn no_box_moves_for_what_is_wrong_with_another() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let line = json!(["#case-form > .fields :is(input, select, #now)"]);
    let before = browser.run_with(BOXES, &line);
    for (field, wrong) in [
        ("#date", "2024-02-31"),
        ("#time", "27:00"),
        ("#place", "Nowhereton"),
    ] {
        let right = browser.run_with(
            "return document.querySelector(arguments[0]).value",
            &json!([field]),
        );
        bench.asking(|browser| browser.write(field, &format!("{wrong}\u{e007}")));
        let refused = "return document.querySelectorAll('#case-form .fault').length";
        assert_eq!(browser.run(refused), 1, "{wrong}");
        assert_eq!(browser.run_with(BOXES, &line), before, "{wrong}");
        bench.asking(|browser| {
            browser.write(field, &format!("{}\u{e007}", right.as_str().unwrap()))
        });
    }
    browser.click("#correcting .fold");
    let readings = json!([".pupil input"]);
    let before = browser.run_with(BOXES, &readings);
    browser.write("#pupil-ascendant", "41 Gemini\u{e007}");
    browser.wait("return document.querySelector('#fault-correcting').textContent.includes('41')");
    assert_eq!(browser.run_with(BOXES, &readings), before);
    bench.is_accessible("a refused reading");
}

#[test]
fn enter_takes_the_town_on_top_and_says_which() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    // As fast as the keys come, before any list is there.
    bench.asking(|browser| browser.write("#place", "Sevilla\u{e007}"));
    let place = bench
        .browser
        .run("return document.querySelector('#place').value");
    assert_eq!(place, "Sevilla, Andalusia, Spain");
    let taken = bench.browser.text("#case-form .taken");
    assert_eq!(taken, "37°23′ N, 5°58′ W");
    // By Tab nothing is chosen: the many are asked about.
    bench.asking(|browser| browser.write("#place", "Toledo\t"));
    assert!(bench.browser.text("#fault-at").contains("Toledo"));
    bench.asking(|browser| browser.write("#place", "Bombay, Maharashtra, India\t"));
    let taken = bench.browser.text("#case-form .taken");
    assert!(
        taken.starts_with("taken for Mumbai, Maharashtra, India"),
        "{taken}"
    );
}

#[test]
fn suggestions_follow_the_home_place_and_say_their_reason() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#open-settings");
    browser.write("#home", "Santiago de Compostela, Galicia, Spain\u{e007}");
    browser
        .wait("return document.querySelector('#settings [role=status]').textContent === 'Kept.'");
    let suggested = |text: &str| {
        browser.write("#place", text);
        browser.wait("return document.querySelectorAll('#place-list li').length > 3");
        let list = texts(&browser.run(
            "return [...document.querySelectorAll('#place-list li')].map((one) => one.textContent)",
        ));
        browser.keys("#place", "\u{e00c}");
        list
    };
    assert_eq!(
        suggested("Sant")[0],
        "Santiago de Compostela, Galicia, Spain"
    );
    assert_eq!(suggested("Toled")[0], "Toledo, Castille-La Mancha, Spain");
    let york = suggested("New Yo");
    assert_eq!(york[0], "New York City, New York, United States");
    let jakarta = york.iter().find(|one| one.starts_with("Jakarta")).unwrap();
    assert!(
        jakarta.contains("is or was also called New York"),
        "{jakarta}"
    );
}

#[test]
fn offsets_and_the_old_reckonings_are_on_the_page() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let hour = |clock: &str| {
        let asked = CastRequest {
            clock: Some(clock.to_owned()),
            ..request(&DEMONSTRATION)
        };
        let answer = desk::cast(&asked, &desk::Cabinet::built_in(), None).unwrap();
        answer.set.unwrap().hour
    };
    let shown = || browser.text(".set-facts > div:nth-child(3) strong");
    browser.click("#case-form .further summary");
    let kinds = texts(
        &browser
            .run("return [...document.querySelectorAll('#clock option')].map((one) => one.value)"),
    );
    for clock in desk::clocks() {
        let value = if clock.name == "zone" {
            ""
        } else {
            &clock.name
        };
        assert!(kinds.iter().any(|one| one == value), "{value}");
    }
    bench.asking(|browser| browser.choose("#clock", "from-sunrise"));
    assert_eq!(shown(), hour("from-sunrise"));
    browser.choose("#clock", "offset");
    bench.asking(|browser| browser.write("#offset", "+01:00\u{e007}"));
    assert_eq!(shown(), hour("+01:00"));
    assert!(browser.text("#sum, .sum").contains("+01:00"));
    bench.is_accessible("an offset");
    // And where one would write it first, as a zone.
    bench.asking(|browser| browser.choose("#clock", ""));
    bench.asking(|browser| browser.write("#zone", "-6:00\u{e007}"));
    assert_eq!(shown(), hour("-06:00"));
    bench.asking(|browser| browser.write("#offset", "sundial\u{e007}"));
    assert!(browser.text("#fault-clock").contains("sundial"));
}

#[test]
fn what_is_doubtful_of_a_clock_stands_with_the_sum() {
    for (when, place) in [
        ("1897-03-02 14:30", "Kraków, Lesser Poland, Poland"),
        ("1930-07-01 12:00", "Amsterdam, North Holland, Netherlands"),
    ] {
        let case = [("when", when), ("at", place), ("with", "class instrument")];
        let bench = Bench::at(1440, 900, &case);
        let notes = cast(&case).moment.when.notes;
        if place.starts_with("Kraków") {
            assert!(!notes.is_empty());
        }
        for (number, note) in notes.iter().enumerate() {
            let selector = format!(".notes p:nth-child({})", number + 1);
            assert!(bench.browser.text(&selector).contains(&note.text[1..]));
            let [_, top, _, height] = bench.area(&selector);
            assert!(top + height <= 900.0, "{place}: {top} {height}");
        }
    }
}

#[test]
fn the_outer_planets_are_in_other_times_only_if_they_are_chosen() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#times .fold");
    let told = || {
        browser.write("#until", "10:00");
        browser.click("#uncertain-ask");
        browser.wait("return document.querySelector('#uncertain-found').textContent.includes('Sign of Saturn')");
        let told = browser.run("return document.querySelector('#uncertain-found').textContent");
        told.as_str().unwrap().to_owned()
    };
    assert!(!told().contains("Pluto"));
    browser.click("#figure .fold");
    browser.click("#figure-outer");
    bench.asking(|browser| browser.write("#time", "09:21\u{e007}"));
    assert!(told().contains("Pluto"));
}

#[test]
fn a_class_that_is_being_written_stays_through_a_reload() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#teaching .fold");
    browser.click("#class-example");
    browser.write("#class-name", "Thursday class");
    bench.go(&DEMONSTRATION);
    browser.click("#teaching .fold");
    assert_eq!(
        browser.run("return document.querySelector('#class-name').value"),
        "Thursday class"
    );
    assert_eq!(
        browser.run("return document.querySelectorAll('#pupils li').length"),
        4
    );
    assert_eq!(
        browser.run("return document.querySelector('#pupils li:nth-child(3) input').value"),
        "Clodio Example"
    );
}

#[test]
fn the_house_methods_that_an_astrolabe_shows_come_first() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#case-form .further summary");
    let values = "return [...document.querySelectorAll('#houses option')].map((one) => one.value)";
    let shown = desk::methods()
        .into_iter()
        .filter(|one| one.on_the_brass.is_some());
    let shown: Vec<&str> = shown.map(|one| one.name).chain(["more"]).collect();
    assert_eq!(browser.run(values), json!(shown));
    // Each says by which procedure it is read, here and among the settings.
    browser.click("#open-settings");
    for (list, first) in [("#houses", 0), ("#usual-houses", 1)] {
        let said = browser.run_with(
            "return [...document.querySelectorAll(`${arguments[0]} option`)].map((one) => one.textContent)",
            &json!([list]),
        );
        let said = texts(&said);
        assert_eq!(said.len(), first + shown.len(), "{list}");
        for (told, method) in said[first..].iter().zip(desk::methods()) {
            let how = method.on_the_brass.unwrap_or("made for calculation");
            assert!(told.contains(how), "{list}: {told}");
        }
    }
    browser.choose("#houses", "more");
    assert_eq!(texts(&browser.run(values)).len(), desk::methods().len());
    bench.asking(|browser| browser.choose("#houses", "koch"));
    assert!(browser.text("#why-body").contains("koch"));
    bench.is_clean();
}
