//! A specification read from its text: every key with its bounds, what stands outside its
//! tables here, the tables in files of their own.

mod back_field;
mod date_scale;
mod latitudes;
mod metal;
mod parts;
mod texts;

use sky::{Angle, Instant, Sky};
use thiserror::Error;
use toml::{Table, Value};

use self::metal::{FAULT_KEYS, FIT_KEYS};
use self::parts::PART_KEYS;
use self::texts::TEXT_KEYS;
use crate::field_kind::FieldKind;
use crate::field_listener::{FieldListener, Heard};
use crate::fineness;
use crate::length::Length;
use crate::minutes::Minutes;
use crate::specification::{
    DateFrom, Eye, Hemisphere, HourLines, HouseLines, LimbHours, Specification, Top,
};
use crate::toml_fields::{FieldError, Fields, Read, table_of};

/// A specification that cannot be used: which field, what is wrong with it, and
/// what would do.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("instrument specification: {0}")]
pub struct SpecificationError(String);

impl From<FieldError> for SpecificationError {
    fn from(FieldError(text): FieldError) -> SpecificationError {
        SpecificationError(text)
    }
}

/// Every key of a specification, as documented on [`Specification`].
const KEYS: [&str; 31] = [
    "version",
    "name",
    "description",
    "diameter_mm",
    "hemisphere",
    "orientation",
    "obliquity_deg",
    "epoch_year",
    "plates_deg",
    "date_from",
    "calendar_year",
    "calendar_leap_mean",
    "calendar",
    "day_strokes",
    "calendar_meridian_deg",
    "unequal_hour_lines",
    "house_lines",
    "eye_mm",
    "eye_part_of_division",
    "limb_hours",
    "limb_division_deg",
    "ecliptic_division_deg",
    "almucantar_step_deg",
    "azimuth_step_deg",
    "twilight_line",
    "star_pointers",
    "stars",
    "parts",
    "texts",
    "fits",
    "faults",
];

/// Whether azimuths stand so far apart: a whole part of a right angle in whole minutes, from a
/// degree, or 0 for none.
fn is_azimuth_step(deg: f64) -> bool {
    let step = Minutes::nearest(deg);
    let is_whole = (step.deg() - deg).abs() < 1e-9;
    let is_part = Minutes::from_whole_deg(90).is_multiple_of(step) && deg >= 1.0;
    is_whole && (is_part || deg == 0.0)
}

/// So many stars can be named, and so many pointers asked for.
const MOST_STARS: usize = 60;

/// The tables of a specification: what their keys begin with, and the keys.
const TABLES: [(&str, &[&str]); 5] = [
    ("", &KEYS),
    ("parts.", &PART_KEYS),
    ("texts.", &TEXT_KEYS),
    ("fits.", &FIT_KEYS),
    ("faults.", &FAULT_KEYS),
];

/// The keys of a section, or of none, in the order in which they are usually written.
pub(crate) fn keys_of(section: &str) -> &'static [&'static str] {
    let named = |within: &str| within.strip_suffix('.').unwrap_or(within) == section;
    let found = TABLES.iter().find(|(within, _)| named(within));
    found.map_or(&[], |(_, keys)| keys)
}

impl Specification {
    /// Reads a specification from the text of its file.
    ///
    /// Needed are `version = 1`, `name`, `diameter_mm`, `plates_deg` and one of
    /// `epoch_year` and `obliquity_deg` (with only the obliquity, the epoch is 2000).
    ///
    /// ```
    /// use instrument::Specification;
    /// let text = r#"
    ///     version = 1
    ///     name = "class instrument"
    ///     diameter_mm = 180
    ///     epoch_year = 2025
    ///     plates_deg = [42, 46, 50]
    /// "#;
    /// assert_eq!(Specification::from_toml(text)?.plates.len(), 3);
    ///
    /// let broken = text.replace("180", "-180");
    /// let error = Specification::from_toml(&broken).unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "instrument specification: diameter_mm = -180 is out of range; a number from 30 to 1000 would do"
    /// );
    /// # Ok::<(), instrument::SpecificationError>(())
    /// ```
    ///
    /// # Errors
    /// When the text is no TOML, a field is missing, unknown or out of range; the
    /// message names the field and says what would do.
    pub fn from_toml(text: &str) -> Result<Specification, SpecificationError> {
        let table = table_of(text, "a specification", "diameter_mm = 180")?;
        Ok(Fields::of(&table, "").specification()?)
    }
}

/// Reads a specification as it is being written: with what is usual in the place of what is
/// missing or cannot be used, and what was heard of its fields. There is none where not even
/// so one comes about.
pub(crate) fn read_along(table: &Table) -> (Option<Specification>, Heard) {
    let listener = FieldListener::default();
    let fields = Fields {
        listener: Some(&listener),
        ..Fields::of(table, "")
    };
    let read = fields.specification();
    if let Err(FieldError(text)) = &read {
        listener.fault(None, text.clone());
    }
    (read.ok(), listener.heard())
}

impl Fields<'_> {
    fn specification(&self) -> Read<Specification> {
        self.in_their_tables()?;
        self.only(&KEYS)?;
        self.version_1()?;
        let name = self.text("name", 1..=80)?;
        let name = self.needed("name", name, "name = \"…\"", "without a name".to_owned())?;
        let diameter = self.number("diameter_mm", 30.0, 1000.0)?;
        let diameter = self.needed("diameter_mm", diameter, "diameter_mm = 180", 180.0)?;
        let diameter = Length::from_mm(diameter);
        let hemisphere = self
            .choice(
                "hemisphere",
                &[Hemisphere::North, Hemisphere::South],
                Hemisphere::name,
            )?
            .unwrap_or(Hemisphere::North);
        let epoch = self.number("epoch_year", -600.0, 2650.0)?;
        let obliquity = match (self.number("obliquity_deg", 22.0, 25.0)?, epoch) {
            (Some(deg), _) => Angle::from_deg(deg),
            (None, epoch) => {
                let such_as = "epoch_year = 2025 (or obliquity_deg = 23.44)";
                let year = self.needed("epoch_year", epoch, such_as, 2000.0)?;
                mean_obliquity(year).ok_or_else(|| {
                    self.missing("obliquity_deg", "obliquity_deg = 23.5 for so far an epoch")
                })?
            }
        };
        let epoch_year = epoch.unwrap_or(2000.0);
        let house_lines = self.house_lines()?;
        let date_from = self
            .choice("date_from", &DateFrom::ALL, DateFrom::name)?
            .unwrap_or(DateFrom::Zodiac);
        let fine = fineness::Fineness::of(diameter, obliquity, date_from.is_ring());
        let parts = self.parts(diameter, obliquity, hemisphere, fine)?;
        let fine = fine.with_least_gap(parts.least_gap);
        Ok(Specification {
            name,
            description: self.text("description", 0..=400)?.unwrap_or_default(),
            diameter,
            hemisphere,
            top: self
                .choice("orientation", &[Top::Noon, Top::Midnight], Top::name)?
                .unwrap_or(Top::Noon),
            obliquity,
            epoch_year,
            plates: self.plates(hemisphere)?,
            date_from,
            date_scale: self.date_scale(epoch_year)?,
            hour_lines: self
                .choice(
                    "unequal_hour_lines",
                    &[HourLines::Arcs, HourLines::Curves],
                    HourLines::name,
                )?
                .unwrap_or(HourLines::Arcs),
            house_lines,
            eye: Eye {
                least: Length::from_mm(self.number("eye_mm", 0.0, 5.0)?.unwrap_or(0.2)),
                part_of_division: self
                    .number("eye_part_of_division", 0.0, 1.0)?
                    .unwrap_or(0.1),
            },
            limb_hours: self
                .choice(
                    "limb_hours",
                    &[LimbHours::TwiceTwelve, LimbHours::TwentyFour],
                    LimbHours::name,
                )?
                .unwrap_or(LimbHours::TwiceTwelve),
            limb_division: self
                .one_of("limb_division_deg", &fineness::LIMB_DIVISIONS)?
                .map_or(fine.limb_division(), Angle::from_deg),
            ecliptic_division: self
                .one_of("ecliptic_division_deg", &fineness::ECLIPTIC_DIVISIONS)?
                .map_or(fine.ecliptic_division(), Angle::from_deg),
            almucantar_step: self
                .whole("almucantar_step_deg", &fineness::ALMUCANTAR_STEPS_IN_USE)?,
            azimuth_step: self.azimuth_step()?,
            twilight: self.truth("twilight_line")?.unwrap_or(true),
            star_pointers: self.count("star_pointers", 60)?,
            stars: self.stars()?,
            parts,
            texts: self.texts()?,
            fits: self.fits(diameter)?,
            faults: self.faults(diameter)?,
        })
    }

    fn house_lines(&self) -> Read<Option<HouseLines>> {
        const KEY: &str = "house_lines";
        const NONE: &str = "none";
        self.is(KEY, || {
            let methods = HouseLines::ALL.map(HouseLines::name);
            FieldKind::Choice(std::iter::once(NONE).chain(methods).collect())
        });
        let read = match self.table.get(KEY) {
            Some(Value::String(none)) if none == NONE => Ok(None),
            _ => Fields::of(self.table, self.within)
                .choice(KEY, &HouseLines::ALL, HouseLines::name)
                .map_err(|error| {
                    FieldError(format!(
                        "{} (or \"none\"); other methods have no lines that stand still on a plate",
                        error.0
                    ))
                }),
        };
        self.or_told(KEY, read)
    }

    /// Refuses keys that stand in another table than their own.
    fn in_their_tables(&self) -> Read<()> {
        for (within, own) in TABLES {
            let table = match within.strip_suffix('.') {
                None => Some(self.table),
                Some(name) => self.table.get(name).and_then(Value::as_table),
            };
            let strangers = table.into_iter().flat_map(Table::keys);
            for key in strangers.filter(|key| !own.contains(&key.as_str())) {
                let home = TABLES.iter().find(|(_, keys)| keys.contains(&key.as_str()));
                if let Some((home, _)) = home {
                    let error = FieldError(format!(
                        "{within}{key} stands in the wrong table; {home}{key} would do"
                    ));
                    self.or_told::<()>(&format!("{within}{key}"), Err(error))?;
                }
            }
        }
        Ok(())
    }

    /// A whole part of a right angle, in whole minutes; 0 for no azimuths.
    fn azimuth_step(&self) -> Read<Option<Minutes>> {
        const KEY: &str = "azimuth_step_deg";
        self.is(KEY, || {
            let parts = (2..=90_u8).rev().map(|count| 90.0 / f64::from(count));
            let parts = parts.filter(|deg| is_azimuth_step(*deg));
            FieldKind::OneOf(std::iter::once(0.0).chain(parts).collect())
        });
        let read = match Fields::of(self.table, self.within).number(KEY, 0.0, 45.0) {
            Ok(Some(deg)) if !is_azimuth_step(deg) => Err(self.wrong(
                KEY,
                self.table.get(KEY).unwrap_or(&Value::Boolean(false)),
                "is no whole part of a right angle",
                "0 for none, or 1, 2, 3, 5, 6, 9, 10, 11.25, 15, 18, 22.5, 30 or 45",
            )),
            read => read.map(|deg| deg.map(Minutes::nearest)),
        };
        self.or_told(KEY, read)
    }

    fn stars(&self) -> Read<Vec<String>> {
        const KEY: &str = "stars";
        self.is(KEY, || FieldKind::Stars { most: MOST_STARS });
        let read = self.table.get(KEY).map(|value| self.stars_of(value));
        Ok(self.or_told(KEY, read.transpose())?.unwrap_or_default())
    }

    fn stars_of(&self, value: &Value) -> Read<Vec<String>> {
        const WANTED: &str = "a list of names or designations such as [\"Vega\", \"α Boo\"]";
        let Value::Array(list) = value else {
            return Err(self.wrong("stars", value, "is not a list", WANTED));
        };
        if !(1..=MOST_STARS).contains(&list.len()) {
            return Err(self.wrong("stars", value, "does not hold 1 to 60 stars", WANTED));
        }
        list.iter()
            .map(|item| match item {
                Value::String(name) => match sky::star_named(name) {
                    Ok(_) => Ok(name.clone()),
                    Err(error) => Err(FieldError(format!("stars: {error}"))),
                },
                _ => Err(self.wrong("stars", item, "is no name", WANTED)),
            })
            .collect()
    }
}

/// The mean obliquity of an epoch, within the ephemeris's span.
fn mean_obliquity(year: f64) -> Option<Angle> {
    let instant = Instant::from_jd_tt(2_451_545.0 + (year - 2000.0) * 365.25);
    Some(Sky::at(instant).ok()?.mean_obliquity())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// So that none is missing where an instrument is described by its fields.
    #[test]
    fn every_key_is_a_field_that_is_asked_for_and_holds_a_value() {
        let (read, heard) = read_along(&Table::new());
        let mut asked: Vec<String> = heard.fields.into_iter().map(|(key, _)| key).collect();
        let sections = TABLES.map(|(within, _)| within.trim_end_matches('.'));
        let mut known: Vec<String> = TABLES
            .into_iter()
            .flat_map(|(within, keys)| keys.iter().map(move |key| format!("{within}{key}")))
            .filter(|key| key != "version" && !sections.contains(&key.as_str()))
            .collect();
        asked.sort();
        known.sort();
        assert_eq!(asked, known);
        let read = read.unwrap();
        for key in known {
            // A sheet for spacers is chosen where they are made.
            let settled_there = key == "fits.spacer_thickness_mm";
            assert_eq!(read.value(&key).is_none(), settled_there, "{key}");
        }
    }

    #[test]
    fn every_key_is_documented() {
        let text = include_str!("../../../../docs/specification.md");
        let all = KEYS
            .iter()
            .chain(&PART_KEYS)
            .chain(&TEXT_KEYS)
            .chain(&FIT_KEYS)
            .chain(&FAULT_KEYS);
        for key in all {
            let told = [format!("`{key}`"), format!(".{key}`"), format!("[{key}]")];
            assert!(told.iter().any(|one| text.contains(one)), "{key}");
        }
    }
}
