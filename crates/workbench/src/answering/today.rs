//! What lies on the desk today: the last cases, work to correct, plates to make.

use axum::extract::State;
use axum::response::Response;
use casebook::Kept;
use desk::{Cabinet, PlatesRequest, TownPlates, WithInstrument};
use patience::Patience;
use serde::Serialize;

use super::{Desk, not_kept, reckon};
use crate::fault::Fault;

#[derive(Serialize)]
struct Today {
    recent: Vec<Kept>,
    to_correct: Vec<Kept>,
    plates: Vec<PlateToMake>,
}

/// A place of recent cases that the plates at hand serve badly.
#[derive(Serialize)]
struct PlateToMake {
    /// The instrument that lacks the plate.
    with: String,
    /// The same within a sentence.
    called: String,
    #[serde(flatten)]
    town: TownPlates,
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
        let plates = plates_to_make(&last, usual.as_deref(), &desk.cabinet());
        Ok(Today {
            recent: last.into_iter().take(SHOWN).collect(),
            to_correct,
            plates,
        })
    })
    .await
}

/// The places of these cases for which their instrument needs a plate of its own. A
/// case without an instrument was cast with the usual one.
fn plates_to_make(cases: &[Kept], usual: Option<&str>, cabinet: &Cabinet) -> Vec<PlateToMake> {
    let mut seen = Vec::new();
    let mut found = Vec::new();
    for kept in cases {
        let asked = (&kept.case.at, kept.case.with.as_deref().or(usual));
        if seen.contains(&asked) {
            continue;
        }
        seen.push(asked);
        if found.len() < SHOWN {
            found.extend(plate_to_make(asked.0, asked.1, cabinet));
        }
    }
    found
}

/// Nothing where a plate at hand serves, or the kept words are no longer understood:
/// then the case itself says so when it is taken up.
fn plate_to_make(at: &str, with: Option<&str>, cabinet: &Cabinet) -> Option<PlateToMake> {
    let with = with.map(|name| WithInstrument::Named(name.to_owned()));
    let instrument = desk::instrument_for(at, with.as_ref(), cabinet).ok()?;
    let request = PlatesRequest {
        towns: vec![at.to_owned()],
        stock_deg: instrument.plates_deg,
        ..PlatesRequest::default()
    };
    let answer = desk::plates(&request, Patience::ENDLESS);
    let town = answer.ok()?.towns.into_iter().next()?;
    (town.advice == "new-plate").then_some(PlateToMake {
        with: instrument.name,
        called: instrument.called,
        town,
    })
}
