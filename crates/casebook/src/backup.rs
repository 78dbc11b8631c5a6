use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags};

use crate::book::is_whole;
use crate::{Casebook, CasebookError, read_only, schema};

/// A backup of a casebook.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Backup {
    /// Its name: the date on which it was made.
    pub name: String,
    /// Its file.
    pub path: PathBuf,
    /// How long it is.
    pub bytes: u64,
}

/// The backups of the last days are kept, and beyond them the last of each month.
const DAYS: usize = 14;
const MONTHS: usize = 12;

/// Pages copied at a time; between two copies others may write.
const PAGES: i32 = 4096;

/// The folder of a casebook's backups, beside it.
pub(crate) fn folder(book: &Path) -> PathBuf {
    let mut name = book.file_stem().unwrap_or_default().to_owned();
    name.push("-backups");
    book.with_file_name(name)
}

/// The backups there are, the oldest first.
pub(crate) fn all(book: &Path) -> Result<Vec<Backup>, CasebookError> {
    let folder = folder(book);
    let entries = match std::fs::read_dir(&folder) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.map_err(|error| CasebookError::file(&folder, error))?,
    };
    let mut found = Vec::new();
    for entry in entries {
        let path = entry
            .map_err(|error| CasebookError::file(&folder, error))?
            .path();
        let name = path
            .file_stem()
            .and_then(|name| name.to_str())
            .map(str::to_owned);
        let Some(name) = name.filter(|_| path.extension().is_some_and(|end| end == "sqlite"))
        else {
            continue;
        };
        let bytes = path.metadata().map_or(0, |about| about.len());
        found.push(Backup { name, path, bytes });
    }
    found.sort();
    Ok(found)
}

impl Casebook {
    /// The backups there are, the oldest first.
    ///
    /// # Errors
    /// When their folder cannot be read.
    pub fn backups(&self) -> Result<Vec<Backup>, CasebookError> {
        all(self.path())
    }

    /// The backups of the casebook in a file, which need not be readable itself.
    ///
    /// # Errors
    /// When their folder cannot be read.
    pub fn backups_of(path: &Path) -> Result<Vec<Backup>, CasebookError> {
        all(path)
    }

    /// Makes a backup with a name, in the place of one of that name; whole or not
    /// at all. Others may read and write meanwhile.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn back_up(&self, name: &str) -> Result<Backup, CasebookError> {
        let fit = !name.is_empty()
            && name
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || "-_".contains(c));
        if !fit {
            return Err(CasebookError::Text(format!(
                "a backup cannot be called {name:?}; letters, figures, - and _ would do"
            )));
        }
        self.may_be_changed()?;
        self.look_through()?;
        let folder = folder(self.path());
        std::fs::create_dir_all(&folder).map_err(|error| CasebookError::file(&folder, error))?;
        let path = folder.join(format!("{name}.sqlite"));
        let part = folder.join(format!("{name}.part"));
        // What a broken attempt left is of no use; that it may not be there is no matter.
        let _ = std::fs::remove_file(&part);
        let copied = copy(self.connection(), &part);
        if copied.is_err() {
            let _ = std::fs::remove_file(&part);
        }
        copied?;
        let renamed = std::fs::File::open(&part)
            .and_then(|file| file.sync_all())
            .and_then(|()| std::fs::rename(&part, &path));
        renamed.map_err(|error| CasebookError::file(&path, error))?;
        let bytes = path.metadata().map_or(0, |about| about.len());
        Ok(Backup {
            name: name.to_owned(),
            path,
            bytes,
        })
    }

    /// The day's backup, unless there is one or there is nothing to keep; and those
    /// too old are taken away.
    pub(crate) fn back_up_today(&self, date: &str) -> Result<(), CasebookError> {
        if self.len()? == 0 || self.backups()?.iter().any(|one| one.name == date) {
            return Ok(());
        }
        self.back_up(date)?;
        for old in superfluous(&self.backups()?) {
            std::fs::remove_file(&old.path)
                .map_err(|error| CasebookError::file(&old.path, error))?;
        }
        Ok(())
    }

    /// Puts a backup in the place of the casebook in a file, which need not be
    /// readable. The present file is kept beside it under another name, which is
    /// returned; none where there was no file.
    ///
    /// # Errors
    /// When there is no such backup, it is not whole itself, or the file may not be
    /// written to.
    pub fn restore(path: &Path, name: &str) -> Result<Option<PathBuf>, CasebookError> {
        let there = all(path)?;
        let Some(backup) = there.iter().find(|one| one.name == name) else {
            return Err(CasebookError::NoBackup {
                name: name.to_owned(),
                there: there.into_iter().map(|one| one.name).collect(),
            });
        };
        if read_only::may_only_be_read(path) {
            return Err(CasebookError::ReadOnly);
        }
        let source = Connection::open_with_flags(&backup.path, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
        is_whole(&source, &backup.path)?;
        schema::is_known(&source, &backup.path)?;
        let part = beside(path, "restored.part");
        let _ = std::fs::remove_file(&part);
        copy(&source, &part).map_err(|error| match error {
            error if error.is_for_want_of_leave() => CasebookError::ReadOnly,
            other => other,
        })?;
        let aside = set_aside(path)?;
        std::fs::rename(&part, path).map_err(|error| CasebookError::file(path, error))?;
        Ok(aside)
    }
}

fn copy(source: &Connection, to: &Path) -> Result<(), CasebookError> {
    let mut target = Connection::open(to)?;
    // A copy in one file, without a log beside it.
    target.pragma_update(None, "journal_mode", "DELETE")?;
    let backup = rusqlite::backup::Backup::new(source, &mut target)?;
    backup.run_to_completion(PAGES, Duration::ZERO, None)?;
    drop(backup);
    target.pragma_update(None, "journal_mode", "DELETE")?;
    Ok(())
}

fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{ending}"));
    path.with_file_name(name)
}

/// Moves a casebook with its log out of the way.
fn set_aside(path: &Path) -> Result<Option<PathBuf>, CasebookError> {
    if !path.exists() {
        return Ok(None);
    }
    let free = (1..).map(|n| beside(path, &format!("before-{n}")));
    let aside = free.into_iter().find(|aside| !aside.exists());
    let aside = aside.unwrap_or_else(|| beside(path, "before"));
    for log in ["-wal", "-shm"] {
        let with = |path: &Path| {
            let mut name = path.as_os_str().to_owned();
            name.push(log);
            PathBuf::from(name)
        };
        if with(path).exists() {
            std::fs::rename(with(path), with(&aside))
                .map_err(|error| CasebookError::file(path, error))?;
        }
    }
    std::fs::rename(path, &aside).map_err(|error| CasebookError::file(path, error))?;
    Ok(Some(aside))
}

/// The files that restorations have set aside.
pub(crate) fn aside(book: &Path) -> Vec<PathBuf> {
    let all = (1..).map(|n| beside(book, &format!("before-{n}")));
    all.take_while(|path| path.exists()).collect()
}

/// Dated backups beyond the last days that are not the last of one of the last
/// months. Those with names of their own stay.
fn superfluous(all: &[Backup]) -> Vec<Backup> {
    let is_date = |name: &str| {
        name.len() == 10
            && name
                .bytes()
                .all(|byte| byte.is_ascii_digit() || byte == b'-')
    };
    let dated: Vec<&Backup> = all.iter().filter(|one| is_date(&one.name)).collect();
    let month = |one: &Backup| one.name.get(..7).map(str::to_owned);
    let old = dated.len().saturating_sub(DAYS);
    let mut months: Vec<Option<String>> = Vec::new();
    let mut gone = Vec::new();
    for one in dated.iter().take(old).rev() {
        if months.contains(&month(one)) || months.len() >= MONTHS {
            gone.push((*one).clone());
        } else {
            months.push(month(one));
        }
    }
    gone
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_days_and_the_last_of_each_month_are_kept() {
        let backup = |name: String| Backup {
            name,
            path: PathBuf::new(),
            bytes: 0,
        };
        let mut all: Vec<Backup> = Vec::new();
        for month in 1..=3 {
            all.extend((1..=28).map(|day| backup(format!("2024-{month:02}-{day:02}"))));
        }
        all.push(backup("before-the-exam".to_owned()));
        all.sort();
        let gone = superfluous(&all);
        let kept: Vec<&str> = all
            .iter()
            .filter(|one| !gone.contains(one))
            .map(|one| one.name.as_str())
            .collect();
        let days: Vec<String> = (15..=28).map(|day| format!("2024-03-{day}")).collect();
        let mut expected = vec!["2024-01-28", "2024-02-28", "2024-03-14"];
        expected.extend(days.iter().map(String::as_str));
        expected.push("before-the-exam");
        assert_eq!(kept, expected);
    }
}
