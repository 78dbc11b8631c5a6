//! What is read among the lines that some backs bear in their field: by both roads, on
//! instruments drawn at random, and refused where the back has none.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use desk::{Cabinet, CastRequest, Field, Refusal, WithInstrument, WorkAnswer, WorkRequest};
use proptest::prelude::*;

/// The sixth, by the qibla's curves, is not found at every place on every day: it has tests of
/// its own.
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

fn qibla() -> impl Strategy<Value = (f64, f64, f64, f64, (u32, u32))> {
    let place = (2.0..64.0_f64, -180.0..180.0_f64, any::<bool>());
    let off = (-0.5..0.5_f64, -0.5..0.5_f64);
    (place, off, (1..=12_u32, 1..=28_u32)).prop_map(|((latitude, longitude, south), off, day)| {
        let latitude = if south { -latitude } else { latitude };
        (latitude, longitude, off.0, off.1, day)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// The same of the qibla's curves, with the curve of a place beside the one where one
    /// stands: of every difference all is explained, or it is said why nothing is read.
    #[test]
    fn both_roads_meet_towards_mecca(case in qibla(), eye in any::<bool>()) {
        let (latitude, longitude, north, east, (month, day)) = case;
        let city = format!("[\"City\", {:.4}, {:.4}]", latitude + north, (longitude + east).clamp(-179.9, 179.9));
        let at = format!("{latitude:.4},{:.4}", longitude.clamp(-179.9, 179.9));
        let more = if eye { "" } else { "eye_mm = 0\neye_part_of_division = 0" };
        match towards_mecca(&city, &at, &format!("2025-{month:02}-{day:02} 10:17"), more) {
            Ok(answer) => for finding in &answer.findings {
                let unexplained = finding.shares.iter().filter(|one| one.cause == "unexplained");
                let left: f64 = unexplained.map(|one| one.deg.abs()).sum();
                prop_assert!(left < 1e-7, "{}: {left}", finding.name);
                // At the horizon the Sun that moves may have set.
                prop_assert!(finding.exact_deg.is_some() || finding.deg.is_some_and(|deg| deg < 0.5));
                for step in &answer.working.steps {
                    prop_assert!(step.instruction.ends_with('.'), "{}", step.instruction);
                }
            },
            Err(refusal) => prop_assert!(matches!(refusal.field, Field::When | Field::At | Field::With), "{refusal}"),
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
        let asked_qibla = WorkRequest {
            operation: "qibla-by-curves".to_owned(),
            ..request(None)
        };
        let refused = desk::work(&asked_qibla, &cabinet, None)
            .unwrap_err()
            .to_string();
        let both = "parts.quadrant = \"qibla\" and parts.gazetteer = [[\"here\", 46, 7]]";
        assert!(refused.contains(both), "{refused}");
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

/// A back with the qibla curves of places, worked at a place on a day.
fn towards_mecca(places: &str, at: &str, when: &str, more: &str) -> Result<WorkAnswer, Refusal> {
    let southern = at.starts_with('-');
    let (hemisphere, plate) = if southern {
        ("south", -20)
    } else {
        ("north", 40)
    };
    let text = format!(
        "version = 1\nname = \"of the qibla\"\ndiameter_mm = 250\nhemisphere = \"{hemisphere}\"\n\
         epoch_year = 2025\nplates_deg = [{plate}]\n{more}\n[parts]\nquadrant = \"qibla\"\n\
         gazetteer = [{places}]\n"
    );
    let request = WorkRequest {
        operation: "qibla-by-curves".to_owned(),
        moment: CastRequest {
            when: when.to_owned(),
            at: at.to_owned(),
            clock: Some("mean".to_owned()),
            with: Some(WithInstrument::Specification(text)),
            ..CastRequest::default()
        },
        ..WorkRequest::default()
    };
    desk::work(&request, &Cabinet::built_in(), None)
}

/// Where the direction of Mecca is due south or north by the meridian of 39°49′34″, the Sun
/// stands there at noon: 90° − 40° + 23°26′ at midsummer, as 40° − 23°26′ short of the zenith.
#[test]
fn on_meccas_meridian_it_is_noon() {
    let meridian = 39.0 + 49.0 / 60.0 + 34.0 / 3600.0;
    let place = format!("[\"North\", 40, {meridian:.8}]");
    let answer =
        towards_mecca(&place, &format!("40,{meridian:.8}"), "2025-06-21 12:00", "").unwrap();
    let altitude = exactly(&answer, "altitude-towards-mecca");
    assert!((altitude - 73.436).abs() < 0.005, "{altitude}");
    let read = answer.findings[0].deg.unwrap();
    assert!((read - altitude).abs() < 1.0, "{read}");
}

/// Twice on one day where the Sun's azimuth turns back: both altitudes are told, and each is
/// the Sun's at an azimuth that is the bearing of Mecca, by the cosine rule.
#[test]
fn where_the_azimuth_turns_back_there_are_two() {
    let (latitude, longitude) = (10.0_f64, 0.0_f64);
    let answer = towards_mecca("[\"Here\", 10, 0]", "10,0", "2025-06-21 08:00", "").unwrap();
    let both = ["altitude-towards-mecca", "higher-altitude-towards-mecca"];
    let [low, high] = both.map(|name| exactly(&answer, name));
    assert!(low > 0.0 && high > low + 5.0, "{low} {high}");
    let (phi, declination) = (latitude.to_radians(), 23.436_f64.to_radians());
    let mecca = (21.0 + 25.0 / 60.0 + 21.0 / 3600.0_f64).to_radians();
    let away = (39.0 + 49.0 / 60.0 + 34.0 / 3600.0 - longitude).to_radians();
    let bearing = (away.sin() * mecca.cos())
        .atan2(phi.cos() * mecca.sin() - phi.sin() * mecca.cos() * away.cos());
    for altitude in [low, high] {
        let a = altitude.to_radians();
        let cosine = (declination.sin() - phi.sin() * a.sin()) / (phi.cos() * a.cos());
        let azimuth = cosine.acos().to_degrees();
        assert!((azimuth - bearing.to_degrees()).abs() < 0.01, "{azimuth}");
    }
    let last = answer.working.steps.last().unwrap();
    assert!(
        last.instruction.contains("a second time") || last.instruction.contains("the second place")
    );
    assert!(
        last.instruction.contains("forenoon"),
        "{}",
        last.instruction
    );
}

/// Who has no curve of his own is told what to ask for, and what is asked for then does; where
/// or when the Sun never stands there, that is said.
#[test]
fn what_no_curve_gives_is_refused() {
    let isfahan = "[\"Isfahan\", 32.65, 51.67]";
    let none = towards_mecca(isfahan, "46,7", "2025-05-14 10:20", "").unwrap_err();
    assert_eq!(none.field, Field::With, "{none}");
    let asked = "parts.gazetteer = [[\"here\", 46, 7]]";
    assert!(none.to_string().contains(asked), "{none}");
    assert!(towards_mecca("[\"here\", 46, 7]", "46,7", "2025-05-14 10:20", "").is_ok());
    // As far as a degree a city's curve serves, and the difference is accounted for.
    let near = towards_mecca(isfahan, "32.0,51.2", "2025-05-14 10:20", "").unwrap();
    let of_curve = near.findings[0]
        .shares
        .iter()
        .find(|one| one.cause == "plate-latitude");
    assert_eq!(of_curve.unwrap().words, "the curve of another place");
    assert!(towards_mecca(isfahan, "31.5,51.2", "2025-05-14 10:20", "").is_err());
    // In Oslo Mecca lies in the south-east: at midwinter the Sun is not up there.
    let oslo = "[\"Oslo\", 59.91, 10.75]";
    let winter = towards_mecca(oslo, "59.91,10.75", "2025-12-21 10:00", "").unwrap_err();
    assert_eq!(winter.field, Field::When, "{winter}");
    assert!(winter.to_string().contains("a day on which"), "{winter}");
    // It comes there on the horizon at sin δ = cos φ cos q: with q = 139°, 22° south.
    let said = winter.to_string();
    assert!(said.contains("declination of 23°26′ S"), "{said}");
    let would_do = "declination is from 22°02′ S to 23°26′ N would do";
    assert!(said.contains(would_do), "{said}");
    assert!(towards_mecca(oslo, "59.91,10.75", "2025-06-21 10:00", "").is_ok());
    // From the far north-west Mecca lies in the north-east, where the Sun is never up.
    let vancouver = "[\"far\", 48, -120]";
    let never = towards_mecca(vancouver, "48,-120", "2025-06-21 10:00", "").unwrap_err();
    assert_eq!(never.field, Field::At, "{never}");
    let mecca = towards_mecca(isfahan, "21.4225,39.826111", "2025-06-21 10:00", "").unwrap_err();
    assert_eq!(mecca.field, Field::At, "{mecca}");
}

/// Where a curve is broken off beside another that was drawn before it, nothing is read: on
/// some days of the year, and not on others.
#[test]
fn a_curve_is_not_read_where_it_is_broken_off() {
    let two = "[\"Isfahan\", 32.65, 51.67], [\"Istanbul\", 41.01, 28.98]";
    let (mut read, mut broken) = (0, 0);
    for day in 0..120_u32 {
        let when = format!("2025-{:02}-{:02} 10:00", 1 + day / 10, 1 + 3 * (day % 9));
        let Ok(answer) = towards_mecca(two, "41.01,28.98", &when, "") else {
            continue;
        };
        let finding = &answer.findings[0];
        let step = answer.working.steps.last().unwrap();
        if finding.deg.is_some() {
            read += 1;
        } else {
            broken += 1;
            let said = serde_json::to_string(&answer).unwrap();
            assert!(said.contains("broken off"), "{when}: {}", step.instruction);
        }
    }
    assert!(read > 10 && broken > 0, "{read} {broken}");
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
