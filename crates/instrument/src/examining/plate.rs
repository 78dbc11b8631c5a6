use sky::{Angle, Latitude};

use super::deviation::{Deviation, length};
use super::fit::{Estimate, least_squares};
use super::measurements::{MeasuredPlate, Measurements};
use super::plate_error::MeasuredError;
use crate::length::Length;
use crate::specification::Hemisphere;

/// What a side of a plate was drawn for.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateFound {
    /// The latitude that stands on it.
    pub lettered: Option<Latitude>,
    /// The latitude that its lines are for.
    pub latitude: Estimate<Angle>,
    /// The radius of the equator that they were drawn about.
    pub equator: Estimate<Length>,
    /// How far towards noon its lines lie from their place about the hole; None where what
    /// was measured cannot tell. It is taken into account where it is beyond doubt, three
    /// times its error.
    pub off_centre: Option<Estimate<Length>>,
    /// Each crossing beside where it would be by what was found.
    pub lines: Vec<Deviation>,
    /// The altitude at which each crossing truly stands, by the latitude lettered or else
    /// found, about the hole.
    pub errors: Vec<MeasuredError>,
}

/// A crossing of the meridian: how far its place on the sphere is from the pole, counted
/// towards noon, as a part of the latitude and in degrees besides.
struct MeridianCrossing {
    engraved: (Latitude, bool),
    what: String,
    at_mm: f64,
    /// 90° − latitude ± (90° − altitude).
    from_zenith_deg: f64,
}

impl MeridianCrossing {
    fn all(plate: &MeasuredPlate) -> Vec<MeridianCrossing> {
        let mut all = Vec::new();
        for one in &plate.almucantars {
            let altitude = one.altitude.deg();
            for (side, at, sign) in [("noon", one.noon, 1.0), ("midnight", one.midnight, -1.0)] {
                if let Some(at) = at {
                    all.push(MeridianCrossing {
                        engraved: (one.altitude, sign > 0.0),
                        what: format!("almucantar {altitude}°, towards {side}"),
                        at_mm: at.mm(),
                        from_zenith_deg: sign * (90.0 - altitude),
                    });
                }
            }
        }
        all
    }

    /// r = R tan(p/2), for a place of the meridian p from the pole towards noon.
    fn drawn(&self, latitude_deg: f64, equator_mm: f64) -> f64 {
        let from_pole = 90.0 - latitude_deg + self.from_zenith_deg;
        equator_mm * libm::tan((from_pole / 2.0).to_radians())
    }
}

/// What was fitted: whether with the middle moved.
struct Found {
    latitude: Estimate<f64>,
    equator: Estimate<f64>,
    off: Option<Estimate<f64>>,
    moved: bool,
}

impl PlateFound {
    /// From at least two crossings, or one and the equator; the third thing that may be off,
    /// its middle, from one more.
    ///
    /// `of_circles` is the equator's radius by the circles of the same instrument, which its
    /// plates have too.
    pub(crate) fn of(
        plate: &MeasuredPlate,
        measured: &Measurements,
        of_circles: Option<Estimate<Length>>,
    ) -> Option<PlateFound> {
        let crossings = MeridianCrossing::all(plate);
        let error_mm = measured.measured_to.mm();
        let equator_mm = plate.equator.map(|one| one.mm() / 2.0);
        let left = |latitude: f64, equator: f64, off: f64| -> Vec<f64> {
            let mut left: Vec<f64> = crossings
                .iter()
                .map(|one| (one.drawn(latitude, equator) + off - one.at_mm) / error_mm)
                .collect();
            // A diameter is two radii, measured once.
            left.extend(equator_mm.map(|mm| (equator - mm) / (error_mm / 2.0)));
            left.extend(
                of_circles.map(|one| (equator - one.at.mm()) / one.within.mm().max(error_mm / 2.0)),
            );
            left
        };
        let largest = crossings
            .iter()
            .map(|one| one.at_mm.abs())
            .fold(0.0, f64::max);
        let equator = equator_mm
            .or(of_circles.map(|one| one.at.mm()))
            .unwrap_or(largest / 1.5);
        let steps = [0.05, equator / 1000.0];
        let begun = plate.lettered.map(|one| one.deg().abs());
        let begins = begun.into_iter().chain([45.0, 20.0, 70.0, 5.0]);
        let determined = |latitude: f64| latitude.abs() <= 90.0;
        for begin in begins {
            let whole = least_squares(
                [begin, equator, 0.0],
                [steps[0], steps[1], 0.05],
                |&[latitude, equator, off]| left(latitude, equator, off),
            )
            // Where the middle is known to no better than this, it is not known.
            .filter(|fit| fit.unknowns[2].within < equator / 50.0);
            let about = |&[latitude, equator]: &[f64; 2]| left(latitude, equator, 0.0);
            let off = whole.as_ref().map(|fit| fit.unknowns[2]);
            // A middle that may as well be in its place would only blur the latitude.
            let moved = off.is_some_and(|off| off.at.abs() > 3.0 * off.within);
            let (latitude, equator) = match whole {
                Some(fit) if moved => (fit.unknowns[0], fit.unknowns[1]),
                _ => match least_squares([begin, equator], steps, about) {
                    Some(fit) => (fit.unknowns[0], fit.unknowns[1]),
                    None => continue,
                },
            };
            let found = Found {
                latitude,
                equator,
                off,
                moved,
            };
            if determined(latitude.at) && equator.at > 0.0 {
                return Some(PlateFound::told(plate, measured, &crossings, &found));
            }
        }
        None
    }

    fn told(
        plate: &MeasuredPlate,
        measured: &Measurements,
        crossings: &[MeridianCrossing],
        found: &Found,
    ) -> PlateFound {
        let (latitude, equator) = (found.latitude, found.equator);
        let off_mm = match (found.moved, found.off) {
            (true, Some(off)) => off.at,
            _ => 0.0,
        };
        let north = match measured.hemisphere {
            Hemisphere::North => 1.0,
            Hemisphere::South => -1.0,
        };
        let lines = crossings.iter().map(|one| Deviation {
            what: one.what.clone(),
            measured: Length::from_mm(one.at_mm),
            should: Length::from_mm(one.drawn(latitude.at, equator.at) + off_mm),
        });
        let worked_with = plate.lettered.map_or(latitude.at, |one| one.deg());
        let errors = crossings.iter().map(|one| {
            let mm = (one.at_mm, equator.at);
            let latitude = Angle::from_deg(worked_with);
            MeasuredError::of(one.engraved, mm, latitude, measured.measured_to.mm())
        });
        PlateFound {
            errors: errors.collect(),
            lettered: plate.lettered,
            latitude: Estimate {
                at: Angle::from_deg(latitude.at * north),
                within: Angle::from_deg(latitude.within),
            },
            equator: length(equator),
            off_centre: found.off.map(length),
            lines: lines.collect(),
        }
    }
}
