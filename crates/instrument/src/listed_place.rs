use sky::{Angle, Latitude};

/// A place of a gazetteer, as it is engraved.
#[derive(Clone, Debug, PartialEq)]
pub struct ListedPlace {
    /// Its name.
    pub name: String,
    /// Its latitude.
    pub latitude: Latitude,
    /// Its longitude, east positive.
    pub longitude: Angle,
}

/// The Kaʿba in Mecca: 21°25′21″ north, 39°49′34″ east (common practice).
const MECCA_LATITUDE_DEG: f64 = 21.0 + 25.0 / 60.0 + 21.0 / 3600.0;
const MECCA_LONGITUDE_DEG: f64 = 39.0 + 49.0 / 60.0 + 34.0 / 3600.0;

impl ListedPlace {
    /// How far a place is from it, along the great circle.
    #[must_use]
    pub fn away_from(&self, latitude: Latitude, longitude: Angle) -> Angle {
        let (sin_east, cos_east) = (longitude - self.longitude).sin_cos();
        let east = latitude.cos() * sin_east;
        let (sin, cos) = (self.latitude.sin(), self.latitude.cos());
        let north = cos * latitude.sin() - sin * latitude.cos() * cos_east;
        let along = sin * latitude.sin() + cos * latitude.cos() * cos_east;
        Angle::atan2(libm::hypot(east, north), along)
    }

    /// The direction of Mecca: the bearing of the great circle, from north by east; none at
    /// Mecca itself, at its antipode, and at the poles.
    ///
    /// cot q = (cos φ tan φₘ − sin φ cos ΔL) / sin ΔL (W. M. Smart, *Textbook on Spherical
    /// Astronomy*, the four-part formula, from memory).
    #[must_use]
    pub fn qibla(&self) -> Option<Angle> {
        let mecca = Angle::from_deg(MECCA_LATITUDE_DEG);
        let (sin_away, cos_away) =
            (Angle::from_deg(MECCA_LONGITUDE_DEG) - self.longitude).sin_cos();
        let (sin, cos) = (self.latitude.sin(), self.latitude.cos());
        let east = mecca.cos() * sin_away;
        let north = cos * mecca.sin() - sin * mecca.cos() * cos_away;
        let told = east.hypot(north) > 1e-6 && cos > 1e-9;
        told.then(|| Angle::from_rad(libm::atan2(east, north)).in_turn())
    }
}
