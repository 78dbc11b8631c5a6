//! What the page changes in the cabinet: it keeps instruments of one's own.

use axum::Json;
use axum::extract::State;
use axum::response::Response;
use desk::CabinetAnswer;
use page::Holder as _;
use serde::{Deserialize, Serialize};

use super::state::{Body, Desk, not_kept, reckon};
use crate::fault::Fault;

/// A specification to be kept: a new one, or in the place of one as it was looked at.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Keeping {
    text: String,
    #[serde(default)]
    instead_of: Option<Before>,
}

/// An instrument as it was when somebody looked at it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Before {
    name: String,
    text: String,
}

/// What was kept, and all that there is now.
#[derive(Serialize)]
struct KeptAnswer {
    name: String,
    #[serde(flatten)]
    cabinet: CabinetAnswer,
}

pub(super) async fn keep(State(desk): State<Desk>, body: Body<Keeping>) -> Result<Response, Fault> {
    let Json(keeping) = body?;
    reckon(move || {
        let cabinet = desk.cabinet();
        let folder = desk.shelf.folder()?;
        let Some(before) = &keeping.instead_of else {
            let name = cabinet.fit_to_keep(&keeping.text, None)?;
            folder.add(&name, &keeping.text)?;
            return Ok(kept_answer(&desk, name));
        };
        let file = own_file(&cabinet, &before.name)?;
        let name = cabinet.fit_to_keep(&keeping.text, Some(&before.name))?;
        let was_usual = is_usual(&desk, &before.name)?;
        folder.replace(&file, &before.text, &keeping.text)?;
        // The settings know it by its name.
        if was_usual && before.name != name {
            make_usual(&desk, Some(&name))?;
        }
        Ok(kept_answer(&desk, name))
    })
    .await
}

fn kept_answer(desk: &Desk, name: String) -> KeptAnswer {
    KeptAnswer {
        name,
        cabinet: desk::cabinet(&desk.cabinet()),
    }
}

pub(super) async fn delete(
    State(desk): State<Desk>,
    body: Body<Before>,
) -> Result<Response, Fault> {
    let Json(before) = body?;
    reckon(move || {
        let file = own_file(&desk.cabinet(), &before.name)?;
        let was_usual = is_usual(&desk, &before.name)?;
        desk.shelf.folder()?.remove(&file, &before.text)?;
        if was_usual {
            make_usual(&desk, None)?;
        }
        Ok(desk::cabinet(&desk.cabinet()))
    })
    .await
}

/// The file of an instrument of one's own.
fn own_file(cabinet: &desk::Cabinet, name: &str) -> Result<String, Fault> {
    match cabinet.specified(name)?.file {
        Some(file) => Ok(file.to_owned()),
        None => Err(Fault::Request(
            axum::http::StatusCode::UNPROCESSABLE_ENTITY,
            format!(
                "{name} does not lie in the cabinet’s folder and is not changed here; a copy of it would do"
            ),
        )),
    }
}

/// Whether an instrument is the usual one.
fn is_usual(desk: &Desk, name: &str) -> Result<bool, Fault> {
    let usual = desk.keeper.kept().map_err(not_kept)?.with;
    Ok(usual.is_some_and(|usual| usual.to_lowercase() == name.to_lowercase()))
}

/// Makes another the usual one, or none.
fn make_usual(desk: &Desk, name: Option<&str>) -> Result<(), Fault> {
    let mut kept = desk.keeper.kept().map_err(not_kept)?;
    kept.with = name.map(str::to_owned);
    desk.keeper.keep(kept).map_err(not_kept)
}
