//! The rising and setting operations against ERFA: at the very moment of an event, an
//! instrument turned to it shows the moment's own hour.

use std::collections::BTreeMap;

use desk::{Cabinet, CastRequest, WithInstrument, WorkRequest};
use moment::{Calendar, CivilDate};
use sky::{Angle, Zodiacal};

/// Risings, settings, culminations and twilights of Sun, stars and degrees by pyerfa
/// 2.0.1.5, by the script beside the table.
const TABLE: &str = include_str!("../../../reference/horizon_events.csv");

/// Half a second of time: the table's places and ours part by 0.02″, the Sun stands up
/// to 0.8″ off the ecliptic, and the instrument is told the time to the millisecond.
const SUN_AND_DEGREES_DEG: f64 = 0.5 / 240.0;

/// A pointer stands at the star's mean place; aberration (20″) and nutation (17″) move the
/// star itself.
const STARS_DEG: f64 = 0.016;

/// An operation and what it finds, for an event of the table.
fn operation(kind: &str, event: &str, upward: bool) -> Option<(&'static str, &'static str)> {
    Some(match (kind, event, upward) {
        ("Sun", "geometric", true) => ("day-and-night", "sunrise"),
        ("Sun", "geometric", false) => ("day-and-night", "sunset"),
        ("Sun", "astronomical", true) => ("dawn-and-nightfall", "dawn"),
        ("Sun", "astronomical", false) => ("dawn-and-nightfall", "nightfall"),
        ("star", "geometric", true) => ("star-up", "rising"),
        ("star", "geometric", false) => ("star-up", "setting"),
        ("degree", "geometric", true) => ("degree-up", "rising"),
        ("degree", "geometric", false) => ("degree-up", "setting"),
        // The table's upper culminations are those after which it goes down.
        ("star", "culmination", false) => ("star-up", "culmination"),
        ("degree", "culmination", false) => ("degree-up", "culmination"),
        _ => return None,
    })
}

/// `YYYY-MM-DD HH:MM:SS.sss` of a Julian date.
fn universal_time(jd_ut: f64) -> String {
    let day = (jd_ut + 0.5).floor();
    let date = CivilDate::from_julian_day_number(Calendar::Gregorian, day as i32);
    let millis = ((jd_ut + 0.5 - day) * 86_400_000.0).round() as u64;
    let (seconds, millis) = (millis / 1000, millis % 1000);
    format!(
        "{:04}-{:02}-{:02} {:02}:{:02}:{:02}.{millis:03}",
        date.year(),
        date.month(),
        date.day(),
        seconds / 3600,
        seconds / 60 % 60,
        seconds % 60
    )
}

/// An instrument without faults, for a place and an obliquity, with the table's stars.
fn instrument(latitude: f64, obliquity: f64, year: &str) -> String {
    let hemisphere = if latitude < 0.0 { "south" } else { "north" };
    format!(
        "version = 1\nname = \"ideal\"\ndiameter_mm = 300\nhemisphere = \"{hemisphere}\"\n\
         epoch_year = {year}\nobliquity_deg = {obliquity}\nplates_deg = [{latitude}]\n\
         date_from = \"given\"\neye_mm = 0\nstars = [\"Aldebaran\", \"Rigel\", \"Sirius\", \
         \"Regulus\", \"Spica\", \"Arcturus\", \"Antares\"]\n"
    )
}

#[test]
fn risings_settings_and_culminations_are_erfa_s() {
    let cabinet = Cabinet::built_in();
    let mut compared: BTreeMap<&str, usize> = BTreeMap::new();
    for row in TABLE.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let fields: Vec<&str> = row.split(',').collect();
        let [kind, name, latitude, longitude, event, _, _, jd_ut, upward] = fields[..] else {
            panic!("{row}")
        };
        let Some((operation, finds)) = operation(kind, event, upward == "True") else {
            continue;
        };
        let (Ok(jd_ut), Ok(latitude)) = (jd_ut.parse::<f64>(), latitude.parse::<f64>()) else {
            // No event within the days of the row.
            continue;
        };
        // Near the poles an event is coarse by nature.
        if latitude.abs() > 66.0 {
            continue;
        }
        let moment = CastRequest {
            when: universal_time(jd_ut),
            at: format!("{latitude},{longitude}"),
            clock: Some("+00:00".to_owned()),
            ..CastRequest::default()
        };
        let cast = desk::cast(&moment, &cabinet, None).unwrap();
        let specification = instrument(latitude, cast.sky.obliquity_deg, &moment.when[..4]);
        let degree = |deg: &str| Zodiacal(Angle::from_deg(deg.parse().unwrap())).0;
        let request = WorkRequest {
            operation: operation.to_owned(),
            moment: CastRequest {
                with: Some(WithInstrument::Specification(specification)),
                ..moment
            },
            star: (kind == "star").then(|| format!("HIP {name}")),
            told: (kind == "degree")
                .then(|| ("degree".to_owned(), degree(name).deg().to_string()))
                .into_iter()
                .collect(),
            ..WorkRequest::default()
        };
        let answer = match desk::work(&request, &cabinet, None) {
            Ok(answer) => answer,
            // Antares lies beyond the tropic at which a northern rete ends.
            Err(why) if why.field == desk::Field::Star && name == "80763" => continue,
            Err(why) => panic!("{row}: {why}"),
        };
        let finding = answer
            .findings
            .iter()
            .find(|one| one.name == finds)
            .unwrap();
        let now = (cast.moment.local_apparent_time_h - 12.0) * 15.0;
        let allowed = if kind == "star" {
            STARS_DEG
        } else {
            SUN_AND_DEGREES_DEG
        };
        // What rises at a slant moves less in height than it turns.
        let slant = latitude.to_radians().cos().powi(2);
        for found in [finding.deg, finding.exact_deg] {
            let off = (found.unwrap() - now + 180.0).rem_euclid(360.0) - 180.0;
            assert!(
                off.abs() < allowed / slant,
                "{row}: {finds} is off by {off}°"
            );
        }
        *compared.entry(finds).or_default() += 1;
    }
    assert_eq!(compared.len(), 7, "{compared:?}");
    assert!(compared.values().all(|count| *count >= 12), "{compared:?}");
}
