//! The instrument with its parts named, the glossary, lesson nought.

use desk::{Cabinet, FrontRequest, WithInstrument};
use instrument::{Instrument, Specification};

/// Whatever is called by a word on the instrument bears its name in the pictures, and what
/// a word shows is drawn.
#[test]
fn every_part_bears_its_name() {
    let cabinet = Cabinet::built_in();
    for instrument in desk::instruments(&cabinet) {
        let plate = if instrument.hemisphere == "south" {
            -36.0
        } else {
            42.0
        };
        let request = FrontRequest {
            with: Some(WithInstrument::Named(instrument.name.clone())),
            plate_latitude_deg: plate,
        };
        let parts = desk::parts(&request, &cabinet).unwrap();
        let drawn = format!("{}{}", parts.front_svg, parts.back_svg);
        for word in &parts.glossary {
            let named = drawn.contains(&format!(">{}</text>", word.word.replace('\'', "&apos;")))
                || drawn.contains(&format!(">{}</text>", word.word));
            assert_eq!(
                named,
                !word.shows.is_empty(),
                "{} on the {}",
                word.word,
                instrument.name
            );
            for line in word.shows.iter().filter(|name| !name.starts_with("part:")) {
                assert!(drawn.contains(&format!("data-line=\"{line}\"")), "{line}");
            }
        }
        for name in ["rete", "rule", "horizon", "alidade", "almuri"] {
            assert!(drawn.contains(&format!(">{name}</text>")), "{name}");
        }
    }
}

/// `ALMURI_WRITE_HANDBOOK=1 cargo test -p desk --test parts` draws the handbook's pictures anew.
#[test]
fn the_handbook_has_the_pictures() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/pictures/");
    let text = include_str!("../../../data/cabinet/class.toml");
    // Half as large: what can be told apart in a small picture.
    let text = text.replace("diameter_mm = 180", "diameter_mm = 90");
    let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
    let plate = instrument.specification().plates[0];
    for (side, scene) in ["front", "back"]
        .into_iter()
        .zip(desk::named_parts(&instrument, plate))
    {
        let svg = scene.svg(&drawing::Svg::default());
        let path = format!("{folder}named-{side}.svg");
        if std::env::var_os("ALMURI_WRITE_HANDBOOK").is_some() {
            std::fs::write(&path, &svg).unwrap();
        }
        assert!(
            svg == std::fs::read_to_string(&path).unwrap_or_default(),
            "{path} is not as it is drawn"
        );
    }
}
