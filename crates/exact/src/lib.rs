//! What calculation gives for the operations of the treatise: the other road.
//!
//! Spherical trigonometry, with the [`figure`], from the same things given, seen and told
//! as a [`practice::Working`] has; no line of the instrument is asked. One function for
//! each operation; here, in the desk and in tests alone the two roads meet.

#![deny(clippy::wildcard_enum_match_arm)]

mod answers;
mod azimuth;
mod calculation;
mod day;
mod division;
mod ecliptic;
mod facts;
mod hour;
mod houses;
mod meridian;
mod moving_sun;
mod of_task;
mod on_back;
mod towards_mecca;

pub use calculation::{calculated, exact};
pub use division::division;
pub use towards_mecca::{SunTowardsMecca, sun_towards_mecca};
