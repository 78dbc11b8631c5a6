use sky::Angle;

use crate::circline::{Circline, Meetings};
use crate::point::Point;
use crate::unequal_hour::{NightArcs, UnequalHour};

/// What a line of the plate follows, whole: the circle or straight line it is
/// part of, or the true curve of an unequal hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Trace {
    /// A circle or a straight line.
    Circline(Circline),
    /// The true curve of an unequal hour: the points which divide the night arcs
    /// in a given proportion. It is no circle, except at the equator.
    HourCurve(HourCurve),
}

/// The true curve of an unequal hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourCurve {
    nights: NightArcs,
    hour: UnequalHour,
}

impl HourCurve {
    pub(crate) fn new(nights: NightArcs, hour: UnequalHour) -> HourCurve {
        HourCurve { nights, hour }
    }

    /// Its point at a distance from the pole, if the circle with this radius crosses the horizon.
    #[must_use]
    pub fn at_radius(&self, radius_mm: f64) -> Option<Point> {
        let night = self.nights.at_radius(radius_mm)?;
        let direction = night.at(self.hour.part_of_night());
        Some(Point::polar(radius_mm, direction))
    }

    /// How far, round the pole, a point lies beyond the curve; `None` where there is no night arc.
    fn beyond(&self, p: Point) -> Option<Angle> {
        let night = self.nights.at_radius(p.radius())?;
        Some(night.at(self.hour.part_of_night()).to(p.direction()))
    }
}

impl Trace {
    /// A vector across the trace at a point on it, of any length.
    #[must_use]
    pub fn across(&self, p: Point) -> Option<Point> {
        match self {
            Trace::Circline(line) => Some(line.gradient(p)),
            Trace::HourCurve(curve) => {
                let radius = p.radius();
                let step = 1e-4 * radius;
                let outer = curve.at_radius(radius + step);
                let inner = curve.at_radius(radius - step);
                // At the end of the curve one side alone exists.
                let along = outer.unwrap_or(p) - inner.unwrap_or(p);
                (along != Point::POLE).then(|| along.perpendicular())
            }
        }
    }

    /// Where a circle meets the trace.
    pub fn meets_circle(&self, circle: &Circline) -> impl Iterator<Item = Point> + use<> {
        let (few, more) = match self {
            Trace::Circline(line) => (line.meets(circle), Vec::new()),
            Trace::HourCurve(curve) => (Meetings::default(), curve_meets(curve, circle)),
        };
        few.into_iter().chain(more)
    }
}

/// Samples along a part of a circle, in the search for its meetings with a curve: at
/// most 22.5° apart. Two meetings closer together than that would need the ecliptic to
/// run along an hour line, which it does only at the polar circles.
const WIDEST_DEG: f64 = 22.5;

/// How many samples are taken of a short part, at least.
const LEAST_SAMPLES: f64 = 4.0;

/// Where the circle meets the true curve: bracketed by sampling, then narrowed
/// by the Illinois form of false position until the direction stands still.
fn curve_meets(curve: &HourCurve, circle: &Circline) -> Vec<Point> {
    let Some((centre, radius)) = circle.as_circle() else {
        return Vec::new();
    };
    // A circle round the pole, as in turning the rete, needs no search.
    if centre.radius() < 1e-12 * radius {
        return curve.at_radius(radius).into_iter().collect();
    }
    let on = |deg: f64| centre + Point::polar(radius, Angle::from_deg(deg));
    let beyond = |deg: f64| curve.beyond(on(deg)).map(Angle::deg);
    let (from, sweep) = below_horizon(curve, circle, centre);
    let mut found = Vec::new();
    for (first, last) in parts_with_night(curve, circle, (centre, radius), (from, sweep)) {
        let samples = ((last - first) / WIDEST_DEG).ceil().max(LEAST_SAMPLES);
        let step = (last - first) / samples;
        let mut before = (first, beyond(first));
        let mut sample = 0.0;
        while sample < samples {
            sample += 1.0;
            let at = first + sample * step;
            let here = (at, beyond(at));
            if let ((from, Some(v)), (to, Some(w))) = (before, here) {
                // Opposite the curve the angle jumps between ±180°: no meeting.
                if v.signum() != w.signum() && (v - w).abs() < 180.0 {
                    found.extend(narrowed(beyond, (from, v), (to, w)).map(on));
                }
            }
            before = here;
        }
    }
    found
}

/// The parts of a stretch of a circle in which every point has a night arc: beyond the
/// polar circles the ecliptic leaves them. They are taken a hair short of their ends,
/// where the night is nothing or the whole turn.
fn parts_with_night(
    curve: &HourCurve,
    circle: &Circline,
    (centre, radius): (Point, f64),
    (from, sweep): (f64, f64),
) -> Vec<(f64, f64)> {
    const HAIR_DEG: f64 = 1e-10;
    let (nearest, farthest) = curve.nights.radii();
    let mut ends = vec![0.0, sweep];
    for limit in [nearest, farthest]
        .into_iter()
        .filter(|one| one.is_finite())
    {
        let met = Circline::circle(Point::POLE, limit).meets(circle);
        let along = |p: &Point| ((*p - centre).direction().deg() - from).rem_euclid(360.0);
        ends.extend(met.points().iter().map(along).filter(|at| *at < sweep));
    }
    if let [first, last] = ends.as_slice() {
        return vec![(from + first, from + last)];
    }
    ends.sort_by(f64::total_cmp);
    let has_night = |deg: f64| {
        let at = centre + Point::polar(radius, Angle::from_deg(deg));
        curve.nights.at_radius(at.radius()).is_some()
    };
    ends.iter()
        .zip(ends.iter().skip(1))
        .map(|(first, last)| (from + first + HAIR_DEG, from + last - HAIR_DEG))
        .filter(|(first, last)| first < last && has_night(f64::midpoint(*first, *last)))
        .collect()
}

/// The part of a circle that lies below the horizon, as a direction from its centre
/// and a sweep in degrees; all of it where the horizon does not cut it in two.
fn below_horizon(curve: &HourCurve, circle: &Circline, centre: Point) -> (f64, f64) {
    let horizon = curve.nights.horizon();
    let &[one, other] = horizon.meets(circle).points() else {
        return (0.0, 360.0);
    };
    let (from, to) = ((one - centre).direction(), (other - centre).direction());
    let sweep = (to - from).in_turn();
    let middle = centre + (one - centre).turned(sweep / 2.0);
    if horizon.value(middle) >= 0.0 {
        (from.deg(), sweep.deg())
    } else {
        (to.deg(), 360.0 - sweep.deg())
    }
}

/// The root between two arguments whose values differ in sign; `None` if the
/// function stops existing on the way.
fn narrowed(
    f: impl Fn(f64) -> Option<f64>,
    mut low: (f64, f64),
    mut high: (f64, f64),
) -> Option<f64> {
    for _ in 0..80 {
        let width = high.0 - low.0;
        if low.1 == 0.0 || width.abs() < 1e-13 {
            return Some(low.0);
        }
        let t = low.0 - low.1 * width / (high.1 - low.1);
        let v = f(t)?;
        if v == 0.0 {
            return Some(t);
        }
        if v.signum() == high.1.signum() {
            high = (t, v);
            low.1 *= 0.5;
        } else {
            low = high;
            high = (t, v);
        }
        if (high.0 - low.0).abs() < 1e-13 || v.abs() < 1e-13 {
            return Some(t);
        }
    }
    Some(high.0)
}
