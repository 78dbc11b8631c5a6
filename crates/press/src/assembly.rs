//! The parts apart from one another on their axis, and the list of materials: one page.

use drawing::{Contour, Dash, Face, Piece, Stack, Workpiece, text_width};
use instrument::{Instrument, Part, Point};

use crate::chords::chords;
use crate::ink::{Ink, Inked, Shade};
use crate::leaf::{Leaf, Words, broken};
use crate::manifest::Manifest;
use crate::sheet::{beside_limb, totals_told};
use crate::work::Work;

/// Where the axis stands on the page, and between which heights the parts stand.
const AXIS_MM: f64 = 70.0;
const TOP_MM: f64 = 34.0;
const FOOT_MM: f64 = 172.0;
/// How broad the broadest part is drawn, and how much its depth is foreshortened.
const BROAD_MM: f64 = 88.0;
const FLAT: f64 = 0.27;
const LABELS_MM: f64 = 128.0;
/// The type of what a part is called.
const LABEL_MM: f64 = 3.2;
/// On which height of the page shackle and ring stand.
const HANGERS_MM: f64 = 173.0;
/// How high the higher of them is drawn at most.
const HANGER_MM: f64 = 18.0;
const RIGHT_MM: f64 = 194.0;
const LEFT_MM: f64 = 16.0;
const SIZE_MM: f64 = 2.9;
/// More plates than this are told, not drawn.
const MOST_PLATES: usize = 4;
/// So many sheets of paper lie between the edges of a part, to hide what its metal hides.
const COVERS: u8 = 14;
/// More rows than this are not listed one by one.
const MOST_ROWS: usize = 13;

/// A part as it stands in the picture.
struct Layer<'a> {
    piece: &'a Workpiece,
    inked: &'a Inked,
    label: String,
}

pub(crate) fn assembly(
    instrument: &Instrument,
    made: &[(Workpiece, Inked)],
    manifest: &Manifest,
) -> Leaf {
    let mut leaf = Leaf::default();
    let title = format!("{}, put together", manifest.instrument);
    write(&mut leaf, LEFT_MM, 18.0, 5.5, Face::Roman, &title);
    let told = "From the wedge in front down to the alidade behind. The depth is foreshortened, \
                thicknesses are drawn threefold.";
    write(&mut leaf, LEFT_MM, 24.5, SIZE_MM, Face::Italic, told);
    picture(&mut leaf, made);
    let foot = stack(&mut leaf, instrument, FOOT_MM + 18.0);
    materials(&mut leaf, manifest, foot + 4.0);
    leaf
}

fn write(leaf: &mut Leaf, x: f64, y: f64, size_mm: f64, face: Face, text: &str) {
    leaf.words.push(Words {
        at: Point { x, y },
        size_mm,
        face,
        text: text.to_owned(),
    });
}

/// The parts in front first, each with what is said of it.
fn layers(made: &[(Workpiece, Inked)]) -> Vec<Layer<'_>> {
    // Of a sheet with two sides the first is drawn; shackle and ring stand on no axis.
    let mut fronts: Vec<&(Workpiece, Inked)> = Vec::new();
    for one in made.iter().filter(|(piece, _)| piece.part != Part::Ring) {
        if !fronts.iter().any(|(known, _)| known.sheet == one.0.sheet) {
            fronts.push(one);
        }
    }
    // From the front to the back.
    let place = |piece: &Workpiece| match (piece.part, piece.is_filler()) {
        (Part::Wedge, _) => 0,
        (Part::Rule, _) => 1,
        (Part::Rete, _) => 2,
        (Part::Plate, false) => 3,
        (Part::Plate, true) => 4,
        (Part::Mater, false) => 5,
        (Part::Mater, true) => 6,
        (Part::Back, _) => 7,
        (Part::Alidade, _) => 8,
        (Part::Pinnule, _) => 9,
        (Part::Pin, _) => 10,
        (Part::Ring, _) => 11,
    };
    let plates = || fronts.iter().filter(|(piece, _)| place(piece) == 3).count();
    let undrawn = plates().saturating_sub(MOST_PLATES);
    let mut layers: Vec<Layer<'_>> = Vec::new();
    let mut drawn = 0;
    for (piece, inked) in fronts {
        if place(piece) == 3 {
            drawn += 1;
            if drawn > MOST_PLATES {
                continue;
            }
        }
        let more = if place(piece) == 3 && drawn == MOST_PLATES && undrawn > 0 {
            format!(", and {undrawn} more")
        } else {
            String::new()
        };
        layers.push(Layer {
            piece,
            inked,
            label: format!("{}{more}", named(piece)),
        });
    }
    layers.sort_by_key(|layer| place(layer.piece));
    layers
}

/// A part by its name, how many there are and how thick they are.
fn named(piece: &Workpiece) -> String {
    let count = if piece.count > 1 {
        format!("{} × ", piece.count)
    } else {
        String::new()
    };
    let thickness = match piece.part {
        Part::Pin => String::new(),
        _ => format!(", {:.2} mm", piece.thickness.mm()),
    };
    format!("{count}{}{thickness}", piece.sheet)
}

fn ink(contours: Vec<Contour>, shade: Shade, width_mm: f64, dash: Dash) -> Ink {
    Ink {
        work: Work::Guide,
        line: None,
        contours,
        // Paper covers what lies beneath; ink is drawn along edges.
        filled: shade == Shade::Paper,
        shade,
        width_mm,
        dash,
    }
}

fn picture(leaf: &mut Leaf, made: &[(Workpiece, Inked)]) {
    let layers = layers(made);
    let reach = layers
        .iter()
        .map(|layer| {
            let (low, high) = layer.piece.bounds();
            low.x.abs().max(high.x.abs())
        })
        .fold(1.0, f64::max);
    let scale = BROAD_MM / (2.0 * reach);
    #[expect(clippy::cast_precision_loss, reason = "a dozen parts or so")]
    let step = (FOOT_MM - TOP_MM) / (layers.len().max(2) - 1) as f64;
    let mut put = |contours, shade, width_mm, dash| {
        leaf.inks
            .push((ink(contours, shade, width_mm, dash), Point::POLE));
    };
    let axis = Contour::line(
        Point {
            x: AXIS_MM,
            y: TOP_MM - 4.0,
        },
        Point {
            x: AXIS_MM,
            y: FOOT_MM + 8.0,
        },
    );
    put(vec![axis], Shade::Black, 0.12, Dash::Dashed);
    let mut labels = Vec::new();
    // What lies behind is drawn first.
    for (number, layer) in layers.iter().enumerate().rev() {
        #[expect(clippy::cast_precision_loss, reason = "a dozen parts or so")]
        let y = TOP_MM + step * number as f64;
        let piece = layer.piece;
        let is_pin = piece.part == Part::Pin;
        // Of these the front is blank: their drawing shows them from behind.
        let from_behind = matches!(piece.part, Part::Back | Part::Alidade);
        let lowered = if is_pin {
            0.0
        } else {
            3.0 * piece.thickness.mm() * scale
        };
        let map = |p: Point, down: f64| Point {
            x: AXIS_MM + if from_behind { -p.x } else { p.x } * scale,
            // The pin is shown from the side, its head behind.
            y: if is_pin {
                y - p.y * scale
            } else {
                y + p.y * scale * FLAT + down
            },
        };
        let carried = |contour: &Contour, down: f64| {
            let mut points = chords(contour, 0.05 / scale)
                .into_iter()
                .map(|p| map(p, down));
            let closed = contour.outline().2;
            let start = points.next().unwrap_or_default();
            let pieces = points.map(|to| Piece::Line { to }).collect();
            if closed {
                Contour::closed(start, pieces)
            } else {
                Contour::open(start, pieces)
            }
        };
        let edges = |down: f64| -> Vec<Contour> {
            piece
                .solid
                .edges()
                .map(|edge| carried(edge, down))
                .collect()
        };
        put(edges(lowered), Shade::Paper, 0.1, Dash::Whole);
        put(edges(lowered), Shade::Black, 0.12, Dash::Whole);
        // What the metal between hides of its lower edges.
        for part in 1..COVERS {
            let part = lowered * f64::from(part) / f64::from(COVERS);
            put(edges(part), Shade::Paper, 0.1, Dash::Whole);
        }
        put(edges(0.0), Shade::Paper, 0.1, Dash::Whole);
        put(edges(0.0), Shade::Black, 0.2, Dash::Whole);
        if !from_behind && !is_pin {
            let strong = 2.0 * piece.hair_mm;
            for line in layer
                .inked
                .on(Work::EngraveLine)
                .filter(|one| one.width_mm >= strong)
            {
                let lines = line
                    .contours
                    .iter()
                    .map(|contour| carried(contour, 0.0))
                    .collect();
                put(lines, Shade::Black, 0.08, Dash::Whole);
            }
        }
        let (low, high) = piece.bounds();
        let right = map(
            if from_behind {
                Point { x: low.x, y: 0.0 }
            } else {
                Point { x: high.x, y: 0.0 }
            },
            0.0,
        );
        labels.push((y, right.x, layer.label.clone()));
    }
    for (y, from, label) in labels {
        let leader = Contour::line(
            Point { x: from + 1.5, y },
            Point {
                x: LABELS_MM - 1.5,
                y,
            },
        );
        put(vec![leader], Shade::Black, 0.1, Dash::Dotted);
        leaf.words.push(Words {
            at: Point {
                x: LABELS_MM,
                y: y + 1.0,
            },
            size_mm: LABEL_MM,
            face: Face::Roman,
            text: label,
        });
    }
    hangers(leaf, made, scale);
}

/// What the instrument hangs by, flat as it is cut, to the left of the axis.
fn hangers(leaf: &mut Leaf, made: &[(Workpiece, Inked)], scale: f64) {
    let hangers = made.iter().map(|(piece, _)| piece);
    let mut left = LEFT_MM;
    for piece in hangers.filter(|piece| piece.part == Part::Ring) {
        let (low, high) = piece.bounds();
        // Of a small instrument the ring is large, and may not stand before the stack.
        let scale = scale.min(HANGER_MM / (high.y - low.y));
        let label = named(piece);
        let broad = (high.x - low.x) * scale;
        let breadth = broad.max(LABEL_MM * text_width(&label, Face::Roman));
        let at = |p: Point| Point {
            x: left + breadth / 2.0 + (p.x - (low.x + high.x) / 2.0) * scale,
            y: HANGERS_MM + (p.y - high.y) * scale,
        };
        let edge = |edge: &Contour| {
            let mut points = chords(edge, 0.05 / scale).into_iter().map(at);
            let start = points.next().unwrap_or_default();
            Contour::closed(start, points.map(|to| Piece::Line { to }).collect())
        };
        let edges = piece.solid.edges().map(edge).collect();
        leaf.inks
            .push((ink(edges, Shade::Black, 0.2, Dash::Whole), Point::POLE));
        write(leaf, left, HANGERS_MM + 5.0, LABEL_MM, Face::Roman, &label);
        left += breadth + 5.0;
    }
}

/// What the pin holds together, and with how much play; gives where it ends.
fn stack(leaf: &mut Leaf, instrument: &Instrument, mut y: f64) -> f64 {
    let stack = Stack::of(instrument);
    let fits = &instrument.specification().fits;
    let level = beside_limb(stack.rete_below_limb().mm());
    let told = format!(
        "The opening is {:.2} mm deep and filled to {:.2} mm, the rete's face {level}. Plates have \
         {:.2} mm of play all round, and so have pin, tongue and tenons. From the alidade's face to \
         the rule's it is {:.2} mm, where the pin's slot begins.",
        stack.depth().mm(),
        stack.filling().mm(),
        fits.tolerance.mm(),
        stack.held().mm(),
    );
    for line in broken(&told, (RIGHT_MM - LEFT_MM) / 3.2, Face::Roman) {
        write(leaf, LEFT_MM, y, 3.2, Face::Roman, &line);
        y += 4.4;
    }
    y
}

fn materials(leaf: &mut Leaf, manifest: &Manifest, mut y: f64) {
    let materials = &manifest.materials;
    // Where the columns end, and the last begins.
    let ends = [58.0, 72.0, 88.0, 104.0, 120.0, 140.0];
    let gauges_mm = 144.0;
    let mut row = |leaf: &mut Leaf, name: &str, cells: [String; 6], gauges: &str, face: Face| {
        write(leaf, LEFT_MM, y, SIZE_MM, face, name);
        for (end, cell) in ends.iter().zip(cells) {
            let x = end - text_width(&cell, face) * SIZE_MM;
            write(leaf, x, y, SIZE_MM, face, &cell);
        }
        write(leaf, gauges_mm, y, SIZE_MM, face, gauges);
        y += 4.0;
    };
    let head = ["count", "mm", "cm²", "g each", "cut m", "engraved m"].map(str::to_owned);
    row(leaf, materials.of, head, "nearest sold", Face::Italic);
    for part in materials.parts.iter().take(MOST_ROWS) {
        let gauges: Vec<&str> = part.gauges.iter().map(|one| one.gauge.as_str()).collect();
        let cells = [
            part.count.to_string(),
            format!("{:.2}", part.thickness_mm),
            format!("{:.1}", part.area_mm2 / 100.0),
            format!("{:.1}", part.mass_g),
            format!("{:.2}", part.cut_mm / 1000.0),
            format!("{:.2}", part.engrave_mm / 1000.0),
        ];
        row(leaf, &part.name, cells, &gauges.join(", "), Face::Roman);
    }
    let unlisted = materials.parts.len().saturating_sub(MOST_ROWS);
    let mut told = Vec::new();
    if unlisted > 0 {
        told.push(format!("{unlisted} more are in sheet.txt."));
    }
    told.push(totals_told("One instrument", &materials.one));
    if materials.batch > 1 {
        let whose = format!("{} instruments", materials.batch);
        told.push(totals_told(&whose, &materials.all));
    }
    told.push(format!(
        "Of {}: {} g to the cubic centimetre ({}; from memory). The pin is turned and not counted.",
        materials.of,
        sky::Plain(materials.density_g_cm3),
        materials.kind
    ));
    y += 1.5;
    let most = (RIGHT_MM - LEFT_MM) / SIZE_MM;
    for line in told.iter().flat_map(|told| broken(told, most, Face::Roman)) {
        write(leaf, LEFT_MM, y, SIZE_MM, Face::Roman, &line);
        y += 4.0;
    }
}
