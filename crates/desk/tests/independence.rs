//! The two roads are apart. This test runs in three builds: as usual, with the
//! figure's ascendant put off by a degree, and with every reading of the zodiac put
//! off by a degree. What one road says never changes with the other.
//!
//! `independence.json` holds what the usual build says. `ALMURI_WRITE_INDEPENDENCE=1`
//! writes it anew in the usual build.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use desk::{Cabinet, CastRequest, WithInstrument, WorkAnswer, WorkRequest, cast, operations, work};
use serde_json::{Value, json};

const FIGURE_IS_OFF: bool = cfg!(feature = "test-shift-ascendant");
const READINGS_ARE_OFF: bool = cfg!(feature = "test-shift-zodiac");

/// Every operation with every instrument of the cabinet, and a few casts.
fn said() -> Value {
    let cabinet = Cabinet::built_in();
    let mut all = Vec::new();
    for instrument in cabinet.at_hand() {
        let name = &instrument.specification().name;
        let latitude = instrument.specification().plates[0].deg() + 1.3;
        for operation in operations() {
            let with = WithInstrument::Named(name.clone());
            let request = worked(operation.name, with, latitude);
            let Ok(answer) = work(&request, &cabinet, None) else {
                // Only a calendar scale gives the Sun's degree, and not every back bears lines
                // of its own.
                assert!(operation.name == "sun-degree" || operation.heading == OWN_LINES);
                continue;
            };
            all.push(found(name, &answer));
        }
        for when in ["1391-03-12 09:00", "1955-11-03 23:10", "2024-05-14 09:20"] {
            let request = CastRequest {
                when: when.to_owned(),
                at: format!("{latitude},-8.5449"),
                clock: Some("mean".to_owned()),
                with: Some(WithInstrument::Named(name.clone())),
                ..CastRequest::default()
            };
            let answer = cast(&request, &cabinet, None).unwrap();
            all.push(json!({
                "with": name,
                "when": when,
                "reading": serde_json::to_value(&answer.reading).unwrap(),
                "ideal": serde_json::to_value(&answer.ideal).unwrap(),
                "figure": serde_json::to_value(&answer.figure).unwrap(),
            }));
        }
    }
    // Among the lines that some backs bear.
    let on_back = operations();
    for operation in on_back.iter().filter(|one| one.heading == OWN_LINES) {
        let quadrants = ["sines", "noon-altitudes", "equal-hours", "qibla"];
        let [first, second, third, fourth] = quadrants.map(|quadrant| {
            let text = format!(
                "version = 1\nname = \"{quadrant}\"\ndiameter_mm = 180\nepoch_year = 2025\n\
                 plates_deg = [45]\n[parts]\nquadrant = \"{quadrant}\"\ncotangents = true\n\
                 rings = [\"faces\", \"egyptian-terms\", \"mansions\"]\n\
                 gazetteer = [[\"Coast\", 46, -8]]\n"
            );
            let with = WithInstrument::Specification(text);
            work(&worked(operation.name, with, 46.3), &cabinet, None).ok()
        });
        let answer = first.or(second).or(third).or(fourth).unwrap();
        all.push(found("a back of its own", &answer));
    }
    Value::Array(all)
}

/// The heading of what is read among lines that some backs alone bear.
const OWN_LINES: &str = "The back's own lines";

fn found(with: &str, answer: &WorkAnswer) -> Value {
    let findings = || answer.findings.iter();
    json!({
        "with": with,
        "operation": answer.operation.name,
        "read": findings().map(|one| json!([one.name, one.deg])).collect::<Vec<_>>(),
        "calculated": findings().map(|one| json!([one.name, one.exact_deg])).collect::<Vec<_>>(),
    })
}

/// An operation with everything that it may need.
fn worked(operation: &str, with: WithInstrument, latitude: f64) -> WorkRequest {
    let texts = |pairs: &[(&str, &str)]| {
        let owned = pairs
            .iter()
            .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()));
        owned.collect()
    };
    WorkRequest {
        operation: operation.to_owned(),
        moment: CastRequest {
            when: "2024-05-14 09:20".to_owned(),
            at: format!("{latitude},-8.5449"),
            clock: Some("mean".to_owned()),
            with: Some(with),
            ..CastRequest::default()
        },
        star: Some("any".to_owned()),
        body: Some("Mars".to_owned()),
        seen: texts(&[
            ("altitude", "25°30′"),
            ("noon-altitude", "50"),
            ("wanderer-altitude", "30"),
            ("other-altitude", "31"),
            ("upper-altitude", "56"),
            ("lower-altitude", "48"),
            ("shadow", "4"),
            ("other-shadow", "8"),
            ("morning-shadow", "300"),
            ("evening-shadow", "62"),
        ]),
        told: texts(&[
            ("degree", "20 Pisces"),
            ("other-degree", "0 Taurus"),
            ("unequal-hours", "3"),
            ("distance", "20"),
        ]),
        ..WorkRequest::default()
    }
}

fn parts(all: &Value, keys: &[&str]) -> Vec<Value> {
    let cases = all.as_array().unwrap().iter();
    cases
        .flat_map(|case| keys.iter().map(|key| rounded(&case[*key])))
        .collect()
}

/// To 10⁻⁷ of a degree: other machines may differ in the last digits.
fn rounded(value: &Value) -> Value {
    match value {
        Value::Number(number) => {
            let number = number.as_f64().unwrap();
            json!((number * 1e7).round() / 1e7)
        }
        Value::Array(items) => Value::Array(items.iter().map(rounded).collect()),
        Value::Object(fields) => Value::Object(
            fields
                .iter()
                .map(|(key, inner)| (key.clone(), rounded(inner)))
                .collect(),
        ),
        other => other.clone(),
    }
}

#[test]
fn neither_road_takes_a_number_from_the_other() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/independence.json");
    let now = said();
    if std::env::var_os("ALMURI_WRITE_INDEPENDENCE").is_some()
        && !FIGURE_IS_OFF
        && !READINGS_ARE_OFF
    {
        std::fs::write(path, serde_json::to_string(&now).unwrap() + "\n").unwrap();
    }
    let usual: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    assert_eq!(
        parts(&now, &["reading", "ideal", "read"]) == parts(&usual, &["reading", "ideal", "read"]),
        !READINGS_ARE_OFF,
        "readings"
    );
    assert_eq!(
        parts(&now, &["figure", "calculated"]) == parts(&usual, &["figure", "calculated"]),
        !FIGURE_IS_OFF,
        "figures"
    );
}
