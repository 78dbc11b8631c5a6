use std::sync::OnceLock;

use crate::blob;
use crate::series::{Series, State};
use crate::vector::{minus, scaled};
use crate::{Body, SkyError};

static BLOB: &[u8] = include_bytes!("../../../data/ephemeris.bin");

/// The Earth's mass over the Moon's, from the constants of DE440.
const EARTH_MOON_MASS_RATIO: f64 = 81.300_568_221_497_22;

/// The series of the file, in its order.
pub(crate) const SERIES: usize = 11;
const SUN: usize = 0;
const MOON: usize = 1;
const EARTH_AND_MOON: usize = 4;

/// The paths of the bodies over one era, fitted to one JPL ephemeris.
#[derive(Clone, Debug)]
pub(crate) struct Era {
    /// Days of TDB from J2000 to its beginning.
    pub(crate) start: f64,
    pub(crate) series: [Series; SERIES],
}

/// Places of the Sun, the Moon and the planets from JPL's DE422 and DE440, within
/// 0.03″ as seen from the Earth.
#[derive(Clone, Debug)]
pub(crate) struct Ephemeris {
    pub(crate) eras: [Era; 2],
}

impl Ephemeris {
    /// The one in the program, checked when first asked for.
    pub(crate) fn embedded() -> Result<&'static Ephemeris, SkyError> {
        static EPHEMERIS: OnceLock<Result<Ephemeris, SkyError>> = OnceLock::new();
        EPHEMERIS
            .get_or_init(|| blob::read(BLOB))
            .as_ref()
            .map_err(|damage| *damage)
    }

    /// The era that holds a moment, in days of TDB from J2000.
    pub(crate) fn era(&self, t: f64) -> &Era {
        let [early, late] = &self.eras;
        if t < late.start { early } else { late }
    }
}

impl Era {
    /// The Sun, from the centre of mass of the solar system, as all but the Moon.
    pub(crate) fn sun(&self, t: f64) -> State {
        self.series[SUN].at(t)
    }

    /// The Moon, from the Earth's centre.
    pub(crate) fn moon(&self, t: f64) -> State {
        self.series[MOON].at(t)
    }

    /// The Earth's centre, given the Moon from it.
    pub(crate) fn earth(&self, t: f64, moon: &State) -> State {
        let both = self.series[EARTH_AND_MOON].at(t);
        let share = 1.0 / (1.0 + EARTH_MOON_MASS_RATIO);
        State {
            place: minus(both.place, scaled(moon.place, share)),
            velocity: minus(both.velocity, scaled(moon.velocity, share)),
        }
    }

    /// A planet; none for the Sun and the Moon.
    pub(crate) fn planet(&self, body: Body, t: f64) -> Option<State> {
        let index = match body {
            Body::Sun | Body::Moon => return None,
            Body::Mercury => 2,
            Body::Venus => 3,
            Body::Mars => 5,
            Body::Jupiter => 6,
            Body::Saturn => 7,
            Body::Uranus => 8,
            Body::Neptune => 9,
            Body::Pluto => 10,
        };
        Some(self.series[index].at(t))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vector::length;

    /// Least distance from the Earth, in astronomical units, in the order of the file.
    const NEAREST: [f64; SERIES] = [
        0.98, 0.00238, 0.53, 0.263, 0.263, 0.37, 3.9, 7.9, 17.2, 28.6, 28.6,
    ];

    /// Neighbouring segments share their joint: what is left is rounding.
    #[test]
    fn no_step_from_segment_to_segment() {
        const STEP_ARCSEC: f64 = 0.001;
        const STEP_ARCSEC_PER_DAY: f64 = 0.01;
        // Short enough for velocities to stand still.
        const APART_DAYS: f64 = 2e-9;
        for era in &Ephemeris::embedded().unwrap().eras {
            for (series, nearest) in era.series.iter().zip(NEAREST) {
                for joint in (1..series.count).step_by(series.count / 500) {
                    let t = series.start + series.days * joint as f64;
                    let (before, after) = (series.at(t - APART_DAYS), series.at(t + APART_DAYS));
                    let moved = scaled(after.velocity, 2.0 * APART_DAYS);
                    let step = minus(minus(after.place, before.place), moved);
                    let kick = minus(after.velocity, before.velocity);
                    let arcsec = |au: f64| (au / nearest).to_degrees() * 3600.0;
                    assert!(arcsec(length(step)) < STEP_ARCSEC, "{joint} of {series:?}");
                    assert!(
                        arcsec(length(kick)) < STEP_ARCSEC_PER_DAY,
                        "{joint} of {series:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_ends_are_covered() {
        let [early, late] = &Ephemeris::embedded().unwrap().eras;
        for series in early.series.iter().chain(&late.series) {
            let end = series.start + series.days * series.count as f64;
            for t in [series.start - 1e-6, series.start, end, end + 1e-6] {
                let place = series.at(t).place;
                assert!(
                    length(place) > 1e-5 && length(place) < 60.0,
                    "{t} of {series:?}"
                );
            }
        }
    }
}
