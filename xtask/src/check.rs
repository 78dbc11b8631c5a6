//! `cargo xtask check`: everything that must hold before a commit.

use std::path::PathBuf;

use crate::{cargo, licences, page, setup, site};

/// A run of cargo, and how to mend what it complains of.
struct Step {
    title: &'static str,
    cargo: &'static [&'static str],
    mend: &'static str,
}

const INDEPENDENCE_OF_READINGS: [&str; 8] = independence("test-shift-ascendant");
const INDEPENDENCE_OF_FIGURES: [&str; 8] = independence("test-shift-zodiac");

/// One test in a build of its own, in which one of the two roads is put off.
const fn independence(feature: &'static str) -> [&'static str; 8] {
    [
        "test",
        "--locked",
        "-p",
        "desk",
        "--test",
        "independence",
        "--features",
        feature,
    ]
}

const STEPS: &[Step] = &[
    Step {
        title: "formatting",
        cargo: &["fmt", "--all", "--check", "--"],
        mend: "run `cargo fmt --all`, and rustfmt on the files it names",
    },
    Step {
        title: "lints",
        cargo: &[
            "clippy",
            "--workspace",
            "--all-targets",
            "--locked",
            "--",
            "-D",
            "warnings",
        ],
        mend: "follow the lint, or `#[expect(…, reason = \"…\")]` it where it is wrong",
    },
    Step {
        title: "tests",
        cargo: &["test", "--workspace", "--locked", "--no-fail-fast"],
        mend: "the failing test says what it found",
    },
    Step {
        title: "independence: a figure put off leaves every reading",
        cargo: &INDEPENDENCE_OF_READINGS,
        mend: "a reading has taken a number from the figure",
    },
    Step {
        title: "independence: a reading put off leaves every figure",
        cargo: &INDEPENDENCE_OF_FIGURES,
        mend: "a figure has taken a number from a reading",
    },
    Step {
        title: "documentation",
        cargo: &[
            "doc",
            "--workspace",
            "--no-deps",
            "--document-private-items",
            "--locked",
        ],
        mend: "mend the link or the markup it names",
    },
];

/// Whose modules a macro names: rustfmt follows only those that stand in the text.
const NAMED_BY_A_MACRO: &str = "crates/practice/src/operations";

/// Their files, for rustfmt to be told of.
fn named_by_a_macro() -> Result<Vec<PathBuf>, String> {
    let folder = cargo::root().join(NAMED_BY_A_MACRO);
    let unreadable = |error| format!("{} cannot be read: {error}", folder.display());
    let mut files = Vec::new();
    for entry in std::fs::read_dir(&folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        if path.extension().is_some_and(|end| end == "rs") {
            files.push(path);
        }
    }
    Ok(files)
}

/// Builds the page without a server and opens it in browsers. A machine that has no toolchain
/// for WebAssembly, and gets none, says so and goes on.
fn the_site() -> Result<(), String> {
    setup::webassembly();
    if !site::can_be_built() {
        println!("not built: there is no toolchain for WebAssembly here");
        return Ok(());
    }
    site::run(&[])?;
    let mut command = cargo::cargo();
    command.args(["test", "--workspace", "--locked", "--test", "browser", "--"]);
    command.args(["site::", "second_engine::"]);
    command.env("ALMURI_SITE", cargo::root().join(site::SITE));
    let status = command
        .status()
        .map_err(|error| format!("cargo test did not start: {error}"))?;
    if status.success() {
        Ok(())
    } else {
        Err("the page without a server: the failing test says what it found".to_owned())
    }
}

/// Installs what the steps need, then runs every step, even after one has failed, and
/// names those that did.
pub(crate) fn run(_: &[String]) -> Result<(), String> {
    let mut failed = Vec::new();
    println!("── setup");
    setup::run(&[])?;
    println!("── licences");
    if let Err(message) = licences::run(&[]) {
        failed.push(message);
    }
    println!("── page");
    // First, for the tests in the browser use what it installs.
    if let Err(message) = page::run(&[]) {
        failed.push(message);
    }
    for step in STEPS {
        println!("── {}", step.title);
        let mut command = cargo::cargo();
        command.args(step.cargo);
        if step.cargo.first() == Some(&"fmt") {
            command.args(named_by_a_macro()?);
        }
        let status = command
            .env("RUSTDOCFLAGS", "-D warnings")
            .status()
            .map_err(|error| format!("cargo {} did not start: {error}", step.cargo.join(" ")))?;
        if !status.success() {
            failed.push(format!("{}: {}", step.title, step.mend));
        }
    }
    println!("── the page without a server");
    if let Err(message) = the_site() {
        failed.push(message);
    }
    if failed.is_empty() {
        println!("── all is well");
        Ok(())
    } else {
        Err(format!("── failed\n{}", failed.join("\n")))
    }
}
