use sky::{Angle, Instant, Latitude, Sky};

use super::fit::{Estimate, Fit, least_squares};
use super::measurements::Measurements;
use super::{Deviation, length};
use crate::length::Length;
use crate::projection::Projection;

/// What the tropics, the equator and the ecliptic ring were drawn for.
#[derive(Clone, Debug, PartialEq)]
pub struct CirclesFound {
    /// The obliquity of the ecliptic.
    pub obliquity: Estimate<Angle>,
    /// The radius of the equator.
    pub equator: Estimate<Length>,
    /// The year in which the ecliptic's mean obliquity was this, where there is one within
    /// the ephemeris.
    pub year: Option<Estimate<f64>>,
    /// How far the ecliptic ring lies beyond its place, towards the head of the outer
    /// tropic's sign.
    pub ecliptic_offset: Option<Estimate<Length>>,
    /// Each length beside what it would be by what was found.
    pub lines: Vec<Deviation>,
}

/// A circle about the pole as measured.
struct Circle {
    what: &'static str,
    radius_mm: f64,
    error_mm: f64,
    declination: fn(Angle) -> Angle,
}

impl CirclesFound {
    /// From at least two of the three circles; the ring alone serves too, whose edges touch
    /// both tropics if it lies where it should.
    pub(crate) fn of(measured: &Measurements) -> Option<CirclesFound> {
        let error_mm = measured.measured_to.mm();
        let outer: fn(Angle) -> Angle = |obliquity| -obliquity;
        let inner: fn(Angle) -> Angle = |obliquity| obliquity;
        let level: fn(Angle) -> Angle = |_| Angle::ZERO;
        // Declinations as a northern instrument has them: the southern one is its mirror.
        let [capricorn, cancer] = match measured.hemisphere {
            crate::Hemisphere::North => [outer, inner],
            crate::Hemisphere::South => [inner, outer],
        };
        let by_diameter = |what, diameter: Option<Length>, declination| {
            Some(Circle {
                what,
                radius_mm: diameter?.mm() / 2.0,
                error_mm: error_mm / 2.0,
                declination,
            })
        };
        let circles = &measured.circles;
        let mut all: Vec<Circle> = [
            by_diameter("tropic of Capricorn", circles.capricorn, capricorn),
            by_diameter("equator", circles.equator, level),
            by_diameter("tropic of Cancer", circles.cancer, cancer),
        ]
        .into_iter()
        .flatten()
        .collect();
        let of_the_ring = all.len() < 2;
        if let (true, Some(ring)) = (of_the_ring, measured.ecliptic) {
            for (what, radius, declination) in [
                ("ecliptic at its nearest", ring.nearest, inner),
                ("ecliptic at its farthest", ring.farthest, outer),
            ] {
                all.push(Circle {
                    what,
                    radius_mm: radius.mm(),
                    error_mm,
                    declination,
                });
            }
        }
        let largest = all.iter().map(|one| one.radius_mm).fold(0.0, f64::max);
        let left = |&[obliquity, equator]: &[f64; 2]| -> Vec<f64> {
            let off =
                |one: &Circle| (drawn(one, obliquity, equator) - one.radius_mm) / one.error_mm;
            all.iter().map(off).collect()
        };
        let fit: Fit<2> = least_squares([23.5, largest / 1.52], [0.1, largest / 1000.0], left)?;
        let [obliquity, equator] = fit.unknowns;
        if !(15.0..32.0).contains(&obliquity.at) {
            return None;
        }
        let line = |one: &Circle| Deviation {
            what: one.what.to_owned(),
            measured: Length::from_mm(one.radius_mm),
            should: Length::from_mm(drawn(one, obliquity.at, equator.at)),
        };
        let mut lines: Vec<Deviation> = all.iter().map(line).collect();
        let mut ecliptic_offset = None;
        if let (false, Some(ring)) = (of_the_ring, measured.ecliptic) {
            let should = [obliquity.at, -obliquity.at]
                .map(|deg| equator.at * ((90.0 - deg) / 2.0).to_radians().tan());
            let ends = [
                ("ecliptic at its nearest", ring.nearest),
                ("ecliptic at its farthest", ring.farthest),
            ];
            for ((what, measured), should) in ends.into_iter().zip(should) {
                lines.push(Deviation {
                    what: what.to_owned(),
                    measured,
                    should: Length::from_mm(should),
                });
            }
            let [nearest, farthest] = should;
            let off = (ring.farthest.mm() - farthest - (ring.nearest.mm() - nearest)) / 2.0;
            ecliptic_offset = Some(Estimate {
                at: Length::from_mm(off),
                within: Length::from_mm(error_mm / 2.0_f64.sqrt()),
            });
        }
        Some(CirclesFound {
            obliquity: Estimate {
                at: Angle::from_deg(obliquity.at),
                within: Angle::from_deg(obliquity.within),
            },
            equator: length(equator),
            year: year_of(obliquity),
            ecliptic_offset,
            lines,
        })
    }
}

fn drawn(circle: &Circle, obliquity_deg: f64, equator_mm: f64) -> f64 {
    let declination = (circle.declination)(Angle::from_deg(obliquity_deg));
    let projection = Projection::new(equator_mm, crate::Hemisphere::North);
    projection.radius(Latitude::asin(declination.sin()))
}

/// When the mean obliquity was this: it lessens by 47″ in a century.
fn year_of(obliquity: Estimate<f64>) -> Option<Estimate<f64>> {
    let mean = |year: f64| {
        let instant = Instant::from_jd_tt(2_451_545.0 + (year - 2000.0) * 365.25);
        Some(Sky::at(instant).ok()?.mean_obliquity().deg())
    };
    let (mut early, mut late) = (-599.0, 2649.0);
    if !(mean(late)?..mean(early)?).contains(&obliquity.at) {
        return None;
    }
    while late - early > 0.01 {
        let middle = (early + late) / 2.0;
        if mean(middle)? > obliquity.at {
            early = middle;
        } else {
            late = middle;
        }
    }
    let a_year = (mean(early - 0.5)? - mean(early + 0.5)?).abs();
    Some(Estimate {
        at: early,
        within: obliquity.within / a_year,
    })
}
