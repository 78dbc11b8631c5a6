use rusqlite::{Connection, OptionalExtension, Row, params};

use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::checksum::{self, CaseBytes};
use crate::kind::Kind;
use crate::{Case, CaseId, CasebookError, Kept, Unreadable};

/// The text of what is kept, as it stands in the file.
pub(crate) fn text(document: &impl Serialize) -> Result<String, CasebookError> {
    serde_json::to_string(document).map_err(|error| CasebookError::Text(error.to_string()))
}

/// What is kept, from its text. Fields that a later program added are refused with its
/// version, so that none is lost silently.
pub(crate) fn read<T: DeserializeOwned>(id: CaseId, text: &str) -> Result<T, CasebookError> {
    serde_json::from_str(text)
        .map_err(|error| CasebookError::Text(format!("case {id} cannot be read: {error}")))
}

/// The columns that [`raw`] reads.
pub(crate) const COLUMNS: &str =
    "id, uid, version, kept_unix_s, changed_unix_s, document, checksum, kind, class_id";

/// The same of a file that has no classes yet.
pub(crate) const COLUMNS_BEFORE_CLASSES: &str = "id, uid, version, kept_unix_s, changed_unix_s, \
     document, checksum, 'case', NULL";

/// A row of the cases, whose checksum is right.
pub(crate) struct RawCase {
    pub(crate) id: i64,
    pub(crate) version: i64,
    pub(crate) kept_unix_s: i64,
    pub(crate) changed_unix_s: i64,
    pub(crate) document: String,
    pub(crate) checksum: i64,
    pub(crate) kind: Kind,
    pub(crate) class_id: Option<i64>,
}

/// A row as it stands, held against its checksum.
pub(crate) fn raw(row: &Row<'_>) -> Result<RawCase, Unreadable> {
    // The number stands in the key of the row: where that is spoiled, so is the page.
    let id = row.get(0).unwrap_or_default();
    let unreadable = |why: String| Unreadable {
        id: CaseId(id),
        why,
    };
    let read = || -> rusqlite::Result<(String, RawCase)> {
        let uid = row.get(1)?;
        let raw = RawCase {
            id: row.get(0)?,
            version: row.get(2)?,
            kept_unix_s: row.get(3)?,
            changed_unix_s: row.get(4)?,
            document: row.get(5)?,
            checksum: row.get(6)?,
            kind: row.get(7)?,
            class_id: row.get(8)?,
        };
        Ok((uid, raw))
    };
    let (uid, raw) = read().map_err(|error| unreadable(format!("cannot be read: {error}")))?;
    let checksum = CaseBytes {
        id: raw.id,
        uid: &uid,
        version: raw.version,
        kept_unix_s: raw.kept_unix_s,
        changed_unix_s: raw.changed_unix_s,
        document: &raw.document,
        kind: raw.kind,
        class_id: raw.class_id,
    }
    .checksum();
    if checksum == raw.checksum {
        Ok(raw)
    } else {
        Err(unreadable(
            "is not as it was kept: its checksum is another".to_owned(),
        ))
    }
}

/// How long the text of a row is; nothing where it is none.
pub(crate) fn length(row: &Row<'_>) -> usize {
    let document = row.get_ref(5).ok();
    document.map_or(0, |document| document.as_str().map_or(0, str::len))
}

/// A case of a row.
pub(crate) fn kept(row: &Row<'_>) -> Result<Kept, Unreadable> {
    let raw = raw(row)?;
    case_of(raw)
}

fn case_of(raw: RawCase) -> Result<Kept, Unreadable> {
    let id = CaseId(raw.id);
    let case = read(id, &raw.document).map_err(|error| Unreadable {
        id,
        why: error.to_string(),
    })?;
    Ok(Kept {
        id,
        version: raw.version,
        kept_unix_s: raw.kept_unix_s,
        changed_unix_s: raw.changed_unix_s,
        case,
    })
}

pub(crate) fn get(connection: &Connection, id: CaseId) -> Result<Kept, CasebookError> {
    match find(connection, id.0)? {
        Some(raw) if raw.kind == Kind::Case => Ok(case_of(raw)?),
        Some(_) | None => Err(CasebookError::NoCase(id)),
    }
}

/// A row by its number, whatever it is.
pub(crate) fn find(connection: &Connection, id: i64) -> Result<Option<RawCase>, CasebookError> {
    Ok(all(connection, "id = ?1", [id])?.pop())
}

/// The rows that a condition holds of, in order of their numbers.
pub(crate) fn all<P: rusqlite::Params>(
    connection: &Connection,
    condition: &str,
    values: P,
) -> Result<Vec<RawCase>, CasebookError> {
    let query = format!("SELECT {COLUMNS} FROM cases WHERE {condition} ORDER BY id");
    let mut statement = connection.prepare_cached(&query)?;
    let mut rows = statement.query(values)?;
    let mut all = Vec::new();
    while let Some(row) = rows.next()? {
        all.push(raw(row)?);
    }
    Ok(all)
}

/// Gives a row the checksum of what it is now, read by these columns.
fn seal(connection: &Connection, id: CaseId, columns: &str) -> Result<(), CasebookError> {
    let query = format!("SELECT {columns} FROM cases WHERE id = ?1");
    let mut statement = connection.prepare_cached(&query)?;
    let checksum = statement.query_row([id.0], |row| {
        let (uid, document): (String, String) = (row.get(1)?, row.get(5)?);
        Ok(CaseBytes {
            id: row.get(0)?,
            uid: &uid,
            version: row.get(2)?,
            kept_unix_s: row.get(3)?,
            changed_unix_s: row.get(4)?,
            document: &document,
            kind: row.get(7)?,
            class_id: row.get(8)?,
        }
        .checksum())
    })?;
    connection
        .prepare_cached("UPDATE cases SET checksum = ?2 WHERE id = ?1")?
        .execute(params![id.0, checksum])?;
    Ok(())
}

/// Gives all that was kept before there were checksums its own.
pub(crate) fn seal_all(connection: &Connection) -> Result<(), CasebookError> {
    let mut statement = connection.prepare("SELECT id FROM cases")?;
    let ids: Vec<i64> = statement
        .query_map([], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    for id in ids {
        seal(connection, CaseId(id), COLUMNS_BEFORE_CLASSES)?;
    }
    let mut statement = connection.prepare("SELECT id, case_id, at_unix_s, before FROM done")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let before: Option<String> = row.get(3)?;
        let checksum = checksum::of_change(row.get(1)?, row.get(2)?, before.as_deref(), None);
        connection
            .prepare_cached("UPDATE done SET checksum = ?2 WHERE id = ?1")?
            .execute(params![row.get::<_, i64>(0)?, checksum])?;
    }
    Ok(())
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
    let id = insert_row(connection, Kind::Case, None, &text(case)?, now_unix_s)?;
    index(connection, id, case)?;
    Ok(id)
}

/// A new row; its number.
pub(crate) fn insert_row(
    connection: &Connection,
    kind: Kind,
    class_id: Option<i64>,
    document: &str,
    now_unix_s: i64,
) -> Result<CaseId, CasebookError> {
    connection
        .prepare_cached(
            "INSERT INTO cases(version, kept_unix_s, changed_unix_s, document, kind, class_id)
             VALUES(1, ?1, ?1, ?2, ?3, ?4)",
        )?
        .execute(params![now_unix_s, document, kind.name(), class_id])?;
    let id = CaseId(connection.last_insert_rowid());
    seal(connection, id, COLUMNS)?;
    Ok(id)
}

/// Puts a case in the place of what is kept under its number.
pub(crate) fn update(
    connection: &Connection,
    id: CaseId,
    case: &Case,
    now_unix_s: i64,
) -> Result<(), CasebookError> {
    update_row(connection, id, &text(case)?, now_unix_s)?;
    unindex(connection, id)?;
    index(connection, id, case)
}

/// Puts a document in the place of what is kept under its number.
pub(crate) fn update_row(
    connection: &Connection,
    id: CaseId,
    document: &str,
    now_unix_s: i64,
) -> Result<(), CasebookError> {
    connection
        .prepare_cached(
            "UPDATE cases SET version = version + 1, changed_unix_s = ?2, document = ?3 WHERE id = ?1",
        )?
        .execute(params![id.0, now_unix_s, document])?;
    seal(connection, id, COLUMNS)
}

/// The same with a document of any kind, so that it can be undone, together with another
/// change where one is named; returns the number by which more are named with it.
pub(crate) fn replace_row<T: Serialize>(
    connection: &Connection,
    id: CaseId,
    (before, after): (&T, &T),
    now_unix_s: i64,
    with_done: Option<i64>,
) -> Result<i64, CasebookError> {
    let first = remember(connection, id, Some(&text(before)?), now_unix_s, with_done)?;
    update_row(connection, id, &text(after)?, now_unix_s)?;
    Ok(first)
}

/// Takes a case away, and all that belongs to it.
pub(crate) fn remove(connection: &Connection, id: CaseId) -> Result<(), CasebookError> {
    unindex(connection, id)?;
    connection
        .prepare_cached("DELETE FROM cases WHERE id = ?1")?
        .execute([id.0])?;
    Ok(())
}

/// What was there before a change, so that it can be undone; nothing before it was kept.
/// What is undone together names the first of them, whose number is returned.
pub(crate) fn remember(
    connection: &Connection,
    id: CaseId,
    before: Option<&str>,
    now_unix_s: i64,
    with_done: Option<i64>,
) -> Result<i64, CasebookError> {
    connection
        .prepare_cached(
            "INSERT INTO done(case_id, at_unix_s, before, checksum, with_done)
             VALUES(?1, ?2, ?3, ?4, ?5)",
        )?
        .execute(params![
            id.0,
            now_unix_s,
            before,
            checksum::of_change(id.0, now_unix_s, before, with_done),
            with_done
        ])?;
    Ok(with_done.unwrap_or(connection.last_insert_rowid()))
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
    connection
        .prepare_cached("INSERT INTO words(rowid, body) VALUES(?1, ?2)")?
        .execute(params![id.0, words_of(case)])?;
    Ok(())
}

/// What a case is found by.
fn words_of(case: &Case) -> String {
    let words = [
        &case.name,
        &case.when,
        &case.at,
        &case.note,
        &case.tags.join(" "),
    ];
    words.map(String::as_str).join("\n")
}

/// That a case is found by its own words and tags and by no others.
pub(crate) fn is_indexed(connection: &Connection, kept: &Kept) -> Result<bool, CasebookError> {
    let words: Option<String> = connection
        .prepare_cached("SELECT body FROM words WHERE rowid = ?1")?
        .query_row([kept.id.0], |row| row.get(0))
        .optional()?;
    let mut statement =
        connection.prepare_cached("SELECT tag FROM tags WHERE case_id = ?1 ORDER BY tag")?;
    let tags: Vec<String> = statement
        .query_map([kept.id.0], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    Ok(words.as_deref() == Some(words_of(&kept.case).as_str()) && tags == kept.case.tags)
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
