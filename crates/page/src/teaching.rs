//! For teachers: handouts of a working, exercises for a class, and correcting by them.

use std::collections::BTreeMap;

use desk::{
    Class, CorrectExerciseRequest, ExercisesAnswer, LessonRequest, WithInstrument, WorkRequest,
};
use handouts::{EXERCISES_JSON, Key, exercise_sheets, lesson_handout};
use patience::Patience;
use press::{PageSize, Printed};
use serde::Deserialize;

use crate::answer::read;
use crate::archive::archive;
use crate::{Answer, Fault, Holder, json};

/// A working as a handout.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HandoutAsked {
    work: WorkRequest,
    page: String,
}

pub(crate) fn handout(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let asked: HandoutAsked = read(body)?;
    let size = PageSize::parse(&asked.page).map_err(Fault::asked)?;
    let cabinet = holder.cabinet();
    let address = holder.settings().map_err(Fault::asked)?.linked_to()?;
    let code = address.map(|address| address.code_of_work(&asked.work, &cabinet));
    let code = code.transpose().map_err(Fault::asked)?.flatten();
    let request = LessonRequest { work: asked.work };
    let lesson = desk::lesson(&request, &cabinet, holder.now_unix_s())?;
    let handout = lesson_handout(&lesson, code);
    let bytes = press::handout(&handout, size, patience).map_err(Fault::asked)?;
    Ok(Answer {
        kind: "application/pdf",
        bytes,
    })
}

/// A class, as its file says it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ClassAsked {
    class: String,
    page: String,
    /// Whether the key at length is wanted too.
    #[serde(default)]
    key_at_length: bool,
}

/// The sheets, the key and the file to correct by, in one archive.
pub(crate) fn exercises(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let asked: ClassAsked = read(body)?;
    let size = PageSize::parse(&asked.page).map_err(Fault::asked)?;
    let key = if asked.key_at_length {
        Key::AtLengthToo
    } else {
        Key::Short
    };
    let class = Class::from_toml(&asked.class)?;
    // A page reads no files: its pupils have instruments of the cabinet.
    let cabinet = holder.cabinet();
    let instruments = class
        .pupils
        .iter()
        .map(|pupil| match cabinet.named(&pupil.with) {
            Ok(_) => Ok(WithInstrument::Named(pupil.with.clone())),
            Err(why) => Err(Fault::asked(format!(
                "{}pupil “{}”: {why}; files beside the class are for the command line",
                pupil.line, pupil.name
            ))),
        })
        .collect::<Result<Vec<_>, Fault>>()?;
    let exercises = desk::exercises(&class, &instruments, &cabinet, patience.part(0, 2))?;
    let mut files =
        exercise_sheets(&exercises, size, key, patience.part(1, 2)).map_err(Fault::asked)?;
    files.push(Printed {
        name: EXERCISES_JSON.to_owned(),
        bytes: serde_json::to_vec_pretty(&exercises).map_err(Fault::inner)?,
    });
    archive(files)
}

/// Answers to a question, with the exercises that it is among.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AnswersAsked {
    exercises: ExercisesAnswer,
    pupil: String,
    question: usize,
    read: BTreeMap<String, String>,
}

pub(crate) fn correct(body: &[u8], holder: &dyn Holder, _: Patience<'_>) -> Result<Answer, Fault> {
    let asked: AnswersAsked = read(body)?;
    let request = CorrectExerciseRequest {
        pupil: asked.pupil,
        question: asked.question,
        read: asked.read,
    };
    json(&desk::correct_exercise(
        &asked.exercises,
        &request,
        &holder.cabinet(),
    )?)
}
