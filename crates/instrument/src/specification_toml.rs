// Long because every key of a specification is read in one place, with its bounds beside it.

use moment::Calendar;
use sky::{Angle, Instant, Latitude, Sky, Span};
use thiserror::Error;
use toml::{Table, Value};

use crate::field_kind::FieldKind;
use crate::field_listener::{FieldListener, Heard};
use crate::fineness;
use crate::form::{Pointers, Quadrant, StarKey, StarLabels, Throne, Tracery, ZodiacRing};
use crate::horizons::all_latitudes;
use crate::language::Language;
use crate::length::Length;
use crate::listed_place::ListedPlace;
use crate::minutes::Minutes;
use crate::specification::{
    CalendarCircle, DateFrom, DateScaleFor, DayStrokes, Eye, Faults, Fits, Hemisphere, HourLines,
    HouseLines, Letters, LimbHours, Parts, RuleKind, Specification, Texts, Top,
};
use crate::toml_fields::{FieldError, Fields, Read, as_number, table_of};

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

/// Every key of the table `[parts]`, as documented on [`Parts`].
const PART_KEYS: [&str; 22] = [
    "calendar_scale",
    "sine_quadrant",
    "quadrant",
    "quadrant_deg",
    "rings",
    "cotangents",
    "gazetteer",
    "qibla",
    "rule",
    "horizons_deg",
    "letters",
    "tracery",
    "pointers",
    "star_labels",
    "star_key",
    "throne",
    "months",
    "signs",
    "type_factor",
    "least_width_mm",
    "least_gap_mm",
    "least_type_mm",
];

/// Every key of the table `[texts]`, as documented on [`Texts`].
const TEXT_KEYS: [&str; 4] = ["throne", "back", "floor", "plates"];

/// Every key of the table `[fits]`, as documented on [`Fits`].
const FIT_KEYS: [&str; 9] = [
    "mater_thickness_mm",
    "plate_thickness_mm",
    "rete_thickness_mm",
    "rule_thickness_mm",
    "spacer_thickness_mm",
    "tolerance_mm",
    "kerf_mm",
    "pin_mm",
    "ring_hole_mm",
];

/// Every key of the table `[faults]`.
const FAULT_KEYS: [&str; 6] = [
    "pin_play_mm",
    "plate_turned_deg",
    "plate_off_noon_mm",
    "plate_off_west_mm",
    "ecliptic_offset_mm",
    "rule_offset_mm",
];

/// A back's field holds so many rings at most.
const MOST_RINGS: usize = 4;

/// A list holds so many latitudes at most.
const MOST_LATITUDES: usize = 60;

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

    /// The latitudes of a plate of horizons, or all that the size carries.
    fn horizons(
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

    fn plates(&self, hemisphere: Hemisphere) -> Read<Vec<Latitude>> {
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
    fn latitudes_of(
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

    fn parts(
        &self,
        diameter: Length,
        obliquity: Angle,
        hemisphere: Hemisphere,
        fine: fineness::Fineness,
    ) -> Read<Parts> {
        let empty = Table::new();
        let fields = self.section("parts", "parts.", &PART_KEYS, &empty)?;
        let usual = Parts::suited_to(diameter);
        let length = |key, least, most, usual: Length| -> Read<Length> {
            Ok(fields
                .number(key, least, most)?
                .map_or(usual, Length::from_mm))
        };
        let least_gap = length("least_gap_mm", 0.1, 5.0, usual.least_gap)?;
        let fine = fine.with_least_gap(least_gap);
        let tracery = fields
            .choice("tracery", &Tracery::ALL, Tracery::name)?
            .unwrap_or(usual.tracery);
        let quadrant = fields.quadrant()?;
        Ok(Parts {
            calendar_circle: fields
                .choice("calendar_scale", &CalendarCircle::ALL, CalendarCircle::name)?
                .unwrap_or(usual.calendar_circle),
            quadrant,
            quadrant_latitudes: fields.quadrant_latitudes(quadrant, hemisphere)?,
            rings: fields.rings()?,
            gazetteer: fields.gazetteer()?,
            qibla: fields.truth("qibla")?.unwrap_or(usual.qibla),
            cotangents: fields.truth("cotangents")?.unwrap_or(usual.cotangents),
            rule: fields
                .choice("rule", &RuleKind::ALL, RuleKind::name)?
                .unwrap_or(usual.rule),
            horizons: match fields.horizons(fine, obliquity, hemisphere)? {
                None => usual.horizons,
                Some(latitudes) => latitudes,
            },
            letters: fields
                .choice("letters", &Letters::ALL, Letters::name)?
                .unwrap_or(usual.letters),
            tracery,
            pointers: fields
                .choice("pointers", &Pointers::ALL, Pointers::name)?
                .unwrap_or(Pointers::suited_to(diameter, tracery)),
            star_labels: fields
                .choice("star_labels", &StarLabels::ALL, StarLabels::name)?
                .unwrap_or(usual.star_labels),
            star_key: fields
                .choice("star_key", &StarKey::ALL, StarKey::name)?
                .unwrap_or(usual.star_key),
            throne: fields
                .choice("throne", &Throne::ALL, Throne::name)?
                .unwrap_or(usual.throne),
            months: fields
                .choice("months", &Language::ALL, Language::name)?
                .unwrap_or(usual.months),
            signs: fields
                .choice("signs", &Language::ALL, Language::name)?
                .unwrap_or(usual.signs),
            type_factor: fields
                .number("type_factor", 0.5, 2.0)?
                .unwrap_or(usual.type_factor),
            least_width: length("least_width_mm", 0.1, 10.0, usual.least_width)?,
            least_gap,
            least_type: length("least_type_mm", 0.3, 5.0, usual.least_type)?,
        })
    }

    /// What the right upper quarter of the back's field bears, by either of its keys.
    fn quadrant(&self) -> Read<Quadrant> {
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
    fn rings(&self) -> Read<Vec<ZodiacRing>> {
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
    fn gazetteer(&self) -> Read<Vec<ListedPlace>> {
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
    fn quadrant_latitudes(
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

    fn texts(&self) -> Read<Texts> {
        let empty = Table::new();
        let fields = self.section("texts", "texts.", &TEXT_KEYS, &empty)?;
        Ok(Texts {
            throne: fields.lines("throne")?,
            back: fields.lines("back")?,
            floor: fields.lines("floor")?,
            plates: fields.lines("plates")?,
        })
    }

    /// One line, or a list of them.
    fn lines(&self, key: &str) -> Read<Vec<String>> {
        const MOST: usize = 12;
        const LONGEST: usize = 80;
        self.is(key, || FieldKind::Lines {
            most: MOST,
            longest: LONGEST,
        });
        let wanted = format!("a line of 1 to {LONGEST} characters, or a list of 1 to {MOST} lines");
        let line = |one: &Value| match one {
            Value::String(text) => {
                let text = text.trim();
                let fits = (1..=LONGEST).contains(&text.chars().count());
                (fits && !text.chars().any(char::is_control)).then(|| text.to_owned())
            }
            _ => None,
        };
        let read = |value: &Value| {
            let lines: Option<Vec<String>> = match value {
                Value::Array(list) if (1..=MOST).contains(&list.len()) => {
                    list.iter().map(line).collect()
                }
                other => line(other).map(|one| vec![one]),
            };
            lines.ok_or_else(|| self.wrong(key, value, "does not do", &wanted))
        };
        let read = self.table.get(key).map(read).transpose();
        Ok(self.or_told(key, read)?.unwrap_or_default())
    }

    fn fits(&self, diameter: Length) -> Read<Fits> {
        let empty = Table::new();
        let fields = self.section("fits", "fits.", &FIT_KEYS, &empty)?;
        let usual = Fits::suited_to(diameter);
        let length = |key, least, most, usual: Length| -> Read<Length> {
            Ok(fields
                .number(key, least, most)?
                .map_or(usual, Length::from_mm))
        };
        // A larger hole would leave no hub and no throne.
        let (pin, ring) = (diameter.mm() * 0.04, diameter.mm() * 0.06);
        Ok(Fits {
            mater_thickness: length("mater_thickness_mm", 0.05, 20.0, usual.mater_thickness)?,
            plate_thickness: length("plate_thickness_mm", 0.05, 20.0, usual.plate_thickness)?,
            rete_thickness: length("rete_thickness_mm", 0.05, 20.0, usual.rete_thickness)?,
            rule_thickness: length("rule_thickness_mm", 0.05, 20.0, usual.rule_thickness)?,
            spacer_thickness: fields
                .number("spacer_thickness_mm", 0.05, 20.0)?
                .map(Length::from_mm),
            tolerance: length("tolerance_mm", 0.0, 2.0, usual.tolerance)?,
            kerf: length("kerf_mm", 0.0, 3.0, usual.kerf)?,
            pin: length("pin_mm", 0.5, pin, usual.pin)?,
            ring_hole: length("ring_hole_mm", 0.5, ring, usual.ring_hole)?,
        })
    }

    fn date_scale(&self, epoch_year: f64) -> Read<DateScaleFor> {
        let year = self
            .number("calendar_year", -600.0, 2650.0)?
            .unwrap_or(epoch_year);
        #[expect(
            clippy::cast_possible_truncation,
            reason = "the range is checked above"
        )]
        let year = year.floor() as i32;
        let calendar = self
            .choice(
                "calendar",
                &[Calendar::Gregorian, Calendar::Julian],
                Calendar::name,
            )?
            .unwrap_or(if year < 1583 {
                Calendar::Julian
            } else {
                Calendar::Gregorian
            });
        let scale = DateScaleFor {
            year,
            leap_mean: self.truth("calendar_leap_mean")?.unwrap_or(false),
            calendar,
            strokes: self
                .choice("day_strokes", &DayStrokes::ALL, DayStrokes::name)?
                .unwrap_or(DayStrokes::Begin),
            meridian: Angle::from_deg(
                self.number("calendar_meridian_deg", -180.0, 180.0)?
                    .unwrap_or(0.0),
            ),
        };
        let read = if scale.is_of_known_days() {
            Ok(Some(scale))
        } else {
            let would_do = format!("a calendar_year whose days lie in {}", Span::DATES);
            Err(self.wrong(
                "calendar_year",
                &Value::Integer(i64::from(year)),
                "has days on which the Sun's place is not known",
                &would_do,
            ))
        };
        let in_our_time = DateScaleFor {
            year: 2000,
            calendar: Calendar::Gregorian,
            ..scale
        };
        Ok(self.or_told("calendar_year", read)?.unwrap_or(in_our_time))
    }

    fn faults(&self, diameter: Length) -> Read<Faults> {
        let empty = Table::new();
        let fields = self.section("faults", "faults.", &FAULT_KEYS, &empty)?;
        // Beyond a twentieth of the diameter it is not a fault but another instrument.
        let most = diameter.mm() / 20.0;
        let length = |key| -> Read<Length> {
            Ok(Length::from_mm(
                fields.number(key, -most, most)?.unwrap_or(0.0),
            ))
        };
        Ok(Faults {
            pin_play: Length::from_mm(fields.number("pin_play_mm", 0.0, most)?.unwrap_or(0.0)),
            plate_turned: Angle::from_deg(
                fields
                    .number("plate_turned_deg", -10.0, 10.0)?
                    .unwrap_or(0.0),
            ),
            plate_off_noon: length("plate_off_noon_mm")?,
            plate_off_west: length("plate_off_west_mm")?,
            ecliptic_offset: length("ecliptic_offset_mm")?,
            rule_offset: length("rule_offset_mm")?,
        })
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
        let text = include_str!("../../../docs/specification.md");
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
