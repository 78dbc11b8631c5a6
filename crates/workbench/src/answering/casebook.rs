//! What the page asks of the casebook.

use std::io::Write;

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use casebook::{
    Case, CaseId, CasebookError, CsvFor, Kept, Undone, Unreadable, write_csv, write_json,
};
use desk::Cabinet;
use page::{FormIn, FormOut, Holder as _, cast_of, fit_to_keep};
use serde::{Deserialize, Serialize};

use super::state::{Body, Desk, reckon};
use crate::fault::Fault;
use crate::guard::MOST_BYTES_OF_A_BOOK;

/// What is looked for: words, a tag, or neither for the last that were kept.
#[derive(Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Sought {
    words: String,
    tag: Option<String>,
    limit: usize,
}

impl Default for Sought {
    fn default() -> Sought {
        Sought {
            words: String::new(),
            tag: None,
            limit: 40,
        }
    }
}

#[derive(Serialize)]
struct FoundCases {
    cases: Vec<Kept>,
    /// Cases that are not as they were kept, so that they are not shown.
    unreadable: Vec<Unreadable>,
    /// What the user should know of the casebook, in sentences.
    notices: Vec<String>,
    more: bool,
    tags: Vec<(String, u64)>,
    total: u64,
}

/// No page shows more at once.
const MOST_SHOWN: usize = 500;

pub(super) async fn find(State(desk): State<Desk>, body: Body<Sought>) -> Result<Response, Fault> {
    let Json(sought) = body?;
    let limit = sought.limit.min(MOST_SHOWN);
    reckon(move || {
        desk.book.with(|book| {
            let found = match &sought.tag {
                Some(tag) => book.tagged(tag, limit)?,
                None => book.find(&sought.words, limit)?,
            };
            Ok(FoundCases {
                cases: found.cases,
                unreadable: found.unreadable,
                notices: book.notices(),
                more: found.more,
                tags: book.tags()?,
                total: book.len()?,
            })
        })
    })
    .await
}

pub(super) async fn keep(State(desk): State<Desk>, body: Body<Case>) -> Result<Response, Fault> {
    let Json(case) = body?;
    reckon(move || {
        fits(&case, &desk.cabinet())?;
        desk.book.with(|book| Ok(book.keep(case)?))
    })
    .await
}

/// A case in place of the one it was made from.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Edit {
    id: CaseId,
    version: i64,
    case: Case,
}

pub(super) async fn edit(State(desk): State<Desk>, body: Body<Edit>) -> Result<Response, Fault> {
    let Json(Edit { id, version, case }) = body?;
    reckon(move || {
        fits(&case, &desk.cabinet())?;
        desk.book.with(|book| Ok(book.edit(id, version, case)?))
    })
    .await
}

#[derive(Default, Serialize)]
struct UndoneAnswer {
    id: Option<CaseId>,
    restored: Option<Kept>,
    removed: Option<String>,
    /// What was undone of a class, in a sentence.
    of_class: Option<String>,
}

pub(super) async fn undo(State(desk): State<Desk>) -> Result<Response, Fault> {
    reckon(move || {
        desk.book.with(|book| {
            Ok(match book.undo()? {
                Undone::Restored(kept) => UndoneAnswer {
                    id: Some(kept.id),
                    restored: Some(*kept),
                    ..UndoneAnswer::default()
                },
                Undone::Removed(id, name) => UndoneAnswer {
                    id: Some(id),
                    removed: Some(name),
                    ..UndoneAnswer::default()
                },
                Undone::OfClass(said) => UndoneAnswer {
                    of_class: Some(said),
                    ..UndoneAnswer::default()
                },
            })
        })
    })
    .await
}

/// A case to be deleted, as it stood before whoever deletes it: another program may
/// have changed it meanwhile.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Deletion {
    id: CaseId,
    version: i64,
}

pub(super) async fn delete(
    State(desk): State<Desk>,
    body: Body<Deletion>,
) -> Result<Response, Fault> {
    let Json(Deletion { id, version }) = body?;
    reckon(move || {
        desk.book.with(|book| {
            let left = book.delete_version(id, version)?.left;
            Ok(DeletedAnswer {
                left: left.iter().map(ToString::to_string).collect(),
            })
        })
    })
    .await
}

/// What came of a deletion.
#[derive(Serialize)]
struct DeletedAnswer {
    /// The files in which something of the case may still stand, each with the reason.
    left: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Export {
    form: FormOut,
    /// The case behind which a part begins; all from the first, unless said.
    #[serde(default)]
    behind: Option<i64>,
}

/// A part of the book, which can be read in by itself.
#[derive(Serialize)]
struct Exported {
    text: String,
    cases: u64,
    /// The case behind which the next part begins; null where this is the last.
    next: Option<i64>,
}

/// What goes out to the page, no more than it may carry in again.
#[derive(Default)]
struct Bounded(Vec<u8>);

impl Write for Bounded {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        if self.0.len() + bytes.len() > MOST_BYTES_OF_A_BOOK {
            return Err(std::io::ErrorKind::FileTooLarge.into());
        }
        self.0.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

fn too_large() -> Fault {
    let most = MOST_BYTES_OF_A_BOOK >> 20;
    Fault::Request(
        StatusCode::PAYLOAD_TOO_LARGE,
        format!(
            "The classes of this casebook have more than {most} MB, and the page carries no more out at once; in a terminal `almuri casebook export -o cases.json` writes any."
        ),
    )
}

pub(super) async fn export(
    State(desk): State<Desk>,
    body: Body<Export>,
) -> Result<Response, Fault> {
    let Json(Export { form, behind }) = body?;
    let behind = behind.map(CaseId);
    reckon(move || {
        desk.book.with(|book| {
            let mut out = Bounded::default();
            let written = match form {
                FormOut::Json => write_json(book, behind, &mut out),
                FormOut::Csv => write_csv(book, behind, CsvFor::Reading, &mut out),
                FormOut::Spreadsheet => write_csv(book, behind, CsvFor::Spreadsheets, &mut out),
            };
            let part = match written {
                Err(CasebookError::Out(_)) => return Err(too_large()),
                other => other?,
            };
            let text = String::from_utf8(out.0).map_err(Fault::inner)?;
            Ok(Exported {
                text,
                cases: part.cases,
                next: part.next.map(|CaseId(id)| id),
            })
        })
    })
    .await
}

/// A file's text, to be kept.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Import {
    form: FormIn,
    text: String,
    /// Whether the good rows go in where others cannot.
    #[serde(default)]
    good_only: bool,
}

#[derive(Serialize)]
struct ImportedAnswer {
    kept: usize,
    good: usize,
    bad: Vec<BadRow>,
}

#[derive(Serialize)]
struct BadRow {
    line: u64,
    why: String,
}

pub(super) async fn import(
    State(desk): State<Desk>,
    body: Body<Import>,
) -> Result<Response, Fault> {
    let Json(import) = body?;
    reckon(move || imported(&desk, &import)).await
}

/// The rows are looked through before the book is taken, so that others may use it.
fn imported(desk: &Desk, import: &Import) -> Result<ImportedAnswer, Fault> {
    let cabinet = desk.cabinet();
    let fits = |case: &Case| fit_to_keep(case, &cast_of(case), &cabinet);
    let rows = import.form.rows(&import.text, fits)?;
    let bad: Vec<BadRow> = rows
        .bad
        .into_iter()
        .map(|row| BadRow {
            line: row.line,
            why: row.why,
        })
        .collect();
    let good = rows.good.len() + rows.classes.len();
    let kept = if bad.is_empty() || import.good_only {
        let cases = rows.good.into_iter().map(|(_, case)| case);
        desk.book
            .with(|book| Ok(book.keep_imported(cases.collect(), &rows.classes)?))?
    } else {
        0
    };
    Ok(ImportedAnswer { kept, good, bad })
}

fn fits(case: &Case, cabinet: &Cabinet) -> Result<(), Fault> {
    fit_to_keep(case, &cast_of(case), cabinet)
        .map_err(|why| Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why))
}
