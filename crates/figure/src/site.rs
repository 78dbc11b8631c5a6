use sky::{Angle, Latitude, Sky};

use crate::Horizon;

/// Where on the Earth a figure is cast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// North positive.
    pub latitude: Latitude,
    /// East positive.
    pub longitude: Angle,
}

impl Site {
    /// The horizon of the place under a sky.
    #[must_use]
    pub fn horizon(&self, sky: &Sky) -> Horizon {
        Horizon {
            sidereal_time: (sky.sidereal_time() + self.longitude).in_turn(),
            obliquity: sky.obliquity(),
            latitude: self.latitude,
        }
    }
}
