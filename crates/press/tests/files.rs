//! The files, read back: layers, true arcs, sizes, and the same bytes every time.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use std::collections::HashMap;

use instrument::{Instrument, Specification};
use patience::Patience;
use press::{Cutting, Format, Length, Making, Order, PageSize, Printed, Work, press, set};
use proptest::prelude::*;
use roxmltree::Document;

fn instrument(more: &str) -> Instrument {
    let text = format!(
        "version = 1\nname = \"files\"\ndiameter_mm = 120\nepoch_year = 1391\nplates_deg = [51.8333, 90, 0]\n{more}"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

fn order(formats: &[Format]) -> Order {
    Order {
        formats: formats.to_vec(),
        dated: "2026-11-25".to_owned(),
        ..Order::default()
    }
}

fn named<'a>(files: &'a [Printed], name: &str) -> &'a str {
    let file = files.iter().find(|file| file.name == name).unwrap();
    std::str::from_utf8(&file.bytes).unwrap()
}

/// The entities of a DXF file: kind, layer, numbers by code.
type Entity = (String, String, HashMap<u16, Vec<f64>>);

fn entities(dxf: &str) -> Vec<Entity> {
    let mut lines = dxf.lines();
    let mut pairs = Vec::new();
    while let (Some(code), Some(value)) = (lines.next(), lines.next()) {
        pairs.push((code.trim().parse::<u16>().unwrap(), value));
    }
    let from = pairs
        .iter()
        .position(|pair| *pair == (2, "ENTITIES"))
        .unwrap();
    let mut found: Vec<Entity> = Vec::new();
    for (code, value) in pairs.into_iter().skip(from + 1) {
        match code {
            0 if value == "ENDSEC" => break,
            0 => found.push((value.to_owned(), String::new(), HashMap::new())),
            8 => found.last_mut().unwrap().1 = value.to_owned(),
            _ => {
                if let Ok(number) = value.parse() {
                    let entity = found.last_mut().unwrap();
                    entity.2.entry(code).or_default().push(number);
                }
            }
        }
    }
    found
}

#[test]
fn dxf_and_svg_hold_the_same_lines() {
    let instrument = instrument("");
    let files = press(&instrument, &order(&[Format::Svg, Format::Dxf])).unwrap();
    for name in ["plate-1a", "plate-1b", "plate-2a"] {
        let entities = entities(named(&files, &format!("{name}.dxf")));
        assert!(named(&files, &format!("{name}.dxf")).contains("AC1024"));
        for (kind, layer, _) in &entities {
            assert!(Work::ALL.iter().any(|work| work.name() == layer), "{layer}");
            assert!(["LINE", "ARC", "CIRCLE", "LWPOLYLINE"].contains(&kind.as_str()));
        }
        let radii: Vec<f64> = entities
            .iter()
            .filter(|(kind, ..)| kind == "ARC" || kind == "CIRCLE")
            .map(|(_, _, numbers)| numbers[&40][0])
            .collect();
        let svg = named(&files, &format!("{name}.svg"));
        let document = Document::parse(svg).unwrap();
        let ids: Vec<&str> = document
            .descendants()
            .filter(|node| node.has_tag_name("g"))
            .filter_map(|node| node.attribute("id"))
            .collect();
        assert!(
            ids.contains(&"cut-outside") && ids.contains(&"engrave-line"),
            "{ids:?}"
        );
        // The equator and both tropics, as drawn and as published: the product of
        // the tropics' radii is the square of the equator's. The outer tropic is the
        // plate's edge, and not engraved on it.
        let radius = |line: &str| {
            let path = document
                .descendants()
                .find(|node| node.attribute("data-line") == Some(line))
                .unwrap();
            let d = path.attribute("d").unwrap();
            let arc = d.split('A').nth(1).unwrap();
            arc.split(' ').next().unwrap().parse::<f64>().unwrap()
        };
        // At the pole the equator is the horizon, which is engraved in its stead.
        let equator = if name == "plate-1b" {
            "horizon"
        } else {
            "equator"
        };
        let [inner, equator] = ["tropic of Cancer", equator].map(radius);
        let outer = instrument.limb_mm();
        assert!((inner * outer - equator * equator).abs() < 0.002);
        for wanted in [inner, equator] {
            assert!(radii.iter().any(|radius| (radius - wanted).abs() < 1e-4));
        }
    }
    // At the pole almucantars are circles about it; at the equator the horizon is straight.
    let polar = entities(named(&files, "plate-1b.dxf"));
    let circles = polar.iter().filter(|(kind, layer, numbers)| {
        kind == "CIRCLE"
            && ["score", "engrave-line"].contains(&layer.as_str())
            && numbers[&10][0].abs() < 1e-6
    });
    assert!(circles.count() > 20);
    let level = named(&files, "plate-2a.svg");
    let horizon = level
        .lines()
        .find(|line| line.contains("data-line=\"horizon\""))
        .unwrap();
    assert!(!horizon.contains('A'), "{horizon}");
}

#[test]
fn the_same_order_gives_the_same_bytes() {
    let formats = if cfg!(feature = "documents") {
        Format::ALL.to_vec()
    } else {
        vec![Format::Svg, Format::Dxf]
    };
    let once = press(&instrument(""), &order(&formats)).unwrap();
    let again = press(&instrument(""), &order(&formats)).unwrap();
    assert!(once == again);
    let manifest: serde_json::Value = serde_json::from_str(named(&once, "manifest.json")).unwrap();
    let files = manifest["files"].as_array().unwrap();
    // Every file but the manifest itself is in it, with its size.
    assert_eq!(files.len(), once.len() - 1);
    for file in files {
        let found = once
            .iter()
            .find(|one| one.name == file["name"].as_str().unwrap())
            .unwrap();
        assert_eq!(
            file["bytes"].as_u64(),
            u64::try_from(found.bytes.len()).ok()
        );
    }
    assert!(named(&once, "sheet.txt").contains("Never sight the Sun directly"));
}

#[test]
fn kerf_widens_what_is_cut_for_machines() {
    let circles = |kerf: &str| -> Vec<f64> {
        let instrument = instrument(kerf);
        let rete = Order {
            parts: vec![Making::Plates],
            cutting: Cutting {
                drilled: Some(Length::ZERO),
                ..Cutting::default()
            },
            ..order(&[Format::Dxf])
        };
        let files = press(&instrument, &rete).unwrap();
        entities(named(&files, "plate-1a.dxf"))
            .into_iter()
            .filter(|(kind, layer, _)| kind == "CIRCLE" && layer == "cut-inside")
            .map(|(_, _, numbers)| numbers[&40][0])
            .collect()
    };
    let (plain, widened) = (circles(""), circles("[fits]\nkerf_mm = 0.2"));
    assert_eq!((plain.len(), widened.len()), (1, 1));
    // The pin's hole is cut smaller by half the kerf.
    assert!((plain[0] - widened[0] - 0.1).abs() < 1e-6);
}

#[test]
fn single_strokes_are_open_lines() {
    let instrument = instrument("[parts]\nletters = \"single-stroke\"");
    let files = press(&instrument, &order(&[Format::Svg])).unwrap();
    let document = Document::parse(named(&files, "mater.svg")).unwrap();
    let paths: Vec<&str> = document
        .descendants()
        .filter(|node| node.has_tag_name("path"))
        .filter(|node| node.parent().unwrap().attribute("id") == Some("engrave-line"))
        .filter(|node| node.attribute("data-line").is_none())
        .map(|node| node.attribute("d").unwrap())
        .collect();
    assert!(paths.len() > 20);
    assert!(paths.iter().filter(|d| !d.contains('Z')).count() > 20);
}

#[test]
fn orders_that_make_no_sense_are_refused() {
    assert!(
        Order::part("wheel")
            .unwrap_err()
            .to_string()
            .contains("mater")
    );
    assert!(
        Order::format("doc")
            .unwrap_err()
            .to_string()
            .contains("dxf")
    );
    assert!(
        PageSize::parse("b9")
            .unwrap_err()
            .to_string()
            .contains("a4")
    );
    assert_eq!(PageSize::parse("A3"), Ok(PageSize::A3));
    let size = PageSize::parse("300x450").unwrap();
    assert!((size.width_mm - 300.0).abs() + (size.height_mm - 450.0).abs() < 1e-9);
    let thin = instrument("[parts]\nleast_width_mm = 9");
    let error = press(&thin, &order(&[Format::Svg]))
        .unwrap_err()
        .to_string();
    assert!(
        error.contains("rete") && error.contains("least_width_mm"),
        "{error}"
    );
}

#[cfg(feature = "documents")]
mod documents {
    use super::*;

    #[test]
    fn what_is_larger_than_a_page_is_tiled() {
        let large = Instrument::new(
            Specification::from_toml(
                "version = 1\nname = \"large\"\ndiameter_mm = 400\nepoch_year = 2025\nplates_deg = [42]",
            )
            .unwrap(),
        );
        let pages = |size| {
            let order = Order {
                parts: vec![Making::Plates],
                page: size,
                ..order(&[Format::Pdf])
            };
            let files = press(&large, &order).unwrap();
            let pdf = files
                .iter()
                .find(|file| file.name == "drawings.pdf")
                .unwrap();
            let text = String::from_utf8_lossy(&pdf.bytes).into_owned();
            text.matches("/MediaBox").count()
        };
        let (small, custom) = (
            pages(PageSize::A4),
            pages(PageSize::parse("500x600").unwrap()),
        );
        // 348 mm and a tongue on sheets with room for 192 by 255 mm, twelve of them
        // shared: two columns, two rows, and the sheet of words.
        assert!(small >= custom + 3, "{small} {custom}");
    }

    #[test]
    fn pictures_are_as_large_as_asked() {
        let order = Order {
            parts: vec![Making::Pin],
            dots_per_inch: 254.0,
            ..order(&[Format::Png])
        };
        let files = press(&instrument(""), &order).unwrap();
        let picture = files.iter().find(|file| file.name == "wedge.png").unwrap();
        assert_eq!(picture.bytes.get(1..4), Some(&b"PNG"[..]));
        // How large a dot is stands in it (PNG, third edition, 11.3.4.3: pHYs, dots to the
        // metre): 254 to the inch are 10,000.
        let says = picture
            .bytes
            .windows(13)
            .find(|some| some.starts_with(b"pHYs"));
        let metre = [0, 0, 0x27, 0x10];
        let stated = [b"pHYs", &metre[..], &metre, &[1]].concat();
        assert_eq!(says, Some(&stated[..]));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    /// No line enters the space of letters that stand on lines: what is left of the
    /// lines is no longer than it was, and the file can be read.
    #[test]
    fn any_plate_can_be_pressed(latitude in -90.0..90.0_f64, diameter in 40.0..500.0_f64) {
        let side = if latitude < 0.0 { "south" } else { "north" };
        let text = format!(
            "version = 1\nname = \"any\"\ndiameter_mm = {diameter}\nepoch_year = 2025\n\
             hemisphere = \"{side}\"\nplates_deg = [{latitude}]"
        );
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let order = Order {
            parts: vec![Making::Plates],
            ..order(&[Format::Svg, Format::Dxf])
        };
        let files = press(&instrument, &order).unwrap();
        prop_assert!(Document::parse(named(&files, "plate-1a.svg")).is_ok());
        for (_, _, numbers) in entities(named(&files, "plate-1a.dxf")) {
            for value in numbers.values().flatten() {
                prop_assert!(value.is_finite());
            }
        }
    }
}

/// What a manifest says is thinned: the keys that overrule it.
fn thinning_keys(more: &str) -> Vec<(String, &'static str)> {
    let text = format!(
        "version = 1\nname = \"small\"\ndiameter_mm = 120\nepoch_year = 2025\nplates_deg = [42]\n\
         house_lines = \"regiomontanus\"\ndate_from = \"equal-day-ring\"\n{more}"
    );
    let small = Instrument::new(Specification::from_toml(&text).unwrap());
    let made = set(&small, &order(&[]), Patience::ENDLESS).unwrap();
    let thinned = made.manifest.thinned();
    thinned
        .map(|(_, one)| (one.what.clone(), one.key))
        .collect()
}

/// Every key that is named overrules what it is named with.
#[test]
fn what_was_thinned_names_the_key_that_overrules_it() {
    let usual = thinning_keys("");
    let overruling = [
        ("limb_division_deg", "limb_division_deg = 0.25"),
        ("ecliptic_division_deg", "ecliptic_division_deg = 0.5"),
        ("almucantar_step_deg", "almucantar_step_deg = 1"),
        ("azimuth_step_deg", "azimuth_step_deg = 5"),
        ("parts.least_gap_mm", "[parts]\nleast_gap_mm = 0.1"),
        ("parts.least_type_mm", "[parts]\nleast_type_mm = 0.3"),
    ];
    // Azimuths meet at the zenith: a smaller gap only brings them nearer to it. Where a
    // star or the almuri stands in the way, a smaller letter may stand in it too.
    let stays = |what: &str| what == "azimuths towards the zenith" || what.starts_with("some of ");
    for (key, line) in overruling {
        assert!(
            usual.iter().any(|one| one.1 == key),
            "nothing thinned by {key}"
        );
        let left: Vec<_> = thinning_keys(line)
            .into_iter()
            .filter(|one| one.1 == key && !stays(&one.0))
            .collect();
        assert_eq!(left, [], "{line} leaves these");
    }
    let known = |key: &str| key == "stars" || overruling.iter().any(|one| one.0 == key);
    assert!(usual.iter().all(|one| known(one.1)), "{usual:?}");
}

/// A text as it reads, wherever its lines are broken.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The order of work: what is cut out has lost its hold.
fn step(layer: &str) -> usize {
    let order = [
        "guide",
        "score",
        "engrave-line",
        "engrave-fill",
        "drill",
        "cut-inside",
        "cut-outside",
    ];
    order.iter().position(|one| *one == layer).unwrap()
}

#[test]
fn every_format_stands_in_the_order_of_work_holes_before_outlines() {
    let made = instrument("");
    let files = press(&made, &order(&[Format::Svg, Format::Dxf])).unwrap();
    for file in &files {
        let Some((name, ending)) = file.name.rsplit_once('.') else {
            continue;
        };
        let text = std::str::from_utf8(&file.bytes).unwrap();
        let layers: Vec<String> = match ending {
            "dxf" => entities(text).into_iter().map(|one| one.1).collect(),
            "svg" => Document::parse(text)
                .unwrap()
                .descendants()
                .filter_map(|node| Some(node.attribute("id")?.to_owned()))
                .collect(),
            _ => continue,
        };
        assert!(
            layers.iter().any(|layer| layer == "cut-outside"),
            "{}",
            file.name
        );
        assert!(
            layers.is_sorted_by_key(|layer| step(layer)),
            "{}: {layers:?}",
            file.name
        );
        if ending == "svg" {
            // The last edge to be cut is the longest way round.
            let cut = text.split_once("id=\"cut-").unwrap().1;
            let paths = cut.split(" d=\"").skip(1);
            let d: String = paths.map(|path| path.split('"').next().unwrap()).collect();
            let reach = |path: &str| -> f64 {
                let numbers = path.split(|c: char| c.is_ascii_alphabetic() || c == ' ');
                numbers
                    .filter_map(|number| number.parse::<f64>().ok())
                    .fold(0.0, |most, number| most.max(number.abs()))
            };
            let edges: Vec<f64> = d
                .split('Z')
                .filter(|edge| !edge.is_empty())
                .map(reach)
                .collect();
            let last = edges.last().copied().unwrap();
            assert!(
                edges.iter().all(|edge| *edge <= last),
                "{name}: the outline is not cut last, {edges:?}"
            );
        }
    }
    for (_, inked) in press::pressed(&made, &order(&[])).unwrap() {
        assert!(
            inked.inks.is_sorted_by_key(|ink| ink.work),
            "{}",
            inked.name
        );
    }
}

#[test]
fn two_sides_are_one_sheet() {
    let made = set(&instrument(""), &order(&[]), Patience::ENDLESS).unwrap();
    let sheets = &made.manifest.sheets;
    let plates: Vec<(&str, usize)> = sheets
        .iter()
        .filter(|sheet| sheet.name.starts_with("plate"))
        .map(|sheet| (sheet.name.as_str(), sheet.sides.len()))
        .collect();
    assert_eq!(plates, [("plate-1", 2), ("plate-2", 1)]);
    let listed: usize = sheets.iter().map(|sheet| sheet.sides.len()).sum();
    // All but the pin, which is turned.
    assert_eq!(listed, made.manifest.pieces.len() - 1);
    let text = flowing(named(&made.files, "sheet.txt"));
    assert!(
        text.contains("1 × plate-1: one sheet with two sides"),
        "{text}"
    );
    assert!(
        text.contains("side a of plate 2, whose other side is blank"),
        "{text}"
    );
}

/// Every pointer is in the table, and every one that has no name on the metal is told.
#[test]
fn the_sheet_has_a_table_of_every_pointer() {
    for diameter in [60, 180] {
        let made = instrument("").specification().clone();
        let made = Instrument::new(Specification {
            diameter: instrument::Length::from_mm(f64::from(diameter)),
            ..made
        });
        let set = set(&made, &order(&[]), Patience::ENDLESS).unwrap();
        let sheet = named(&set.files, "sheet.txt");
        assert_eq!(set.manifest.pointers.len(), made.stars().len());
        for star in made.stars() {
            let row = sheet
                .lines()
                .find(|line| line.starts_with(star.name) && line.contains(star.designation));
            let row = row.unwrap_or_else(|| panic!("{} is not in the table", star.name));
            assert!(
                row.contains('h') && row.contains('°') && row.contains('′'),
                "{row}"
            );
        }
        let sheet = flowing(sheet);
        let nameless = sheet.split("to be known by this table: ").nth(1).unwrap();
        for pointer in set.manifest.pointers.iter().filter(|one| !one.named) {
            assert!(nameless.contains(pointer.star), "{}", pointer.star);
        }
    }
}

#[test]
fn without_star_pointers_no_stars_are_told() {
    let made = set(
        &instrument("star_pointers = 0"),
        &order(&[]),
        Patience::ENDLESS,
    )
    .unwrap();
    assert_eq!(made.manifest.stars, [""; 0]);
    assert_eq!(made.manifest.stars_left_out, []);
    let sheet = named(&made.files, "sheet.txt");
    assert!(!sheet.contains("Stars of the rete") && !sheet.contains("Without a pointer"));
    assert!(!sheet.contains("star pointers"), "{sheet}");
}

#[test]
fn the_sheet_says_how_the_stack_fits() {
    let text = |more: &str| {
        let made = set(&instrument(more), &order(&[]), Patience::ENDLESS).unwrap();
        flowing(named(&made.files, "sheet.txt"))
    };
    let raised =
        text("[fits]\nmater_thickness_mm = 1\nplate_thickness_mm = 1\nrete_thickness_mm = 1");
    for words in [
        "2 spacers of 1.00 mm each lie between limb and back",
        "2 × spacer:",
        "The opening is 3.00 mm deep",
        "the rete's face is level with the limb's",
    ] {
        assert!(raised.contains(words), "{words}: {raised}");
    }
    let packed =
        text("[fits]\nmater_thickness_mm = 4\nplate_thickness_mm = 1\nrete_thickness_mm = 1");
    assert!(
        packed.contains("1.00 mm of packing beneath them"),
        "{packed}"
    );
    assert!(packed.contains("1 × packing:"), "{packed}");
}

/// Stars without a pointer are listed with the reason, and the key brings them back.
#[test]
fn stars_that_gave_way_come_back_when_asked_for() {
    let manifest = |more: &str| {
        set(&instrument(more), &order(&[]), Patience::ENDLESS)
            .unwrap()
            .manifest
    };
    let few = manifest("");
    let left = |manifest: &press::Manifest, key: Option<&str>| {
        let stars = manifest.stars_left_out.iter();
        stars.filter(|one| one.key == key).count()
    };
    assert!(left(&few, Some("stars")) > 0);
    assert!(
        few.stars_left_out.iter().any(|one| {
            one.star == "Achernar" && one.key.is_none() && one.why.contains("tropic")
        })
    );
    let gone = few
        .stars_left_out
        .iter()
        .find(|one| one.key == Some("stars"));
    assert!(gone.unwrap().gave_way_to.is_some());
    let asked = format!("stars = [\"{}\", \"Sirius\"]", gone.unwrap().star);
    assert_eq!(manifest(&asked).stars, [gone.unwrap().star, "Alhabor"]);
}

#[test]
fn what_the_font_lacks_is_refused_with_the_letter() {
    let named = |name: &str, letters: &str| {
        let text = format!(
            "version = 1\nname = \"{name}\"\ndiameter_mm = 180\nepoch_year = 2025\n\
             plates_deg = [42]\n[parts]\nletters = \"{letters}\"\n"
        );
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let back = Order {
            parts: vec![Making::Back],
            ..order(&[Format::Svg])
        };
        press(&instrument, &back)
    };
    for (name, letters, lacking) in [
        ("Имя", "serif", 'И'),
        ("Галилей", "single-stroke", 'Г'),
        ("الأسطرلاب", "serif", 'ا'),
        ("星盤", "single-stroke", '星'),
        // Greek stands in the one font and not in the other.
        ("στρ", "single-stroke", 'σ'),
    ] {
        let error = named(name, letters).unwrap_err().to_string();
        assert!(error.contains(name) && error.contains(lacking), "{error}");
    }
    for (name, letters) in [
        ("Łódź, Čapek, Señor Gracián", "serif"),
        ("Łódź, Čapek, Señor Gracián", "single-stroke"),
        ("στρ", "serif"),
    ] {
        assert!(named(name, letters).is_ok(), "{name}");
    }
}

#[test]
fn a_broad_cut_is_warned_about() {
    let warnings = |kerf: f64| {
        let instrument = instrument(&format!("[fits]\nkerf_mm = {kerf}\n"));
        let alidade = Order {
            parts: vec![Making::Alidade],
            ..order(&[Format::Svg])
        };
        set(&instrument, &alidade, Patience::ENDLESS)
            .unwrap()
            .manifest
            .warnings
    };
    assert_eq!(warnings(0.2), Vec::<String>::new());
    let broad = warnings(3.0);
    assert!(
        broad[0].starts_with("fits.kerf_mm = 3 is much"),
        "{broad:?}"
    );
    // The pinnules' small holes and the slots for them would close.
    for part in ["alidade: ", "pinnule: "] {
        assert!(broad.iter().any(|one| one.starts_with(part)), "{broad:?}");
    }
}

#[test]
fn what_arcs_cost_stands_with_every_plate() {
    let plates = Order {
        parts: vec![Making::Plates],
        ..order(&[Format::Svg])
    };
    let made = set(&instrument(""), &plates, Patience::ENDLESS).unwrap();
    let told: Vec<&str> = made.manifest.arcs().map(|(plate, _)| plate).collect();
    // Not that of the pole, which has none.
    assert_eq!(told, ["plate-1a", "plate-2a"]);
    let oxford = &made.manifest.pieces[0];
    assert!(oxford.arcs.as_ref().unwrap().shows);
    let sheet = named(&made.files, "sheet.txt").replace('\n', " ");
    assert!(sheet.contains("minutes of time"), "{sheet}");
    let curves = set(
        &instrument("unequal_hour_lines = \"curves\"\n"),
        &plates,
        Patience::ENDLESS,
    )
    .unwrap();
    assert_eq!(curves.manifest.arcs().count(), 0);
}
