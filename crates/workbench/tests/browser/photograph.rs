//! Marks in a photograph: put with pointer and keys, named by the program, written down as
//! their file has them, and what they tell.

use std::path::PathBuf;

use desk::{Cabinet, ExamineRequest, PicturedAnswer};
use serde_json::json;
use tempfile::TempDir;

use crate::bench::{Bench, DEMONSTRATION};
use crate::pictures::decoded;

const EXAMPLE: &str = include_str!("../../../../data/measurements/from-a-picture.toml");
const SHEET: &str = ".photograph-sheet";
const ENTER: &str = "\u{e007}";
const RIGHT: &str = "\u{e014}";
const SHIFT: &str = "\u{e008}";
const DOWN: &str = "\u{e015}";
const LEFT: &str = "\u{e012}";
const UP: &str = "\u{e013}";
const ALT: &str = "\u{e00a}";
const NONE_HELD: &str = "\u{e000}";
const TAB: &str = "\u{e004}";

/// What the example's marks tell.
fn example() -> PicturedAnswer {
    examined(EXAMPLE)
}

fn examined(measurements: &str) -> PicturedAnswer {
    let request = ExamineRequest {
        measurements: measurements.to_owned(),
        ..ExamineRequest::default()
    };
    let answer = desk::examine(&request, &Cabinet::built_in()).unwrap();
    answer.pictured.unwrap()
}

/// A photograph of the example: its lines in ink on paper, 3000 pixels across.
fn photograph_of(bench: &Bench, example: &PicturedAnswer) -> (TempDir, PathBuf) {
    let pieces: Vec<_> = example.drawn.iter().flat_map(|one| &one.pieces).collect();
    bench
        .browser
        .run_with("window.pieces = arguments[0]", &json!([pieces]));
    let picture = bench.browser.run_async(
        "const sheet = Object.assign(document.createElement('canvas'), { width: 3000, height: 3000 }); \
         const pen = sheet.getContext('2d'); \
         pen.fillStyle = '#d9c98f'; pen.fillRect(0, 0, 3000, 3000); \
         pen.strokeStyle = '#4a3c1a'; pen.lineWidth = 4; \
         for (const piece of window.pieces) { \
           pen.beginPath(); \
           if (piece.length === 1) { pen.fillStyle = '#4a3c1a'; pen.arc(piece[0][0] + .5, piece[0][1] + .5, 5, 0, 7); pen.fill(); continue; } \
           piece.forEach(([x, y], n) => n ? pen.lineTo(x + .5, y + .5) : pen.moveTo(x + .5, y + .5)); \
           pen.stroke(); \
         } \
         arguments[arguments.length - 1](sheet.toDataURL('image/jpeg', 0.9).split(',')[1])",
    );
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("invented-astrolabe.jpg");
    std::fs::write(&path, decoded(picture.as_str().unwrap())).unwrap();
    (folder, path)
}

/// A place on a line as it is drawn, so great a part of the way along it.
fn on_line(example: &PicturedAnswer, of: &str, part: f64) -> [f64; 2] {
    let line = example
        .drawn
        .iter()
        .find(|one| one.of.as_deref() == Some(of));
    let course = &line.unwrap_or_else(|| panic!("{of} is not drawn")).pieces[0];
    #[expect(
        clippy::cast_sign_loss,
        clippy::cast_possible_truncation,
        reason = "a place in a row"
    )]
    let at = (part * (course.len() - 1) as f64).round() as usize;
    course[at]
}

/// Opens the leaf, and lays a picture in.
fn laid_in(bench: &Bench, path: &std::path::Path) {
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('#photograph') !== null");
    browser.click("#photograph > summary");
    browser.keys("#photograph-file", &path.display().to_string());
    browser.wait("return !document.querySelector('.photograph-bench').hidden");
    proposed(bench);
}

/// Waits for what may lie at the cross.
fn proposed(bench: &Bench) {
    bench.browser.wait(
        "const one = document.querySelector('#photograph-proposals'); \
         return one.dataset.answers !== undefined && one.dataset.answers !== '' \
         && one.getAttribute('aria-busy') === 'false' && one.children.length > 0",
    );
}

fn asking_anew(bench: &Bench) {
    bench
        .browser
        .run("document.querySelector('#photograph-proposals').dataset.answers = ''");
}

/// Presses a place of the picture, which is seen whole.
fn press(bench: &Bench, [x, y]: [f64; 2]) {
    proposed(bench);
    asking_anew(bench);
    bench
        .browser
        .run("document.querySelector('.photograph-sheet').scrollIntoView({ block: 'center' })");
    let [left, top, breadth, height] = bench.area(SHEET);
    let times = (height - 2.0) / 3000.0;
    let at = (
        left + breadth / 2.0 + (x + 0.5 - 1500.0) * times,
        top + 1.0 + (y + 0.5) * times,
    );
    bench.browser.drag(&[at]);
    proposed(bench);
}

const WRITTEN: &str = "return document.querySelector('#measurements').value";
const TOLD: &str = "return document.querySelector('#photograph-told').textContent";

#[test]
fn marks_are_put_in_a_photograph_by_pointer_and_keys() {
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let picture = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../docs/gallery/smallest.png"
    );
    laid_in(
        &bench,
        &std::path::Path::new(picture).canonicalize().unwrap(),
    );
    let written = browser.run(WRITTEN);
    assert!(
        written.as_str().unwrap().contains("picture_px = ["),
        "{written}"
    );
    // With keys alone: a pixel to the right, a third of one down, and what stands first.
    let before = browser.run(TOLD);
    browser.keys(SHEET, &format!("{RIGHT}{SHIFT}{DOWN}\u{e000}{ENTER}"));
    browser.wait(&format!("{TOLD}.includes('1 marks')"));
    assert_ne!(before, browser.run(TOLD));
    // The limb goes on by itself.
    browser.wait("return document.querySelector('#photograph-of').value === 'limb 60°'");
    // And by the pointer; or by what one writes.
    browser.click(SHEET);
    browser.click("#photograph-mark");
    browser.wait(&format!("{TOLD}.includes('2 marks')"));
    browser.write("#photograph-of", "star Wega");
    browser.keys("#photograph-of", ENTER);
    browser.wait(&format!("{TOLD}.includes('3 marks')"));
    let written = browser.run(WRITTEN);
    let lines: Vec<&str> = written.as_str().unwrap().lines().collect();
    for of in ["limb 0°", "limb 60°", "star Wega"] {
        assert!(
            lines
                .iter()
                .any(|line| line.ends_with(&format!("\"{of}\"],"))),
            "{written}"
        );
    }
    bench.is_accessible("marks in a photograph");
    bench.is_clean();
    // Three tell nothing yet, and it is said what would.
    browser.click("#examine");
    let fault = "return document.querySelector('.examining > .fault').textContent";
    let said = browser.wait(&format!("{fault} || false"));
    assert!(said.as_str().unwrap().contains("five would do"), "{said}");
    browser.click("#photograph-undo");
    assert!(browser.run(TOLD).as_str().unwrap().contains("2 marks."));
    // A whole set of marks, as a file has them.
    browser.run_with(
        "document.querySelector('#measurements').value = arguments[0]",
        &json!([EXAMPLE]),
    );
    browser.click("#examine");
    browser.wait(
        "return document.querySelector('#examined').textContent.includes('drawn for latitude')",
    );
    assert!(browser.text("#examined").contains("leans"));
    browser.wait("return document.querySelector('#work-with') !== null");
}

/// Somebody presses where lines lie and takes what is proposed, by one key each: an instrument
/// takes no more than ninety presses, and is found as by a file of marks.
#[test]
fn an_instrument_is_marked_in_ninety_presses() {
    let bench = Bench::at(1600, 1150, &DEMONSTRATION);
    let browser = &bench.browser;
    let example = example();
    let (_folder, path) = photograph_of(&bench, &example);
    laid_in(&bench, &path);
    let along = |of: &str, part: f64| (of.to_owned(), on_line(&example, of, part));
    let mut all: Vec<(String, [f64; 2])> = (0..6)
        .map(|step| along(&format!("limb {}°", 60 * step), 0.0))
        .collect();
    let parts = [0.05, 0.22, 0.38, 0.55, 0.72, 0.88];
    all.extend(
        parts
            .iter()
            .step_by(1)
            .map(|part| along("edge of the hole", *part)),
    );
    all.extend(
        parts
            .iter()
            .step_by(2)
            .map(|part| along("tropic of Capricorn", *part)),
    );
    all.extend(parts.iter().step_by(2).map(|part| along("equator", *part)));
    all.extend(
        parts
            .iter()
            .step_by(3)
            .map(|part| along("tropic of Cancer", *part)),
    );
    all.push(along("meridian", 0.2));
    all.push(along("horizon", 0.1));
    all.push(along("horizon", 0.85));
    for almucantar in ["20°", "30°", "40°", "50°", "60°", "70°"] {
        all.push(along(&format!("almucantar {almucantar}"), 0.62));
    }
    for sign in ["Cancer", "Capricorn", "Aries", "Virgo", "Scorpio"] {
        all.push(along(&format!("ecliptic 0°00′ {sign}"), 0.0));
    }
    for star in [
        "Wega",
        "Alkair",
        "Aldebaran",
        "Rigil",
        "Azimech",
        "Alhabor",
        "Arided",
        "Alramech",
    ] {
        all.push(along(&format!("star {star}"), 0.0));
    }
    let mut presses = 0;
    for (number, (of, at)) in all.iter().enumerate() {
        press(&bench, *at);
        presses += 1;
        let list = browser.run(
            "return [...document.querySelectorAll('#photograph-proposals button')].map(one => one.dataset.of)",
        );
        let names: Vec<&str> = list
            .as_array()
            .unwrap()
            .iter()
            .map(|one| one.as_str().unwrap())
            .collect();
        let place = names.iter().position(|one| one == of);
        let place = place.unwrap_or_else(|| panic!("{of} is not among {names:?}"));
        asking_anew(&bench);
        if place == 0 {
            browser.keys(SHEET, ENTER);
        } else {
            browser.keys(SHEET, &(place + 1).to_string());
        }
        presses += 1;
        browser.wait(&format!("{TOLD}.includes('{} marks')", number + 1));
    }
    assert!(presses <= 90, "{presses} presses for {} marks", all.len());
    browser.keys("#examine", ENTER);
    browser.wait(
        "return document.querySelector('#examined').textContent.includes('drawn for latitude')",
    );
    // What was found lies over the picture, and one is led to the mark that would tell most.
    browser.wait("return document.querySelector('.photograph-over svg .found') !== null");
    let marks = browser.run(WRITTEN);
    let found = examined(marks.as_str().unwrap());
    let [told, should] = [&found, &example].map(|one| one.latitude_deg.unwrap());
    assert!(
        (told.at - should.at).abs() < 0.3,
        "{told:?}, and {should:?}"
    );
    let [told, should] = [&found, &example].map(|one| one.year.unwrap());
    assert!(
        (told.at - should.at).abs() < 40.0,
        "{told:?}, and {should:?}"
    );
    browser.keys("#photograph-wanted button", ENTER);
    let chosen = browser.run("return document.querySelector('#photograph-of').value");
    assert_eq!(chosen, json!(found.tellings[0].marks[0].of));
    bench.is_accessible("an instrument that was marked");
    bench.is_clean();
}

/// Whoever has no pointer: every control is reached from the one before it, the cross goes where
/// it is led or to the mark that tells most, and the instrument is found as by pressing.
#[test]
fn an_instrument_is_marked_by_keys_alone() {
    let bench = Bench::at(1600, 1150, &DEMONSTRATION);
    let browser = &bench.browser;
    let example = example();
    let (_folder, path) = photograph_of(&bench, &example);
    browser.keys("#workshop .fold", ENTER);
    browser.wait("return document.querySelector('#photograph') !== null");
    browser.keys("#photograph > summary", ENTER);
    on_to(&bench, "photograph-file");
    browser.keys("#photograph-file", &path.display().to_string());
    browser.wait("return !document.querySelector('.photograph-bench').hidden");
    proposed(&bench);
    on_to(&bench, "photograph-sheet");
    let mut count = 0;
    // What is seen is written where it is not proposed, and the cross goes on from there.
    for (of, part) in [
        ("limb 0°", 0.0),
        ("limb 60°", 0.0),
        ("limb 120°", 0.0),
        ("limb 180°", 0.0),
        ("limb 240°", 0.0),
        ("limb 300°", 0.0),
        ("edge of the hole", 0.05),
        ("edge of the hole", 0.4),
        ("edge of the hole", 0.75),
        ("tropic of Capricorn", 0.1),
        ("tropic of Capricorn", 0.6),
        ("meridian", 0.2),
        ("horizon", 0.15),
        ("ecliptic 0°00′ Aries", 0.0),
        ("ecliptic 0°00′ Cancer", 0.0),
    ] {
        asking_anew(&bench);
        led_to(&bench, on_line(&example, of, part));
        proposed(&bench);
        let names = browser.run(
            "return [...document.querySelectorAll('#photograph-proposals button')].map(one => one.dataset.of)",
        );
        let mut names = names.as_array().unwrap().iter();
        let number = names.position(|one| one == of);
        let number = number.unwrap_or_else(|| panic!("{of} is not proposed"));
        browser.keys(":focus", &(number + 1).to_string());
        count += 1;
        browser.wait(&format!("{TOLD}.includes('{count} marks')"));
    }
    // From here on one is led: to what tells most, to the darkest middle there, and it is marked.
    for _ in 0..24 {
        let led =
            browser.run("return document.querySelector('.photograph-sheet').dataset.led ?? '0'");
        browser.keys(":focus", "n");
        browser.wait(&format!(
            "return (document.querySelector('.photograph-sheet').dataset.led ?? '0') !== {led}"
        ));
        browser.keys(":focus", &format!("s{ENTER}"));
        count += 1;
        browser.wait(&format!("{TOLD}.includes('{count} marks')"));
    }
    on_to(&bench, "examine");
    browser.keys(":focus", ENTER);
    browser.wait(
        "return document.querySelector('#examined').textContent.includes('drawn for latitude')",
    );
    let found = examined(browser.run(WRITTEN).as_str().unwrap());
    let [told, should] = [&found, &example].map(|one| one.latitude_deg.unwrap());
    assert!(
        (told.at - should.at).abs() < 0.3,
        "{told:?}, and {should:?}"
    );
    on_to(&bench, "work-with");
    bench.is_clean();
}

/// Goes on with the tabulator until something is in the focus.
fn on_to(bench: &Bench, id: &str) {
    let focus = "return document.activeElement.id || document.activeElement.className";
    for _ in 0..120 {
        if bench.browser.run(focus) == json!(id) {
            return;
        }
        bench.browser.press(TAB);
    }
    panic!("{id} is not reached by the tabulator");
}

/// Leads the cross with arrows: by twenties, by ones, by thirds.
fn led_to(bench: &Bench, [x, y]: [f64; 2]) {
    let told = bench.browser.run(TOLD);
    let mut numbers = told
        .as_str()
        .unwrap()
        .split(['t', ',', ';'])
        .filter_map(|one| one.trim().parse::<f64>().ok());
    let mut keys = String::new();
    for (at, [back, on]) in [(x, [LEFT, RIGHT]), (y, [UP, DOWN])] {
        let by = at - numbers.next().unwrap();
        let key = if by < 0.0 { back } else { on };
        let mut left = by.abs();
        for (held, step) in [(ALT, 20.0), ("", 1.0), (SHIFT, 1.0 / 3.0)] {
            #[expect(
                clippy::cast_sign_loss,
                clippy::cast_possible_truncation,
                reason = "so many times"
            )]
            let count = (left / step) as usize;
            left -= step * count as f64;
            keys += &format!("{held}{}{NONE_HELD}", key.repeat(count));
        }
    }
    bench.browser.keys(":focus", &keys);
}

/// A back of 1400, its Sun by the formula of low precision of Meeus (Astronomical Algorithms,
/// chapter 25), marked by writing what is seen: its calendar is told, and it is looked at.
#[test]
fn a_back_is_marked_and_tells_its_calendar() {
    let bench = Bench::at(1440, 1000, &DEMONSTRATION);
    let browser = &bench.browser;
    let on_ring = |deg: f64, radius: f64| {
        let (sin, cos) = deg.to_radians().sin_cos();
        [1500.0 - radius * cos, 1500.0 + radius * sin]
    };
    let mut marks = Vec::new();
    for sign in 0..12 {
        let at = on_ring(30.0 * sign as f64, 1300.0);
        marks.push((at, format!("zodiac {}", 30 * sign)));
    }
    for month in 1..=12 {
        for day in [1, 16] {
            let mean = (1400..1404).map(|year| sun_deg(year, month, day));
            let first = sun_deg(1400, month, day);
            let mean = mean
                .map(|one| (one - first + 540.0) % 360.0 - 180.0)
                .sum::<f64>()
                / 4.0;
            let at = on_ring(first + mean, 1100.0);
            marks.push((at, format!("calendar {month:02}-{day:02}")));
        }
    }
    for step in 0..6 {
        marks.push((
            on_ring(60.0 * f64::from(step), 40.0),
            "edge of the hole".to_owned(),
        ));
    }
    let picture = browser.run_with(
        "const sheet = Object.assign(document.createElement('canvas'), { width: 3000, height: 3000 }); \
         const pen = sheet.getContext('2d'); \
         pen.fillStyle = '#d9c98f'; pen.fillRect(0, 0, 3000, 3000); pen.fillStyle = '#4a3c1a'; \
         for (const [x, y] of arguments[0]) { pen.beginPath(); pen.arc(x + .5, y + .5, 5, 0, 7); pen.fill(); } \
         return sheet.toDataURL('image/jpeg', 0.9).split(',')[1]",
        &json!([marks.iter().map(|(at, _)| *at).collect::<Vec<_>>()]),
    );
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("an-invented-back.jpg");
    std::fs::write(&path, decoded(picture.as_str().unwrap())).unwrap();
    laid_in(&bench, &path);
    asking_anew(&bench);
    browser.click("#photograph-back");
    proposed(&bench);
    for (number, (at, of)) in marks.iter().enumerate() {
        press(&bench, *at);
        browser.write("#photograph-of", of);
        browser.keys("#photograph-of", ENTER);
        browser.wait(&format!("{TOLD}.includes('{} marks')", number + 1));
    }
    browser.keys("#examine", ENTER);
    browser.wait("return document.querySelector('.photograph-over svg .found') !== null");
    let request = ExamineRequest {
        measurements: browser.run(WRITTEN).as_str().unwrap().to_owned(),
        ..ExamineRequest::default()
    };
    let answer = desk::examine(&request, &Cabinet::built_in()).unwrap();
    let year = answer.calendar.unwrap().year.unwrap();
    assert!((year.at - 1402.0).abs() < 25.0, "{year:?}");
    let off = answer
        .pictured
        .unwrap()
        .back
        .unwrap()
        .hole_off_percent
        .unwrap();
    assert!(off.iter().all(|one| one.at.abs() < 0.5), "{off:?}");
    assert!(browser.text("#examined").contains("calendar"));
    bench.is_accessible("a back that was marked");
    bench.is_clean();
}

/// The Sun's apparent longitude at the midnight with which a Julian date begins.
fn sun_deg(year: i32, month: i32, day: i32) -> f64 {
    // Meeus, chapter 7: the Julian day of a date of the Julian calendar.
    let (y, m) = if month > 2 {
        (year, month)
    } else {
        (year - 1, month + 12)
    };
    let jd = (365.25 * f64::from(y + 4716)).floor()
        + (30.6001 * f64::from(m + 1)).floor()
        + f64::from(day)
        - 1524.5;
    let t = (jd - 2_451_545.0) / 36_525.0;
    let mean = 280.46646 + 36_000.769_83 * t + 0.000_303_2 * t * t;
    let anomaly = (357.52911 + 35_999.050_29 * t - 0.000_153_7 * t * t).to_radians();
    let centre = (1.914_602 - 0.004_817 * t) * anomaly.sin()
        + 0.019_993 * (2.0 * anomaly).sin()
        + 0.000_289 * (3.0 * anomaly).sin();
    (mean + centre).rem_euclid(360.0)
}

/// The darkest middle is shown, and a mark goes there; by keys alone.
#[test]
fn a_mark_snaps_to_the_darkest_middle_of_its_line() {
    let bench = Bench::at(1600, 1150, &DEMONSTRATION);
    let browser = &bench.browser;
    // On paper with grain and blur, lines of some breadths and slopes are found to a third of a
    // pixel from several pixels off, and nothing where there is no line.
    let off = browser.run_async(
        "const done = arguments[arguments.length - 1]; \
         import('/js/snap.js').then(({ snapped }) => { \
           let seed = 7; \
           const chance = () => { seed = (seed * 16807) % 2147483647; return seed / 2147483647; }; \
           const gauss = () => Math.sqrt(-2 * Math.log(chance() + 1e-12)) * Math.cos(6.283185 * chance()); \
           const side = 81; \
           const off = []; \
           let none = 0; \
           for (let round = 0; round < 240; round += 1) { \
             const turn = chance() * 6.283185, width = 1 + 4 * chance(), blur = 0.7 + 1.5 * chance(); \
             const ink = 60 + 100 * chance(), middle = 40 + 3 * (chance() - 0.5); \
             const across = { x: Math.cos(turn), y: Math.sin(turn) }; \
             const coarse = Array.from({ length: 30 * 30 }, () => 5 * gauss()); \
             const light = Float64Array.from({ length: side * side }, (_, n) => { \
               const x = n % side, y = Math.floor(n / side); \
               const far = Math.abs((x - middle) * across.x + (y - middle) * across.y); \
               const step = (at) => 1 / (1 + Math.exp(-1.7 * at / blur)); \
               const dark = step(far + width / 2) - step(far - width / 2); \
               const grain = coarse[Math.floor(y / 3) * 30 + Math.floor(x / 3)] + 4 * gauss(); \
               return 215 - (round % 8 ? ink * dark : 0) + grain; \
             }); \
             const by = 5 * (chance() - 0.5); \
             const at = { x: middle + by * across.x + 2 * across.y, y: middle + by * across.y - 2 * across.x }; \
             const there = snapped({ light, breadth: side, height: side }, at, 12); \
             if (round % 8 === 0) { none += there ? 0 : 1; continue; } \
             off.push(there ? (there.x - middle) * across.x + (there.y - middle) * across.y : 99); \
           } \
           done({ off, none }); \
         })",
    );
    let all: Vec<f64> = off["off"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one.as_f64().unwrap())
        .collect();
    let rms = (all.iter().map(|one| one * one).sum::<f64>() / all.len() as f64).sqrt();
    assert!(rms < 1.0 / 3.0, "off by {rms} as a rule, {all:?}");
    assert_eq!(off["none"], json!(30), "lines where there are none");
    let example = example();
    let (_folder, path) = photograph_of(&bench, &example);
    laid_in(&bench, &path);
    let horizon = example
        .drawn
        .iter()
        .find(|one| one.of.as_deref() == Some("horizon"))
        .unwrap();
    let row = &horizon.pieces[0];
    // Where another line crosses it, that may be the darker one.
    let mut near = Vec::new();
    for place in [5, 13, 22, 34, 42, 50] {
        let [x, y] = row[place];
        press(&bench, [x + 4.0, y + 2.0]);
        browser.keys(SHEET, "s");
        let told = browser.run(TOLD);
        let numbers: Vec<f64> = told
            .as_str()
            .unwrap()
            .split(['t', ',', ';'])
            .filter_map(|one| one.trim().parse().ok())
            .collect();
        near.push(off_row(row, numbers[0], numbers[1]));
    }
    let good = near.iter().filter(|off| **off < 1.0).count();
    assert!(good >= 5, "off the horizon by {near:?}");
    // With the tick it is shown before it is marked.
    browser.keys("#photograph-snap", " ");
    browser.wait(&format!("{TOLD}.includes('darkest middle')"));
}

/// How far a place lies from a row of places joined by straight lines.
fn off_row(row: &[[f64; 2]], x: f64, y: f64) -> f64 {
    row.iter()
        .zip(row.iter().skip(1))
        .map(|([a, b], [c, d])| {
            let (right, down) = (c - a, d - b);
            let part = ((x - a) * right + (y - b) * down) / (right * right + down * down);
            let part = part.clamp(0.0, 1.0);
            (x - a - part * right).hypot(y - b - part * down)
        })
        .fold(f64::INFINITY, f64::min)
}

/// The front as a pupil set it: five points, what it shows, and on to correcting.
#[test]
fn a_pupils_setting_goes_on_to_correcting() {
    let bench = Bench::at(1440, 1000, &DEMONSTRATION);
    let browser = &bench.browser;
    let example = example();
    let (_folder, path) = photograph_of(&bench, &example);
    laid_in(&bench, &path);
    let text = include_str!("../../../../data/measurements/as-it-was-set.toml");
    for line in text
        .lines()
        .filter(|line| line.starts_with("[1") || line.starts_with("[2") || line.starts_with('['))
    {
        let parts: Vec<&str> = line.trim_matches(['[', ']', ',']).split(", ").collect();
        let [x, y, of] = parts.as_slice() else {
            continue;
        };
        press(&bench, [x.parse().unwrap(), y.parse().unwrap()]);
        browser.write("#photograph-of", of.trim_matches('"'));
        browser.keys("#photograph-of", ENTER);
    }
    browser.wait(&format!("{TOLD}.includes('5 marks')"));
    browser.keys("#photograph-setting", ENTER);
    browser.wait("return document.querySelector('#photograph-correct') !== null");
    let told = browser.text("#photograph-set");
    assert!(
        told.contains("The rete stands") && told.contains("Ascendant"),
        "{told}"
    );
    browser.keys("#photograph-correct", ENTER);
    browser.wait("return document.querySelector('#pupil-ascendant').value !== ''");
    browser.click("#correct");
    browser.wait("return document.querySelector('#verdict').textContent.includes('Summer time')");
    bench.is_clean();
}
