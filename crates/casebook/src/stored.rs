use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::{Case, CaseId, CasebookError, Kept};

/// The text of a case as it stands in the file.
pub(crate) fn document(case: &Case) -> Result<String, CasebookError> {
    serde_json::to_string(case).map_err(|error| CasebookError::Text(error.to_string()))
}

/// A case from its text. Fields that a later program added are refused with its
/// version, so that none is lost silently.
pub(crate) fn case(id: CaseId, text: &str) -> Result<Case, CasebookError> {
    serde_json::from_str(text)
        .map_err(|error| CasebookError::Text(format!("case {id} cannot be read: {error}")))
}

/// The columns that [`kept`] reads.
pub(crate) const COLUMNS: &str = "id, version, kept_unix_s, changed_unix_s, document";

pub(crate) fn kept(row: &Row<'_>) -> rusqlite::Result<(Kept, String)> {
    let kept = Kept {
        id: CaseId(row.get(0)?),
        version: row.get(1)?,
        kept_unix_s: row.get(2)?,
        changed_unix_s: row.get(3)?,
        case: Case::default(),
    };
    Ok((kept, row.get(4)?))
}

pub(crate) fn whole((kept, text): (Kept, String)) -> Result<Kept, CasebookError> {
    let case = case(kept.id, &text)?;
    Ok(Kept { case, ..kept })
}

pub(crate) fn get(connection: &Connection, id: CaseId) -> Result<Kept, CasebookError> {
    let query = format!("SELECT {COLUMNS} FROM cases WHERE id = ?1");
    let found = connection
        .prepare_cached(&query)?
        .query_row([id.0], kept)
        .optional()?;
    whole(found.ok_or(CasebookError::NoCase(id))?)
}

/// The mark by which a case is known in every copy of its book.
pub(crate) fn uid(connection: &Connection, id: CaseId) -> Result<String, CasebookError> {
    connection
        .query_row("SELECT uid FROM cases WHERE id = ?1", [id.0], |row| {
            row.get(0)
        })
        .optional()?
        .ok_or(CasebookError::NoCase(id))
}

/// The number of the case with a mark.
pub(crate) fn id_of(connection: &Connection, uid: &str) -> Result<Option<CaseId>, CasebookError> {
    let id = connection
        .query_row("SELECT id FROM cases WHERE uid = ?1", [uid], |row| {
            row.get(0)
        })
        .optional()?;
    Ok(id.map(CaseId))
}

/// A new case; its number.
pub(crate) fn insert(
    connection: &Connection,
    case: &Case,
    now_unix_s: i64,
) -> Result<CaseId, CasebookError> {
    connection
        .prepare_cached(
            "INSERT INTO cases(version, kept_unix_s, changed_unix_s, document) VALUES(1, ?1, ?1, ?2)",
        )?
        .execute(params![now_unix_s, document(case)?])?;
    let id = CaseId(connection.last_insert_rowid());
    index(connection, id, case)?;
    Ok(id)
}

/// Puts a case in the place of what is kept under its number.
pub(crate) fn update(
    connection: &Connection,
    id: CaseId,
    case: &Case,
    now_unix_s: i64,
) -> Result<(), CasebookError> {
    connection
        .prepare_cached(
            "UPDATE cases SET version = version + 1, changed_unix_s = ?2, document = ?3 WHERE id = ?1",
        )?
        .execute(params![id.0, now_unix_s, document(case)?])?;
    unindex(connection, id)?;
    index(connection, id, case)
}

/// Takes a case away, and all that belongs to it.
pub(crate) fn remove(connection: &Connection, id: CaseId) -> Result<(), CasebookError> {
    unindex(connection, id)?;
    connection
        .prepare_cached("DELETE FROM cases WHERE id = ?1")?
        .execute([id.0])?;
    Ok(())
}

/// What was there before a change, so that it can be undone; nothing before a case
/// was kept.
pub(crate) fn remember(
    connection: &Connection,
    id: CaseId,
    before: Option<&Case>,
    now_unix_s: i64,
) -> Result<(), CasebookError> {
    let before = before.map(document).transpose()?;
    connection
        .prepare_cached("INSERT INTO done(case_id, at_unix_s, before) VALUES(?1, ?2, ?3)")?
        .execute(params![id.0, now_unix_s, before])?;
    Ok(())
}

/// Enters the words and tags of a case.
pub(crate) fn index(connection: &Connection, id: CaseId, case: &Case) -> Result<(), CasebookError> {
    index_words(connection, id, case)?;
    let mut statement =
        connection.prepare_cached("INSERT INTO tags(tag, case_id) VALUES(?1, ?2)")?;
    for tag in &case.tags {
        statement.execute(params![tag, id.0])?;
    }
    Ok(())
}

pub(crate) fn index_words(
    connection: &Connection,
    id: CaseId,
    case: &Case,
) -> Result<(), CasebookError> {
    let words = [
        &case.name,
        &case.when,
        &case.at,
        &case.note,
        &case.tags.join(" "),
    ];
    connection
        .prepare_cached("INSERT INTO words(rowid, body) VALUES(?1, ?2)")?
        .execute(params![id.0, words.map(String::as_str).join("\n")])?;
    Ok(())
}

fn unindex(connection: &Connection, id: CaseId) -> Result<(), CasebookError> {
    for table in [
        "DELETE FROM words WHERE rowid = ?1",
        "DELETE FROM tags WHERE case_id = ?1",
    ] {
        connection.prepare_cached(table)?.execute([id.0])?;
    }
    Ok(())
}
