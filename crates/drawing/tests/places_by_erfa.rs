//! House lines, star tips and calendar strokes of workpieces pass through places that ERFA
//! and plane geometry give: `reference/workshop_parts.py --points`.

use drawing::{Contour, Item, Making, Piece, Workpiece, workpieces};
use instrument::{Instrument, Point, Specification};

const TABLE: &str = include_str!("../../../reference/workshop_points.csv");

/// What a cutter or an engraver can be asked for; the drawing is ten times truer.
const TRUE_MM: f64 = 0.001;

/// How far a point is from a contour.
fn distance(contour: &Contour, p: Point) -> f64 {
    let (start, pieces, _) = contour.outline();
    let mut from = start;
    let mut least = f64::INFINITY;
    for piece in pieces.iter() {
        least = least.min(match *piece {
            Piece::Line { to } => {
                let along = to - from;
                let part = (p - from).dot(along) / along.dot(along).max(1e-18);
                (p - (from + along * part.clamp(0.0, 1.0))).radius()
            }
            Piece::Arc { centre, sweep, to } => {
                let onward = (from - centre).direction().to((p - centre).direction());
                let passed = [0.0, 360.0, -360.0]
                    .into_iter()
                    .any(|turn| (0.0..=1.0).contains(&((onward.deg() + turn) / sweep.deg())));
                if passed {
                    ((p - centre).radius() - (from - centre).radius()).abs()
                } else {
                    (p - from).radius().min((p - to).radius())
                }
            }
            Piece::Cubic { .. } => (0..=64)
                .map(|n| (piece.at(from, f64::from(n) / 64.0) - p).radius())
                .fold(f64::INFINITY, f64::min),
        });
        from = piece.end();
    }
    least
}

/// How far the named line of a part is from a place; a ring about a star counts by its
/// middle, and a pointer by its tip. Where it falls together with lines of another kind
/// one of those may stand in for it, for no line is engraved twice. Without an answer
/// where the part has no such line.
fn off(
    pieces: &[Workpiece],
    (part, line): (&str, &str),
    stand_in: Option<&str>,
    place: Point,
) -> Option<f64> {
    let piece = pieces.iter().find(|piece| match part {
        "plates" => piece.name.starts_with("plate"),
        _ => piece.name == part,
    })?;
    let contours = piece.items.iter().filter_map(|item| match item {
        Item::Stroke(trace) => {
            let named = trace.line.as_ref().is_some_and(|id| {
                let id = id.to_string();
                id == line || stand_in.is_some_and(|other| id.starts_with(other))
            });
            named.then_some(&trace.contours)
        }
        _ => None,
    });
    let star = line.starts_with("star pointer");
    contours
        .flatten()
        .map(|contour| match contour {
            Contour::Circle { centre, .. } if star => (*centre - place).radius(),
            Contour::Path { pieces, .. } if star => pieces
                .last()
                .map_or(f64::INFINITY, |last| (last.end() - place).radius()),
            _ => distance(contour, place),
        })
        .min_by(f64::total_cmp)
}

#[test]
fn lines_pass_through_the_places_of_erfa() {
    let rows: Vec<Vec<&str>> = TABLE
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()))
        .map(|line| line.split(',').collect())
        .collect();
    let (mut measured, mut absent) = ([0, 0, 0], 0);
    for rows in rows.chunk_by(|a, b| a[..9] == b[..9]) {
        let [
            diameter,
            side,
            top,
            epoch,
            obliquity,
            latitude,
            ring,
            houses,
            year,
        ] = rows[0][..9]
        else {
            panic!("nine columns tell the instrument");
        };
        let kind = if ring == "true" {
            "true-sun-ring"
        } else {
            "zodiac"
        };
        let text = format!(
            "version = 1\nname = \"measured\"\ndiameter_mm = {diameter}\nhemisphere = \"{side}\"\n\
             orientation = \"{top}\"\nepoch_year = {epoch}\nobliquity_deg = {obliquity}\n\
             plates_deg = [{latitude}]\nhouse_lines = \"{houses}\"\ndate_from = \"{kind}\"\n\
             calendar_year = {year}\nday_strokes = \"begin\"\n"
        );
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let pieces = workpieces(&instrument, &[Making::Plates, Making::Rete, Making::Back]);
        for row in rows {
            let place = Point {
                x: row[11].parse().unwrap(),
                y: row[12].parse().unwrap(),
            };
            // At the equator the circles of Regiomontanus are hour circles.
            let is_house = row[10].starts_with("house line");
            let stand_in = (is_house && latitude == "0.0").then_some("unequal-hour line");
            let Some(off) = off(&pieces, (row[9], row[10]), stand_in, place) else {
                // Not every star has a pointer.
                assert_eq!(row[9], "rete", "{} has no {}", row[9], row[10]);
                absent += 1;
                continue;
            };
            assert!(off < TRUE_MM, "{} of {text} is off by {off} mm", row[10]);
            measured[["plates", "rete", "back"]
                .iter()
                .position(|part| *part == row[9])
                .unwrap()] += 1;
        }
    }
    assert!(measured.iter().all(|count| *count > 60), "{measured:?}");
    assert!(absent < 400, "{absent}");
}
