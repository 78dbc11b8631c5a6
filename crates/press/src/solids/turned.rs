use drawing::{Contour, Workpiece};
use instrument::Point;

use super::mesh::Mesh;
use crate::chords::chords;
use crate::plane::grid::{height, steps};
use crate::plane::strokes::SAGITTA_MM;

/// A turned part with a slot right through its shank, from the drawing of it from the side:
/// the axis lies upright in the middle. Its end stands above, its head below.
///
/// None where the drawing is of no such part.
pub(super) fn turned(workpiece: &Workpiece) -> Option<Mesh> {
    let body = workpiece.solid.bodies.first()?;
    let slot = body.holes.first()?;
    let (low, high) = slot.bounds();
    let half = high.x;
    // The profile's corners by height and radius, the shank's edges at the slot among them.
    let mut profile = profile(&body.outline)?;
    let shank = profile
        .array_windows()
        .position(|[a, b]| (a.y - b.y).abs() < 1e-9 && a.x < low.y && b.x > high.y)?;
    let radius = profile.get(shank)?.y;
    if half >= radius {
        return None;
    }
    for at in [high.y, low.y] {
        profile.insert(shank + 1, Point { x: at, y: radius });
    }
    let around = Around::of(half / radius);
    let mut mesh = Mesh::default();
    let mut rings: Vec<Vec<u32>> = Vec::new();
    for at in &profile {
        let height = height(at.x);
        if at.y < 1e-6 {
            rings.push(vec![mesh.corner([0, 0, height])]);
            continue;
        }
        let ring = around.places.iter().map(|(x, y)| {
            let (x, y) = (steps(x * at.y), steps(y * at.y));
            mesh.corner([x, y, height])
        });
        rings.push(ring.collect());
    }
    let count = around.places.len();
    for (n, pair) in rings.array_windows().enumerate() {
        let [lower, upper] = pair;
        for this in 0..count {
            let next = (this + 1) % count;
            // Between its two edges the slot leaves only what is beside it.
            if n == shank + 1 && around.is_slot(this) {
                continue;
            }
            let at = |ring: &Vec<u32>, n: usize| ring.get(n.min(ring.len() - 1)).copied();
            let (a, b) = (at(lower, this)?, at(lower, next)?);
            let (c, d) = (at(upper, next)?, at(upper, this)?);
            if lower.len() > 1 {
                mesh.triangles.push([a, b, c]);
            }
            if upper.len() > 1 {
                mesh.triangles.push([a, c, d]);
            }
        }
    }
    let (floor, ceiling) = (rings.get(shank + 1)?.clone(), rings.get(shank + 2)?.clone());
    around.slot(&floor, &ceiling, &mut mesh)?;
    Some(mesh)
}

/// The half of an outline from the axis to the axis: height and radius of each corner,
/// from below upwards.
fn profile(outline: &Contour) -> Option<Vec<Point>> {
    let mut points = chords(outline, SAGITTA_MM);
    let least = points
        .iter()
        .enumerate()
        .min_by(|a, b| a.1.y.total_cmp(&b.1.y))?
        .0;
    points.rotate_left(least);
    let mut half: Vec<Point> = points
        .iter()
        .filter(|p| p.x > 1e-6)
        .map(|p| Point { x: p.y, y: p.x })
        .collect();
    let run = half.array_windows().any(|[a, b]| b.x < a.x - 1e-9);
    if run {
        half.reverse();
    }
    half.dedup_by(|a, b| (*a - *b).radius() < 0.002);
    let top = outline.bounds().0.y;
    let end = half.last()?.x;
    half.insert(
        0,
        Point {
            x: points.first()?.y.min(top),
            y: 0.0,
        },
    );
    half.push(Point { x: end, y: 0.0 });
    Some(half)
}

/// The corners about the axis, for a circle of radius 1, and which of them are the slot's.
struct Around {
    places: Vec<(f64, f64)>,
}

impl Around {
    /// Chords across each mouth of the slot, and along the metal on each side of it.
    const MOUTH: usize = 6;
    const SIDE: usize = 18;

    /// With a slot of half that breadth along y.
    fn of(half: f64) -> Around {
        let edge = libm::asin(half.clamp(0.01, 0.99));
        let half_turn = std::f64::consts::PI;
        let mut places = Vec::new();
        // Anticlockwise from the mouth in front (where y is negative).
        for (from, to, count) in [
            (-edge, edge, Self::MOUTH),
            (edge, half_turn - edge, Self::SIDE),
            (half_turn - edge, half_turn + edge, Self::MOUTH),
            (half_turn + edge, 2.0 * half_turn - edge, Self::SIDE),
        ] {
            for n in 0..count {
                #[expect(clippy::cast_precision_loss, reason = "some dozens")]
                let angle = from + (to - from) * (n as f64) / (count as f64);
                places.push((libm::sin(angle), -libm::cos(angle)));
            }
        }
        Around { places }
    }

    /// Whether the chord from a corner onwards lies in a mouth of the slot.
    fn is_slot(&self, from: usize) -> bool {
        let half = self.places.len() / 2;
        from % half < Self::MOUTH
    }

    /// The floor, the ceiling and the two walls of the slot.
    fn slot(&self, floor: &[u32], ceiling: &[u32], mesh: &mut Mesh) -> Option<()> {
        let half = self.places.len() / 2;
        // Its corners: in front from the left to the right, behind from the right to the left.
        let mouth = (0..=Self::MOUTH).chain(half..=half + Self::MOUTH);
        let round: Vec<usize> = mouth.collect();
        let first = *round.first()?;
        for [a, b] in round.get(1..)?.array_windows() {
            let of = |ring: &[u32], n: usize| ring.get(n).copied();
            let (o, p, q) = (of(floor, first)?, of(floor, *a)?, of(floor, *b)?);
            mesh.triangles.push([o, p, q]);
            let (o, p, q) = (of(ceiling, first)?, of(ceiling, *a)?, of(ceiling, *b)?);
            mesh.triangles.push([o, q, p]);
        }
        // The walls, each looking into the slot.
        for (front, behind) in [(Self::MOUTH, half), (half + Self::MOUTH, 0)] {
            let of = |ring: &[u32], n: usize| ring.get(n).copied();
            let (a, b) = (of(floor, front)?, of(floor, behind)?);
            let (c, d) = (of(ceiling, behind)?, of(ceiling, front)?);
            mesh.triangles.push([b, a, d]);
            mesh.triangles.push([b, d, c]);
        }
        Some(())
    }
}
