use std::str::FromStr;

use moment::Calendar;
use sky::{Angle, Latitude, Zodiacal};
use thiserror::Error;
use toml::{Table, Value};

use super::measurements::{
    MeasuredAlmucantar, MeasuredCalendar, MeasuredCircles, MeasuredEcliptic, MeasuredLimb,
    MeasuredPlate, MeasuredStar, Measurements,
};
use crate::date_scale::YearDay;
use crate::length::Length;
use crate::specification::Hemisphere;
use crate::toml_fields::{FieldError, Fields, Read, as_number, table_of};

/// Measurements that cannot be used: which field, what is wrong with it, and what would do.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("measurements: {0}")]
pub struct MeasurementsError(String);

impl From<FieldError> for MeasurementsError {
    fn from(FieldError(text): FieldError) -> MeasurementsError {
        MeasurementsError(text)
    }
}

const KEYS: [&str; 12] = [
    "version",
    "name",
    "description",
    "hemisphere",
    "diameter_mm",
    "measured_to_mm",
    "circles",
    "ecliptic",
    "plates",
    "stars",
    "calendar",
    "limb",
];
const CIRCLE_KEYS: [&str; 3] = ["capricorn_mm", "equator_mm", "cancer_mm"];
const ECLIPTIC_KEYS: [&str; 2] = ["nearest_mm", "farthest_mm"];
const PLATE_KEYS: [&str; 3] = ["lettered_deg", "equator_mm", "almucantars"];
const ALMUCANTAR_KEYS: [&str; 3] = ["altitude_deg", "noon_mm", "midnight_mm"];
const STAR_KEYS: [&str; 3] = ["name", "with", "radius_mm"];
const CALENDAR_KEYS: [&str; 3] = ["calendar", "reads_to_deg", "degrees"];
const DATE_KEYS: [&str; 2] = ["date", "degree"];
const LIMB_KEYS: [&str; 3] = ["radius_mm", "reads_to_deg", "ends_deg"];

/// No instrument is larger, in millimetres.
const LARGEST: f64 = 5000.0;

/// No list is longer.
const MOST: usize = 400;

impl Measurements {
    /// Reads measurements from the text of their file; the keys are those of the fields of
    /// [`Measurements`]. Needed are `version = 1` and `name`.
    ///
    /// # Errors
    /// When the text is no TOML, or a field is unknown, of the wrong kind or out of range;
    /// the message names it and says what would do.
    pub fn from_toml(text: &str) -> Result<Measurements, MeasurementsError> {
        let table = table_of(text, "a file of measurements", "capricorn_mm = 160.4")?;
        let fields = Fields::of(&table, "");
        Ok(measurements(&fields)?)
    }
}

fn measurements(fields: &Fields<'_>) -> Read<Measurements> {
    fields.only(&KEYS)?;
    fields.version_1()?;
    let name = fields.text("name", 1..=80)?;
    fields.text("description", 0..=400)?;
    let hemisphere = fields
        .choice(
            "hemisphere",
            &[Hemisphere::North, Hemisphere::South],
            Hemisphere::name,
        )?
        .unwrap_or(Hemisphere::North);
    let empty = Table::new();
    let circles = fields.section("circles", "circles.", &CIRCLE_KEYS, &empty)?;
    in_order(&circles, hemisphere)?;
    Ok(Measurements {
        name: name.ok_or_else(|| fields.missing("name", "name = \"…\""))?,
        hemisphere,
        diameter: length(fields, "diameter_mm")?,
        measured_to: Length::from_mm(fields.number("measured_to_mm", 0.001, 5.0)?.unwrap_or(0.1)),
        circles: MeasuredCircles {
            capricorn: length(&circles, "capricorn_mm")?,
            equator: length(&circles, "equator_mm")?,
            cancer: length(&circles, "cancer_mm")?,
        },
        ecliptic: ecliptic(fields)?,
        plates: each(fields, "plates", &PLATE_KEYS, |one| plate(one, hemisphere))?,
        stars: each(fields, "stars", &STAR_KEYS, star)?,
        calendar: calendar(fields)?,
        limb: limb(fields)?,
    })
}

/// The outer tropic lies outside the equator, and that outside the inner one.
fn in_order(circles: &Fields<'_>, hemisphere: Hemisphere) -> Read<()> {
    let (outer, inner) = match hemisphere {
        Hemisphere::North => ("capricorn_mm", "cancer_mm"),
        Hemisphere::South => ("cancer_mm", "capricorn_mm"),
    };
    for (larger, smaller) in [(outer, "equator_mm"), ("equator_mm", inner), (outer, inner)] {
        if let (Some(large), Some(small), Some(value)) = (
            length(circles, larger)?,
            length(circles, smaller)?,
            circles.table.get(larger),
        ) && large <= small
        {
            let what = format!("is no larger than {smaller}");
            let name = hemisphere.name();
            let wanted = format!(
                "{outer} the largest and {inner} the smallest, as on the {name}ern hemisphere's,"
            );
            return Err(circles.wrong(larger, value, &what, &wanted));
        }
    }
    Ok(())
}

/// A length that is there, and more than nothing.
fn length(fields: &Fields<'_>, key: &str) -> Read<Option<Length>> {
    Ok(fields.number(key, 0.1, LARGEST)?.map(Length::from_mm))
}

/// A place on the meridian line, on either side of the hole.
fn on_meridian(fields: &Fields<'_>, key: &str) -> Read<Option<Length>> {
    Ok(fields.number(key, -LARGEST, LARGEST)?.map(Length::from_mm))
}

fn needed<T>(fields: &Fields<'_>, found: Option<T>, key: &str, would_do: &str) -> Read<T> {
    found.ok_or_else(|| fields.missing(key, would_do))
}

/// Every table of a list, read with its own keys and named by its number.
fn each<T>(
    fields: &Fields<'_>,
    key: &str,
    keys: &[&str],
    read: impl Fn(&Fields<'_>) -> Read<T>,
) -> Read<Vec<T>> {
    let wanted = format!("a list of tables, each with some of {}", keys.join(", "));
    let Some(value) = fields.table.get(key) else {
        return Ok(Vec::new());
    };
    let Value::Array(list) = value else {
        return Err(fields.wrong(key, value, "is not a list", &wanted));
    };
    if list.len() > MOST {
        let why = format!("holds more than {MOST}");
        return Err(fields.wrong(key, value, &why, "fewer"));
    }
    list.iter()
        .enumerate()
        .map(|(index, item)| {
            let Value::Table(table) = item else {
                return Err(fields.wrong(key, item, "is not a table", &wanted));
            };
            let within = format!("{}{key}, number {}: ", fields.within, index + 1);
            let fields = Fields::of(table, &within);
            fields.only(keys)?;
            read(&fields)
        })
        .collect()
}

fn ecliptic(fields: &Fields<'_>) -> Read<Option<MeasuredEcliptic>> {
    if !fields.table.contains_key("ecliptic") {
        return Ok(None);
    }
    let empty = Table::new();
    let ring = fields.section("ecliptic", "ecliptic.", &ECLIPTIC_KEYS, &empty)?;
    let end = |key: &str| needed(&ring, length(&ring, key)?, key, "both distances");
    let (nearest, farthest) = (end("nearest_mm")?, end("farthest_mm")?);
    if let (true, Some(value)) = (farthest <= nearest, ring.table.get("farthest_mm")) {
        let what = "is no farther than nearest_mm";
        return Err(ring.wrong("farthest_mm", value, what, "the greater distance"));
    }
    Ok(Some(MeasuredEcliptic { nearest, farthest }))
}

fn plate(fields: &Fields<'_>, hemisphere: Hemisphere) -> Read<MeasuredPlate> {
    let lettered = fields.number("lettered_deg", -90.0, 90.0)?;
    let other = match hemisphere {
        Hemisphere::North => lettered.is_some_and(|deg| deg < 0.0),
        Hemisphere::South => lettered.is_some_and(|deg| deg > 0.0),
    };
    if let (true, Some(value)) = (other, fields.table.get("lettered_deg")) {
        let what = format!("is not of the {}ern hemisphere", hemisphere.name());
        return Err(fields.wrong(
            "lettered_deg",
            value,
            &what,
            "one that is, or hemisphere set to it,",
        ));
    }
    Ok(MeasuredPlate {
        lettered: lettered.and_then(|deg| Latitude::from_deg(deg).ok()),
        equator: length(fields, "equator_mm")?,
        almucantars: each(fields, "almucantars", &ALMUCANTAR_KEYS, almucantar)?,
    })
}

/// What the two crossings of an almucantar with the meridian line are.
const CROSSINGS: &str = "the crossing further towards noon, and both counted positive towards \
    noon and negative towards midnight,";

fn almucantar(fields: &Fields<'_>) -> Read<MeasuredAlmucantar> {
    let altitude = fields.number("altitude_deg", -18.0, 90.0)?;
    let altitude = altitude.and_then(|deg| Latitude::from_deg(deg).ok());
    let altitude = needed(
        fields,
        altitude,
        "altitude_deg",
        "altitude_deg = 0, the horizon,",
    )?;
    let (noon, midnight) = (
        on_meridian(fields, "noon_mm")?,
        on_meridian(fields, "midnight_mm")?,
    );
    if noon.is_none() && midnight.is_none() {
        return Err(fields.missing(
            "noon_mm",
            "a crossing of the meridian, noon_mm or midnight_mm,",
        ));
    }
    // At the zenith the two are one, and either may be measured the further.
    if let (Some(further), Some(nearer), Some(value)) =
        (noon, midnight, fields.table.get("noon_mm"))
        && further < nearer
        && altitude.deg() < 90.0
    {
        let what = "lies nearer to midnight than midnight_mm";
        return Err(fields.wrong("noon_mm", value, what, CROSSINGS));
    }
    Ok(MeasuredAlmucantar {
        altitude,
        noon,
        midnight,
    })
}

fn star(fields: &Fields<'_>) -> Read<MeasuredStar> {
    let name = fields.text("name", 1..=80)?;
    let name = needed(fields, name, "name", "name = \"Aldebaran\"")?;
    let star = sky::star_lettered(&name)
        .map_err(|error| FieldError(format!("{}{error}", fields.within)))?;
    let with = degree(fields, "with")?;
    let radius = length(fields, "radius_mm")?;
    if with.is_none() && radius.is_none() {
        return Err(fields.missing("with", "with = \"2°30′ Gemini\", or radius_mm,"));
    }
    Ok(MeasuredStar { star, with, radius })
}

/// A degree of the zodiac.
fn degree(fields: &Fields<'_>, key: &str) -> Read<Option<Angle>> {
    let Some(text) = fields.text(key, 1..=40)? else {
        return Ok(None);
    };
    match Zodiacal::from_str(&text) {
        Ok(Zodiacal(degree)) => Ok(Some(degree)),
        Err(error) => Err(FieldError(format!("{}{key}: {error}", fields.within))),
    }
}

fn calendar(fields: &Fields<'_>) -> Read<Option<MeasuredCalendar>> {
    if !fields.table.contains_key("calendar") {
        return Ok(None);
    }
    let empty = Table::new();
    let scale = fields.section("calendar", "calendar.", &CALENDAR_KEYS, &empty)?;
    let degrees = each(&scale, "degrees", &DATE_KEYS, |one| {
        let text = needed(one, one.text("date", 1..=20)?, "date", "date = \"03-12\"")?;
        let date = YearDay::from_numbers(&text).ok_or_else(|| {
            FieldError(format!(
                "{}date = \"{text}\" is no day of a year; \"03-12\", or \"03-12.5\" for its noon, would do",
                one.within
            ))
        })?;
        Ok((
            date,
            needed(
                one,
                degree(one, "degree")?,
                "degree",
                "degree = \"0 Aries\"",
            )?,
        ))
    })?;
    if degrees.is_empty() {
        return Err(scale.missing(
            "degrees",
            "degrees = [{ date = \"03-12\", degree = \"0 Aries\" }]",
        ));
    }
    Ok(Some(MeasuredCalendar {
        calendar: scale
            .choice(
                "calendar",
                &[Calendar::Julian, Calendar::Gregorian],
                |one| match one {
                    Calendar::Julian => "julian",
                    Calendar::Gregorian => "gregorian",
                },
            )?
            .unwrap_or(Calendar::Julian),
        reads_to: Angle::from_deg(scale.number("reads_to_deg", 0.001, 5.0)?.unwrap_or(0.25)),
        degrees,
    }))
}

/// How far the ends of a rule may be from opposite each other: more than a hole a quarter of
/// the radius off the middle makes of them.
const FROM_OPPOSITE_DEG: f64 = 30.0;

fn limb(fields: &Fields<'_>) -> Read<Option<MeasuredLimb>> {
    const WANTED: &str = "a list of pairs such as [[0, 180.1], [30, 210.2]]";
    if !fields.table.contains_key("limb") {
        return Ok(None);
    }
    let empty = Table::new();
    let limb = fields.section("limb", "limb.", &LIMB_KEYS, &empty)?;
    let Some(value) = limb.table.get("ends_deg") else {
        return Err(limb.missing("ends_deg", WANTED));
    };
    let Value::Array(list) = value else {
        return Err(limb.wrong("ends_deg", value, "is not a list", WANTED));
    };
    if !(4..=MOST).contains(&list.len()) {
        let why = format!("does not hold 4 to {MOST} places of the rule");
        return Err(limb.wrong("ends_deg", value, &why, WANTED));
    }
    let pair = |item: &Value| -> Option<[Angle; 2]> {
        let Value::Array(pair) = item else {
            return None;
        };
        let [one, other] = pair.as_slice() else {
            return None;
        };
        let degree = |value| {
            let deg = as_number(value)?;
            (-360.0..=360.0)
                .contains(&deg)
                .then(|| Angle::from_deg(deg))
        };
        Some([degree(one)?, degree(other)?])
    };
    let ends = list.iter().map(|item| {
        let ends = pair(item)
            .ok_or_else(|| limb.wrong("ends_deg", item, "is no pair of degrees", WANTED))?;
        if ends[0].to(ends[1] + Angle::HALF_TURN).deg().abs() > FROM_OPPOSITE_DEG {
            return Err(limb.wrong("ends_deg", item, "are no two ends of one rule", WANTED));
        }
        Ok(ends)
    });
    Ok(Some(MeasuredLimb {
        ends: ends.collect::<Read<_>>()?,
        radius: length(&limb, "radius_mm")?,
        reads_to: Angle::from_deg(limb.number("reads_to_deg", 0.0001, 5.0)?.unwrap_or(0.05)),
    }))
}
