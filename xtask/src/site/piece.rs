//! A piece of the site, and how it is written.

use std::path::Path;

/// A piece that the page fetches or has in itself: its name, and its bytes.
pub(super) struct Piece {
    pub(super) name: String,
    pub(super) bytes: Vec<u8>,
}

/// The desk, and the desk that makes files too.
pub(super) struct Desks {
    pub(super) desk: Piece,
    pub(super) files: Piece,
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

pub(super) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let word = three
            .iter()
            .fold(0_u32, |word, byte| word << 8 | u32::from(*byte))
            << (8 * (3 - three.len()));
        for place in 0..4 {
            if place <= three.len() {
                let six = (word >> (18 - 6 * place)) & 63;
                text.push(char::from(LETTERS[six as usize]));
            } else {
                text.push('=');
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::base64;

    /// The examples of RFC 4648, section 10.
    #[test]
    fn base64_is_that_of_the_standard() {
        for (plain, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
