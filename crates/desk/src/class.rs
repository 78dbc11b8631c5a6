use std::fmt::Display;
use std::ops::{Range, RangeInclusive};

use practice::Task;
use serde::Deserialize;
use toml::Spanned;

use crate::course_years::COURSE_YEARS;
use crate::lesson::CAST;
use crate::pen_exercise::RECKON;
use crate::refusal::{Field, Refusal, quoted};

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
    /// The line of the file on which the entry begins.
    pub line: usize,
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
                "{whose}: level = {given} is not known; {} would do",
                LEVELS.join(", ")
            ))
        })
    }
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
            let line = error.span().map_or(1, |span| line_of(text, span.start));
            let message = error.message().replace('\n', ", ");
            // A type of the language is no word of a teacher's.
            let message = message.replace("expected i64", "expected a whole number");
            refused(format!(
                "line {line}: {message}; see docs/teaching.md for what a class file holds"
            ))
        })?;
        let at = |span: Range<usize>| line_of(text, span.start);
        let version = at(read.version.span());
        if *read.version.get_ref() != 1 {
            return Err(refused(format!(
                "line {version}: version = {} is not known here; version = 1 would do",
                read.version.get_ref()
            )));
        }
        let name = said("name", &read.name, at(read.name.span()))?;
        let place = said("place", &read.place, at(read.place.span()))?;
        let year = ranged("year", &read.year, COURSE_YEARS, at)?;
        // No larger number is written in TOML.
        let seed = ranged("seed", &read.seed, 0..=i64::MAX.unsigned_abs(), at)?;
        let questions = match &read.questions {
            None => 6,
            Some(value) => ranged("questions", value, 1..=MOST_QUESTIONS, at)?,
        };
        let level = match &read.level {
            None => 1,
            Some(value) => {
                let line = at(value.span());
                value.get_ref().number(format_args!("line {line}"))?
            }
        };
        let operations = match read.operations {
            None => Vec::new(),
            Some(listed) => {
                let line = at(listed.span());
                operations(listed.get_ref(), line)?
            }
        };
        if read.pupils.is_empty() {
            return Err(refused(
                "there is nobody in it; [[pupils]] with name = \"…\" and with = \"class instrument\" would do"
                    .to_owned(),
            ));
        }
        if read.pupils.len() > MOST_PUPILS {
            return Err(refused(format!(
                "{} pupils are too many; up to {MOST_PUPILS} would do",
                read.pupils.len()
            )));
        }
        let in_all = read.pupils.len() * questions as usize;
        if in_all > MOST_IN_ALL {
            return Err(refused(format!(
                "{} pupils with {questions} questions each are {in_all} questions, and {MOST_IN_ALL} are drawn at once; {} questions each would do, or the class in parts",
                read.pupils.len(),
                MOST_IN_ALL / read.pupils.len()
            )));
        }
        let mut pupils: Vec<Pupil> = Vec::new();
        for one in read.pupils {
            let line = at(one.span());
            let pupil = pupil(one.into_inner(), line)?;
            let folded = |name: &str| name.trim().to_lowercase();
            if let Some(other) = pupils
                .iter()
                .find(|other| folded(&other.name) == folded(&pupil.name))
            {
                return Err(refused(format!(
                    "line {line}: there is a pupil {} already, on line {}; another name would do",
                    quoted(&pupil.name),
                    other.line
                )));
            }
            pupils.push(pupil);
        }
        Ok(Class {
            name,
            place,
            zone: read.zone,
            year,
            seed,
            questions,
            level,
            operations,
            by: read.by,
            same_questions: read.same_questions.unwrap_or(true),
            pupils,
        })
    }
}

/// A number that is no less and no more than it may be; `at` tells the line of a place.
fn ranged<T: TryFrom<i64> + PartialOrd + Display>(
    key: &str,
    value: &Spanned<i64>,
    range: RangeInclusive<T>,
    at: impl Fn(Range<usize>) -> usize,
) -> Result<T, Refusal> {
    let number = T::try_from(*value.get_ref()).ok();
    number.filter(|one| range.contains(one)).ok_or_else(|| {
        refused(format!(
            "line {}: {key} = {} is out of range; {} to {} would do",
            at(value.span()),
            value.get_ref(),
            range.start(),
            range.end()
        ))
    })
}

fn pupil(text: PupilText, line: usize) -> Result<Pupil, Refusal> {
    let name = text.name.trim().to_owned();
    if name.is_empty() || name.chars().count() > 80 || name.chars().any(char::is_control) {
        return Err(refused(format!(
            "line {line}: {} is no pupil's name; 1 to 80 letters on one line would do",
            quoted(&text.name)
        )));
    }
    let level = text
        .level
        .map(|level| level.number(format_args!("line {line}, pupil {}", quoted(&name))))
        .transpose()?;
    Ok(Pupil {
        name,
        with: text.with,
        place: text.place,
        level,
        line,
    })
}

fn said(key: &str, value: &Spanned<String>, line: usize) -> Result<String, Refusal> {
    let text = value.get_ref().trim();
    if text.is_empty() || text.chars().count() > 120 || text.chars().any(char::is_control) {
        return Err(refused(format!(
            "line {line}: {key} = {} says nothing; 1 to 120 letters on one line would do",
            quoted(value.get_ref())
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
        Ok(Task::Altitude) => Err("altitude is taken in the open and asks nothing on paper; hour-by-sun, meridian-altitude or another of `almuri work` would do".to_owned()),
        Ok(task) => Ok(task.name().to_owned()),
        Err(_) if plain == CAST || plain == RECKON => Ok(plain),
        Err(_) => Err(format!(
            "{} is no operation; cast, reckon, or one of those that `almuri work` lists, would do",
            quoted(name)
        )),
    }
}

/// The names of operations, each known.
fn operations(listed: &[String], line: usize) -> Result<Vec<String>, Refusal> {
    let known: Vec<String> = listed
        .iter()
        .map(|name| operation(name).map_err(|why| refused(format!("line {line}: {why}"))))
        .collect::<Result<_, Refusal>>()?;
    if known.is_empty() {
        return Err(refused(format!(
            "line {line}: operations is empty; [\"cast\"] would do, or no such line for those of the level"
        )));
    }
    Ok(known)
}

pub(crate) fn refused(message: String) -> Refusal {
    Refusal::new(Field::Class, message)
}

/// The line of a place in a text, from 1.
fn line_of(text: &str, at: usize) -> usize {
    let before = text.get(..at).unwrap_or(text);
    before.matches('\n').count() + 1
}
