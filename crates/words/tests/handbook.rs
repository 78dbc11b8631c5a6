//! The handbook's pages of the first hour say what the page and the handouts say.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fmt::Write;

use words::{FIRST_HOUR, GLOSSARY};

/// `ALMURI_WRITE_HANDBOOK=1 cargo test -p words --test handbook` writes it anew.
#[test]
fn the_first_hour_is_the_same_everywhere() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/first-hour.md");
    let text = page();
    if std::env::var_os("ALMURI_WRITE_HANDBOOK").is_some() {
        std::fs::write(path, &text).unwrap();
    }
    assert!(
        text == std::fs::read_to_string(path).unwrap_or_default(),
        "docs/first-hour.md and the words differ; ALMURI_WRITE_HANDBOOK=1 cargo test -p words --test handbook writes it anew"
    );
}

fn page() -> String {
    let mut text = "# The first hour\n\n\
        Lesson nought: what one knows before anything is worked. The course begins with it, and on\n\
        the page it stands under “The first hour”, with your own instrument and its parts named.\n\
        This page is made of the same words; it is not written by hand.\n\n\
        ![The front of an instrument, noon up, with its parts named](pictures/named-front.svg)\n\n\
        ![Its back with its parts named](pictures/named-back.svg)\n"
        .to_owned();
    for section in FIRST_HOUR {
        write!(text, "\n## {}\n", section.title).unwrap();
        for paragraph in section.paragraphs {
            write!(text, "\n{}\n", wrapped(paragraph)).unwrap();
        }
    }
    text.push_str("\n## The words\n\n| word | what it means | also called | older texts |\n|---|---|---|---|\n");
    for word in GLOSSARY {
        writeln!(
            text,
            "| **{}** | {} | {} | {} |",
            word.word,
            word.meaning,
            word.common.join(", "),
            word.older.join(", ")
        )
        .unwrap();
    }
    text
}

fn wrapped(paragraph: &str) -> String {
    let mut lines = vec![String::new()];
    for word in paragraph.split(' ') {
        let last = lines.last_mut().unwrap();
        if !last.is_empty() && last.chars().count() + 1 + word.chars().count() > 92 {
            lines.push(word.to_owned());
        } else {
            if !last.is_empty() {
                last.push(' ');
            }
            last.push_str(word);
        }
    }
    lines.join("\n")
}
