//! The sky as seen from the Earth's centre: angles, time scales, the Sun and
//! the stars. Nothing here knows of a horizon, a place, a clock or a file.

mod angle;
mod stars;

pub use angle::{Angle, Latitude, LatitudeError};
pub use stars::{
    EpochError, JulianEpoch, MeanPlace, Star, UnknownStar, astrolabe_stars, star_named, stars,
};
