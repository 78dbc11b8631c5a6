//! That comments are of words: a type renamed by its name alone takes the word that it was
//! called by out of sentences too.

use std::collections::BTreeSet;

use super::complaint::Complaint;
use super::files::Text;

/// Sentences that begin with the bare name of one of our types which no word is.
pub(super) fn complaints(texts: &[Text]) -> Vec<Complaint> {
    let sources = || texts.iter().filter(|text| text.is_rust());
    let types: BTreeSet<&str> = sources()
        .flat_map(|text| text.content.lines().filter_map(declared))
        .filter(|name| is_joined(name))
        .collect();
    let begins_with_one = |line: &str| {
        first_word(line).is_some_and(|(word, after)| {
            types.contains(word) && after.starts_with([' ', '.', ',', ';'])
        })
    };
    let found = sources().flat_map(|text| {
        text.numbered()
            .filter(|(_, line)| begins_with_one(line))
            .map(|(number, _)| Complaint {
                place: format!("{}:{number}", text.path),
                wrong: "a sentence that begins with the name of a type".to_owned(),
                mend: "write the word that is meant, or the name in backticks",
            })
    });
    found.collect()
}

/// The type that a line declares.
fn declared(line: &str) -> Option<&str> {
    let line = line.trim_start();
    let line = match line.strip_prefix("pub") {
        Some(rest) if rest.starts_with('(') => rest.split_once(") ")?.1,
        Some(rest) => rest.trim_start(),
        None => line,
    };
    let kinds = ["struct ", "enum ", "trait ", "type "];
    let rest = kinds.iter().find_map(|kind| line.strip_prefix(kind))?;
    rest.split(|c: char| !c.is_alphanumeric()).next()
}

/// Whether a name is of several words.
fn is_joined(name: &str) -> bool {
    name.chars().skip(1).any(char::is_uppercase) && name.chars().any(char::is_lowercase)
}

/// The first word of a comment, and what follows it.
fn first_word(line: &str) -> Option<(&str, &str)> {
    let comment = line.trim_start().strip_prefix("//")?;
    let sentence = comment.trim_start_matches(['/', '!']).trim_start();
    let end = sentence
        .find(|c: char| !c.is_alphanumeric())
        .unwrap_or(sentence.len());
    Some(sentence.split_at(end))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_in_the_place_of_a_word_is_seen() {
        let text = |path: &str, content: &str| Text {
            path: path.to_owned(),
            content: content.to_owned(),
        };
        let types = text(
            "a.rs",
            "pub(crate) struct StepResult;\nenum Angle {}\npub struct Of;\n",
        );
        let comments = text(
            "b.rs",
            "/// StepResult is found.\n    // StepResult, once.\n/// `StepResult` is.\n\
             //! StepResult::of(3)\n/// Angle from the north.\n/// GeoNames' code.\n",
        );
        let found = complaints(&[types, comments]);
        let places: Vec<String> = found.into_iter().map(|one| one.place).collect();
        assert_eq!(places, ["b.rs:1", "b.rs:2"]);
    }
}
