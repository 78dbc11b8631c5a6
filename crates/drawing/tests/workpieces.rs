//! Parts as they are cut: one piece, no thinner than they may be, and true.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use drawing::{
    Contour, Flaw, Item, Layer, Making, Piece, Region, Setting, Solid, Workpiece, front, workpieces,
};
use instrument::{Instrument, Length, Point, Pointers, Specification, StarLabels, Throne, Tracery};
use proptest::prelude::*;
use sky::Angle;

/// What is cut may be off by this much; a hundredth would still serve.
const TRUE_MM: f64 = 0.001;

fn instrument(text: &str) -> Instrument {
    Instrument::new(Specification::from_toml(text).unwrap())
}

fn class(more: &str) -> Instrument {
    instrument(&format!(
        "version = 1\nname = \"cut\"\ndiameter_mm = 180\nepoch_year = 2025\nplates_deg = [42]\n{more}"
    ))
}

fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

fn square(x: f64, y: f64, side: f64) -> Contour {
    Contour::closed(
        at(x, y),
        [at(x + side, y), at(x + side, y + side), at(x, y + side)]
            .map(|to| Piece::Line { to })
            .to_vec(),
    )
}

/// The distance of a point from an edge, along it in short steps.
fn distance(contour: &Contour, p: Point) -> f64 {
    match contour {
        Contour::Circle { centre, radius_mm } => ((p - *centre).radius() - radius_mm).abs(),
        Contour::Path { start, pieces, .. } => {
            let mut from = *start;
            let mut least = f64::INFINITY;
            for piece in pieces {
                if let Piece::Line { to } = piece {
                    let along = *to - from;
                    let part =
                        ((p - from).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
                    least = least.min((p - (from + along * part)).radius());
                } else if let Piece::Arc { centre, sweep, to } = piece {
                    let onward = (from - *centre).direction().to((p - *centre).direction());
                    let part = [0.0, 360.0, -360.0]
                        .into_iter()
                        .any(|turn| (0.0..=1.0).contains(&((onward.deg() + turn) / sweep.deg())));
                    let ends = (p - from).radius().min((p - *to).radius());
                    let beside = ((p - *centre).radius() - (from - *centre).radius()).abs();
                    least = least.min(if part { beside } else { ends });
                } else {
                    for n in 0..=64 {
                        let off = (piece.at(from, f64::from(n) / 64.0) - p).radius();
                        least = least.min(off);
                    }
                }
                from = piece.end();
            }
            least
        }
    }
}

#[test]
fn a_union_keeps_its_arcs() {
    let disc = |x: f64| Region::whole(Contour::circle(at(x, 0.0), 10.0));
    let two = Solid::of(&[disc(0.0), disc(12.0)], &[]);
    assert_eq!(two.bodies.len(), 1);
    // Two circles of radius 10, 12 apart: 2πr² less the lens 2r²acos(d/2r) − d/2·√(4r²−d²).
    let lens = 200.0 * 0.6_f64.acos() - 6.0 * 256.0_f64.sqrt();
    let area = 200.0 * std::f64::consts::PI - lens;
    assert!((two.area_mm2() - area).abs() < 0.01, "{}", two.area_mm2());
    let Contour::Path { pieces, .. } = &two.bodies[0].outline else {
        panic!("two arcs");
    };
    assert_eq!(pieces.len(), 2);
    for piece in pieces {
        let Piece::Arc { to, .. } = piece else {
            panic!("an arc");
        };
        // They meet where the circles do.
        assert!((to.x - 6.0).abs() < 1e-9 && (to.y.abs() - 8.0).abs() < 1e-9);
    }
    let hole = Solid::of(&[disc(0.0)], &[Contour::circle(Point::POLE, 4.0)]);
    assert_eq!(hole.bodies[0].holes, [Contour::circle(Point::POLE, 4.0)]);
}

#[test]
fn what_cannot_be_cut_is_found() {
    let region = |x: f64, side: f64| Region::whole(square(x, 0.0, side));
    assert_eq!(Solid::default().is_one_piece(0.0), Err(Flaw::Empty));
    let apart = Solid::of(&[region(0.0, 5.0), region(8.0, 5.0)], &[]);
    assert!(matches!(
        apart.is_one_piece(0.0),
        Err(Flaw::Pieces { count: 2, .. })
    ));
    // Two squares joined by a bar of 0.4 mm.
    let bar = Region::whole(Contour::closed(
        at(4.0, 2.0),
        [at(9.0, 2.0), at(9.0, 2.4), at(4.0, 2.4)]
            .map(|to| Piece::Line { to })
            .to_vec(),
    ));
    let joined = Solid::of(&[region(0.0, 5.0), region(8.0, 5.0), bar], &[]);
    assert_eq!(joined.is_one_piece(0.39), Ok(()));
    let Err(Flaw::Thin { spots, .. }) = joined.is_one_piece(0.5) else {
        panic!("the bar is thinner than half a millimetre");
    };
    assert!(
        (spots[0].at - at(6.5, 2.2)).radius() < 1.6,
        "{:?}",
        spots[0].at
    );
    // A figure of eight.
    let eight = Contour::closed(
        at(0.0, 0.0),
        [at(4.0, 4.0), at(4.0, 0.0), at(0.0, 4.0)]
            .map(|to| Piece::Line { to })
            .to_vec(),
    );
    let crossed = Solid {
        bodies: vec![drawing::Body {
            outline: eight,
            holes: Vec::new(),
        }],
    };
    assert!(matches!(
        crossed.is_one_piece(0.0),
        Err(Flaw::Crossing { .. })
    ));
}

#[test]
fn a_thin_rete_is_refused_with_the_place() {
    let piece = &workpieces(&class("[parts]\nleast_width_mm = 0.5"), &[Making::Rete])[0];
    assert_eq!(piece.proven(Length::from_mm(0.5)), Ok(()));
    let flaw = piece.proven(Length::from_mm(3.0)).unwrap_err();
    assert!(flaw.to_string().contains("thinner than 3.00 mm"), "{flaw}");
    assert!(flaw.to_string().contains("the centre"), "{flaw}");
}

#[test]
fn kerf_is_let_out_on_every_edge() {
    let ring = Solid::of(&[Region::ring(Point::POLE, 20.0, 12.0)], &[]);
    let grown = ring.grown(0.1);
    assert_eq!(grown.bodies.len(), 1);
    assert_eq!(grown.bodies[0].outline, Contour::circle(Point::POLE, 20.1));
    assert_eq!(grown.bodies[0].holes, [Contour::circle(Point::POLE, 11.9)]);
    // A square grows by its edge times the breadth, and a quarter disc at each corner.
    let square = Solid::of(&[Region::whole(square(0.0, 0.0, 10.0))], &[]).grown(0.2);
    let area = 100.0 + 40.0 * 0.2 + std::f64::consts::PI * 0.04;
    assert!(
        (square.area_mm2() - area).abs() < 1e-3,
        "{}",
        square.area_mm2()
    );
    let rete = &workpieces(&class(""), &[Making::Rete])[0].solid;
    let length: f64 = rete.edges().map(Contour::length_mm).sum();
    let grown = rete.grown(0.05);
    assert_eq!(grown.bodies.len(), 1);
    let added = grown.area_mm2() - rete.area_mm2();
    // Concave corners take a little away.
    assert!((added / (length * 0.05) - 1.0).abs() < 0.02, "{added}");
}

#[test]
fn plates_cannot_turn_and_fit() {
    let fitted = class("[fits]\ntolerance_mm = 0.25\npin_mm = 5");
    let all = workpieces(&fitted, &Making::ALL);
    let named = |name: &str| all.iter().find(|piece| piece.name == name).unwrap();
    let plate = named("plate-1a");
    let (_, high) = plate.bounds();
    let opening = named("mater");
    // Nothing of the plate comes nearer to the opening's edge than the tolerance.
    let inner: Vec<&Contour> = opening.solid.bodies[0].holes.iter().collect();
    let Contour::Path { start, pieces, .. } = &plate.solid.bodies[0].outline else {
        panic!("a disc with a tongue");
    };
    let mut from = *start;
    for piece in pieces {
        for n in 0..20 {
            let p = piece.at(from, f64::from(n) / 20.0);
            let room = inner
                .iter()
                .map(|edge| distance(edge, p))
                .fold(f64::INFINITY, f64::min);
            assert!(room > 0.249, "{room} at {p:?}");
        }
        from = piece.end();
    }
    let radius = fitted.limb_mm();
    assert!(high.y > radius + 0.5, "it has a tongue");
    for name in ["back", "plate-1a", "rete", "rule", "alidade"] {
        let hole = Contour::circle(Point::POLE, 2.625);
        assert!(
            named(name).solid.edges().any(|edge| *edge == hole),
            "{name}"
        );
    }
}

#[test]
fn what_is_shown_is_what_is_cut() {
    for diameter in [60, 180, 350] {
        let instrument = instrument(&format!(
            "version = 1\nname = \"cut\"\ndiameter_mm = {diameter}\nepoch_year = 2025\nplates_deg = [42]"
        ));
        let scene = front(
            &instrument,
            &Setting::at_rest(instrument.specification().plates[0]),
        );
        let group = scene
            .groups
            .iter()
            .find(|group| group.name == "rete")
            .unwrap();
        let shown: Vec<Region> = group
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Fill(fill) if fill.layer == Layer::Cut => Some(fill.regions.clone()),
                _ => None,
            })
            .flatten()
            .collect();
        let rete = &workpieces(&instrument, &[Making::Rete])[0];
        let fits = &instrument.specification().fits;
        let hole = Contour::circle(Point::POLE, (fits.pin + fits.tolerance).mm() / 2.0);
        assert_eq!(Solid::of(&shown, &[hole]), rete.solid);
    }
}

/// The boxes of the letters of a workpiece.
fn overlapping(piece: &Workpiece) -> Option<(String, String)> {
    let letters: Vec<_> = piece
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Text(lettering) => Some((lettering.text.clone(), lettering.boxes())),
            _ => None,
        })
        .collect();
    for (n, (one, boxes)) in letters.iter().enumerate() {
        for (other, others) in letters.iter().skip(n + 1) {
            if boxes.iter().any(|a| others.iter().any(|b| a.overlaps(b))) {
                return Some((one.clone(), other.clone()));
            }
        }
    }
    None
}

/// Closed by a quarter disc, the tip of a star's pointer is the star's place.
fn check_tips(instrument: &Instrument, rete: &Workpiece) -> Result<(), TestCaseError> {
    for star in instrument.stars() {
        let place = instrument
            .projection()
            .point(-star.right_ascension, star.declination);
        let drawn = instrument.orientation().drawn(place);
        let off = rete
            .solid
            .edges()
            .map(|edge| distance(edge, drawn))
            .fold(f64::INFINITY, f64::min);
        let ringed = rete.items.iter().any(|item| match item {
            Item::Stroke(trace) => trace.contours.iter().any(|contour| {
                matches!(contour, Contour::Circle { centre, .. } if (*centre - drawn).radius() < TRUE_MM)
            }),
            _ => false,
        });
        prop_assert!(ringed || off < TRUE_MM, "{} is off by {off} mm", star.name);
    }
    Ok(())
}

/// Acrux, Hadar and Rigil Kentaurus stand close together: none lies under the pointer of
/// another.
#[test]
fn tips_of_stars_that_stand_close_are_free() {
    for diameter in [120.0, 180.0, 341.92, 460.0] {
        let southern = instrument(&format!(
            "version = 1\nname = \"close\"\ndiameter_mm = {diameter}\nepoch_year = 2042.7\n\
             plates_deg = [-34]\nhemisphere = \"south\"\ndate_from = \"equal-day-ring\""
        ));
        let rete = workpieces(&southern, &[Making::Rete]).remove(0);
        let checked = check_tips(&southern, &rete);
        assert!(checked.is_ok(), "{diameter}: {checked:?}");
    }
}

/// Retes that could not be cut: roots that stood beside their strip, blades whose edge folds
/// back where it grows out of the metal, and a round that passes a strip by 0.0003 mm.
#[test]
fn retes_that_once_could_not_be_cut() {
    // Tracery, pointers, diameter, epoch, hemisphere, date_from, star_labels.
    for line in [
        "tulip beak 47.019 1670.4 south equal-day-ring initials",
        "tulip claw 85.084 722.3 south equal-day-ring initials",
        "tulip claw 235.978 2205.0 south zodiac initials",
        "quatrefoil claw 105.038 2441.8 south true-sun-ring names",
        "scroll claw 397.951 1585.3 south equal-day-ring names",
        "plain claw 277.608 2438.6 south zodiac numbers",
        "lancet claw 288.980 73.6 south zodiac initials",
        "lancet claw 420.110 2417.5 south zodiac initials",
        "lancet claw 153.461 1785.9 north equal-day-ring numbers",
        "interlace claw 224.508 2403.2 north true-sun-ring names",
    ] {
        let words: Vec<&str> = line.split(' ').collect();
        let [tracery, pointers, diameter, epoch, hemisphere, ring, labels] = words[..] else {
            panic!("{line}");
        };
        let latitude = if hemisphere == "south" { -40 } else { 40 };
        let instrument = instrument(&format!(
            "version = 1\nname = \"once\"\ndiameter_mm = {diameter}\nepoch_year = {epoch}\n\
             plates_deg = [{latitude}]\nhemisphere = \"{hemisphere}\"\ndate_from = \"{ring}\"\n\
             [parts]\ntracery = \"{tracery}\"\npointers = \"{pointers}\"\nstar_labels = \"{labels}\""
        ));
        let rete = workpieces(&instrument, &[Making::Rete]).remove(0);
        let proven = rete.proven(instrument.specification().parts.least_width);
        assert!(proven.is_ok(), "{line}: {proven:?}");
        let checked = check_tips(&instrument, &rete);
        assert!(checked.is_ok(), "{line}: {checked:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever the size, the epoch and the hemisphere: every part is one piece, the
    /// rete nowhere too thin, its tips the stars' places, and no letters overlap.
    #[test]
    fn every_part_can_be_cut(
        diameter in 40.0..500.0_f64, epoch in -500.0..2500.0_f64, latitude in 0.0..90.0_f64,
        south in any::<bool>(), midnight in any::<bool>(), ring in 0_usize..3, eccentric in any::<bool>(),
        tracery in 0_usize..12, pointers in prop::sample::select(Pointers::ALL.to_vec()),
        throne in prop::sample::select(Throne::ALL.to_vec()),
        labels in prop::sample::select(StarLabels::ALL.to_vec()),
    ) {
        let side = if south { -1.0 } else { 1.0 };
        let text = format!(
            "version = 1\nname = \"any\"\ndiameter_mm = {diameter}\nepoch_year = {epoch}\n\
             plates_deg = [{}]\nhemisphere = \"{}\"\norientation = \"{}\"\ndate_from = \"{}\"\n\
             [parts]\npointers = \"{}\"\nthrone = \"{}\"\nstar_labels = \"{}\"\n{}calendar_scale = \"{}\"\nrule = \"declinations\"\nhorizons_deg = [{}, {}]",
            latitude * side,
            if south { "south" } else { "north" },
            if midnight { "midnight-up" } else { "noon-up" },
            ["zodiac", "equal-day-ring", "true-sun-ring"][ring],
            pointers.name(),
            throne.name(),
            labels.name(),
            // Sometimes what suits the size, mostly what does not.
            Tracery::ALL
                .get(tracery)
                .map_or(String::new(), |kind| format!("tracery = \"{}\"\n", kind.name())),
            if eccentric { "eccentric" } else { "concentric" },
            10.0 * side,
            50.0 * side,
        );
        let instrument = instrument(&text);
        let least = instrument.specification().parts.least_width;
        for piece in workpieces(&instrument, &Making::ALL) {
            if let Err(flaw) = piece.proven(least) {
                prop_assert!(false, "{}: {flaw}", piece.name);
            }
            if piece.name == "rete" {
                check_tips(&instrument, &piece)?;
            }
            let overlap = overlapping(&piece);
            prop_assert!(overlap.is_none(), "{}: {overlap:?}", piece.name);
        }
    }

    /// Discs scattered at will: the union's area is what counting finds.
    #[test]
    fn areas_of_unions(
        discs in prop::collection::vec((-20.0..20.0_f64, -20.0..20.0_f64, 1.0..9.0_f64), 1..9),
    ) {
        let regions: Vec<Region> = discs
            .iter()
            .map(|(x, y, r)| Region::whole(Contour::circle(at(*x, *y), *r)))
            .collect();
        let solid = Solid::of(&regions, &[]);
        let step = 0.15;
        let mut counted = 0.0;
        for i in -200..200 {
            for j in -200..200 {
                let p = at(f64::from(i) * step, f64::from(j) * step);
                if discs.iter().any(|(x, y, r)| (p - at(*x, *y)).radius() < *r) {
                    counted += step * step;
                }
            }
        }
        let around: f64 = solid.edges().map(Contour::length_mm).sum();
        // Counting is good to a small part of the cells on the edge.
        prop_assert!((solid.area_mm2() - counted).abs() < 0.3 + around * step * 0.1);
        for body in &solid.bodies {
            let Contour::Path { start, pieces, .. } = &body.outline else { continue };
            let mut from = *start;
            for piece in pieces {
                if let Piece::Arc { centre, sweep, to } = piece {
                    let reached = *centre + (from - *centre).turned(*sweep);
                    prop_assert!((reached - *to).radius() < TRUE_MM);
                    prop_assert!(sweep.abs() <= Angle::FULL_TURN);
                }
                from = piece.end();
            }
        }
    }
}

proptest! {
    /// A fillet that all but touches a ring beside a bar's edge: its chords cross the
    /// ring's far from where it does, and yet no edge of the whole crosses another.
    #[test]
    fn edges_that_all_but_touch_do_not_cross(
        radius in 20.0..120.0_f64, half in 0.8..2.0_f64, beside in -0.05..0.05_f64,
        slant in -0.01..0.01_f64, fallen in -0.001..0.001_f64, breadth in 0.8..2.5_f64,
    ) {
        let ring = Region::ring(Point::POLE, radius, radius - 2.0);
        let bar = Region::whole(Contour::closed(
            at(-half, 0.0),
            [at(half, 0.0), at(half, radius + 20.0), at(-half, radius + 20.0)]
                .map(|to| Piece::Line { to })
                .to_vec(),
        ));
        // Its root stands on the ring by the bar's edge, and runs along the ring at first.
        let root = at(half + beside, 0.0);
        let height = (radius * radius - root.x * root.x).sqrt() + fallen;
        let root = at(root.x, height);
        let along = Point::polar(1.0, root.direction() - Angle::QUARTER_TURN + Angle::from_rad(slant));
        let neck = root + along * breadth + at(0.0, 1.8 * breadth);
        let leaf = Contour::closed(
            root - at(0.0, 0.3),
            vec![
                Piece::Line { to: root },
                Piece::Cubic {
                    first: root + along * breadth,
                    second: neck - at(0.0, breadth),
                    to: neck,
                },
                Piece::Line { to: neck + at(2.0, 0.0) },
                Piece::Line { to: at(neck.x + 2.0, height - 0.3 - 0.1 * breadth) },
            ],
        );
        let whole = Solid::of(&[ring, bar, Region::whole(leaf)], &[]);
        if let Err(flaw) = whole.is_one_piece(0.0) {
            prop_assert!(false, "{flaw}");
        }
    }
}
