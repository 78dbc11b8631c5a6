//! What is read among the lines that some backs bear in their field: by both roads, on
//! instruments drawn at random, and refused where the back has none.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use desk::{Cabinet, CastRequest, Refusal, WithInstrument, WorkAnswer, WorkRequest};
use proptest::prelude::*;

const OPERATIONS: [(&str, &str); 5] = [
    ("noon-altitude-by-arcs", "quadrant = \"noon-altitudes\""),
    ("hour-by-quadrant", "quadrant = \"equal-hours\""),
    ("declination-by-sines", "quadrant = \"sines\""),
    ("shadow-by-cotangents", "cotangents = true"),
    (
        "lords-by-rings",
        "rings = [\"faces\", \"egyptian-terms\", \"mansions\"]",
    ),
];

/// What is drawn of an instrument, and of what it is asked.
#[derive(Clone, Debug)]
struct Made {
    diameter_mm: u32,
    latitude: f64,
    south: bool,
    date_from: &'static str,
    day: (u32, u32, u32),
    altitude: f64,
    degree: f64,
    eye: bool,
}

fn made() -> impl Strategy<Value = Made> {
    let from = prop::sample::select(vec!["zodiac", "given", "equal-day-ring"]);
    let day = (1..=12_u32, 1..=28_u32, 9..=15_u32);
    (
        (40_u32..1000, 2.0..64.0_f64, any::<bool>(), from),
        (day, 2.0..20.0_f64, 0.0..360.0_f64, any::<bool>()),
    )
        .prop_map(
            |((diameter_mm, latitude, south, date_from), (day, altitude, degree, eye))| Made {
                diameter_mm,
                latitude: if south { -latitude } else { latitude },
                south,
                date_from,
                day,
                altitude,
                degree,
                eye,
            },
        )
}

impl Made {
    fn specification(&self, parts: &str) -> String {
        let eye = if self.eye {
            ""
        } else {
            "eye_mm = 0\neye_part_of_division = 0\n"
        };
        format!(
            "version = 1\nname = \"drawn at random\"\ndiameter_mm = {}\nhemisphere = \"{}\"\n\
             epoch_year = 2025\nplates_deg = [{:.4}]\ndate_from = \"{}\"\n{eye}\n[parts]\n{parts}\n",
            self.diameter_mm,
            if self.south { "south" } else { "north" },
            self.latitude,
            self.date_from,
        )
    }

    fn worked(&self, operation: &str, parts: &str) -> Result<WorkAnswer, Refusal> {
        let (month, day, hour) = self.day;
        let texts = |pairs: &[(&str, String)]| -> BTreeMap<String, String> {
            let owned = pairs
                .iter()
                .map(|(name, value)| ((*name).to_owned(), value.clone()));
            owned.collect()
        };
        let request = WorkRequest {
            operation: operation.to_owned(),
            moment: CastRequest {
                when: format!("2025-{month:02}-{day:02} {hour:02}:17"),
                at: format!("{:.4},0", self.latitude),
                clock: Some("mean".to_owned()),
                with: Some(WithInstrument::Specification(self.specification(parts))),
                ..CastRequest::default()
            },
            seen: texts(&[("altitude", format!("{:.3}", self.altitude))]),
            told: texts(&[("degree", format!("{:.3}", self.degree))]),
            ..WorkRequest::default()
        };
        desk::work(&request, &Cabinet::built_in(), None)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// A perfect instrument shows what calculation gives, the Sun held still: what is left
    /// unexplained of a difference is nothing. The lines lit are on the drawing.
    #[test]
    fn both_roads_meet(made in made()) {
        for (operation, parts) in OPERATIONS {
            let answer = made.worked(operation, parts).unwrap();
            for finding in &answer.findings {
                let unexplained = finding.shares.iter().filter(|one| one.cause == "unexplained");
                let left: f64 = unexplained.map(|one| one.deg.abs()).sum();
                prop_assert!(left < 1e-8, "{operation}, {}: {left}", finding.name);
            }
            let with = Some(WithInstrument::Specification(made.specification(parts)));
            let back = desk::back(&desk::FrontRequest { with, plate_latitude_deg: made.latitude }, &Cabinet::built_in());
            let drawn = back.unwrap().svg;
            for step in &answer.working.steps {
                prop_assert!(step.instruction.ends_with('.'), "{}", step.instruction);
                prop_assert_eq!(step.side, if step.lines.is_empty() { "front" } else { "back" });
                for line in &step.lines {
                    prop_assert!(drawn.contains(&format!("data-line=\"{line}\"")), "{line}: {}", step.instruction);
                }
            }
        }
    }
}

/// Whoever has not got the line is told which key gives it.
#[test]
fn a_back_without_the_line_refuses() {
    let cabinet = Cabinet::built_in();
    for (operation, parts) in OPERATIONS {
        let request = |with| WorkRequest {
            operation: operation.to_owned(),
            moment: CastRequest {
                when: "2025-05-14 10:20".to_owned(),
                at: "46,7".to_owned(),
                clock: Some("mean".to_owned()),
                with,
                ..CastRequest::default()
            },
            ..WorkRequest::default()
        };
        let refused = desk::work(&request(None), &cabinet, None).unwrap_err();
        let key = parts.split(" = ").next().unwrap();
        let message = refused.to_string();
        assert!(message.contains(&format!("parts.{key} = ")), "{message}");
        // What the message says would do, does.
        let asked = message.split("an instrument with ").nth(1).unwrap();
        let asked = asked.split(" in its specification").next().unwrap();
        let text = format!(
            "version = 1\nname = \"as told\"\ndiameter_mm = 180\nepoch_year = 2025\n\
             plates_deg = [46]\n{asked}\n"
        );
        let with = Some(WithInstrument::Specification(text));
        assert!(desk::work(&request(with), &cabinet, None).is_ok());
    }
}

fn at_toledo(operation: &str, parts: &str, degree: &str, altitude: &str) -> WorkAnswer {
    let text = format!(
        "version = 1\nname = \"Toledo\"\ndiameter_mm = 250\nepoch_year = 2025\n\
         plates_deg = [39.8567]\nobliquity_deg = 23.4364\n\n[parts]\n{parts}\n"
    );
    let told = BTreeMap::from([("degree".to_owned(), degree.to_owned())]);
    let seen = BTreeMap::from([("altitude".to_owned(), altitude.to_owned())]);
    let request = WorkRequest {
        operation: operation.to_owned(),
        moment: CastRequest {
            when: "2025-06-21 10:00".to_owned(),
            at: "39.8567,-4.0245".to_owned(),
            clock: Some("mean".to_owned()),
            with: Some(WithInstrument::Specification(text)),
            ..CastRequest::default()
        },
        told,
        seen,
        ..WorkRequest::default()
    };
    desk::work(&request, &Cabinet::built_in(), None).unwrap()
}

fn exactly(answer: &WorkAnswer, name: &str) -> f64 {
    let found = answer.findings.iter().find(|one| one.name == name);
    found.unwrap().exact_deg.unwrap()
}

/// A shadow as long as its gnomon is that of 45°, and half a right angle's neighbours are as
/// the cotangents of any table: cot 30° is 1.7321, so 20.785 digits and 12.124 feet.
#[test]
fn shadows_are_cotangents() {
    let of = |altitude| at_toledo("shadow-by-cotangents", "cotangents = true", "0", altitude);
    let (even, low) = (of("45"), of("30"));
    assert!((exactly(&even, "shadow-digits") - 12.0).abs() < 0.02);
    assert!((exactly(&even, "shadow-feet") - 7.0).abs() < 0.02);
    // Refraction at 30° is 1.7′, which is 0.02 of a digit.
    assert!((exactly(&low, "shadow-digits") - 20.785).abs() < 0.04);
    assert!((exactly(&low, "shadow-feet") - 12.124).abs() < 0.03);
}

/// At midsummer the Sun is 90° − 39°51′ + 23°26′ high at noon in Toledo, and the 30th degree
/// of declination's table is the obliquity's: the sine of 30° is half the whole, so that the
/// 0th degree of Taurus has the sine of half the obliquity's sine, 11°28′.
#[test]
fn the_year_at_toledo() {
    let noon = at_toledo(
        "noon-altitude-by-arcs",
        "quadrant = \"noon-altitudes\"",
        "0",
        "40",
    );
    let altitude = exactly(&noon, "altitude-at-noon");
    assert!((altitude - 73.579).abs() < 0.005, "{altitude}");
    let sines = at_toledo(
        "declination-by-sines",
        "quadrant = \"sines\"",
        "0 Taurus",
        "40",
    );
    assert!((exactly(&sines, "sine-of-degree") - 30.0).abs() < 1e-9);
    assert!((exactly(&sines, "declination") - 11.4715).abs() < 0.001);
    let south = at_toledo(
        "declination-by-sines",
        "quadrant = \"sines\"",
        "0 Scorpio",
        "40",
    );
    assert!((exactly(&south, "declination") + 11.4715).abs() < 0.001);
}

/// Faces by the order of the spheres from Mars in the first of Aries (J. Middleton,
/// *Practical Astrology*, 1679, I.7); the first Egyptian term of Taurus is Venus' as far as 8°
/// (Ptolemy, *Tetrabiblos* I.20); the fourth mansion begins at three twenty-eighths, 8°34′ of
/// Taurus (Agrippa, *De occulta philosophia*, 1533, II.33).
#[test]
fn a_degree_is_found_in_its_rings() {
    let rings = "rings = [\"faces\", \"egyptian-terms\", \"mansions\"]";
    let answer = at_toledo("lords-by-rings", rings, "7 Taurus", "40");
    let says: Vec<&str> = answer
        .working
        .steps
        .iter()
        .map(|step| step.instruction.as_str())
        .collect();
    assert!(
        says[0].contains("the face of Mercury, from 0°00′ Taurus to 10°00′ Taurus"),
        "{}",
        says[0]
    );
    assert!(
        says[1].contains("the term of Venus, from 0°00′ Taurus to 8°00′ Taurus"),
        "{}",
        says[1]
    );
    assert!(
        says[2].contains("the mansion 3, Azoraya, from 25°43′ Aries to 8°34′ Taurus"),
        "{}",
        says[2]
    );
}
