use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What is asked when a figure is to be cast: texts, as a person gives them.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct CastRequest {
    /// `YYYY-MM-DD HH:MM[:SS]`, or `now`.
    pub when: String,
    /// A town, or coordinates such as `42.8806,-8.5449` or `42°53′N 8°33′W`.
    pub at: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// `zone` (unless said), `mean`, `sun`, an offset such as `+01:00`, or an old
    /// reckoning: `unequal-day`, `unequal-night` (the night after the date's day) or
    /// `unequal-night-before`, `from-sunset` (as `from-sunset-before`: from the sunset with
    /// which the date began, the Italian use) or `from-sunset-of-date`, `from-sunrise`; by
    /// the true horizon, or with `-visible` by the level one that is seen.
    pub clock: Option<String>,
    /// `gregorian` or `julian`.
    pub calendar: Option<String>,
    /// `earlier` or `later`, where a clock time came twice or not at all.
    pub which: Option<String>,
    /// The house method of the calculated figure; alcabitius unless said.
    pub houses: Option<String>,
    /// The instrument; the first of the cabinet for the place's hemisphere unless said.
    pub with: Option<WithInstrument>,
    /// Where the Sun's degree is taken from: `instrument` (unless said), its own scale or
    /// ring of dates, or `ephemeris`.
    pub sun: Option<String>,
    /// On which plates it is worked: `nearest` (unless said), or `two-in-proportion`, one on
    /// either side of the place's latitude.
    pub plates: Option<String>,
    /// The cusp procedure that `read` belongs to; turning unless said.
    pub by: Option<String>,
    /// A person's own readings: `ascendant`, `midheaven`, `sun-degree` or a house's numeral
    /// to a degree such as `11 Pisces` or to a sign alone, `Pisces`; `local-time` to a
    /// time such as `6:49`.
    pub read: BTreeMap<String, String>,
    /// What the person left out of the sum: `summer-time`, `zone`, `longitude`,
    /// `equation-of-time`.
    pub without: Vec<String>,
    /// Where houses begin to count for the planets that the verdict speaks of: `cusp`
    /// (unless said) or `five-degrees`.
    pub border: Option<String>,
}

/// Which instrument is meant.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WithInstrument {
    /// One of the cabinet, by its name.
    Named(String),
    /// The text of a specification.
    Specification(String),
}
