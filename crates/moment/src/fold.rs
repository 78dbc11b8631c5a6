/// A name as it is compared: plain lower-case letters and digits, words set
/// apart by single spaces. `Saint-Étienne` and `saint etienne` are one.
pub(crate) fn fold(name: &str) -> String {
    let plain = deunicode::deunicode(name).to_ascii_lowercase();
    // An apostrophe within a word is no gap: L'Aquila, Laquila.
    let plain = plain.replace(['\'', '`'], "");
    plain
        .split(|letter: char| !letter.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}
