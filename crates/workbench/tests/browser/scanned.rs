//! Our own print as a scanner or a telephone gives it: grain of paper, blur, uneven light, and
//! what JPEG leaves of it. Marks are put near lines, moved to their darkest middle by the page's
//! own code, and what they tell is held against what was printed.

use desk::{Cabinet, EstimateAnswer, ExamineRequest};
use ordeal::Dice;
use serde_json::json;

use crate::bench::{Bench, DEMONSTRATION};
use crate::face::{Marked, taken};

/// How far off a hand presses a line that is then moved to its middle, in pixels.
const PRESSED_PX: f64 = 4.0;

/// What is printed: the class instrument with its plate for 42°, of 2025.
const LATITUDE: f64 = 42.0;
const YEAR: f64 = 2025.0;

#[test]
fn marks_snapped_in_a_scanned_print_tell_what_was_printed() {
    let bench = Bench::at(1440, 1000, &DEMONSTRATION);
    let browser = &bench.browser;
    let mut chance = Chance(Dice::seeded(1478));
    let rounds = ordeal::times(3, 30);
    let (mut across, mut latitude, mut year) = (Vec::new(), Vec::new(), Vec::new());
    let mut lost = 0;
    for round in 0..rounds {
        let how = json!({
            "size": 3000, "lean": chance.between(0.0, 25.0), "towards": chance.between(0.0, 360.0),
            "turn": chance.between(-20.0, 20.0), "bend": chance.between(-0.03, 0.03),
            "rete": chance.between(0.0, 360.0), "rule": 0,
            "depths": { "mater": 0, "plate": 1.5, "rete": 0.6 }, "parts": ["mater", "plate", "rete"],
            "noise": 0, "seed": 100 + round, "scanned": true,
        });
        let mut taken = taken(&bench, &how);
        // A line is pressed near; a point is marked by the hand alone.
        let pressed: Vec<Marked> = taken
            .marks
            .iter()
            .map(|mark| {
                let by = if mark.along.is_some() {
                    PRESSED_PX
                } else {
                    1.0
                };
                let at = mark.at.map(|one| one + by * chance.gauss());
                Marked { at, ..mark.clone() }
            })
            .collect();
        let near_lines = pressed.iter().filter(|mark| mark.along.is_some());
        let near_lines: Vec<[f64; 2]> = near_lines.map(|mark| mark.at).collect();
        let snapped = browser.run_async(&format!(
            "const done = arguments[arguments.length - 1]; (async () => {{ \
               const {{ snapped }} = await import('/js/snap.js'); \
               const bytes = Uint8Array.from(atob('{}'), (one) => one.charCodeAt(0)); \
               const picture = await createImageBitmap(new Blob([bytes], {{ type: 'image/jpeg' }})); \
               const sheet = new OffscreenCanvas(picture.width, picture.height); \
               const pen = sheet.getContext('2d', {{ willReadFrequently: true }}); \
               pen.drawImage(picture, 0, 0); \
               const reach = 15, room = 2 * reach + 2, side = 2 * room + 1; \
               done({}.map(([x, y]) => {{ \
                 const [left, top] = [Math.round(x) - room, Math.round(y) - room]; \
                 const {{ data }} = pen.getImageData(left, top, side, side); \
                 const light = Float64Array.from({{ length: side * side }}, (_, n) => 0.299 * data[4 * n] + 0.587 * data[4 * n + 1] + 0.114 * data[4 * n + 2]); \
                 const there = snapped({{ light, breadth: side, height: side }}, {{ x: x - left, y: y - top }}, reach); \
                 return there && [there.x + left, there.y + top]; \
               }})); }})().catch((error) => done(String(error)))",
            taken.jpeg,
            json!(near_lines)
        ));
        let snapped = snapped.as_array().unwrap_or_else(|| panic!("{snapped}"));
        let mut found = snapped.iter();
        let mut kept = Vec::new();
        for (mark, pressed) in taken.marks.iter().zip(pressed) {
            let Some([along_x, along_y]) = mark.along else {
                kept.push(pressed);
                continue;
            };
            let there = found.next().unwrap();
            let Some((right, down)) = there[0].as_f64().zip(there[1].as_f64()) else {
                lost += 1;
                continue;
            };
            let [off_x, off_y] = [right - mark.at[0], down - mark.at[1]];
            across.push((off_x * along_y - off_y * along_x).abs() / along_x.hypot(along_y));
            kept.push(Marked {
                at: [right, down],
                ..pressed
            });
        }
        taken.marks = kept;
        let request = ExamineRequest {
            measurements: taken.text(),
            ..ExamineRequest::default()
        };
        let told = desk::examine(&request, &Cabinet::built_in()).unwrap();
        let told = told.pictured.unwrap();
        latitude.push(off(told.latitude_deg.unwrap(), LATITUDE));
        year.push(off(told.year.unwrap(), YEAR));
    }
    across.sort_by(f64::total_cmp);
    let within =
        |part: f64| across.iter().filter(|one| **one < part).count() as f64 / across.len() as f64;
    let rms =
        |all: &[f64]| (all.iter().map(|one| one * one).sum::<f64>() / all.len() as f64).sqrt();
    ordeal::tell(
        "prints as they are scanned, 3000 across, lines pressed four pixels off and snapped",
        rounds,
        &format!(
            "{} lines, {lost} not found, half of the others within {:.2} pixels, {:.0} % within one; \
             latitude off by {:.3}° as a rule, year of the stars by {:.1}",
            across.len() + lost,
            across[across.len() / 2],
            100.0 * within(1.0),
            rms(&latitude),
            rms(&year)
        ),
    );
    assert!(across[across.len() / 2] < 1.0 / 3.0, "{across:?}");
    assert!(within(1.0) > 0.8, "{across:?}");
    assert!(rms(&latitude) < 0.1, "{latitude:?}");
    assert!(rms(&year) < 5.0, "{year:?}");
    bench.is_clean();
}

/// How far an estimate is off; never farther than three and a half of its standard errors.
fn off(told: EstimateAnswer, should: f64) -> f64 {
    let off = told.at - should;
    assert!(off.abs() < 3.5 * told.within, "{told:?}, and {should}");
    off
}

/// Numbers that look like chance, the same in every run.
struct Chance(Dice);

impl Chance {
    fn part(&mut self) -> f64 {
        (self.0.roll() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.part()
    }

    /// Scatter of Gauss's kind (G. Box and M. Muller, 1958).
    fn gauss(&mut self) -> f64 {
        (-2.0 * self.part().max(1e-300).ln()).sqrt() * (std::f64::consts::TAU * self.part()).cos()
    }
}
