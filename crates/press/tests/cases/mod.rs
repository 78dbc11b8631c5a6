//! How long properties are tried.

/// How many cases of a property are tried that takes long for each: so many, or as many as
/// `ALMURI_CASES` says.
pub(crate) fn cases(usually: u32) -> u32 {
    let said = std::env::var("ALMURI_CASES");
    said.ok()
        .and_then(|said| said.parse().ok())
        .unwrap_or(usually)
}
