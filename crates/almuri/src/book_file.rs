//! Where the casebook is.

use std::path::PathBuf;

use ::casebook::Casebook;

use crate::failure::Failure;

/// Where the casebook is unless it is said: in the user's own folder, closed to other
/// accounts.
pub(crate) fn place() -> Result<PathBuf, Failure> {
    let path = usual_place()?;
    Casebook::close_to_others(&path);
    Ok(path)
}

fn usual_place() -> Result<PathBuf, Failure> {
    let folder = |name: &str| {
        std::env::var_os(name)
            .filter(|value| !value.is_empty())
            .map(PathBuf::from)
    };
    let base = folder("XDG_DATA_HOME")
        .or_else(|| folder("APPDATA"))
        .or_else(|| folder("HOME").map(|home| home.join(".local").join("share")));
    let base = base.ok_or_else(|| {
        Failure::other(
            "no folder for the casebook: none of XDG_DATA_HOME, APPDATA and HOME is set; --book FILE would do",
        )
    })?;
    Ok(base.join("almuri").join("casebook.sqlite"))
}
