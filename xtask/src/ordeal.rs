//! `cargo xtask ordeal [ROUNDS]`: what the tests do some times, done many times.

use crate::cargo;

/// So many kills of each kind unless it is said.
const ROUNDS: u32 = 350;

/// Kills whoever keeps, deletes and restores, `ROUNDS` times each, half of them at
/// system calls where `strace` is there.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    let rounds = match words.first() {
        None => ROUNDS,
        Some(word) => word.parse().map_err(|_| {
            format!("{word:?} is no number of rounds; `cargo xtask ordeal {ROUNDS}` would do")
        })?,
    };
    let status = cargo::cargo()
        .args(["test", "--locked", "-p", "casebook", "--test", "crash"])
        .env("ALMURI_ORDEAL", rounds.to_string())
        .status()
        .map_err(|error| format!("cargo test did not start: {error}"))?;
    if status.success() {
        println!("{rounds} kills of each kind, and nothing was lost");
        Ok(())
    } else {
        Err("something was lost; it says above what".to_owned())
    }
}
