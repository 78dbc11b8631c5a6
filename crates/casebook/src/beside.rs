//! What lies beside a casebook, and under which names.

use std::path::{Path, PathBuf};

use crate::CasebookError;

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

/// The folder of a casebook's backups, beside it.
pub(crate) fn folder(book: &Path) -> PathBuf {
    let mut name = book.file_stem().unwrap_or_default().to_owned();
    name.push("-backups");
    book.with_file_name(name)
}

/// The backups there are, the oldest first.
pub(crate) fn backups(book: &Path) -> Result<Vec<Backup>, CasebookError> {
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

/// A name beside a casebook's own.
pub(crate) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{ending}"));
    path.with_file_name(name)
}

/// The files that restorations have set aside.
pub(crate) fn aside(book: &Path) -> Vec<PathBuf> {
    set_aside(book).into_iter().map(|(_, path)| path).collect()
}

/// The same with their numbers, in order.
pub(crate) fn set_aside(book: &Path) -> Vec<(u64, PathBuf)> {
    let mut start = book.file_name().unwrap_or_default().to_owned();
    start.push(".before-");
    let number = |path: &Path| {
        let name = path.file_name()?.to_str()?;
        name.strip_prefix(start.to_str()?)?.parse::<u64>().ok()
    };
    let mut found: Vec<(u64, PathBuf)> = entries(book.parent())
        .filter_map(|path| Some((number(&path)?, path)))
        .collect();
    found.sort();
    found
}

/// What backups and restorations that were broken off have left half made. Only
/// whoever has the turn may touch it.
pub(crate) fn parts(book: &Path) -> Vec<PathBuf> {
    let is_part = |path: &PathBuf| path.extension().is_some_and(|end| end == "part");
    let restored = beside(book, "restored.part");
    entries(Some(&folder(book)))
        .filter(is_part)
        .chain(restored.exists().then_some(restored))
        .collect()
}

fn entries(folder: Option<&Path>) -> impl Iterator<Item = PathBuf> {
    let folder = match folder {
        Some(folder) if folder.as_os_str().is_empty() => Some(Path::new(".")),
        other => other,
    };
    let read = folder.and_then(|folder| std::fs::read_dir(folder).ok());
    read.into_iter()
        .flatten()
        .filter_map(|entry| Some(entry.ok()?.path()))
}

/// The log that SQLite keeps beside a file.
pub(crate) fn log_of(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push("-wal");
    PathBuf::from(name)
}
