//! A time that is sought, and the year's book, with their calendar files.

use desk::{ChooseAnswer, ChooseRequest, YearRequest};
use patience::Patience;
use press::BookPaper;
use serde::{Deserialize, Serialize};

use crate::answer::read;
use crate::{Answer, Fault, Holder, json};

/// The media type of a calendar file (RFC 5545).
const CALENDAR: &str = "text/calendar; charset=utf-8";

/// The times that were found, and the strip of the weeks for the page's own colours.
#[derive(Serialize)]
struct Chosen {
    #[serde(flatten)]
    answer: ChooseAnswer,
    svg: String,
}

pub(crate) fn choose(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let answer = desk::choose(&read::<ChooseRequest>(body)?, holder.now_unix_s(), patience)?;
    let svg = desk::choice_svg(&answer, "chosen-");
    json(&Chosen { answer, svg })
}

/// The times that were found, for a calendar.
pub(crate) fn choose_calendar(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let answer = desk::choose(&read::<ChooseRequest>(body)?, holder.now_unix_s(), patience)?;
    calendar(handouts::choice_calendar(&answer, None).map_err(Fault::asked)?)
}

/// A year's book, and its paper.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BookAsked {
    year: YearRequest,
    paper: String,
}

pub(crate) fn year_book(body: &[u8], holder: &dyn Holder) -> Result<Answer, Fault> {
    let asked: BookAsked = read(body)?;
    let paper = BookPaper::named(&asked.paper).map_err(Fault::asked)?;
    let answer = desk::year(&asked.year, &holder.cabinet())?;
    let bytes = press::year_book(&handouts::year_handout(&answer), paper).map_err(Fault::asked)?;
    Ok(Answer {
        kind: "application/pdf",
        bytes,
    })
}

/// Which events of a year go into a calendar.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct YearCalendarAsked {
    year: YearRequest,
    kinds: Vec<String>,
}

pub(crate) fn year_calendar(body: &[u8], holder: &dyn Holder) -> Result<Answer, Fault> {
    let asked: YearCalendarAsked = read(body)?;
    let answer = desk::year(&asked.year, &holder.cabinet())?;
    calendar(handouts::year_calendar(&answer, &asked.kinds, None).map_err(Fault::asked)?)
}

fn calendar(text: String) -> Result<Answer, Fault> {
    Ok(Answer {
        kind: CALENDAR,
        bytes: text.into_bytes(),
    })
}
