//! The sky as seen from the Earth's centre: angles, time scales, the Sun and
//! the stars. Nothing here knows of a horizon, a place, a clock or a file.

mod angle;

pub use angle::{Angle, Latitude, LatitudeError};
