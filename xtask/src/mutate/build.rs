//! The one build that holds all mutants.

use std::path::{Path, PathBuf};
use std::process::Stdio;

use serde::Deserialize;

use super::area::ASKED;
use super::copy::Copy;
use crate::cargo;

/// A program of tests.
#[derive(Clone)]
pub(super) struct Program {
    pub(super) path: PathBuf,
    /// The folder of its crate, in which it is started.
    pub(super) folder: PathBuf,
    /// Its name, with that of its crate before it.
    pub(super) name: String,
}

/// What came of building.
pub(super) enum Built {
    Programs(Vec<Program>),
    /// These mutants are no Rust: the rest may be.
    NoRust(Vec<u64>),
}

/// A line of what cargo says in JSON, as far as it is looked at.
#[derive(Deserialize)]
struct Said {
    message: Option<Complaint>,
    target: Option<Target>,
    manifest_path: Option<PathBuf>,
    executable: Option<PathBuf>,
}

#[derive(Deserialize)]
struct Complaint {
    level: String,
    rendered: Option<String>,
    spans: Vec<Span>,
}

#[derive(Deserialize)]
struct Span {
    file_name: String,
    byte_start: usize,
    is_primary: bool,
}

#[derive(Deserialize)]
struct Target {
    name: String,
}

/// Builds the tests of the crates that are asked. What comes from elsewhere is taken from
/// the project's own builds where these have it.
pub(super) fn build(copy: &Copy) -> Result<Built, String> {
    let output = cargo::cargo()
        .current_dir(&copy.root)
        .env("CARGO_TARGET_DIR", cargo::root().join("target"))
        .env("CARGO_INCREMENTAL", "0")
        .env("CARGO_PROFILE_DEV_DEBUG", "0")
        .args([
            "test",
            "--no-run",
            "--locked",
            "--no-fail-fast",
            "--lib",
            "--tests",
        ])
        .args(["--message-format", "json", "--quiet"])
        .args(ASKED.iter().flat_map(|package| ["--package", package]))
        .stderr(Stdio::inherit())
        .output()
        .map_err(|error| format!("cargo test did not start: {error}"))?;
    let said = String::from_utf8_lossy(&output.stdout);
    let said: Vec<Said> = said
        .lines()
        .filter_map(|line| serde_json::from_str(line).ok())
        .collect();
    if output.status.success() {
        return Ok(Built::Programs(
            said.into_iter().filter_map(program).collect(),
        ));
    }
    let wrong: Vec<Complaint> = said
        .into_iter()
        .filter_map(|line| line.message)
        .filter(|complaint| complaint.level == "error")
        .collect();
    let mut culprits: Vec<u64> = wrong.iter().filter_map(|one| culprit(copy, one)).collect();
    culprits.sort_unstable();
    culprits.dedup();
    if culprits.is_empty() {
        let rendered = wrong.into_iter().filter_map(|complaint| complaint.rendered);
        return Err(rendered.collect());
    }
    Ok(Built::NoRust(culprits))
}

/// The mutant that an error comes of.
fn culprit(copy: &Copy, wrong: &Complaint) -> Option<u64> {
    let main = wrong.spans.iter().find(|span| span.is_primary)?;
    copy.mutant_at(&main.file_name, main.byte_start)
}

fn program(said: Said) -> Option<Program> {
    let folder = said.manifest_path?.parent()?.to_owned();
    let package = folder.file_name().map(Path::new)?.display().to_string();
    Some(Program {
        path: said.executable?,
        name: format!("{package}/{}", said.target?.name),
        folder,
    })
}
