//! The eras of the ephemeris, and the bodies in each.

use crate::Body;
use crate::series::{Series, State};
use crate::vector::{minus, scaled};

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

/// Julian dates (TT) between which there are positions.
pub(crate) type Reach = (f64, f64);
