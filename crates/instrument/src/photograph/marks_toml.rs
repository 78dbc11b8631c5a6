use std::str::FromStr;

use thiserror::Error;
use toml::Value;

use super::back_marks::{BackMark, BackPhotograph};
use super::marks::{Mark, Photograph, SeenError};
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

const KEYS: [&str; 8] = [
    "version",
    "name",
    "description",
    "side",
    "hemisphere",
    "picture_px",
    "limb_diameter_mm",
    "marks",
];

const KEYS_OF_BACK: [&str; 6] = [
    "version",
    "name",
    "description",
    "side",
    "picture_px",
    "marks",
];

/// Which side of an instrument is in a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Front,
    Back,
}

impl Side {
    fn name(self) -> &'static str {
        match self {
            Side::Front => "front",
            Side::Back => "back",
        }
    }
}

/// No picture has more marks.
const MOST: usize = 400;

/// No picture is broader or higher, in pixels.
const LARGEST_PX: f64 = 100_000.0;

const PICTURE: &str = "picture_px = [3000, 2250], its breadth and height,";

/// How a mark is written, of the front and of the back.
const MARK: &str = "[1203.5, 340.2, \"limb 15\"]";
const MARK_OF_BACK: &str = "[1203.5, 340.2, \"zodiac 15 Leo\"]";

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
        let fields = Fields::of(&table, "");
        Ok(photograph(&fields)?)
    }
}

impl BackPhotograph {
    /// Whether a file of marks is of a back.
    #[must_use]
    pub fn is_one(text: &str) -> bool {
        let table = table_of(text, "a file of marks", "picture_px = [3000, 2250]");
        let side = table.as_ref().ok().and_then(|table| table.get("side"));
        side.and_then(Value::as_str) == Some(Side::Back.name())
    }

    /// Reads marks from the text of their file: `version = 1`, `side = "back"`, `name`,
    /// `picture_px`, `marks`, and `description` if it is there.
    ///
    /// # Errors
    /// When the text is no TOML, or a field is unknown, of the wrong kind or out of range;
    /// the message names it and says what would do.
    pub fn from_toml(text: &str) -> Result<BackPhotograph, PhotographError> {
        let table = table_of(text, "a file of marks", "picture_px = [3000, 2250]")?;
        let fields = Fields::of(&table, "");
        fields.only(&KEYS_OF_BACK)?;
        of_side(&fields, Side::Back)?;
        let marks = marks(&fields, MARK_OF_BACK)?.into_iter();
        Ok(BackPhotograph {
            name: named(&fields)?,
            size_px: size(&fields)?,
            marks: marks.map(|(at_px, of)| BackMark { at_px, of }).collect(),
        })
    }
}

/// That the marks are of one side; the front, unless it is said.
fn of_side(fields: &Fields<'_>, wanted: Side) -> Read<()> {
    let said = fields.choice("side", &[Side::Front, Side::Back], Side::name)?;
    let said = said.unwrap_or(Side::Front);
    if said == wanted {
        return Ok(());
    }
    Err(FieldError(format!(
        "side: the marks are of the {}, and those of a {} are wanted here",
        said.name(),
        wanted.name()
    )))
}

fn named(fields: &Fields<'_>) -> Read<String> {
    fields.version_1()?;
    fields.text("description", 0..=400)?;
    let name = fields.text("name", 1..=80)?;
    name.ok_or_else(|| fields.missing("name", "name = \"…\""))
}

fn photograph(fields: &Fields<'_>) -> Read<Photograph> {
    fields.only(&KEYS)?;
    of_side(fields, Side::Front)?;
    let hemisphere = fields.choice(
        "hemisphere",
        &[Hemisphere::North, Hemisphere::South],
        Hemisphere::name,
    )?;
    Ok(Photograph {
        name: named(fields)?,
        hemisphere: hemisphere.unwrap_or(Hemisphere::North),
        size_px: size(fields)?,
        limb_diameter: fields
            .number("limb_diameter_mm", 5.0, 5000.0)?
            .map(Length::from_mm),
        marks: marks(fields, MARK)?
            .into_iter()
            .map(|(at_px, of)| Mark { at_px, of })
            .collect(),
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

/// Places in a picture and what is seen there; `such_as` is how one is written.
fn marks<Of>(fields: &Fields<'_>, such_as: &str) -> Read<Vec<([f64; 2], Of)>>
where
    Of: FromStr<Err = SeenError>,
{
    let list_such_as = format!("a list such as [{such_as}]");
    let value = fields.table.get("marks");
    let value = value.ok_or_else(|| fields.missing("marks", &list_such_as))?;
    let Value::Array(list) = value else {
        return Err(fields.wrong("marks", value, "is not a list", &list_such_as));
    };
    if list.len() > MOST {
        let why = format!("holds more than {MOST}");
        return Err(fields.wrong("marks", value, &why, "fewer"));
    }
    list.iter()
        .enumerate()
        .map(|(index, item)| {
            let number = index + 1;
            let wrong = || fields.wrong("marks", item, "is no mark", such_as);
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
            let of = Of::from_str(of)
                .map_err(|error| FieldError(format!("marks, number {number}: {error}")))?;
            Ok(([right, down], of))
        })
        .collect()
}
