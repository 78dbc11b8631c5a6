use i_overlay::i_float::int::point::IntPoint;
use instrument::Point;

/// A place of the grid on which solids and films are built.
pub(crate) type Spot = IntPoint<i32>;

/// The corners of a closed line, counted anticlockwise where it goes round metal or round
/// what is engraved, clockwise where it goes round a hole in it; the first is not repeated.
pub(crate) type Ring = Vec<Spot>;

/// The steps of the grid in a millimetre. A place on it is a number that a binary STL, in
/// single precision, holds exactly up to 16 m, so that what is closed here is closed there.
const STEPS: f64 = 1024.0;

/// From which side a drawing shows the solid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Seen {
    /// From above: from where z grows.
    FromAbove,
    /// From beneath, turned about its upright line.
    FromBeneath,
}

/// So many millimetres in steps.
pub(crate) fn steps(mm: f64) -> i32 {
    /// A kilometre.
    const MOST: f64 = 1e9;
    #[expect(clippy::cast_possible_truncation, reason = "clamped to what it holds")]
    let steps = (mm * STEPS).round().clamp(-MOST, MOST) as i32;
    steps
}

/// The steps of heights in a millimetre, which are finer, for sheets are thin; exact in
/// single precision up to a metre.
const HEIGHT_STEPS: f64 = 16_384.0;

/// A height of so many millimetres in steps of heights.
pub(crate) fn height(mm: f64) -> i32 {
    steps(mm * (HEIGHT_STEPS / STEPS))
}

/// So many steps of heights in millimetres.
pub(crate) fn height_mm(steps: i32) -> f64 {
    f64::from(steps) / HEIGHT_STEPS
}

/// So many steps in millimetres.
pub(crate) fn mm(steps: i32) -> f64 {
    f64::from(steps) / STEPS
}

/// The place of a point of a drawing: there y grows downwards, here upwards.
pub(crate) fn spot(p: Point, seen: Seen) -> Spot {
    let x = match seen {
        Seen::FromAbove => p.x,
        Seen::FromBeneath => -p.x,
    };
    IntPoint::new(steps(x), steps(-p.y))
}

/// The point of a drawing seen from above that lies at a place.
pub(crate) fn point(at: Spot) -> Point {
    Point {
        x: mm(at.x),
        y: -mm(at.y),
    }
}

/// The ring through some points, counted anticlockwise; none where it bounds nothing.
pub(crate) fn ring(points: impl IntoIterator<Item = Point>, seen: Seen) -> Option<Ring> {
    let mut ring: Ring = points.into_iter().map(|p| spot(p, seen)).collect();
    ring.dedup();
    while ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    let doubled = doubled_area(&ring);
    if doubled < 0 {
        ring.reverse();
    }
    (ring.len() > 2 && doubled != 0).then_some(ring)
}

/// Twice the area within a ring, positive where it is counted anticlockwise.
pub(crate) fn doubled_area(ring: &[Spot]) -> i64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(next)
        .map(|(p, q)| {
            let (x, y) = (i64::from(p.x), i64::from(p.y));
            x * i64::from(q.y) - y * i64::from(q.x)
        })
        .sum()
}

/// A square about a place, reaching so many steps to each side.
pub(crate) fn square(at: Spot, half: i32) -> Ring {
    [(-1, -1), (1, -1), (1, 1), (-1, 1)]
        .map(|(x, y)| IntPoint::new(at.x + x * half, at.y + y * half))
        .to_vec()
}
