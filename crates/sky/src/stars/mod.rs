//! The fixed stars: which there are, what they are called, and where they stand
//! at an epoch.

mod catalogue;
mod epoch;
mod names;
mod place;

pub use catalogue::{astrolabe_stars, stars};
pub use epoch::{EpochError, JulianEpoch};
pub use names::{UnknownStar, star_lettered, star_named};
pub use place::{MeanPlace, StarPlace};

use crate::{Angle, Latitude};

/// A fixed star, as the new reduction of the Hipparcos catalogue gives it
/// (van Leeuwen 2007): ICRS at epoch J1991.25.
///
/// ```
/// let star = sky::star_named("Alhabor")?;
/// assert_eq!(star.name, Some("Sirius"));
/// assert_eq!(star.designation, "α CMa");
/// let place = star.mean_place(sky::JulianEpoch::from_year(1391.0)?);
/// assert_eq!(format!("{:.2}", place.right_ascension), "94.57°");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Star {
    /// Number in the Hipparcos catalogue.
    pub hip: u32,
    /// Bayer's letter, Flamsteed's number or the Hipparcos number: `α CMa`, `51 And`, `HIP 57439`.
    pub designation: &'static str,
    /// The ordinary name today, if the star has one.
    pub name: Option<&'static str>,
    /// What a star pointer is lettered with, if the star is one that astrolabes carry.
    pub instrument_name: Option<&'static str>,
    /// Further names and spellings.
    pub variants: Vec<&'static str>,
    /// Visual magnitude; of a variable star, a mean one.
    pub magnitude: f64,
    /// Right ascension at the catalogue's epoch.
    pub right_ascension: Angle,
    /// Declination at the catalogue's epoch.
    pub declination: Latitude,
    /// Proper motion in right ascension, times cos δ, in a Julian year.
    pub motion_in_right_ascension: Angle,
    /// Proper motion in declination, in a Julian year.
    pub motion_in_declination: Angle,
    /// Annual parallax; zero or less where the catalogue measured none.
    pub parallax: Angle,
    /// How fast it recedes, in kilometres a second; known of the nearest stars alone.
    pub recedes_km_s: Option<f64>,
}

impl Star {
    /// What to call the star: its ordinary name, or else its designation.
    #[must_use]
    pub fn label(&self) -> &'static str {
        self.name.unwrap_or(self.designation)
    }
}
