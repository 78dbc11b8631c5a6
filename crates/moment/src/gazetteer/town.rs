use sky::{Angle, Latitude};

use crate::{Country, Zone};

/// A town of the embedded gazetteer: GeoNames' places of 500 people and more.
#[derive(Clone, Debug, PartialEq)]
pub struct Town {
    /// Its name.
    pub name: String,
    /// The region of its country, such as `Galicia`; empty where there is none.
    pub region: &'static str,
    /// GeoNames' code of the region.
    pub region_code: &'static str,
    /// Its country.
    pub country: Country,
    /// Its latitude, to 0.0001°.
    pub latitude: Latitude,
    /// Its longitude, east positive, −180° to 180°, to 0.0001°.
    pub longitude: Angle,
    /// Its zone.
    pub zone: Zone,
    /// About how many people live there, to 5 %; 1 where it is not known.
    pub population: u32,
}

impl Town {
    /// `Town, Region, Country`.
    #[must_use]
    pub fn full_name(&self) -> String {
        [&self.name, self.region, self.country.name()]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(", ")
    }

    /// `42.8805,-8.5457`.
    pub(super) fn coordinates(&self) -> String {
        format!("{:.4},{:.4}", self.latitude.deg(), self.longitude.deg())
    }
}
