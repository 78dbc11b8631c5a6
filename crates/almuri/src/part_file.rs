use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use crate::failure::Failure;

/// A file that is there whole or not at all: written under a name of its own, beside
/// the one it will bear, and taken away again unless it is finished.
#[derive(Debug)]
pub(crate) struct PartFile {
    path: PathBuf,
    part: PathBuf,
    file: Option<BufWriter<File>>,
}

impl PartFile {
    pub(crate) fn create(path: &Path) -> Result<PartFile, Failure> {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(".part");
        let part = path.with_file_name(name);
        let file = File::create(&part).map_err(|error| failure(path, &error))?;
        Ok(PartFile {
            path: path.to_owned(),
            part,
            file: Some(BufWriter::new(file)),
        })
    }

    pub(crate) fn write_all(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        match &mut self.file {
            Some(file) => file
                .write_all(bytes)
                .map_err(|error| failure(&self.path, &error)),
            None => Ok(()),
        }
    }

    /// Gives the file its name.
    pub(crate) fn finish(mut self) -> Result<(), Failure> {
        let finished = match self.file.take() {
            Some(file) => file
                .into_inner()
                .map_err(std::io::IntoInnerError::into_error)
                .and_then(|file| file.sync_all())
                .and_then(|()| std::fs::rename(&self.part, &self.path)),
            None => Ok(()),
        };
        finished.map_err(|error| failure(&self.path, &error))
    }
}

impl Drop for PartFile {
    fn drop(&mut self) {
        // What was begun is of no use; once finished it bears another name, and that
        // it is not there is no matter.
        drop(self.file.take());
        let _ = std::fs::remove_file(&self.part);
    }
}

fn failure(path: &Path, error: &std::io::Error) -> Failure {
    Failure::other(format!("{} cannot be written: {error}", path.display()))
}
