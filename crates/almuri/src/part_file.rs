use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use crate::begun::Begun;
use crate::failure::Failure;

/// A file that is there whole or not at all: written under a name of its own, beside
/// the one it will bear, and taken away again unless it is finished.
///
/// A link is followed to the file it names. What is no file, such as a device or a
/// pipe, is written to as it is.
#[derive(Debug)]
pub(crate) struct PartFile {
    path: PathBuf,
    /// The name it is written under; none for what is no file.
    part: Option<Begun>,
    file: Option<BufWriter<File>>,
}

impl PartFile {
    /// Begins a file. One that is there is overwritten only where that is said.
    pub(crate) fn create(path: &Path, overwrite: bool) -> Result<PartFile, Failure> {
        let cannot = |error| failure(path, &error);
        // What is not there yet has no other name than its own.
        let target = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        if target.is_dir() {
            return Err(Failure::bad_input(format!(
                "{} is a folder, and a file is written; the name of a file in it would do",
                path.display()
            )));
        }
        if target.is_file() && !overwrite {
            return Err(Failure::bad_input(format!(
                "{} is there already; another name, or --overwrite, would do",
                path.display()
            )));
        }
        if target.exists() && !target.is_file() && !target.is_dir() {
            let file = File::options().write(true).open(&target).map_err(cannot)?;
            return Ok(PartFile {
                path: target,
                part: None,
                file: Some(BufWriter::new(file)),
            });
        }
        // A name that no other file bears, and no other writer at work has.
        for attempt in 0..100 {
            let mut name = target.file_name().unwrap_or_default().to_owned();
            name.push(format!(".{}-{attempt}.part", std::process::id()));
            let part = target.with_file_name(name);
            match File::create_new(&part) {
                Ok(file) => {
                    return Ok(PartFile {
                        path: target,
                        part: Some(Begun::at(part)),
                        file: Some(BufWriter::new(file)),
                    });
                }
                Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(cannot(error)),
            }
        }
        Err(cannot(std::io::ErrorKind::AlreadyExists.into()))
    }

    pub(crate) fn write_all(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        match &mut self.file {
            Some(file) => file
                .write_all(bytes)
                .map_err(|error| failure(&self.path, &error)),
            None => Ok(()),
        }
    }

    /// What is told where something else that writes into the file could not.
    pub(crate) fn failure(&self, error: &std::io::Error) -> Failure {
        failure(&self.path, error)
    }

    /// Gives the file its name.
    pub(crate) fn finish(mut self) -> Result<(), Failure> {
        let finished = match self.file.take() {
            Some(file) => file
                .into_inner()
                .map_err(std::io::IntoInnerError::into_error)
                .and_then(|file| match self.part.take() {
                    Some(part) => file
                        .sync_all()
                        .and_then(|()| part.finish(|part| std::fs::rename(part, &self.path))),
                    None => Ok(()),
                }),
            None => Ok(()),
        };
        finished.map_err(|error| failure(&self.path, &error))
    }
}

impl Write for PartFile {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        match &mut self.file {
            Some(file) => file.write(bytes),
            None => Ok(bytes.len()),
        }
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.file.as_mut().map_or(Ok(()), Write::flush)
    }
}

impl Drop for PartFile {
    fn drop(&mut self) {
        // Some systems take no file away that is open.
        drop(self.file.take());
    }
}

fn failure(path: &Path, error: &std::io::Error) -> Failure {
    Failure::other(format!("{} cannot be written: {error}", path.display()))
}
