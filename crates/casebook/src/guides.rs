//! What is kept beside the cases and speaks of them: the next number, the deletions that go
//! on, the list of what is to be corrected, the guide into the words. SQLite's own checks take a page of any of
//! these for sound when it belongs to another.

use rusqlite::Connection;

use crate::error::CasebookError;

/// With readings and without marks.
pub(crate) const IS_TO_CORRECT: &str = "json_extract(document, '$.readings') IS NOT NULL \
     AND json_extract(document, '$.marks') IS NULL";

/// That each of them fits what it leads to.
pub(crate) fn fit(moment: &Connection) -> Result<(), CasebookError> {
    for (sound, what) in [
        (
            numbers_go_on(moment)?,
            "the number that the next case gets is lost",
        ),
        (
            none_there_is_being_deleted(moment)?,
            "a case that is there is said to be deleted",
        ),
        (
            to_correct_is_whole(moment)?,
            "the list of what is to be corrected is not that of the cases",
        ),
        (
            words_are_led_to(moment)?,
            "the index of the words leads nowhere",
        ),
    ] {
        if !sound {
            return Err(CasebookError::Unsound(what.to_owned()));
        }
    }
    Ok(())
}

/// No number is given twice, not even one whose case was deleted.
fn numbers_go_on(moment: &Connection) -> rusqlite::Result<bool> {
    ["cases", "done"].iter().try_fold(true, |sound, table| {
        let sql = format!(
            "SELECT coalesce((SELECT max(id) FROM {table}), 0)
                <= coalesce((SELECT max(seq) FROM sqlite_sequence WHERE name = '{table}'), 0)"
        );
        Ok(sound && moment.query_row(&sql, [], |row| row.get(0))?)
    })
}

/// A deletion that goes on in the backups has taken its case from the book at once.
fn none_there_is_being_deleted(moment: &Connection) -> rusqlite::Result<bool> {
    moment.query_row(
        "SELECT NOT EXISTS (SELECT 1 FROM cases WHERE uid IN (SELECT uid FROM deletions))",
        [],
        |row| row.get(0),
    )
}

fn to_correct_is_whole(moment: &Connection) -> rusqlite::Result<bool> {
    let listed = |how: &str| format!("SELECT id FROM cases {how} WHERE {IS_TO_CORRECT}");
    let (by_list, by_cases) = (listed("INDEXED BY to_correct"), listed("NOT INDEXED"));
    moment.query_row(
        &format!(
            "SELECT NOT EXISTS ({by_list} EXCEPT {by_cases})
                AND NOT EXISTS ({by_cases} EXCEPT {by_list})"
        ),
        [],
        |row| row.get(0),
    )
}

/// FTS5 keeps its words in segments, whose number stands above the 37th bit of a page's
/// own, and finds the page of a word by `words_idx`, where each segment has an entry
/// (comment at the head of SQLite's `fts5_index.c`).
fn words_are_led_to(moment: &Connection) -> rusqlite::Result<bool> {
    moment.query_row(
        "SELECT NOT EXISTS (
                SELECT 1 FROM words_idx WHERE typeof(segid) <> 'integer'
                    OR typeof(term) <> 'blob' OR typeof(pgno) <> 'integer')
            AND NOT EXISTS (
                SELECT 1 FROM words_data WHERE id > 10
                    AND id >> 37 NOT IN (SELECT segid FROM words_idx))",
        [],
        |row| row.get(0),
    )
}
