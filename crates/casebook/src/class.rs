use std::fmt;

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

/// A class: where it is taught, and who is in it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Class {
    /// What it is called.
    pub name: String,
    /// Where its questions are asked.
    pub place: String,
    /// The zone, where one was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// The cusp procedure, where one was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// How hard its questions are, by name.
    pub level: String,
    /// What is asked, where that was said.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub operations: Vec<String>,
    /// Its pupils, in order.
    pub pupils: Vec<Pupil>,
    /// A note.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A pupil of a class.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Pupil {
    /// The name; no two of a class have the same.
    pub name: String,
    /// The instrument.
    pub with: String,
    /// A place of their own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// A level of their own, by name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub level: Option<String>,
}

/// A sheet as it was given to a pupil: what was asked, and what was answered.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Paper {
    /// Which of the class's sheets it is, from 1: all that were given out together have
    /// the same number.
    pub sheet: u32,
    /// The day on which it was given out, `YYYY-MM-DD`.
    pub given: String,
    /// Whose it is.
    pub pupil: String,
    /// The questions with their key, in whatever form they were given.
    pub asked: Asked,
    /// What was answered, and what came of it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub answers: Vec<Answered>,
    /// A remark on the whole of it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub remark: String,
}

/// The questions of a paper: JSON, kept as it was written, which takes no more room than its
/// text.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Asked(Box<RawValue>);

impl Asked {
    /// What is asked.
    ///
    /// # Errors
    /// When it cannot be written as JSON.
    pub fn of(questions: &impl Serialize) -> serde_json::Result<Asked> {
        serde_json::value::to_raw_value(questions).map(Asked)
    }

    /// Its text.
    #[must_use]
    pub fn text(&self) -> &str {
        self.0.get()
    }
}

impl Default for Asked {
    fn default() -> Asked {
        Asked(RawValue::NULL.to_owned())
    }
}

impl PartialEq for Asked {
    fn eq(&self, other: &Asked) -> bool {
        self.text() == other.text()
    }
}

impl Eq for Asked {}

/// The answers to a question, and what came of them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Answered {
    /// The question's number.
    pub question: u32,
    /// What was read.
    pub read: Vec<Answer>,
    /// What they come to, in a word.
    pub verdict: String,
    /// The same in a sentence.
    pub sentence: String,
    /// The names of the slips that explain them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub slips: Vec<String>,
}

/// An answer.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Answer {
    /// What was asked, by its name.
    pub what: String,
    /// What was written.
    pub value: String,
    /// The mark.
    pub mark: String,
}

/// A class as it goes out and in, with its papers.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClassOut {
    /// The class.
    pub class: Class,
    /// Its papers, in the order in which they were given out.
    #[serde(default)]
    pub papers: Vec<Paper>,
}

/// The number of a class in its book. None is used twice, nor by a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct ClassId(pub i64);

/// The number of a paper in its book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct PaperId(pub i64);

impl fmt::Display for ClassId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl fmt::Display for PaperId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// A class as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptClass {
    /// Its number.
    pub id: ClassId,
    /// How often it has been changed. An edit names the state it began from.
    pub version: i64,
    /// When it was kept, in seconds of UTC since the beginning of 1970.
    pub kept_unix_s: i64,
    /// When it was last changed.
    pub changed_unix_s: i64,
    /// The class.
    pub class: Class,
}

/// A paper as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptPaper {
    /// Its number.
    pub id: PaperId,
    /// The class's.
    pub class: ClassId,
    /// How often it has been changed.
    pub version: i64,
    /// When it was given out.
    pub kept_unix_s: i64,
    /// When it was last changed.
    pub changed_unix_s: i64,
    /// The paper.
    pub paper: Paper,
}

/// No document of a class is longer than this; it keeps a mistaken file out.
const MOST_BYTES: usize = 1 << 20;

impl Class {
    /// What is wrong with it, if it cannot be kept: it needs a name, a place and pupils,
    /// no two of one name.
    ///
    /// # Errors
    /// In words, for a person.
    pub fn check(&self) -> Result<(), String> {
        for (what, text) in [("a name", &self.name), ("a place", &self.place)] {
            if text.trim().is_empty() {
                return Err(format!("{what} is missing"));
            }
        }
        if self.pupils.is_empty() {
            return Err("there is nobody in it".to_owned());
        }
        for (index, pupil) in self.pupils.iter().enumerate() {
            if pupil.name.trim().is_empty() {
                return Err(format!("pupil {} has no name", index + 1));
            }
            let same = |other: &Pupil| other.name.trim() == pupil.name.trim();
            if self.pupils.iter().take(index).any(same) {
                return Err(format!("two pupils are called {:?}", pupil.name));
            }
        }
        short_enough(self)
    }
}

impl Paper {
    /// What is wrong with it, if it cannot be kept: it needs a pupil and a sheet's number.
    ///
    /// # Errors
    /// In words, for a person.
    pub fn check(&self) -> Result<(), String> {
        if self.pupil.trim().is_empty() || self.sheet == 0 {
            return Err("a sheet has a number and is somebody's".to_owned());
        }
        short_enough(self)
    }
}

fn short_enough(document: &impl Serialize) -> Result<(), String> {
    let bytes = serde_json::to_string(document).map_or(usize::MAX, |text| text.len());
    if bytes > MOST_BYTES {
        return Err(format!("{bytes} bytes are too many; {MOST_BYTES} would do"));
    }
    Ok(())
}
