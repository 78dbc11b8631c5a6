//! Solids: closed, of the right size, and read back by readers that share nothing with the
//! writers. Over instruments of every size, kind and hemisphere.

#![cfg(feature = "documents")]
#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

mod cases;

use std::collections::HashMap;
use std::io::{Cursor, Read};

use cases::cases;
use instrument::{Instrument, Specification};
use patience::Patience;
use press::{Format, Making, Order, PressError, Printed, Set, Shaping, set};
use proptest::prelude::*;
use roxmltree::Document;
use zip::ZipArchive;

fn instrument(text: &str) -> Instrument {
    Instrument::new(Specification::from_toml(text).unwrap())
}

fn try_made(text: &str, shaping: Shaping, parts: &[Making]) -> Result<Set, PressError> {
    let order = Order {
        parts: parts.to_vec(),
        formats: vec![Format::ThreeMf, Format::Stl],
        shaping,
        ..Order::default()
    };
    set(&instrument(text), &order, Patience::ENDLESS)
}

fn made(text: &str, shaping: Shaping) -> Set {
    try_made(text, shaping, &Making::ALL).unwrap()
}

fn file<'a>(files: &'a [Printed], name: &str) -> &'a [u8] {
    let file = files.iter().find(|file| file.name == name);
    &file.unwrap_or_else(|| panic!("no {name}")).bytes
}

type Place = [f64; 3];
type Triangle = [Place; 3];

/// The triangles of a binary STL (the interface specification of 1989), each with the unit
/// vector that it names.
fn stl(bytes: &[u8]) -> Vec<(Place, Triangle)> {
    let count = u32::from_le_bytes(bytes[80..84].try_into().unwrap()) as usize;
    assert_eq!(bytes.len(), 84 + 50 * count);
    let rows = bytes[84..].chunks_exact(50).map(|row| {
        let number = |n: usize| {
            f64::from(f32::from_le_bytes(
                row[4 * n..4 * n + 4].try_into().unwrap(),
            ))
        };
        let place = |n: usize| [number(3 * n), number(3 * n + 1), number(3 * n + 2)];
        (place(0), [place(1), place(2), place(3)])
    });
    rows.collect()
}

/// The files of a package.
fn unpacked(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut package = ZipArchive::new(Cursor::new(bytes)).unwrap();
    (0..package.len())
        .map(|index| {
            let mut file = package.by_index(index).unwrap();
            let mut content = Vec::new();
            file.read_to_end(&mut content).unwrap();
            (file.name().unwrap().to_string(), content)
        })
        .collect()
}

/// The triangles of a 3MF.
fn three_mf(bytes: &[u8]) -> Vec<Triangle> {
    let files = unpacked(bytes);
    let names: Vec<&str> = files.iter().map(|file| file.0.as_str()).collect();
    assert_eq!(
        names,
        ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
    );
    let text = std::str::from_utf8(&files[2].1).unwrap();
    let model = Document::parse(text).unwrap();
    let root = model.root_element();
    assert_eq!(root.attribute("unit"), Some("millimeter"));
    let all = |name: &'static str| {
        root.descendants().filter(move |n| {
            n.has_tag_name((
                "http://schemas.microsoft.com/3dmanufacturing/core/2015/02",
                name,
            ))
        })
    };
    let vertices: Vec<Place> = all("vertex")
        .map(|v| ["x", "y", "z"].map(|axis| v.attribute(axis).unwrap().parse().unwrap()))
        .collect();
    let item = all("item").next().unwrap();
    let moved: Vec<f64> = item
        .attribute("transform")
        .unwrap()
        .split(' ')
        .map(|n| n.parse().unwrap())
        .collect();
    // Nothing lies where a coordinate is negative.
    for vertex in &vertices {
        for axis in 0..3 {
            assert!(vertex[axis] + moved[9 + axis] >= 0.0);
        }
    }
    let corner = |t: roxmltree::Node<'_, '_>, name: &str| {
        vertices[t.attribute(name).unwrap().parse::<usize>().unwrap()]
    };
    all("triangle")
        .map(|t| ["v1", "v2", "v3"].map(|name| corner(t, name)))
        .collect()
}

fn volume(triangles: &[Triangle]) -> f64 {
    let sixfold = triangles
        .iter()
        .map(|[[ax, ay, az], [bx, by, bz], [cx, cy, cz]]| {
            ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
        });
    sixfold.sum::<f64>() / 6.0
}

fn across([a, b, c]: &Triangle) -> Place {
    let less = |p: &Place, q: &Place| [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
    let ([ux, uy, uz], [vx, vy, vz]) = (less(b, a), less(c, a));
    [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
}

/// What is wrong with a surface: every edge must belong to two triangles that run along it
/// in opposite senses, no triangle may be without area, the volume must be positive, and
/// about each corner the triangles must be one fan.
fn flaw(triangles: &[Triangle]) -> Option<String> {
    let bits = |p: &Place| p.map(|x| (x + 0.0).to_bits());
    let mut edges: HashMap<_, u32> = HashMap::new();
    let mut fans: HashMap<_, Vec<_>> = HashMap::new();
    for triangle in triangles {
        if across(triangle).iter().all(|one| one.abs() < 1e-12) {
            return Some(format!("no area: {triangle:?}"));
        }
        let [a, b, c] = triangle.each_ref().map(bits);
        for (from, to, other) in [(a, b, c), (b, c, a), (c, a, b)] {
            *edges.entry((from, to)).or_default() += 1;
            fans.entry(from).or_default().push((to, other));
        }
    }
    for ((from, to), count) in &edges {
        if *count != 1 || edges.get(&(*to, *from)) != Some(&1) {
            return Some(format!("an edge at {:?}", from.map(f64::from_bits)));
        }
    }
    for (corner, fan) in &fans {
        let next: HashMap<_, _> = fan.iter().copied().collect();
        let (first, mut at) = (fan[0].0, fan[0].0);
        let mut count = 0;
        while let Some(to) = next.get(&at) {
            count += 1;
            at = *to;
            if at == first || count > fan.len() {
                break;
            }
        }
        if count != fan.len() {
            return Some(format!("two fans at {:?}", corner.map(f64::from_bits)));
        }
    }
    (volume(triangles) <= 0.0).then(|| "inside out".to_owned())
}

/// Instruments of every size and kind.
const INSTRUMENTS: [&str; 8] = [
    "diameter_mm = 40\nplates_deg = [51.5]",
    "diameter_mm = 55\nplates_deg = [48.85, 41.9]\n[parts]\nletters = \"single-stroke\"",
    "diameter_mm = 120\nhemisphere = \"south\"\nplates_deg = [-33.87, -41.3, -12]\nunequal_hour_lines = \"curves\"\nhouse_lines = \"regiomontanus\"",
    "diameter_mm = 160\nplates_deg = [42.88, 66.6]\norientation = \"midnight-up\"\nhouse_lines = \"campanus\"\n[parts]\nrule = \"declinations\"\ncalendar_scale = \"eccentric\"\nsine_quadrant = true",
    "diameter_mm = 90\nplates_deg = [0, 90]\ndate_from = \"equal-day-ring\"\n[parts]\nhorizons_deg = [0, 15, 30, 45, 60, 75]",
    "diameter_mm = 200\nplates_deg = [18, 52]\ndate_from = \"true-sun-ring\"\nlimb_hours = \"twenty-four\"\nazimuth_step_deg = 5\n[parts]\nletters = \"single-stroke\"\ntracery = \"foliate\"",
    "diameter_mm = 250\nhemisphere = \"south\"\norientation = \"midnight-up\"\nplates_deg = [-80]\n[parts]\ntracery = \"quatrefoil\"\nrule = \"declinations\"",
    "diameter_mm = 400\nplates_deg = [36.7, 51.8]\nhouse_lines = \"regiomontanus\"",
];

fn specified(rest: &str) -> String {
    format!("version = 1\nname = \"solid piece\"\nepoch_year = 2025\n{rest}\n")
}

#[test]
fn every_part_of_every_instrument_is_a_closed_solid() {
    let shapings = [
        Shaping::default(),
        Shaping::of(None, Some(0.3), Some(0.4)).unwrap(),
        Shaping::of(Some(0.05), None, Some(0.25)).unwrap(),
    ];
    for (number, rest) in INSTRUMENTS.iter().enumerate() {
        let set = made(&specified(rest), shapings[number % shapings.len()]);
        let names: Vec<&str> = set
            .manifest
            .solids
            .iter()
            .map(|one| one.name.as_str())
            .collect();
        for name in [
            "mater-one-piece",
            "plate-1",
            "rete",
            "rule",
            "alidade",
            "pinnule",
            "pin",
            "wedge",
        ] {
            assert!(names.contains(&name), "{name} of {rest}");
        }
        for solid in &set.manifest.solids {
            let read = stl(file(&set.files, &format!("{}.stl", solid.name)));
            let triangles: Vec<Triangle> = read.iter().map(|one| one.1).collect();
            assert_eq!(flaw(&triangles), None, "{} of {rest}", solid.name);
            assert_eq!(triangles.len(), solid.triangles);
            let volume = volume(&triangles);
            assert!((volume - solid.volume_mm3).abs() < 0.0006, "{}", solid.name);
            for (normal, triangle) in &read {
                let out = across(triangle);
                let along: f64 = normal.iter().zip(out).map(|(n, o)| n * o).sum();
                let length = out.iter().map(|one| one * one).sum::<f64>().sqrt();
                assert!((along / length - 1.0).abs() < 1e-6);
            }
            if triangles.len() > 40_000 {
                // The same writer wrote smaller ones.
                continue;
            }
            let same = three_mf(file(&set.files, &format!("{}.3mf", solid.name)));
            assert!(same == triangles, "{} of {rest}", solid.name);
        }
    }
}

/// As much as a plate can bear: where its lines run out into wedges that touch again beside
/// whatever joins them, it closes all the same.
#[test]
fn a_plate_that_is_full_of_lines_is_closed() {
    let full = "diameter_mm = 100\nplates_deg = [19, 20]\nunequal_hour_lines = \"curves\"\n\
        house_lines = \"campanus\"\nlimb_division_deg = 0.25\necliptic_division_deg = 0.5\n\
        almucantar_step_deg = 1\nazimuth_step_deg = 5\n[parts]\nleast_gap_mm = 0.1\n\
        least_type_mm = 0.3";
    let set = try_made(&specified(full), Shaping::default(), &[Making::Plates]).unwrap();
    let read = stl(file(&set.files, "plate-1.stl"));
    let triangles: Vec<Triangle> = read.iter().map(|one| one.1).collect();
    assert_eq!(flaw(&triangles), None);
}

/// The plates of an instrument of a size for some latitudes, each a closed surface.
fn closed_plates(diameter_mm: f64, latitudes: &[f64]) {
    let text = format!("diameter_mm = {diameter_mm}\nplates_deg = {latitudes:?}");
    let set = try_made(&specified(&text), Shaping::default(), &[Making::Plates]);
    let set = set.unwrap_or_else(|refused| panic!("{text}: {refused}"));
    for solid in &set.manifest.solids {
        let read = stl(file(&set.files, &format!("{}.stl", solid.name)));
        let triangles: Vec<Triangle> = read.iter().map(|one| one.1).collect();
        assert_eq!(flaw(&triangles), None, "{} of {text}", solid.name);
    }
}

/// An almucantar that touches a tropic or the equator, as those of 90° − φ and 90° − φ ± ε
/// all but do, runs along it in one line that parts at an angle of minutes.
#[test]
fn plates_whose_lines_touch_at_small_angles_are_closed() {
    for (diameter_mm, latitudes) in [
        (71.2, [39.84, 26.71]),
        (94.66, [26.38, 52.0]),
        (160.0, [43.5, 46.0]),
        (192.38, [41.84, 46.0]),
        (229.69, [6.0, 54.11]),
    ] {
        closed_plates(diameter_mm, &latitudes);
    }
}

/// A size, and a latitude at which an almucantar all but touches a tropic or the equator,
/// with any other on the plate's other side.
fn nearly_touching() -> impl Strategy<Value = (f64, [f64; 2])> {
    let beside = prop::sample::select(vec![-23.438, 0.0, 23.438]);
    let aimed = (beside, 1..17_u8, -0.25..0.25).prop_map(|(beside, fifth, off): (f64, u8, f64)| {
        (90.0 - 5.0 * f64::from(fifth) + beside + off).clamp(0.5, 66.0)
    });
    (40.0..260.0, aimed, 0.0..66.0).prop_map(|(size, one, other)| (size, [one, other]))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(6)))]

    #[test]
    fn plates_whose_lines_all_but_touch_are_closed((size_mm, latitudes) in nearly_touching()) {
        closed_plates(size_mm, &latitudes);
    }
}

/// Without lines a part is its area times its thickness; what lines take away is no more
/// than their length times their breadth times their depth, and no less than a part of it.
#[test]
fn volumes_are_those_of_the_metal() {
    for rest in [
        INSTRUMENTS[0],
        INSTRUMENTS[2],
        INSTRUMENTS[3],
        INSTRUMENTS[6],
    ] {
        let text = specified(rest);
        let parts = [
            Making::Plates,
            Making::Rete,
            Making::Rule,
            Making::Alidade,
            Making::Back,
        ];
        let workpieces = drawing::workpieces(&instrument(&text), &parts);
        let plain = try_made(&text, Shaping::of(Some(0.0), None, None).unwrap(), &parts).unwrap();
        let depth = 0.05;
        let sunk = try_made(
            &text,
            Shaping::of(Some(depth), None, Some(0.1)).unwrap(),
            &parts,
        )
        .unwrap();
        let raised = try_made(
            &text,
            Shaping::of(None, Some(depth), Some(0.1)).unwrap(),
            &parts,
        )
        .unwrap();
        for (n, solid) in plain.manifest.solids.iter().enumerate() {
            let pieces = || {
                plain
                    .manifest
                    .pieces
                    .iter()
                    .filter(|piece| piece.sheet.as_deref() == Some(&solid.name))
            };
            let piece = workpieces
                .iter()
                .find(|piece| piece.sheet == solid.name)
                .unwrap();
            let wanted = piece.solid.area_mm2() * piece.thickness.mm();
            let part = solid.volume_mm3 / wanted - 1.0;
            assert!(part.abs() < 1e-3, "{} of {rest}: {part}", solid.name);
            let gone = solid.volume_mm3 - sunk.manifest.solids[n].volume_mm3;
            let grown = raised.manifest.solids[n].volume_mm3 - solid.volume_mm3;
            let lines: f64 = pieces()
                .map(|piece| piece.layers.engrave_line_mm + piece.layers.score_mm)
                .sum();
            // What is taken away below is put down above.
            assert!(
                (gone - grown).abs() < 0.25,
                "{}: {gone} {grown}",
                solid.name
            );
            assert!(
                gone >= 0.3 * lines * 0.1 * depth - 0.001,
                "{}: {gone} of {lines}",
                solid.name
            );
        }
    }
}

#[test]
fn a_mater_in_one_piece_is_back_and_limb() {
    let text = specified(INSTRUMENTS[3]);
    let none = Shaping::of(Some(0.0), None, None).unwrap();
    let whole = made(&text, none);
    let solid = &whole.manifest.solids[0];
    assert_eq!(solid.name, "mater-one-piece");
    let pieces = drawing::workpieces(&instrument(&text), &[Making::Mater, Making::Back]);
    let piece = |name: &str| pieces.iter().find(|piece| piece.name == name).unwrap();
    let stack = &whole.manifest.stack;
    let deep = stack.opening_mm - stack.packing_mm;
    let wanted = piece("back").solid.area_mm2() * piece("back").thickness.mm()
        + piece("mater").solid.area_mm2() * deep;
    assert!((solid.volume_mm3 / wanted - 1.0).abs() < 1e-3);
    // Each by itself, it is two parts.
    let limb = try_made(&text, none, &[Making::Mater]).unwrap();
    assert!(
        limb.manifest
            .solids
            .iter()
            .any(|solid| solid.name == "mater")
    );
}

/// An owner's words on the mater's floor are sunk into the floor of the hollow, between the
/// back and the limb, and stand on the other side of the back where that is by itself.
#[test]
fn the_floor_of_the_hollow_bears_its_words() {
    let text =
        specified("diameter_mm = 100\nplates_deg = [48]\n[texts]\nfloor = [\"made for a trial\"]");
    let depth = 0.15;
    let shaping = Shaping::of(Some(depth), None, None).unwrap();
    let set = made(&text, shaping);
    let read = stl(file(&set.files, "mater-one-piece.stl"));
    let triangles: Vec<Triangle> = read.iter().map(|one| one.1).collect();
    assert_eq!(flaw(&triangles), None);
    let back = drawing::workpieces(&instrument(&text), &[Making::Back]);
    let floor = back[0].thickness.mm();
    let lies_at = |z: f64| {
        triangles
            .iter()
            .flatten()
            .filter(|p| (p[2] - z).abs() < 1e-3)
            .count()
    };
    assert!(lies_at(floor - depth) > 100, "{floor}");
    let alone = try_made(&text, shaping, &[Making::Back]).unwrap();
    let read = stl(file(&alone.files, "back.stl"));
    let triangles: Vec<Triangle> = read.iter().map(|one| one.1).collect();
    assert_eq!(flaw(&triangles), None);
    let sunk = triangles
        .iter()
        .flatten()
        .filter(|p| (p[2] - depth).abs() < 1e-3);
    assert!(sunk.count() > 100);
}

#[test]
fn what_cannot_be_is_refused_with_what_would_do() {
    let text = specified(INSTRUMENTS[0]);
    let deep = Shaping::of(Some(2.0), None, None).unwrap();
    let refused = try_made(&text, deep, &Making::ALL).unwrap_err().to_string();
    assert!(refused.contains("2 mm are too deep for the"), "{refused}");
    assert!(refused.ends_with("or less would do"), "{refused}");
    for (depth, raised, line) in [
        (Some(-0.1), None, None),
        (Some(f64::NAN), None, None),
        (None, Some(9.0), None),
        (None, None, Some(0.0)),
        (Some(0.2), Some(0.2), None),
    ] {
        assert!(Shaping::of(depth, raised, line).is_err());
    }
}

#[test]
fn nobody_waits_for_solids_longer_than_they_like() {
    let heard = std::cell::Cell::new(0);
    let waits = |share: f64| {
        heard.set(heard.get() + 1);
        share < 0.5
    };
    let order = Order {
        formats: vec![Format::Stl],
        ..Order::default()
    };
    let made = set(
        &instrument(&specified(INSTRUMENTS[0])),
        &order,
        Patience::of(&waits),
    );
    assert!(matches!(made, Err(PressError::GivenUp(_))));
    assert!(heard.get() > 5);
}
