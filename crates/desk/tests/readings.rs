//! Operations as their readings go to extremes: sums that can be read, the south, the
//! zenith, and what makes no number.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use desk::{Cabinet, CastRequest, WorkRequest};

const SANTIAGO: &str = "42.8806,-8.5449";

fn texts<const N: usize>(pairs: [(&str, &str); N]) -> BTreeMap<String, String> {
    let owned = pairs.map(|(name, value)| (name.to_owned(), value.to_owned()));
    BTreeMap::from(owned)
}

fn worked(operation: &str, at: &str, with: Option<&str>) -> WorkRequest {
    WorkRequest {
        operation: operation.to_owned(),
        moment: CastRequest {
            with: with.map(|name| desk::WithInstrument::Named(name.to_owned())),
            clock: Some("mean".to_owned()),
            when: "2024-05-14 10:20".to_owned(),
            at: at.to_owned(),
            zone: Some("Europe/Madrid".to_owned()),
            ..CastRequest::default()
        },
        ..WorkRequest::default()
    }
}

fn found(answer: &desk::WorkAnswer, name: &str) -> f64 {
    let mut found = answer.findings.iter();
    found.find(|one| one.name == name).unwrap().deg.unwrap()
}

/// The equator's altitude by the plate and by what is seen are two findings.
#[test]
fn a_latitude_by_the_sun_is_a_sum_that_can_be_read() {
    let request = WorkRequest {
        seen: texts([("noon-altitude", "60")]),
        ..worked("latitude-by-noon-sun", SANTIAGO, None)
    };
    let answer = desk::work(&request, &Cabinet::built_in(), None).unwrap();
    let plate = found(&answer, "meridian-altitude") - found(&answer, "declination");
    assert!((found(&answer, "equator-altitude") - plate).abs() < 0.02);
    let here = 60.0 - found(&answer, "declination");
    assert!((found(&answer, "equator-altitude-here") - here).abs() < 1e-9);
    assert!((found(&answer, "pole-altitude") - (90.0 - here)).abs() < 1e-9);
}

#[test]
fn two_stations_that_cut_the_same_point_are_refused() {
    for operation in ["height-by-recta-twice", "height-by-versa-twice"] {
        let request = WorkRequest {
            seen: texts([("shadow", "4"), ("other-shadow", "4")]),
            told: texts([("distance", "20")]),
            ..worked(operation, SANTIAGO, None)
        };
        let refusal = desk::work(&request, &Cabinet::built_in(), None).unwrap_err();
        let says = refusal.to_string();
        assert!(
            says.contains("the same point") && says.contains("other-shadow=8"),
            "{says}"
        );
    }
}

/// The place is told as it was asked about, whichever plate lies in.
#[test]
fn a_plate_is_asked_about_anywhere() {
    let cabinet = Cabinet::built_in();
    let latitudes = |at: &str, with: &str| {
        let answer = desk::work(&worked("plate-latitude", at, Some(with)), &cabinet, None).unwrap();
        let plate = answer.instrument.plate_latitude_deg;
        assert!((found(&answer, "pole-altitude") - plate.abs()).abs() < 0.5);
        (answer.place.latitude_deg, plate)
    };
    for (at, latitude) in [(SANTIAGO, 42.8806), ("-33.5,20", -33.5)] {
        let (told, _) = latitudes(at, "class instrument");
        assert!((told - latitude).abs() < 1e-9, "{told}");
    }
}

/// Declinations and latitudes are north-positive, on southern instruments too: 20°
/// Pisces is 3°58′ south (sin δ = sin ε sin λ).
#[test]
fn north_is_positive_in_the_south() {
    let cabinet = Cabinet::built_in();
    let at_the_cape = |operation: &str| {
        let request = WorkRequest {
            told: texts([("degree", "20 Pisces")]),
            seen: texts([("wanderer-altitude", "55")]),
            ..worked(operation, "-34,18.5", Some("southern instrument"))
        };
        desk::work(&request, &cabinet, None).unwrap()
    };
    let declination = found(&at_the_cape("declination"), "declination");
    assert!((declination + 3.96).abs() < 0.3, "{declination}");
    let planet = at_the_cape("planet-latitude");
    let latitude = planet
        .findings
        .iter()
        .find(|one| one.name == "planet-latitude")
        .unwrap();
    assert!((latitude.deg.unwrap() - 5.4).abs() < 0.5);
    assert!(latitude.exact_deg.unwrap() > 5.0);
}

/// Capella passes 4° beyond the zenith of 50° north: it is seen 86° high in the south.
#[test]
fn what_stands_beyond_the_zenith_is_sighted_from_the_other_side() {
    let cabinet = Cabinet::built_in();
    let by_capella = |seen: &[(&str, &str)], side: Option<&str>| {
        let request = WorkRequest {
            star: Some("Capella".to_owned()),
            seen: seen
                .iter()
                .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
                .collect(),
            side: side.map(str::to_owned),
            ..worked("latitude-by-circumpolar-star", "50,0", None)
        };
        desk::work(&request, &cabinet, None)
    };
    let sides = |answer: &desk::WorkAnswer| -> Vec<String> {
        let notes = answer.notes.iter().cloned();
        notes
            .filter(|note| note.contains("side of the zenith"))
            .collect()
    };
    let offered = by_capella(&[], None).unwrap();
    let upper = offered
        .seen
        .iter()
        .find(|one| one.name == "upper-altitude")
        .unwrap();
    assert!((upper.deg - 86.0).abs() < 0.2, "{}", upper.deg);
    assert!((found(&offered, "pole-altitude") - 50.0).abs() < 0.2);
    let seen = [("upper-altitude", "86"), ("lower-altitude", "6")];
    for (side, latitude, notes) in [
        (None, 50.0, 1),
        (Some("south"), 50.0, 0),
        (Some("north"), 46.0, 0),
    ] {
        let answer = by_capella(&seen, side).unwrap();
        assert!((found(&answer, "pole-altitude") - latitude).abs() < 1e-9);
        let of_sides = sides(&answer);
        assert_eq!(of_sides.len(), notes);
        assert!(of_sides.iter().all(|note| note.contains("46°00′")));
    }
    // Counted on through the zenith it says its side.
    let counted = [("upper-altitude", "94"), ("lower-altitude", "6")];
    let answer = by_capella(&counted, None).unwrap();
    assert!((found(&answer, "pole-altitude") - 50.0).abs() < 1e-9);
    assert!(sides(&answer).is_empty());
    for (seen, side) in [(counted, "north"), (seen, "east")] {
        let refusal = by_capella(&seen, Some(side)).unwrap_err();
        assert!(refusal.to_string().contains(side), "{refusal}");
    }
}

/// In the tropics the Sun may stand on the pole's side at noon: at 12° in May it is seen
/// 83°13′ high in the north.
#[test]
fn in_the_tropics_the_noon_sun_may_stand_on_the_poles_side() {
    let cabinet = Cabinet::built_in();
    let tropical = "version = 1\nname = \"tropical\"\ndiameter_mm = 300\nhemisphere = \"north\"\n\
                    orientation = \"noon-up\"\nepoch_year = 2024\nplates_deg = [12]\n\
                    date_from = \"given\"\n";
    for operation in ["latitude-by-noon-sun", "sun-degree-by-altitude"] {
        let mut request = worked(operation, "12,40", None);
        request.moment.with = Some(desk::WithInstrument::Specification(tropical.to_owned()));
        let answer = desk::work(&request, &cabinet, None).unwrap();
        assert!(
            (answer.seen[0].deg - 83.212).abs() < 0.005,
            "{}",
            answer.seen[0].deg
        );
        for finding in &answer.findings {
            let off = (finding.difference_deg.unwrap() + 180.0).rem_euclid(360.0) - 180.0;
            assert!(off.abs() < 2.0, "{operation}: {} {off}", finding.name);
        }
    }
}

/// Whatever is read, what is told is a number or a reason.
#[test]
fn extreme_readings_are_answered_or_refused() {
    fn all_numbers(value: &serde_json::Value, path: &str) {
        use serde_json::Value;
        match value {
            Value::Object(fields) => {
                let reasoned = fields.contains_key("reason");
                for (key, inner) in fields {
                    let number = key == "deg" || key == "reads_to_deg";
                    assert!(!(number && inner.is_null()) || reasoned, "{path}.{key}");
                    all_numbers(inner, &format!("{path}.{key}"));
                }
            }
            Value::Array(items) => items.iter().for_each(|inner| all_numbers(inner, path)),
            Value::String(text) => {
                let words = || text.split(|c: char| !c.is_alphanumeric());
                assert!(
                    words().all(|word| word != "inf" && word != "NaN"),
                    "{path}: {text}"
                );
            }
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
    let cabinet = Cabinet::built_in();
    for value in ["0", "1e-300", "0.004", "12", "45", "90"] {
        for operation in desk::operations() {
            let mut request = worked(operation.name, SANTIAGO, None);
            request.star = Some("any".to_owned());
            request.body = Some("Mars".to_owned());
            request.told = texts([
                ("other-degree", "0 Aries"),
                ("distance", "1000000"),
                ("unequal-hours", "12"),
            ]);
            for need in operation.needs {
                if practice_sights().contains(&need) {
                    request.seen.insert(need.to_owned(), value.to_owned());
                }
            }
            match desk::work(&request, &cabinet, None) {
                Ok(answer) => all_numbers(&serde_json::to_value(&answer).unwrap(), operation.name),
                Err(refusal) => assert!(refusal.to_string().contains("would do"), "{refusal}"),
            }
        }
    }
}

fn practice_sights() -> [&'static str; 10] {
    practice::Sighting::ALL.map(practice::Sighting::name)
}
