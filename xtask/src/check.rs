//! `cargo xtask check`: everything that must hold before a commit.

use crate::{cargo, licences};

/// A run of cargo, and how to mend what it complains of.
struct Step {
    title: &'static str,
    cargo: &'static [&'static str],
    mend: &'static str,
}

const STEPS: &[Step] = &[
    Step {
        title: "formatting",
        cargo: &["fmt", "--all", "--check"],
        mend: "run `cargo fmt --all`",
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
        cargo: &["test", "--workspace", "--locked"],
        mend: "the failing test says what it found",
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

/// Runs every step, even after one has failed, and names those that did.
pub(crate) fn run(_: &[String]) -> Result<(), String> {
    let mut failed = Vec::new();
    for step in STEPS {
        println!("── {}", step.title);
        let status = cargo::cargo()
            .args(step.cargo)
            .env("RUSTDOCFLAGS", "-D warnings")
            .status()
            .map_err(|error| format!("cargo {} did not start: {error}", step.cargo.join(" ")))?;
        if !status.success() {
            failed.push(format!("{}: {}", step.title, step.mend));
        }
    }
    println!("── licences");
    if let Err(message) = licences::run(&[]) {
        failed.push(message);
    }
    if failed.is_empty() {
        println!("── all is well");
        Ok(())
    } else {
        Err(format!("── failed\n{}", failed.join("\n")))
    }
}
