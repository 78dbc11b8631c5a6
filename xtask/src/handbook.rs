//! `cargo xtask handbook`: the chapters of the handbook as the page has them, made of the
//! texts in `docs/handbook`.

use std::path::Path;

use pulldown_cmark::{Event, Parser, Tag, TagEnd};
use serde_json::{Value, json};

use crate::cargo;

/// Where the texts are.
const TEXTS: &str = "docs/handbook";

/// What is made of them.
const MODULE: &str = "crates/workbench/page/js/handbook-text.js";

/// The chapters in the order in which they are read: the names of their files.
const CHAPTERS: [&str; 5] = [
    "first-figure",
    "class",
    "instrument",
    "old-instrument",
    "year",
];

/// Writes the page's module.
pub(crate) fn run(_: &[String]) -> Result<(), String> {
    let path = cargo::root().join(MODULE);
    std::fs::write(&path, module(&cargo::root())?)
        .map_err(|error| format!("{} cannot be written: {error}", path.display()))?;
    println!("{MODULE}: {} chapters", CHAPTERS.len());
    Ok(())
}

/// The module's text.
fn module(root: &Path) -> Result<String, String> {
    let mut chapters = Vec::new();
    for name in CHAPTERS {
        let path = root.join(TEXTS).join(format!("{name}.md"));
        let text = std::fs::read_to_string(&path)
            .map_err(|error| format!("{} cannot be read: {error}", path.display()))?;
        chapters.push(chapter(name, &text).map_err(|error| format!("{TEXTS}/{name}.md: {error}"))?);
    }
    let chapters = serde_json::to_string_pretty(&chapters).map_err(|error| error.to_string())?;
    Ok(format!(
        "// Made of {TEXTS} by `cargo xtask handbook`; it is not written by hand.\n\n\
         /** @type {{import(\"./handbook.js\").Chapter[]}} */\n\
         export const CHAPTERS = {chapters};\n"
    ))
}

/// A chapter: `{name, title, blocks}`. A block is a heading, a paragraph or the steps of
/// something done in order; its words are runs of plain text and labels of the page.
fn chapter(name: &str, text: &str) -> Result<Value, String> {
    let (mut title, mut blocks) = (String::new(), Vec::new());
    let (mut runs, mut steps): (Vec<Value>, Vec<Value>) = (Vec::new(), Vec::new());
    let (mut label, mut in_picture, mut in_steps) = (false, false, false);
    for event in Parser::new(text) {
        match event {
            // The page shows itself; its pictures are for who reads elsewhere.
            Event::Start(Tag::Image { .. }) => in_picture = true,
            Event::End(TagEnd::Image) => in_picture = false,
            _ if in_picture => {}
            Event::Start(Tag::List(_)) => in_steps = true,
            Event::End(TagEnd::List(_)) => {
                in_steps = false;
                blocks.push(json!({ "steps": std::mem::take(&mut steps) }));
            }
            Event::Start(Tag::Strong) => label = true,
            Event::End(TagEnd::Strong) => label = false,
            Event::Text(words) if label => runs.push(json!({ "label": words.as_ref() })),
            // A key of a file stands among the words as it is.
            Event::Text(words) | Event::Code(words) => add(&mut runs, &words),
            Event::SoftBreak => add(&mut runs, " "),
            Event::End(TagEnd::Heading(pulldown_cmark::HeadingLevel::H1)) => {
                title = plain(&std::mem::take(&mut runs));
            }
            Event::End(TagEnd::Heading(_)) => {
                blocks.push(json!({ "heading": plain(&std::mem::take(&mut runs)) }));
            }
            Event::End(TagEnd::Item) => steps.push(std::mem::take(&mut runs).into()),
            Event::End(TagEnd::Paragraph) if !in_steps && !runs.is_empty() => {
                blocks.push(json!({ "paragraph": std::mem::take(&mut runs) }));
            }
            Event::Start(
                Tag::Heading { .. } | Tag::Paragraph | Tag::Item | Tag::Emphasis | Tag::Link { .. },
            )
            | Event::End(TagEnd::Paragraph | TagEnd::Emphasis | TagEnd::Link) => {}
            other => return Err(format!("the page has no way to show {other:?}")),
        }
    }
    Ok(json!({ "name": name, "title": title, "blocks": blocks }))
}

/// Plain words, after those before them.
fn add(runs: &mut Vec<Value>, words: &str) {
    if let Some(Value::String(before)) = runs.last_mut() {
        before.push_str(words);
    } else {
        runs.push(words.into());
    }
}

fn plain(runs: &[Value]) -> String {
    runs.iter()
        .filter_map(|run| run.as_str().or_else(|| run["label"].as_str()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_has_the_handbook_as_it_is_written() {
        let root = cargo::root();
        let there = std::fs::read_to_string(root.join(MODULE)).expect("read");
        assert_eq!(
            there,
            module(&root).expect("made"),
            "`cargo xtask handbook` makes it"
        );
    }

    #[test]
    fn a_chapter_is_taken_apart() {
        let text = "# One\n\n![p](q.jpg)\n\n## Two\n\nPress\n**Now**, or *wait* (`x_mm`).\n\n1. A\n   b\n2. C\n";
        assert_eq!(
            chapter("one", text).expect("understood"),
            json!({ "name": "one", "title": "One", "blocks": [
                { "heading": "Two" },
                { "paragraph": ["Press ", { "label": "Now" }, ", or wait (x_mm)."] },
                { "steps": [["A b"], ["C"]] },
            ] })
        );
        assert!(chapter("one", "> said by another\n").is_err());
    }

    /// Who follows the handbook finds every label on the page.
    #[test]
    fn every_label_stands_on_the_page() {
        let root = cargo::root();
        let page = root.join("crates/workbench/page");
        let mut there = std::fs::read_to_string(page.join("index.html")).expect("read");
        for entry in std::fs::read_dir(page.join("js")).expect("listed") {
            let path = entry.expect("an entry").path();
            if !path.ends_with("handbook-text.js") {
                there.push_str(&std::fs::read_to_string(path).expect("read"));
            }
        }
        let there = there.replace('’', "'");
        for name in CHAPTERS {
            let path = root.join(TEXTS).join(format!("{name}.md"));
            let text = std::fs::read_to_string(path).expect("read");
            let chapter = chapter(name, &text).expect("understood");
            for label in labels(&chapter) {
                assert!(
                    there.contains(&label.replace('’', "'")),
                    "{name}: “{label}” is not on the page"
                );
            }
        }
    }

    fn labels(value: &Value) -> Vec<String> {
        match value {
            Value::Array(all) => all.iter().flat_map(labels).collect(),
            Value::Object(one) => match one.get("label") {
                Some(label) => vec![label.as_str().expect("words").to_owned()],
                None => one.values().flat_map(labels).collect(),
            },
            Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => Vec::new(),
        }
    }
}
