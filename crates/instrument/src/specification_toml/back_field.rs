//! What the back's field bears, and the gazetteer: of the table `[parts]`.

use sky::{Angle, Latitude};
use toml::Value;

use super::latitudes::MOST_LATITUDES;
use crate::field_kind::FieldKind;
use crate::form::{Quadrant, ZodiacRing};
use crate::listed_place::ListedPlace;
use crate::specification::Hemisphere;
use crate::toml_fields::{FieldError, Fields, Read, as_number};

/// A back's field holds so many rings at most.
const MOST_RINGS: usize = 4;

impl Fields<'_> {
    /// What the right upper quarter of the back's field bears, by either of its keys.
    pub(super) fn quadrant(&self) -> Read<Quadrant> {
        let stated = self.choice("quadrant", &Quadrant::ALL, Quadrant::name)?;
        let read = match (stated, self.truth("sine_quadrant")?) {
            (Some(other), Some(sines)) if sines != (other == Quadrant::Sines) => {
                Err(FieldError(format!(
                    "{0}quadrant = \"{1}\" and {0}sine_quadrant = {sines} say two things; one of them would do",
                    self.within,
                    other.name()
                )))
            }
            (Some(Quadrant::Qibla), _) if !self.has_places() => Err(FieldError(format!(
                "{0}quadrant = \"qibla\" has no places for its curves; {0}gazetteer = [[\"Toledo\", \
                 39.8567, -4.0245]] beside it would do",
                self.within
            ))),
            (Some(stated), _) => Ok(Some(stated)),
            (None, Some(true)) => Ok(Some(Quadrant::Sines)),
            (None, Some(false) | None) => Ok(None),
        };
        Ok(self.or_told("quadrant", read)?.unwrap_or(Quadrant::Title))
    }

    /// Whether a gazetteer stands beside.
    fn has_places(&self) -> bool {
        let places = self.table.get("gazetteer");
        places.is_some_and(|value| matches!(value, Value::Array(list) if !list.is_empty()))
    }

    /// Rings about the back's field, none of them twice.
    pub(super) fn rings(&self) -> Read<Vec<ZodiacRing>> {
        const KEY: &str = "rings";
        self.is(KEY, || FieldKind::Several {
            names: ZodiacRing::ALL.iter().map(|ring| ring.name()).collect(),
            most: MOST_RINGS,
        });
        let read = self.table.get(KEY).map(|value| self.rings_of(KEY, value));
        Ok(self.or_told(KEY, read.transpose())?.unwrap_or_default())
    }

    fn rings_of(&self, key: &str, value: &Value) -> Read<Vec<ZodiacRing>> {
        let known = ZodiacRing::ALL.map(|ring| format!("\"{}\"", ring.name()));
        let would_do = format!("a list of up to {MOST_RINGS} of {}", known.join(", "));
        let Value::Array(list) = value else {
            return Err(self.wrong(key, value, "is not a list", &would_do));
        };
        if list.len() > MOST_RINGS {
            return Err(self.wrong(key, value, "is too long", &would_do));
        }
        let mut rings = Vec::with_capacity(list.len());
        for item in list {
            let mut all = ZodiacRing::ALL.into_iter();
            let ring = all.find(|ring| item.as_str() == Some(ring.name()));
            let ring = ring.ok_or_else(|| self.wrong(key, item, "is not known", &would_do))?;
            if rings.contains(&ring) {
                return Err(self.wrong(key, item, "stands there twice", &would_do));
            }
            rings.push(ring);
        }
        Ok(rings)
    }

    /// Places with their latitudes and longitudes.
    pub(super) fn gazetteer(&self) -> Read<Vec<ListedPlace>> {
        const KEY: &str = "gazetteer";
        const MOST: usize = 48;
        const WANTED: &str =
            "[\"Toledo\", 39.8567, -4.0245]: a name of 1 to 40 characters, latitude and longitude";
        self.is(KEY, || FieldKind::Places { most: MOST });
        let place = |item: &Value| match item.as_array().map(Vec::as_slice) {
            Some([Value::String(name), latitude, longitude]) => {
                let name = name.trim();
                let sound =
                    (1..=40).contains(&name.chars().count()) && !name.chars().any(char::is_control);
                let latitude = as_number(latitude).and_then(|deg| Latitude::from_deg(deg).ok())?;
                let longitude = as_number(longitude).filter(|deg| deg.abs() <= 180.0)?;
                sound.then(|| ListedPlace {
                    name: name.to_owned(),
                    latitude,
                    longitude: Angle::from_deg(longitude),
                })
            }
            _ => None,
        };
        let read = |value: &Value| {
            let Value::Array(list) = value else {
                let would_do = format!("a list of such as {WANTED}");
                return Err(self.wrong(KEY, value, "is not a list", &would_do));
            };
            if list.len() > MOST {
                let would_do = format!("up to {MOST} places");
                return Err(self.wrong(KEY, value, "is too long", &would_do));
            }
            list.iter()
                .map(|item| place(item).ok_or_else(|| self.wrong(KEY, item, "is no place", WANTED)))
                .collect()
        };
        let read = self.table.get(KEY).map(read).transpose();
        Ok(self.or_told(KEY, read)?.unwrap_or_default())
    }

    /// The latitudes of a quadrant that has some.
    pub(super) fn quadrant_latitudes(
        &self,
        quadrant: Quadrant,
        hemisphere: Hemisphere,
    ) -> Read<Vec<Latitude>> {
        const KEY: &str = "quadrant_deg";
        let most = match quadrant {
            Quadrant::NoonAltitudes => Some(12),
            Quadrant::EqualHours => Some(1),
            Quadrant::Title | Quadrant::Sines | Quadrant::Qibla => None,
        };
        self.is(KEY, || FieldKind::Latitudes {
            least: 1,
            most: most.unwrap_or(12),
        });
        let read = |value: &Value| {
            let Some(most) = most else {
                let would_do = "quadrant = \"noon-altitudes\" or \"equal-hours\" beside it";
                return Err(self.wrong(KEY, value, "has no quadrant to stand in", would_do));
            };
            let latitudes = self.latitudes_of(KEY, value, 1..=MOST_LATITUDES, hemisphere)?;
            if latitudes.len() > most {
                let would_do = format!("a list of at most {most}");
                return Err(self.wrong(KEY, value, "is too many for its quadrant", &would_do));
            }
            Ok(latitudes)
        };
        let read = self.table.get(KEY).map(read).transpose();
        Ok(self.or_told(KEY, read)?.unwrap_or_default())
    }
}
