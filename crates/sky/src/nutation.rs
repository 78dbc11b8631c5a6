use crate::{Angle, Instant};

/// The nodding of the Earth's axis about its mean place: what true longitudes and
/// the true obliquity have beyond the mean ones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nutation {
    /// Nutation in longitude, Δψ; at most 20″ or so.
    pub longitude: Angle,
    /// Nutation in obliquity, Δε; at most 10″ or so.
    pub obliquity: Angle,
}

impl Nutation {
    pub(crate) fn at(instant: Instant) -> Nutation {
        let (day, fraction) = instant.tt_parts();
        let (longitude, obliquity) = sofars::pnp::nut06a(day, fraction);
        Nutation {
            longitude: Angle::from_rad(longitude),
            obliquity: Angle::from_rad(obliquity),
        }
    }
}
