//! Who rules the years of a life, as tables: profections, firdaria, decennials, the
//! distributors through the terms, and the planets' years.

mod decennial;
mod distributor;
mod firdaria;
mod profection;
mod years;

pub use decennial::{Beginner, DecennialDays, Decennials, LordSpan};
pub use distributor::{Distribution, distributions};
pub use firdaria::{Firdaria, FirdariaByNight, FirdariaLord, firdaria};
pub use profection::{Profection, handed_over, profected};
pub use years::PlanetYears;

/// The tropical year in days (Explanatory Supplement to the Astronomical Almanac, 2013).
pub const YEAR_DAYS: f64 = 365.242_19;
