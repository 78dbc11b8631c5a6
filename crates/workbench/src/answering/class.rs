//! What the page asks of the classes in the casebook.

use axum::Json;
use axum::extract::State;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse as _, Response};
use casebook::{Class, ClassId, KeptClass, KeptPaper, Paper, PaperId};
use page::{ClassLook, ClassPrint, Collected, Giving, Holder as _, Posted, Read};
use press::PageSize;
use serde::{Deserialize, Serialize};

use super::{Body, Desk, reckon};
use crate::fault::Fault;

#[derive(Serialize)]
struct Classes {
    classes: Vec<KeptClass>,
    /// What the user should know of the casebook, in sentences.
    notices: Vec<String>,
}

pub(super) async fn list(State(desk): State<Desk>) -> Result<Response, Fault> {
    reckon(move || {
        desk.book.with(|book| {
            Ok(Classes {
                classes: book.classes()?,
                notices: book.notices(),
            })
        })
    })
    .await
}

/// A class or the text of its file, in place of one that is kept, or as a new one.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Keeping {
    instead_of: Option<Named>,
    class: Option<Class>,
    text: Option<String>,
}

/// A class as it stood before whoever changes it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Named {
    id: ClassId,
    version: i64,
}

pub(super) async fn keep(State(desk): State<Desk>, body: Body<Keeping>) -> Result<Response, Fault> {
    let Json(Keeping {
        instead_of,
        class,
        text,
    }) = body?;
    reckon(move || {
        let cabinet = desk.cabinet();
        let class = match class {
            Some(class) => class,
            None => page::class_of_text(&text.unwrap_or_default(), &cabinet)?,
        };
        page::class_fits(&class, &cabinet)?;
        desk.book.with(|book| match instead_of {
            Some(Named { id, version }) => Ok(book.edit_class(id, version, &class)?),
            None => Ok(book.keep_class(&class)?),
        })
    })
    .await
}

pub(super) async fn delete(State(desk): State<Desk>, body: Body<Named>) -> Result<Response, Fault> {
    let Json(Named { id, version }) = body?;
    reckon(move || {
        desk.book.with(|book| {
            let left = book.delete_class(id, version)?.left;
            let left: Vec<String> = left.iter().map(ToString::to_string).collect();
            Ok(serde_json::json!({ "left": left }))
        })
    })
    .await
}

/// A class with its sheets, and what they say.
#[derive(Serialize)]
struct Looked {
    kept: KeptClass,
    look: ClassLook,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OfClass {
    id: ClassId,
}

pub(super) async fn look(State(desk): State<Desk>, body: Body<OfClass>) -> Result<Response, Fault> {
    let Json(OfClass { id }) = body?;
    reckon(move || looked(&desk, id)).await
}

fn looked(desk: &Desk, id: ClassId) -> Result<Looked, Fault> {
    let (kept, papers) = desk
        .book
        .with(|book| Ok((book.class(id)?, book.papers(id)?)))?;
    let look = page::class_look(&kept.class, &papers)?;
    Ok(Looked { kept, look })
}

/// What is to be given out.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GivingOut {
    id: ClassId,
    giving: Giving,
}

pub(super) async fn give_out(
    State(desk): State<Desk>,
    body: Body<GivingOut>,
) -> Result<Response, Fault> {
    let Json(GivingOut { id, giving }) = body?;
    let long_work = desk.long_work.clone();
    let given = long_work.done(move |patience| {
        let kept = desk.book.with(|book| Ok(book.class(id)?))?;
        // Drawn before the book is taken again, so that others may use it.
        let papers = page::drawn_papers(&kept.class, &giving, &desk.cabinet(), patience)?;
        desk.book.with(|book| Ok(book.give_out(id, papers)?))?;
        looked(&desk, id)
    });
    Ok(Json(given.await?).into_response())
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OfPaper {
    id: PaperId,
}

pub(super) async fn paper(
    State(desk): State<Desk>,
    body: Body<OfPaper>,
) -> Result<Response, Fault> {
    let Json(OfPaper { id }) = body?;
    reckon(move || desk.book.with(|book| Ok(book.paper(id)?))).await
}

/// What a pupil read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Answers {
    id: PaperId,
    version: i64,
    read: Read,
    remark: String,
}

pub(super) async fn answer(
    State(desk): State<Desk>,
    body: Body<Answers>,
) -> Result<Response, Fault> {
    let Json(answers) = body?;
    reckon(move || {
        let kept = desk.book.with(|book| Ok(book.paper(answers.id)?))?;
        let paper = Paper {
            remark: answers.remark,
            ..page::answered(&kept.paper, &answers.read, &desk.cabinet())?
        };
        let edited: KeptPaper = desk
            .book
            .with(|book| Ok(book.edit_paper(answers.id, answers.version, &paper)?))?;
        Ok(edited)
    })
    .await
}

/// A sheet that is to go to pupils.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ToPost {
    id: ClassId,
    sheet: u32,
    corrects: bool,
}

#[derive(Serialize)]
struct ForPost {
    posted: Posted,
    /// The pupils in the order of their numbers; they stand on no page.
    names: Vec<String>,
}

pub(super) async fn post(State(desk): State<Desk>, body: Body<ToPost>) -> Result<Response, Fault> {
    let Json(ToPost {
        id,
        sheet,
        corrects,
    }) = body?;
    reckon(move || {
        let (kept, papers) = desk
            .book
            .with(|book| Ok((book.class(id)?, book.papers(id)?)))?;
        let (posted, names) =
            page::posted(&kept.class, &papers, Some(sheet), corrects, &desk.cabinet())?;
        Ok(ForPost { posted, names })
    })
    .await
}

/// A file of answers that came back.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Collecting {
    id: ClassId,
    text: String,
    /// Whether what was answered before gives way.
    instead: bool,
}

/// Whose answers were taken.
#[derive(Serialize)]
struct TakenIn {
    pupils: Vec<String>,
    looked: Looked,
}

pub(super) async fn collect(
    State(desk): State<Desk>,
    body: Body<Collecting>,
) -> Result<Response, Fault> {
    let Json(Collecting { id, text, instead }) = body?;
    reckon(move || {
        let came = page::came_back(&text)?;
        let papers = desk.book.with(|book| Ok(book.papers(id)?))?;
        // Corrected before the book is taken again, so that others may use it.
        let all = page::collected(id, &papers, &came, instead, &desk.cabinet())?;
        let edits = all.iter().filter_map(Collected::edit);
        desk.book.with(|book| Ok(book.edit_papers(edits)?))?;
        Ok(TakenIn {
            pupils: all.into_iter().map(|one| one.before.paper.pupil).collect(),
            looked: looked(&desk, id)?,
        })
    })
    .await
}

/// Something to be printed: of a sheet, or of all for the seating list.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ToPrint {
    id: ClassId,
    sheet: Option<u32>,
    what: ClassPrint,
    page: String,
}

pub(super) async fn print(
    State(desk): State<Desk>,
    body: Body<ToPrint>,
) -> Result<Response, Fault> {
    let Json(asked) = body?;
    let long_work = desk.long_work.clone();
    let printed = long_work.done(move |patience| {
        let size = PageSize::parse(&asked.page).map_err(page::Fault::asked)?;
        let (kept, papers) = desk
            .book
            .with(|book| Ok((book.class(asked.id)?, book.papers(asked.id)?)))?;
        Ok(page::class_print(
            &kept.class,
            &papers,
            (asked.what, asked.sheet),
            size,
            patience,
        )?)
    });
    Ok(([(CONTENT_TYPE, "application/pdf")], printed.await?).into_response())
}
