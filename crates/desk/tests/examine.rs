//! Examining through the desk: the invented astrolabe from a drawer, a delivered piece, and
//! what cannot be understood.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use desk::{Cabinet, ExamineRequest, ExaminedAnswer, WithInstrument};

const DRAWER: &str = include_str!("../../../data/measurements/from-a-drawer.toml");

fn examined(request: &ExamineRequest) -> ExaminedAnswer {
    desk::examine(request, &Cabinet::built_in()).unwrap()
}

fn drawer() -> ExamineRequest {
    ExamineRequest {
        measurements: DRAWER.to_owned(),
        ..ExamineRequest::default()
    }
}

/// It was drawn for 52° and 48°54′, an obliquity of 23°30′ and the stars of 1340, with errors
/// of a tenth of a millimetre.
#[test]
fn the_astrolabe_from_a_drawer_tells_what_it_is() {
    let found = examined(&drawer());
    let circles = found.circles.unwrap();
    let obliquity = circles.obliquity_deg;
    assert!((obliquity.at - 23.5).abs() < 3.0 * obliquity.within);
    for (plate, latitude) in found.plates.iter().zip([52.0, 48.9]) {
        let told = plate.latitude_deg.unwrap();
        assert!((told.at - latitude).abs() < 3.0 * told.within, "{told:?}");
        assert!(told.within < 0.15);
    }
    let stars = found.stars.unwrap();
    assert!((stars.year.at - 1340.0).abs() < 20.0, "{:?}", stars.year);
    let doubtful: Vec<&str> = stars
        .stars
        .iter()
        .filter(|one| one.doubtful)
        .map(|one| one.name)
        .collect();
    assert_eq!(doubtful, ["Rastaben"]);
    let off = circles.ecliptic_offset_mm.unwrap();
    assert!(off.at > 3.0 * off.within, "{off:?}");
    // The hole lies a quarter of a millimetre off, towards 75°.
    let limb = found.limb.unwrap();
    assert!((limb.off_centre_mm.unwrap().at - 0.25).abs() < 0.05);
    assert!((limb.towards_deg - 75.0).abs() < 8.0);
    let text = found.sentences.join(" ");
    for said in ["not what stands on it", "without Rastaben", "The hole lies"] {
        assert!(text.contains(said), "{said}: {text}");
    }
}

/// The specification that comes out is one, and an instrument made by it is what was
/// measured.
#[test]
fn what_was_examined_can_be_worked_with() {
    let text = examined(&drawer()).specification.unwrap();
    let with = WithInstrument::Specification(text);
    let again = examined(&ExamineRequest {
        with: Some(with.clone()),
        within_mm: Some(0.7),
        ..drawer()
    });
    let against = again.against.unwrap();
    // But for the pointer that is bent, and the plate that is not the one that it is
    // lettered as.
    let missed = |line: &&desk::DeviationAnswer| line.off_mm.abs() > 0.7;
    let missed: Vec<&str> = against
        .lines
        .iter()
        .filter(missed)
        .map(|line| line.what.as_str())
        .collect();
    assert!(missed.contains(&"Rastaben, from the hole"), "{missed:?}");
    assert!(
        missed
            .iter()
            .all(|what| what.starts_with("Rastaben") || what.starts_with("plate")),
        "{missed:?}"
    );
    let case = desk::CastRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: "51.75,-1.26".to_owned(),
        with: Some(with),
        ..desk::CastRequest::default()
    };
    let cast = desk::cast(&case, &Cabinet::built_in(), None).unwrap();
    assert!(cast.reading.is_some());
}

/// Where a picture shows the plate's lines and the ring, there the instrument has them that
/// comes of it; what is within its error is no fault.
#[test]
fn what_lies_off_in_a_picture_is_a_fault_of_the_instrument() {
    let found = examined(&ExamineRequest {
        measurements: include_str!("../../../data/measurements/from-a-picture.toml").to_owned(),
        ..ExamineRequest::default()
    });
    let text = found.specification.unwrap();
    let specification = instrument::Specification::from_toml(&text).unwrap();
    let faults = specification.faults;
    let pictured = found.pictured.unwrap();
    let limb_mm = pictured.limb_radius_mm.unwrap();
    for (fault, percent) in [
        (faults.plate_off_noon, pictured.off_noon_percent),
        (faults.plate_off_west, pictured.off_west_percent),
        (faults.ecliptic_offset, pictured.ring_off_percent),
    ] {
        let told_mm = percent.unwrap().at / 100.0 * limb_mm;
        assert!(fault.mm().abs() > 0.2, "{text}");
        assert!((fault.mm() - told_mm).abs() < 0.001, "{text}");
    }
    let rete = pictured.rete_off_percent;
    assert!(rete.is_none_or(|one| one.at < 3.0 * one.within), "{rete:?}");
    assert!(faults.pin_play.mm() < 1e-9 && faults.plate_turned.deg().abs() < 1e-9);
}

/// Without a letter on it a plate is held against the one whose lines it has.
#[test]
fn a_plate_without_letters_is_known_by_its_lines() {
    let text = examined(&drawer()).specification.unwrap();
    let bare: String = DRAWER
        .lines()
        .filter(|line| !line.starts_with("lettered_deg"))
        .map(|line| format!("{line}\n"))
        .collect();
    let again = examined(&ExamineRequest {
        measurements: bare,
        with: Some(WithInstrument::Specification(text)),
        within_mm: Some(0.7),
    });
    let against = again.against.unwrap();
    let plates = against
        .lines
        .iter()
        .filter(|line| line.what.starts_with("plate"));
    assert!(plates.clone().count() > 10);
    for line in plates {
        assert!(line.off_mm.abs() < 0.7, "{line:?}");
    }
}

#[test]
fn what_cannot_be_understood_is_said() {
    let refused = |request: &ExamineRequest| {
        desk::examine(request, &Cabinet::built_in())
            .unwrap_err()
            .message
    };
    let southern = ExamineRequest {
        with: Some(WithInstrument::Named("southern instrument".to_owned())),
        ..drawer()
    };
    assert!(refused(&southern).contains("other hemisphere"));
    let within = ExamineRequest {
        with: Some(WithInstrument::Named("class instrument".to_owned())),
        within_mm: Some(f64::NAN),
        ..drawer()
    };
    assert!(refused(&within).contains("such as 0.2"));
    let alone = ExamineRequest {
        within_mm: Some(0.2),
        ..drawer()
    };
    assert!(refused(&alone).contains("a specification would do"));
    assert!(refused(&ExamineRequest::default()).contains("version"));
    let little = ExamineRequest {
        measurements: "version = 1\nname = \"little\"\n".to_owned(),
        ..ExamineRequest::default()
    };
    assert_eq!(examined(&little).sentences.len(), 1);
}

/// Every key of the file is in its documentation.
#[test]
fn the_example_is_documented() {
    let text = include_str!("../../../docs/measurements.md");
    for line in DRAWER.lines().filter(|line| !line.starts_with('#')) {
        let Some((key, _)) = line.split_once(" = ") else {
            continue;
        };
        let key = key.trim().trim_start_matches("{ ");
        assert!(text.contains(&format!("`{key}`")), "{key}");
    }
}

/// A single plate whose lines lie off the hole is told by the caliper, and becomes a fault.
#[test]
fn a_plate_off_the_hole_by_the_caliper_is_a_fault() {
    // tan((90° ± h) / 2) of the almucantars of 45° on an equator of 50 mm, moved by 0.6 mm.
    let at = |angle: f64| 50.0 * (angle.to_radians() / 2.0).tan() + 0.6;
    let crossings: String = [0.0, 30.0, 60.0]
        .map(|height: f64| {
            let [noon, midnight] = [at(180.0 - 45.0 - height), -at(45.0 - height) + 1.2];
            format!("{{ altitude_deg = {height}, noon_mm = {noon}, midnight_mm = {midnight} }},\n")
        })
        .concat();
    let text = format!(
        "version = 1\nname = \"invented\"\ndiameter_mm = 180\n[circles]\ncapricorn_mm = 152.39\n\
         equator_mm = 100\ncancer_mm = 65.62\n[[plates]]\nalmucantars = [\n{crossings}]\n"
    );
    let found = examined(&ExamineRequest {
        measurements: text,
        ..ExamineRequest::default()
    });
    let text = found.specification.unwrap();
    let specification = instrument::Specification::from_toml(&text).unwrap();
    let off_mm = specification.faults.plate_off_noon.mm();
    assert!((off_mm - 0.6).abs() < 0.1, "{text}");
}

/// A plate lettered 42° and drawn for 42°30′, measured without error: towards noon every
/// almucantar stands half a degree higher than it says, towards midnight half a degree lower,
/// which is what the latitude itself is off (r = R tan(p/2), p from the pole).
#[test]
fn a_plates_own_errors_are_told_as_measured() {
    const EQUATOR_MM: f64 = 40.0;
    let radius = |from_pole: f64| EQUATOR_MM * (from_pole / 2.0).to_radians().tan();
    let rows: Vec<String> = [20.0, 30.0, 50.0, 70.0]
        .map(|altitude: f64| {
            let noon = radius(90.0 - 42.5 + 90.0 - altitude);
            let midnight = radius(90.0 - 42.5 - (90.0 - altitude));
            format!(
                "{{ altitude_deg = {altitude}, noon_mm = {noon:.6}, midnight_mm = {midnight:.6} }}"
            )
        })
        .to_vec();
    let text = format!(
        "version = 1\nname = \"plate\"\nhemisphere = \"north\"\nmeasured_to_mm = 0.05\n\
         [[plates]]\nlettered_deg = 42\nequator_mm = {}\nalmucantars = [\n{}\n]\n",
        2.0 * EQUATOR_MM,
        rows.join(",\n")
    );
    let found = examined(&ExamineRequest {
        measurements: text,
        ..ExamineRequest::default()
    });
    let errors = &found.plates[0].errors;
    assert_eq!(errors.len(), 8);
    for one in errors {
        let wanted = if one.towards == "noon" { 0.5 } else { -0.5 };
        assert!((one.to_add_deg - wanted).abs() < 1e-4, "{one:?}");
        assert!((one.stands_deg.at - one.engraved_deg - wanted).abs() < 1e-4);
        // 0.05 mm on the circle, by the radii of the next tenth of a degree.
        let side = if one.towards == "noon" { 1.0 } else { -1.0 };
        let from_pole = 90.0 - 42.5 + side * (90.0 - one.engraved_deg);
        let per_degree = (radius(from_pole + 0.05) - radius(from_pole - 0.05)) * 10.0;
        assert!((one.stands_deg.within * per_degree - 0.05).abs() < 1e-4);
    }
}
