//! For teachers: handouts of a working, exercises for a class, and correcting by them.

use std::collections::BTreeMap;

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use desk::{
    Class, CorrectExerciseRequest, ExercisesAnswer, ExercisesRequest, LessonRequest, TryRequest,
    WithInstrument, WorkRequest,
};
use press::{PageSize, Printed};
use serde::Deserialize;

use super::workshop::archive;
use super::{Body, Desk, now_unix_s, reckon};
use crate::fault::Fault;
use handouts::lesson_handout;
use handouts::{EXERCISES_JSON, exercise_sheets};

fn refused(error: impl std::fmt::Display) -> Fault {
    Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, error.to_string())
}

/// A working as a handout.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HandoutAsked {
    work: WorkRequest,
    page: String,
}

pub(super) async fn handout(
    State(desk): State<Desk>,
    body: Body<HandoutAsked>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let long_work = desk.long_work.clone();
    let handout = long_work.done(move |patience| {
        let size = PageSize::parse(&asked.page).map_err(refused)?;
        let request = LessonRequest { work: asked.work };
        let lesson = desk::lesson(&request, &desk.cabinet(), now_unix_s())?;
        press::handout(&lesson_handout(&lesson), size, patience).map_err(refused)
    });
    Ok(([(CONTENT_TYPE, "application/pdf")], handout.await?).into_response())
}

/// A class, as its file says it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ClassAsked {
    class: String,
    page: String,
}

/// The sheets, the key and the file to correct by, in one archive.
pub(super) async fn exercises(
    State(desk): State<Desk>,
    body: Body<ClassAsked>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let long_work = desk.long_work.clone();
    let sheets = long_work.done(move |patience| {
        let size = PageSize::parse(&asked.page).map_err(refused)?;
        let class = Class::from_toml(&asked.class)?;
        // A page reads no files: its pupils have instruments of the cabinet.
        let cabinet = desk.cabinet();
        let instruments = class
            .pupils
            .iter()
            .map(|pupil| match cabinet.named(&pupil.with) {
                Ok(_) => Ok(WithInstrument::Named(pupil.with.clone())),
                Err(why) => Err(refused(format!(
                    "line {}, pupil “{}”: {why}; files beside the class are for the command line",
                    pupil.line, pupil.name
                ))),
            })
            .collect::<Result<_, Fault>>()?;
        let request = ExercisesRequest {
            class: asked.class,
            instruments,
        };
        let exercises = desk::exercises(&request, &cabinet, patience.part(0, 2))?;
        let mut files = exercise_sheets(&exercises, size, patience.part(1, 2)).map_err(refused)?;
        files.push(Printed {
            name: EXERCISES_JSON.to_owned(),
            bytes: serde_json::to_vec_pretty(&exercises).map_err(Fault::inner)?,
        });
        archive(&files).map_err(Fault::inner)
    });
    Ok(([(CONTENT_TYPE, "application/zip")], sheets.await?).into_response())
}

/// One question for someone who tries alone.
pub(super) async fn try_one(
    State(desk): State<Desk>,
    body: Body<TryRequest>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    reckon(move || Ok(desk::try_one(&asked, &desk.cabinet())?)).await
}

/// Answers to a question, with the exercises that it is among.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AnswersAsked {
    exercises: ExercisesAnswer,
    pupil: String,
    question: usize,
    read: BTreeMap<String, String>,
}

pub(super) async fn correct(
    State(desk): State<Desk>,
    body: Body<AnswersAsked>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    reckon(move || {
        let request = CorrectExerciseRequest {
            pupil: asked.pupil,
            question: asked.question,
            read: asked.read,
        };
        Ok(desk::correct_exercise(
            &asked.exercises,
            &request,
            &desk.cabinet(),
        )?)
    })
    .await
}
