use drawing::{Contour, LabelBox, Piece};
use instrument::Point;
use sky::Angle;

/// What is left of lines where letters stand on them.
pub(crate) fn cleared(contours: &[Contour], boxes: &[LabelBox]) -> Vec<Contour> {
    contours
        .iter()
        .flat_map(|contour| {
            let near = near(contour, boxes);
            if near.is_empty() {
                return vec![contour.clone()];
            }
            match contour {
                Contour::Circle { centre, radius_mm } => {
                    let start = *centre + Point::polar(*radius_mm, Angle::ZERO);
                    let whole = Piece::Arc {
                        centre: *centre,
                        sweep: Angle::FULL_TURN,
                        to: start,
                    };
                    let left = remaining(start, &[whole], &near);
                    // Nothing was taken away.
                    if left.len() == 1 && left[0].length_mm() > contour.length_mm() * 0.999_999 {
                        return vec![contour.clone()];
                    }
                    left
                }
                Contour::Path {
                    start,
                    pieces,
                    closed,
                } => {
                    let mut pieces = pieces.clone();
                    if *closed {
                        pieces.push(Piece::Line { to: *start });
                    }
                    remaining(*start, &pieces, &near)
                }
            }
        })
        .collect()
}

fn near<'a>(contour: &Contour, boxes: &'a [LabelBox]) -> Vec<&'a LabelBox> {
    let (low, high) = contour.bounds();
    boxes
        .iter()
        .filter(|one| {
            let (middle, radius) = one.around();
            let ring = match contour {
                Contour::Circle { centre, radius_mm } => {
                    ((middle - *centre).radius() - radius_mm).abs() < radius
                }
                Contour::Path { .. } => true,
            };
            ring && middle.x + radius > low.x
                && middle.x - radius < high.x
                && middle.y + radius > low.y
                && middle.y - radius < high.y
        })
        .collect()
}

fn remaining(start: Point, pieces: &[Piece], boxes: &[&LabelBox]) -> Vec<Contour> {
    let covered = |p: Point| boxes.iter().any(|one| one.contains(p));
    let least = boxes
        .iter()
        .map(|one| one.around().1)
        .fold(f64::INFINITY, f64::min);
    let mut left: Vec<(Point, Vec<Piece>)> = Vec::new();
    let mut open = false;
    let mut at = start;
    for piece in pieces {
        let length = piece.length_mm(at);
        if length < 1e-9 {
            at = piece.end();
            continue;
        }
        // Steps much shorter than the shortest label.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "some thousands at most"
        )]
        let steps = (length / (least * 0.2)).ceil().clamp(1.0, 20_000.0) as u32;
        let part = |n: u32| f64::from(n) / f64::from(steps);
        let from = at;
        let is = |t: f64| covered(piece.at(from, t));
        let mut begins = 0.0;
        let mut inside = is(0.0);
        for n in 0..steps {
            let (t, u) = (part(n), part(n + 1));
            let next = is(u);
            if next == inside {
                continue;
            }
            let edge = bisected(t, u, inside, &is);
            if !inside {
                keep(&mut left, &mut open, piece.between(from, begins, edge));
            }
            open = false;
            begins = edge;
            inside = next;
        }
        if inside {
            open = false;
        } else if begins == 0.0 {
            keep(&mut left, &mut open, (from, *piece));
        } else {
            keep(&mut left, &mut open, piece.between(from, begins, 1.0));
        }
        at = piece.end();
    }
    left.into_iter()
        .map(|(start, pieces)| Contour::open(start, pieces))
        .collect()
}

/// Adds a piece to the last line, or begins another.
fn keep(left: &mut Vec<(Point, Vec<Piece>)>, open: &mut bool, (start, piece): (Point, Piece)) {
    match left.last_mut() {
        Some((_, pieces)) if *open => pieces.push(piece),
        _ => left.push((start, vec![piece])),
    }
    *open = true;
}

fn bisected(mut t: f64, mut u: f64, inside: bool, is: &impl Fn(f64) -> bool) -> f64 {
    for _ in 0..30 {
        let middle = f64::midpoint(t, u);
        if is(middle) == inside {
            t = middle;
        } else {
            u = middle;
        }
    }
    f64::midpoint(t, u)
}
