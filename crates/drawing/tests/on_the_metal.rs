//! What is engraved lies on the metal, off its edges, and once; the parts go into one another.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use std::collections::HashMap;

use drawing::{Contour, Item, Layer, Making, Piece, Seat, Stack, Trace, Workpiece, workpieces};
use instrument::{Instrument, Point, Specification};
use proptest::prelude::*;

fn instrument(text: &str) -> Instrument {
    Instrument::new(Specification::from_toml(text).unwrap())
}

fn of_size(diameter: f64, south: bool, more: &str) -> Instrument {
    let (side, sign) = if south {
        ("south", -1.0)
    } else {
        ("north", 1.0)
    };
    instrument(&format!(
        "version = 1\nname = \"metal\"\ndiameter_mm = {diameter}\nepoch_year = 2025\n\
         hemisphere = \"{side}\"\nplates_deg = [{}, {}]\n{more}",
        34.0 * sign,
        51.5 * sign,
    ))
}

/// Edges cut into chords, by the rows of a millimetre that they pass.
type Rows = HashMap<i64, Vec<(Point, Point)>>;

#[expect(clippy::cast_possible_truncation, reason = "a metre at most")]
fn row(mm: f64) -> i64 {
    mm.floor() as i64
}

/// The edges of a workpiece's metal, cut into chords here and not by the crate.
fn chords(piece: &Workpiece) -> Rows {
    const CHORD_MM: f64 = 0.3;
    let mut chords = Vec::new();
    for edge in piece.solid.edges() {
        let (start, pieces, closed) = edge.outline();
        let mut at = start;
        for piece in pieces.iter() {
            let from = at;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "some thousands"
            )]
            let parts = match piece {
                Piece::Line { .. } => 1,
                Piece::Arc { .. } | Piece::Cubic { .. } => {
                    (piece.length_mm(from) / CHORD_MM).ceil().max(16.0) as u32
                }
            };
            for n in 1..=parts {
                let next = piece.at(from, f64::from(n) / f64::from(parts));
                chords.push((at, next));
                at = next;
            }
        }
        if closed {
            chords.push((at, start));
        }
    }
    let mut rows = Rows::new();
    for (a, b) in chords {
        for n in row(a.y.min(b.y))..=row(a.y.max(b.y)) {
            rows.entry(n).or_default().push((a, b));
        }
    }
    rows
}

/// Whether a place lies within the edges, how far from them (a millimetre at most), and
/// the unit vector along the nearest.
fn depth(rows: &Rows, p: Point) -> (bool, f64, Point) {
    let (mut inside, mut least, mut edge) = (false, 1.0, Point::POLE);
    for n in row(p.y) - 1..=row(p.y) + 1 {
        for (a, b) in rows.get(&n).into_iter().flatten() {
            let crossed =
                (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * ((p.y - a.y) / (b.y - a.y));
            if n == row(p.y) && crossed {
                inside = !inside;
            }
            let along = *b - *a;
            if along.radius() < 1e-9 {
                continue;
            }
            let part = ((p - *a).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
            let away = (p - (*a + along * part)).radius();
            if away < least {
                (least, edge) = (away, along * (1.0 / along.radius()));
            }
        }
    }
    (inside, least, edge)
}

/// The chords of [`chords`] leave the edges by no more than this.
const CHORDS_MM: f64 = 0.004;

fn strokes(piece: &Workpiece) -> impl Iterator<Item = &Trace> {
    piece.items.iter().filter_map(|item| match item {
        Item::Stroke(trace) if trace.layer != Layer::Guide => Some(trace),
        _ => None,
    })
}

/// What is engraved off the metal or along an edge. Strokes may end on an edge.
fn off_the_metal(piece: &Workpiece) -> Option<String> {
    let chords = chords(piece);
    for trace in strokes(piece) {
        let half = piece.hair_mm * trace.weight.times_hair() / 2.0;
        for contour in &trace.contours {
            let (start, pieces, _) = contour.outline();
            let mut from = start;
            for part in pieces.iter() {
                for at in [0.0, 0.01, 0.3, 0.5, 0.8, 0.99, 1.0] {
                    let p = part.at(from, at);
                    let (inside, away, edge) = depth(&chords, p);
                    let near = |at: f64| part.at(from, at.clamp(0.0, 1.0));
                    let along = near(at + 0.001) - near(at - 0.001);
                    let follows = along.cross(edge).abs() < 0.4 * along.radius();
                    let on_edge = away < half * 0.9 && follows;
                    if !inside && away > CHORDS_MM || on_edge {
                        return Some(format!(
                            "{}: {:?} at {p:?}: inside {inside}, {away} mm from an edge",
                            piece.name, trace.line
                        ));
                    }
                }
                from = part.end();
            }
        }
    }
    None
}

/// A line that is engraved twice: over three places of it lies another.
fn twice(piece: &Workpiece) -> Option<String> {
    const SAME_MM: f64 = 0.001;
    let mut parts: Vec<(String, Point, Piece, (Point, Point))> = Vec::new();
    for trace in strokes(piece) {
        for contour in &trace.contours {
            let (start, pieces, _) = contour.outline();
            let mut from = start;
            for part in pieces.iter() {
                let alone = Contour::open(from, vec![*part]);
                let name = format!("{:?}", trace.line);
                parts.push((name, from, *part, alone.bounds()));
                from = part.end();
            }
        }
    }
    let on = |(_, from, part, (low, high)): &(String, Point, Piece, (Point, Point)), p: Point| {
        let within = p.x > low.x - SAME_MM
            && p.x < high.x + SAME_MM
            && p.y > low.y - SAME_MM
            && p.y < high.y + SAME_MM;
        within
            && match *part {
                Piece::Line { to } => {
                    let along = to - *from;
                    (p - *from).cross(along).abs() < SAME_MM * along.radius()
                }
                Piece::Arc { centre, sweep, .. } => {
                    let onward = (p - centre).direction() - (*from - centre).direction();
                    let run = if sweep.deg() < 0.0 { -onward } else { onward };
                    ((p - centre).radius() - (*from - centre).radius()).abs() < SAME_MM
                        && run.in_turn() <= sweep.abs()
                }
                Piece::Cubic { .. } => false,
            }
    };
    for (n, one) in parts.iter().enumerate() {
        // Three places so far apart that no line that only crosses it passes all of them.
        let apart = (0.4 / one.2.length_mm(one.1).max(1e-9)).clamp(0.02, 0.5);
        for middle in [apart, 0.5, 1.0 - apart] {
            let places = [-apart, 0.0, apart].map(|off| one.2.at(one.1, middle + off));
            for (m, other) in parts.iter().enumerate() {
                if n != m && places.iter().all(|p| on(other, *p)) {
                    return Some(format!(
                        "{}: {} and {} at {:?}",
                        piece.name, one.0, other.0, places
                    ));
                }
            }
        }
    }
    None
}

fn check(instrument: &Instrument) {
    for piece in workpieces(instrument, &Making::ALL) {
        let diameter = instrument.specification().diameter.mm();
        assert_eq!(off_the_metal(&piece), None, "{diameter} mm");
        assert_eq!(twice(&piece), None, "{diameter} mm");
    }
}

#[test]
fn nothing_is_engraved_off_the_metal_on_an_edge_or_twice() {
    for (n, diameter) in [40.0, 60.0, 120.0, 180.0, 350.0, 480.0]
        .into_iter()
        .enumerate()
    {
        check(&of_size(diameter, n % 2 == 0, ""));
    }
}

#[test]
fn nor_with_what_else_a_specification_asks_for() {
    let more = "orientation = \"midnight-up\"\ndate_from = \"equal-day-ring\"\n\
                house_lines = \"regiomontanus\"\n\
                [parts]\ncalendar_scale = \"eccentric\"\nsine_quadrant = true\ncotangents = true\n\
                rule = \"declinations\"\nhorizons_deg = [0, 10, 50, 66]";
    check(&of_size(200.0, false, more));
}

#[test]
fn nor_where_lines_of_two_names_fall_together() {
    // At the poles the horizon is the equator; at the equator hour circles are house lines.
    check(&instrument(
        "version = 1\nname = \"ends\"\ndiameter_mm = 150\nepoch_year = 2025\nplates_deg = [0, 90]\n\
         house_lines = \"regiomontanus\"",
    ));
}

/// The thickness of a workpiece by name, and how many of it there are.
fn thick(pieces: &[Workpiece], name: &str) -> f64 {
    let found = pieces.iter().find(|piece| piece.name == name);
    found.map_or(0.0, |piece| piece.thickness.mm() * f64::from(piece.count))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Plates and rete fill the opening to the limb's face, and the wedge goes into its
    /// slot and presses on the rule, whatever the sheets and however many plates.
    #[test]
    fn the_stack_fits(
        diameter in 40.0..500.0_f64, sides in 1_usize..14,
        mater in 0.3..6.0_f64, plate in 0.3..3.0_f64, rete in 0.3..3.0_f64, rule in 0.3..3.0_f64,
        tolerance in 0.0..0.3_f64,
    ) {
        let latitudes: Vec<String> = (0..sides).map(|n| (20 + n * 3).to_string()).collect();
        let made = instrument(&format!(
            "version = 1\nname = \"stack\"\ndiameter_mm = {diameter}\nepoch_year = 2025\n\
             plates_deg = [{}]\nstar_pointers = 0\n[fits]\nmater_thickness_mm = {mater}\n\
             plate_thickness_mm = {plate}\nrete_thickness_mm = {rete}\n\
             rule_thickness_mm = {rule}\ntolerance_mm = {tolerance}",
            latitudes.join(", ")
        ));
        let pieces = workpieces(&made, &[Making::Mater, Making::Pin]);
        let stack = Stack::of(&made);
        let sheets = sides.div_ceil(2) as f64;
        let packing = stack.packing.map_or(0.0, instrument::Length::mm);
        let filling = packing + sheets * plate + rete;
        let opening = thick(&pieces, "mater") + thick(&pieces, "spacer");
        prop_assert!((opening - filling).abs() <= tolerance.max(0.01) + 1e-9, "{opening} {filling}");
        // Alidade and back behind, the rule in front, on whichever is higher.
        let held = rule + mater + opening.max(filling) + rule;
        let named = |name: &str| pieces.iter().find(|piece| piece.name == name).unwrap();
        let (pin, wedge) = (named("pin"), named("wedge"));
        let (low, high) = pin.solid.bodies[0].holes[0].bounds();
        prop_assert!(wedge.thickness.mm() < high.x - low.x + 1e-9);
        prop_assert!(high.x - low.x < 0.75 * pin.thickness.mm(), "cheeks are left beside the slot");
        // Through the slot's free part the wedge's thin end passes, its thick end does not.
        let free = high.y - held;
        prop_assert!(low.y < held && 0.9 * rule < free && free < 2.2 * rule, "{free} {rule}");
    }
}

#[test]
fn a_sheet_that_is_at_hand_is_taken_for_spacers() {
    let stack = |more: &str| {
        Stack::of(&of_size(
            180.0,
            false,
            &format!(
                "[fits]\nmater_thickness_mm = 1\nplate_thickness_mm = 1\nrete_thickness_mm = 1\n{more}"
            ),
        ))
    };
    let fitting = stack("").spacers.unwrap();
    assert_eq!((fitting.count, fitting.thickness.mm()), (1, 1.0));
    let stated = stack("spacer_thickness_mm = 0.4");
    let spacers = stated.spacers.unwrap();
    assert_eq!((spacers.count, spacers.thickness.mm()), (3, 0.4));
    assert!((stated.rete_below_limb().mm() - 0.2).abs() < 1e-9);
}

/// Capella stands where a lobe of the tracery would be, Vega and Deneb beside one: all
/// have their names on blades of their own. No bright star is left nameless on tracery.
#[test]
fn tracery_makes_way_for_bright_stars() {
    for (diameter, south) in [(180.0, false), (180.0, true), (350.0, false), (350.0, true)] {
        let made = of_size(diameter, south, "");
        let rete = workpieces(&made, &[Making::Rete]).remove(0);
        assert_eq!(rete.pointers.len(), made.stars().len());
        for pointer in &rete.pointers {
            let name = pointer.star.name;
            let on_tracery = pointer.is_ringed && pointer.seat == Seat::Tracery;
            if pointer.star.is_of_first_magnitude() {
                assert!(!on_tracery || pointer.is_named, "{name} is nameless");
            }
            if ["Alhaiot", "Wega", "Arided"].contains(&name) {
                assert!(pointer.is_named && !pointer.is_ringed, "{name}");
            }
        }
        let made_way = rete.thinned.iter().any(|one| one.what == "tracery");
        assert!(
            made_way || south,
            "nothing had to make way: the test is idle"
        );
    }
}

/// The degree told with a pointer culminates with its star: its right ascension, by the
/// formula for a point of the ecliptic (tan α = cos ε tan λ), is the star's.
#[test]
fn the_degree_told_with_a_pointer_has_the_stars_right_ascension() {
    for south in [false, true] {
        let made = of_size(180.0, south, "");
        let rete = workpieces(&made, &[Making::Rete]).remove(0);
        let cos = made.obliquity().cos();
        for pointer in &rete.pointers {
            let (sin_l, cos_l) = pointer.degree.sin_cos();
            let found = sky::Angle::atan2(sin_l * cos, cos_l);
            let off = found.to(pointer.star.right_ascension).deg();
            assert!(off.abs() < 1e-9, "{}: {off}", pointer.star.name);
        }
    }
}
