//! Letters stand on no others, and the file is a well-formed, named, repeatable SVG.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use drawing::{Item, LabelBox, Lettering, Scene, Setting, Svg, front};
use instrument::{Instrument, LineId, Specification, State};
use proptest::prelude::*;
use roxmltree::Document;
use sky::{Angle, Latitude};

/// Smaller letters are left out: capitals of 0.9 mm.
const LEAST_HEIGHT_MM: f64 = 0.9;

/// The greatest file for a 200 mm front.
const MOST_BYTES: usize = 300_000;

fn instrument(diameter_mm: f64, more: &str) -> Instrument {
    let text = format!(
        "version = 1\nname = \"a < b & \\\"c\\\"\"\ndiameter_mm = {diameter_mm:.3}\n\
         epoch_year = 2025\nplates_deg = [0]\n{more}"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

fn at_rest(latitude: f64) -> Setting {
    Setting::at_rest(Latitude::from_deg(latitude).unwrap())
}

fn letterings(scene: &Scene, group: &str) -> Vec<Lettering> {
    let groups = scene.groups.iter().filter(|one| one.name == group);
    groups
        .flat_map(|group| &group.items)
        .filter_map(|item| match item {
            Item::Text(lettering) => Some(lettering.clone()),
            _ => None,
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn no_letters_stand_on_others(
        size in 40.0..500.0, latitude in -90.0..90.0,
        hemisphere in prop::sample::select(vec!["north", "south"]),
        top in prop::sample::select(vec!["noon-up", "midnight-up"]),
        dates in prop::sample::select(vec!["zodiac", "equal-day-ring", "true-sun-ring"]),
        houses in prop::sample::select(vec!["none", "regiomontanus", "campanus"]),
    ) {
        let more = format!(
            "hemisphere = \"{hemisphere}\"\norientation = \"{top}\"\ndate_from = \"{dates}\"\n\
             house_lines = \"{houses}\"\n"
        );
        let instrument = instrument(size, &more);
        let scene = front(&instrument, &at_rest(latitude));
        for part in ["mater", "plate", "rete", "rule"] {
            let letterings = letterings(&scene, part);
            let boxes: Vec<Vec<LabelBox>> = letterings.iter().map(Lettering::boxes).collect();
            for (n, (one, spaces)) in letterings.iter().zip(&boxes).enumerate() {
                prop_assert!(one.height_mm() >= LEAST_HEIGHT_MM - 1e-9, "{:?}", one);
                // Nothing hangs over the rim.
                let corners = spaces.iter().flat_map(LabelBox::corners);
                let far = corners.map(|p| p.radius()).fold(0.0, f64::max);
                prop_assert!(far < size / 2.0, "{:?}", one);
                for (other, others) in letterings.iter().zip(&boxes).skip(n + 1) {
                    let clash = spaces.iter().any(|a| others.iter().any(|b| a.overlaps(b)));
                    prop_assert!(!clash, "{} stands on {}", one.text, other.text);
                }
            }
        }
    }
}

#[test]
fn every_sign_and_most_stars_are_named_on_a_class_instrument() {
    let instrument = instrument(180.0, "");
    let scene = front(&instrument, &at_rest(42.0));
    let texts: Vec<String> = letterings(&scene, "rete")
        .into_iter()
        .map(|one| one.text)
        .collect();
    for sign in ["Aries", "Leo", "Sagittarius", "Capricornus", "Pisces"] {
        assert!(texts.iter().any(|text| text == sign), "{sign} is missing");
    }
    let named = |star: &&instrument::StarPointer| texts.iter().any(|text| text == star.name);
    let count = instrument.stars().iter().filter(named).count();
    assert!(count * 10 >= instrument.stars().len() * 8, "{count}");
}

#[test]
fn noon_is_lettered_twelve() {
    let twice = front(&instrument(180.0, ""), &at_rest(42.0));
    let once = front(
        &instrument(
            180.0,
            "limb_hours = \"twenty-four\"\norientation = \"midnight-up\"\n",
        ),
        &at_rest(42.0),
    );
    let middle_of = |scene: &Scene, text: &str| {
        let found = letterings(scene, "mater");
        let found = found.iter().filter(|one| one.text == text);
        let places: Vec<(f64, f64)> = found
            .map(|one| {
                let corners = one.boxes()[0].corners();
                let sum = corners
                    .iter()
                    .fold((0.0, 0.0), |s, p| (s.0 + p.x, s.1 + p.y));
                (sum.0 / 4.0, sum.1 / 4.0)
            })
            .collect();
        places
    };
    assert_eq!(middle_of(&twice, "XII").len(), 2);
    // In the bare number's place the degrees may have another: the outermost counts.
    let lowest = |places: Vec<(f64, f64)>| places.into_iter().map(|p| p.1).fold(f64::MIN, f64::max);
    assert!(lowest(middle_of(&once, "12")) > 80.0, "noon is below");
    assert!(middle_of(&once, "24")[0].1 < -80.0, "midnight is above");
    let three = middle_of(&twice, "III");
    assert!(
        three.iter().any(|p| p.0 > 0.0 && p.1 < 0.0),
        "three after noon is on the right"
    );
}

#[test]
fn the_file_is_well_formed_named_and_repeatable() {
    let instrument = instrument(
        200.0,
        "date_from = \"equal-day-ring\"\nhouse_lines = \"campanus\"\n",
    );
    let state = State {
        rete: Angle::from_deg(123.456),
        rule: Angle::from_deg(-77.7),
        ..State::at_rest(Latitude::from_deg(51.5).unwrap())
    };
    let lit = vec![LineId::Horizon, LineId::RuleEdge];
    let setting = Setting::of(state).with_lit(lit);
    let svg = front(&instrument, &setting).svg(&Svg::default());
    assert_eq!(svg, front(&instrument, &setting).svg(&Svg::default()));
    assert!(svg.len() < MOST_BYTES, "{} bytes", svg.len());

    let document = Document::parse(&svg).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("role"), Some("img"));
    let by_id = |id: &str| {
        document
            .descendants()
            .find(|node| node.attribute("id") == Some(id))
    };
    for id in root.attribute("aria-labelledby").unwrap().split(' ') {
        let text = by_id(id).unwrap().text().unwrap();
        assert!(text.len() > 10);
    }
    assert_eq!(by_id("title").unwrap().text(), Some("a < b & \"c\", front"));
    assert!(
        by_id("description")
            .unwrap()
            .text()
            .unwrap()
            .contains("horizon")
    );
    for part in ["mater", "plate", "rete", "rule"] {
        assert_eq!(by_id(part).unwrap().tag_name().name(), "g");
    }
    let ids: Vec<&str> = document
        .descendants()
        .filter_map(|n| n.attribute("id"))
        .collect();
    let mut unique = ids.clone();
    unique.sort_unstable();
    unique.dedup();
    assert_eq!(unique.len(), ids.len());
    for reference in document.descendants().filter_map(|n| n.attribute("href")) {
        assert!(by_id(reference.trim_start_matches('#')).is_some());
    }
    // One unit is one millimetre, and lit lines are thicker as well as coloured.
    let side: f64 = root
        .attribute("width")
        .unwrap()
        .trim_end_matches("mm")
        .parse()
        .unwrap();
    assert!(
        root.attribute("viewBox")
            .unwrap()
            .ends_with(&format!("{side} {side}"))
    );
    let width = |text: &str, line: &str| -> f64 {
        let document = Document::parse(text).unwrap();
        let found = document
            .descendants()
            .find(|n| n.attribute("data-line") == Some(line));
        found
            .unwrap()
            .attribute("stroke-width")
            .unwrap()
            .parse()
            .unwrap()
    };
    let unlit = front(&instrument, &Setting::of(state)).svg(&Svg::default());
    assert!(width(&svg, "horizon") > 1.4 * width(&unlit, "horizon"));
    assert!((width(&svg, "equator") - width(&unlit, "equator")).abs() < 1e-9);
}

#[test]
fn two_drawings_can_stand_on_one_page() {
    let instrument = instrument(100.0, "");
    let scene = front(&instrument, &at_rest(42.0));
    let prefixed = Svg {
        id_prefix: "second-".to_owned(),
        styled: false,
        paper: false,
        outlined: false,
    };
    let svg = scene.svg(&prefixed);
    let document = Document::parse(&svg).unwrap();
    for id in document
        .descendants()
        .filter_map(|node| node.attribute("id"))
    {
        assert!(id.starts_with("second-"), "{id}");
    }
    assert!(!svg.contains("<style") && !svg.contains("class=\"paper\""));
}

/// A drawing that stands by itself relies on no font of its reader's: its letters are
/// outlines, with what they say beside them.
#[test]
fn letters_are_outlines_but_on_a_page() {
    let scene = front(&instrument(180.0, ""), &at_rest(42.0));
    let svg = scene.svg(&Svg::default());
    let document = Document::parse(&svg).unwrap();
    assert!(!document.descendants().any(|node| node.has_tag_name("text")));
    let said: Vec<&str> = document
        .descendants()
        .filter(|node| {
            node.attribute("class")
                .is_some_and(|class| class.starts_with("letter"))
        })
        .filter_map(|node| node.attribute("aria-label"))
        .collect();
    for text in ["Lat.", "42°", "XII", "Capricornus", "180"] {
        assert!(said.contains(&text), "{text}");
    }
    let on_a_page = Svg {
        outlined: false,
        ..Svg::default()
    };
    let svg = scene.svg(&on_a_page);
    let document = Document::parse(&svg).unwrap();
    let texts = document
        .descendants()
        .filter(|node| node.has_tag_name("text"));
    assert_eq!(texts.count(), said.len());
}
