//! What is written for whoever asked: the answer to standard output, and beside it what
//! should be known to standard error.

use std::io::Write;

use crate::failure::Failure;

/// Writes an answer to standard output. A reader that has gone away is no failure.
pub(crate) fn print(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    match written {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => Err(Failure::other(
            format!("standard output cannot be written: {error}"),
        )),
        _ => Ok(()),
    }
}

/// What the user should know of, beside the answer.
#[expect(clippy::print_stderr, reason = "it is no part of the answer")]
pub(crate) fn tell(notice: &str) {
    eprintln!("{notice}");
}
