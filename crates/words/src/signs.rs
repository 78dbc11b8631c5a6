use sky::Sign;

/// A text with every sign drawn instead of named: `26°36′ ♋`, where columns are narrow.
#[must_use]
pub fn with_signs_drawn(text: &str) -> String {
    Sign::ALL.iter().fold(text.to_owned(), |text, sign| {
        text.replace(sign.name(), &sign.symbol().to_string())
    })
}
