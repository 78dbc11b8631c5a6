use std::str::FromStr;

use thiserror::Error;
use toml::Value;

use super::marks::{Mark, Photograph, Seen};
use crate::length::Length;
use crate::specification::Hemisphere;
use crate::toml_fields::{FieldError, Fields, Read, as_number, table_of};

/// Marks that cannot be used: which field, what is wrong with it, and what would do.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("marks in a picture: {0}")]
pub struct PhotographError(String);

impl From<FieldError> for PhotographError {
    fn from(FieldError(text): FieldError) -> PhotographError {
        PhotographError(text)
    }
}

const KEYS: [&str; 7] = [
    "version",
    "name",
    "description",
    "hemisphere",
    "picture_px",
    "limb_diameter_mm",
    "marks",
];

/// No picture has more marks.
const MOST: usize = 400;

/// No picture is broader or higher, in pixels.
const LARGEST_PX: f64 = 100_000.0;

const PICTURE: &str = "picture_px = [3000, 2250], its breadth and height,";

const MARKS: &str = "a list such as [[1203.5, 340.2, \"limb 15\"], [1510, 1122, \"hole\"]]";

impl Photograph {
    /// Whether a file of measurements holds marks in a picture.
    #[must_use]
    pub fn is_one(text: &str) -> bool {
        text.lines()
            .any(|line| line.trim_start().starts_with("picture_px"))
    }

    /// Reads marks from the text of their file: `version = 1`, `name`, `picture_px`, `marks`,
    /// and `hemisphere`, `description` and `limb_diameter_mm` if they are there.
    ///
    /// # Errors
    /// When the text is no TOML, or a field is unknown, of the wrong kind or out of range;
    /// the message names it and says what would do.
    pub fn from_toml(text: &str) -> Result<Photograph, PhotographError> {
        let table = table_of(text, "a file of marks", "picture_px = [3000, 2250]")?;
        let fields = Fields {
            table: &table,
            within: "",
        };
        Ok(photograph(&fields)?)
    }
}

fn photograph(fields: &Fields<'_>) -> Read<Photograph> {
    fields.only(&KEYS)?;
    fields.version_1()?;
    let name = fields.text("name", 1..=80)?;
    fields.text("description", 0..=400)?;
    let hemisphere = fields.choice(
        "hemisphere",
        &[Hemisphere::North, Hemisphere::South],
        Hemisphere::name,
    )?;
    Ok(Photograph {
        name: name.ok_or_else(|| fields.missing("name", "name = \"…\""))?,
        hemisphere: hemisphere.unwrap_or(Hemisphere::North),
        size_px: size(fields)?,
        limb_diameter: fields
            .number("limb_diameter_mm", 5.0, 5000.0)?
            .map(Length::from_mm),
        marks: marks(fields)?,
    })
}

fn size(fields: &Fields<'_>) -> Read<[u32; 2]> {
    let value = fields.table.get("picture_px");
    let value = value.ok_or_else(|| fields.missing("picture_px", PICTURE))?;
    let side = |one: &Value| {
        let px = u32::try_from(one.as_integer()?).ok()?;
        (px >= 16 && f64::from(px) <= LARGEST_PX).then_some(px)
    };
    let sides = value.as_array().map(Vec::as_slice);
    if let Some([breadth, height]) = sides
        && let (Some(breadth), Some(height)) = (side(breadth), side(height))
    {
        return Ok([breadth, height]);
    }
    Err(fields.wrong("picture_px", value, "is no size of a picture", PICTURE))
}

fn marks(fields: &Fields<'_>) -> Read<Vec<Mark>> {
    let value = fields.table.get("marks");
    let value = value.ok_or_else(|| fields.missing("marks", MARKS))?;
    let Value::Array(list) = value else {
        return Err(fields.wrong("marks", value, "is not a list", MARKS));
    };
    if list.len() > MOST {
        let why = format!("holds more than {MOST}");
        return Err(fields.wrong("marks", value, &why, "fewer"));
    }
    list.iter()
        .enumerate()
        .map(|(index, item)| {
            let number = index + 1;
            let wrong =
                || fields.wrong("marks", item, "is no mark", "[1203.5, 340.2, \"limb 15\"]");
            let Value::Array(parts) = item else {
                return Err(wrong());
            };
            let [right, down, Value::String(of)] = parts.as_slice() else {
                return Err(wrong());
            };
            let px = |value| as_number(value).filter(|px| px.abs() <= 2.0 * LARGEST_PX);
            let (Some(right), Some(down)) = (px(right), px(down)) else {
                return Err(wrong());
            };
            let of = Seen::from_str(of)
                .map_err(|error| FieldError(format!("marks, number {number}: {error}")))?;
            Ok(Mark {
                at_px: [right, down],
                of,
            })
        })
        .collect()
}
