//! What was found out before, kept beside the builds so that a second run is quick. Nothing
//! rests on it: what is not remembered is found out again.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::PathBuf;

use super::copy::{COPY, told};
use crate::cargo;

/// A file of lines, each a thing and what is known of it; the last that is said counts.
pub(super) struct Memory {
    path: PathBuf,
    known: BTreeMap<String, String>,
}

impl Memory {
    /// Mutants that are no Rust.
    pub(super) fn no_rust() -> Memory {
        Memory::read("no-rust")
    }

    /// Mutants that were noticed, and by which test.
    pub(super) fn noticed() -> Memory {
        Memory::read("noticed")
    }

    /// Mutants that survived: the newest build of a test until then, and how many were asked.
    pub(super) fn survived() -> Memory {
        Memory::read("survived")
    }

    /// Tests as they were measured.
    pub(super) fn measured() -> Memory {
        Memory::read("measured")
    }

    fn read(name: &str) -> Memory {
        let path = cargo::root().join(format!("{COPY}.{name}"));
        let text = fs::read_to_string(&path).unwrap_or_default();
        let lines = text.lines().filter_map(|line| line.split_once('\t'));
        Memory {
            known: lines
                .map(|(of, is)| (of.to_owned(), is.to_owned()))
                .collect(),
            path,
        }
    }

    /// What is known of a thing.
    pub(super) fn of(&self, thing: &str) -> Option<&str> {
        self.known.get(thing).map(String::as_str)
    }

    /// All that something is known of.
    pub(super) fn things(&self) -> impl Iterator<Item = &str> {
        self.known.keys().map(String::as_str)
    }

    pub(super) fn add(&mut self, thing: &str, is: &str) -> Result<(), String> {
        let failed = told(&self.path);
        let mut file = fs::File::options();
        let mut file = file
            .create(true)
            .append(true)
            .open(&self.path)
            .map_err(&failed)?;
        writeln!(file, "{thing}\t{is}").map_err(&failed)?;
        self.known.insert(thing.to_owned(), is.to_owned());
        Ok(())
    }
}
