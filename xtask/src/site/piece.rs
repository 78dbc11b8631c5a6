//! A piece of the site, and how it is written.

use std::path::Path;

/// A piece that the page fetches or has in itself: its name, and its bytes.
pub(super) struct Piece {
    pub(super) name: String,
    pub(super) bytes: Vec<u8>,
}

/// The desk with which the page begins, and the whole one.
pub(super) struct Desks {
    pub(super) small: Piece,
    pub(super) whole: Piece,
}

/// Bytes as `pieces.js` unpacks them.
pub(super) fn packed(bytes: &[u8]) -> Vec<u8> {
    miniz_oxide::deflate::compress_to_vec_zlib(bytes, 9)
}

pub(super) fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let told = |error: std::io::Error| format!("{} cannot be written: {error}", path.display());
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(told)?;
    }
    std::fs::write(path, bytes).map_err(told)
}
