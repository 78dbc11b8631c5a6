use sky::{Angle, Latitude};

use super::fit::Estimate;

/// Where a crossing of a finished plate truly stands: what was measured, by the latitude that
/// the plate is for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredError {
    /// The altitude of the engraved almucantar.
    pub engraved: Latitude,
    /// Whether it is its crossing of the meridian further towards noon, or towards midnight.
    pub towards_noon: bool,
    /// The altitude at which that place of the plate stands, with what the measuring leaves
    /// open.
    pub stands: Estimate<Angle>,
}

impl MeasuredError {
    /// By how much the plate shows too little there: what is to be added to a reading.
    #[must_use]
    pub fn to_add(&self) -> Angle {
        self.stands.at - self.engraved.angle()
    }

    /// Of a crossing so far from the hole towards noon, about an equator of a radius, to
    /// tan(p/2) = r/R.
    pub(super) fn of(
        (engraved, towards_noon): (Latitude, bool),
        (at_mm, equator_mm): (f64, f64),
        latitude: Angle,
        measured_to_mm: f64,
    ) -> MeasuredError {
        let part = at_mm / equator_mm;
        let from_pole = Angle::from_rad(2.0 * libm::atan(part));
        let up = latitude.abs();
        let stands = if towards_noon {
            Angle::HALF_TURN - up - from_pole
        } else {
            up + from_pole
        };
        // dp/dr = 2 / (R (1 + (r/R)²)).
        let within = 2.0 / (equator_mm * (1.0 + part * part)) * measured_to_mm;
        MeasuredError {
            engraved,
            towards_noon,
            stands: Estimate {
                at: stands,
                within: Angle::from_rad(within),
            },
        }
    }
}
