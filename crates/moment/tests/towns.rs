//! The gazetteer: towns by name, by what is written so far, and by place.

#![expect(clippy::unwrap_used, reason = "a test may fail by panicking")]

use moment::{Missing, Place, Suggested, Town, fold_name};
use proptest::prelude::*;
use sky::{Angle, Latitude};

#[track_caller]
fn finds(text: &str, full_name: &str) {
    assert_eq!(Town::named(text).unwrap().full_name(), full_name);
}

#[test]
fn accents_cases_codes_and_other_languages_do_not_matter() {
    finds(
        "Santiago de Compostela",
        "Santiago de Compostela, Galicia, Spain",
    );
    finds(
        "SANTIAGO DE COMPOSTELA,es",
        "Santiago de Compostela, Galicia, Spain",
    );
    finds("munchen, germany", "Munich, Bavaria, Germany");
    finds("Muenchen, Deutschland", "Munich, Bavaria, Germany");
    finds("Zurich, Switzerland", "Zürich, Zurich, Switzerland");
    finds("Zuerich, Switzerland", "Zürich, Zurich, Switzerland");
    finds("Koeln, Germany", "Köln, North Rhine-Westphalia, Germany");
    finds("reykjavik", "Reykjavík, Capital Region, Iceland");
    finds("São Paulo, Brazil", "São Paulo, São Paulo, Brazil");
    finds("L'Aquila, Italy", "L'Aquila, Abruzzo, Italy");
    finds(
        "Saint Étienne, France",
        "Saint-Étienne, Auvergne-Rhône-Alpes, France",
    );
    finds("London, Ontario", "London, Ontario, Canada");
    finds("London, England", "London, England, United Kingdom");
    finds(
        "Cambridge, MA, US",
        "Cambridge, Massachusetts, United States",
    );
    finds(
        "Washington, D.C.",
        "Washington, District of Columbia, United States",
    );
    // A village.
    finds("Soldeu", "Soldeu, Canillo, Andorra");
}

#[test]
fn towns_of_one_name_are_asked_about_the_largest_first() {
    let error = Town::named("Paris").unwrap_err();
    assert_eq!(error.missing(), Some(Missing::Place));
    assert_eq!(error.candidates()[0], "Paris, Île-de-France, France");
    assert!(error.candidates().len() > 5);
    assert!(error.to_string().contains("Paris, Texas, United States"));
    let many = Town::named("San Antonio").unwrap_err().to_string();
    assert!(many.contains("more") && many.len() < 1000, "{many}");
}

/// A name that a town had, or has in another language, finds it: GeoNames has these
/// among its names. Where a smaller town bears the name itself, neither is chosen.
#[test]
fn former_names_find_the_town_and_say_so() {
    for (former, name) in [
        ("Constantinople", "Istanbul"),
        ("Leningrad", "Saint Petersburg"),
        ("Peking", "Beijing"),
        ("Danzig", "Gdańsk"),
        ("Tiflis", "Tbilisi"),
        ("Bombay, India", "Mumbai"),
        ("Calcutta, India", "Kolkata"),
        ("Batavia, Indonesia", "Jakarta"),
        ("Salisbury, Zimbabwe", "Harare"),
        ("Königsberg, Russia", "Kaliningrad"),
    ] {
        let place = Place::find(former).unwrap();
        assert!(place.name.starts_with(name), "{former}: {}", place.name);
        let said = former.split(',').next().unwrap();
        assert_eq!(place.called.as_deref(), Some(said));
    }
    for (shared, largest, bearer) in [
        ("Bombay", "Mumbai", "Bombay, Auckland, New Zealand"),
        ("Madras", "Chennai", "Madras, Oregon, United States"),
        ("Breslau", "Wrocław", "Breslau, Ontario, Canada"),
        ("Calcutta", "Kolkata", "Calcutta, Ohio, United States"),
        (
            "New Amsterdam",
            "New York",
            "New Amsterdam, East Berbice-Corentyne, Guyana",
        ),
    ] {
        let error = Town::named(shared).unwrap_err();
        assert!(
            error.candidates()[0].starts_with(largest),
            "{shared}: {error}"
        );
        assert!(
            error.candidates().iter().any(|one| one == bearer),
            "{error}"
        );
        assert_eq!(Place::find(bearer).unwrap().called, None);
    }
    // Accents and umlauts make no other name.
    for plain in ["reykjavik", "Saint Etienne, France", "Zuerich, Switzerland"] {
        assert_eq!(Place::find(plain).unwrap().called, None, "{plain}");
    }
}

#[test]
fn every_candidate_names_one_town_alone() {
    for name in [
        "Paris",
        "Springfield",
        "San José",
        "Neustadt",
        "Saint-Martin",
        "Santa Cruz",
        "Bombay",
        "Newcastle, United Kingdom",
    ] {
        for candidate in Town::named(name).unwrap_err().candidates() {
            assert!(Town::named(candidate).is_ok(), "{candidate}");
        }
    }
}

#[test]
fn what_does_not_exist_is_answered_with_what_may_be_meant() {
    #[track_caller]
    fn offers(text: &str, name: &str) {
        let message = Town::named(text).unwrap_err().to_string();
        assert!(message.contains(name), "{message}");
    }
    offers("Lodnon", "London, England, United Kingdom");
    offers("Copenhagn", "Copenhagen, Capital Region, Denmark");
    offers("Cairo, Denmark", "Cairo, Cairo, Egypt");
    for text in [
        "",
        ",",
        "???",
        "Madrid, Spain, Europe, Earth",
        &"a".repeat(100_000),
    ] {
        let message = Town::named(text).unwrap_err().to_string();
        assert!(
            message.contains("no such town") && message.len() < 400,
            "{message}"
        );
    }
}

fn suggested(text: &str, near: Option<&str>) -> Vec<Suggested> {
    let near = near.map(|near| Town::named(near).unwrap());
    Town::suggest(text, near.map(|town| (town.latitude, town.longitude)), 8)
}

fn names(text: &str, near: Option<&str>) -> Vec<String> {
    let towns = suggested(text, near).into_iter();
    towns.map(|one| one.town.full_name()).collect()
}

#[test]
fn suggestions_go_by_fit_then_size() {
    let names = |text: &str| names(text, None);
    assert_eq!(names("lond")[0], "London, England, United Kingdom");
    assert_eq!(names("paris, t")[0], "Paris, Texas, United States");
    assert_eq!(
        names("compostela, sp")[0],
        "Santiago de Compostela, Galicia, Spain"
    );
    assert!(names("santiago de comp")[0].contains("Galicia"));
    assert!(names("").is_empty());
    assert!(names(&"x".repeat(100_000)).is_empty());
    assert_eq!(Town::suggest("san", None, 20).len(), 20);
    // The whole of a name in another language, or of old, is as good as its own.
    assert_eq!(names("firenze")[0], "Florence, Tuscany, Italy");
    assert_eq!(names("wien")[0], "Vienna, Vienna, Austria");
    assert!(names("constantinople")[0].starts_with("Istanbul"));
}

#[test]
fn suggestions_begin_with_what_is_called_so_and_is_near() {
    let home = "Santiago de Compostela, Galicia, Spain";
    assert_eq!(names("sant", Some(home))[0], home);
    assert_eq!(
        names("toled", Some(home))[0],
        "Toledo, Castille-La Mancha, Spain"
    );
    assert_eq!(
        names("toled", Some("Detroit, Michigan"))[0],
        "Toledo, Ohio, United States"
    );
    assert_eq!(
        names("new yo", Some(home))[0],
        "New York City, New York, United States"
    );
    // A village of just this name stands behind a city of which it is the beginning.
    assert_ne!(suggested("sant", None)[0].town.name, "Șanț");
}

#[test]
fn suggestions_say_why_a_town_of_another_name_stands_there() {
    for text in ["sant", "toled", "new yo", "bomb", "lemb"] {
        let suggested = suggested(text, None);
        for one in &suggested {
            let begins = |name: &str| format!(" {}", fold_name(name)).contains(&format!(" {text}"));
            match &one.called {
                None => assert!(begins(&one.town.name), "{text}: {}", one.town.name),
                Some(called) => assert!(begins(called), "{text}: {called}"),
            }
        }
        let first_other = suggested.iter().position(|one| one.called.is_some());
        let last_own = suggested.iter().rposition(|one| one.called.is_none());
        if let (Some(other), Some(own)) = (first_other, last_own) {
            assert!(own < other, "{text}: {suggested:?}");
        }
    }
    let bombay = suggested("bombay", None);
    assert!(
        bombay
            .iter()
            .any(|one| one.town.name == "Mumbai" && one.called.as_deref() == Some("Bombay")),
        "{bombay:?}"
    );
}

#[test]
fn coordinates_take_the_zone_of_the_nearest_town() {
    let cathedral = Place::find("42.8806,-8.5449")
        .unwrap()
        .with_zone_of_nearest_town();
    assert_eq!(cathedral.zone.unwrap().name(), "Europe/Madrid");
    let nearest = cathedral.nearest.unwrap();
    assert!(
        nearest.town.starts_with("Santiago de Compostela"),
        "{}",
        nearest.town
    );
    assert!(nearest.distance_km < 1.0);
    // In the middle of an ocean no zone is guessed.
    assert_eq!(
        Place::find("0,-30")
            .unwrap()
            .with_zone_of_nearest_town()
            .zone,
        None
    );
    // Across the meridian of 180°: Fiji's islands lie on both sides.
    let fiji = Place::find("-16.8,-179.9")
        .unwrap()
        .with_zone_of_nearest_town();
    assert_eq!(fiji.zone.unwrap().name(), "Pacific/Fiji");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Against all the towns of the surroundings: none that suggestions know is
    /// nearer than the nearest.
    #[test]
    fn no_large_town_is_nearer_than_the_nearest(
        latitude_deg in -90.0..=90.0f64,
        longitude_deg in -180.0..=180.0f64,
        name in "[a-z]{2}",
    ) {
        let latitude = Latitude::from_deg(latitude_deg).unwrap();
        let longitude = Angle::from_deg(longitude_deg);
        let (_, km) = Town::nearest(latitude, longitude).unwrap();
        for Suggested { town, .. } in Town::suggest(&name, None, 50) {
            let cosine = latitude.sin() * town.latitude.sin()
                + latitude.cos() * town.latitude.cos() * (town.longitude - longitude).cos();
            // A metre for the arc cosine of what is nearly one.
            prop_assert!(km <= Angle::acos(cosine).rad() * 6371.0 + 0.001);
        }
    }
}
