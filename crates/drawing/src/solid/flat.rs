use instrument::Point;

use super::source::Source;
use crate::contour::Contour;

/// The corners of a closed contour cut into chords that leave it by no more than
/// a distance; the first is not repeated.
pub(crate) fn corners(contour: &Contour, sagitta_mm: f64) -> Vec<Point> {
    let mut corners = Vec::new();
    for source in Source::of(contour) {
        let count = source.chords(sagitta_mm);
        corners.extend((0..count).map(|n| source.at(f64::from(n) / f64::from(count))));
    }
    corners
}

/// Twice the area within corners; positive when they run as directions are counted.
pub(super) fn doubled_area(corners: &[Point]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(p, q)| p.cross(*q)).sum()
}

/// The area within a closed contour.
pub(super) fn area(contour: &Contour) -> f64 {
    if let Contour::Circle { radius_mm, .. } = contour {
        return std::f64::consts::PI * radius_mm * radius_mm;
    }
    doubled_area(&corners(contour, 1e-4)) / 2.0
}
