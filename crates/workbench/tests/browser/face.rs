//! One's own brass on the page: parts cut out of a photograph and laid over the drawn ones.
//! The photograph is of the instrument that stands on the page, taken by a camera written for
//! these tests.

use std::path::PathBuf;

use serde_json::{Value, json};
use tempfile::TempDir;

use crate::bench::{Bench, DEMONSTRATION};
use crate::pictures::decoded;

const PHOTOGRAPHER: &str = include_str!("photographer.js");
const ENTER: &str = "\u{e007}";
const RIGHT: &str = "\u{e014}";

/// A photograph in a file, its marks, and the red dots on its parts.
pub(crate) struct Taken {
    folder: TempDir,
    /// The picture in base64.
    pub(crate) jpeg: String,
    pub(crate) marks: Vec<Marked>,
    dots: Value,
    size: u32,
}

/// What was seen where, and the direction of its line, if it is on one.
#[derive(Clone)]
pub(crate) struct Marked {
    pub(crate) at: [f64; 2],
    pub(crate) of: String,
    pub(crate) along: Option<[f64; 2]>,
}

impl Taken {
    pub(crate) fn path(&self) -> PathBuf {
        self.folder.path().join("invented-brass.jpg")
    }

    /// The marks as their file has them.
    pub(crate) fn text(&self) -> String {
        let lines: String = self
            .marks
            .iter()
            .map(|Marked { at: [x, y], of, .. }| format!("[{x:.1}, {y:.1}, \"{of}\"],\n"))
            .collect();
        format!(
            "version = 1\nname = \"invented brass\"\npicture_px = [{0}, {0}]\nmarks = [\n{lines}]\n",
            self.size
        )
    }
}

/// Photographs the instrument on the page.
pub(crate) fn taken(bench: &Bench, how: &Value) -> Taken {
    let got = bench.browser.run_async(&format!(
        "const done = arguments[arguments.length - 1]; {PHOTOGRAPHER}\n\
         photographed({{ ...{how}, style: {how}.scanned ? PRINT : BRASS }}).then(done, (error) => done(String(error)))"
    ));
    assert!(got["jpeg"].is_string(), "{got}");
    let folder = tempfile::tempdir().unwrap();
    let jpeg = got["jpeg"].as_str().unwrap();
    std::fs::write(folder.path().join("invented-brass.jpg"), decoded(jpeg)).unwrap();
    let text = |one: &Value| one.as_str().unwrap().to_owned();
    let number = |one: &Value| one.as_f64().unwrap();
    let marks = got["marks"].as_array().unwrap().iter();
    Taken {
        folder,
        jpeg: jpeg.to_owned(),
        marks: marks
            .map(|one| Marked {
                at: [number(&one[0]), number(&one[1])],
                of: text(&one[2]),
                along: one[4][0].as_f64().zip(one[4][1].as_f64()).map(Into::into),
            })
            .collect(),
        dots: got["dots"].clone(),
        size: u32::try_from(how["size"].as_u64().unwrap()).unwrap(),
    }
}

/// Where dots are put on each part, in millimetres as it is drawn.
fn dots() -> Value {
    let ring = |radius: f64, count: u32, from: f64| -> Vec<[f64; 2]> {
        (0..count)
            .map(|step| {
                let turn = (from + 360.0 * f64::from(step) / f64::from(count)).to_radians();
                [radius * turn.sin(), -radius * turn.cos()]
            })
            .collect()
    };
    let all = |radii: &[f64], count: u32| -> Vec<[f64; 2]> {
        radii
            .iter()
            .flat_map(|radius| ring(*radius, count, 11.0 + radius))
            .collect()
    };
    // To one side of the rule's edge is metal.
    let rule = [-60.0, -45.0, -30.0, 30.0, 45.0, 60.0].map(|y| [[1.4, y], [-1.4, y]]);
    json!({
        "mater": ring(83.0, 16, 7.0),
        "plate": all(&[18.0, 34.0, 50.0, 66.0], 10),
        "rete": all(&[12.0, 20.0, 28.0, 36.0, 44.0, 52.0, 60.0, 68.0, 72.0], 24),
        "rule": rule.concat(),
    })
}

pub(crate) fn laid_in(bench: &Bench, taken: &Taken) {
    let browser = &bench.browser;
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('#photograph') !== null");
    browser.click("#photograph > summary");
    browser.keys("#photograph-file", &taken.path().display().to_string());
    browser.wait("return !document.querySelector('.photograph-bench').hidden");
    browser.run_with(
        "document.querySelector('#measurements').value = arguments[0]",
        &json!([taken.text()]),
    );
    browser.click("#examine");
    browser.wait("return document.querySelector('#lay')?.checkVisibility() === true");
}

const DRESSED: &str = "return Number(document.querySelector('.face').dataset.dressed ?? 0)";

/// Does something after which the instrument is dressed anew.
fn dressing(bench: &Bench, act: impl FnOnce()) {
    let before = bench.browser.run(DRESSED);
    act();
    bench.browser.wait(&format!("{DRESSED} > {before}"));
}

/// Which parts wear a picture.
fn worn(bench: &Bench) -> Value {
    bench.browser.run(
        "return [...document.querySelectorAll('.layer[data-part]:has(image.worn)')].map((one) => one.dataset.part).sort()",
    )
}

/// How far the dots of a part's picture lie off where they were put, in millimetres.
fn off_mm(bench: &Bench, part: &str, dots: &Value) -> Vec<f64> {
    let got = bench.browser.run_async(&format!(
        "const done = arguments[arguments.length - 1]; {PHOTOGRAPHER}\n\
         (async () => {{ \
           const image = document.querySelector('.layer[data-part=\"{part}\"] image.worn'); \
           const half = image.width.baseVal.value / 2; \
           const shown = new Image(); shown.src = image.getAttribute('href'); await shown.decode(); \
           const sheet = new OffscreenCanvas(shown.naturalWidth, shown.naturalHeight); \
           const pen = sheet.getContext('2d'); pen.drawImage(shown, 0, 0); \
           const times = sheet.width / (2 * half); \
           const places = {dots}.map(([x, y]) => [(x + half) * times - 0.5, (y + half) * times - 0.5]); \
           const off = redNear(pen.getImageData(0, 0, sheet.width, sheet.height), places, 1.6 * times, 0.85); \
           done(off.map((one) => one && Math.hypot(...one) / times)); \
         }})().catch((error) => done(String(error)))"
    ));
    let all = got.as_array().unwrap_or_else(|| panic!("{part}: {got}"));
    all.iter().filter_map(Value::as_f64).collect()
}

/// A photograph of the instrument is examined and laid on: each part's picture lies on its
/// drawing, turns with it on the screen, leaves readings and lit lines as they are, and comes
/// back with the page; and one goes back to the drawing.
#[test]
fn ones_own_brass_is_laid_over_the_drawing_and_turns_with_it() {
    let bench = Bench::at(1440, 1000, &DEMONSTRATION);
    let browser = &bench.browser;
    let taken = taken(
        &bench,
        &json!({
            "size": 2000, "lean": 22, "towards": 40, "turn": 9, "bend": -0.04, "rete": 68, "rule": 211,
            "depths": { "mater": 0, "plate": 1.5, "rete": 0.6, "rule": -1 },
            "parts": ["mater", "plate", "rete", "rule"], "dots": dots(), "noise": 0.4, "seed": 11,
        }),
    );
    assert!(
        (40..=90).contains(&taken.marks.len()),
        "{}",
        taken.marks.len()
    );
    let readings = "return document.querySelector('#live').textContent";
    let before = browser.run(readings);
    laid_in(&bench, &taken);
    assert!(
        browser
            .text("#lay-told")
            .contains("off its drawn line as a rule")
    );
    // What the rete hides is not taken unless it is wished.
    let ticked =
        "return [...document.querySelectorAll('.laying input:checked')].map((one) => one.value)";
    assert_eq!(browser.run(ticked), json!(["mater", "rete", "rule"]));
    browser.click("#lay-plate");
    dressing(&bench, || browser.keys("#lay", ENTER));
    assert_eq!(worn(&bench), json!(["mater", "plate", "rete", "rule"]));
    assert_eq!(browser.run(readings), before);
    let on_page = bench.area(".disc")[2];
    let reach = browser
        .run("return -document.querySelector('.layer[data-part=mater]').viewBox.baseVal.x")
        .as_f64()
        .unwrap();
    let pixel_mm = 2.0 * reach / on_page;
    for (part, least) in [("mater", 12), ("plate", 12), ("rete", 24), ("rule", 3)] {
        let off = off_mm(&bench, part, &taken.dots[part]);
        let worst = off.iter().copied().fold(0.0, f64::max) / pixel_mm;
        ordeal::tell(
            &format!("places of {part} in its picture, beside its drawing"),
            off.len() as u64,
            &format!("off by {worst:.2} pixels of the page at most"),
        );
        assert!(
            off.len() >= least,
            "{part}: {} of {}",
            off.len(),
            taken.dots[part]
        );
        assert!(worst < 1.0, "{part}: off by {worst} pixels");
    }

    // Turned by hand, it is seen on the screen where the drawing has turned.
    browser.keys("#hand-rete", &RIGHT.repeat(25));
    bench.settled();
    browser.run("document.querySelector('.disc').scrollIntoView({ block: 'center' })");
    std::thread::sleep(std::time::Duration::from_millis(900));
    let screen = browser.picture(95);
    let [left, top, across, _] = bench.area(".disc");
    let (turned, _) = bench.state();
    let (sine, cosine) = turned.to_radians().sin_cos();
    let [middle_x, middle_y] = [left, top].map(|one| one + across / 2.0 - 0.5);
    let places: Vec<[f64; 2]> = taken.dots["rete"]
        .as_array()
        .unwrap()
        .iter()
        .map(|dot| {
            let [x, y] = [0, 1].map(|axis| dot[axis].as_f64().unwrap() / pixel_mm);
            [
                middle_x + x * cosine - y * sine,
                middle_y + x * sine + y * cosine,
            ]
        })
        .collect();
    let off = browser.run_async(&format!(
        "const done = arguments[arguments.length - 1]; {PHOTOGRAPHER}\n\
         (async () => {{ \
           const shown = new Image(); shown.src = 'data:image/jpeg;base64,{screen}'; await shown.decode(); \
           const sheet = new OffscreenCanvas(shown.naturalWidth, shown.naturalHeight); \
           const pen = sheet.getContext('2d'); pen.drawImage(shown, 0, 0); \
           done(redNear(pen.getImageData(0, 0, sheet.width, sheet.height), {}, 5, 0.5)); \
         }})().catch((error) => done(String(error)))",
        json!(places)
    ));
    let all: Vec<f64> = off
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|one| Some(one[0].as_f64()?.hypot(one[1].as_f64()?)))
        .collect();
    let middle = {
        let mut sorted = all.clone();
        sorted.sort_by(f64::total_cmp);
        sorted[sorted.len() / 2]
    };
    assert!(all.len() >= 15, "{} dots are seen", all.len());
    assert!(
        middle < 1.0,
        "turned, off by {middle} pixels as a rule: {all:?}"
    );

    // What is looked at is seen above it; all lines are, if that is wished.
    let seen = "return [...document.querySelectorAll('.worn-lines > .line')].filter((one) => getComputedStyle(one).visibility === 'visible').length";
    browser.click(".steps li:nth-child(4) button");
    bench.settled();
    let lit = browser.run("return document.querySelectorAll('.worn-lines > .line.lit').length");
    assert_eq!(browser.run(seen), lit);
    assert!(lit.as_u64() > Some(0), "{lit}");
    dressing(&bench, || browser.choose("#face", "lines"));
    assert!(browser.run(seen).as_u64() > Some(100));
    bench.is_accessible("one's own brass");
    dressing(&bench, || browser.choose("#face", "drawn"));
    assert_eq!(worn(&bench), json!([]));
    dressing(&bench, || browser.choose("#face", "brass"));

    // It is there when the page is opened again, on this instrument alone.
    bench.go(&DEMONSTRATION);
    browser.wait("return document.querySelectorAll('image.worn').length === 4");
    let [when, at, _] = DEMONSTRATION;
    bench.go(&[when, at, ("with", "date-ring instrument")]);
    browser.wait("return document.querySelector('.face').dataset.dressed !== undefined");
    assert_eq!(worn(&bench), json!([]));
    assert_eq!(
        browser.run("return document.querySelector('.face').hidden"),
        json!(true)
    );
    bench.is_clean();
}

/// The rete as a whole disc lets the plate shine through its openings; cut along its drawing it
/// is open there. And what is taken off is forgotten.
#[test]
fn a_rete_is_open_or_half_seen_through() {
    let bench = Bench::at(1440, 1000, &DEMONSTRATION);
    let browser = &bench.browser;
    let taken = taken(
        &bench,
        &json!({
            "size": 1200, "lean": 12, "towards": 200, "turn": -4, "bend": 0, "rete": 20, "rule": 100,
            "depths": { "mater": 0, "plate": 1.5, "rete": 0.6, "rule": -1 },
            "parts": ["mater", "plate", "rete"], "noise": 0.3, "seed": 5,
        }),
    );
    laid_in(&bench, &taken);
    let disabled = "return document.querySelector('#lay-rule').disabled";
    assert_eq!(
        browser.run(disabled),
        json!(true),
        "no rule is in the picture"
    );
    let open = || {
        browser.run_async(
            "const done = arguments[arguments.length - 1]; (async () => { \
               const image = document.querySelector('.layer[data-part=rete] image.worn'); \
               const shown = new Image(); shown.src = image.getAttribute('href'); await shown.decode(); \
               const sheet = new OffscreenCanvas(400, 400); \
               const pen = sheet.getContext('2d'); pen.drawImage(shown, 0, 0, 400, 400); \
               const { data } = pen.getImageData(0, 0, 400, 400); \
               const counts = [0, 0, 0]; \
               for (let row = 0; row < 400; row += 1) for (let column = 0; column < 400; column += 1) { \
                 if (Math.hypot(row - 199.5, column - 199.5) > 150) continue; \
                 const alpha = data[4 * (400 * row + column) + 3]; \
                 counts[alpha < 20 ? 0 : alpha > 235 ? 2 : 1] += 1; \
               } \
               done(counts); })()",
        )
    };
    dressing(&bench, || browser.keys("#lay", ENTER));
    let count = |got: &Value, of: usize| got[of].as_u64().unwrap();
    let cut = open();
    assert!(count(&cut, 0) > count(&cut, 2), "{cut}: it is open");
    assert!(
        count(&cut, 2) > 8 * count(&cut, 1) / 10,
        "{cut}: and else whole"
    );
    browser.click("#lay-whole");
    dressing(&bench, || browser.keys("#lay", ENTER));
    let whole = open();
    assert!(
        count(&whole, 1) > count(&cut, 0) * 8 / 10,
        "{whole}: it is seen through"
    );
    assert!(count(&whole, 0) < count(&whole, 2) / 10, "{whole}");
    dressing(&bench, || browser.click("#lay-forget"));
    assert_eq!(worn(&bench), json!([]));
    bench.go(&DEMONSTRATION);
    browser.wait("return document.querySelector('.face').dataset.dressed !== undefined");
    assert_eq!(worn(&bench), json!([]));
    bench.is_clean();
}
