//! What is written to standard output.

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
