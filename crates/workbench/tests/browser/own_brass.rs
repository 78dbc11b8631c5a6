//! An instrument of one's own: described by the form alone, kept, cast with, found again,
//! used by whoever reads the same folder, made into files, changed and deleted.

use casebook::CabinetFolder;
use desk::{CastRequest, WithInstrument};
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, request, texts};

/// The value of the list's last line.
const MY_OWN: &str = " my own";

const NAMES: &str =
    "return [...document.querySelectorAll('#with option')].map((one) => one.textContent)";

/// Does something to the form and waits until the desk has said what it comes to.
fn following(bench: &Bench, act: impl FnOnce()) {
    let answers = "return Number(document.querySelector('.own-brass').dataset.answers ?? 0)";
    let before = bench.browser.run(answers).as_i64().unwrap();
    act();
    bench.browser.wait(&format!("{answers} > {before}"));
}

/// Chooses a card by the value behind its picture.
fn card(bench: &Bench, field: &str, value: &str) {
    following(bench, || {
        let chosen = format!("#own-{field} .card:has([value=\"{value}\"])");
        bench.browser.click(&chosen);
    });
}

fn by_the_form_alone(width: u32, height: u32) {
    let bench = Bench::at(width, height, &DEMONSTRATION);
    let browser = &bench.browser;
    assert_eq!(
        texts(&browser.run(NAMES)).last().map(String::as_str),
        Some("my own…")
    );
    browser.choose("#with", MY_OWN);
    browser.wait("return document.querySelector('.own-front svg')");
    // The list still shows what is in hand.
    assert_eq!(
        browser.run("return document.querySelector('#with').value"),
        "class instrument"
    );
    assert_eq!(
        browser.run("return document.documentElement.scrollWidth"),
        width
    );
    bench.is_accessible("the form before anything is in it");

    following(&bench, || browser.write("#own-name", "my key ring"));
    following(&bench, || browser.write("#own-diameter", "60 mm"));
    following(&bench, || browser.write("#own-plates", "43"));
    card(&bench, "orientation", "midnight-up");
    assert_eq!(
        browser.run("return document.querySelector('#own-days').hidden"),
        true
    );
    card(&bench, "dates", "ring");
    card(&bench, "days", "equal");
    following(&bench, || browser.write("#own-year", "2024"));
    // The front follows: that of the specification, as the desk draws it.
    let drawn = browser.wait(
        "const drawn = document.querySelector('.own-front').dataset.drawn ?? ''; \
         return drawn.includes('epoch_year = 2024') && drawn.includes('equal-day-ring') && drawn",
    );
    let drawn = drawn.as_str().unwrap();
    assert!(drawn.contains("orientation = \"midnight-up\""), "{drawn}");
    assert!(browser.text(".own-drawn").contains("my key ring, 60 mm"));
    assert_eq!(
        browser.run("return [...document.querySelectorAll('.own-form .fault')].map((one) => one.textContent).join('')"),
        ""
    );
    bench.is_accessible("the form filled in");

    bench.asking(|browser| browser.click("#own-keep"));
    assert_eq!(
        browser.run("return document.querySelector('#with').value"),
        "my key ring"
    );
    assert!(browser.text("#plate").contains("60 mm"));
    // Cast with: the date on the ring, no equation of time, as the desk says of the text.
    let folder = CabinetFolder::at(bench.cabinet());
    let files = folder.files().unwrap();
    assert_eq!(files.len(), 1);
    assert_eq!(files[0].file, "my-key-ring.toml");
    let text = files[0].text.clone().unwrap();
    let cast = |with: WithInstrument, cabinet: &desk::Cabinet| {
        let asked = CastRequest {
            with: Some(with),
            ..request(&DEMONSTRATION)
        };
        desk::cast(&asked, cabinet, None).unwrap().set.unwrap()
    };
    let set = cast(
        WithInstrument::Specification(text),
        &desk::Cabinet::built_in(),
    );
    let facts =
        "return [...document.querySelectorAll('.set-facts strong')].map((one) => one.textContent)";
    assert_eq!(
        browser.run(facts),
        json!([set.plate, set.degree_or_date, set.hour])
    );
    // As the terminal finds it, by its name in the same folder.
    let at_hand = workbench::at_hand(Ok(&folder), None);
    let named = cast(WithInstrument::Named("my key ring".to_owned()), &at_hand);
    assert_eq!((named.plate, named.hour), (set.plate, set.hour.clone()));
    bench.is_clean();

    // Made into files.
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('.glass-sheet svg')");
    assert!(
        browser
            .text("#workshop-of")
            .contains("Of my key ring, 60 mm")
    );
    browser.run(
        "const make = URL.createObjectURL; \
         URL.createObjectURL = (blob) => { blob.arrayBuffer().then((bytes) => { \
             window.archive = new TextDecoder('latin1').decode(bytes); }); return make.call(URL, blob); }",
    );
    browser.click("#make-files");
    let archive = browser.wait("return window.archive");
    let archive = archive.as_str().unwrap();
    assert!(archive.starts_with("PK") && archive.contains("my key ring"));

    // Found again after a restart.
    let bench = bench.restarted(&DEMONSTRATION);
    assert!(texts(&bench.browser.run(NAMES)).contains(&"my key ring".to_owned()));
    bench.asking(|browser| browser.choose("#with", "my key ring"));
    assert_eq!(bench.browser.run(facts)[2], json!(set.hour));
    bench.is_clean();
}

#[test]
fn a_piece_is_described_by_the_form_alone_and_used_everywhere() {
    by_the_form_alone(1440, 900);
}

#[test]
fn the_same_on_a_telephone() {
    by_the_form_alone(390, 844);
}

#[test]
fn what_is_missing_is_said_beside_it_once_it_is_to_be_kept() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.choose("#with", MY_OWN);
    browser.wait("return document.querySelector('.own-front svg')");
    let faults = "return [...document.querySelectorAll('.own-form .fault')].map((one) => one.textContent).filter(Boolean)";
    assert_eq!(browser.run(faults), json!([]), "nothing is wrong yet");
    following(&bench, || browser.click("#own-keep"));
    assert_eq!(browser.run(&format!("{faults}.length")), 3);
    assert_eq!(browser.run("return document.activeElement.id"), "own-name");
    bench.is_accessible("a form with faults");
    following(&bench, || browser.write("#own-diameter", "broad"));
    assert!(
        browser
            .text("#own-said-diameter")
            .contains("“broad” is no length")
    );
    following(&bench, || browser.write("#own-aries", "11 March"));
    assert!(browser.text("#own-said-year").contains("Julian"));
    following(&bench, || browser.write("#own-name", "class instrument"));
    following(&bench, || browser.write("#own-diameter", "60"));
    following(&bench, || browser.write("#own-plates", "43 S"));
    assert!(
        browser
            .text("#own-said-plates")
            .contains("other hemisphere")
    );
    following(&bench, || browser.write("#own-plates", "43"));
    browser.click("#own-keep");
    browser.wait(
        "return document.querySelector('.own-form > [role=alert]').textContent.includes('already')",
    );
}

#[test]
fn a_kept_one_is_changed_copied_passed_on_and_deleted() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let folder = CabinetFolder::at(bench.cabinet());
    let ring = "# at a fair\nversion = 1\nname = \"my key ring\"\ndiameter_mm = 60\nepoch_year = 2024\nplates_deg = [43]\n";
    // Put there by hand, with a broken one beside it, while the page is open.
    folder.add("my key ring", ring).unwrap();
    folder.add("broken", "name =").unwrap();
    browser.click("#cabinet .fold");
    browser.wait("return document.querySelector('[data-own]')");
    assert!(
        browser
            .text("#cabinet-unread")
            .contains("broken.toml cannot be used")
    );
    bench.is_accessible("the cabinet");
    let press = |words: &str| {
        browser.click(&format!(
            "#cabinet-list [aria-label=\"{words}: my key ring\"]"
        ));
    };

    // Changed: what the form does not ask stays.
    press("Change");
    browser.wait("return document.querySelector('#own-name').value === 'my key ring'");
    following(&bench, || browser.write("#own-name", "my brass"));
    bench.asking(|browser| browser.click("#own-keep"));
    let kept = folder.files().unwrap();
    let text = kept[1].text.clone().unwrap();
    assert!(
        text.starts_with("# at a fair\nversion = 1\nname = \"my brass\""),
        "{text}"
    );
    assert_eq!(kept.len(), 2);
    folder.replace(&kept[1].file, &text, ring).unwrap();
    browser.run("document.querySelector('#cabinet .fold').click()");
    browser.run("document.querySelector('#cabinet .fold').click()");
    browser.wait("return document.querySelector('[aria-label=\"Link: my key ring\"]')");

    // Passed on: whoever has the address has the instrument, and may keep it.
    press("Link");
    let address = browser.wait("return document.querySelector('#cabinet-list a')?.href");
    let address = address.as_str().unwrap();
    assert!(
        address.contains("brass=") && address.len() < 800,
        "short enough for a code that a telephone reads: {address}"
    );

    // Deleting asks once, in its place.
    press("Delete");
    browser.wait("return document.querySelector('#cabinet-list .grave')");
    bench.is_accessible("asked whether it is to be deleted");
    assert_eq!(folder.files().unwrap().len(), 2);
    browser.click("#cabinet-list .grave");
    browser.wait("return document.querySelector('[data-own]') === null");
    assert_eq!(folder.files().unwrap().len(), 1);
    bench.is_clean();

    browser.go("about:blank");
    browser.go(address);
    bench.settled();
    assert_eq!(
        browser.run("return document.querySelector('#with').value"),
        "my key ring"
    );
    browser.click("#keep-linked");
    browser.wait("return document.querySelector('#own-name')?.value === 'my key ring'");
    bench.asking(|browser| browser.click("#own-keep"));
    assert_eq!(folder.files().unwrap().len(), 2);
    assert_eq!(
        browser.run("return document.querySelector('#from-link').hidden"),
        true
    );
}

#[test]
fn what_was_measured_is_kept_as_an_instrument() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('.glass-sheet svg')");
    browser.click("#examine-example");
    browser.wait("return document.querySelector('#examined-keep')");
    browser.click("#examined-keep");
    let name = browser.wait("return document.querySelector('#own-name')?.value");
    bench.asking(|browser| browser.click("#own-keep"));
    assert_eq!(
        browser.run("return document.querySelector('#with').value"),
        name
    );
    assert_eq!(CabinetFolder::at(bench.cabinet()).files().unwrap().len(), 1);
}
