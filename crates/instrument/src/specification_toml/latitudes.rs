//! Lists of latitudes: of plates, of a plate of horizons.

use sky::{Angle, Latitude};
use toml::Value;

use crate::field_kind::FieldKind;
use crate::fineness;
use crate::horizons::all_latitudes;
use crate::specification::Hemisphere;
use crate::toml_fields::{FieldError, Fields, Read, as_number};

/// A list holds so many latitudes at most.
pub(super) const MOST_LATITUDES: usize = 60;

impl Fields<'_> {
    /// The latitudes of a plate of horizons, or all that the size carries.
    pub(super) fn horizons(
        &self,
        fine: fineness::Fineness,
        obliquity: Angle,
        hemisphere: Hemisphere,
    ) -> Read<Option<Vec<Latitude>>> {
        const KEY: &str = "horizons_deg";
        let (least, most) = (0, MOST_LATITUDES);
        self.is(KEY, || FieldKind::Latitudes { least, most });
        let read = match self.table.get(KEY) {
            None => Ok(None),
            Some(Value::String(all)) if all == "all" => {
                Ok(Some(all_latitudes(fine, obliquity, hemisphere)))
            }
            Some(value) => self
                .latitudes_of(KEY, value, least..=most, hemisphere)
                .map(Some)
                .map_err(|error| FieldError(format!("{} (or \"all\")", error.0))),
        };
        self.or_told(KEY, read)
    }

    pub(super) fn plates(&self, hemisphere: Hemisphere) -> Read<Vec<Latitude>> {
        const KEY: &str = "plates_deg";
        let (least, most) = (1, MOST_LATITUDES);
        self.is(KEY, || FieldKind::Latitudes { least, most });
        let read = self.table.get(KEY);
        let read = read.map(|value| self.latitudes_of(KEY, value, least..=most, hemisphere));
        let read = self.or_told(KEY, read.transpose())?;
        let usual = match hemisphere {
            Hemisphere::North => 45.0,
            Hemisphere::South => -35.0,
        };
        let stand_in = Latitude::from_deg(usual).ok().into_iter().collect();
        self.needed(KEY, read, "plates_deg = [42, 46, 50]", stand_in)
    }

    /// A list of latitudes of one hemisphere.
    pub(super) fn latitudes_of(
        &self,
        key: &str,
        value: &Value,
        count: std::ops::RangeInclusive<usize>,
        hemisphere: Hemisphere,
    ) -> Read<Vec<Latitude>> {
        const WANTED: &str = "a list of latitudes such as [42, 46, 50]";
        let Value::Array(list) = value else {
            return Err(self.wrong(key, value, "is not a list", WANTED));
        };
        if !count.contains(&list.len()) {
            let why = format!(
                "does not hold {} to {} latitudes",
                count.start(),
                count.end()
            );
            return Err(self.wrong(key, value, &why, WANTED));
        }
        let mut latitudes = Vec::with_capacity(list.len());
        for item in list {
            let latitude = as_number(item)
                .and_then(|deg| Latitude::from_deg(deg).ok())
                .ok_or_else(|| self.wrong(key, item, "is no latitude", "numbers from -90 to 90"))?;
            if Hemisphere::of(latitude).is_some_and(|other| other != hemisphere) {
                let fits = match hemisphere {
                    Hemisphere::North => "numbers from 0 to 90, or hemisphere = \"south\"",
                    Hemisphere::South => "numbers from -90 to 0, or hemisphere = \"north\"",
                };
                let why = format!(
                    "does not serve a mater of the {}ern hemisphere",
                    hemisphere.name()
                );
                return Err(self.wrong(key, item, &why, fits));
            }
            latitudes.push(latitude);
        }
        Ok(latitudes)
    }
}
