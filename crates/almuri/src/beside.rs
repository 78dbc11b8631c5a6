use std::ffi::OsStr;
use std::path::{Component, Path, PathBuf};

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, percent_encode};

/// What stands for itself in every part of an address (RFC 3986, 2.3).
const ENCODED: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// The address of a file as another names it, `../brass%20front.jpg`: it holds as long as both
/// stay where they are to each other.
///
/// # Errors
/// When a file or the other's folder is not there, or no way leads from one to the other.
pub(crate) fn address(of: &Path, from: &Path) -> std::io::Result<String> {
    let folder = from.parent().filter(|one| !one.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new(".")).canonicalize()?;
    let file = of.canonicalize()?;
    let apart = || std::io::Error::other("no way leads to it from where it is named");
    let way = way(&folder, &file).ok_or_else(apart)?;
    let parts = way.iter().map(encoded);
    Ok(parts.collect::<Vec<_>>().join("/"))
}

/// The way from a folder to a file, both whole; none between two drives.
fn way(folder: &Path, file: &Path) -> Option<PathBuf> {
    let together = folder
        .components()
        .zip(file.components())
        .take_while(|(one, other)| one == other)
        .count();
    let up = folder.components().skip(together);
    let down = file.components().skip(together);
    let named = |one: &Component<'_>| matches!(one, Component::Normal(_));
    let up = up.map(|one| named(&one).then_some(Component::ParentDir));
    let down = down.map(|one| Some(one).filter(named));
    up.chain(down).collect()
}

fn encoded(part: &OsStr) -> String {
    percent_encode(part.as_encoded_bytes(), ENCODED).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_found_from_the_drawing_over_it() {
        let place = tempfile::tempdir().expect("a folder");
        let at = |name: &str| place.path().join(name);
        std::fs::create_dir_all(at("pictures/old")).expect("a folder");
        std::fs::create_dir(at("drawings")).expect("a folder");
        let picture = at("pictures/old/my brass #1 (50%).jpg");
        std::fs::write(&picture, "").expect("a file");
        for (from, address_there) in [
            (
                "pictures/old/over.svg",
                "my%20brass%20%231%20%2850%25%29.jpg",
            ),
            (
                "pictures/over.svg",
                "old/my%20brass%20%231%20%2850%25%29.jpg",
            ),
            (
                "drawings/over.svg",
                "../pictures/old/my%20brass%20%231%20%2850%25%29.jpg",
            ),
        ] {
            assert_eq!(address(&picture, &at(from)).expect("there"), address_there);
        }
        assert!(address(&at("pictures/none.jpg"), &at("over.svg")).is_err());
    }
}
