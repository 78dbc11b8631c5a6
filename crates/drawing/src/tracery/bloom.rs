use instrument::Point;
use sky::Angle;

use super::Openings;
use crate::smooth_line::{Bend, SmoothLine};

/// A round pattern within the ecliptic, drawn as if that were a circle about the middle.
///
/// It is laid into the ecliptic by a map that keeps circles circles and angles angles, as
/// the projection of the sphere itself does, so that what is alike all round comes out
/// small where the ecliptic is near the pole and large towards the almuri.
pub(super) struct Bloom<'a> {
    openings: &'a Openings,
    /// The radius that stands for 1.
    radius: f64,
    /// Where the middle comes to lie, in parts of that radius from the circle's centre.
    middle: f64,
}

impl Bloom<'_> {
    /// About the ecliptic's own pole, reaching to a radius about the ecliptic's centre: with
    /// the ecliptic's own radius its spokes are the circles of longitude.
    pub(super) fn about_the_ecliptics_pole(openings: &Openings, radius: f64) -> Bloom<'_> {
        Bloom {
            openings,
            radius,
            middle: (openings.ecliptic_pole - openings.eccentricity) / radius,
        }
    }

    /// Where a place of the pattern comes to lie, by its distance from the middle and its
    /// direction from the almuri.
    pub(super) fn at(&self, out: f64, from_almuri: Angle) -> Point {
        let (sin, cos) = from_almuri.sin_cos();
        let (x, y, b) = (out * cos, out * sin, self.middle);
        // (v + b) / (1 + b v), by parts.
        let (tx, ty, nx, ny) = (x + b, y, 1.0 + b * x, b * y);
        let whole = nx * nx + ny * ny;
        let (ux, uy) = ((tx * nx + ty * ny) / whole, (ty * nx - tx * ny) / whole);
        let openings = self.openings;
        openings.place(openings.eccentricity + self.radius * ux, self.radius * uy)
    }

    /// The strip through three places of the pattern.
    pub(super) fn strip(&self, places: [(f64, Angle); 3]) -> SmoothLine {
        let [from, over, to] = places.map(|(out, from_almuri)| self.at(out, from_almuri));
        SmoothLine::of(Bend::through(from, over, to))
    }

    /// A circle of the pattern, by its centre and radius there, as it comes to lie.
    pub(super) fn circle(&self, (out, from_almuri): (f64, Angle), radius: f64) -> (Point, f64) {
        // Its nearest, its furthest and one place between, on the pattern.
        let about = |turn: f64| {
            let centre = Point::polar(out, from_almuri);
            let place = centre + Point::polar(radius, from_almuri + Angle::from_deg(turn));
            self.at(place.radius(), place.direction())
        };
        let bend = Bend::through(about(0.0), about(90.0), about(180.0));
        bend.circle().unwrap_or((about(0.0), radius * self.radius))
    }
}
