//! The gazetteer of the mater's floor: what stands there is what was listed, and Mecca lies
//! where the great circle says.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use drawing::{Item, Making, Workpiece, workpieces};
use instrument::{Instrument, ListedPlace, Specification};
use proptest::prelude::*;
use sky::{Angle, Latitude};

const PLACES: &str = "[\"London\", 51.5074, -0.1278], [\"New York\", 40.7128, -74.0060], \
                      [\"Jakarta\", -6.2088, 106.8456], [\"Toledo\", 39.8567, -4.0245]";

fn specified(diameter: f64, parts: &str) -> String {
    format!(
        "version = 1\nname = \"places\"\ndiameter_mm = {diameter}\nepoch_year = 2025\nplates_deg = [50]\n[parts]\n{parts}\n"
    )
}

fn floor(diameter: f64, parts: &str) -> Workpiece {
    let made = Instrument::new(Specification::from_toml(&specified(diameter, parts)).unwrap());
    let pieces = workpieces(&made, &[Making::Back]);
    pieces
        .into_iter()
        .find(|piece| piece.name == "floor")
        .unwrap()
}

fn texts(piece: &Workpiece) -> Vec<String> {
    let all = piece.items.iter().filter_map(|item| match item {
        Item::Text(one) => Some(one.text.clone()),
        Item::Stroke(_) | Item::Fill(_) => None,
    });
    all.collect()
}

/// Values widely printed for these towns, from memory: London 118°59′, New York 58°29′, Jakarta
/// 295°9′.
#[test]
fn places_stand_on_the_floor_with_their_qibla() {
    let piece = floor(180.0, &format!("gazetteer = [{PLACES}]\nqibla = true"));
    let found = texts(&piece);
    for wanted in [
        "London",
        "51°30′ N",
        "0°08′ W",
        "118°59′",
        "58°29′",
        "295°09′",
        "106°51′ E",
        "6°13′ S",
        "qibla",
    ] {
        assert!(
            found.iter().any(|text| text == wanted),
            "{wanted}: {found:?}"
        );
    }
    let plain = texts(&floor(180.0, &format!("gazetteer = [{PLACES}]")));
    assert!(!plain.contains(&"qibla".to_owned()) && plain.contains(&"Toledo".to_owned()));
}

/// On a small piece the last places are left away, and that is told.
#[test]
fn a_small_floor_bears_fewer() {
    let many: Vec<String> = (1..=48)
        .map(|n| format!("[\"Place {n}\", {n}.5, -{n}.25]"))
        .collect();
    let mut before = 0;
    for diameter in [50.0, 90.0, 180.0, 400.0] {
        let piece = floor(
            diameter,
            &format!("gazetteer = [{}]\nqibla = true", many.join(", ")),
        );
        let names = texts(&piece)
            .iter()
            .filter(|text| text.starts_with("Place"))
            .count();
        let told = piece
            .thinned
            .iter()
            .any(|one| one.what == "places of the gazetteer");
        assert_eq!(told, names < 48, "{diameter}: {names}");
        assert!(names >= before, "{diameter}: {names}");
        before = names;
    }
    assert!(before > 20, "{before}");
}

#[test]
fn what_is_no_place_is_refused() {
    for (parts, message) in [
        ("gazetteer = \"Toledo\"", "is not a list"),
        ("gazetteer = [[\"Toledo\", 39.9]]", "is no place"),
        ("gazetteer = [[\"Toledo\", 99, 0]]", "is no place"),
        ("gazetteer = [[\"Toledo\", 39, 181]]", "is no place"),
        ("gazetteer = [[\"\", 39, 0]]", "is no place"),
        ("qibla = \"yes\"", "true or false would do"),
    ] {
        let told = Specification::from_toml(&specified(90.0, parts))
            .unwrap_err()
            .to_string();
        assert!(told.contains(message), "{told}");
    }
}

proptest! {
    /// The bearing by vectors: Mecca's direction split into the place's own east and north.
    #[test]
    fn qibla_is_the_great_circles_bearing(latitude in -89.0..89.0_f64, longitude in -180.0..180.0_f64) {
        let at = |latitude: f64, longitude: f64| {
            let (phi, l) = (latitude.to_radians(), longitude.to_radians());
            [phi.cos() * l.cos(), phi.cos() * l.sin(), phi.sin()]
        };
        let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        let mecca = at(21.422_5, 39.826_111);
        let (phi, l) = (latitude.to_radians(), longitude.to_radians());
        let east = [-l.sin(), l.cos(), 0.0];
        let north = [-phi.sin() * l.cos(), -phi.sin() * l.sin(), phi.cos()];
        let place = ListedPlace {
            name: "somewhere".to_owned(),
            latitude: Latitude::from_deg(latitude).unwrap(),
            longitude: Angle::from_deg(longitude),
        };
        let wanted = dot(mecca, east).atan2(dot(mecca, north)).to_degrees();
        // Beside Mecca and its antipode a second of arc turns it far.
        prop_assume!(dot(mecca, east).hypot(dot(mecca, north)) > 0.05);
        let off = Angle::from_deg(wanted).to(place.qibla().unwrap()).abs().deg();
        prop_assert!(off < 0.001, "{off}");
    }
}
