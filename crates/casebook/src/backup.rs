use std::path::Path;

use rusqlite::Connection;

use crate::beside::{Backup, backups, folder};
use crate::turn::{PATIENCE, Turn};
use crate::{Casebook, CasebookError, private};

/// The backups of the last days are kept, and beyond them the last of each month.
const DAYS: usize = 14;
const MONTHS: usize = 12;

impl Casebook {
    /// The backups there are, the oldest first.
    ///
    /// # Errors
    /// When their folder cannot be read.
    pub fn backups(&self) -> Result<Vec<Backup>, CasebookError> {
        backups(self.path())
    }

    /// The backups of the casebook in a file, which need not be readable itself.
    ///
    /// # Errors
    /// When their folder cannot be read.
    pub fn backups_of(path: &Path) -> Result<Vec<Backup>, CasebookError> {
        backups(path)
    }

    /// Makes a backup with a name, in the place of one of that name; whole or not
    /// at all. Others may read and write meanwhile, and whoever makes a backup at the
    /// same time waits.
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
        let turn = Turn::wait(self.path(), PATIENCE)?;
        self.backed_up(name, &turn)
    }

    fn backed_up(&self, name: &str, _turn: &Turn) -> Result<Backup, CasebookError> {
        self.is_sound_now()?;
        let folder = folder(self.path());
        private::folder(&folder).map_err(|error| CasebookError::file(&folder, error))?;
        let path = folder.join(format!("{name}.sqlite"));
        let part = folder.join(format!("{name}.part"));
        let copied = copy(self.connection(), &part);
        if copied.is_err() {
            let _ = std::fs::remove_file(&part);
        }
        copied?;
        std::fs::rename(&part, &path)
            .and_then(|()| private::sync_folder_of(&path))
            .map_err(|error| CasebookError::file(&path, error))?;
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
        let is_there = |all: Vec<Backup>| all.iter().any(|one| one.name == date);
        if self.len()? == 0 || is_there(self.backups()?) {
            return Ok(());
        }
        let turn = Turn::wait(self.path(), PATIENCE)?;
        // Another process may have made it while we waited.
        if is_there(self.backups()?) {
            return Ok(());
        }
        self.backed_up(date, &turn)?;
        for old in superfluous(&self.backups()?) {
            // By a clock that was put back it may be older than all others.
            if old.name == date {
                continue;
            }
            std::fs::remove_file(&old.path)
                .map_err(|error| CasebookError::file(&old.path, error))?;
        }
        Ok(())
    }
}

/// Copies a casebook as it is at this moment into a new file without a log, which is
/// on the disk when this returns. What a broken attempt left there is written over.
pub(crate) fn copy(source: &Connection, to: &Path) -> Result<(), CasebookError> {
    let failed = |error| CasebookError::file(to, error);
    let file = private::file(to).map_err(failed)?;
    file.set_len(0).map_err(failed)?;
    let name = to.to_str().ok_or_else(|| {
        CasebookError::Text(format!(
            "{} is not readable text; a folder with a name in UTF-8 would do",
            to.display()
        ))
    })?;
    source.execute("VACUUM INTO ?1", [name])?;
    file.sync_all().map_err(failed)
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
    use std::path::PathBuf;

    use super::*;

    /// A machine whose clock has lost its battery, or was put two centuries ahead.
    #[test]
    fn clocks_that_jump_lose_nothing() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("casebook.sqlite");
        let mut book = Casebook::open_without_backup(&path).expect("opens");
        let days = (0..20).map(|n| 1_700_000_000 + n * 86_400);
        let jumps = [0, 8_109_936_000, 86_399, 1_720_000_000, 8_110_022_400, 1];
        let mut cases = 0;
        for unix_s in days.chain(jumps) {
            let today = crate::date::date(unix_s);
            book.keep(crate::Case {
                name: today.clone(),
                when: "2024-05-14 09:20".to_owned(),
                at: "Lisbon, Portugal".to_owned(),
                ..crate::Case::default()
            })
            .expect("kept");
            cases += 1;
            book.back_up_today(&today).expect("backed up");
            let backups = book.backups().expect("listed");
            assert!(backups.iter().any(|one| one.name == today), "{today}");
            assert!(backups.len() <= DAYS + MONTHS + 1, "{today}");
            assert_eq!(book.len().expect("counted"), cases, "{today}");
        }
        assert_eq!(crate::date::date(8_109_936_000), "2226-12-30");
        book.check().expect("sound");
    }

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
