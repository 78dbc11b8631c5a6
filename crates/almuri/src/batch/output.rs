use std::fs::File;
use std::io::{BufRead, BufReader, BufWriter, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::arguments::BatchArguments;
use crate::failure::Failure;

/// The file being written, under a name of its own until it is whole. Unlike other
/// files it stays when the work is broken off, to be gone on with.
pub(super) struct Output {
    path: PathBuf,
    part: PathBuf,
    file: BufWriter<File>,
    written: Written,
}

/// How much has been written, with the checksum of all of it: CRC-32.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Written {
    bytes: u64,
    checksum: u32,
}

impl Written {
    fn and(self, more: &[u8]) -> Written {
        let mut sum = crc32fast::Hasher::new_with_initial_len(self.checksum, self.bytes);
        sum.update(more);
        Written {
            bytes: self.bytes + more.len() as u64,
            checksum: sum.finalize(),
        }
    }

    /// As much of a file as this says, with the checksum that it has now.
    fn in_file(self, file: &mut File) -> std::io::Result<Written> {
        let mut read = BufReader::with_capacity(1 << 16, file).take(self.bytes);
        let mut found = Written::default();
        loop {
            let block = read.fill_buf()?;
            if block.is_empty() {
                return Ok(found);
            }
            found = found.and(block);
            let length = block.len();
            read.consume(length);
        }
    }
}

impl Output {
    /// A file that is begun; what a broken run left of it is written over.
    pub(super) fn begin(path: &Path) -> Result<Output, Failure> {
        let part = part_of(path);
        let file = File::create(&part).map_err(|error| failure(path, &error))?;
        Ok(Output::of(path, part, file, Written::default()))
    }

    /// From where a broken run had come to. What is there must be what that run wrote.
    pub(super) fn take_up(path: &Path, written: Written) -> Result<Output, Failure> {
        let part = part_of(path);
        let refused = |what: &str| {
            Failure::bad_input(format!(
                "an unfinished run is noted, and its half-made table {} {what}; --afresh begins anew",
                part.display()
            ))
        };
        let mut file = match File::options().read(true).write(true).open(&part) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                return Err(refused("is not there"));
            }
            other => other.map_err(|error| failure(path, &error))?,
        };
        let cannot = |error: std::io::Error| failure(path, &error);
        let found = written.in_file(&mut file).map_err(cannot)?;
        if found.bytes < written.bytes {
            return Err(refused("is shorter than what was written"));
        }
        if found != written {
            return Err(refused("is not what was written"));
        }
        // What came after the note was taken is written again.
        file.set_len(written.bytes)
            .and_then(|()| file.seek(SeekFrom::End(0)))
            .map_err(cannot)?;
        Ok(Output::of(path, part, file, written))
    }

    fn of(path: &Path, part: PathBuf, file: File, written: Written) -> Output {
        Output {
            path: path.to_owned(),
            part,
            file: BufWriter::with_capacity(1 << 16, file),
            written,
        }
    }

    pub(super) fn write(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        self.written = self.written.and(bytes);
        self.file
            .write_all(bytes)
            .map_err(|error| failure(&self.path, &error))
    }

    pub(super) fn written(&self) -> Written {
        self.written
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

fn part_of(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    path.with_file_name(name)
}

fn failure(path: &Path, error: &std::io::Error) -> Failure {
    Failure::other(format!("{} cannot be written: {error}", path.display()))
}

/// What is said of a table that was written.
pub(super) fn said(arguments: &BatchArguments, rows: u64, refused: u64) -> String {
    let shown = arguments.output.display();
    if arguments.json {
        return serde_json::json!({ "file": shown.to_string(), "rows": rows, "refused": refused })
            .to_string()
            + "\n";
    }
    match refused {
        0 => format!("{rows} figures written to {shown}\n"),
        _ => format!(
            "{rows} rows written to {shown}; {refused} have no figure, and say why in the column error\n"
        ),
    }
}
