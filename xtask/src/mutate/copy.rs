//! A copy of the workspace in which mutants sleep.
//!
//! Only the sources that hold some are written anew, and only where they differ from what
//! lies there, so that cargo builds what has changed; all else is linked to.

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};

use super::area::AREAS;
use super::mutant::Mutant;
use super::spliced::Spliced;
use crate::cargo;

/// Where the copy is, from the root.
pub(super) const COPY: &str = "target/mutants";

/// What stands at the root of the project and is no part of the copy.
const LEFT: &[&str] = &[".git", "target", "crates"];

/// What wakes a mutant, and its name in a crate.
const ASLEEP: (&str, &str) = ("asleep.rs", include_str!("asleep.rs"));

/// The copy as it was written.
pub(super) struct Copy {
    pub(super) root: PathBuf,
    /// The sources that hold mutants, by their paths from the root.
    spliced: BTreeMap<String, Spliced>,
}

impl Copy {
    /// Writes the copy with these mutants in it.
    pub(super) fn write(mutants: &[Mutant]) -> Result<Copy, String> {
        let (from, to) = (cargo::root(), cargo::root().join(COPY));
        let packages: Vec<&str> = AREAS.iter().map(|area| area.package).collect();
        link_all(&from, &to, LEFT)?;
        link_all(&from.join("crates"), &to.join("crates"), &packages)?;
        let mut spliced = BTreeMap::new();
        for package in packages {
            let folder = format!("crates/{package}");
            link_all(&from.join(&folder), &to.join(&folder), &["src"])?;
            let sources = format!("{folder}/src");
            spliced.extend(write_sources(&from, &to, &sources, mutants)?);
        }
        Ok(Copy { root: to, spliced })
    }

    /// The mutant that lies at a byte of a source of the copy, or nearest before it.
    pub(super) fn mutant_at(&self, file: &str, byte: usize) -> Option<u64> {
        self.spliced.get(file)?.at(byte)
    }
}

/// Links to everything in a folder but what is named, which gets folders of its own.
fn link_all(from: &Path, to: &Path, but: &[&str]) -> Result<(), String> {
    let failed = told(to);
    fs::create_dir_all(to).map_err(&failed)?;
    for entry in fs::read_dir(from).map_err(&failed)? {
        let entry = entry.map_err(&failed)?;
        let link = to.join(entry.file_name());
        let is_left = but.iter().any(|name| entry.file_name() == *name);
        if !is_left && fs::symlink_metadata(&link).is_err() {
            symlink(entry.path(), &link).map_err(&failed)?;
        }
    }
    Ok(())
}

/// Writes the sources of a crate, those that hold mutants with them asleep, and gives these.
fn write_sources(
    from: &Path,
    to: &Path,
    folder: &str,
    mutants: &[Mutant],
) -> Result<BTreeMap<String, Spliced>, String> {
    let mut spliced = BTreeMap::new();
    let mut written = vec![to.join(folder).join(ASLEEP.0)];
    write_if_changed(&written[0], ASLEEP.1.as_bytes())?;
    for path in files(&from.join(folder))? {
        let name = path.strip_prefix(from).unwrap_or(&path);
        let file = name.to_string_lossy().into_owned();
        let target = to.join(name);
        let mut bytes = fs::read(&path).map_err(told(&path))?;
        let here: Vec<&Mutant> = mutants.iter().filter(|one| one.file == file).collect();
        if !here.is_empty() {
            let source = String::from_utf8(bytes).map_err(|_| format!("{file} is no text"))?;
            let with_mutants = Spliced::of(&source, &here);
            bytes = with_mutants.text.clone().into_bytes();
            spliced.insert(file, with_mutants);
        }
        if name.ends_with("src/lib.rs") {
            bytes.extend(b"\nmod asleep;\n");
        }
        write_if_changed(&target, &bytes)?;
        written.push(target);
    }
    for path in files(&to.join(folder))? {
        if !written.contains(&path) {
            fs::remove_file(&path).map_err(told(&path))?;
        }
    }
    Ok(spliced)
}

fn write_if_changed(path: &Path, bytes: &[u8]) -> Result<(), String> {
    if fs::read(path).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(told(folder))?;
    }
    fs::write(path, bytes).map_err(told(path))
}

/// The files of a folder and of its folders, in order.
pub(super) fn files(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let failed = told(folder);
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).map_err(&failed)? {
        let path = entry.map_err(&failed)?.path();
        if path.is_dir() {
            found.extend(files(&path)?);
        } else {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}

/// How an error at a path is told.
pub(super) fn told(path: &Path) -> impl Fn(std::io::Error) -> String {
    move |error| format!("{}: {error}", path.display())
}
