//! Other times of a case, and instruments compared.

use desk::{Cabinet, ChooseRequest, DuringRequest, MomentsRequest, RevolutionRequest};
use patience::Patience;
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION, request};

/// Does something that asks, and waits for what is told.
fn told(bench: &Bench, id: &str, act: impl FnOnce()) -> String {
    let count = format!("return Number(document.querySelector('#{id}').dataset.answers ?? 0)");
    let before = bench.browser.run(&count);
    act();
    bench.browser.wait(&format!("{count} > {before}"));
    bench.browser.text(&format!("#{id}"))
}

fn fault(bench: &Bench, id: &str) -> String {
    let script = "return document.querySelector(arguments[0]).closest('.time').querySelector('.fault').textContent";
    let got = bench
        .browser
        .run_with(script, &json!([format!("#{id}-ask")]));
    got.as_str().unwrap().to_owned()
}

#[test]
fn an_uncertain_time_is_looked_through() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#times .fold");
    let asked = DuringRequest {
        moment: request(&DEMONSTRATION),
        until: "10:00".to_owned(),
        outer: false,
    };
    let answer = desk::during(&asked, &Cabinet::built_in(), None).unwrap();
    browser.write("#until", "10:00");
    let text = told(&bench, "uncertain-found", || {
        browser.click("#uncertain-ask")
    });
    assert!(!answer.changes.is_empty());
    for change in &answer.changes {
        let (_, time) = change.at.split_once(' ').unwrap();
        assert!(
            text.contains(time) && text.contains(&change.what),
            "{}: {text}",
            change.what
        );
    }
    assert!(text.contains(&answer.travels[0].text), "{text}");
    // The strip has a line for each, divided where it changes.
    let spans = browser.run(
        "return [...document.querySelectorAll('.strip-line')].slice(1).map((line) => line.querySelectorAll('.strip-span').length)",
    );
    let wanted: Vec<usize> = answer.strip.iter().map(|strip| strip.spans.len()).collect();
    assert_eq!(spans, json!(wanted));
    for rule in &answer.rules {
        assert!(
            rule.says.iter().all(|says| text.contains(says)) && text.contains(rule.source),
            "{text}"
        );
    }
    bench.is_accessible("an uncertain time");
    bench.is_clean();
    // What is no time is said, and what stood there before is gone.
    browser.write("#until", "soon");
    let text = told(&bench, "uncertain-found", || {
        browser.keys("#until", "\u{e007}")
    });
    assert_eq!(text, "");
    assert!(fault(&bench, "uncertain").contains("soon"));
}

#[test]
fn a_revolution_is_found_and_set() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#times .fold");
    let asked = RevolutionRequest {
        moment: request(&DEMONSTRATION),
        year: 2030,
        at: None,
    };
    let answer = desk::revolution(&asked, &Cabinet::built_in(), None).unwrap();
    browser.write("#revolution-year", "2030");
    let text = told(&bench, "revolution-found", || {
        browser.click("#revolution-ask");
    });
    let clock_time = &answer.cast.moment.when.clock_time;
    let (date, _) = clock_time.split_once(' ').unwrap();
    assert!(
        text.contains(date) && text.contains("Europe/Madrid"),
        "{text}"
    );
    bench.asking(|browser| browser.click("#take-revolution"));
    let when = browser.run("return new URLSearchParams(location.hash.slice(1)).get('when')");
    assert_eq!(when, json!(&clock_time[..19]));
    // What was told was of the case before.
    assert_eq!(browser.text("#revolution-found"), "");
    bench.is_clean();
    for (year, said) in [("soon", "no year"), ("9999", "9999")] {
        browser.write("#revolution-year", year);
        told(&bench, "revolution-found", || {
            browser.click("#revolution-ask");
        });
        assert!(fault(&bench, "revolution").contains(said));
    }
}

#[test]
fn a_degree_is_followed_through_the_year() {
    let bench = Bench::at(360, 740, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#times .fold");
    let asked = MomentsRequest {
        moment: request(&DEMONSTRATION),
        ascendant: "11 Pisces".to_owned(),
    };
    let answer = desk::moments(&asked, &Cabinet::built_in(), None).unwrap();
    browser.write("#rising-degree", "11 Pisces");
    let text = told(&bench, "rising-found", || browser.click("#rising-ask"));
    for day in &answer.days {
        let clock = day.rising.clock.as_deref().unwrap();
        assert!(text.contains(&day.date) && text.contains(clock), "{clock}");
    }
    let wide = browser.run("return document.documentElement.scrollWidth <= innerWidth");
    assert_eq!(wide, json!(true));
    bench.is_accessible("when a degree rises");
    bench.is_clean();
}

#[test]
fn a_time_is_sought_and_set() {
    for (width, height) in [(1440, 900), (360, 740)] {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        let browser = &bench.browser;
        browser.click("#times .fold");
        let wishes = |text: &str| vec![text.to_owned()];
        let asked = ChooseRequest {
            from: "2027-03-01".to_owned(),
            to: "2027-03-31".to_owned(),
            must: wishes("hour of Venus"),
            rather: wishes("Moon waxing"),
            at: request(&DEMONSTRATION).at,
            zone: request(&DEMONSTRATION).zone,
            ..ChooseRequest::default()
        };
        let answer = desk::choose(&asked, None, Patience::ENDLESS).unwrap();
        browser.write("#seek-from", "2027-03-01");
        browser.write("#seek-to", "2027-03-31");
        browser.write("#seek-must", "hour of Venus");
        browser.write("#seek-rather", "Moon waxing");
        let text = told(&bench, "seek-found", || browser.click("#seek-ask"));
        assert!(text.contains(&answer.summary), "{text}");
        for time in &answer.times[..40] {
            assert!(
                text.contains(&time.from.to_string()) && text.contains(&time.until.to_string())
            );
        }
        let wide = browser.run("return document.documentElement.scrollWidth <= innerWidth");
        assert_eq!(wide, json!(true));
        bench.is_accessible("a time is sought");
        bench.is_clean();
        browser.write("#seek-must", "fine weather");
        told(&bench, "seek-found", || browser.click("#seek-ask"));
        assert!(fault(&bench, "seek").contains("fine weather"));
        browser.write("#seek-must", "hour of Venus");
        told(&bench, "seek-found", || browser.click("#seek-ask"));
        bench.asking(|browser| browser.click("#seek-take"));
        let when = browser.run("return new URLSearchParams(location.hash.slice(1)).get('when')");
        assert_eq!(when, json!(&answer.times[0].from));
    }
}

#[test]
fn the_year_s_book_is_made() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#times .fold");
    browser.write("#book-year", "2027");
    let text = told(&bench, "book-found", || browser.click("#book-ask"));
    assert!(text.contains("2027-") && text.contains(".pdf"), "{text}");
    bench.is_accessible("the year's book");
    bench.is_clean();
    browser.write("#book-year", "soon");
    told(&bench, "book-found", || browser.click("#book-ask"));
    assert!(fault(&bench, "book").contains("no year"));
}

#[test]
fn instruments_are_compared() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    let text = told(&bench, "compared", || browser.click("#ask-compare"));
    for name in ["class instrument", "pocket instrument"] {
        assert!(text.contains(name), "{text}");
    }
    bench.is_accessible("instruments compared");
    bench.is_clean();
}
