//! What machines are given: each line once, on the layer of what is done with it, in a
//! short order, and with what their tools ask for. Read back by readers of our own that
//! share nothing with the writers.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use std::collections::{BTreeMap, BTreeSet};

use instrument::{Instrument, Specification};
use patience::Patience;
use press::{Cutting, Format, Length, Making, Order, Printed, Set, Tabs, set};
use roxmltree::Document;

fn instrument(more: &str) -> Instrument {
    let text = format!(
        "version = 1\nname = \"layers\"\ndiameter_mm = 120\nepoch_year = 1391\n\
         plates_deg = [51.8333, 42]\n{more}"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

fn made(more: &str, cutting: Cutting, parts: &[Making]) -> Set {
    let order = Order {
        parts: parts.to_vec(),
        formats: vec![Format::Svg, Format::Dxf],
        cutting,
        ..Order::default()
    };
    set(&instrument(more), &order, Patience::ENDLESS).unwrap()
}

fn text<'a>(files: &'a [Printed], name: &str) -> &'a str {
    let file = files.iter().find(|file| file.name == name).unwrap();
    std::str::from_utf8(&file.bytes).unwrap()
}

type Point = (f64, f64);

/// A line of a DXF: its layer, its corners, each with the bulge of what follows it, and
/// whether it is closed. A circle is two half circles, an arc one bulge.
struct Line {
    layer: String,
    corners: Vec<(Point, f64)>,
    closed: bool,
    is_arc: bool,
}

/// The lines of a DXF (group codes of the published reference of release 2010).
fn lines(dxf: &str) -> Vec<Line> {
    let mut rows = dxf.lines().map(str::trim);
    let mut pairs = Vec::new();
    while let (Some(code), Some(value)) = (rows.next(), rows.next()) {
        pairs.push((code.parse::<u16>().unwrap(), value));
    }
    let begin = pairs
        .iter()
        .position(|pair| *pair == (2, "ENTITIES"))
        .unwrap();
    let mut entities: Vec<Vec<(u16, &str)>> = Vec::new();
    for pair in pairs.into_iter().skip(begin + 1) {
        match pair {
            (0, "ENDSEC") => break,
            (0, _) => entities.push(vec![pair]),
            _ => entities.last_mut().unwrap().push(pair),
        }
    }
    entities.iter().map(|entity| line(entity)).collect()
}

fn line(entity: &[(u16, &str)]) -> Line {
    let text = |code: u16| entity.iter().find(|pair| pair.0 == code).unwrap().1;
    let number = |code: u16| text(code).parse::<f64>().unwrap();
    let layer = text(8).to_owned();
    match text(0) {
        "LINE" => Line {
            layer,
            corners: vec![
                ((number(10), number(20)), 0.0),
                ((number(11), number(21)), 0.0),
            ],
            closed: false,
            is_arc: false,
        },
        "CIRCLE" => {
            let (x, y, r) = (number(10), number(20), number(40));
            Line {
                layer,
                corners: vec![((x + r, y), 1.0), ((x - r, y), 1.0)],
                closed: true,
                is_arc: false,
            }
        }
        "ARC" => {
            let (x, y, r) = (number(10), number(20), number(40));
            let (from, to) = (number(50).to_radians(), number(51).to_radians());
            let turn = (to - from).rem_euclid(std::f64::consts::TAU);
            let at = |a: f64| (x + r * a.cos(), y + r * a.sin());
            // Two bulges, so that none is of more than half a turn.
            let bulge = (turn / 8.0).tan();
            Line {
                layer,
                corners: vec![
                    (at(from), bulge),
                    (at(from + turn / 2.0), bulge),
                    (at(from + turn), 0.0),
                ],
                closed: false,
                is_arc: true,
            }
        }
        "LWPOLYLINE" => {
            let mut corners: Vec<(Point, f64)> = Vec::new();
            for (code, value) in entity {
                match code {
                    10 => corners.push(((value.parse().unwrap(), 0.0), 0.0)),
                    20 => corners.last_mut().unwrap().0.1 = value.parse().unwrap(),
                    42 => corners.last_mut().unwrap().1 = value.parse().unwrap(),
                    _ => {}
                }
            }
            Line {
                layer,
                corners,
                closed: text(70) == "1",
                is_arc: false,
            }
        }
        other => panic!("{other} is not among what is written"),
    }
}

impl Line {
    /// Its pieces: both ends and the middle.
    fn pieces(&self) -> Vec<[Point; 3]> {
        let next = self.corners.iter().cycle().skip(1);
        let count = self.corners.len() - usize::from(!self.closed);
        let pieces = self.corners.iter().zip(next).take(count);
        pieces
            .map(|((from, bulge), (to, _))| {
                let (dx, dy) = (to.0 - from.0, to.1 - from.1);
                // A bulge is the sagitta by half the chord, to the right of its sense.
                let middle = (
                    (from.0 + to.0) / 2.0 + dy * bulge / 2.0,
                    (from.1 + to.1) / 2.0 - dx * bulge / 2.0,
                );
                [*from, middle, *to]
            })
            .collect()
    }

    fn start(&self) -> Point {
        self.corners[0].0
    }

    fn end(&self) -> Point {
        let last = self.corners.last().unwrap().0;
        if self.closed { self.start() } else { last }
    }
}

fn away(a: Point, b: Point) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

#[test]
fn every_layer_has_its_name_and_colour_in_the_manifest_and_in_both_files() {
    let made = made("", Cutting::default(), &Making::ALL);
    let manifest: serde_json::Value =
        serde_json::from_str(text(&made.files, "manifest.json")).unwrap();
    let mut stated: BTreeMap<&str, (&str, u64)> = BTreeMap::new();
    for layer in manifest["layers"].as_array().unwrap() {
        let name = layer["name"].as_str().unwrap();
        assert!(!layer["does"].as_str().unwrap().is_empty());
        let colour = layer["colour"].as_str().unwrap();
        stated.insert(name, (colour, layer["dxf_colour"].as_u64().unwrap()));
    }
    let colours: BTreeSet<&str> = stated.values().map(|(colour, _)| *colour).collect();
    assert_eq!(colours.len(), stated.len(), "two layers share a colour");
    // The colours of the format's first numbers (published reference of the format).
    let known = [
        (1, "#ff0000"),
        (3, "#00ff00"),
        (4, "#00ffff"),
        (5, "#0000ff"),
        (6, "#ff00ff"),
        (7, "#000000"),
        (8, "#808080"),
    ];
    for (colour, number) in stated.values() {
        assert!(known.contains(&(*number, *colour)), "{colour} {number}");
    }
    let mut seen = BTreeSet::new();
    for file in &made.files {
        let text = std::str::from_utf8(&file.bytes).unwrap();
        if file.name.ends_with(".svg") {
            let document = Document::parse(text).unwrap();
            for group in document.descendants().filter(|node| node.has_tag_name("g")) {
                let name = group.attribute("id").unwrap();
                assert_eq!(group.attribute("stroke"), Some(stated[name].0), "{name}");
                seen.insert(name.to_owned());
            }
        } else if file.name.ends_with(".dxf") {
            for (name, (_, number)) in &stated {
                let record = format!("AcDbLayerTableRecord\n  2\n{name}\n 70\n0\n 62\n{number}\n");
                assert!(text.contains(&record), "{}: {name}", file.name);
            }
            for line in lines(text) {
                assert!(stated.contains_key(line.layer.as_str()), "{}", line.layer);
            }
        }
    }
    // All of them are used.
    assert_eq!(seen.len(), stated.len(), "{seen:?}");
}

/// Further keys of an instrument, with each family of lines in one of them.
const FAMILIES: [&str; 6] = [
    "",
    "[parts]\nletters = \"single-stroke\"\n",
    "date_from = \"equal-day-ring\"\n",
    "house_lines = \"campanus\"\nunequal_hour_lines = \"curves\"\nazimuth_step_deg = 11.25\n\
     [parts]\nhorizons_deg = \"all\"\nquadrant = \"sines\"\ncotangents = true\n\
     tracery = \"interlace\"\npointers = \"flame\"\n",
    "[parts]\nrings = [\"faces\", \"egyptian-terms\", \"mansions\"]\nquadrant = \"equal-hours\"\n\
     letters = \"single-stroke\"\ntracery = \"scroll\"\nstar_labels = \"numbers\"\n\
     gazetteer = [[\"Toledo\", 39.8567, -4.0245], [\"Cairo\", 30.0444, 31.2357]]\n",
    "[parts]\nquadrant = \"noon-altitudes\"\nqibla = true\ntracery = \"lancet\"\n\
     gazetteer = [[\"Toledo\", 39.8567, -4.0245], [\"Cairo\", 30.0444, 31.2357]]\n\
     [texts]\nthrone = \"ad astra\"\nfloor = [\"one\", \"two\"]\n",
];

/// Census by layer: no piece of a line stands twice in a file, on one layer or on two.
#[test]
fn no_line_is_made_twice() {
    for more in FAMILIES {
        let made = made(more, Cutting::default(), &Making::ALL);
        for file in made.files.iter().filter(|file| file.name.ends_with(".dxf")) {
            let lines = lines(std::str::from_utf8(&file.bytes).unwrap());
            let mut seen: BTreeMap<[(i64, i64); 3], String> = BTreeMap::new();
            for line in lines.iter().filter(|line| line.layer != "guide") {
                for piece in line.pieces() {
                    let near = |p: Point| ((p.0 * 2e3).round() as i64, (p.1 * 2e3).round() as i64);
                    let [from, middle, to] = piece.map(near);
                    let key = [from.min(to), middle, from.max(to)];
                    // What is shorter than a hair is broad is a dot of some letter.
                    if away(piece[0], piece[2]) < 0.05 {
                        continue;
                    }
                    let other = seen.insert(key, line.layer.clone());
                    assert!(
                        other.is_none(),
                        "{}: {piece:?} on {} and {other:?}",
                        file.name,
                        line.layer
                    );
                }
            }
        }
    }
}

/// Census of an SVG by layer: how many lines its paths hold, and how many are closed.
fn census(svg: &str) -> BTreeMap<String, (usize, usize)> {
    let document = Document::parse(svg).unwrap();
    let mut census: BTreeMap<String, (usize, usize)> = BTreeMap::new();
    for path in document
        .descendants()
        .filter(|node| node.has_tag_name("path"))
    {
        let mut above = path.ancestors().filter(|node| node.has_tag_name("g"));
        let layer = above.find_map(|group| group.attribute("id")).unwrap();
        let d = path.attribute("d").unwrap();
        let (lines, closed) = census.entry(layer.to_owned()).or_default();
        *lines += d.matches('M').count();
        *closed += d.matches('Z').count();
    }
    census
}

/// Both formats hold the same lines on every layer, and closed outlines alone are filled.
#[test]
fn both_formats_hold_as_many_lines_by_layer_and_what_is_filled_is_closed() {
    for more in FAMILIES {
        let made = made(more, Cutting::default(), &Making::ALL);
        let drawn = made.files.iter().filter(|file| file.name.ends_with(".dxf"));
        for file in drawn {
            let mut of_dxf: BTreeMap<String, (usize, usize)> = BTreeMap::new();
            for line in lines(std::str::from_utf8(&file.bytes).unwrap()) {
                assert!(line.closed || line.layer != "engrave-fill", "{}", file.name);
                let (lines, closed) = of_dxf.entry(line.layer).or_default();
                *lines += 1;
                *closed += usize::from(line.closed);
            }
            let svg = file.name.replace(".dxf", ".svg");
            assert_eq!(census(text(&made.files, &svg)), of_dxf, "{svg} with {more}");
        }
    }
}

/// How far a tool goes idle through a DXF. Its arcs have no sense of their own: they are
/// always written against the clock, and a machine begins at the nearer end.
fn idle(lines: &[Line]) -> f64 {
    let mut way = 0.0;
    let mut at: Option<Point> = None;
    for line in lines.iter().filter(|line| line.layer != "guide") {
        let (mut begin, mut end) = (line.start(), line.end());
        let from = at.unwrap_or(begin);
        if line.is_arc && away(from, end) < away(from, begin) {
            (begin, end) = (end, begin);
        }
        way += away(from, begin);
        at = Some(end);
    }
    way
}

#[test]
fn the_order_of_lines_saves_idle_way_and_is_the_one_told() {
    let made = made("", Cutting::default(), &Making::ALL);
    let (mut drawn, mut written) = (0.0, 0.0);
    for piece in &made.manifest.pieces {
        let travel = piece.travel;
        assert!(
            travel.in_files_mm <= travel.as_drawn_mm + 0.1,
            "{}: {travel:?}",
            piece.name
        );
        drawn += travel.as_drawn_mm;
        written += travel.in_files_mm;
        let lines = lines(text(&made.files, &format!("{}.dxf", piece.name)));
        let way = idle(&lines);
        // But for the way from where the machine rests, and the corners at which the two
        // formats begin a circle.
        let across = piece.width_mm.hypot(piece.height_mm);
        assert!(
            (way - travel.in_files_mm).abs() < across + 0.1 * travel.in_files_mm,
            "{}: {way} {travel:?}",
            piece.name
        );
    }
    // 59.5 m and 10.4 m when it was measured.
    assert!(written < 0.5 * drawn, "{drawn} {written}");
}

#[test]
fn a_beam_cuts_what_a_drill_would_drill() {
    let of = |cutting: Cutting| {
        let made = made("", cutting, &[Making::Plates]);
        lines(text(
            &made.files,
            "plate-1.dxf".replace("plate-1", "plate-1a").as_str(),
        ))
        .into_iter()
        .map(|line| line.layer)
        .collect::<BTreeSet<String>>()
    };
    let drilled = of(Cutting::default());
    assert!(
        drilled.contains("drill") && !drilled.contains("cut-inside"),
        "{drilled:?}"
    );
    let cut = of(Cutting {
        kerf: Some(Length::from_mm(0.2)),
        ..Cutting::default()
    });
    assert!(
        !cut.contains("drill") && cut.contains("cut-inside"),
        "{cut:?}"
    );
}

#[test]
fn tabs_hold_a_part_and_leave_so_much_uncut() {
    let tabs = Tabs {
        count: 4,
        breadth: Length::from_mm(1.5),
    };
    let cutting = Cutting {
        tabs: Some(tabs),
        ..Cutting::default()
    };
    let plain = made("", Cutting::default(), &[Making::Plates]);
    let held = made("", cutting, &[Making::Plates]);
    let outlines = |set: &Set| -> Vec<Line> {
        let lines = lines(text(&set.files, "plate-1a.dxf")).into_iter();
        lines.filter(|line| line.layer == "cut-outside").collect()
    };
    assert_eq!(outlines(&plain).len(), 1);
    let parts = outlines(&held);
    assert_eq!(parts.len(), 4);
    // Between the end of one and the beginning of another a tab's breadth is left.
    for (n, part) in parts.iter().enumerate() {
        let others = parts.iter().enumerate().filter(|(other, _)| *other != n);
        let ends: Vec<Point> = others
            .flat_map(|(_, other)| [other.start(), other.end()])
            .collect();
        for end in [part.start(), part.end()] {
            let gap = ends
                .iter()
                .map(|other| away(end, *other))
                .fold(f64::INFINITY, f64::min);
            assert!((gap - 1.5).abs() < 0.05, "{gap}");
        }
    }
    assert_eq!(held.manifest.cutting.tabs, 4);
}

#[test]
fn the_tool_comes_in_from_what_falls_away() {
    let cutting = Cutting {
        lead_in: Some(Length::from_mm(2.0)),
        drilled: Some(Length::ZERO),
        ..Cutting::default()
    };
    let made = made("", cutting, &[Making::Plates, Making::Mater]);
    for name in ["plate-1a.dxf", "mater.dxf"] {
        let lines = lines(text(&made.files, name));
        let cuts: Vec<&Line> = lines
            .iter()
            .filter(|line| line.layer.starts_with("cut"))
            .collect();
        assert!(!cuts.is_empty());
        for cut in cuts {
            let [(tool, bulge), (edge, _)] = [cut.corners[0], cut.corners[1]];
            assert!(bulge.abs() < 1e-9 && !cut.closed);
            // It comes back to where it met the edge.
            assert!(away(edge, cut.end()) < 1e-4, "{name}");
            let (outside, radius) = (cut.layer == "cut-outside", |p: Point| p.0.hypot(p.1));
            if away(tool, edge) > 1.0 {
                assert!((away(tool, edge) - 2.0).abs() < 1e-6 || !outside);
            }
            if outside {
                assert!(
                    radius(tool) > radius(edge) + 1.9,
                    "{name} {tool:?} {edge:?}"
                );
            }
        }
    }
}

#[test]
fn a_cutter_reaches_the_corners_that_another_part_fills() {
    let cutting = |cutter: Option<f64>| Cutting {
        cutter: cutter.map(Length::from_mm),
        ..Cutting::default()
    };
    let parts = [Making::Plates, Making::Rete, Making::Mater];
    let (square, round) = (
        made("", cutting(None), &parts),
        made("", cutting(Some(1.0)), &parts),
    );
    let pieces = |set: &Set, name: &str, layer: &str| -> Vec<[Point; 3]> {
        let lines = lines(text(&set.files, &format!("{name}.dxf"))).into_iter();
        lines
            .filter(|line| line.layer == layer)
            .flat_map(|line| line.pieces())
            .collect()
    };
    // The notch in the limb has two corners at its foot; the plate's tongue two at its root.
    for (name, layer, corners) in [("mater", "cut-inside", 2), ("plate-1a", "cut-outside", 2)] {
        let before = pieces(&square, name, layer);
        let after = pieces(&round, name, layer);
        // A circle of the cutter's size: a piece of it whose middle is as far from its chord.
        let radius = |[a, m, b]: &[Point; 3]| {
            let (half, sagitta) = (
                away(*a, *b) / 2.0,
                away(*m, ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0)),
            );
            (half * half + sagitta * sagitta) / (2.0 * sagitta)
        };
        let reliefs = |pieces: &[[Point; 3]]| {
            let near = |p: Point, q: Point| away(p, q) < 1.2;
            let mut centres: Vec<Point> = Vec::new();
            for piece in pieces
                .iter()
                .filter(|piece| (radius(piece) - 0.51).abs() < 0.01)
            {
                if !centres.iter().any(|centre| near(*centre, piece[1])) {
                    centres.push(piece[1]);
                }
            }
            centres.len()
        };
        assert_eq!((reliefs(&before), reliefs(&after)), (0, corners), "{name}");
    }
    assert_eq!(
        text(&square.files, "rete.dxf"),
        text(&round.files, "rete.dxf")
    );
    let both = Cutting {
        kerf: Some(Length::from_mm(1.0)),
        ..cutting(Some(1.0))
    };
    let order = Order {
        cutting: both,
        ..Order::default()
    };
    let error = set(&instrument(""), &order, Patience::ENDLESS)
        .unwrap_err()
        .to_string();
    assert!(error.contains("cutter of 1 mm"), "{error}");
}

#[test]
fn a_tool_that_no_machine_has_is_refused() {
    let mm = |value: f64| Some(Length::from_mm(value));
    for (cutting, word) in [
        (
            Cutting {
                kerf: mm(4.0),
                ..Cutting::default()
            },
            "kerf 4",
        ),
        (
            Cutting {
                cutter: mm(-1.0),
                ..Cutting::default()
            },
            "cutter -1",
        ),
        (
            Cutting {
                lead_in: mm(f64::NAN),
                ..Cutting::default()
            },
            "lead-in NaN",
        ),
        (
            Cutting {
                tabs: Some(Tabs {
                    count: 0,
                    breadth: Cutting::TAB,
                }),
                ..Cutting::default()
            },
            "tabs 0",
        ),
    ] {
        let error = cutting.checked().unwrap_err().to_string();
        assert!(
            error.contains(word) && error.contains("would do"),
            "{error}"
        );
    }
}
