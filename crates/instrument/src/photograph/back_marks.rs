use std::fmt;
use std::str::FromStr;

use sky::{Angle, Zodiacal};

use super::marks::SeenError;
use crate::date_scale::YearDay;

/// A picture of an instrument's back with what was recognised in it.
#[derive(Clone, Debug, PartialEq)]
pub struct BackPhotograph {
    /// What the instrument is called.
    pub name: String,
    /// How broad and how high the picture is, in pixels.
    pub size_px: [u32; 2],
    /// What was recognised.
    pub marks: Vec<BackMark>,
}

/// A place in the picture, and what is seen there.
#[derive(Clone, Debug, PartialEq)]
pub struct BackMark {
    /// In pixels from the middle of the upper left one, to the right and down.
    pub at_px: [f64; 2],
    /// What it is.
    pub of: SeenOnBack,
}

/// What can be recognised on a back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SeenOnBack {
    /// Where the stroke of a degree meets the outer circle of the zodiac scale.
    Degree(Angle),
    /// Somewhere on the stroke of a day of the calendar scale.
    Date(YearDay),
    /// A lower corner of the shadow square, as one looks at the back.
    Corner(Corner),
    /// The middle of the hole.
    Hole,
    /// Somewhere on the edge of the hole.
    HoleEdge,
}

/// The lower corners of the shadow square, where both shadows are of twelve points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Corner {
    /// To the left as one looks at the back.
    Left,
    /// To the right.
    Right,
}

impl Corner {
    /// Both.
    pub const ALL: [Corner; 2] = [Corner::Left, Corner::Right];
}

impl fmt::Display for Corner {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Corner::Left => "left corner of the shadow square",
            Corner::Right => "right corner of the shadow square",
        })
    }
}

impl FromStr for SeenOnBack {
    type Err = SeenError;

    fn from_str(text: &str) -> Result<SeenOnBack, SeenError> {
        let text = text.trim();
        match text {
            "hole" => return Ok(SeenOnBack::Hole),
            "edge of the hole" => return Ok(SeenOnBack::HoleEdge),
            _ => {}
        }
        let corner = Corner::ALL.into_iter().find(|one| one.to_string() == text);
        if let Some(corner) = corner {
            return Ok(SeenOnBack::Corner(corner));
        }
        if let Some(rest) = text.strip_prefix("zodiac ") {
            return match Zodiacal::from_str(rest) {
                Ok(Zodiacal(degree)) => Ok(SeenOnBack::Degree(degree)),
                Err(error) => Err(SeenError::Other {
                    text: text.to_owned(),
                    why: error.to_string(),
                }),
            };
        }
        if let Some(rest) = text.strip_prefix("calendar ") {
            let date = YearDay::from_numbers(rest.trim());
            return date.map(SeenOnBack::Date).ok_or(SeenError::Number {
                text: text.to_owned(),
                wanted: "a month and a day such as 03-12",
            });
        }
        Err(SeenError::NothingOnBack(text.to_owned()))
    }
}

/// As it is written in a file.
impl fmt::Display for SeenOnBack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SeenOnBack::Degree(degree) => write!(f, "zodiac {}", Zodiacal(*degree)),
            SeenOnBack::Date(date) => write!(f, "calendar {date}"),
            SeenOnBack::Corner(corner) => corner.fmt(f),
            SeenOnBack::Hole => f.write_str("hole"),
            SeenOnBack::HoleEdge => f.write_str("edge of the hole"),
        }
    }
}
