use std::path::Path;

use rusqlite::{Connection, TransactionBehavior};

use crate::CasebookError;

/// `ALMU`, by which a file is known as a casebook.
const APPLICATION_ID: i64 = 0x414c_4d55;

/// What each version adds to the one before. A step that has been released is
/// never changed; a new one is put after it.
pub(crate) const STEPS: &[&str] = &[
    // 1: cases as documents, their tags, and what was done.
    "CREATE TABLE cases (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
        version INTEGER NOT NULL,
        kept_unix_s INTEGER NOT NULL,
        changed_unix_s INTEGER NOT NULL,
        document TEXT NOT NULL
    ) STRICT;
    CREATE TABLE tags (
        tag TEXT NOT NULL,
        case_id INTEGER NOT NULL REFERENCES cases(id) ON DELETE CASCADE,
        PRIMARY KEY (tag, case_id)
    ) STRICT, WITHOUT ROWID;
    CREATE INDEX tags_of_case ON tags(case_id);
    CREATE TABLE done (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        case_id INTEGER NOT NULL REFERENCES cases(id) ON DELETE CASCADE,
        at_unix_s INTEGER NOT NULL,
        before TEXT
    ) STRICT;
    CREATE INDEX done_to_case ON done(case_id);",
    // 2: the words of every case, for searching. What is deleted from the index is
    // overwritten there too.
    "CREATE VIRTUAL TABLE words USING fts5(
        body, tokenize = \"unicode61 remove_diacritics 2\", prefix = '2 3 4'
    );
    INSERT INTO words(words, rank) VALUES('secure-delete', 1);",
    // 3: which cases have readings that no mark has been given for.
    "CREATE INDEX to_correct ON cases(id)
        WHERE json_extract(document, '$.readings') IS NOT NULL
        AND json_extract(document, '$.marks') IS NULL;",
    // 4: checksums of what is kept, how many cases there are and the sum of their
    // checksums; and which deletions have been begun and are not finished.
    "ALTER TABLE cases ADD COLUMN checksum INTEGER NOT NULL DEFAULT 0;
    ALTER TABLE done ADD COLUMN checksum INTEGER NOT NULL DEFAULT 0;
    CREATE TABLE sums (
        one INTEGER PRIMARY KEY CHECK (one = 1),
        cases INTEGER NOT NULL,
        checksums INTEGER NOT NULL
    ) STRICT;
    INSERT INTO sums(one, cases, checksums) SELECT 1, count(*), 0 FROM cases;
    CREATE TRIGGER case_added AFTER INSERT ON cases BEGIN
        UPDATE sums SET cases = cases + 1, checksums = checksums + new.checksum;
    END;
    CREATE TRIGGER case_changed AFTER UPDATE OF checksum ON cases BEGIN
        UPDATE sums SET checksums = checksums + new.checksum - old.checksum;
    END;
    CREATE TRIGGER case_removed AFTER DELETE ON cases BEGIN
        UPDATE sums SET cases = cases - 1, checksums = checksums - old.checksum;
    END;
    CREATE TABLE deletions (uid TEXT PRIMARY KEY) STRICT, WITHOUT ROWID;",
    // 5: classes, and the papers of their pupils, are kept as cases are; and what is
    // undone together.
    "ALTER TABLE cases ADD COLUMN kind TEXT NOT NULL DEFAULT 'case'
        CHECK (kind IN ('case', 'class', 'paper'));
    ALTER TABLE cases ADD COLUMN class_id INTEGER REFERENCES cases(id) ON DELETE CASCADE;
    ALTER TABLE done ADD COLUMN with_done INTEGER;
    CREATE INDEX of_classes ON cases(class_id) WHERE kind <> 'case';",
];

/// The version from which on a file has sums.
pub(crate) const WITH_SUMS: i64 = 4;

/// The version from which on a file has classes.
pub(crate) const WITH_CLASSES: i64 = 5;

/// The version this program makes.
pub(crate) const LATEST: i64 = STEPS.len() as i64;

/// Brings a file to the latest version, in one transaction; each step after the
/// first fills in what it adds by `fill`.
pub(crate) fn migrate(
    connection: &mut Connection,
    path: &Path,
    fill: impl Fn(&Connection, i64) -> Result<(), CasebookError>,
) -> Result<(), CasebookError> {
    if is_known(connection, path)? == LATEST {
        return Ok(());
    }
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Another process may have done it while we waited.
    let found = version(&transaction)?;
    for (index, step) in STEPS.iter().enumerate() {
        let number = index as i64 + 1;
        if number > found {
            transaction.execute_batch(step)?;
            fill(&transaction, number)?;
            transaction.pragma_update(None, "user_version", number)?;
        }
    }
    transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
    transaction.commit()?;
    Ok(())
}

/// The version of a file, if this program knows it.
pub(crate) fn is_known(connection: &Connection, path: &Path) -> Result<i64, CasebookError> {
    let found = version(connection)?;
    if found > LATEST {
        return Err(CasebookError::Newer {
            path: path.to_owned(),
            found,
            known: LATEST,
        });
    }
    Ok(found)
}

pub(crate) fn version(connection: &Connection) -> Result<i64, CasebookError> {
    Ok(connection.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// Whether a file is a casebook, or still empty.
pub(crate) fn is_ours(connection: &Connection) -> Result<bool, CasebookError> {
    // Of one moment: another process may be about to make it one.
    let moment = connection.unchecked_transaction()?;
    let id: i64 = moment.pragma_query_value(None, "application_id", |row| row.get(0))?;
    if id == APPLICATION_ID {
        return Ok(true);
    }
    let tables: i64 =
        moment.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    Ok(id == 0 && tables == 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Casebook;

    /// A file as each earlier version left it, with a case in it.
    #[test]
    fn every_earlier_version_is_brought_up_to_date() {
        for old in 0..=LATEST {
            let folder = tempfile::tempdir().expect("a folder");
            let path = folder.path().join("casebook.sqlite");
            let connection = Connection::open(&path).expect("it opens");
            for step in STEPS.iter().take(usize::try_from(old).unwrap_or(0)) {
                connection.execute_batch(step).expect("the step");
            }
            if old > 0 {
                connection
                    .execute_batch(
                        "INSERT INTO cases(version, kept_unix_s, changed_unix_s, document) VALUES(1, 5, 5,
                           '{\"name\":\"Old friend\",\"when\":\"1391-03-12 09:00\",\"at\":\"Oxford\",\"tags\":[\"kept\"]}');
                         INSERT INTO tags(tag, case_id) VALUES('kept', 1);",
                    )
                    .expect("the case");
                connection
                    .pragma_update(None, "application_id", APPLICATION_ID)
                    .expect("ours");
                connection
                    .pragma_update(None, "user_version", old)
                    .expect("its version");
            }
            if old >= 2 {
                connection
                    .execute_batch("INSERT INTO words(rowid, body) VALUES(1, 'Old friend')")
                    .expect("its words");
            }
            if old >= WITH_SUMS {
                crate::stored::seal_all(&connection).expect("its checksums");
            }
            drop(connection);
            let mut book = Casebook::open(&path).expect("it is brought up to date");
            assert_eq!(version(book.connection()).expect("its version"), LATEST);
            let expected = usize::from(old > 0);
            assert_eq!(
                book.find("friend", 9).expect("searched").cases.len(),
                expected,
                "from {old}"
            );
            assert_eq!(
                book.tagged("kept", 9).expect("searched").cases.len(),
                expected
            );
            if old > 0 {
                let kept = book.get(crate::CaseId(1)).expect("there");
                book.edit(kept.id, kept.version, kept.case).expect("edited");
                book.delete(kept.id).expect("deleted");
            }
            let class = crate::Class {
                name: "Thursday class".to_owned(),
                place: "Oxford".to_owned(),
                pupils: vec![crate::Pupil {
                    name: "Aldara".to_owned(),
                    ..crate::Pupil::default()
                }],
                ..crate::Class::default()
            };
            book.keep_class(&class).expect("kept");
            assert_eq!(book.len().expect("counted"), 0);
            book.check().expect("sound");
        }
    }
}
