//! What cargo knows of the workspace and its dependencies.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde::Deserialize;

/// The root of the project.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .map_or_else(|| PathBuf::from("."), Path::to_path_buf)
}

/// Cargo itself, to be started at the root of the project.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root());
    command
}

/// The part of `cargo metadata` that the checks look at.
#[derive(Deserialize)]
pub(crate) struct Metadata {
    pub(crate) packages: Vec<Package>,
}

/// A crate of ours or a dependency, direct or not.
#[derive(Deserialize)]
pub(crate) struct Package {
    pub(crate) name: String,
    pub(crate) version: String,
    pub(crate) license: Option<String>,
    /// The C library it binds to, if any.
    pub(crate) links: Option<String>,
    /// Where it comes from; nothing for the crates of this workspace.
    pub(crate) source: Option<String>,
    pub(crate) dependencies: Vec<Dependency>,
}

/// What a crate's manifest asks for.
#[derive(Deserialize)]
pub(crate) struct Dependency {
    pub(crate) name: String,
    /// `dev` or `build`; nothing for an ordinary one.
    pub(crate) kind: Option<String>,
}

impl Metadata {
    /// Asks cargo.
    pub(crate) fn read() -> Result<Metadata, String> {
        let output = cargo()
            .args(["metadata", "--format-version=1", "--locked"])
            .output()
            .map_err(|error| format!("cargo metadata did not start: {error}"))?;
        if !output.status.success() {
            return Err(String::from_utf8_lossy(&output.stderr).into_owned());
        }
        serde_json::from_slice(&output.stdout)
            .map_err(|error| format!("cargo metadata is not understood: {error}"))
    }
}

impl Package {
    pub(crate) fn is_ours(&self) -> bool {
        self.source.is_none()
    }
}
