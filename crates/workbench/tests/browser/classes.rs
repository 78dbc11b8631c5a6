//! A class of thirty on the page: made, given a sheet, answered, corrected, looked at,
//! printed and kept.

use std::fmt::Write as _;

use desk::{Cabinet, Class, ExercisesAnswer, WithInstrument};
use patience::Patience;
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, texts};

const PUPILS: usize = 30;

/// The file of an invented class.
fn class_file() -> String {
    let mut text =
        "version = 1\nname = \"Thursday class\"\nplace = \"Santiago de Compostela, Spain\"\n\
                    year = 2026\nseed = 5\nquestions = 1\nsame_questions = true\n"
            .to_owned();
    for number in 1..=PUPILS {
        writeln!(
            text,
            "[[pupils]]\nname = \"Pupil {number:02}\"\nwith = \"class instrument\""
        )
        .unwrap();
    }
    text
}

/// What the page will have drawn: the same class and seed give the same.
fn drawn() -> ExercisesAnswer {
    let class = Class::from_toml(&class_file()).unwrap();
    let named = |pupil: &desk::Pupil| WithInstrument::Named(pupil.with.clone());
    let instruments: Vec<_> = class.pupils.iter().map(named).collect();
    desk::exercises(
        &class,
        &instruments,
        &Cabinet::built_in(),
        Patience::ENDLESS,
    )
    .unwrap()
}

/// Does something in the classes, and waits until it is done.
fn doing(bench: &Bench, act: impl FnOnce()) {
    let count = "return Number(document.querySelector('#classes-done')?.dataset.done ?? 0)";
    let before = bench.browser.run(count);
    act();
    // Thirty sheets take longer than one answer.
    let begun = std::time::Instant::now();
    while bench.browser.run(count) == before && begun.elapsed().as_secs() < 240 {
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    bench.browser.wait(&format!("{count} > {before}"));
    let fault = bench
        .browser
        .run("return document.querySelector('#classes .fault').textContent");
    assert_eq!(fault, json!(""));
}

#[test]
fn a_class_of_thirty_is_made_answered_corrected_and_kept() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    // Made, out of the file of a class.
    browser.click("#teaching .fold");
    browser.run_with(
        "document.querySelector('#class-text').value = arguments[0]",
        &json!([class_file()]),
    );
    browser.click("#keep-class");
    browser.wait("return document.querySelector('#class-kept').textContent.startsWith('Kept')");
    doing(&bench, || browser.click("#classes .fold"));
    assert!(
        browser
            .text("#classes-about")
            .contains("Pupil 30, class instrument")
    );

    // Given out.
    for (field, value) in [
        ("#give-year", "2026"),
        ("#give-seed", "5"),
        ("#give-questions", "1"),
    ] {
        browser.run_with(
            "document.querySelector(arguments[0]).value = arguments[1]",
            &json!([field, value]),
        );
    }
    doing(&bench, || browser.click("#give-out"));
    assert!(browser.text("#classes-sheet").contains("0 of 30 answered"));

    // Answered and corrected: two in three as the brass shows, one with a slip.
    let exercises = drawn();
    doing(&bench, || browser.click("#classes-enter"));
    let mut slips = Vec::new();
    for (index, pupil) in exercises.pupils.iter().enumerate() {
        browser.wait(&format!(
            "return document.querySelector('#classes-answers h3')?.textContent === 'Sheet 1, {}'",
            pupil.name
        ));
        for question in &pupil.questions {
            let tale = question.tell_tales.first().filter(|_| index % 3 == 0);
            slips.extend(tale.map(|tale| tale.words[0].clone()));
            for (n, asked) in question.asks.iter().enumerate() {
                let value = tale.map_or(&asked.reads, |tale| &tale.shows[n]);
                browser.run_with(
                    "document.getElementById(arguments[0]).value = arguments[1]",
                    &json!([format!("answers-{}-{}", question.number, asked.name), value]),
                );
            }
        }
        doing(&bench, || browser.click("#answers-correct"));
        let marks = browser.run(
            "return [...document.querySelectorAll('#classes-answers .mark')].map((one) => one.textContent)",
        );
        let all_right = texts(&marks).iter().all(|mark| mark.starts_with('✓'));
        assert_eq!(all_right, index % 3 != 0, "{}: {marks}", pupil.name);
        if index + 1 < PUPILS {
            doing(&bench, || browser.click("#answers-next"));
        }
    }
    assert!(browser.text("#classes-sheet").contains("30 of 30 answered"));
    let about = browser.text("#classes-about");
    assert!(
        about.contains("What to teach next") && about.contains("What is common"),
        "{about}"
    );
    assert!(about.contains(&slips[0]), "{}: {about}", slips[0]);
    bench.is_accessible("a class");

    // Printed.
    for what in ["sheets", "key", "key-at-length", "seating"] {
        doing(&bench, || browser.click(&format!("#classes-print-{what}")));
        let done = browser.text("#classes-done");
        assert!(done.starts_with("Made: thursday-class-"), "{done}");
    }
    bench.is_clean();

    // Kept: another day it is there, as it was.
    let bench = bench.restarted(&DEMONSTRATION);
    let browser = &bench.browser;
    doing(&bench, || browser.click("#classes .fold"));
    assert!(browser.text("#classes-sheet").contains("30 of 30 answered"));
    // The last correction is taken back, and the class deleted for good.
    browser.click("#casebook .fold");
    browser.click("#book-undo");
    browser.wait("return document.querySelector('#casebook').textContent.includes('Sheet 1 of Pupil 30, in the class Thursday class, is again as it was')");
    browser.click("#classes-delete");
    browser.click("#classes-delete");
    browser.wait("return document.querySelector('#classes-about').textContent.includes('No class is kept yet')");
}
