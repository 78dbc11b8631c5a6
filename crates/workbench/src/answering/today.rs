//! What lies on the desk today: the last cases, work to correct, plates to make.

use axum::extract::State;
use axum::response::Response;
use casebook::Kept;
use page::{Holder as _, PlateToMake, plates_to_make};
use serde::Serialize;

use super::state::{Desk, not_kept, reckon};
use crate::fault::Fault;

#[derive(Serialize)]
struct Today {
    recent: Vec<Kept>,
    to_correct: Vec<Kept>,
    plates: Vec<PlateToMake>,
}

/// How many of each are shown.
const SHOWN: usize = 6;

/// Places are taken from so many of the last cases.
const LOOKED_THROUGH: usize = 40;

pub(super) async fn today(State(desk): State<Desk>) -> Result<Response, Fault> {
    let usual = desk.keeper.kept().map_err(not_kept)?.with;
    reckon(move || {
        let (last, to_correct) = desk.book.with(|book| {
            Ok((
                book.find("", LOOKED_THROUGH)?.cases,
                book.to_correct(SHOWN)?.cases,
            ))
        })?;
        let plates = plates_to_make(&last, usual.as_deref(), &desk.cabinet(), SHOWN);
        Ok(Today {
            recent: last.into_iter().take(SHOWN).collect(),
            to_correct,
            plates,
        })
    })
    .await
}
