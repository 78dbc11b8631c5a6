//! Examining an instrument: from what was measured on it back to what it was made for.
//!
//! Drawing goes from a latitude, an obliquity, an epoch to lines; here it is turned round,
//! by least squares. What comes out says within what it is known, and what is left over
//! says how true the instrument is.

mod against;
mod circles;
mod epoch;
mod fit;
mod limb;
mod measurements;
mod measurements_toml;
mod plate;

pub use against::against;
pub use circles::CirclesFound;
pub use epoch::{NoYear, StarFound, StarsFound};
pub use fit::Estimate;
pub use limb::LimbFound;
pub use measurements::{
    MeasuredAlmucantar, MeasuredCalendar, MeasuredCircles, MeasuredEcliptic, MeasuredLimb,
    MeasuredPlate, MeasuredStar, Measurements,
};
pub use measurements_toml::MeasurementsError;
pub use plate::PlateFound;
use sky::Angle;

use crate::length::Length;

/// A length beside what it should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Deviation {
    /// What was measured.
    pub what: String,
    /// As measured.
    pub measured: Length,
    /// As it should be.
    pub should: Length,
}

/// What an instrument was made for, as far as was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Examined {
    /// Obliquity and scale.
    pub circles: Option<CirclesFound>,
    /// The plates, in order; None where too little was measured of one.
    pub plates: Vec<Option<PlateFound>>,
    /// The year of the star pointers.
    pub stars: Option<StarsFound>,
    /// The year of the calendar scale.
    pub calendar: Option<Result<Estimate<f64>, NoYear>>,
    /// The graduation of the limb.
    pub limb: Option<LimbFound>,
}

/// Where nothing else is known of the ecliptic, the obliquity that is near enough for what
/// depends on it a little.
const MIDDLING: Angle = Angle::from_deg(23.5);

impl Examined {
    /// Finds what the measurements determine.
    #[must_use]
    pub fn of(measured: &Measurements) -> Examined {
        let circles = CirclesFound::of(measured);
        let equator = circles
            .as_ref()
            .map(|one| one.equator.at)
            .or(measured.circles.equator.map(|diameter| diameter / 2.0));
        let obliquity = circles.as_ref().map_or(MIDDLING, |one| one.obliquity.at);
        let plates: Vec<Option<PlateFound>> = measured
            .plates
            .iter()
            .map(|plate| PlateFound::of(plate, measured, circles.as_ref().map(|one| one.equator)))
            .collect();
        let of_plates = plates.iter().flatten().map(|one| one.equator.at).next();
        // A rete without measured circles is taken as large as the plates'.
        let stars = equator
            .or(of_plates)
            .and_then(|equator| StarsFound::of(measured, obliquity, equator));
        Examined {
            circles,
            plates,
            stars,
            calendar: measured.calendar.as_ref().map(epoch::by_calendar),
            limb: measured.limb.as_ref().and_then(LimbFound::of),
        }
    }
}

/// Millimetres as lengths.
fn length(estimate: Estimate<f64>) -> Estimate<Length> {
    Estimate {
        at: Length::from_mm(estimate.at),
        within: Length::from_mm(estimate.within),
    }
}
