//! What cargo knows of the workspace and its dependencies.

use std::collections::{HashMap, HashSet};
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
pub(crate) struct Metadata {
    pub(crate) packages: Vec<Package>,
}

/// As cargo tells it.
#[derive(Deserialize)]
struct Told {
    packages: Vec<Identified>,
    resolve: Resolved,
}

#[derive(Deserialize)]
struct Identified {
    id: String,
    #[serde(flatten)]
    package: Package,
}

/// What is built with what, on any system, with the features that are on.
#[derive(Deserialize)]
struct Resolved {
    nodes: Vec<Node>,
}

#[derive(Deserialize)]
struct Node {
    id: String,
    dependencies: Vec<String>,
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
    /// What it is built with here; a manifest may name more that nobody asked for.
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
        let told: Told = serde_json::from_slice(&output.stdout)
            .map_err(|error| format!("cargo metadata is not understood: {error}"))?;
        Ok(told.into())
    }
}

impl From<Told> for Metadata {
    fn from(told: Told) -> Metadata {
        let name_of: HashMap<String, String> = told
            .packages
            .iter()
            .map(|one| (one.id.clone(), one.package.name.clone()))
            .collect();
        let mut needed: HashMap<String, HashSet<&String>> = told
            .resolve
            .nodes
            .iter()
            .map(|node| {
                let names = node.dependencies.iter().filter_map(|id| name_of.get(id));
                (node.id.clone(), names.collect())
            })
            .collect();
        let packages = told
            .packages
            .into_iter()
            .map(|Identified { id, mut package }| {
                let built_with = needed.remove(&id).unwrap_or_default();
                package
                    .dependencies
                    .retain(|dependency| built_with.contains(&dependency.name));
                package
            });
        Metadata {
            packages: packages.collect(),
        }
    }
}

impl Package {
    pub(crate) fn is_ours(&self) -> bool {
        self.source.is_none()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One that a manifest names and nobody asked for is not built with it.
    #[test]
    fn what_nobody_asked_for_is_not_needed() {
        let package = |name: &str, needs: &[&str]| {
            let needs: Vec<_> = needs
                .iter()
                .map(|name| serde_json::json!({ "name": name, "kind": null }))
                .collect();
            serde_json::json!({
                "id": format!("path#{name}"), "name": name, "version": "1.0.0",
                "license": null, "links": null, "source": null, "dependencies": needs,
            })
        };
        let told: Told = serde_json::from_value(serde_json::json!({
            "packages": [package("desk", &["one", "other"]), package("one", &[]), package("other", &[])],
            "resolve": { "nodes": [{ "id": "path#desk", "dependencies": ["path#one"] }] },
        }))
        .expect("understood");
        let packages = Metadata::from(told).packages;
        let needs: Vec<&str> = packages
            .iter()
            .flat_map(|one| &one.dependencies)
            .map(|one| one.name.as_str())
            .collect();
        assert_eq!(needs, ["one"]);
    }
}
