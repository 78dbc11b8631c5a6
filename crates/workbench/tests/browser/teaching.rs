//! Teaching on the page: a handout, exercises for a class, correcting by them.

use desk::{Cabinet, Class, WithInstrument};
use patience::Patience;

use crate::bench::{Bench, DEMONSTRATION};

fn saved(bench: &Bench, button: &str) {
    bench.browser.click(button);
    // More than one thing may be told of beside it.
    bench.browser.wait(&format!(
        "return [...document.querySelector('{button}').closest('div').querySelectorAll('[role=status]')] \
         .some((one) => one.textContent.startsWith('Made: '))"
    ));
}

#[test]
fn handouts_and_exercises_are_made() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#teaching .fold");
    saved(&bench, "#make-handout");
    // Of what is worked now.
    browser.choose("#operation", "sun-degree");
    browser.wait("return document.querySelectorAll('.found').length > 0");
    let of = browser.text("#teaching");
    assert!(of.contains("The Sun's degree for a date"), "{of}");
    saved(&bench, "#make-handout");
    browser.click("#class-example");
    assert_eq!(
        browser.run("return document.querySelectorAll('#pupils li').length"),
        4
    );
    saved(&bench, "#make-exercises");
    bench.is_accessible("teaching");
    bench.is_clean();
    // A name of quotes is a name.
    browser.write("#pupil-name-2", "Ada \"the other\" \\ Example");
    saved(&bench, "#make-exercises");
    // What cannot be drawn is said: a pupil without a name, and a file of one's own.
    browser.click("#one-more");
    browser.click("#make-exercises");
    let fault = "return [...document.querySelectorAll('#teaching .fault')].map((one) => one.textContent).join('')";
    browser.wait(&format!("{fault} !== ''"));
    let said = browser.run(fault);
    assert!(said.as_str().unwrap().contains("name"), "{said}");
    let wrong = desk::EXAMPLE_CLASS.replace("pocket instrument", "no such instrument");
    browser.run_with(
        "document.querySelector('#class-text').value = arguments[0]",
        &serde_json::json!([wrong]),
    );
    browser.click("#make-exercises");
    browser.wait(&format!("{fault}.includes('Clodio Example')"));
    let said = browser.run(fault);
    assert!(
        said.as_str().unwrap().contains("no such instrument"),
        "{said}"
    );
}

#[test]
fn answers_are_corrected_by_the_exercises() {
    let class = Class::from_toml(desk::EXAMPLE_CLASS).unwrap();
    let named = |pupil: &desk::Pupil| WithInstrument::Named(pupil.with.clone());
    let instruments: Vec<_> = class.pupils.iter().map(named).collect();
    let exercises = desk::exercises(
        &class,
        &instruments,
        &Cabinet::built_in(),
        Patience::ENDLESS,
    )
    .unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("exercises.json");
    std::fs::write(&path, serde_json::to_vec(&exercises).unwrap()).unwrap();
    let pupil = &exercises.pupils[0];
    let question = &pupil.questions[0];

    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#teaching .fold");
    browser.keys("#exercises-file", path.to_str().unwrap());
    browser.wait("return document.querySelector('#correct-exercise')");
    let text = browser.text("#teaching");
    assert!(text.contains(&question.text), "{text}");
    let corrected = |read: &dyn Fn(&str) -> Option<String>| {
        let count =
            "return Number(document.querySelector('#exercise-verdict').dataset.answers ?? 0)";
        let before = browser.run(count);
        for asked in &question.asks {
            let text = read(&asked.name).unwrap_or_default();
            browser.write(
                &format!("#answer-{}", asked.name),
                &format!("\u{e003}{text}"),
            );
        }
        browser.click("#correct-exercise");
        browser.wait(&format!("{count} > {before}"));
        browser.text("#exercise-verdict")
    };
    let right = corrected(&|name| {
        let mut all = question.asks.iter();
        Some(all.find(|asked| asked.name == name)?.reads.clone())
    });
    assert!(right.contains("✓ right") && !right.contains('✗'), "{right}");
    bench.is_accessible("an exercise corrected");
    bench.is_clean();
    // What stands in the key as a slip's is put down to that slip.
    let tell_tale = &question.tell_tales[0];
    let slipped = corrected(&|name| {
        let mut shows = question.asks.iter().zip(&tell_tale.shows);
        Some(shows.find(|(asked, _)| asked.name == name)?.1.clone())
    });
    assert!(
        slipped.contains(&tell_tale.words[0]),
        "{:?}: {slipped}",
        tell_tale.words
    );
    let nonsense = folder.path().join("nonsense.json");
    std::fs::write(&nonsense, "{}").unwrap();
    browser.keys("#exercises-file", nonsense.to_str().unwrap());
    browser.wait("return document.querySelector('#correct-exercise') === null || document.querySelector('#correct-exercise').closest('form').hidden");
}
