use sky::{Angle, Instant, Latitude, Sky};

use super::deviation::{Deviation, length};
use super::fit::{Estimate, least_squares};
use super::measurements::Measurements;
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

/// A circle about the pole, or an end of the ecliptic ring, as measured.
struct Circle {
    what: &'static str,
    radius_mm: f64,
    error_mm: f64,
    declination: fn(Angle) -> Angle,
    /// How much further from the hole it is for an ecliptic ring that lies off its place by 1.
    by_offset: f64,
}

/// The unknowns: obliquity in degrees, the equator's radius and the ring's offset in
/// millimetres.
#[derive(Clone, Copy)]
struct Unknowns {
    obliquity_deg: f64,
    equator_mm: f64,
    offset_mm: f64,
}

impl CirclesFound {
    /// From at least two of the three circles; with fewer the ring serves too, whose edges
    /// touch both tropics if it lies where it should. With two, whether it does is found.
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
                by_offset: 0.0,
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
        if let Some(ring) = measured.ecliptic {
            for (what, radius, declination, by_offset) in [
                ("ecliptic at its nearest", ring.nearest, inner, -1.0),
                ("ecliptic at its farthest", ring.farthest, outer, 1.0),
            ] {
                all.push(Circle {
                    what,
                    radius_mm: radius.mm(),
                    error_mm,
                    declination,
                    by_offset,
                });
            }
        }
        let largest = all.iter().map(|one| one.radius_mm).fold(0.0, f64::max);
        let left = |by: Unknowns| -> Vec<f64> {
            let off = |one: &Circle| (one.drawn(by) - one.radius_mm) / one.error_mm;
            all.iter().map(off).collect()
        };
        let begin = [23.5, largest / 1.52];
        let steps = [0.1, largest / 1000.0];
        let (obliquity, equator, offset) = if of_the_ring || measured.ecliptic.is_none() {
            let fit = least_squares(begin, steps, |&[obliquity_deg, equator_mm]| {
                left(Unknowns {
                    obliquity_deg,
                    equator_mm,
                    offset_mm: 0.0,
                })
            })?;
            let [obliquity, equator] = fit.unknowns;
            (obliquity, equator, None)
        } else {
            let fit = least_squares(
                [begin[0], begin[1], 0.0],
                [steps[0], steps[1], steps[1]],
                |&[obliquity_deg, equator_mm, offset_mm]| {
                    left(Unknowns {
                        obliquity_deg,
                        equator_mm,
                        offset_mm,
                    })
                },
            )?;
            let [obliquity, equator, offset] = fit.unknowns;
            (obliquity, equator, Some(offset))
        };
        if !(15.0..32.0).contains(&obliquity.at) {
            return None;
        }
        let in_its_place = Unknowns {
            obliquity_deg: obliquity.at,
            equator_mm: equator.at,
            offset_mm: 0.0,
        };
        let line = |one: &Circle| Deviation {
            what: one.what.to_owned(),
            measured: Length::from_mm(one.radius_mm),
            should: Length::from_mm(one.drawn(in_its_place)),
        };
        Some(CirclesFound {
            obliquity: Estimate {
                at: Angle::from_deg(obliquity.at),
                within: Angle::from_deg(obliquity.within),
            },
            equator: length(equator),
            year: year_of(obliquity),
            ecliptic_offset: offset.map(length),
            lines: all.iter().map(line).collect(),
        })
    }
}

impl Circle {
    /// How far from the hole it is drawn, in millimetres.
    fn drawn(&self, by: Unknowns) -> f64 {
        let declination = (self.declination)(Angle::from_deg(by.obliquity_deg));
        let projection = Projection::new(by.equator_mm, crate::Hemisphere::North);
        projection.radius(Latitude::asin(declination.sin())) + self.by_offset * by.offset_mm
    }
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
