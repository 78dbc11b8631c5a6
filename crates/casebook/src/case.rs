use std::fmt;

use serde::{Deserialize, Serialize};

/// A case: what was asked for and what came of it, as it was said.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Case {
    /// What it is called: a person, a question, an exercise.
    pub name: String,
    /// The date and time as said, `YYYY-MM-DD HH:MM[:SS]`.
    pub when: String,
    /// The place as said.
    pub at: String,
    /// The zone, where one was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// The kind of clock, where one was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clock: Option<String>,
    /// The calendar, where one was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub calendar: Option<String>,
    /// Which of two instants, where it was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub which: Option<String>,
    /// The house method.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub houses: Option<String>,
    /// The instrument.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
    /// The cusp procedure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// Where the Sun's degree was taken from, where it was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sun: Option<String>,
    /// On which plates it was worked, where it was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plates: Option<String>,
    /// Readings taken.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<Reading>,
    /// Marks given for them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<GivenMark>,
    /// The figure as it was kept, in whatever form it was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figure: Option<String>,
    /// A note.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Tags, in order, none twice.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tags: Vec<String>,
}

/// A reading taken on an instrument.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Reading {
    /// What was read: `ascendant`, `midheaven`, a house's numeral.
    pub what: String,
    /// The degree as read.
    pub degree: String,
    /// Who read it, where that was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub who: Option<String>,
}

/// A mark given.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct GivenMark {
    /// What it was given for.
    pub what: String,
    /// The mark, in whatever scale is used.
    pub mark: String,
    /// A remark on it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub remark: String,
}

/// The number of a case in its book. None is used twice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct CaseId(pub i64);

impl fmt::Display for CaseId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// A case as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Kept {
    /// Its number.
    pub id: CaseId,
    /// How often it has been changed. An edit names the state it began from.
    pub version: i64,
    /// When it was kept, in seconds of UTC since the beginning of 1970.
    pub kept_unix_s: i64,
    /// When it was last changed.
    pub changed_unix_s: i64,
    /// The case.
    pub case: Case,
}

/// No field of a case is longer than this; it keeps a mistaken file out.
const MOST_BYTES: usize = 1 << 20;

impl Case {
    /// What is wrong with it, if it cannot be kept: it needs a name, a moment and a
    /// place, and no field may be of unreasonable length.
    ///
    /// # Errors
    /// In words, for a person.
    pub fn check(&self) -> Result<(), String> {
        for (what, text, needed) in [
            ("a name", &self.name, true),
            ("a date and time", &self.when, true),
            ("a place", &self.at, true),
            ("a note", &self.note, false),
        ] {
            if needed && text.trim().is_empty() {
                return Err(format!("{what} is missing"));
            }
            short_enough(what, text)?;
        }
        for (what, text) in [
            ("a figure", &self.figure),
            ("a zone", &self.zone),
            ("a kind of clock", &self.clock),
            ("a calendar", &self.calendar),
            ("an instrument's name", &self.with),
        ] {
            short_enough(what, text.as_deref().unwrap_or_default())?;
        }
        let readings = self
            .readings
            .iter()
            .flat_map(|one| [&one.what, &one.degree]);
        let marks = self.marks.iter();
        let marks = marks.flat_map(|one| [&one.what, &one.mark, &one.remark]);
        for text in readings.chain(marks).chain(&self.tags) {
            short_enough("a reading, a mark or a tag", text)?;
        }
        Ok(())
    }

    /// Tags in order, without spaces about them, none empty, none twice.
    #[must_use]
    pub fn tidied(mut self) -> Case {
        for tag in &mut self.tags {
            *tag = tag.trim().to_owned();
        }
        self.tags.retain(|tag| !tag.is_empty());
        self.tags.sort();
        self.tags.dedup();
        self
    }
}

fn short_enough(what: &str, text: &str) -> Result<(), String> {
    if text.len() > MOST_BYTES {
        return Err(format!(
            "{what} of {} bytes is too long; {MOST_BYTES} would do",
            text.len()
        ));
    }
    Ok(())
}
