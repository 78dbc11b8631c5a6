//! `cargo xtask page`: the page's modules are of one type with what they use.

use std::path::Path;
use std::process::Command;

use crate::cargo;

/// Where the page is, and the pinned tools that check it.
const PAGE: &str = "crates/workbench/page";

/// Installs the tools that the lock file names, where they are not there yet, and
/// checks the types of every module. The browser tests need axe-core from there.
pub(crate) fn run(_: &[String]) -> Result<(), String> {
    let page = cargo::root().join(PAGE);
    if !is_installed(&page) {
        npm(&page, &["ci", "--no-audit", "--no-fund"])?;
    }
    npm(&page, &["exec", "--no", "--", "tsc", "-p", "."])?;
    println!("every module of the page is sound");
    Ok(())
}

/// Whether what is installed is what the lock file names: npm writes down what it
/// has put there, and not before it has done so.
fn is_installed(page: &Path) -> bool {
    let written = |path: &str| std::fs::metadata(page.join(path))?.modified();
    match (
        written("package-lock.json"),
        written("node_modules/.package-lock.json"),
    ) {
        (Ok(wanted), Ok(there)) => there >= wanted,
        _ => false,
    }
}

fn npm(page: &Path, words: &[&str]) -> Result<(), String> {
    let command = format!("npm {}", words.join(" "));
    let status = Command::new("npm")
        .args(words)
        .current_dir(page)
        .status()
        .map_err(|error| {
            format!(
                "{command} did not start ({error}): `cargo xtask setup` installs Node.js and npm"
            )
        })?;
    if status.success() {
        Ok(())
    } else {
        Err(format!(
            "in {PAGE} {command} failed; it says above what is wrong"
        ))
    }
}
