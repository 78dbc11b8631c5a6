//! A specification by its fields: filled in, its picture and its text follow; written in the
//! text, its fields follow; what is wrong stands at its field and its line.

use casebook::CabinetFolder;
use desk::{SpecificationRequest, specification_form};
use serde_json::{Value, json};

use crate::bench::{Bench, DEMONSTRATION};

/// Does something to form or text and waits until the desk has said what it comes to.
fn following(bench: &Bench, act: impl FnOnce()) {
    let answers = "return Number(document.querySelector('.spec-form').dataset.answers)";
    let before = bench.browser.run(answers).as_i64().unwrap();
    act();
    bench.browser.wait(&format!("{answers} > {before}"));
}

fn text(bench: &Bench) -> String {
    let text = bench
        .browser
        .run("return document.querySelector('#specification').value");
    text.as_str().unwrap().to_owned()
}

/// What the text says of a field.
fn stated(bench: &Bench, key: &str) -> Value {
    let answer = specification_form(&SpecificationRequest {
        text: text(bench),
        set: Vec::new(),
    });
    assert_eq!(answer.faults, []);
    let mut fields = answer.groups.iter().flat_map(|group| &group.fields);
    let field = fields.find(|field| field.key == key).unwrap();
    serde_json::to_value(&field.stated).unwrap()
}

/// Waits until a side of what the text says is drawn.
fn drawn(bench: &Bench, side: &str) {
    bench.browser.wait(&format!(
        "const drawn = document.querySelector('.spec-drawn .own-front'); \
         return drawn.dataset.drawn === document.querySelector('#specification').value \
             && drawn.querySelector('svg') && drawn.dataset.side === '{side}'"
    ));
}

/// The words of a field's faults.
fn faults(bench: &Bench, field: &str) -> String {
    bench.browser.text(&format!("#field-{field}-faults"))
}

/// Presses something that the drawing at the top of a narrow window might hide.
fn press(bench: &Bench, selector: &str) {
    bench.browser.run_with(
        "document.querySelector(arguments[0]).scrollIntoView({ block: 'center' })",
        &json!([selector]),
    );
    bench.browser.click(selector);
}

fn opened(width: u32, height: u32) -> Bench {
    let bench = Bench::at(width, height, &DEMONSTRATION);
    bench.browser.click("#workshop .fold");
    bench
        .browser
        .wait("return document.querySelector('.glass-sheet svg')");
    following(&bench, || bench.browser.click("#spec-own > summary"));
    bench
}

fn open_all(bench: &Bench) {
    bench
        .browser
        .run("for (const one of document.querySelectorAll('.spec-group')) one.open = true");
}

fn by_fields_and_by_text(width: u32, height: u32) {
    let bench = opened(width, height);
    let browser = &bench.browser;
    // It begins with the instrument in hand.
    assert_eq!(stated(&bench, "name"), "class instrument");
    drawn(&bench, "front");
    assert_eq!(
        browser.run("return document.documentElement.scrollWidth"),
        width
    );
    bench.is_accessible("a specification by its fields");
    open_all(&bench);
    bench.is_accessible("all of its fields");

    // Every field that the desk names has its control.
    let all = specification_form(&SpecificationRequest {
        text: text(&bench),
        set: Vec::new(),
    });
    let keys: Vec<String> = all
        .groups
        .iter()
        .flat_map(|group| group.fields.iter().map(|field| field.key.clone()))
        .collect();
    assert!(keys.len() > 55);
    assert_eq!(
        browser.run(
            "return [...document.querySelectorAll('.spec-field')].map((one) => one.dataset.key)"
        ),
        json!(keys)
    );

    // By fields: a text, a length in another unit, a list, one of several, yes or no.
    following(&bench, || browser.write("#field-name", "my own piece"));
    following(&bench, || browser.write("#field-diameter_mm", "9.6 cm"));
    following(&bench, || browser.write("#field-plates_deg", "41°30′, 45"));
    following(&bench, || browser.choose("#field-parts-tracery", "lancet"));
    following(&bench, || {
        press(&bench, "[name=field-limb_hours][value=twenty-four]")
    });
    following(&bench, || press(&bench, "#field-twilight_line"));
    for (key, value) in [
        ("name", json!("my own piece")),
        ("diameter_mm", json!("96")),
        ("plates_deg", json!("41.5, 45")),
        ("parts.tracery", json!("lancet")),
        ("limb_hours", json!("twenty-four")),
        ("twilight_line", json!(false)),
    ] {
        assert_eq!(stated(&bench, key), value, "{key}");
    }
    drawn(&bench, "front");
    // What the back bears turns the drawing over.
    following(&bench, || press(&bench, "#field-parts-sine_quadrant"));
    drawn(&bench, "back");
    assert_eq!(stated(&bench, "parts.sine_quadrant"), true);
    press(&bench, "#spec-front");
    drawn(&bench, "front");
    // And what is as usual again is no longer in the text.
    following(&bench, || {
        press(&bench, "[data-key=\"parts.tracery\"] .to-usual")
    });
    assert!(!text(&bench).contains("tracery"));
    assert_eq!(
        browser.run("return document.querySelector('#field-parts-tracery').value"),
        "plain",
        "as a piece of 96 mm has it"
    );

    // A wrong value: at its field and at its line, and the rest is drawn all the same.
    following(&bench, || browser.write("#field-diameter_mm", "broad"));
    assert!(faults(&bench, "diameter_mm").contains("30 to 1000 would do"));
    let line = text(&bench)
        .lines()
        .position(|line| line == "diameter_mm = \"broad\"")
        .unwrap()
        + 1;
    assert!(
        browser
            .text(".text-faults")
            .contains(&format!("line {line}"))
    );
    assert_eq!(
        browser.run("return document.querySelector('.text-gutter .wrong').textContent"),
        line.to_string()
    );
    assert_eq!(
        browser.run("return document.querySelector('#spec-keep').disabled"),
        true
    );
    bench.is_accessible("a wrong value");
    following(&bench, || browser.write("#field-diameter_mm", "20"));
    assert!(faults(&bench, "diameter_mm").contains("out of range"));
    following(&bench, || browser.write("#field-diameter_mm", "120"));
    assert_eq!(faults(&bench, "diameter_mm"), "");

    // By the text: the fields follow, and the picture.
    let write = |text: &str| {
        following(&bench, || {
            browser.run_with(
                "const one = document.querySelector('#specification'); one.focus(); \
                 one.value = arguments[0]; one.dispatchEvent(new Event('input', { bubbles: true }));",
                &json!([text]),
            );
        });
    };
    let by_hand = "# for a friend\nversion = 1\nname = \"by hand\" # to be asked\ndiameter_mm = 150\nepoch_year = 2030\nplates_deg = [ # two sides\n  42,\n]\n[parts]\nthrone = \"crown\" # as on the old one\n";
    write(by_hand);
    let value = |field: &str| {
        browser.run(&format!(
            "return document.querySelector('#field-{field}').value"
        ))
    };
    assert_eq!(value("name"), "by hand");
    assert_eq!(value("diameter_mm"), "150");
    assert_eq!(value("parts-throne"), "crown");
    drawn(&bench, "front");
    // A field writes in the text as it stands: comments stay, but for those in what it writes
    // anew, and of them it is told.
    following(&bench, || browser.choose("#field-parts-throne", "ogee"));
    following(&bench, || browser.write("#field-name", "for a friend"));
    assert_eq!(
        text(&bench),
        by_hand
            .replace("\"crown\"", "\"ogee\"")
            .replace("\"by hand\"", "\"for a friend\"")
    );
    assert_eq!(
        browser.run("return document.querySelector('#spec-lost').hidden"),
        true
    );
    following(&bench, || browser.write("#field-plates_deg", "42, 50"));
    assert!(text(&bench).contains("plates_deg = [42, 50]\n[parts]\nthrone = \"ogee\" # as on"));
    assert!(browser.text("#spec-lost").contains("# two sides"));
    // Taken back, one change after another.
    following(&bench, || press(&bench, "#spec-undo"));
    assert!(text(&bench).contains("# two sides"));
    assert_eq!(value("name"), "for a friend");

    // What is no TOML is told at its line.
    write("version = 1\nname = \n");
    assert!(browser.text(".text-faults").contains("line 2"));
    assert!(browser.text("#spec-broken").contains("cannot be read"));
    bench.is_accessible("a text that cannot be read");
    following(&bench, || press(&bench, "#spec-undo"));
    assert_eq!(browser.text("#spec-broken"), "");

    // Kept, and chosen like any other; made by what is beneath.
    press(&bench, "#spec-keep");
    browser
        .wait("return document.querySelector('#spec-done').textContent.includes('in the cabinet')");
    let files = CabinetFolder::at(bench.cabinet()).files().unwrap();
    assert_eq!(files[0].text.as_deref(), Ok(text(&bench).as_str()));
    bench.asking(|browser| browser.choose("#with", "for a friend"));
    assert!(
        browser
            .text("#workshop-of")
            .contains("Of the specification below")
    );
    browser.wait("return document.querySelector('.glass-sheet svg')");
    // Its own, changed: in its own place.
    following(&bench, || browser.choose("#spec-from", "for a friend"));
    following(&bench, || browser.write("#field-diameter_mm", "90"));
    assert_eq!(browser.text("#spec-keep"), "Keep the change in the cabinet");
    press(&bench, "#spec-keep");
    browser
        .wait("return document.querySelector('#spec-done').textContent.includes('in the cabinet')");
    let files = CabinetFolder::at(bench.cabinet()).files().unwrap();
    assert_eq!(files.len(), 1);
    assert!(files[0].text.as_ref().unwrap().contains("diameter_mm = 90"));
    assert_eq!(
        browser.run("return document.documentElement.scrollWidth"),
        width
    );
    // Put aside, the instrument in hand is made again.
    following(&bench, || press(&bench, "#spec-leave"));
    browser.wait(
        "return document.querySelector('#workshop-of').textContent.includes('Of for a friend')",
    );
    bench.is_clean();
    // A name that another has is refused where it is to be kept.
    following(&bench, || {
        browser.choose("#spec-from", "pocket instrument");
    });
    press(&bench, "#spec-keep");
    browser.wait("return document.querySelector('#spec-told').textContent.includes('already')");
}

#[test]
fn fields_picture_and_text_follow_one_another() {
    by_fields_and_by_text(1440, 900);
}

#[test]
fn the_same_on_a_telephone() {
    by_fields_and_by_text(390, 844);
}
