use figure::Planet;
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Angle, Instant, Zodiacal};
use words::Degrees;

/// A leaf of the finished figure: one table, with the books that have it so.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LeafAnswer {
    /// Its name, by which it is asked for.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Where its rules are in print.
    pub sources: Vec<String>,
    /// What stands in each column.
    pub columns: Vec<&'static str>,
    /// The rows; the first cells name them.
    pub rows: Vec<Vec<CellAnswer>>,
    /// What is to be said of it besides.
    pub notes: Vec<String>,
    /// What the reading on the instrument, or a clock that is a little wrong, would make
    /// otherwise, each in a sentence.
    pub changes: Vec<String>,
}

/// A cell of a leaf: as it is said, and as a number where it is one.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct CellAnswer {
    /// In words.
    pub said: String,
    /// In degrees, where it is an angle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub deg: Option<f64>,
    /// As a Julian date of Universal Time, where it is a moment.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub jd_ut: Option<f64>,
    /// As a number, where it is another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<f64>,
}

impl CellAnswer {
    /// Nothing.
    pub(crate) fn none() -> CellAnswer {
        CellAnswer::said("–")
    }

    pub(crate) fn said(said: impl Into<String>) -> CellAnswer {
        CellAnswer {
            said: said.into(),
            ..CellAnswer::default()
        }
    }

    pub(crate) fn planet(planet: Planet) -> CellAnswer {
        CellAnswer::said(planet.name())
    }

    pub(crate) fn yes(is: bool) -> CellAnswer {
        CellAnswer::said(if is { "yes" } else { "no" })
    }

    /// A degree of the zodiac.
    pub(crate) fn degree(longitude: Angle) -> CellAnswer {
        CellAnswer {
            deg: Some(longitude.in_turn().deg()),
            ..CellAnswer::said(Zodiacal(longitude).to_string())
        }
    }

    /// How far something is from something else.
    pub(crate) fn arc(arc: Angle) -> CellAnswer {
        let sign = if arc < Angle::ZERO { "−" } else { "" };
        CellAnswer {
            deg: Some(arc.deg()),
            ..CellAnswer::said(format!("{sign}{}", Degrees(arc.abs())))
        }
    }

    /// Points: `+5`, `−4`, `0`.
    pub(crate) fn points(points: i32) -> CellAnswer {
        let said = match points {
            1.. => format!("+{points}"),
            0 => "0".to_owned(),
            ..0 => format!("−{}", points.unsigned_abs()),
        };
        CellAnswer {
            number: Some(f64::from(points)),
            ..CellAnswer::said(said)
        }
    }

    /// A number with so many decimals.
    pub(crate) fn number(number: f64, decimals: usize) -> CellAnswer {
        CellAnswer {
            number: Some(number),
            ..CellAnswer::said(format!("{number:.decimals$}"))
        }
    }

    /// A moment, as a clock says it.
    pub(crate) fn moment(instant: Instant, by_clock: String) -> CellAnswer {
        CellAnswer {
            jd_ut: Some(instant.jd_ut()),
            ..CellAnswer::said(by_clock)
        }
    }

    /// Whether it is words or whole points, which either stay or become others; degrees,
    /// moments and ages always move a little.
    pub(crate) fn is_words(&self) -> bool {
        let whole = |number: f64| number.fract().abs() < f64::EPSILON;
        self.deg.is_none() && self.jd_ut.is_none() && self.number.is_none_or(whole)
    }

    /// As it stands in comma-separated values: an angle in degrees, else as it is said.
    #[must_use]
    pub fn plain(&self) -> String {
        match (self.deg, self.number) {
            (Some(deg), _) => format!("{deg:.6}"),
            (None, Some(number)) => sky::Plain(number).to_string(),
            (None, None) if self.said == "–" => String::new(),
            (None, None) => self.said.clone(),
        }
    }
}
