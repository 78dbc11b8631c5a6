use sky::{Angle, Latitude};

use crate::coordinates::Coordinates;
use crate::fold::fold;
use crate::near::nearest;
use crate::{Country, MomentError, Place, Zone};

/// A town of the built-in gazetteer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Town {
    /// Its name.
    pub name: &'static str,
    /// The region of its country, as `Galicia`; empty where there is none.
    pub region: &'static str,
    /// GeoNames' code of the region.
    pub region_code: &'static str,
    /// Its country.
    pub country: Country,
    /// Its latitude.
    pub latitude: Latitude,
    /// Its longitude, east positive, −180° to 180°.
    pub longitude: Angle,
    /// Its zone.
    pub zone: Zone,
    /// How many people live there.
    pub population: u32,
}

const TABLE: &str = include_str!("../../../data/places/towns.tsv");

impl Town {
    /// Every town, in alphabetical order.
    pub fn all() -> impl Iterator<Item = Town> {
        TABLE.lines().skip(1).filter_map(Town::from_line)
    }

    fn from_line(line: &'static str) -> Option<Town> {
        let mut fields = line.split('\t');
        let mut field = || fields.next();
        let (name, region, region_code) = (field()?, field()?, field()?);
        let country = Country::from_code(field()?)?;
        let (latitude_deg, longitude_deg) = (field()?.parse().ok()?, field()?.parse().ok()?);
        let at = Coordinates::new(latitude_deg, longitude_deg).ok()?;
        Some(Town {
            name,
            region,
            region_code,
            country,
            latitude: at.latitude,
            longitude: at.longitude,
            zone: Zone::named(field()?).ok()?,
            population: field()?.parse().ok()?,
        })
    }

    /// The town of a name: `Town`, `Town, Country` or `Town, Region, Country`.
    /// Accents and cases do not matter.
    ///
    /// # Errors
    /// When there is none, or more than one.
    pub fn named(text: &str) -> Result<Town, MomentError> {
        let parts: Vec<String> = text.split(',').map(fold).collect();
        let wanted = parts.first().map_or("", String::as_str);
        let mut towns: Vec<Town> = Town::all()
            .filter(|town| fold(town.name) == wanted)
            .filter(|town| parts.iter().skip(1).all(|part| town.lies_in(part)))
            .collect();
        towns.sort_by_key(|town| std::cmp::Reverse(town.population));
        match towns.as_slice() {
            [town] => Ok(*town),
            [] => {
                let names: Vec<String> = Town::all().map(Town::full_name).collect();
                let near = nearest(wanted, Town::all().map(|town| town.name), 3);
                let near = near
                    .into_iter()
                    .filter_map(|near| names.iter().find(|name| name.starts_with(near)))
                    .cloned()
                    .collect();
                Err(MomentError::town(text, near))
            }
            several => Err(MomentError::several_towns(
                text,
                several.iter().map(|town| town.full_name()).collect(),
            )),
        }
    }

    /// Whether a (folded) text is its region or country, by name or code.
    fn lies_in(&self, part: &str) -> bool {
        [
            self.region,
            self.region_code,
            self.country.name(),
            self.country.code(),
        ]
        .iter()
        .any(|name| fold(name) == part)
    }

    /// `Town, Region, Country`.
    #[must_use]
    pub fn full_name(self) -> String {
        [self.name, self.region, self.country.name()]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(", ")
    }

    /// As a place.
    #[must_use]
    pub fn place(self) -> Place {
        Place {
            name: self.full_name(),
            latitude: self.latitude,
            longitude: self.longitude,
            zone: Some(self.zone),
            country: Some(self.country),
            region: Some(self.region_code),
        }
    }
}
