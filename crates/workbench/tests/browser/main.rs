//! The page in a browser: what a person does on it, and what then stands there.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

mod bench;
mod beside;
mod casebook;
mod classes;
mod columns;
mod correcting;
mod delivered;
mod face;
mod film;
mod first_hour;
mod first_screen;
mod frames;
mod handbook;
mod operations;
mod own_brass;
mod parts_named;
mod pen;
mod photograph;
mod pictures;
mod scanned;
mod second_engine;
mod showing;
mod site;
mod site_speed;
mod specification;
mod teaching;
mod times;
mod touch;
mod trust;
mod webdriver;
mod workshop;

use bench::{Bench, DEMONSTRATION, cast, request, texts};
use desk::{Cabinet, StateRequest, TurnRequest};
use serde_json::json;

const DEGREES: &str =
    "return [...document.querySelectorAll('.reads .reading')].map((one) => one.textContent)";

/// Angles on the page are the browser's own decimal fractions of the same numbers.
pub(crate) const DIGITS: f64 = 1e-9;

#[test]
fn the_demonstration_is_what_the_desk_says() {
    let bench = Bench::open(1440, 900);
    let browser = &bench.browser;
    let answer = cast(&DEMONSTRATION);
    let set = answer.set.unwrap();
    let facts = browser.run(
        "return [...document.querySelectorAll('.set-facts strong')].map((one) => one.textContent)",
    );
    assert_eq!(facts, json!([set.plate, set.degree_or_date, set.hour]));
    assert!(browser.text("#headline").contains("invented"));
    let sum = browser.text(".sum");
    for line in [
        "Summer time",
        "−1:00:00",
        "Longitude",
        "−0:34:11",
        "06:49:28",
    ] {
        assert!(sum.contains(line), "{line} is not in {sum}");
    }
    // A newcomer is greeted by the rising sign alone; the houses are the next chapter.
    assert_eq!(texts(&browser.run(DEGREES)).len(), 1);
    browser.click("#readings .chapter");
    let reads = texts(&browser.run(DEGREES));
    assert_eq!(reads.len(), 12);
    let ascendant = desk::words::Zodiacal(desk::words::Angle::from_deg(
        answer.reading.unwrap().ascendant_deg.unwrap(),
    ));
    assert_eq!(reads[0], ascendant.to_string());
    let why = answer.why.unwrap();
    assert!(
        browser
            .text("#why-body")
            .contains(&why.ascendant.sentence.unwrap())
    );
    // The second hour of a Tuesday, whose first is Mars's, is the Sun's (common practice).
    let hour = browser.wait("return document.querySelector('.hour').textContent");
    assert!(
        hour.as_str()
            .unwrap()
            .starts_with("Hour of the Sun, the second of the day"),
        "{hour}"
    );
    assert!(browser.text(".bodies").contains("XII"));
    bench.is_accessible("the first screen, with the walk");
    browser.click("#walk-end");
    assert_eq!(
        browser.run("return document.querySelector('#walk').hidden"),
        true
    );
    browser.click("#open-settings");
    bench.is_accessible("the settings");
    bench.is_clean();
}

#[test]
fn a_case_is_typed_with_a_place_suggested() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let stands = "return JSON.stringify(document.querySelector('#stage').getBoundingClientRect())";
    let before = browser.run(stands);
    browser.write("#place", "Lisb");
    browser.wait("return document.querySelectorAll('#place-list li').length > 0");
    assert_eq!(browser.run(stands), before, "nothing moves while one types");
    bench.is_accessible("suggestions");
    let first = "return document.querySelector('#place-list [aria-selected=true]').textContent";
    let first = browser.run(first);
    bench.asking(|browser| browser.keys("#place", "\u{e007}"));
    assert_eq!(
        browser.run("return document.querySelector('#place').value"),
        first,
        "Enter takes what is highlighted"
    );
    bench.asking(|browser| browser.write("#date", "1987-11-03\u{e007}"));
    bench.asking(|browser| browser.write("#time", "21:45\u{e007}"));
    let place = browser.run("return document.querySelector('#place').value");
    let place = place.as_str().unwrap();
    assert!(place.starts_with("Lisb"), "{place}");
    let case = [
        ("when", "1987-11-03 21:45"),
        ("at", place),
        ("with", "class instrument"),
    ];
    let set = cast(&case).set.unwrap();
    assert_eq!(
        browser.text(".set-facts > div:nth-child(3) strong"),
        set.hour
    );
    let kept = browser.run("return location.hash + location.search");
    assert!(
        kept.as_str().unwrap().contains("when=1987-11-03+21%3A45"),
        "{kept}"
    );
    assert_eq!(browser.run("return location.search"), "");
    bench.asking(|browser| browser.click("#now"));
    assert_eq!(
        browser.run("return document.querySelector('#now').getAttribute('aria-pressed')"),
        "true"
    );
    bench.is_clean();
}

#[test]
fn a_time_that_was_not_and_one_that_came_twice_are_settled_on_the_page() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    for (date, which) in [("2024-03-31", "later"), ("2024-10-27", "earlier")] {
        bench.asking(|browser| browser.write("#date", &format!("{date}\u{e007}")));
        bench.asking(|browser| browser.write("#time", "02:30\u{e007}"));
        let said = browser.text("[data-fault=which] .fault");
        assert!(said.contains("2024"), "{said}");
        assert_eq!(
            texts(&browser.run(
                "return [...document.querySelectorAll('[data-fault=which] button')].map((one) => one.textContent)"
            )),
            ["earlier", "later"]
        );
        bench.is_accessible("a refusal");
        let nth = if which == "earlier" { 1 } else { 2 };
        bench.asking(|browser| {
            browser.click(&format!("[data-fault=which] button:nth-child({nth})"));
        });
        let when = format!("{date} 02:30");
        let case = [
            ("when", when.as_str()),
            DEMONSTRATION[1],
            DEMONSTRATION[2],
            ("which", which),
        ];
        assert_eq!(
            browser.text(".set-facts > div:nth-child(3) strong"),
            cast(&case).set.unwrap().hour
        );
        assert_eq!(
            browser.run("return document.querySelectorAll('.case .fault').length"),
            0
        );
        bench.asking(|browser| browser.write("#time", "09:20\u{e007}"));
    }
    bench.asking(|browser| browser.write("#date", "2023-02-29\u{e007}"));
    assert!(browser.text("[data-fault=when]").contains("29"));
    bench.asking(|browser| browser.write("#place", "Nowhereton\u{e007}"));
}

#[test]
fn a_southern_place_is_offered_the_instruments_that_serve_it() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let sydney = "Sydney, New South Wales, Australia\u{e007}";
    bench.asking(|browser| browser.write("#place", sydney));
    bench.asking(|browser| browser.click("#fault-with .choices button"));
    let instrument = "return document.querySelector('#with').value";
    assert_eq!(bench.browser.run(instrument), "southern instrument");
    assert!(bench.browser.text("#readings-body").contains("Ascendant"));
    bench.is_clean();
}

#[test]
fn the_sum_ends_where_the_hour_for_the_rule_stands() {
    let result = "return document.querySelector('.sum .result th').firstChild.textContent";
    for (instrument, last) in [
        ("class instrument", "Equation of time"),
        ("date-ring instrument", "Longitude"),
    ] {
        let mut case = DEMONSTRATION;
        case[2] = ("with", instrument);
        let bench = Bench::at(1440, 900, &case);
        assert_eq!(bench.browser.run(result), last, "{instrument}");
    }
}

#[test]
fn a_calendar_said_of_one_year_does_not_count_another() {
    let bench = Bench::at(
        1440,
        900,
        &[
            ("when", "1740-06-10 12:00"),
            ("at", "Oxford, England, United Kingdom"),
            ("calendar", "julian"),
        ],
    );
    bench.asking(|browser| browser.write("#date", "1740-06-11\u{e007}"));
    assert!(bench.browser.text("#headline").contains("Julian"));
    bench.asking(|browser| browser.write("#date", "2024-05-14\u{e007}"));
    assert!(bench.browser.text("#headline").contains("Gregorian"));
}

#[test]
fn the_instrument_turns_by_hand_wheel_and_keys_and_reads_as_the_desk_does() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let [left, top, width, _] = bench.area(".disc");
    let centre = (left + width / 2.0, top + width / 2.0);
    let at = |bearing: f64, part: f64| {
        let (sine, cosine) = bearing.to_radians().sin_cos();
        (
            centre.0 + sine * width / 2.0 * part,
            centre.1 - cosine * width / 2.0 * part,
        )
    };
    let (rete, rule) = bench.state();

    // A quarter turn clockwise, in four pulls, at a place where there is no rule.
    browser.drag(&[0.0, 30.0, 60.0, 90.0].map(|by| at(rule + 60.0 + by, 0.78)));
    bench.settled();
    let turned = bench.state();
    // The mouse moves by whole pixels: one is 0.25° at this radius.
    assert!(
        (turned.0 - rete - 90.0).rem_euclid(360.0) < 0.6
            || (turned.0 - rete - 90.0).rem_euclid(360.0) > 359.4,
        "{rete} {turned:?}"
    );
    assert!((turned.1 - rule).abs() < DIGITS);

    // The rule itself, taken by its arm.
    browser.drag(&[0.0, -20.0, -40.0].map(|by| at(rule + 0.9 + by, 0.55)));
    bench.settled();
    let moved = bench.state();
    assert!((moved.0 - turned.0).abs() < DIGITS);
    assert!(
        ((moved.1 - rule + 40.0 + 180.0).rem_euclid(360.0) - 180.0).abs() < 1.0,
        "{rule} {moved:?}"
    );

    // It is in hand now, so the wheel turns it, and the page stays.
    browser.wheel(at(rule + 150.0, 0.78), 300);
    bench.settled();
    assert!(
        (bench.state().1 - moved.1 - 3.0).abs() < DIGITS,
        "{moved:?} {:?}",
        bench.state()
    );
    assert_eq!(browser.run("return scrollY"), 0);

    // Keys: a degree onward, and fifteen back.
    let before = bench.state().0;
    browser.keys("#hand-rete", "\u{e014}\u{e00f}");
    bench.settled();
    let keyed = bench.state();
    assert!(((keyed.0 - before + 14.0 + 180.0).rem_euclid(360.0) - 180.0).abs() < DIGITS);

    let asked = TurnRequest {
        case: request(&DEMONSTRATION),
        state: StateRequest {
            plate_latitude_deg: 42.0,
            rete_deg: keyed.0,
            rule_deg: keyed.1,
            alidade_deg: 0.0,
        },
        pointer: None,
    };
    let says = desk::turn(&asked, &Cabinet::built_in(), None).unwrap();
    let shown = texts(&browser.run(
        "return [...document.querySelectorAll('.facts .reading')].map((one) => one.textContent)",
    ));
    let fine =
        texts(&browser.run(
            "return [...document.querySelectorAll('.facts .to')].map((one) => one.textContent)",
        ));
    let to = |reading: &Option<desk::ReadAnswer>| {
        let to = reading.as_ref().and_then(|one| one.reads_to_text.as_ref());
        format!("to {}", to.unwrap())
    };
    assert_eq!(
        fine[..5],
        [
            to(&says.ascendant),
            to(&says.midheaven),
            "to 35 s".to_owned(),
            to(&says.under_rule),
            to(&Some(says.sun_altitude.clone())),
        ]
    );
    let text = |reading: Option<desk::ReadAnswer>| reading.and_then(|one| one.text).unwrap();
    assert_eq!(
        shown[..5],
        [
            text(says.ascendant),
            text(says.midheaven),
            says.hour.text,
            text(says.under_rule),
            text(Some(says.sun_altitude)),
        ]
    );
    let means = says.means.unwrap();
    assert!(
        browser.text(".means").contains(&means.text),
        "{}",
        browser.text(".means")
    );
    // The position is read out, in words.
    let out = browser.wait("return document.querySelector('#announce').textContent.startsWith('Ascendant') && document.querySelector('#announce').textContent");
    assert_eq!(out, json!(says.words));
    // And the moment it means can be taken: the parts stand there then, set anew.
    bench.asking(|browser| browser.click(".live .row button:first-child"));
    assert!(
        browser
            .run("return location.hash")
            .as_str()
            .unwrap()
            .contains("when=2024-05-14")
    );
    bench.is_clean();
}

#[test]
fn every_step_of_the_working_moves_the_parts_and_lights_its_lines() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let working = cast(&DEMONSTRATION).working.unwrap();
    let steps: Vec<_> = working
        .steps
        .iter()
        .filter(|step| step.procedure.is_none_or(|one| one == "turning"))
        .collect();
    assert_eq!(
        browser.run("return document.querySelectorAll('.step').length"),
        steps.len()
    );
    for (number, step) in steps.iter().enumerate() {
        browser.click("#next-step");
        browser.wait(&format!(
            "return document.querySelector('#steps-body').dataset.arrived === '{}'",
            number + 1
        ));
        bench.settled();
        assert_eq!(browser.text(".step[aria-current]"), step.instruction);
        let (rete, rule) = bench.state();
        assert!(
            (rete - step.state.rete_deg).abs() < DIGITS,
            "{}",
            step.instruction
        );
        assert!(
            (rule - step.state.rule_deg).abs() < DIGITS,
            "{}",
            step.instruction
        );
        let lit = texts(&browser.run(
            "return [...new Set([...document.querySelectorAll('.disc .lit')].map((one) => one.dataset.line))]",
        ));
        for line in &step.lines {
            assert!(
                lit.contains(line),
                "{line} is not lit: {}",
                step.instruction
            );
        }
        assert_eq!(
            browser.run("return document.querySelector('.lens').hidden"),
            step.look_at.is_none(),
            "{}",
            step.instruction
        );
        let said = browser.text("#announce");
        assert!(said.contains(&step.instruction), "{said}");
        assert_eq!(
            browser.run("return document.querySelector('.disc').dataset.side"),
            step.side
        );
        if number == 2 || number == 6 {
            bench.is_accessible("a step of the working");
        }
    }
    // The list by keys, and the showing to a class by a remote control's.
    browser.keys(".step[aria-current]", "\u{e013}");
    let at = "return [...document.querySelectorAll('.step')].findIndex((one) => one.hasAttribute('aria-current'))";
    assert_eq!(browser.run(at), steps.len() - 2);
    browser.click("#show");
    browser.wait("return document.documentElement.classList.contains('showing')");
    assert_eq!(browser.run(at), 0);
    browser.keys("body", "\u{e00f}\u{e00f}");
    assert_eq!(browser.run(at), 2);
    browser.keys("body", "\u{e00e}");
    assert_eq!(browser.run(at), 1);
    bench.is_accessible("the showing");
    browser.click("#end-showing");
    assert_eq!(
        browser.run("return document.documentElement.classList.contains('showing')"),
        false
    );
    bench.is_clean();
}

#[test]
fn turned_over_the_alidade_is_read_against_zodiac_and_calendar() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#turn-over");
    browser.wait("return document.querySelector('[data-part=alidade]') !== null");
    browser.keys("#hand-alidade", "\u{e014}");
    let alidade = || {
        let got = browser.run("return Number(document.querySelector('#stage').dataset.alidade)");
        got.as_f64().unwrap()
    };
    // Set, it lies on the Sun's degree, 23°44′ Taurus; a key turns it a degree on.
    let keyed = alidade();
    assert!((keyed - 54.73).abs() < 0.02, "{keyed}");
    let turned = "return document.querySelector('[data-part=alidade]').style.transform";
    let shown = browser.run(turned);
    // Against the clock from the left, where Aries begins.
    let deg = shown.as_str().unwrap().split("rotate(").nth(1).unwrap();
    let deg: f64 = deg.trim_end_matches("deg)").parse().unwrap();
    assert!((deg - (270.0 - keyed)).abs() < 1e-3, "{shown}");
    let [left, top, width, _] = bench.area(".disc");
    let centre = (left + width / 2.0, top + width / 2.0);
    let at = |bearing: f64| {
        let (sine, cosine) = bearing.to_radians().sin_cos();
        let part = width / 2.0 * 0.7;
        (centre.0 + sine * part, centre.1 - cosine * part)
    };
    // Dragged clockwise by 30°, the alidade goes back by as much.
    browser.drag(&[0.0, 15.0, 30.0].map(at));
    bench.settled();
    let dragged = alidade();
    assert!((dragged - keyed + 30.0).abs() < 0.6, "{keyed} {dragged}");
    let asked = TurnRequest {
        case: request(&DEMONSTRATION),
        state: StateRequest {
            plate_latitude_deg: 42.0,
            alidade_deg: dragged,
            ..StateRequest::default()
        },
        pointer: None,
    };
    let says = desk::turn(&asked, &Cabinet::built_in(), None).unwrap();
    let live = browser.text(".facts");
    assert!(live.contains(&says.alidade.text.unwrap()), "{live}");
    assert!(
        live.contains(&says.alidade.reads_to_text.unwrap()),
        "{live}"
    );
    assert!(live.contains(&says.date_under_alidade.unwrap()), "{live}");
    bench.is_accessible("the back");
    bench.is_clean();
}

#[test]
fn my_own_reading_is_explained() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    bench.asking(|browser| browser.write(".reads tr:first-child input", "29 Gemini\u{e007}"));
    assert!(
        browser
            .text(".why-one:first-child summary")
            .contains("What I read")
    );
    browser.click(".why-one:first-child summary");
    let shares = browser.text(".why-one:first-child .share-table");
    assert!(shares.contains("unexplained"), "{shares}");
    bench.is_accessible("the shares");
    // With what was left out the unexplained part changes its name.
    bench.asking(|browser| browser.click(".without input[value=equation-of-time]"));
    let shares = browser.text(".why-one:first-child .share-table");
    assert!(shares.contains("equation of time not applied"), "{shares}");
    assert!(
        browser
            .run("return document.querySelector('.why-one').open")
            .as_bool()
            .unwrap()
    );
    bench.asking(|browser| browser.write(".reads tr:first-child input", "41 Gemini\u{e007}"));
    assert!(
        browser.text("#fault-read").contains("41"),
        "{}",
        browser.text("#fault-read")
    );
    assert_eq!(
        browser.run("return document.querySelector('.reads input').getAttribute('aria-invalid')"),
        "true"
    );
    bench.is_accessible("a reading refused");
}

#[test]
fn readings_say_for_which_moment_they_were_made() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    bench.asking(|browser| browser.write(".reads tr:first-child input", "27 Gemini\u{e007}"));
    let hidden = "return document.querySelector('#read-for').hidden";
    assert_eq!(browser.run(hidden), true);
    bench.asking(|browser| browser.write("#date", "2024-05-15\u{e007}"));
    assert!(
        browser
            .text("#read-for")
            .contains("read for 2024-05-14 09:20, Santiago")
    );
    bench.is_accessible("readings of another moment");
    bench.asking(|browser| browser.click("#empty-readings"));
    assert_eq!(browser.run(hidden), true);
    assert_eq!(
        browser.run("return document.querySelector('.reads input').value"),
        ""
    );
    bench.is_clean();
}

#[test]
fn southern_and_midnight_up_instruments_turn_their_own_way() {
    let south = [
        ("when", "2024-05-14 09:20"),
        ("at", "Sydney, Australia"),
        ("with", "southern instrument"),
    ];
    let bench = Bench::at(1440, 900, &south);
    let rete = "return document.querySelector('[data-part=rete]').style.transform";
    let turn = bench.browser.run(rete);
    assert!(turn.as_str().unwrap().contains("rotate(-"), "{turn}");
    let lecture = [
        DEMONSTRATION[0],
        DEMONSTRATION[1],
        ("with", "lecture instrument"),
    ];
    bench.go(&lecture);
    assert!(
        bench
            .browser
            .run(rete)
            .as_str()
            .unwrap()
            .contains("rotate(")
    );
    assert_eq!(texts(&bench.browser.run(DEGREES)).len(), 12);
    bench.asking(|browser| browser.choose("#by", "house-lines"));
    assert!(bench.browser.text(".reads").contains("house line"));
    // An instrument of the other hemisphere says why it has nothing to read.
    bench.asking(|browser| browser.choose("#with", "southern instrument"));
    assert!(bench.browser.text("#readings-body").contains("southern"));
    bench.is_accessible("an instrument that does not serve");
    bench.is_clean();
}

#[test]
fn narrow_the_instrument_stays_in_sight_and_nothing_spills() {
    let bench = Bench::at(360, 740, &DEMONSTRATION);
    let browser = &bench.browser;
    assert_eq!(
        browser.run("return document.documentElement.scrollWidth"),
        360
    );
    browser.click(".steps li:nth-child(8) button");
    bench.settled();
    let [_, top, _, height] = bench.area(".disc");
    assert!(top >= 0.0 && top + height <= 740.0 * 0.6, "{top} {height}");
    let [_, step, _, _] = bench.area(".step[aria-current]");
    assert!(
        step >= top + height - 1.0,
        "the step is under the instrument: {step}"
    );
    bench.is_accessible("360 px");
    // As at a zoom of 400 %: the same page, 320 px wide.
    browser.cdp(
        "Emulation.setDeviceMetricsOverride",
        json!({ "width": 320, "height": 256, "deviceScaleFactor": 4, "mobile": false }),
    );
    assert_eq!(
        browser.run("return document.documentElement.scrollWidth"),
        320
    );
    bench.is_clean();
}

#[test]
fn dark_surroundings_and_print_have_sheets_of_their_own() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.run("localStorage.setItem('almuri-surroundings', 'dark')");
    bench.go(&DEMONSTRATION);
    assert_eq!(
        browser.run("return document.documentElement.dataset.surroundings"),
        "dark"
    );
    bench.is_accessible("dark surroundings");
    browser.cdp("Emulation.setEmulatedMedia", json!({ "media": "print" }));
    let seen = |selector: &str| {
        browser.run_with(
            "return document.querySelector(arguments[0]).getClientRects().length > 0",
            &json!([selector]),
        )
    };
    for shown in [".set-facts", ".sum", ".disc", ".reads", ".cautions"] {
        assert_eq!(seen(shown), true, "{shown}");
    }
    for left_out in ["#case-form", "#hands", "#live", "#working", "nav", ".help"] {
        assert_eq!(seen(left_out), false, "{left_out}");
    }
    assert_eq!(
        browser.run("return getComputedStyle(document.documentElement).backgroundColor"),
        "rgb(255, 255, 255)"
    );
    let sheet = browser.cdp("Page.printToPDF", json!({ "preferCSSPageSize": true }));
    assert!(sheet["data"].as_str().unwrap().len() > 10_000);
    bench.is_clean();
}

#[test]
fn settings_are_kept_and_are_what_a_new_page_begins_with() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    browser.click("#open-settings");
    browser.write("#home", "Lisbon, Portugal\u{e007}");
    browser
        .wait("return document.querySelector('#settings [role=status]').textContent === 'Kept.'");
    browser.choose("#usual-by", "direct-cut");
    browser
        .wait("return document.querySelector('#settings [role=status]').textContent === 'Kept.'");
    bench.go(&[]);
    assert!(browser.text("#headline").contains("Lisbon"));
    assert_eq!(
        browser.run("return document.querySelector('#by').value"),
        "direct-cut"
    );
    assert_eq!(
        browser.run("return document.querySelector('#now').getAttribute('aria-pressed')"),
        "true"
    );
    bench.is_clean();
}
