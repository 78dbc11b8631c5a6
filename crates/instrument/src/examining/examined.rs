use sky::Angle;

use super::circles::CirclesFound;
use super::epoch::{self, NoYear, StarsFound};
use super::fit::Estimate;
use super::limb::LimbFound;
use super::measurements::Measurements;
use super::plate::PlateFound;

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
