use std::fs::File;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use press::Printed;

use crate::begun::Begun;
use crate::failure::Failure;
use crate::output;

/// A folder that a set of files is put into: all of them, or none.
///
/// They are written aside first. A new folder gets its name when all are in it. Into one
/// that is there they come by being renamed, one after the other, which takes no
/// noticeable time; where that is broken off all the same, those that are left lie in a
/// folder of their own ([`LEFT`]), and whoever overwrites there next finishes it first and
/// says so.
#[derive(Debug)]
pub(crate) struct SetFolder<'a> {
    path: &'a Path,
    overwrite: bool,
}

/// Where files of a set lie that are whole and not yet in their places.
const LEFT: &str = "not-yet-exchanged";

impl SetFolder<'_> {
    /// Looks whether a set may be put there before it is made, and finishes an exchange that
    /// was broken off there. `some` are names of files that the set will have.
    pub(crate) fn of<'a>(
        path: &'a Path,
        overwrite: bool,
        some: &[&str],
    ) -> Result<SetFolder<'a>, Failure> {
        if path.exists() && !path.is_dir() {
            return Err(Failure::bad_input(format!(
                "{} is a file; a folder, or a name that is free, would do",
                path.display()
            )));
        }
        if !path.exists() && is_called_like_a_file(path) {
            return Err(Failure::bad_input(format!(
                "{} is called like a file, and several files are written, into a folder; {} would do",
                path.display(),
                path.with_extension("").display()
            )));
        }
        let folder = SetFolder { path, overwrite };
        folder.is_free_for(some.iter().copied())?;
        if overwrite {
            folder.take_up()?;
        }
        Ok(folder)
    }

    /// Looks whether files of these names may be put there.
    pub(crate) fn is_free_for<'b>(
        &self,
        mut names: impl Iterator<Item = &'b str>,
    ) -> Result<(), Failure> {
        let in_the_way = names.find_map(|name| {
            let file = self.path.join(name);
            let is_folder = file.is_dir();
            (is_folder || file.exists() && !self.overwrite).then_some((file, is_folder))
        });
        match in_the_way {
            None => Ok(()),
            Some((file, true)) => Err(Failure::bad_input(format!(
                "{} is a folder, and a file is to bear that name; another folder would do",
                file.display()
            ))),
            Some((file, false)) => Err(Failure::bad_input(format!(
                "{} is there already; another folder, or --overwrite, would do{}",
                file.display(),
                if self.path.join(LEFT).is_dir() {
                    format!(
                        ". An exchange of files there was broken off, and old and new ones lie beside each other: those in {LEFT} are not in their places yet; --overwrite puts them there first"
                    )
                } else {
                    String::new()
                }
            ))),
        }
    }

    /// Finishes an exchange that was broken off, and says so.
    fn take_up(&self) -> Result<(), Failure> {
        let exchanged = self.exchange().map_err(|error| self.broken_off(&error))?;
        if exchanged > 0 {
            output::tell(&format!(
                "an exchange of the files in {} for new ones had been broken off; it is finished: {exchanged} that were left are in their places",
                self.path.display()
            ));
        }
        Ok(())
    }

    /// Puts the files there.
    pub(crate) fn put(&self, files: &[Printed]) -> Result<(), Failure> {
        self.is_free_for(files.iter().map(|file| file.name.as_str()))?;
        let cannot = |path: &Path, error: &io::Error| {
            Failure::other(format!("{} cannot be written: {error}", path.display()))
        };
        let is_new = !self.path.exists();
        let aside = self.aside(is_new);
        take_away_abandoned(&aside);
        std::fs::create_dir_all(&aside).map_err(|error| cannot(self.path, &error))?;
        // As long as it is held nobody takes the folder for abandoned. Some systems lock no
        // folders; there nothing is taken away.
        let at_work = File::open(&aside).map(|folder| (folder.try_lock(), folder));
        let aside = Begun::at(aside);
        for file in files {
            let path = aside.path().join(&file.name);
            written(&path, &file.bytes).map_err(|error| cannot(&path, &error))?;
        }
        let named = if is_new {
            let named = aside.finish(|aside| std::fs::rename(aside, self.path));
            named.map_err(|error| cannot(self.path, &error))
        } else {
            let exchanged = aside.finish(|aside| {
                std::fs::rename(aside, self.path.join(LEFT))?;
                self.exchange()
            });
            exchanged.map(drop).map_err(|error| self.broken_off(&error))
        };
        drop(at_work);
        named
    }

    /// Where the files are written first: beside a new folder, within one that is there,
    /// which may be all that may be written to.
    fn aside(&self, is_new: bool) -> PathBuf {
        let part = format!("almuri-part-{}", std::process::id());
        match self.path.file_name() {
            Some(name) if is_new => {
                let mut name = name.to_owned();
                name.push(".");
                name.push(part);
                self.path.with_file_name(name)
            }
            _ => self.path.join(part),
        }
    }

    /// Brings into their places the files of a set that is whole; gives their number.
    fn exchange(&self) -> io::Result<usize> {
        let left = self.path.join(LEFT);
        let entries = match std::fs::read_dir(&left) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(0),
            other => other?,
        };
        let mut exchanged = 0;
        for entry in entries {
            let entry = entry?;
            std::fs::rename(entry.path(), self.path.join(entry.file_name()))?;
            exchanged += 1;
        }
        std::fs::remove_dir(left)?;
        Ok(exchanged)
    }

    fn broken_off(&self, error: &io::Error) -> Failure {
        Failure::other(format!(
            "the files in {} could not be exchanged for new ones: {error}; if {} is there, the new ones that are not yet in their places lie in it, and the same command goes on with them",
            self.path.display(),
            self.path.join(LEFT).display()
        ))
    }
}

/// Takes folders away that are called like this one but for another number, in which a
/// program wrote that is no longer at work. What cannot be taken away is in nobody's way.
fn take_away_abandoned(aside: &Path) {
    let start = |path: &Path| {
        let name = path.file_name()?.to_str()?;
        Some(
            name.trim_end_matches(|c: char| c.is_ascii_digit())
                .to_owned(),
        )
    };
    let beside = match aside.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let entries = std::fs::read_dir(beside).into_iter().flatten().flatten();
    for path in entries.map(|entry| entry.path()) {
        let is_like_it = path.is_dir() && start(&path).is_some() && start(&path) == start(aside);
        if is_like_it && File::open(&path).is_ok_and(|held| held.try_lock().is_ok()) {
            let _ = std::fs::remove_dir_all(&path);
        }
    }
}

/// Writes a file, and sees that it is on the disk.
fn written(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Whether a name ends as the files do that are made here.
fn is_called_like_a_file(folder: &Path) -> bool {
    const ENDS: [&str; 12] = [
        "pdf", "svg", "dxf", "png", "json", "jsonl", "csv", "txt", "toml", "zip", "stl", "3mf",
    ];
    let end = folder.extension().and_then(|end| end.to_str());
    end.is_some_and(|end| ENDS.contains(&end.to_lowercase().as_str()))
}
