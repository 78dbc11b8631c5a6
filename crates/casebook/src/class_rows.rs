//! Classes and their papers as rows of the book's table.

use rusqlite::Connection;

use crate::error::{CasebookError, Unreadable};
use crate::kind::Kind;
use crate::stored::{self, RawCase};
use crate::{CaseId, Class, ClassId, KeptClass, KeptPaper, Paper, PaperId};

fn unfit(what: &str, why: &str) -> CasebookError {
    CasebookError::UnfitClass(format!("this {what} cannot be kept: {why}"))
}

pub(crate) fn fit(class: &Class) -> Result<(), CasebookError> {
    class.check().map_err(|why| unfit("class", &why))
}

pub(crate) fn fit_paper(paper: &Paper) -> Result<(), CasebookError> {
    paper.check().map_err(|why| unfit("sheet", &why))
}

fn kept_class(raw: RawCase) -> Result<KeptClass, CasebookError> {
    Ok(KeptClass {
        id: ClassId(raw.id),
        version: raw.version,
        kept_unix_s: raw.kept_unix_s,
        changed_unix_s: raw.changed_unix_s,
        class: stored::read(CaseId(raw.id), &raw.document)?,
    })
}

fn kept_paper(raw: RawCase) -> Result<KeptPaper, CasebookError> {
    let class = raw.class_id.ok_or_else(|| Unreadable {
        id: CaseId(raw.id),
        why: "is a sheet of no class".to_owned(),
    })?;
    Ok(KeptPaper {
        id: PaperId(raw.id),
        class: ClassId(class),
        version: raw.version,
        kept_unix_s: raw.kept_unix_s,
        changed_unix_s: raw.changed_unix_s,
        paper: stored::read(CaseId(raw.id), &raw.document)?,
    })
}

pub(crate) fn class_in(connection: &Connection, id: ClassId) -> Result<KeptClass, CasebookError> {
    let raw = stored::find(connection, id.0)?;
    let raw = raw.filter(|raw| raw.kind == Kind::Class);
    kept_class(raw.ok_or(CasebookError::NoClass(id))?)
}

/// Puts papers in the place of others that are still the versions their edits began from;
/// undone as one.
pub(crate) fn edit_papers(
    connection: &Connection,
    edits: &[(PaperId, i64, &Paper)],
    now_unix_s: i64,
) -> Result<Vec<KeptPaper>, CasebookError> {
    let mut change = None;
    let mut edited = Vec::new();
    for (id, version, paper) in edits {
        fit_paper(paper)?;
        let before = paper_in(connection, *id)?;
        if before.version != *version {
            return Err(CasebookError::PaperChanged(*id));
        }
        let row = CaseId(id.0);
        let first =
            stored::replace_row(connection, row, (&before.paper, *paper), now_unix_s, change)?;
        change.get_or_insert(first);
        edited.push(paper_in(connection, *id)?);
    }
    Ok(edited)
}

pub(crate) fn paper_in(connection: &Connection, id: PaperId) -> Result<KeptPaper, CasebookError> {
    let raw = stored::find(connection, id.0)?;
    let raw = raw.filter(|raw| raw.kind == Kind::Paper);
    kept_paper(raw.ok_or(CasebookError::NoPaper(id))?)
}

pub(crate) fn papers_in(
    connection: &Connection,
    id: ClassId,
) -> Result<Vec<KeptPaper>, CasebookError> {
    let raw = stored::all(connection, "kind <> 'case' AND class_id = ?1", [id.0])?;
    raw.into_iter().map(kept_paper).collect()
}

/// Keeps a class with its papers; undone as one.
pub(crate) fn insert_class(
    connection: &Connection,
    class: &Class,
    papers: &[Paper],
    now_unix_s: i64,
) -> Result<ClassId, CasebookError> {
    fit(class)?;
    let text = stored::text(class)?;
    let row = stored::insert_row(connection, Kind::Class, None, &text, now_unix_s)?;
    let change = stored::remember(connection, row, None, now_unix_s, None)?;
    let id = ClassId(row.0);
    insert_papers(connection, id, papers, now_unix_s, Some(change))?;
    Ok(id)
}

/// Keeps papers together: what is undone with the first is undone with all. They belong to
/// the change that is given, else they are one of their own.
pub(crate) fn insert_papers(
    connection: &Connection,
    id: ClassId,
    papers: &[Paper],
    now_unix_s: i64,
    mut change: Option<i64>,
) -> Result<(), CasebookError> {
    for paper in papers {
        fit_paper(paper)?;
        let text = stored::text(paper)?;
        let row = stored::insert_row(connection, Kind::Paper, Some(id.0), &text, now_unix_s)?;
        let first = stored::remember(connection, row, None, now_unix_s, change)?;
        change.get_or_insert(first);
    }
    Ok(())
}

/// What a class or a paper is called in a sentence.
pub(crate) fn called(connection: &Connection, raw: &RawCase) -> Result<String, CasebookError> {
    let id = CaseId(raw.id);
    match raw.class_id {
        None => Ok(format!(
            "the class {}",
            stored::read::<Class>(id, &raw.document)?.name
        )),
        Some(class) => {
            let class = class_in(connection, ClassId(class))?.class.name;
            let paper: Paper = stored::read(id, &raw.document)?;
            Ok(format!(
                "sheet {} of {}, in the class {class},",
                paper.sheet, paper.pupil
            ))
        }
    }
}

/// Every class, in the order in which they were kept.
pub(crate) fn all(connection: &Connection) -> Result<Vec<KeptClass>, CasebookError> {
    let raw = stored::all(connection, "kind <> 'case' AND class_id IS NULL", [])?;
    raw.into_iter().map(kept_class).collect()
}

/// All the papers of a class together have no more than this: they are looked at together.
/// Forty sheets of six questions for thirty pupils have some 46 MB.
const MOST_BYTES: i64 = 48 << 20;

/// That a class has no more papers than it can have.
pub(crate) fn is_not_full(connection: &Connection, id: ClassId) -> Result<(), CasebookError> {
    let bytes: i64 = connection.query_row(
        "SELECT coalesce(sum(octet_length(document)), 0) FROM cases
         WHERE kind <> 'case' AND class_id = ?1",
        [id.0],
        |row| row.get(0),
    )?;
    if bytes > MOST_BYTES {
        return Err(CasebookError::ClassFull(id));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_of_no_class_is_not_given_to_one() {
        let raw = RawCase {
            id: 7,
            version: 1,
            kept_unix_s: 0,
            changed_unix_s: 0,
            document: String::new(),
            checksum: 0,
            kind: Kind::Paper,
            class_id: None,
        };
        let why = kept_paper(raw).unwrap_err().to_string();
        assert!(why.contains("no class"), "{why}");
    }
}
