use std::fs::File;
use std::io::{BufWriter, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use super::unfinished::Checkpoint;
use crate::failure::Failure;

/// The file being written, under a name of its own until it is whole. Unlike other
/// files it stays when the work is broken off, to be gone on with.
pub(super) struct Output {
    path: PathBuf,
    part: PathBuf,
    file: BufWriter<File>,
    bytes: u64,
}

impl Output {
    /// From the beginning, or from where a broken run had come to.
    pub(super) fn open(path: &Path, from: &Checkpoint) -> Result<Output, Failure> {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(".part");
        let part = path.with_file_name(name);
        let open = || {
            let mut file = File::options()
                .create(true)
                .truncate(false)
                .write(true)
                .open(&part)?;
            file.set_len(from.output_bytes)?;
            file.seek(SeekFrom::End(0))?;
            Ok(file)
        };
        let file = open().map_err(|error: std::io::Error| failure(path, &error))?;
        Ok(Output {
            path: path.to_owned(),
            part,
            file: BufWriter::with_capacity(1 << 16, file),
            bytes: from.output_bytes,
        })
    }

    pub(super) fn write(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        self.bytes += bytes.len() as u64;
        self.file
            .write_all(bytes)
            .map_err(|error| failure(&self.path, &error))
    }

    pub(super) fn bytes(&self) -> u64 {
        self.bytes
    }

    /// Sees that all that was written is on the disk.
    pub(super) fn settle(&mut self) -> Result<(), Failure> {
        let settled = self
            .file
            .flush()
            .and_then(|()| self.file.get_ref().sync_data());
        settled.map_err(|error| failure(&self.path, &error))
    }

    /// Gives the file its name.
    pub(super) fn finish(mut self) -> Result<(), Failure> {
        self.settle()?;
        std::fs::rename(&self.part, &self.path).map_err(|error| failure(&self.path, &error))
    }
}

fn failure(path: &Path, error: &std::io::Error) -> Failure {
    Failure::other(format!("{} cannot be written: {error}", path.display()))
}
