/// A name as it is compared: plain lower-case letters and digits, words set
/// apart by single spaces.
///
/// ```
/// use moment::fold_name;
/// assert_eq!(fold_name("Saint-Étienne"), "saint etienne");
/// assert_eq!(fold_name("L’Aquila"), "laquila");
/// ```
#[must_use]
pub fn fold_name(name: &str) -> String {
    let plain = deunicode::deunicode(name).to_ascii_lowercase();
    // An apostrophe within a word is no gap.
    let plain = plain.replace(['\'', '`'], "");
    plain
        .split(|letter: char| !letter.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// A folded name with `ae`, `oe`, `ue` as they are folded from ä, ö, ü.
pub(crate) fn without_umlauts(folded: &str) -> String {
    folded
        .replace("ae", "a")
        .replace("oe", "o")
        .replace("ue", "u")
}
