//! The finest strokes of letters, which an undercut may leave nothing of.

use std::collections::BTreeMap;

use drawing::{Baseline, Contour, Face, Item, Lettering, Piece, Workpiece, lettered};
use instrument::{Instrument, Letters, Part, Point};
use sky::{Angle, Plain};

use crate::chords::chords;
use crate::filming::Filming;
use crate::ink::Inked;

/// The size of the type at which a letter is measured, in millimetres, and how far its chords
/// may leave it: two thousandths of a hairline of the fonts.
const SIZE_MM: f64 = 100.0;
const SAGITTA_MM: f64 = 0.01;

/// What faces an edge across a stroke runs so nearly the other way as this cosine says: 26°. At
/// less, as in the corner of a serif, it is no stroke.
const FACES: f64 = -0.9;

/// What letters of some workpieces an undercut leaves nothing of, a sentence for each.
pub(crate) fn letters_that_vanish(
    instrument: &Instrument,
    filming: &Filming,
    made: &[(Workpiece, Inked)],
) -> Vec<String> {
    let eaten_mm = 2.0 * filming.undercut_mm;
    if instrument.specification().parts.letters != Letters::Serif || eaten_mm <= 0.0 {
        return Vec::new();
    }
    let mut known = BTreeMap::new();
    let etched = made.iter().filter(|(piece, _)| piece.part != Part::Pin);
    let told = etched.filter_map(|(piece, _)| {
        let texts = piece.items.iter().filter_map(|item| match item {
            Item::Text(lettering) => Some(lettering),
            Item::Stroke(_) | Item::Fill(_) => None,
        });
        let finest: Vec<f64> = texts
            .filter_map(|lettering| hairline_mm(lettering, &mut known))
            .collect();
        let vanishing = finest.iter().filter(|mm| **mm < eaten_mm).count();
        let least = finest.iter().copied().fold(f64::INFINITY, f64::min);
        (vanishing > 0).then(|| {
            format!(
                "{}: an undercut of {} mm leaves nothing of the hairlines of {vanishing} of its {} \
                 texts, whose finest are {least:.3} mm broad; parts.letters = \"single-stroke\", larger \
                 letters, or an undercut below {:.3} mm would keep them",
                piece.name,
                Plain(filming.undercut_mm),
                finest.len(),
                least / 2.0,
            )
        })
    });
    told.collect()
}

/// The breadth of the finest stroke of a text at its true size, in millimetres; none where
/// nothing of it is drawn.
fn hairline_mm(
    lettering: &Lettering,
    known: &mut BTreeMap<(Face, char), Option<f64>>,
) -> Option<f64> {
    let letters = lettering.text.chars().filter_map(|letter| {
        let key = (lettering.face, letter);
        *known
            .entry(key)
            .or_insert_with(|| hairline(letter, lettering.face))
    });
    let finest = letters.min_by(f64::total_cmp)?;
    Some(finest * lettering.size_mm)
}

/// An edge of a letter, with the direction into it.
struct Edge {
    from: Point,
    to: Point,
    inward: Point,
}

/// The least breadth of a letter across its strokes, for a type of size 1: from the middle of
/// each edge straight through to the edge that faces it.
fn hairline(letter: char, face: Face) -> Option<f64> {
    let edges = edges(&outlines(letter, face));
    let across = edges.iter().filter_map(|edge| {
        let middle = (edge.from + edge.to) * 0.5;
        let hits = edges.iter().filter_map(|other| {
            let far = along(middle, edge.inward, other)?;
            Some((far, other))
        });
        let (far, other) = hits.min_by(|one, other| one.0.total_cmp(&other.0))?;
        (edge.inward.dot(other.inward) < FACES).then_some(far / SIZE_MM)
    });
    across.min_by(f64::total_cmp)
}

/// What a letter is filled within, by straight lines.
fn outlines(letter: char, face: Face) -> Vec<Contour> {
    let alone = Lettering {
        text: letter.to_string(),
        size_mm: SIZE_MM,
        face,
        baseline: Baseline::upright(Point::POLE, Angle::ZERO),
        clears: false,
        line: None,
    };
    let straight = |contour: &Contour| {
        let mut corners = chords(contour, SAGITTA_MM).into_iter();
        let start = corners.next().unwrap_or_default();
        let sides = corners.chain([start]).map(|to| Piece::Line { to });
        Contour::closed(start, sides.collect())
    };
    let lettered = lettered(&alone, Letters::Serif);
    lettered.iter().map(straight).collect()
}

fn edges(outlines: &[Contour]) -> Vec<Edge> {
    let sides = outlines.iter().flat_map(|outline| {
        let (start, pieces, _) = outline.outline();
        let ends: Vec<Point> = pieces.iter().map(Piece::end).collect();
        let froms = std::iter::once(start).chain(ends.clone());
        froms.zip(ends).collect::<Vec<_>>()
    });
    // As letters are filled: a counter is without.
    let is_within = |p: Point| {
        let round = outlines.iter().filter(|outline| outline.encloses(p));
        round.count() % 2 == 1
    };
    sides
        .filter(|(from, to)| (*to - *from).radius() > 0.0)
        .map(|(from, to)| {
            let aside = (to - from).perpendicular() * (1.0 / (to - from).radius());
            let is_left = is_within((from + to) * 0.5 + aside * (SIZE_MM * 1e-5));
            Edge {
                from,
                to,
                inward: aside * if is_left { 1.0 } else { -1.0 },
            }
        })
        .collect()
}

/// How far along a direction an edge is met; none where it is not, or at once.
fn along(at: Point, direction: Point, edge: &Edge) -> Option<f64> {
    let side = edge.to - edge.from;
    let aside = direction.perpendicular();
    let across = side.dot(aside);
    if across == 0.0 {
        return None;
    }
    let part = (at - edge.from).dot(aside) / across;
    let far = (edge.from + side * part - at).dot(direction);
    ((0.0..=1.0).contains(&part) && far > SIZE_MM * 1e-6).then_some(far)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How far a letter is filled along a line through it, looked through point by point.
    fn run_mm(letter: char, face: Face, at: Point, direction: Point) -> f64 {
        let rings: Vec<Vec<Point>> = outlines(letter, face)
            .iter()
            .map(|outline| chords(outline, SAGITTA_MM))
            .collect();
        let is_within = |p: Point| {
            let mut within = false;
            for ring in &rings {
                for n in 0..ring.len() {
                    let (a, b) = (ring[n], ring[(n + 1) % ring.len()]);
                    let crosses = (a.y > p.y) != (b.y > p.y)
                        && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x;
                    within ^= crosses;
                }
            }
            within
        };
        let step = 0.005;
        let filled =
            (-8000..8000_i32).filter(|n| is_within(at + direction * (f64::from(*n) * step)));
        filled.count() as f64 * step
    }

    /// A hyphen is a bar, an H has its crossbar where the eye sees it thin; both are measured
    /// as they are found by looking along a line through them.
    #[test]
    fn a_hairline_is_the_breadth_of_the_finest_stroke() {
        let down = Point { x: 0.0, y: 1.0 };
        for face in [Face::Roman, Face::Italic] {
            let bar = run_mm('-', face, Point::POLE, down) / SIZE_MM;
            let told = hairline('-', face).unwrap();
            assert!((told - bar).abs() < 2e-3, "{face:?}: {told} {bar}");
        }
        let crossbar = run_mm('H', Face::Roman, Point { x: 1.0, y: 0.0 }, down) / SIZE_MM;
        let told = hairline('H', Face::Roman).unwrap();
        assert!(
            told <= crossbar + 2e-4 && told > crossbar / 2.0,
            "{told} {crossbar}"
        );
        assert_eq!(hairline(' ', Face::Roman), None);
    }

    /// A text is as fine as its finest letter, and twice as broad at twice the size.
    #[test]
    fn a_text_is_as_fine_as_its_finest_letter() {
        let of = |text: &str, size_mm: f64| {
            let lettering = Lettering {
                text: text.to_owned(),
                size_mm,
                face: Face::Roman,
                baseline: Baseline::upright(Point::POLE, Angle::ZERO),
                clears: false,
                line: None,
            };
            hairline_mm(&lettering, &mut BTreeMap::new()).unwrap()
        };
        let (both, one) = (of("HIe", 2.0), of("HIe", 1.0));
        assert!((both - 2.0 * one).abs() < 1e-12);
        let least = ["H", "I", "e"].map(|letter| of(letter, 1.0));
        let least = least.into_iter().fold(f64::INFINITY, f64::min);
        assert!((one - least).abs() < 1e-12, "{one} {least}");
    }
}
