use sky::Angle;

use crate::circline::{Circline, Meetings};
use crate::point::Point;
use crate::unequal_hour::{NightArc, NightArcs, UnequalHour};

/// What a line of the plate follows, whole: the circle or straight line it is
/// part of, or the true curve of an unequal hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LineShape {
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

    pub(crate) fn nights(&self) -> NightArcs {
        self.nights
    }

    pub(crate) fn hour(&self) -> UnequalHour {
        self.hour
    }

    /// Its point at a distance from the pole, if the circle with this radius crosses the horizon.
    #[must_use]
    pub fn at_radius(&self, radius_mm: f64) -> Option<Point> {
        let night = self.nights.at_radius(radius_mm)?;
        let direction = night.at(self.hour.part_of_night());
        Some(Point::polar(radius_mm, direction))
    }
}

impl LineShape {
    /// A vector across the line at a point on it, of any length.
    #[must_use]
    pub fn across(&self, p: Point) -> Option<Point> {
        match self {
            LineShape::Circline(line) => Some(line.gradient(p)),
            LineShape::HourCurve(curve) => {
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

    /// Where a circle meets the line.
    pub fn meets_circle(&self, circle: &Circline) -> impl Iterator<Item = Point> + use<> {
        let (few, more) = match self {
            LineShape::Circline(line) => (line.meets(circle), Vec::new()),
            LineShape::HourCurve(curve) => {
                let course = NightCourse::of(curve.nights, circle);
                (Meetings::default(), course.meets(curve.hour))
            }
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

/// A circle among the nights of a horizon: where it meets the true curve of one hour is
/// sought from the same samples as of every other.
#[derive(Clone, Debug)]
pub(crate) struct NightCourse {
    nights: NightArcs,
    course: Course,
}

#[derive(Clone, Debug)]
enum Course {
    /// No circle but a straight line.
    Straight,
    /// About the pole, with this radius, as in turning the rete: no search is needed.
    AboutThePole(f64),
    /// With its centre and radius, and samples along each part that has a night.
    Sampled(Point, f64, Vec<Vec<Sample>>),
}

/// A place of the circle, in degrees from its centre, with the night there and the place's
/// own direction from the pole; none where there is no night arc.
type Sample = (f64, Option<(NightArc, Angle)>);

impl NightCourse {
    pub(crate) fn of(nights: NightArcs, circle: &Circline) -> NightCourse {
        let course = match circle.as_circle() {
            None => Course::Straight,
            Some((centre, radius)) if centre.radius() < 1e-12 * radius => {
                Course::AboutThePole(radius)
            }
            Some((centre, radius)) => {
                let stretch = below_horizon(&nights, circle, centre);
                let parts = parts_with_night(&nights, circle, (centre, radius), stretch);
                let sampled = parts.into_iter().map(|(first, last)| {
                    let samples = ((last - first) / WIDEST_DEG).ceil().max(LEAST_SAMPLES);
                    let step = (last - first) / samples;
                    let mut along = vec![(first, at(&nights, on(centre, radius, first)))];
                    let mut sample = 0.0;
                    while sample < samples {
                        sample += 1.0;
                        let deg = first + sample * step;
                        along.push((deg, at(&nights, on(centre, radius, deg))));
                    }
                    along
                });
                Course::Sampled(centre, radius, sampled.collect())
            }
        };
        NightCourse { nights, course }
    }

    /// Where it meets the true curve of an hour: bracketed by the samples, then narrowed
    /// by the Illinois form of false position until the direction stands still.
    pub(crate) fn meets(&self, hour: UnequalHour) -> Vec<Point> {
        let (centre, radius, parts) = match &self.course {
            Course::Straight => return Vec::new(),
            Course::AboutThePole(radius) => {
                let curve = HourCurve::new(self.nights, hour);
                return curve.at_radius(*radius).into_iter().collect();
            }
            Course::Sampled(centre, radius, parts) => (*centre, *radius, parts),
        };
        // How far, round the pole, a place lies beyond the curve.
        let part = hour.part_of_night();
        let beyond = |(night, direction): (NightArc, Angle)| night.at(part).to(direction).deg();
        let sought = |deg: f64| at(&self.nights, on(centre, radius, deg)).map(beyond);
        let mut found = Vec::new();
        for samples in parts {
            let mut before: Option<(f64, Option<f64>)> = None;
            for (deg, sample) in samples {
                let here = (*deg, sample.map(beyond));
                if let (Some((from, Some(v))), (to, Some(w))) = (before, here) {
                    // Opposite the curve the angle jumps between ±180°: no meeting.
                    if v.signum() != w.signum() && (v - w).abs() < 180.0 {
                        let met = narrowed(sought, (from, v), (to, w));
                        found.extend(met.map(|deg| on(centre, radius, deg)));
                    }
                }
                before = Some(here);
            }
        }
        found
    }
}

/// The point of a circle in a direction from its centre.
fn on(centre: Point, radius: f64, deg: f64) -> Point {
    centre + Point::polar(radius, Angle::from_deg(deg))
}

/// The night on the circle about the pole through a point, with the point's own direction.
fn at(nights: &NightArcs, p: Point) -> Option<(NightArc, Angle)> {
    let night = nights.at_radius(p.radius())?;
    Some((night, p.direction()))
}

/// The parts of a stretch of a circle in which every point has a night arc: beyond the
/// polar circles the ecliptic leaves them. They are taken a hair short of their ends,
/// where the night is nothing or the whole turn.
fn parts_with_night(
    nights: &NightArcs,
    circle: &Circline,
    (centre, radius): (Point, f64),
    (from, sweep): (f64, f64),
) -> Vec<(f64, f64)> {
    const HAIR_DEG: f64 = 1e-10;
    let (nearest, farthest) = nights.radii();
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
        let at = on(centre, radius, deg);
        nights.at_radius(at.radius()).is_some()
    };
    ends.iter()
        .zip(ends.iter().skip(1))
        .map(|(first, last)| (from + first + HAIR_DEG, from + last - HAIR_DEG))
        .filter(|(first, last)| first < last && has_night(f64::midpoint(*first, *last)))
        .collect()
}

/// The part of a circle that lies below the horizon, as a direction from its centre
/// and a sweep in degrees; all of it where the horizon does not cut it in two.
fn below_horizon(nights: &NightArcs, circle: &Circline, centre: Point) -> (f64, f64) {
    let horizon = nights.horizon();
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
