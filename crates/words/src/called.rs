use std::fmt;

/// An instrument's name within a sentence: `the class instrument`, but `my key ring` and
/// `Grandfather's brass`, which have no article before them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Called<'a>(pub &'a str);

impl fmt::Display for Called<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        /// Common nouns with which a name ends that wants an article.
        const THINGS: [&str; 12] = [
            "instrument",
            "astrolabe",
            "piece",
            "brass",
            "ring",
            "disc",
            "copy",
            "replica",
            "model",
            "set",
            "print",
            "one",
        ];
        /// Words that stand where an article would.
        const DETERMINERS: [&str; 16] = [
            "the", "a", "an", "my", "our", "your", "his", "her", "its", "their", "this", "that",
            "no", "some", "another", "one",
        ];
        let name = self.0.trim();
        let mut words = name.split_whitespace();
        let first = words.next().unwrap_or_default();
        let last = words.next_back().unwrap_or(first);
        let is_own = first.ends_with("'s") || first.ends_with("’s") || first.ends_with("s’");
        let is_proper = first
            .chars()
            .next()
            .is_none_or(|letter| !letter.is_lowercase());
        if THINGS.contains(&last) && !DETERMINERS.contains(&first) && !is_own && !is_proper {
            f.write_str("the ")?;
        }
        f.write_str(name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_has_an_article_where_it_wants_one() {
        for (name, within) in [
            ("class instrument", "the class instrument"),
            ("date-ring instrument", "the date-ring instrument"),
            ("key ring", "the key ring"),
            ("my key ring", "my key ring"),
            ("the old one", "the old one"),
            ("Grandfather’s brass", "Grandfather’s brass"),
            ("a cousin's piece", "a cousin's piece"),
            ("Berenike", "Berenike"),
            ("mi llavero", "mi llavero"),
            ("60 mm ring", "60 mm ring"),
            ("", ""),
        ] {
            assert_eq!(Called(name).to_string(), within);
        }
    }
}
