//! What is exactly so at a moment and place: ascendant, midheaven, houses,
//! rising and setting, by spherical trigonometry.
//!
//! Nothing here knows an instrument or a clock. A [`Horizon`] is three angles, and
//! all that belongs to a moment follows from them. What happens in the course of
//! time at a [`Site`] (rising, setting, culmination, twilight) is found in the
//! ephemeris by [`risings_and_settings`], [`culminations()`] and [`twilights`].
//!
//! ```
//! use figure::{Horizon, House, Method};
//! use sky::{Angle, Latitude};
//!
//! # if cfg!(feature = "test-shift-ascendant") { return Ok(()) }
//! // J. Meeus, Astronomical Algorithms (2nd ed. 1998), chapter 14.
//! let horizon = Horizon {
//!     sidereal_time: Angle::from_hours(5.0),
//!     obliquity: Angle::from_deg(23.44),
//!     latitude: Latitude::from_deg(51.0)?,
//! };
//! assert_eq!(format!("{:.3}", horizon.ascendant()?), "169.358°");
//!
//! let cusps = Method::Alcabitius.cusps(&horizon)?;
//! assert_eq!(cusps.get(House::X), horizon.midheaven());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! A question without an answer (the ascendant of the pole, placidus where
//! degrees never set) is a [`NoAnswer`] in plain words, never a number.

mod ascension;
mod co_rising;
mod crossings;
mod culminations;
mod cusps;
mod daily_course;
mod ecliptic;
mod horizon;
mod house;
mod method;
mod no_answer;
mod sight;
mod site;
mod target;

pub use crossings::{
    Course, Crossing, Twilight, altitude_passages, risings_and_settings, twilights,
};
pub use culminations::{Culmination, culminations};
pub use cusps::Cusps;
pub use daily_course::{DailyCourse, SemiArcs};
pub use horizon::{Horizon, HorizonPosition};
pub use house::House;
pub use method::{Method, UnknownMethod};
pub use no_answer::{NoAnswer, Reason, Subject};
pub use sight::{Limb, Refraction, SeenFrom, Sight};
pub use site::Site;
pub use target::Target;
