//! What is lettered is in the font, and touches no line but one that it names and that gives
//! way to it, no edge and nothing else that is lettered: on every part, by the outlines of the
//! letters themselves.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use drawing::{Contour, Item, Lettering, Making, Piece, Workpiece, lettered, workpieces};
use instrument::{
    Instrument, Language, Letters, Point, Pointers, Quadrant, Specification, StarKey, StarLabels,
    Throne, Tracery, ZodiacRing,
};
use proptest::prelude::*;

/// Outlines are looked at in steps of this.
const STEP_MM: f64 = 0.06;

/// Points along a contour, so close that nothing passes between two of them unseen.
fn points(contour: &Contour, step_mm: f64) -> Vec<Point> {
    let (start, pieces, closed) = contour.outline();
    let mut at = start;
    let mut points = vec![start];
    let closing = closed.then_some(Piece::Line { to: start });
    for piece in pieces.iter().copied().chain(closing) {
        let steps = (piece.length_mm(at) / step_mm).ceil().max(1.0) as u32;
        points.extend((1..=steps).map(|n| piece.at(at, f64::from(n) / f64::from(steps))));
        at = piece.end();
    }
    points
}

/// How far a place is from a line.
fn distance(line: &Contour, p: Point) -> f64 {
    let (start, pieces, closed) = line.outline();
    let mut at = start;
    let mut least = f64::INFINITY;
    let closing = closed.then_some(Piece::Line { to: start });
    for piece in pieces.iter().copied().chain(closing) {
        let from = std::mem::replace(&mut at, piece.end());
        let ends = (p - from).radius().min((p - at).radius());
        least = least.min(match piece {
            Piece::Line { to } => {
                let along = to - from;
                let part = ((p - from).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
                (p - (from + along * part)).radius()
            }
            Piece::Arc { centre, sweep, .. } => {
                let onward = (p - centre).direction() - (from - centre).direction();
                let onward = if sweep.deg() < 0.0 { -onward } else { onward };
                if onward.in_turn() <= sweep.abs() {
                    ((p - centre).radius() - (from - centre).radius()).abs()
                } else {
                    ends
                }
            }
            Piece::Cubic { first, second, to } => {
                // No part of it is further from its beginning than its control points go.
                let most =
                    (first - from).radius() + (second - first).radius() + (to - second).radius();
                let far = (p - from).radius() - most;
                if far > 0.5 {
                    far
                } else {
                    (0..=60)
                        .map(|n| (piece.at(from, f64::from(n) / 60.0) - p).radius())
                        .fold(ends, f64::min)
                }
            }
        });
    }
    least
}

fn near(line: &Contour, low: Point, high: Point) -> bool {
    let (least, most) = line.bounds();
    least.x < high.x && most.x > low.x && least.y < high.y && most.y > low.y
}

/// What a piece's letters touch: what is lettered, and what it touches.
fn touched(piece: &Workpiece, letters: Letters) -> Vec<String> {
    let lacking = piece.unknown_letter(letters);
    let mut found: Vec<String> = lacking.iter().map(ToString::to_string).collect();
    let letterings: Vec<(&Lettering, Vec<Contour>)> = piece
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Text(lettering) => Some((lettering, lettered(lettering, letters))),
            Item::Stroke(_) | Item::Fill(_) => None,
        })
        .collect();
    for (number, (lettering, contours)) in letterings.iter().enumerate() {
        let ink: Vec<Point> = contours
            .iter()
            .flat_map(|contour| points(contour, STEP_MM))
            .collect();
        assert!(!ink.is_empty(), "{lettering:?}");
        let margin = 0.3;
        let low = Point {
            x: ink.iter().map(|p| p.x).fold(f64::INFINITY, f64::min) - margin,
            y: ink.iter().map(|p| p.y).fold(f64::INFINITY, f64::min) - margin,
        };
        let high = Point {
            x: ink.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max) + margin,
            y: ink.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max) + margin,
        };
        let mut hold_against = |what: String, line: &Contour, half_mm: f64| {
            if near(line, low, high) {
                let least = ink
                    .iter()
                    .map(|p| distance(line, *p))
                    .fold(f64::INFINITY, f64::min);
                if least < half_mm + STEP_MM / 2.0 {
                    found.push(format!(
                        "{}: “{}” touches {what}",
                        piece.name, lettering.text
                    ));
                }
            }
        };
        for item in &piece.items {
            let Item::Stroke(trace) = item else { continue };
            if stands_on(lettering, trace.line.as_ref()) {
                continue;
            }
            let half = piece.hair_mm * trace.weight.times_hair() / 2.0;
            let what = trace
                .line
                .as_ref()
                .map_or("a line".to_owned(), ToString::to_string);
            for line in &trace.contours {
                hold_against(what.clone(), line, half);
            }
        }
        for edge in piece.solid.edges() {
            hold_against("an edge".to_owned(), edge, 0.0);
        }
        for (other, contours) in letterings.iter().take(number) {
            for contour in contours {
                hold_against(format!("“{}”", other.text), contour, 0.0);
            }
        }
    }
    found
}

/// Whether a line gives way to a lettering: it names it.
fn stands_on(lettering: &Lettering, line: Option<&instrument::LineId>) -> bool {
    lettering.clears && line.is_some() && line == lettering.line.as_ref()
}

fn check(text: &str) -> Vec<String> {
    let instrument = Instrument::new(Specification::from_toml(text).unwrap());
    let letters = instrument.specification().parts.letters;
    let pieces = workpieces(&instrument, &Making::ALL);
    pieces
        .iter()
        .flat_map(|piece| touched(piece, letters))
        .collect()
}

/// For the floor, and for the quadrant of the qibla.
const PLACES: &str = r#"[["Toledo", 39.8567, -4.0245], ["Cairo", 30.0444, 31.2357], ["Damascus", 33.5138, 36.2765], ["Isfahan", 32.6539, 51.666], ["Fez", 34.0331, -5.0003], ["Delhi", 28.6139, 77.209]]"#;

/// How many instruments are tried; `ALMURI_CASES=300` tries so many.
fn cases() -> u32 {
    let said = std::env::var("ALMURI_CASES");
    said.ok().and_then(|said| said.parse().ok()).unwrap_or(12)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases()))]

    #[test]
    fn no_letter_touches_a_line_that_is_not_its_own_or_an_edge(
        size in 40.0..400.0_f64, latitudes in prop::collection::vec(0.0..70.0_f64, 2),
        south in any::<bool>(), midnight in any::<bool>(),
        letters in prop::sample::select(vec!["serif", "single-stroke"]),
        dates in prop::sample::select(vec!["zodiac", "equal-day-ring", "true-sun-ring"]),
        houses in prop::sample::select(vec!["none", "regiomontanus", "campanus"]),
        hours in prop::sample::select(vec!["arcs", "curves"]),
        calendar in prop::sample::select(vec!["concentric", "eccentric"]),
        tracery in prop::sample::select(Tracery::ALL.to_vec()),
        pointers in prop::sample::select(Pointers::ALL.to_vec()),
        labels in prop::sample::select(StarLabels::ALL.to_vec()),
        months in prop::sample::select(Language::ALL.to_vec()),
        signs in prop::sample::select(Language::ALL.to_vec()),
        factor in 0.5..2.0_f64, throne in prop::sample::select(Throne::ALL.to_vec()),
        key in prop::sample::select(StarKey::ALL.to_vec()),
        epoch in -500..2600_i32, all in any::<bool>(),
        azimuths in prop::sample::select(vec!["0", "5", "11.25", "22.5", "30"]),
        quadrant in prop::sample::select(Quadrant::ALL.to_vec()), cotangents in any::<bool>(),
        rings in prop::sample::subsequence(ZodiacRing::ALL.to_vec(), 0..=3),
    ) {
        let side = if south { -1.0 } else { 1.0 };
        let plates: Vec<String> = latitudes.iter().map(|deg| (deg * side).to_string()).collect();
        let found = check(&format!(
            "version = 1\nname = \"a quaint (old) Jug\"\ndiameter_mm = {size}\nepoch_year = {epoch}\n\
             plates_deg = [{0}]\nhemisphere = \"{1}\"\norientation = \"{2}\"\ndate_from = \"{dates}\"\n\
             azimuth_step_deg = {azimuths}\nhouse_lines = \"{houses}\"\nunequal_hour_lines = \"{hours}\"\n[parts]\nletters = \"{letters}\"\n\
             calendar_scale = \"{calendar}\"\ntracery = \"{3}\"\npointers = \"{4}\"\nstar_labels = \"{5}\"\n\
             months = \"{6}\"\nsigns = \"{7}\"\ntype_factor = {factor}\nthrone = \"{8}\"\nstar_key = \"{9}\"\nrule = \"declinations\"\nhorizons_deg = {10}\nquadrant = \"{11}\"\ncotangents = {cotangents}\nrings = {12:?}\ngazetteer = {PLACES}\nqibla = {all}\n[texts]\nthrone = \"ad astra\"\nback = [\"for A. Example\", \"MMXXVI\"]\n\
             floor = [\"a first line\", \"a second\"]\nplates = \"by hand\"\n",
            plates.join(", "),
            if south { "south" } else { "north" },
            if midnight { "midnight-up" } else { "noon-up" },
            tracery.name(),
            pointers.name(),
            labels.name(),
            months.name(),
            signs.name(),
            throne.name(),
            key.name(),
            if all { "\"all\"".to_owned() } else { format!("[{}]", plates.join(", ")) },
            quadrant.name(),
            rings.iter().map(|ring| ring.name()).collect::<Vec<_>>(),
        ));
        prop_assert!(found.is_empty(), "{found:#?}");
    }
}

/// What was seen once: an owner's words round the middle of a small plate of horizons.
#[test]
fn words_round_a_small_circle_touch_no_horizon() {
    let found = check(
        "version = 1\nname = \"a quaint (old) Jug\"\ndiameter_mm = 83.33461425214537\n\
         epoch_year = 2287\nplates_deg = [-0, -0]\nhemisphere = \"south\"\n\
         orientation = \"noon-up\"\ndate_from = \"equal-day-ring\"\nazimuth_step_deg = 0\n\
         house_lines = \"none\"\nunequal_hour_lines = \"arcs\"\n[parts]\nletters = \"serif\"\n\
         tracery = \"plain\"\ntype_factor = 1.0896254803215333\nhorizons_deg = \"all\"\n\
         [texts]\nplates = \"by hand\"\n",
    );
    assert!(found.is_empty(), "{found:#?}");
}

/// What was seen once: a stroke between whose ends a leaf is hollow.
#[test]
fn a_stroke_keeps_clear_of_a_hollow_edge() {
    let found = check(
        "version = 1\nname = \"a quaint (old) Jug\"\ndiameter_mm = 296.5582920419046\n\
         epoch_year = 921\nplates_deg = [0]\nhemisphere = \"north\"\n\
         date_from = \"equal-day-ring\"\n[parts]\nletters = \"single-stroke\"\n\
         tracery = \"quatrefoil\"\n",
    );
    assert!(found.is_empty(), "{found:#?}");
}

/// What was seen once: numbers in the pin's hole on southern plates, the latitude across
/// the equator, hour numbers without lines.
#[test]
fn plates_are_lettered_and_nothing_is_cut() {
    for side in [1.0, -1.0] {
        for size in [60.0, 120.0, 180.0, 350.0] {
            let plates: Vec<f64> = [0.0, 10.0, 23.4, 34.0, 42.0, 52.0, 60.0, 64.0, 67.0, 70.0]
                .map(|deg| deg * side)
                .to_vec();
            let hemisphere = if side < 0.0 { "south" } else { "north" };
            let instrument = Instrument::new(
                Specification::from_toml(&format!(
                    "version = 1\nname = \"plates\"\ndiameter_mm = {size}\nepoch_year = 2025\n\
                     plates_deg = {plates:?}\nhemisphere = \"{hemisphere}\"\n"
                ))
                .unwrap(),
            );
            for (piece, latitude) in workpieces(&instrument, &[Making::Plates])
                .iter()
                .zip(plates)
            {
                let found = touched(piece, Letters::Serif);
                assert!(found.is_empty(), "{size} mm, {latitude}°: {found:#?}");
                let texts: Vec<&str> = piece
                    .items
                    .iter()
                    .filter_map(|item| match item {
                        Item::Text(lettering) => Some(lettering.text.as_str()),
                        Item::Stroke(_) | Item::Fill(_) => None,
                    })
                    .collect();
                assert!(texts.contains(&"Lat."), "{size} mm, {latitude}°: {texts:?}");
                let left = |what: &str| piece.thinned.iter().any(|one| one.what.contains(what));
                let hours = (1..=12)
                    .filter(|hour: &u8| texts.contains(&hour.to_string().as_str()))
                    .count();
                if latitude.abs() > 66.6 {
                    assert!(left("unequal-hour lines"), "{size} mm, {latitude}°");
                    assert!(!texts.contains(&"1") && !texts.contains(&"12"), "{texts:?}");
                } else {
                    assert!(
                        hours == 12 || left("numbers of the unequal hours"),
                        "{size} mm, {latitude}°: {texts:?}"
                    );
                }
                assert_eq!(piece.arcs.is_some(), latitude.abs() < 66.6);
            }
        }
    }
}

/// The texts of a piece.
fn texts_of(piece: &Workpiece) -> Vec<&str> {
    piece
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Text(lettering) => Some(lettering.text.as_str()),
            Item::Stroke(_) | Item::Fill(_) => None,
        })
        .collect()
}

/// At 60 mm every number that stands on the rete is told by the key, with the star whose tip
/// it is; in the back's field, or on the mater's floor.
#[test]
fn the_key_tells_every_number() {
    for (place, named) in [("field", "back"), ("floor", "floor")] {
        for labels in ["numbers", "initials"] {
            let instrument = Instrument::new(
                Specification::from_toml(&format!(
                    "version = 1\nname = \"key\"\ndiameter_mm = 60\nepoch_year = 2025\n\
                     plates_deg = [42]\n[parts]\nstar_key = \"{place}\"\nstar_labels = \"{labels}\"\n"
                ))
                .unwrap(),
            );
            let pieces = workpieces(&instrument, &Making::ALL);
            let piece = |name: &str| pieces.iter().find(|piece| piece.name == name).unwrap();
            let key = texts_of(piece(named));
            let rete = piece("rete");
            let engraved = rete.pointers.iter().filter(|one| one.is_named).count();
            assert!(engraved * 3 >= rete.pointers.len() * 2, "{engraved}");
            for pointer in &rete.pointers {
                let entry = format!("{} {}", pointer.label, pointer.star.name);
                assert!(key.contains(&entry.as_str()), "{entry}: {key:?}");
                let on_rete = texts_of(rete).contains(&pointer.label.as_str());
                assert_eq!(on_rete, pointer.is_named, "{entry}");
            }
        }
    }
}

/// Months and signs of every language can be engraved, in outlines and in single strokes.
#[test]
fn every_language_is_in_both_fonts() {
    for language in Language::ALL {
        for letters in [Letters::Serif, Letters::SingleStroke] {
            for name in language.months().iter().chain(language.signs()) {
                let unknown = drawing::lacking(name, drawing::Face::Roman, letters);
                assert_eq!(unknown, None, "{name}");
            }
        }
    }
}

/// A letter that the font has not is told by its name, whatever place it is for.
#[test]
fn a_letter_that_is_lacking_is_told() {
    for place in ["throne", "back", "floor", "plates"] {
        let instrument = Instrument::new(
            Specification::from_toml(&format!(
                "version = 1\nname = \"words\"\ndiameter_mm = 240\nepoch_year = 2025\n\
                 plates_deg = [42]\n[parts]\nthrone = \"lobed\"\n[texts]\n{place} = \"\u{05d0}b\"\n"
            ))
            .unwrap(),
        );
        let pieces = workpieces(&instrument, &Making::ALL);
        let unknown = pieces
            .iter()
            .find_map(|piece| piece.unknown_letter(Letters::Serif));
        assert_eq!(unknown.map(|one| one.letter), Some('\u{05d0}'), "{place}");
    }
}
