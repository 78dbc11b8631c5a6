use std::cell::Cell;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};

use crate::date::{date, now_unix_s};
use crate::{Case, CaseId, CasebookError, Kept, backup, read_only, schema, stored};

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
}

/// How long we wait for another process to finish writing.
pub(crate) const PATIENCE: Duration = Duration::from_secs(10);

/// So many changes can be undone.
const MOST_UNDOABLE: i64 = 1000;

impl Casebook {
    /// Opens the casebook in a file, or begins one there: looks at its head and its
    /// last pages, brings it to the latest version, and makes the day's backup.
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
            let book = Casebook::opened(path)?;
            book.back_up_today(&date(now_unix_s()))?;
            Ok(book)
        })
    }

    /// The same without a backup.
    ///
    /// # Errors
    /// As [`Casebook::open`].
    pub fn open_without_backup(path: &Path) -> Result<Casebook, CasebookError> {
        to_write_or_read(path, Casebook::opened)
    }

    /// A casebook that cannot be changed: a copy in memory of what is in the file now.
    fn to_read(path: &Path) -> Result<Casebook, CasebookError> {
        let connection = read_only::in_memory(path)?;
        is_whole(&connection, path)?;
        Casebook::looked_through(connection, path, true)
    }

    /// A casebook whose whole file was found sound, brought to the latest version.
    fn looked_through(
        mut connection: Connection,
        path: &Path,
        read_only: bool,
    ) -> Result<Casebook, CasebookError> {
        schema::migrate(&mut connection, path, fill)?;
        Ok(Casebook {
            connection,
            path: path.to_owned(),
            file: file_id(path),
            looked_through: Cell::new(true),
            read_only,
        })
    }

    fn opened(path: &Path) -> Result<Casebook, CasebookError> {
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(|error| CasebookError::file(folder, error))?;
        }
        // Closing writes into the file what a crash has left in its log.
        let log_left = log_of(path).metadata().is_ok_and(|log| log.len() > 0);
        let connection = Connection::open(path)?;
        connection.busy_timeout(PATIENCE)?;
        is_casebook(&connection, path)?;
        let version = schema::is_known(&connection, path)?;
        let mut book = Casebook {
            connection,
            path: path.to_owned(),
            file: None,
            looked_through: Cell::new(false),
            read_only: false,
        };
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

    /// Looks through the whole file, unless that was done since it was opened.
    pub(crate) fn look_through(&self) -> Result<(), CasebookError> {
        if !self.looked_through.get() {
            check_with(&self.connection, &self.path, "quick_check")?;
            self.looked_through.set(true);
        }
        Ok(())
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
        let count: i64 = self
            .connection
            .query_row("SELECT count(*) FROM cases", [], |row| row.get(0))?;
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
        let sql = format!("SELECT {} FROM cases ORDER BY id", stored::COLUMNS);
        let sqlite = |error: rusqlite::Error| E::from(CasebookError::from(error));
        let mut statement = self.connection.prepare(&sql).map_err(sqlite)?;
        let rows = statement.query_map([], stored::kept).map_err(sqlite)?;
        for row in rows {
            receive(stored::whole(row.map_err(sqlite)?)?)?;
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
        self.change(|transaction| {
            let mut ids = Vec::with_capacity(cases.len());
            for case in cases {
                let case = fit(case)?;
                let id = stored::insert(transaction, &case, now)?;
                stored::remember(transaction, id, None, now)?;
                ids.push(id);
            }
            Ok(ids)
        })
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
            stored::remember(transaction, id, Some(&before.case), now)?;
            stored::update(transaction, id, &case, now)?;
            stored::get(transaction, id)
        })
    }

    /// Undoes the last change that was not yet undone: an edit, or the keeping of a
    /// case. A deletion cannot be undone.
    ///
    /// # Errors
    /// When there is nothing to undo.
    pub fn undo(&mut self) -> Result<Undone, CasebookError> {
        let now = now_unix_s();
        self.change(|transaction| {
            let last = transaction
                .query_row(
                    "SELECT id, case_id, before FROM done ORDER BY id DESC LIMIT 1",
                    [],
                    |row| Ok((row.get(0)?, CaseId(row.get(1)?), row.get(2)?)),
                )
                .optional()?;
            let (done, id, before): (i64, CaseId, Option<String>) =
                last.ok_or(CasebookError::NothingToUndo)?;
            transaction.execute("DELETE FROM done WHERE id = ?1", [done])?;
            match before {
                Some(text) => {
                    let before = stored::case(id, &text)?;
                    stored::update(transaction, id, &before, now)?;
                    Ok(Undone::Restored(Box::new(stored::get(transaction, id)?)))
                }
                None => {
                    let name = stored::get(transaction, id)?.case.name;
                    stored::remove(transaction, id)?;
                    Ok(Undone::Removed(id, name))
                }
            }
        })
    }

    /// Deletes a case for good: from the file, from its log, from what could be
    /// undone, from the backups, and from what a restoration set aside.
    ///
    /// # Errors
    /// When there is no such case, or a file cannot be written; then it is named, and
    /// the case may be left in the files not yet reached.
    pub fn delete(&mut self, id: CaseId) -> Result<(), CasebookError> {
        self.delete_if(id, |_| true)
    }

    /// The same, as long as the case is still the version that was looked at.
    ///
    /// # Errors
    /// As [`Casebook::delete`], and when it was changed meanwhile.
    pub fn delete_version(&mut self, id: CaseId, version: i64) -> Result<(), CasebookError> {
        self.delete_if(id, |kept| kept.version == version)
    }

    fn delete_if(
        &mut self,
        id: CaseId,
        meant: impl Fn(&Kept) -> bool,
    ) -> Result<(), CasebookError> {
        // The number may stand for another case in a backup, the mark never.
        let uid = self.change(|transaction| {
            if !meant(&stored::get(transaction, id)?) {
                return Err(CasebookError::Changed(id));
            }
            let uid = stored::uid(transaction, id)?;
            stored::remove(transaction, id)?;
            Ok(uid)
        })?;
        self.scrub()?;
        let backups = self.backups()?.into_iter().map(|backup| backup.path);
        for copy in backups.chain(backup::aside(&self.path)) {
            let mut book = Casebook::open_copy(&copy)?;
            if let Some(id) = stored::id_of(&book.connection, &uid)? {
                book.change(|transaction| stored::remove(transaction, id))?;
                book.scrub()?;
            }
        }
        Ok(())
    }

    /// Writes the file anew without the space of what was deleted, and empties the log.
    fn scrub(&mut self) -> Result<(), CasebookError> {
        self.connection.execute_batch("VACUUM")?;
        self.connection
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        Ok(())
    }

    /// A backup or a file set aside, to take a case out of it.
    fn open_copy(path: &Path) -> Result<Casebook, CasebookError> {
        let connection = Connection::open(path)?;
        connection.busy_timeout(PATIENCE)?;
        is_whole(&connection, path)?;
        connection.pragma_update(None, "secure_delete", "ON")?;
        connection.pragma_update(None, "foreign_keys", "ON")?;
        Casebook::looked_through(connection, path, false)
    }

    /// Looks through the whole file, more closely than before a change.
    ///
    /// # Errors
    /// When something in it is damaged.
    pub fn check(&self) -> Result<(), CasebookError> {
        check_with(&self.connection, &self.path, "integrity_check")?;
        self.connection
            .execute("INSERT INTO words(words) VALUES('integrity-check')", [])?;
        self.each(|_| Ok::<(), CasebookError>(()))
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

    fn change<T>(
        &mut self,
        work: impl FnOnce(&Connection) -> Result<T, CasebookError>,
    ) -> Result<T, CasebookError> {
        self.may_be_changed()?;
        self.look_through()?;
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)?;
        let done = work(&transaction)?;
        transaction.execute(
            "DELETE FROM done WHERE id <= (SELECT max(id) FROM done) - ?1",
            params![MOST_UNDOABLE],
        )?;
        transaction.commit()?;
        Ok(done)
    }
}

fn fit(case: Case) -> Result<Case, CasebookError> {
    let case = case.tidied();
    case.check().map_err(CasebookError::Unfit)?;
    Ok(case)
}

/// Fills in what a version adds for the cases already kept.
fn fill(connection: &Connection, version: i64) -> Result<(), CasebookError> {
    if version != 2 {
        return Ok(());
    }
    let mut statement = connection.prepare("SELECT id, document FROM cases")?;
    let rows = statement.query_map([], |row| {
        Ok((CaseId(row.get(0)?), row.get::<_, String>(1)?))
    })?;
    for row in rows {
        let (id, text) = row?;
        stored::index_words(connection, id, &stored::case(id, &text)?)?;
    }
    Ok(())
}

/// That a file is a casebook and its pages are sound.
pub(crate) fn is_whole(connection: &Connection, path: &Path) -> Result<(), CasebookError> {
    is_casebook(connection, path)?;
    check_with(connection, path, "quick_check")
}

fn is_casebook(connection: &Connection, path: &Path) -> Result<(), CasebookError> {
    let ours = schema::is_ours(connection).map_err(|error| damaged(path, error))?;
    if !ours {
        return Err(CasebookError::Damaged {
            path: path.to_owned(),
            what: "it holds something else".to_owned(),
            backups: backup::folder(path),
        });
    }
    Ok(())
}

fn check_with(connection: &Connection, path: &Path, how: &str) -> Result<(), CasebookError> {
    let result: Result<String, _> =
        connection.query_row(&format!("PRAGMA {how}(1)"), [], |row| row.get(0));
    match result {
        Ok(said) if said == "ok" => Ok(()),
        Ok(said) => Err(CasebookError::Damaged {
            path: path.to_owned(),
            what: said,
            backups: backup::folder(path),
        }),
        Err(error) => Err(damaged(path, error.into())),
    }
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

fn damaged(path: &Path, error: CasebookError) -> CasebookError {
    match error {
        CasebookError::Unsound(what) => CasebookError::Damaged {
            path: path.to_owned(),
            what,
            backups: backup::folder(path),
        },
        other => other,
    }
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

/// The log that SQLite keeps beside a file.
pub(crate) fn log_of(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push("-wal");
    PathBuf::from(name)
}
