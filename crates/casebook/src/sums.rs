//! By which it is known that what is read is what was kept.
//!
//! Every case and every change that can be undone bears a checksum of all its own
//! bytes (`checksum`), and the book how many cases it has and the sum of their checksums, which
//! SQLite itself keeps by triggers. So a bit that has flipped is found in the case that
//! it is in, and a page that stands in another's place by what is missing.

use rusqlite::Connection;

use crate::checksum::of_change;
use crate::{CasebookError, Unreadable, schema, stored};

/// That no case is missing and none is there twice, and that what could be undone can
/// be; and which cases cannot be read.
pub(crate) fn agree(connection: &Connection) -> Result<Vec<Unreadable>, CasebookError> {
    let unsound = |what: String| Err(CasebookError::Unsound(what));
    // Of one moment: others may keep cases meanwhile.
    let moment = connection.unchecked_transaction()?;
    let (mut cases, mut checksums, mut last) = (0_i64, 0_i64, i64::MIN);
    let mut unreadable = Vec::new();
    let has_classes = schema::version(&moment)? >= schema::WITH_CLASSES;
    let (columns, with_done) = if has_classes {
        (stored::COLUMNS, "with_done")
    } else {
        (stored::COLUMNS_BEFORE_CLASSES, "NULL")
    };
    let sql = format!("SELECT {columns} FROM cases ORDER BY id");
    let mut statement = moment.prepare(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        cases += 1;
        let id = match stored::raw(row) {
            Ok(raw) => {
                checksums += raw.checksum;
                raw.id
            }
            Err(spoiled) => {
                let id = spoiled.id.0;
                unreadable.push(spoiled);
                id
            }
        };
        if id <= last {
            return unsound(format!("case {id} is there twice"));
        }
        last = id;
    }
    let (said_cases, said_checksums): (i64, i64) =
        moment.query_row("SELECT cases, checksums FROM sums", [], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })?;
    if cases != said_cases {
        return unsound(format!(
            "{said_cases} cases were kept, and {cases} are there"
        ));
    }
    // What is spoiled in a case may be its checksum.
    if checksums != said_checksums && unreadable.is_empty() {
        return unsound("the cases that are there are not those that were kept".to_owned());
    }
    let sql = format!("SELECT id, case_id, at_unix_s, before, checksum, {with_done} FROM done");
    let mut statement = moment.prepare(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let before: Option<String> = row.get(3)?;
        let sum = of_change(row.get(1)?, row.get(2)?, before.as_deref(), row.get(5)?);
        if sum != row.get::<_, i64>(4)? {
            let id: i64 = row.get(0)?;
            return unsound(format!("what could be undone is spoiled at {id}"));
        }
    }
    Ok(unreadable)
}

/// Takes the cases that are there for those that were kept, once one that could not be
/// read has been taken away.
pub(crate) fn settle(connection: &Connection) -> Result<(), CasebookError> {
    connection.execute(
        "UPDATE sums SET (cases, checksums) =
            (SELECT count(*), coalesce(sum(checksum), 0) FROM cases)",
        [],
    )?;
    Ok(())
}
