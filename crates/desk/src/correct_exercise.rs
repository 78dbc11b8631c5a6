use std::collections::BTreeMap;

use instrument::House;
use schemars::JsonSchema;
use serde::Deserialize;

use crate::answer::{CorrectAnswer, ExercisesAnswer, PupilAnswer, QuestionAnswer};
use crate::cabinet::Cabinet;
use crate::casting::Casting;
use crate::correct::judged;
use crate::given_reading::{GivenReading, ReadingOf, given_of};
use crate::lesson::CAST;
use crate::pen_exercise::PosedPenQuestion;
use crate::posed_question::PosedQuestion;
use crate::refusal::{Field, Refusal, quoted};
use crate::request_work::WorkRequest;
use crate::work::Work;

/// What is asked when a pupil's answers to a question that was drawn are corrected.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct CorrectExerciseRequest {
    /// The pupil's name.
    pub pupil: String,
    /// The question's number, from 1.
    pub question: usize,
    /// What was read, each by the name under which it is asked.
    pub read: BTreeMap<String, String>,
}

/// The version that is written and read.
pub(crate) const VERSION: u32 = 1;

/// Reads exercises back from their JSON.
///
/// # Errors
/// When the text is none, or of another version.
pub fn exercises_of_json(text: &str) -> Result<ExercisesAnswer, Refusal> {
    let value: serde_json::Value =
        serde_json::from_str(text).map_err(|error| wrong(error.to_string()))?;
    match value.get("version").and_then(serde_json::Value::as_u64) {
        Some(version) => known(version)?,
        None => return Err(wrong("they say no version".to_owned())),
    }
    serde_json::from_value(value).map_err(|error| wrong(error.to_string()))
}

fn wrong(why: String) -> Refusal {
    Refusal::new(
        Field::Exercise,
        format!(
            "these are no exercises ({why}); the exercises.json that `almuri exercises` wrote would do"
        ),
    )
}

/// That exercises of a version can be read.
fn known(version: u64) -> Result<(), Refusal> {
    if version == u64::from(VERSION) {
        return Ok(());
    }
    Err(wrong(format!("version {version} is not known here")))
}

/// Corrects a pupil's answers to a question, without its being said again.
///
/// # Errors
/// When the exercises are of another version, there is no such pupil or question, or an
/// answer cannot be understood.
pub fn correct_exercise(
    exercises: &ExercisesAnswer,
    request: &CorrectExerciseRequest,
    cabinet: &Cabinet,
) -> Result<CorrectAnswer, Refusal> {
    known(u64::from(exercises.version))?;
    let question = found(exercises, request)?;
    if question.is_of_pen() {
        return PosedPenQuestion::again(question)?.correct(&request.read);
    }
    let asking = asked_again(question, cabinet)?;
    let readings: Vec<GivenReading> = request
        .read
        .iter()
        .map(|(name, value)| {
            let what = asking.named(name).ok_or_else(|| unasked(name, &asking))?;
            given_of(what, name, value)
        })
        .collect::<Result<_, _>>()?;
    if readings.is_empty() {
        return Err(Refusal::new(
            Field::Read,
            format!(
                "nothing is read; question {} asks {}",
                question.number,
                keys(&asking).join(", ")
            ),
        ));
    }
    let judged = judged(&asking, &readings);
    Ok(CorrectAnswer::of(&asking, judged))
}

fn found<'a>(
    exercises: &'a ExercisesAnswer,
    request: &CorrectExerciseRequest,
) -> Result<&'a QuestionAnswer, Refusal> {
    let wanted = request.pupil.trim().to_lowercase();
    let mut all = exercises.pupils.iter();
    let pupil: &PupilAnswer = all
        .find(|pupil| pupil.name.to_lowercase() == wanted)
        .ok_or_else(|| {
            let names: Vec<String> = exercises
                .pupils
                .iter()
                .map(|one| one.name.clone())
                .collect();
            Refusal {
                message: format!(
                    "{} is no pupil of {}; {} would do",
                    quoted(&request.pupil),
                    exercises.class,
                    names.join(", ")
                ),
                choices: names,
                ..Refusal::new(Field::Exercise, "")
            }
        })?;
    let mut questions = pupil.questions.iter();
    questions
        .find(|question| question.number == request.question)
        .ok_or_else(|| {
            Refusal::new(
                Field::Exercise,
                format!(
                    "{} has no question {}; 1 to {} would do",
                    pupil.name,
                    request.question,
                    pupil.questions.len()
                ),
            )
        })
}

fn keys(asking: &PosedQuestion) -> Vec<String> {
    asking.asked().iter().map(|what| what.key()).collect()
}

fn unasked(name: &str, asking: &PosedQuestion) -> Refusal {
    let keys = keys(asking);
    Refusal {
        message: format!(
            "{} is not asked in this question; {} would do",
            quoted(name),
            keys.join(", ")
        ),
        choices: keys,
        ..Refusal::new(Field::Read, "")
    }
    .of(name)
}

/// The question as it was asked.
fn asked_again(question: &QuestionAnswer, cabinet: &Cabinet) -> Result<PosedQuestion, Refusal> {
    let asking = asking_of(&question.request, cabinet)?;
    if !asking.is_cast() {
        return Ok(asking);
    }
    let house = |name: &str| {
        House::from_roman(name)
            .filter(|house| asking.named(&ReadingOf::Cusp(*house).key()).is_none())
    };
    let more: Vec<House> = question
        .asks
        .iter()
        .filter_map(|asked| house(&asked.name))
        .collect();
    Ok(asking.with_cusps(&more))
}

/// What a request asks; of a figure, the angles.
pub(crate) fn asking_of(
    request: &WorkRequest,
    cabinet: &Cabinet,
) -> Result<PosedQuestion, Refusal> {
    if request.operation == CAST {
        let casting = Casting::of(&request.moment, cabinet, None)?;
        return Ok(PosedQuestion::of_cast(casting));
    }
    PosedQuestion::of_work(Work::of(request, cabinet, None)?)
}
