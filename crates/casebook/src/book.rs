use std::cell::{Cell, RefCell};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};

use crate::beside::log_of;
use crate::date::{date, now_unix_s};
use crate::kind::Kind;
use crate::sound::{check_with, damaged, is_casebook, is_sound, none_unreadable, unreadable_in};
use crate::turn::PATIENCE;
use crate::{
    Case, CaseId, CasebookError, Kept, beside, checksum, class_rows, guides, private, read_only,
    replacing, schema, stored, sums,
};

/// A casebook: one file, and its backups in a folder beside it.
///
/// Several processes may use the same file at once: one writes at a time, and the
/// others wait for it, reading meanwhile what was there before.
#[derive(Debug)]
pub struct Casebook {
    connection: Connection,
    path: PathBuf,
    /// Which file it is, whatever its name is by now.
    file: Option<FileId>,
    /// Whether the whole file was looked through since it was opened.
    looked_through: Cell<bool>,
    /// Whether the file may not be written to, so that this is a copy of it.
    read_only: bool,
    /// The day whose backup was last seen to; `None` where none is to be made.
    backed_up_on: RefCell<Option<String>>,
    /// What the user should know of, in sentences: a backup that could not be made, a
    /// deletion that is not finished.
    notices: RefCell<Vec<String>>,
}

/// Device and number of a file.
type FileId = (u64, u64);

/// What an undoing did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Undone {
    /// A case is again as it was before its last change.
    Restored(Box<Kept>),
    /// A case that had been kept is kept no more.
    Removed(CaseId, String),
    /// Something of a class: what, in a sentence.
    OfClass(String),
}

/// How many changes can be undone.
const MOST_UNDOABLE: i64 = 1000;

impl Casebook {
    /// Opens the casebook in a file, or begins one there: looks at its head and its
    /// last pages, brings it to the latest version, and makes the day's backup. A
    /// restoration or a deletion that was broken off is gone on with first. Stays it open
    /// longer than a day, the next day's backup is made before the first change.
    ///
    /// The whole file is looked through before anything is written to it or copied
    /// from it: at the day's first opening, before the first change through any
    /// other, and whenever something about it is unusual, as after a crash.
    ///
    /// Where the file, its folder or that of its backups may not be written to, it is
    /// opened to be read ([`Casebook::is_read_only`]): what there is can be found and
    /// carried out, every change is refused, and nothing is written anywhere.
    ///
    /// # Errors
    /// When the file is damaged, of a later version, or cannot be used.
    pub fn open(path: &Path) -> Result<Casebook, CasebookError> {
        to_write_or_read(path, |path| {
            let mut book = Casebook::opened(path)?;
            *book.backed_up_on.get_mut() = Some(String::new());
            book.see_to_backup()?;
            // Whoever is at work on the copies is perhaps about this very deletion.
            let left = book.finish_deletions(Duration::ZERO);
            let notices = left
                .iter()
                .map(|left| format!("what was deleted may still stand in {left}"));
            book.notices.get_mut().extend(notices);
            Ok(book)
        })
    }

    /// What the user should know of, in sentences: that the day's backup could not be
    /// made, or where something that was deleted may still stand.
    #[must_use]
    pub fn notices(&self) -> Vec<String> {
        self.notices.borrow().clone()
    }

    /// Takes the leave of other accounts to read a casebook and its backups away, where
    /// they have it, as files of earlier versions gave it.
    pub fn close_to_others(path: &Path) {
        let backups = beside::folder(path);
        let copies = beside::backups(path).unwrap_or_default();
        let copies = copies.into_iter().map(|backup| backup.path);
        for file in
            copies
                .chain(beside::aside(path))
                .chain([path.to_owned(), log_of(path), backups])
        {
            private::close_to_others(&file);
        }
    }

    /// Makes the backup of a day that has none. Where there is no room for it, that is no
    /// reason to keep nothing: it is noted.
    fn see_to_backup(&self) -> Result<(), CasebookError> {
        let today = date(now_unix_s());
        if self
            .backed_up_on
            .borrow()
            .as_ref()
            .is_none_or(|last| *last == today)
        {
            return Ok(());
        }
        match self.back_up_today(&today) {
            Err(CasebookError::DiskFull | CasebookError::Busy) => {
                self.note("the day's backup could not be made: there is no room on the disk, or another program holds the casebook".to_owned());
            }
            // The backups that there are have it as it was.
            Err(CasebookError::Unreadable(unreadable)) => self.note(unreadable.notice()),
            other => other?,
        }
        *self.backed_up_on.borrow_mut() = Some(today);
        Ok(())
    }

    /// The same without a backup.
    ///
    /// # Errors
    /// As [`Casebook::open`].
    pub fn open_without_backup(path: &Path) -> Result<Casebook, CasebookError> {
        to_write_or_read(path, Casebook::opened)
    }

    /// A casebook whose head was looked at.
    fn of(connection: Connection, path: &Path) -> Casebook {
        Casebook {
            connection,
            path: path.to_owned(),
            file: None,
            looked_through: Cell::new(false),
            read_only: false,
            backed_up_on: RefCell::new(None),
            notices: RefCell::new(Vec::new()),
        }
    }

    /// A casebook that cannot be changed: a copy in memory of what is in the file now.
    fn to_read(path: &Path) -> Result<Casebook, CasebookError> {
        let connection = read_only::in_memory(path)?;
        let unreadable = unreadable_in(&connection, path)?;
        let mut book = Casebook::looked_through(connection, path)?;
        for one in unreadable {
            book.note(one.notice());
        }
        book.read_only = true;
        Ok(book)
    }

    /// A casebook whose whole file was found sound, brought to the latest version.
    fn looked_through(mut connection: Connection, path: &Path) -> Result<Casebook, CasebookError> {
        schema::migrate(&mut connection, path, fill)?;
        let mut book = Casebook::of(connection, path);
        book.file = file_id(path);
        book.looked_through.set(true);
        Ok(book)
    }

    /// Opens to write. Another process may close the book, or bring it up to date, at
    /// this very moment: then we try again.
    fn opened(path: &Path) -> Result<Casebook, CasebookError> {
        let begun = Instant::now();
        loop {
            match Casebook::opened_once(path) {
                Err(CasebookError::Busy) if begun.elapsed() < PATIENCE => {
                    std::thread::sleep(Duration::from_millis(20));
                }
                other => return other,
            }
        }
    }

    fn opened_once(path: &Path) -> Result<Casebook, CasebookError> {
        if let Some(folder) = path.parent() {
            private::folder(folder).map_err(|error| CasebookError::file(folder, error))?;
        }
        replacing::take_up(path, PATIENCE)?;
        // SQLite's own files beside it take its permissions.
        private::file(path).map_err(|error| CasebookError::file(path, error))?;
        // Closing writes into the file what a crash has left in its log.
        let log_left = log_of(path).metadata().is_ok_and(|log| log.len() > 0);
        let connection = Connection::open(path)?;
        connection.busy_timeout(PATIENCE)?;
        is_casebook(&connection, path)?;
        let version = schema::is_known(&connection, path)?;
        let mut book = Casebook::of(connection, path);
        let usual = version == schema::LATEST && !log_left && book.looks_usual()?;
        if !usual {
            book.look_through()?;
        }
        let connection = &mut book.connection;
        connection.pragma_update(None, "journal_mode", "WAL")?;
        // The log is on the disk before a change is answered for.
        connection.pragma_update(None, "synchronous", "FULL")?;
        connection.pragma_update(None, "secure_delete", "ON")?;
        connection.pragma_update(None, "foreign_keys", "ON")?;
        schema::migrate(connection, path, fill)?;
        book.file = file_id(path);
        Ok(book)
    }

    /// Whether the file it was opened from still lies in its place. Where it was moved,
    /// deleted, or a backup was restored over it, what would be kept here would be kept
    /// where nobody finds it again.
    #[must_use]
    pub fn is_in_place(&self) -> bool {
        self.path.exists() && file_id(&self.path) == self.file
    }

    /// Whether the file may only be read, so that this is a copy of what was in it when it
    /// was opened; what another program does with it later is not seen.
    #[must_use]
    pub fn is_read_only(&self) -> bool {
        self.read_only
    }

    /// That the file may be written to.
    pub(crate) fn may_be_changed(&self) -> Result<(), CasebookError> {
        if self.read_only {
            return Err(CasebookError::ReadOnly);
        }
        Ok(())
    }

    /// Whether a file of the latest version is as it is left behind: with a log, as
    /// long as its head says, and with last pages that can be read.
    fn looks_usual(&self) -> Result<bool, CasebookError> {
        let number = |sql: &str| -> Result<i64, rusqlite::Error> {
            self.connection.query_row(sql, [], |row| row.get(0))
        };
        let mode: String = self
            .connection
            .pragma_query_value(None, "journal_mode", |row| row.get(0))?;
        if mode != "wal" {
            return Ok(false);
        }
        for table in ["cases", "done"] {
            number(&format!("SELECT coalesce(max(id), 0) FROM {table}"))?;
        }
        number("SELECT count(*) FROM (SELECT 1 FROM tags ORDER BY tag DESC LIMIT 1)")?;
        let pages = number("PRAGMA page_count")?;
        let page = number("PRAGMA page_size")?;
        let bytes = self
            .path
            .metadata()
            .map_err(|error| CasebookError::file(&self.path, error))?
            .len();
        Ok(u64::try_from(pages * page) == Ok(bytes))
    }

    /// Looks through the whole file, unless that was done since it was opened. A case
    /// that cannot be read is noted; the others can be worked with.
    pub(crate) fn look_through(&self) -> Result<(), CasebookError> {
        if !self.looked_through.get() {
            for unreadable in unreadable_in(&self.connection, &self.path)? {
                self.note(unreadable.notice());
            }
            self.looked_through.set(true);
        }
        Ok(())
    }

    /// Looks through the whole file whether or not that was done, and suffers no case
    /// that cannot be read: before a copy of it is made.
    pub(crate) fn is_sound_now(&self) -> Result<(), CasebookError> {
        is_sound(&self.connection, &self.path)?;
        self.looked_through.set(true);
        Ok(())
    }

    /// Notes what the user should know of, once.
    fn note(&self, notice: String) {
        let mut notices = self.notices.borrow_mut();
        if !notices.contains(&notice) {
            notices.push(notice);
        }
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    pub(crate) fn connection(&self) -> &Connection {
        &self.connection
    }

    /// How many cases there are.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn len(&self) -> Result<u64, CasebookError> {
        let count: i64 = self.connection.query_row(
            "SELECT (SELECT count(*) FROM cases) -
                    (SELECT count(*) FROM cases WHERE kind <> 'case')",
            [],
            |row| row.get(0),
        )?;
        Ok(count.unsigned_abs())
    }

    /// Whether there is none.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn is_empty(&self) -> Result<bool, CasebookError> {
        Ok(self.len()? == 0)
    }

    /// A case by its number.
    ///
    /// # Errors
    /// When there is none.
    pub fn get(&self, id: CaseId) -> Result<Kept, CasebookError> {
        stored::get(&self.connection, id)
    }

    /// Every case in order of its number, one at a time.
    ///
    /// # Errors
    /// When the file cannot be read, or when the receiver fails.
    pub fn each<E: From<CasebookError>>(
        &self,
        mut receive: impl FnMut(Kept) -> Result<(), E>,
    ) -> Result<(), E> {
        self.each_behind(None, |kept| receive(kept).map(|()| true))
    }

    /// Every case behind one, or from the first, in order of its number, as long as the
    /// receiver says that it goes on.
    pub(crate) fn each_behind<E: From<CasebookError>>(
        &self,
        behind: Option<CaseId>,
        mut receive: impl FnMut(Kept) -> Result<bool, E>,
    ) -> Result<(), E> {
        let columns = stored::COLUMNS;
        let sql = format!("SELECT {columns} FROM cases WHERE kind = 'case' AND id > ? ORDER BY id");
        let sqlite = |error: rusqlite::Error| E::from(CasebookError::from(error));
        let mut statement = self.connection.prepare(&sql).map_err(sqlite)?;
        let behind = behind.map_or(i64::MIN, |CaseId(id)| id);
        let mut rows = statement.query([behind]).map_err(sqlite)?;
        while let Some(row) = rows.next().map_err(sqlite)? {
            if !receive(stored::kept(row).map_err(CasebookError::from)?)? {
                break;
            }
        }
        Ok(())
    }

    /// Keeps a case.
    ///
    /// # Errors
    /// When it lacks a name, a moment or a place, or cannot be written.
    pub fn keep(&mut self, case: Case) -> Result<Kept, CasebookError> {
        let ids = self.keep_all(vec![case])?;
        let id = ids.first().copied();
        self.get(id.ok_or_else(|| CasebookError::Unfit("there is none".to_owned()))?)
    }

    /// Keeps several cases, all of them or none.
    ///
    /// # Errors
    /// When one lacks a name, a moment or a place, or they cannot be written.
    pub fn keep_all(&mut self, cases: Vec<Case>) -> Result<Vec<CaseId>, CasebookError> {
        let now = now_unix_s();
        self.change(|transaction| keep_cases(transaction, cases, now))
    }

    /// Puts a case in the place of what is kept, as long as that is still the version
    /// the edit began from.
    ///
    /// # Errors
    /// When there is no such case, it was changed meanwhile, or the new one cannot be kept.
    pub fn edit(&mut self, id: CaseId, version: i64, case: Case) -> Result<Kept, CasebookError> {
        let now = now_unix_s();
        let case = fit(case)?;
        self.change(|transaction| {
            let before = stored::get(transaction, id)?;
            if before.version != version {
                return Err(CasebookError::Changed(id));
            }
            stored::remember(
                transaction,
                id,
                Some(&stored::text(&before.case)?),
                now,
                None,
            )?;
            stored::update(transaction, id, &case, now)?;
            stored::get(transaction, id)
        })
    }

    /// Undoes the last change that was not yet undone: an edit, the keeping of a case or a
    /// class, the giving out of its papers. A deletion cannot be undone.
    ///
    /// # Errors
    /// When there is nothing to undo.
    pub fn undo(&mut self) -> Result<Undone, CasebookError> {
        let now = now_unix_s();
        self.change(|transaction| {
            let last = Done::last(transaction)?.ok_or(CasebookError::NothingToUndo)?;
            let first = last.with_done;
            let undone = last.undo(transaction, now)?;
            // What belongs to one change is undone with it, and told as its first part.
            let mut told = undone;
            while let Some(before) = Done::last(transaction)? {
                if first.is_none() || (before.with_done != first && Some(before.id) != first) {
                    break;
                }
                told = before.undo(transaction, now)?;
            }
            Ok(told)
        })
    }

    /// A backup or a file set aside, to take a case out of it.
    pub(crate) fn open_copy(path: &Path) -> Result<Casebook, CasebookError> {
        let connection = Connection::open(path)?;
        connection.busy_timeout(PATIENCE)?;
        unreadable_in(&connection, path)?;
        connection.pragma_update(None, "secure_delete", "ON")?;
        connection.pragma_update(None, "foreign_keys", "ON")?;
        Casebook::looked_through(connection, path)
    }

    /// Looks through the whole file, more closely than before a change.
    ///
    /// # Errors
    /// When something in it is damaged.
    pub fn check(&self) -> Result<(), CasebookError> {
        check_with(&self.connection, &self.path, "integrity_check")?;
        self.connection
            .execute("INSERT INTO words(words) VALUES('integrity-check')", [])?;
        none_unreadable(
            sums::agree(&self.connection).map_err(|error| damaged(&self.path, error))?,
        )?;
        // Of one moment: others may keep cases meanwhile.
        let moment = self.connection.unchecked_transaction()?;
        guides::fit(&moment).map_err(|error| damaged(&self.path, error))?;
        self.each_class(|_| Ok::<(), CasebookError>(()))?;
        self.each(|kept| {
            if stored::is_indexed(&moment, &kept)? {
                Ok(())
            } else {
                Err(CasebookError::Unsound(format!(
                    "case {} is not found by its own words and tags",
                    kept.id
                )))
            }
        })
    }

    /// Lets the file grow no more through this opening, as if the disk were full;
    /// for tests. Returns its size in pages.
    ///
    /// # Errors
    /// When the file cannot be read.
    #[doc(hidden)]
    pub fn limit_to_present_size(&self) -> Result<i64, CasebookError> {
        let pages: i64 = self
            .connection
            .pragma_query_value(None, "page_count", |row| row.get(0))?;
        self.connection
            .query_row(&format!("PRAGMA max_page_count = {pages}"), [], |_| Ok(()))?;
        Ok(pages)
    }

    pub(crate) fn change<T>(
        &mut self,
        work: impl FnOnce(&Connection) -> Result<T, CasebookError>,
    ) -> Result<T, CasebookError> {
        self.may_be_changed()?;
        self.look_through()?;
        self.see_to_backup()?;
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)?;
        let done = work(&transaction)?;
        transaction.execute(
            "DELETE FROM done WHERE id <= (SELECT max(id) FROM done) - ?1",
            params![MOST_UNDOABLE],
        )?;
        transaction.commit()?;
        // In a file that was moved or deleted meanwhile nobody would find it again.
        if self.is_in_place() {
            Ok(done)
        } else {
            Err(CasebookError::Gone(self.path.clone()))
        }
    }
}

/// Keeps cases, each to be undone by itself.
pub(crate) fn keep_cases(
    connection: &Connection,
    cases: Vec<Case>,
    now_unix_s: i64,
) -> Result<Vec<CaseId>, CasebookError> {
    let mut ids = Vec::with_capacity(cases.len());
    for case in cases {
        let case = fit(case)?;
        let id = stored::insert(connection, &case, now_unix_s)?;
        stored::remember(connection, id, None, now_unix_s, None)?;
        ids.push(id);
    }
    Ok(ids)
}

/// Something that can be undone.
struct Done {
    id: i64,
    row: CaseId,
    before: Option<String>,
    /// The first of those that are undone together.
    with_done: Option<i64>,
}

impl Done {
    /// The last there is.
    fn last(connection: &Connection) -> Result<Option<Done>, CasebookError> {
        let found = connection
            .query_row(
                "SELECT id, case_id, before, at_unix_s, checksum, with_done FROM done
                 ORDER BY id DESC LIMIT 1",
                [],
                |row| {
                    let done = Done {
                        id: row.get(0)?,
                        row: CaseId(row.get(1)?),
                        before: row.get(2)?,
                        with_done: row.get(5)?,
                    };
                    let at_unix_s = row.get(3)?;
                    let sum = checksum::of_change(
                        done.row.0,
                        at_unix_s,
                        done.before.as_deref(),
                        done.with_done,
                    );
                    Ok((sum == row.get::<_, i64>(4)?, done))
                },
            )
            .optional()?;
        match found {
            Some((false, done)) => Err(CasebookError::Unsound(format!(
                "what case {} was before its last change is spoiled",
                done.row
            ))),
            found => Ok(found.map(|(_, done)| done)),
        }
    }

    /// Makes what it is about what it was before.
    fn undo(self, connection: &Connection, now_unix_s: i64) -> Result<Undone, CasebookError> {
        connection.execute("DELETE FROM done WHERE id = ?1", [self.id])?;
        let row = self.row;
        let raw = stored::find(connection, row.0)?.ok_or(CasebookError::NoCase(row))?;
        match (raw.kind, self.before) {
            (Kind::Case, Some(text)) => {
                let before: Case = stored::read(row, &text)?;
                stored::update(connection, row, &before, now_unix_s)?;
                Ok(Undone::Restored(Box::new(stored::get(connection, row)?)))
            }
            (Kind::Case, None) => {
                let name = stored::get(connection, row)?.case.name;
                stored::remove(connection, row)?;
                Ok(Undone::Removed(row, name))
            }
            (Kind::Class | Kind::Paper, before) => {
                let what = class_rows::called(connection, &raw)?;
                match before {
                    Some(text) => {
                        stored::update_row(connection, row, &text, now_unix_s)?;
                        Ok(Undone::OfClass(format!("{what} is again as it was")))
                    }
                    None => {
                        stored::remove(connection, row)?;
                        Ok(Undone::OfClass(format!("{what} is kept no more")))
                    }
                }
            }
        }
    }
}

fn fit(case: Case) -> Result<Case, CasebookError> {
    let case = case.tidied();
    case.check().map_err(CasebookError::Unfit)?;
    Ok(case)
}

/// Fills in what a version adds for the cases already kept.
fn fill(connection: &Connection, version: i64) -> Result<(), CasebookError> {
    match version {
        2 => index_all(connection),
        schema::WITH_SUMS => stored::seal_all(connection),
        _ => Ok(()),
    }
}

fn index_all(connection: &Connection) -> Result<(), CasebookError> {
    let mut statement = connection.prepare("SELECT id, document FROM cases")?;
    let rows = statement.query_map([], |row| {
        Ok((CaseId(row.get(0)?), row.get::<_, String>(1)?))
    })?;
    for row in rows {
        let (id, text) = row?;
        stored::index_words(connection, id, &stored::read(id, &text)?)?;
    }
    Ok(())
}

/// Opens a file to write to it, or, where that is not permitted, to read it.
fn to_write_or_read(
    path: &Path,
    to_write: impl FnOnce(&Path) -> Result<Casebook, CasebookError>,
) -> Result<Casebook, CasebookError> {
    let book = if read_only::may_only_be_read(path) {
        Casebook::to_read(path)
    } else {
        match to_write(path) {
            Err(error) if error.is_for_want_of_leave() && path.exists() => Casebook::to_read(path),
            other => other,
        }
    };
    book.map_err(|error| damaged(path, error))
}

#[cfg(unix)]
fn file_id(path: &Path) -> Option<FileId> {
    use std::os::unix::fs::MetadataExt;
    let about = path.metadata().ok()?;
    Some((about.dev(), about.ino()))
}

/// Other systems let no file be moved while it is open.
#[cfg(not(unix))]
fn file_id(_: &Path) -> Option<FileId> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_book_that_stays_open_is_backed_up_on_every_day_of_change() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("casebook.sqlite");
        let mut book = Casebook::open(&path).expect("opens");
        let case = Case {
            name: "A question".to_owned(),
            when: "2024-05-14 09:20".to_owned(),
            at: "Lisbon, Portugal".to_owned(),
            ..Case::default()
        };
        book.keep(case.clone()).expect("kept");
        assert!(book.backups().expect("listed").is_empty());
        // As if it had been opened the day before.
        *book.backed_up_on.get_mut() = Some("1999-12-31".to_owned());
        book.keep(case.clone()).expect("kept");
        let made = book.backups().expect("listed");
        assert_eq!(made.len(), 1, "before the day's first change");
        book.keep(case).expect("kept");
        assert_eq!(book.backups().expect("listed"), made, "one a day");
        // For trials no backups are made at all.
        std::fs::remove_file(&made[0].path).expect("removed");
        let mut book = Casebook::open_without_backup(&path).expect("opens");
        book.undo().expect("undone");
        assert!(book.backups().expect("listed").is_empty());
    }
}
