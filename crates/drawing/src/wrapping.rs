/// A text in lines that fit, broken between words. A word that fits no line has one of its own.
#[must_use]
pub fn wrapped(text: &str, fits: impl Fn(&str) -> bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if fits(&format!("{line} {word}")) => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words() {
        let lines = |text| wrapped(text, |line| line.len() <= 6);
        assert_eq!(lines(" a bc  def\ng"), ["a bc", "def g"]);
        assert_eq!(lines("a almucantar b"), ["a", "almucantar", "b"]);
        assert!(lines(" ").is_empty());
    }
}
