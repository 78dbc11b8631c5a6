use sky::Angle;

use crate::circline::Circline;
use crate::line_shape::LineShape;
use crate::plate::Plate;
use crate::point::Point;
use crate::specification::HourLines;
use crate::stroke::{Stroke, arc_through};
use crate::unequal_hour::UnequalHour;

/// The steps along an unequal-hour line: those by which a true curve is drawn, and at
/// which a line may begin.
const STEPS: u32 = 48;

/// The unequal-hour lines of a plate, 0 to 12, by points of each on the same circles
/// about the pole, from the inner to the outer tropic; beyond the polar circles as far as
/// there is a night.
pub(crate) struct HourNet {
    lines: [Vec<Point>; 13],
}

impl HourNet {
    /// Of a plate; empty where it has no such lines.
    pub(crate) fn of(plate: &Plate) -> HourNet {
        let radii = radii(plate);
        let lines = std::array::from_fn(|number| {
            let hour = u8::try_from(number).ok().and_then(UnequalHour::new);
            let at = |radius: &f64| point(plate, hour?, *radius);
            // Where one of the points is wanting there is no line.
            let points: Option<Vec<Point>> = radii.iter().map(at).collect();
            points.unwrap_or_default()
        });
        HourNet { lines }
    }

    /// What is drawn of an hour line: between the tropics, as far as it stands clear of its
    /// neighbours. Where the nights are short they crowd: there the odd hours begin
    /// first to be wanting, then the even ones, and the midnight line remains.
    pub(crate) fn strokes(&self, plate: &Plate, hour: UnequalHour, gap_mm: f64) -> Vec<Stroke> {
        let points = self.line(hour.number());
        let apart = if hour.number().is_multiple_of(2) {
            2
        } else {
            1
        };
        let [one, other] = [hour.number() - apart, hour.number() + apart].map(|n| self.line(n));
        // The horizon runs on inside the inner tropic.
        let horizon = plate.horizon();
        let clear = |p: &Point| {
            let beside = distance(one, *p).min(distance(other, *p));
            beside.min(horizon.distance_mm(*p)) >= gap_mm
        };
        // They crowd at one end: what is left is one run, the longest.
        let run = points.split(|p| !clear(p)).max_by_key(|run| run.len());
        let Some(run) = run.filter(|run| run.len() > 2) else {
            return Vec::new();
        };
        let whole = run.len() == points.len();
        vec![match (plate.hour_lines, plate.hour_points(hour), run) {
            (HourLines::Arcs, Ok(three), _) if whole => {
                arc_through(three.map(|p| p.turned(plate.turned)))
            }
            (HourLines::Arcs, _, [from, .., to]) => {
                let by = run.get(run.len() / 2).unwrap_or(to);
                arc_through([*from, *by, *to])
            }
            (HourLines::Arcs | HourLines::Curves, _, _) => Stroke::Curve(run.to_vec()),
        }]
    }

    fn line(&self, number: u8) -> &[Point] {
        self.lines
            .get(usize::from(number))
            .map_or(&[], Vec::as_slice)
    }
}

/// The circles about the pole on which the points lie.
fn radii(plate: &Plate) -> Vec<f64> {
    let (inner, outer) = plate.tropic_radii();
    let nights = plate.night_arcs();
    let (first, last) = nights.radii();
    let (inner, outer) = (inner.max(first), outer.min(last));
    if inner >= outer {
        return Vec::new();
    }
    let radius = |n: u32| {
        // Close together at the ends: near the polar circles the night begins or ends
        // there, and grows as a square root does.
        let turn = Angle::HALF_TURN * (f64::from(n) / f64::from(STEPS));
        let part = (1.0 - turn.cos()) / 2.0;
        // Even steps of the logarithm are even steps as one looks at it.
        inner * libm::pow(outer / inner, part)
    };
    let dark = |radius: &f64| nights.at_radius(*radius).is_some();
    (0..=STEPS).map(radius).filter(dark).collect()
}

/// The point of an hour line at a distance from the pole.
fn point(plate: &Plate, hour: UnequalHour, radius_mm: f64) -> Option<Point> {
    let night = plate.night_arcs().at_radius(radius_mm)?;
    let true_one = Point::polar(radius_mm, night.at(hour.part_of_night()));
    match (hour.number(), plate.unequal_hour(hour).ok()?) {
        // The ends of the horizon and the midnight line are their own true curves.
        (0 | 6 | 12, _) | (_, LineShape::HourCurve(_)) => Some(true_one),
        (_, LineShape::Circline(arc)) => {
            let circle = Circline::circle(Point::POLE, radius_mm);
            // The circle crosses twice at most; the arc's own crossing is near the curve.
            let met = arc.meets(&circle).into_iter();
            let nearest = met.min_by(|a, b| {
                let off = |p: &Point| (*p - true_one).radius();
                off(a).total_cmp(&off(b))
            });
            // At its ends, where it divides the night truly, it may but touch the tropic.
            Some(nearest.unwrap_or(true_one))
        }
    }
}

/// How far a place is from a line through points.
fn distance(line: &[Point], p: Point) -> f64 {
    let from = |pair: &[Point]| match pair {
        [from, to] => {
            let along = *to - *from;
            let part = ((p - *from).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
            (p - (*from + along * part)).radius()
        }
        _ => f64::INFINITY,
    };
    line.windows(2).map(from).fold(f64::INFINITY, f64::min)
}
