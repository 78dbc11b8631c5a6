use rusqlite::params;

use crate::stored::{self, COLUMNS};
use crate::{Casebook, CasebookError, Kept};

/// What a search found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The cases, those kept last first.
    pub cases: Vec<Kept>,
    /// Whether there are more than were asked for.
    pub more: bool,
}

impl Casebook {
    /// The cases in whose name, moment, place, note or tags all the words occur, each
    /// at the beginning of a word, accents and capitals aside; all cases without words.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn find(&self, words: &str, limit: usize) -> Result<Found, CasebookError> {
        let wanted = limit.saturating_add(1);
        let query = match_of(words);
        let mut found = Vec::new();
        let limit_sql = i64::try_from(wanted).unwrap_or(i64::MAX);
        if query.is_empty() {
            let sql = format!("SELECT {COLUMNS} FROM cases ORDER BY id DESC LIMIT ?1");
            let mut statement = self.connection().prepare_cached(&sql)?;
            for row in statement.query_map([limit_sql], stored::kept)? {
                found.push(stored::whole(row?)?);
            }
        } else {
            let sql = format!(
                "SELECT {COLUMNS} FROM cases WHERE id IN \
                 (SELECT rowid FROM words WHERE words MATCH ?1 ORDER BY rowid DESC LIMIT ?2) \
                 ORDER BY id DESC"
            );
            let mut statement = self.connection().prepare_cached(&sql)?;
            for row in statement.query_map(params![query, limit_sql], stored::kept)? {
                found.push(stored::whole(row?)?);
            }
        }
        let more = found.len() > limit;
        found.truncate(limit);
        Ok(Found { cases: found, more })
    }

    /// The cases with a tag, those kept last first.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn tagged(&self, tag: &str, limit: usize) -> Result<Found, CasebookError> {
        let wanted = i64::try_from(limit.saturating_add(1)).unwrap_or(i64::MAX);
        let sql = format!(
            "SELECT {COLUMNS} FROM cases WHERE id IN (SELECT case_id FROM tags WHERE tag = ?1) \
             ORDER BY id DESC LIMIT ?2"
        );
        let mut statement = self.connection().prepare_cached(&sql)?;
        let mut found = Vec::new();
        for row in statement.query_map(params![tag, wanted], stored::kept)? {
            found.push(stored::whole(row?)?);
        }
        let more = found.len() > limit;
        found.truncate(limit);
        Ok(Found { cases: found, more })
    }

    /// The cases with readings for which no mark has been given, those kept last first.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn to_correct(&self, limit: usize) -> Result<Found, CasebookError> {
        let wanted = i64::try_from(limit.saturating_add(1)).unwrap_or(i64::MAX);
        // The condition is the index's own, so that nothing else is looked through.
        let sql = format!(
            "SELECT {COLUMNS} FROM cases WHERE json_extract(document, '$.readings') IS NOT NULL \
             AND json_extract(document, '$.marks') IS NULL ORDER BY id DESC LIMIT ?1"
        );
        let mut statement = self.connection().prepare_cached(&sql)?;
        let mut found = Vec::new();
        for row in statement.query_map([wanted], stored::kept)? {
            found.push(stored::whole(row?)?);
        }
        let more = found.len() > limit;
        found.truncate(limit);
        Ok(Found { cases: found, more })
    }

    /// The tags in use, with how many cases bear each.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn tags(&self) -> Result<Vec<(String, u64)>, CasebookError> {
        let mut statement = self
            .connection()
            .prepare_cached("SELECT tag, count(*) FROM tags GROUP BY tag ORDER BY tag")?;
        let tags = statement.query_map([], |row| {
            Ok((row.get(0)?, row.get::<_, i64>(1)?.unsigned_abs()))
        })?;
        Ok(tags.collect::<rusqlite::Result<_>>()?)
    }
}

/// Every word as a beginning, in quotes, so that nothing in it is taken for an operator.
fn match_of(words: &str) -> String {
    let wanted: Vec<String> = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(|word| format!("\"{word}\"*"))
        .collect();
    wanted.join(" ")
}
