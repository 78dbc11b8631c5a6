//! Marks in a photograph: put with pointer and keys, written down as their file has them, and
//! what they tell.

use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION};

#[test]
fn marks_are_put_in_a_photograph_by_pointer_and_keys() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('#photograph') !== null");
    browser.click("#photograph > summary");
    let picture = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../docs/gallery/smallest.png"
    );
    let picture = std::path::Path::new(picture).canonicalize().unwrap();
    browser.keys("#photograph-file", &picture.display().to_string());
    browser.wait("return !document.querySelector('.photograph-bench').hidden");
    let text = "return document.querySelector('#measurements').value";
    let written = browser.run(text);
    assert!(
        written.as_str().unwrap().contains("picture_px = ["),
        "{written}"
    );
    // With keys alone: a pixel to the right, a third of one down.
    browser.run("document.querySelector('.photograph-sheet').focus()");
    let told = "return document.querySelector('#photograph-told').textContent";
    let before = browser.run(told);
    browser.keys(
        ".photograph-sheet",
        "\u{e014}\u{e008}\u{e015}\u{e000}\u{e007}",
    );
    let after = browser.run(told);
    assert_ne!(before, after);
    assert!(after.as_str().unwrap().ends_with("1 marks."), "{after}");
    // The limb goes on by itself.
    assert_eq!(
        browser.run("return document.querySelector('#photograph-of').value"),
        json!("limb 30")
    );
    // And by the pointer.
    browser.click(".photograph-sheet");
    browser.click("#photograph-mark");
    let written = browser.run(text);
    let lines: Vec<&str> = written.as_str().unwrap().lines().collect();
    assert!(
        lines.iter().any(|line| line.ends_with("\"limb 0\"],")),
        "{written}"
    );
    assert!(
        lines.iter().any(|line| line.ends_with("\"limb 30\"],")),
        "{written}"
    );
    bench.is_accessible("marks in a photograph");
    bench.is_clean();
    // Two tell nothing yet, and it is said what would.
    browser.click("#examine");
    let fault = "return document.querySelector('.examining > .fault').textContent";
    let said = browser.wait(&format!("{fault} || false"));
    assert!(said.as_str().unwrap().contains("five would do"), "{said}");
    browser.click("#photograph-undo");
    assert!(browser.run(told).as_str().unwrap().ends_with("1 marks."));
    // A whole set of marks, as a file has them.
    let example = include_str!("../../../../data/measurements/from-a-picture.toml");
    browser.run_with(
        "document.querySelector('#measurements').value = arguments[0]",
        &json!([example]),
    );
    browser.click("#examine");
    browser.wait(
        "return document.querySelector('#examined').textContent.includes('drawn for latitude')",
    );
    assert!(browser.text("#examined").contains("leans"));
    browser.wait("return document.querySelector('#work-with') !== null");
}
