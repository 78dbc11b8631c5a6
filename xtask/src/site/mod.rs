//! `cargo xtask site`: the workbench without a server, as a folder for any static host
//! and as one file that opens from a double-click.

mod data;
mod folder;
mod one_file;
mod page;
mod piece;
mod wasm;

use std::path::PathBuf;

use crate::{cargo, setup};
use data::Data;
use page::Page;
use piece::{Desks, Piece, packed, write};
use wasm::Build;
pub(crate) use wasm::{can_be_built, can_be_small};

/// Where the site is built.
pub(crate) const SITE: &str = "target/site";

const USAGE: &str = "cargo xtask site [--years 1800..2100] [--towns Spain,Portugal | large | FILE] [--whole] [--into DIR]";

/// What is asked for.
#[derive(Debug, Default, PartialEq, Eq)]
struct Asked {
    years: Option<(i32, i32)>,
    towns: Option<String>,
    /// Whether a small file has the whole desk too.
    whole: bool,
    into: Option<PathBuf>,
}

/// Builds the desk in WebAssembly, cuts the data that are asked for, and writes folder and
/// file.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    let asked = Asked::of(words)?;
    setup::webassembly();
    let desks = Desks {
        small: desk(Build::Small)?,
        whole: desk(Build::Whole)?,
    };
    let is_whole = asked.is_whole();
    let data = Data::of(asked.years, asked.towns.as_deref())?;
    let page = Page::read(&cargo::root().join("crates/workbench/page"))?;
    let into = asked.into.unwrap_or_else(|| cargo::root().join(SITE));
    let written = folder::write(&page, &desks, &data, &into)?;
    println!(
        "{}: {} in {} files",
        into.display(),
        size(written.bytes),
        written.files
    );
    let file = into.join("almuri.html");
    let desk = if is_whole { &desks.whole } else { &desks.small };
    let text = one_file::text(&page, desk, is_whole, &data)?;
    write(&file, text.as_bytes())?;
    println!("{}: {}", file.display(), size(text.len()));
    if !is_whole {
        println!("It makes no files and examines no instruments; with --whole it does.");
    }
    if let Some(lacks) = &data.lacks {
        println!("{lacks}");
    }
    Ok(())
}

/// A build of the desk as the page loads it.
fn desk(build: Build) -> Result<Piece, String> {
    let wasm = wasm::built(build)?;
    let bytes = packed(&wasm);
    let name = format!("{}.wasm.z", build.name());
    println!("{name}: {}, of {}", size(bytes.len()), size(wasm.len()));
    Ok(Piece { name, bytes })
}

impl Asked {
    /// Whether the one file has the whole desk: a small one, of some years and some towns, is
    /// to be sent by post, and has it only where that is said.
    fn is_whole(&self) -> bool {
        self.whole || self.years.is_none() || self.towns.is_none()
    }

    fn of(words: &[String]) -> Result<Asked, String> {
        let mut asked = Asked::default();
        let mut words = words.iter();
        while let Some(word) = words.next() {
            if word == "--whole" {
                asked.whole = true;
                continue;
            }
            let (name, value) = match word.split_once('=') {
                Some((name, value)) => (name, Some(value.to_owned())),
                None => (word.as_str(), words.next().cloned()),
            };
            let value = value.ok_or_else(|| format!("{name} is of what? {USAGE}"))?;
            match name {
                "--years" => asked.years = Some(years(&value)?),
                "--towns" => asked.towns = Some(value),
                "--into" => asked.into = Some(PathBuf::from(value)),
                _ => return Err(format!("there is no {name}: {USAGE}")),
            }
        }
        Ok(asked)
    }
}

/// `1800..2100`, both ends included.
fn years(text: &str) -> Result<(i32, i32), String> {
    let wrong = || format!("--years {text:?} are no years; 1800..2100 would do");
    let (from, to) = text.split_once("..").ok_or_else(wrong)?;
    match (from.trim().parse(), to.trim().parse()) {
        (Ok(from), Ok(to)) if from <= to => Ok((from, to)),
        _ => Err(wrong()),
    }
}

fn size(bytes: usize) -> String {
    format!("{:.2} MB", bytes as f64 / 1e6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_asked_is_understood_or_told() {
        let of = |text: &str| {
            let words: Vec<String> = text.split_whitespace().map(str::to_owned).collect();
            Asked::of(&words)
        };
        let asked = of("--years 1800..2100 --towns=Spain,Portugal").expect("understood");
        assert_eq!(asked.years, Some((1800, 2100)));
        assert_eq!(asked.towns.as_deref(), Some("Spain,Portugal"));
        for wrong in [
            "--years",
            "--years 1800",
            "--years 2100..1800",
            "--town Spain",
        ] {
            assert!(of(wrong).is_err(), "{wrong}");
        }
    }
}
