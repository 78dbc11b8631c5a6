use std::io::Read;
use std::path::Path;

use desk::{Cabinet, WithInstrument};

use crate::failure::Failure;

/// No specification is larger than this; a mistaken file is not read whole.
const MOST_BYTES: u64 = 64 * 1024;

/// The instrument that `--with` names: one of the cabinet, or else a file.
pub(crate) fn instrument(name: &str, cabinet: &Cabinet) -> Result<WithInstrument, Failure> {
    match cabinet.named(name) {
        Ok(_) => Ok(WithInstrument::Named(name.to_owned())),
        Err(refusal) => {
            let path = Path::new(name);
            let looks_like_a_path = path.extension().is_some() || name.contains(['/', '\\']);
            if !looks_like_a_path && !path.is_file() {
                return Err(refusal.into());
            }
            Ok(WithInstrument::Specification(specification(path)?))
        }
    }
}

/// The text of a specification file.
pub(crate) fn specification(path: &Path) -> Result<String, Failure> {
    let would_do = "a TOML file, or the name of an instrument of the cabinet";
    short_text(path, "specification", would_do)
}

/// The text of a file of ours that is never long: a specification, measurements.
pub(crate) fn short_text(path: &Path, kind: &str, would_do: &str) -> Result<String, Failure> {
    let shown = path.display();
    let cannot = |error: std::io::Error| {
        Failure::bad_input(format!(
            "the {kind} file {shown} cannot be read ({error}); {would_do} would do"
        ))
    };
    if path.is_dir() {
        return Err(Failure::bad_input(format!(
            "{shown} is a folder; a {kind} file would do"
        )));
    }
    if path.exists() && !path.is_file() {
        return Err(Failure::bad_input(format!(
            "{shown} is no file; a {kind} file would do"
        )));
    }
    let file = std::fs::File::open(path).map_err(cannot)?;
    let mut text = String::new();
    file.take(MOST_BYTES + 1)
        .read_to_string(&mut text)
        .map_err(cannot)?;
    if u64::try_from(text.len()).unwrap_or(u64::MAX) > MOST_BYTES {
        return Err(Failure::bad_input(format!(
            "{shown} is longer than any {kind} file ({MOST_BYTES} bytes)"
        )));
    }
    Ok(text)
}
