//! Parts on sheets: none overlaps another, all keep their distance and lie on the sheet.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

mod cases;

use cases::cases;
use instrument::{Instrument, Point, Specification};
use kurbo::{BezPath, PathEl, flatten};
use patience::Patience;
use press::{Cutting, Format, Length, Making, NestOrder, Nested, Outline, Stock, nest, packed};
use proptest::prelude::*;
use roxmltree::Document;
use sky::Angle;

/// How large a shape is: its height by its breadth.
fn extent(rings: &[Vec<Point>]) -> (f64, f64) {
    let reach = |get: fn(&Point) -> f64| {
        let values = || rings.iter().flatten().map(get);
        values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min)
    };
    (reach(|p| p.x), reach(|p| p.y))
}

/// A disc, a rectangle, a ring or an angle, of a size.
fn shape(kind: u8, a: f64, b: f64) -> Vec<Vec<Point>> {
    let disc = |r: f64| -> Vec<Point> {
        let around = (0..48).map(|n| Angle::FULL_TURN * (f64::from(n) / 48.0));
        around.map(|out| Point::polar(r, out)).collect()
    };
    let corners =
        |points: &[(f64, f64)]| points.iter().map(|(x, y)| Point { x: *x, y: *y }).collect();
    match kind {
        0 => vec![disc(a)],
        1 => vec![corners(&[(0.0, 0.0), (a, 0.0), (a, b), (0.0, b)])],
        2 => vec![disc(a), disc(a * 0.8)],
        _ => vec![corners(&[
            (0.0, 0.0),
            (a, 0.0),
            (a, 3.0),
            (3.0, 3.0),
            (3.0, b),
            (0.0, b),
        ])],
    }
}

fn away(p: Point, (a, b): (Point, Point)) -> f64 {
    let along = b - a;
    let part = ((p - a).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
    (p - (a + along * part)).radius()
}

fn sides(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    ring.iter()
        .copied()
        .zip(ring.iter().copied().cycle().skip(1))
}

/// Whether a point lies within rings, by how often a ray leaves them.
fn holds(rings: &[Vec<Point>], p: Point) -> bool {
    let crossed = rings.iter().flat_map(|ring| sides(ring)).filter(|(a, b)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * ((p.y - a.y) / (b.y - a.y))
    });
    crossed.count() % 2 == 1
}

/// The distance of two parts: none where one lies in the other's metal. Between
/// straight sides that do not cross it is that of a corner from a side.
fn distance(a: &[Vec<Point>], b: &[Vec<Point>]) -> f64 {
    let within = |a: &[Vec<Point>], b: &[Vec<Point>]| b.iter().flatten().any(|p| holds(a, *p));
    if within(a, b) || within(b, a) {
        return 0.0;
    }
    let least = |a: &[Vec<Point>], b: &[Vec<Point>]| {
        let sides = a.iter().flat_map(|ring| sides(ring));
        sides
            .flat_map(|side| b.iter().flatten().map(move |p| away(*p, side)))
            .fold(f64::INFINITY, f64::min)
    };
    least(a, b).min(least(b, a))
}

/// Whether a side of the one crosses a side of the other.
fn cross(a: &[Vec<Point>], b: &[Vec<Point>]) -> bool {
    let apart = |(p, q): (Point, Point), r: Point, s: Point| {
        (q - p).cross(r - p) * (q - p).cross(s - p) < -1e-9
    };
    a.iter().flat_map(|ring| sides(ring)).any(|one| {
        let mut others = b.iter().flat_map(|ring| sides(ring));
        others.any(|other| apart(one, other.0, other.1) && apart(other, one.0, one.1))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, ..ProptestConfig::default() })]

    #[test]
    fn nothing_overlaps_and_all_keeps_its_distance(
        shapes in prop::collection::vec((0..4_u8, 4.0..20.0_f64, 4.0..20.0_f64), 1..9),
        width in 45.0..90.0_f64,
        height in 45.0..90.0_f64,
        spacing in 0.0..4.0_f64,
        margin in 0.0..6.0_f64,
        has_grain in any::<bool>(),
        count in 1..3_usize,
    ) {
        let stock = [Stock {
            material: String::new(),
            width_mm: width,
            height_mm: height,
            thickness_mm: 1.0,
            count: Some(count),
            has_grain,
        }];
        let shapes: Vec<Vec<Vec<Point>>> =
            shapes.into_iter().map(|(kind, a, b)| shape(kind, a, b)).collect();
        let outlines: Vec<Outline<'_>> =
            shapes.iter().map(|rings| Outline { rings, takes: vec![true] }).collect();
        let placings = packed(&outlines, &stock, spacing, margin, Patience::ENDLESS).expect("waited for");
        let mut laid: Vec<(usize, Vec<Vec<Point>>)> = Vec::new();
        for (rings, placing) in shapes.iter().zip(&placings) {
            let Some(placing) = placing else { continue };
            prop_assert!(placing.sheet < count);
            prop_assert!(!has_grain || placing.quarters % 2 == 0);
            let put = |p: &Point| p.turned(placing.turn()) + placing.by;
            let rings: Vec<Vec<Point>> =
                rings.iter().map(|ring| ring.iter().map(put).collect()).collect();
            for p in rings.iter().flatten() {
                prop_assert!(p.x >= margin - 1e-6 && p.x <= width - margin + 1e-6);
                prop_assert!(p.y >= margin - 1e-6 && p.y <= height - margin + 1e-6);
            }
            for (sheet, other) in &laid {
                if *sheet == placing.sheet {
                    // Within an outline, the first ring, lies nothing else, not in its opening either.
                    let apart = distance(&rings[..1], &other[..1]);
                    prop_assert!(apart >= spacing - 1e-6, "{apart} {spacing}");
                    prop_assert!(!cross(&rings, other));
                }
            }
            laid.push((placing.sheet, rings));
        }
// What is smaller than the room of a sheet and is laid first always finds its place.
        let size = |n: &usize| {
            let (width, height) = extent(&shapes[*n]);
            width * height
        };
        let mut order: Vec<usize> = (0..shapes.len()).collect();
        order.sort_by(|a, b| size(b).total_cmp(&size(a)));
        let (across, up) = extent(&shapes[order[0]]);
        let room = width.min(height) - 2.0 * margin - 2.0;
        if across < room && up < room {
            prop_assert!(placings[order[0]].is_some());
        }
    }
}

fn stock(text: &str) -> Stock {
    Stock::parse(text).unwrap()
}

fn instrument(name: &str, diameter: u32) -> Instrument {
    let text = format!(
        "version = 1\nname = \"{name}\"\ndiameter_mm = {diameter}\nepoch_year = 2025\n\
         plates_deg = [51.8333, 42]\nalmucantar_step_deg = 10\nazimuth_step_deg = 30\n\
         [fits]\nmater_thickness_mm = 1.5\nplate_thickness_mm = 1\nrete_thickness_mm = 1\n\
         rule_thickness_mm = 1\n"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

fn nested(instruments: &[&Instrument], sheets: &[&str], materials: &[(&str, &str)]) -> Nested {
    let order = NestOrder {
        parts: Making::ALL.to_vec(),
        stock: sheets.iter().map(|text| stock(text)).collect(),
        materials: materials
            .iter()
            .map(|(part, material)| ((*part).to_owned(), (*material).to_owned()))
            .collect(),
        spacing: NestOrder::SPACING,
        margin: NestOrder::MARGIN,
        formats: vec![Format::Svg, Format::Dxf],
        cutting: Cutting::default(),
        dated: String::new(),
    };
    nest(instruments, &order.checked().unwrap(), Patience::ENDLESS).unwrap()
}

fn file<'a>(nested: &'a Nested, name: &str) -> &'a str {
    let file = nested.files.iter().find(|file| file.name == name);
    std::str::from_utf8(&file.unwrap_or_else(|| panic!("{name}")).bytes).unwrap()
}

#[test]
fn parts_of_two_instruments_lie_on_sheets_of_their_thickness() {
    let (large, small) = (instrument("large", 90), instrument("small", 60));
    let made = nested(
        &[&large, &small],
        &["brass 200x300x1.5", "brass 250x250x1"],
        &[],
    );
    // What fills up the stack is as thick as it must be.
    let fills = |part: &str| {
        ["spacer", "packing", "wedge"]
            .iter()
            .any(|one| part.ends_with(one))
    };
    assert!(
        made.told.left.iter().all(|left| fills(&left.part)),
        "{:?}",
        made.told.left
    );
    for sheet in &made.told.sheets {
        for part in sheet.parts.iter().filter(|part| !fills(&part.part)) {
            let is_thick = part.part.ends_with("mater") || part.part.ends_with("back");
            let thick = if is_thick { 1.5 } else { 1.0 };
            assert!((sheet.thickness_mm - thick).abs() < 1e-9, "{part:?}");
        }
        assert!(sheet.used_percent > 5.0 && sheet.used_percent < 100.0);
        // Every part is cut round once, and the file can be read.
        let svg = file(&made, &format!("{}.svg", sheet.name));
        let document = Document::parse(svg).unwrap();
        let outlines: usize = document
            .descendants()
            .filter(|node| {
                node.parent().and_then(|group| group.attribute("id")) == Some("cut-outside")
            })
            .filter_map(|path| Some(path.attribute("d")?.matches('M').count()))
            .sum();
        assert_eq!(outlines, sheet.parts.len());
    }
    let text = file(&made, "sheets.txt");
    assert!(
        text.contains("safety rules") && text.contains("% of it is used"),
        "{text}"
    );
}

/// The outlines along which parts are cut out of a sheet, as chords within 0.005 mm, read
/// from its SVG by kurbo.
fn cut_out(svg: &str) -> Vec<Vec<Point>> {
    let document = Document::parse(svg).unwrap();
    let layer = |node: &roxmltree::Node<'_, '_>| {
        node.parent().and_then(|group| group.attribute("id")) == Some("cut-outside")
    };
    let mut outlines: Vec<Vec<Point>> = Vec::new();
    let is_path = |node: &roxmltree::Node<'_, '_>| node.has_tag_name("path");
    for path in document.descendants().filter(layer).filter(is_path) {
        let path = BezPath::from_svg(path.attribute("d").unwrap()).unwrap();
        flatten(path, 0.005, |element| match element {
            PathEl::MoveTo(p) => outlines.push(vec![Point { x: p.x, y: p.y }]),
            PathEl::LineTo(p) => outlines.last_mut().unwrap().push(Point { x: p.x, y: p.y }),
            PathEl::ClosePath => {}
            other => panic!("{other:?} is no chord"),
        });
    }
    outlines
}

/// A file has places to a thousandth of a millimetre, and chords of it are read.
const SURE_MM: f64 = 0.012;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(6)))]

    /// Orders of one to three instruments of any size: on every sheet, as its file is read,
    /// each part is cut out once, within the margins, and keeps its distance from all others.
    #[test]
    fn orders_of_instruments_keep_their_distance(
        diameters in prop::collection::vec(40..170_u32, 1..4),
        sheets in prop::collection::vec((120..400_u32, 120..400_u32), 1..3),
        spacing in 0.0..5.0_f64,
        margin in 0.0..8.0_f64,
    ) {
        let instruments: Vec<Instrument> = diameters
            .iter()
            .enumerate()
            .map(|(number, diameter)| instrument(&format!("number {number}"), *diameter))
            .collect();
        let all: Vec<&Instrument> = instruments.iter().collect();
        let sizes = |(width, height): &(u32, u32)| {
            ["1", "1.5"].map(|thick| format!("brass {width}x{height}x{thick}"))
        };
        let order = NestOrder {
            parts: Making::ALL.to_vec(),
            stock: sheets.iter().flat_map(sizes).map(|text| stock(&text)).collect(),
            materials: Vec::new(),
            spacing: Length::from_mm(spacing),
            margin: Length::from_mm(margin),
            formats: vec![Format::Svg],
            cutting: Cutting::default(),
            dated: String::new(),
        };
        let made = nest(&all, &order.checked().unwrap(), Patience::ENDLESS).unwrap();
        for sheet in &made.told.sheets {
            let outlines = cut_out(file(&made, &format!("{}.svg", sheet.name)));
            prop_assert_eq!(outlines.len(), sheet.parts.len());
            for (number, one) in outlines.iter().enumerate() {
                for p in one {
                    let (across, up) = (sheet.width_mm - margin, sheet.height_mm - margin);
                    prop_assert!(p.x >= margin - SURE_MM && p.x <= across + SURE_MM, "{:?}", sheet);
                    prop_assert!(p.y >= margin - SURE_MM && p.y <= up + SURE_MM, "{:?}", sheet);
                }
                for other in outlines.iter().take(number) {
                    let (one, other) = (std::slice::from_ref(one), std::slice::from_ref(other));
                    let apart = distance(one, other);
                    prop_assert!(apart >= spacing - SURE_MM, "{}: {apart} {spacing}", sheet.name);
                    prop_assert!(!cross(one, other), "{}", sheet.name);
                }
            }
        }
    }
}

/// What is engraved behind lies behind its part: the other side's drawing, turned about the
/// sheet's upright line, has its letters within the same outline.
#[test]
fn the_other_side_lies_behind_its_part() {
    let one = instrument("one", 70);
    let made = nested(&[&one], &["brass 180x180x1", "brass 180x180x1.5"], &[]);
    let sheet = made
        .told
        .sheets
        .iter()
        .find(|sheet| sheet.parts.iter().any(|part| part.two_sided))
        .unwrap();
    let plate = sheet.parts.iter().find(|part| part.two_sided).unwrap();
    let svg = file(&made, &format!("{}-reverse.svg", sheet.name));
    assert!(!svg.contains("cut-outside"));
    let document = Document::parse(svg).unwrap();
    // The horizon of the other side is an arc about the same upright line as the plate's middle.
    let circle = document
        .descendants()
        .find(|node| node.attribute("data-line") == Some("tropic of Cancer"))
        .unwrap();
    let d = circle.attribute("d").unwrap();
    let numbers: Vec<f64> = d
        .split(|c: char| c.is_ascii_alphabetic() || c == ' ')
        .filter_map(|number| number.parse().ok())
        .collect();
    // It begins on a circle about the plate's middle as seen from behind.
    let middle = (sheet.width_mm - plate.x_mm, plate.y_mm);
    let from = (numbers[0] - middle.0).hypot(numbers[1] - middle.1);
    let radius = numbers[2];
    assert!((from - radius).abs() < 0.02, "{from} {radius}");
}

#[test]
fn what_finds_no_place_is_told_by_name() {
    let one = instrument("one", 90);
    let made = nested(
        &[&one],
        &["1 brass 110x130x1.5", "steel 200x200x1"],
        &[("rete", "silver")],
    );
    let why = |part: &str| {
        let left = made.told.left.iter().find(|left| left.part == part);
        left.map(|left| left.why.clone())
    };
    assert!(
        why("rete").unwrap().contains("silver of 1 mm"),
        "{:?}",
        made.told.left
    );
    // The one sheet holds the limb or the back, and not both.
    let thick = [why("mater"), why("back")];
    assert_eq!(thick.iter().flatten().count(), 1, "{thick:?}");
    assert!(
        thick.iter().flatten().all(|why| why.contains("no room")),
        "{thick:?}"
    );
    assert!(file(&made, "sheets.txt").contains("Not laid: rete of one"));
    let order = NestOrder {
        parts: Making::ALL.to_vec(),
        stock: vec![stock("brass 200x200x1")],
        materials: vec![("retes".to_owned(), "silver".to_owned())],
        spacing: NestOrder::SPACING,
        margin: NestOrder::MARGIN,
        formats: vec![Format::Svg],
        cutting: Cutting::default(),
        dated: String::new(),
    };
    let error = nest(&[&one], &order, Patience::ENDLESS)
        .unwrap_err()
        .to_string();
    assert!(
        error.contains("retes") && error.contains("rete, "),
        "{error}"
    );
}

#[test]
fn sheets_are_read_as_they_are_written() {
    let walnut = stock("2 walnut 200x300x3 grain");
    assert_eq!((walnut.count, walnut.has_grain), (Some(2), true));
    assert_eq!(walnut.material, "walnut");
    assert_eq!(stock("100.5×50x0.8").to_string(), "100.5 × 50 × 0.8 mm");
    for text in [
        "",
        "brass",
        "100x100",
        "0 brass 100x100x1",
        "1x1x1",
        "brass 100x100x100",
        "100x100x1 100x100x1",
        "2 3 brass 100x100x1",
        "brass 300x400x1.5 mm",
        "brass 30x40x0.15 cm",
    ] {
        let error = Stock::parse(text).unwrap_err().to_string();
        assert!(error.contains("brass 300x400x1.5"), "{error}");
    }
    let order = NestOrder {
        parts: Vec::new(),
        stock: Vec::new(),
        materials: Vec::new(),
        spacing: Length::from_mm(-1.0),
        margin: NestOrder::MARGIN,
        formats: vec![Format::Png],
        cutting: Cutting::default(),
        dated: String::new(),
    };
    assert!(
        order
            .clone()
            .checked()
            .unwrap_err()
            .to_string()
            .contains("spacing -1")
    );
    let order = NestOrder {
        spacing: NestOrder::SPACING,
        ..order
    };
    assert!(order.checked().unwrap_err().to_string().contains("png"));
}
