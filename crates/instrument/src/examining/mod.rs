//! Examining an instrument: from what was measured on it back to what it was made for.
//!
//! Drawing goes from a latitude, an obliquity, an epoch to lines; here it is turned round,
//! by least squares. What comes out says within what it is known, and what is left over
//! says how true the instrument is.

mod against;
mod circles;
mod deviation;
mod epoch;
mod examined;
mod fit;
mod limb;
mod measurements;
mod measurements_toml;
mod plate;
mod plate_error;

pub use against::against;
pub use circles::CirclesFound;
pub use deviation::Deviation;
pub use epoch::{NoYear, StarFound, StarsFound};
pub(crate) use epoch::{by_calendar, julian_scale};
pub use examined::Examined;
pub use fit::Estimate;
pub(crate) use fit::median;
pub use limb::LimbFound;
pub use measurements::{
    MeasuredAlmucantar, MeasuredCalendar, MeasuredCircles, MeasuredEcliptic, MeasuredLimb,
    MeasuredPlate, MeasuredStar, Measurements,
};
pub use measurements_toml::MeasurementsError;
pub use plate::PlateFound;
pub use plate_error::MeasuredError;
