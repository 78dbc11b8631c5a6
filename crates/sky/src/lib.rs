//! The sky as seen from the Earth's centre: angles, time scales, the Sun, the
//! Moon, the planets and the stars. Nothing here knows of a horizon, a place, a
//! clock or a file.
//!
//! An [`Instant`] is a moment on both time scales; [`Sky::at`] is the sky of that
//! moment; [`Sky::body`] is where a [`Body`] appears in it, and [`Sky::star`] where a
//! [`Star`] does. [`passages`],
//! [`ingresses`], [`stations`] and [`moon_phases`] find the moments when something
//! happens.
//!
//! Places are JPL's within 0.03″ from −600 to 2650: see `data/README.md` for where
//! they come from and `reference/ephemeris_errors.md` for how far off they are.

mod angle;
mod apparent;
mod blob;
mod body;
mod delta_t;
mod delta_t_spline;
mod ephemeris;
mod era;
mod error;
mod events;
mod frame;
mod fundamental;
mod house;
mod instant;
mod leap_seconds;
mod nutation;
mod nutation_terms;
mod plain;
mod search;
mod series;
mod served;
mod sidereal;
mod sky;
mod span;
mod standpoint;
mod stars;
mod vector;
mod vondrak;
mod zodiac;

pub use angle::{Angle, Latitude, LatitudeError};
pub use apparent::Apparent;
pub use body::Body;
pub use delta_t::{DeltaT, DeltaTSource};
pub use ephemeris::Ephemeris;
pub use error::SkyError;
pub use events::{
    Ingress, MoonPhase, Phase, Station, ingresses, last_syzygy_before, moon_phases, next_passage,
    passages, stations,
};
pub use house::House;
pub use instant::Instant;
pub use nutation::Nutation;
pub use plain::Plain;
pub use search::{Found, Search, Sought, Tracked};
pub use sky::Sky;
pub use span::Span;
pub use stars::{
    EpochError, JulianEpoch, MeanPlace, Star, StarPlace, UnknownStar, astrolabe_stars,
    star_lettered, star_named, stars,
};
pub use zodiac::{Sign, Zodiacal, ZodiacalError};
