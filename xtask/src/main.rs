//! The project's chores, one file each: `cargo xtask` lists them.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a chore speaks to the terminal"
)]

mod cargo;
mod check;
mod gazetteer;
mod handbook;
mod licences;
mod mutate;
mod ordeal;
mod page;
mod parts;
mod program;
mod setup;
mod site;
mod tidy;
mod zones;

use std::process::ExitCode;

/// A chore: its name on the command line, what it is for, and what it does with
/// the words after its name. An error is what to tell the person.
type Task = (
    &'static str,
    &'static str,
    fn(&[String]) -> Result<(), String>,
);

const TASKS: &[Task] = &[
    (
        "check",
        "everything that must hold before a commit",
        check::run,
    ),
    (
        "gazetteer",
        "pack the towns that moment embeds from GeoNames' tables in DIR",
        gazetteer::run,
    ),
    (
        "handbook",
        "the handbook's chapters as the page has them",
        handbook::run,
    ),
    (
        "licences",
        "every dependency may be used freely",
        licences::run,
    ),
    (
        "mutate",
        "how many little mistakes in the sources the tests notice; `--seed`, `--of`, `--how-many`, `--at FILE:LINE`, `--by TEST`",
        mutate::run,
    ),
    (
        "ordeal",
        "kill, fill, flip and flood what the tests try some times only; `ordeal PERCENT` does part of it",
        ordeal::run,
    ),
    (
        "page",
        "the page's modules pass the type checker; installs what checks them",
        page::run,
    ),
    (
        "setup",
        "install what the checks need besides Rust and a C compiler (Debian, Ubuntu)",
        setup::run,
    ),
    (
        "site",
        "the workbench without a server, a folder and one file; `--years`, `--towns` make it smaller",
        site::run,
    ),
    ("tidy", "the house is as ARCHITECTURE.md says", tidy::run),
    (
        "zones",
        "pack the time zones that moment embeds; `zones --release DIR` takes them from a release",
        zones::run,
    ),
];

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let wanted = words.first().map_or("", String::as_str);
    let Some((_, _, run)) = TASKS.iter().find(|(name, ..)| *name == wanted) else {
        eprintln!("cargo xtask \"{wanted}\": no such chore; there are");
        for (name, purpose, _) in TASKS {
            eprintln!("  cargo xtask {name:<10} {purpose}");
        }
        return ExitCode::from(2);
    };
    match run(words.get(1..).unwrap_or_default()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}
