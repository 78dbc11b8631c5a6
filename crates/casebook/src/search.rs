use crate::guides::IS_TO_CORRECT;
use crate::stored::{self, COLUMNS};
use crate::{Casebook, CasebookError, Kept, Unreadable};

/// What a search found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The cases, those kept last first.
    pub cases: Vec<Kept>,
    /// Those among them that cannot be read any more.
    pub unreadable: Vec<Unreadable>,
    /// Whether there are more: than were asked for, or than are shown at once.
    pub more: bool,
}

impl Casebook {
    /// The cases in whose name, moment, place, note or tags all the words occur, each
    /// at the beginning of a word, accents and capitals aside; all cases without words.
    /// Of a whole text the first 32 words are looked for.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn find(&self, words: &str, limit: usize) -> Result<Found, CasebookError> {
        let query = match_of(words);
        if query.is_empty() {
            return self.found("true", [], limit);
        }
        self.found(
            "id IN (SELECT rowid FROM words WHERE words MATCH ?2 ORDER BY rowid DESC LIMIT ?1)",
            [query.as_str()],
            limit,
        )
    }

    /// The cases with a tag, those kept last first.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn tagged(&self, tag: &str, limit: usize) -> Result<Found, CasebookError> {
        self.found(
            "id IN (SELECT case_id FROM tags WHERE tag = ?2)",
            [tag],
            limit,
        )
    }

    /// The cases with readings for which no mark has been given, those kept last first.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn to_correct(&self, limit: usize) -> Result<Found, CasebookError> {
        // The condition is the index's own, so that nothing else is looked through.
        self.found(IS_TO_CORRECT, [], limit)
    }

    /// The cases that a condition holds of, those kept last first. In it `?1` is how many
    /// are wanted, `?2` the text given.
    fn found<const N: usize>(
        &self,
        condition: &str,
        text: [&str; N],
        limit: usize,
    ) -> Result<Found, CasebookError> {
        let wanted = i64::try_from(limit.saturating_add(1)).unwrap_or(i64::MAX);
        let sql = format!(
            "SELECT {COLUMNS} FROM cases WHERE kind = 'case' AND {condition} ORDER BY id DESC LIMIT ?1"
        );
        let mut statement = self.connection().prepare_cached(&sql)?;
        statement.raw_bind_parameter(1, wanted)?;
        for (number, text) in (2..).zip(text) {
            statement.raw_bind_parameter(number, text)?;
        }
        let mut found = Found {
            cases: Vec::new(),
            unreadable: Vec::new(),
            more: false,
        };
        let mut rows = statement.raw_query();
        let mut bytes = 0;
        while let Some(row) = rows.next()? {
            bytes += stored::length(row);
            let shown = found.cases.len() + found.unreadable.len();
            if shown == limit || (shown > 0 && bytes > MOST_BYTES) {
                found.more = true;
                break;
            }
            match stored::kept(row) {
                Ok(kept) => found.cases.push(kept),
                Err(unreadable) => found.unreadable.push(unreadable),
            }
        }
        Ok(found)
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

/// What is found together is shown together, and a case may have a megabyte.
const MOST_BYTES: usize = 32 << 20;

/// More words than this say no more, and each is looked up: a text pasted by mistake
/// would hold up everyone else for seconds.
const MOST_WORDS: usize = 32;

/// Every word as a beginning, in quotes, so that nothing in it is taken for an operator.
fn match_of(words: &str) -> String {
    let mut wanted: Vec<String> = Vec::new();
    for word in words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
    {
        let word = format!("\"{word}\"*");
        if !wanted.contains(&word) {
            wanted.push(word);
        }
        if wanted.len() == MOST_WORDS {
            break;
        }
    }
    wanted.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However many cases there are, those that wait for a mark alone are looked at.
    #[test]
    fn what_waits_for_a_mark_is_found_by_its_index() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("casebook.sqlite");
        let book = Casebook::open(&path).expect("opens");
        let plan: String = book
            .connection()
            .query_row(
                &format!(
                    "EXPLAIN QUERY PLAN SELECT {COLUMNS} FROM cases
                     WHERE kind = 'case' AND {IS_TO_CORRECT} ORDER BY id DESC LIMIT 9"
                ),
                [],
                |row| row.get("detail"),
            )
            .expect("planned");
        assert!(plan.contains("USING INDEX to_correct"), "{plan}");
    }

    #[test]
    fn a_pasted_text_is_a_few_words_and_each_once() {
        assert_eq!(match_of("two, TWO; two \"two"), "\"two\"* \"TWO\"*");
        let pasted: String = (0..50_000).map(|number| format!("w{number} ")).collect();
        assert_eq!(match_of(&pasted).split(' ').count(), MOST_WORDS);
        assert_eq!(match_of(&"a ".repeat(50_000)), "\"a\"*");
    }
}
