use std::fmt::{self, Display};
use std::ops::RangeInclusive;

use practice::{About, Task};
use serde::Deserialize;
use toml::Spanned;

use crate::course_years::COURSE_YEARS;
use crate::lesson::CAST;
use crate::refusal::{Field, Refusal, quoted};
use crate::request_work::RECKON;

/// The file of an invented class, as an example.
pub const EXAMPLE_CLASS: &str = include_str!("../../../data/classes/tuesday.toml");

/// A class for which exercises are drawn, as its file has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Class {
    /// What stands at the head of every sheet.
    pub name: String,
    /// Where the questions are asked.
    pub place: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// The year of the dates.
    pub year: i32,
    /// From what everything is drawn: the same seed gives the same sheets.
    pub seed: u64,
    /// How many questions each has.
    pub questions: u32,
    /// How hard they are: 1 to 3.
    pub level: u8,
    /// The operations asked, in order and over again; those of the level where there
    /// are none.
    pub operations: Vec<String>,
    /// The cusp procedure; turning unless said.
    pub by: Option<String>,
    /// Whether everyone is asked the same, as far as their instruments answer it.
    pub same_questions: bool,
    /// The pupils, in order.
    pub pupils: Vec<Pupil>,
}

/// A pupil of a class.
#[derive(Clone, Debug, PartialEq)]
pub struct Pupil {
    /// The name; no two of a class have the same.
    pub name: String,
    /// An instrument of the cabinet, or the file of its specification.
    pub with: String,
    /// A place of their own.
    pub place: Option<String>,
    /// A level of their own.
    pub level: Option<u8>,
    /// Where the entry begins.
    pub line: Line,
}

/// Where something stands in a file, if it is from one. What is said of it begins so.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Line(Option<usize>);

impl Line {
    /// The line of a place in a text.
    fn of(text: &str, at: usize) -> Line {
        let before = text.get(..at).unwrap_or(text);
        Line(Some(before.matches('\n').count() + 1))
    }
}

/// The beginning of a sentence: "line 7, ", and nothing where there is no file.
impl Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Some(line) => write!(f, "line {line}, "),
            None => Ok(()),
        }
    }
}

/// What a class is made of, as a person has put it down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ClassPlan {
    /// What stands at the head of every sheet.
    pub name: String,
    /// Where the questions are asked.
    pub place: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// The year of the dates.
    pub year: i64,
    /// From what everything is drawn: the same seed gives the same sheets.
    pub seed: u64,
    /// How many questions each has.
    pub questions: i64,
    /// How hard they are, by name.
    pub level: String,
    /// The operations asked, in order and over again; those of the level where there
    /// are none.
    pub operations: Vec<String>,
    /// The cusp procedure; turning unless said.
    pub by: Option<String>,
    /// Whether everyone is asked the same, as far as their instruments answer it.
    pub same_questions: bool,
    /// The pupils, in order.
    pub pupils: Vec<PupilPlan>,
}

/// A pupil of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PupilPlan {
    /// The name.
    pub name: String,
    /// An instrument of the cabinet, or the file of its specification.
    pub with: String,
    /// A place of their own.
    pub place: Option<String>,
    /// A level of their own, by name.
    pub level: Option<String>,
}

/// A class file is no longer than this; a mistaken file is not parsed at length.
const MOST_BYTES: usize = 256 * 1024;
/// The most pupils, and the most questions of each.
const MOST_PUPILS: usize = 100;
const MOST_QUESTIONS: u32 = 60;
/// The most of all of them together: each is worked with every slip that its key tells of.
const MOST_IN_ALL: usize = 300;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ClassText {
    version: Spanned<i64>,
    name: Spanned<String>,
    place: Spanned<String>,
    zone: Option<String>,
    year: Spanned<i64>,
    seed: Spanned<i64>,
    questions: Option<Spanned<i64>>,
    level: Option<Spanned<LevelText>>,
    operations: Option<Spanned<Vec<String>>>,
    by: Option<String>,
    same_questions: Option<bool>,
    #[serde(default)]
    pupils: Vec<Spanned<PupilText>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PupilText {
    name: String,
    with: String,
    place: Option<String>,
    level: Option<LevelText>,
}

/// A level by its name; files that were written before have it by its number.
#[derive(Deserialize)]
#[serde(untagged)]
enum LevelText {
    Named(String),
    Numbered(i64),
}

/// What the levels are called, from the first.
pub const LEVELS: [&str; 3] = ["beginner", "practised", "adept"];

/// The name of a level.
#[must_use]
pub fn level_name(level: u8) -> &'static str {
    let place = usize::from(level).saturating_sub(1);
    LEVELS.get(place).copied().unwrap_or_default()
}

impl LevelText {
    /// Its number, from 1; `whose` begins what is said of one that is none.
    fn number(&self, whose: impl Display) -> Result<u8, Refusal> {
        let (given, found) = match self {
            LevelText::Named(name) => {
                let wanted = name.trim().to_lowercase();
                let place = LEVELS.iter().position(|one| *one == wanted);
                (
                    quoted(name),
                    place.and_then(|place| u8::try_from(place + 1).ok()),
                )
            }
            LevelText::Numbered(number) => {
                let known = u8::try_from(*number).ok();
                (
                    number.to_string(),
                    known.filter(|level| !level_name(*level).is_empty()),
                )
            }
        };
        found.ok_or_else(|| {
            refused(format!(
                "{whose}level = {given} is not known; {} would do",
                LEVELS.join(", ")
            ))
        })
    }
}

/// A class on its way in: what was put down, each with its line.
struct Parts {
    name: (String, Line),
    place: (String, Line),
    zone: Option<String>,
    year: (i64, Line),
    seed: u64,
    questions: (i64, Line),
    level: (LevelText, Line),
    operations: Option<(Vec<String>, Line)>,
    by: Option<String>,
    same_questions: bool,
    pupils: Vec<(PupilText, Line)>,
}

impl Class {
    /// Reads a class from the text of its file.
    ///
    /// Needed are `version = 1`, `name`, `place`, `year`, `seed` and at least one
    /// `[[pupils]]` with `name` and `with`.
    ///
    /// # Errors
    /// When the text is no such file; the message says on which line, what is wrong, and
    /// what would do.
    pub fn from_toml(text: &str) -> Result<Class, Refusal> {
        if text.len() > MOST_BYTES {
            return Err(refused(format!(
                "it is longer than any class ({MOST_BYTES} bytes)"
            )));
        }
        let read: ClassText = toml::from_str(text).map_err(|error| {
            let line = Line::of(text, error.span().map_or(0, |span| span.start));
            let message = error.message().replace('\n', ", ");
            // A type of the language is no word of a teacher's.
            let message = message.replace("expected i64", "expected a whole number");
            refused(format!(
                "{line}{message}; see docs/teaching.md for what a class file holds"
            ))
        })?;
        let version = lined(read.version, text);
        if version.0 != 1 {
            return Err(refused(format!(
                "{}version = {} is not known here; version = 1 would do",
                version.1, version.0
            )));
        }
        // No larger number is written in TOML.
        let seed = ranged("seed", lined(read.seed, text), 0..=i64::MAX.unsigned_abs())?;
        let usual = |value| (value, Line::default());
        Class::of(Parts {
            name: lined(read.name, text),
            place: lined(read.place, text),
            zone: read.zone,
            year: lined(read.year, text),
            seed,
            questions: read.questions.map_or(usual(6), |one| lined(one, text)),
            level: read
                .level
                .map_or((LevelText::Numbered(1), Line::default()), |one| {
                    lined(one, text)
                }),
            operations: read.operations.map(|one| lined(one, text)),
            by: read.by,
            same_questions: read.same_questions.unwrap_or(true),
            pupils: read
                .pupils
                .into_iter()
                .map(|one| lined(one, text))
                .collect(),
        })
    }

    /// A class as it was put down, out of no file.
    ///
    /// # Errors
    /// As for a file, without lines.
    pub fn planned(plan: ClassPlan) -> Result<Class, Refusal> {
        let nowhere = Line::default();
        let pupils = plan.pupils.into_iter().map(|pupil| {
            let text = PupilText {
                name: pupil.name,
                with: pupil.with,
                place: pupil.place,
                level: pupil.level.map(LevelText::Named),
            };
            (text, nowhere)
        });
        Class::of(Parts {
            name: (plan.name, nowhere),
            place: (plan.place, nowhere),
            zone: plan.zone,
            year: (plan.year, nowhere),
            seed: plan.seed,
            questions: (plan.questions, nowhere),
            level: (LevelText::Named(plan.level), nowhere),
            operations: Some((plan.operations, nowhere)).filter(|(all, _)| !all.is_empty()),
            by: plan.by,
            same_questions: plan.same_questions,
            pupils: pupils.collect(),
        })
    }

    fn of(parts: Parts) -> Result<Class, Refusal> {
        let name = said("name", &parts.name)?;
        let place = said("place", &parts.place)?;
        let year = ranged("year", parts.year, COURSE_YEARS)?;
        let questions = ranged("questions", parts.questions, 1..=MOST_QUESTIONS)?;
        let (level, line) = parts.level;
        let level = level.number(line)?;
        let operations = match parts.operations {
            None => Vec::new(),
            Some((listed, line)) => operations(&listed, line)?,
        };
        if parts.pupils.is_empty() {
            return Err(refused(
                "there is nobody in it; [[pupils]] with name = \"…\" and with = \"class instrument\" would do"
                    .to_owned(),
            ));
        }
        if parts.pupils.len() > MOST_PUPILS {
            return Err(refused(format!(
                "{} pupils are too many; up to {MOST_PUPILS} would do",
                parts.pupils.len()
            )));
        }
        let in_all = parts.pupils.len() * questions as usize;
        if in_all > MOST_IN_ALL {
            return Err(refused(format!(
                "{} pupils with {questions} questions each are {in_all} questions, and {MOST_IN_ALL} are drawn at once; {} questions each would do, or the class in parts",
                parts.pupils.len(),
                MOST_IN_ALL / parts.pupils.len()
            )));
        }
        let mut pupils: Vec<Pupil> = Vec::new();
        for (text, line) in parts.pupils {
            let pupil = pupil(text, line)?;
            let folded = |name: &str| name.trim().to_lowercase();
            if let Some(other) = pupils
                .iter()
                .find(|other| folded(&other.name) == folded(&pupil.name))
            {
                let there = other.line.0.map(|line| format!(", on line {line}"));
                return Err(refused(format!(
                    "{line}there is a pupil {} already{}; another name would do",
                    quoted(&pupil.name),
                    there.unwrap_or_default()
                )));
            }
            pupils.push(pupil);
        }
        Ok(Class {
            name,
            place,
            zone: parts.zone,
            year,
            seed: parts.seed,
            questions,
            level,
            operations,
            by: parts.by,
            same_questions: parts.same_questions,
            pupils,
        })
    }
}

/// A value of the file, with its line.
fn lined<T>(value: Spanned<T>, text: &str) -> (T, Line) {
    let line = Line::of(text, value.span().start);
    (value.into_inner(), line)
}

/// A number that is no less and no more than it may be.
fn ranged<T: TryFrom<i64> + PartialOrd + Display>(
    key: &str,
    (value, line): (i64, Line),
    range: RangeInclusive<T>,
) -> Result<T, Refusal> {
    let number = T::try_from(value).ok();
    number.filter(|one| range.contains(one)).ok_or_else(|| {
        refused(format!(
            "{line}{key} = {value} is out of range; {} to {} would do",
            range.start(),
            range.end()
        ))
    })
}

fn pupil(text: PupilText, line: Line) -> Result<Pupil, Refusal> {
    let name = text.name.trim().to_owned();
    if name.is_empty() || name.chars().count() > 80 || name.chars().any(char::is_control) {
        return Err(refused(format!(
            "{line}{} is no pupil's name; 1 to 80 letters on one line would do",
            quoted(&text.name)
        )));
    }
    let level = text
        .level
        .map(|level| level.number(format_args!("{line}pupil {}, ", quoted(&name))))
        .transpose()?;
    Ok(Pupil {
        name,
        with: text.with,
        place: text.place,
        level,
        line,
    })
}

fn said(key: &str, (value, line): &(String, Line)) -> Result<String, Refusal> {
    let text = value.trim();
    if text.is_empty() || text.chars().count() > 120 || text.chars().any(char::is_control) {
        return Err(refused(format!(
            "{line}{key} = {} says nothing; 1 to 120 letters on one line would do",
            quoted(value)
        )));
    }
    Ok(text.to_owned())
}

/// The name of something that can be asked, as it is written everywhere else.
///
/// # Errors
/// In words, when it is no operation or asks nothing on paper.
pub(crate) fn operation(name: &str) -> Result<String, String> {
    let plain = name.trim().to_lowercase();
    match plain.parse::<Task>() {
        Ok(task) if task.about() == About::WhateverIsSighted => Err(format!(
            "{task} is taken in the open and asks nothing on paper; hour-by-sun, meridian-altitude or another of `almuri work` would do"
        )),
        Ok(task) => Ok(task.name().to_owned()),
        Err(_) if plain == CAST || plain == RECKON => Ok(plain),
        Err(_) => Err(format!(
            "{} is no operation; cast, reckon, or one of those that `almuri work` lists, would do",
            quoted(name)
        )),
    }
}

/// The names of operations, each known.
fn operations(listed: &[String], line: Line) -> Result<Vec<String>, Refusal> {
    let known: Vec<String> = listed
        .iter()
        .map(|name| operation(name).map_err(|why| refused(format!("{line}{why}"))))
        .collect::<Result<_, Refusal>>()?;
    if known.is_empty() {
        return Err(refused(format!(
            "{line}operations is empty; [\"cast\"] would do, or no such line for those of the level"
        )));
    }
    Ok(known)
}

pub(crate) fn refused(message: String) -> Refusal {
    Refusal::new(Field::Class, message)
}
