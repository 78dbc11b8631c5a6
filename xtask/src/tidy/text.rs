//! What holds of any text, and of any Rust source.

use super::complaint::Complaint;
use super::files::Text;

/// Lines of code, without blank lines and comments, above which a file is long.
const LONG: usize = 700;

/// With this at its head a file may be long; the reason follows.
const LONG_BECAUSE: &str = "// Long because ";

/// How a path of some machine begins. In two halves, so that this file may
/// stand among the others.
const MACHINE_PATHS: &[(&str, &str)] = &[
    ("/ho", "me/"),
    ("/ro", "ot/"),
    ("/tm", "p/"),
    ("/Us", "ers/"),
    ("/wo", "rk/"),
    ("C:", "\\"),
];

/// What a merge leaves where two versions of a line stand against each other, each seven
/// times at the beginning of a line and followed by a blank. (The line of equals signs
/// between them also underlines headings.)
const UNMERGED: &[char] = &['<', '>', '|'];

pub(super) fn complaints(text: &Text) -> Vec<Complaint> {
    let mut found = machine_paths(text);
    found.extend(unmerged(text));
    if text.is_rust() {
        found.extend(length(text));
        found.extend(ignored_tests(text));
        found.extend(lint_exceptions(text));
    }
    if text.path.contains("/tests/data/")
        && text.path.ends_with(".csv")
        && !text.content.starts_with('#')
    {
        found.push(Complaint {
            place: text.path.clone(),
            wrong: "reference values without their origin".to_owned(),
            mend: "let the script that makes them write it in a first line that begins with #",
        });
    }
    found
}

fn machine_paths(text: &Text) -> Vec<Complaint> {
    let starts: Vec<String> = MACHINE_PATHS
        .iter()
        .map(|(a, b)| format!("{a}{b}"))
        .collect();
    text.numbered()
        .filter(|(_, line)| {
            starts.iter().any(|start| {
                line.match_indices(start.as_str()).any(|(at, _)| {
                    let before = line.get(..at).and_then(|before| before.chars().next_back());
                    // Within a longer path or an address it is not the start of one.
                    !before.is_some_and(|c| c.is_alphanumeric() || ".-_~*}".contains(c))
                })
            })
        })
        .map(|(number, _)| Complaint {
            place: format!("{}:{number}", text.path),
            wrong: "a path that exists on one machine only".to_owned(),
            mend: "write it from the root of the project, or take it as an argument",
        })
        .collect()
}

fn unmerged(text: &Text) -> Vec<Complaint> {
    let starts: Vec<String> = UNMERGED
        .iter()
        .map(|c| format!("{} ", String::from(*c).repeat(7)))
        .collect();
    text.numbered()
        .filter(|(_, line)| starts.iter().any(|start| line.starts_with(start)))
        .map(|(number, _)| Complaint {
            place: format!("{}:{number}", text.path),
            wrong: "a merge that was not finished".to_owned(),
            mend: "make one text of the two",
        })
        .collect()
}

fn length(text: &Text) -> Option<Complaint> {
    let code = text
        .content
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty() && !line.starts_with("//"))
        .count();
    let excused = text.content.lines().take(20).any(|line| {
        line.strip_prefix(LONG_BECAUSE)
            .is_some_and(|reason| !reason.trim().is_empty())
    });
    (code > LONG && !excused).then(|| Complaint {
        place: text.path.clone(),
        wrong: format!("{code} lines of code; {LONG} are the most"),
        mend: "part it by concept, or begin it with `// Long because …`",
    })
}

fn ignored_tests(text: &Text) -> Vec<Complaint> {
    text.numbered()
        .filter(|(_, line)| line.trim_start().starts_with("#[ignore]"))
        .map(|(number, _)| Complaint {
            place: format!("{}:{number}", text.path),
            wrong: "an ignored test without a reason".to_owned(),
            mend: "run it, remove it, or write `#[ignore = \"…\"]`",
        })
        .collect()
}

fn lint_exceptions(text: &Text) -> Vec<Complaint> {
    let mut found = Vec::new();
    let mut lines = text.numbered();
    while let Some((number, line)) = lines.next() {
        let start = line.trim_start();
        let is_exception = ["#[allow(", "#![allow(", "#[expect(", "#![expect("]
            .iter()
            .any(|attribute| start.starts_with(attribute));
        if !is_exception {
            continue;
        }
        let mut attribute = line.to_owned();
        while !attribute.contains(")]") {
            let Some((_, more)) = lines.next() else { break };
            attribute.push_str(more);
        }
        if !attribute.contains("reason") {
            found.push(Complaint {
                place: format!("{}:{number}", text.path),
                wrong: "a lint put aside without a reason".to_owned(),
                mend: "write `#[expect(…, reason = \"…\")]`",
            });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(path: &str, content: &str) -> Vec<String> {
        let text = Text {
            path: path.to_owned(),
            content: content.to_owned(),
        };
        complaints(&text)
            .into_iter()
            .map(|complaint| complaint.place)
            .collect()
    }

    #[test]
    fn machine_paths_are_seen() {
        let (a, b) = MACHINE_PATHS[0];
        let path = format!("{a}{b}");
        assert_eq!(
            found("a.md", &format!("first\nsee {path}anna/notes")),
            ["a.md:2"]
        );
        assert_eq!(found("a.md", &format!("\"{path}anna\"")), ["a.md:1"]);
        assert!(found("a.md", &format!("https://example.org{path}page")).is_empty());
        assert!(found("a.md", "crates/sky/src").is_empty());
    }

    #[test]
    fn unfinished_merges_are_seen() {
        let (ours, theirs) = ("<".repeat(7), ">".repeat(7));
        assert_eq!(
            found(
                "a.md",
                &format!("{ours} here\na\n{}\nb\n{theirs} there", "=".repeat(7))
            ),
            ["a.md:1", "a.md:5"]
        );
        assert!(found("a.md", "Heading\n=======\n> said\n").is_empty());
    }

    #[test]
    fn long_files_are_seen_unless_they_say_why() {
        let long = "let x = 1;\n".repeat(LONG + 1);
        assert_eq!(found("a.rs", &long), ["a.rs"]);
        assert!(found("a.rs", &"let x = 1;\n// why\n\n".repeat(LONG)).is_empty());
        assert!(found("a.rs", &format!("{LONG_BECAUSE}it is one table.\n{long}")).is_empty());
        assert_eq!(found("a.rs", &format!("{LONG_BECAUSE}\n{long}")), ["a.rs"]);
    }

    #[test]
    fn exceptions_need_reasons() {
        assert_eq!(found("a.rs", "#[ignore]\nfn f() {}"), ["a.rs:1"]);
        assert!(found("a.rs", "#[ignore = \"needs a browser\"]").is_empty());
        assert_eq!(found("a.rs", "\n#[expect(dead_code)]"), ["a.rs:2"]);
        assert_eq!(
            found("a.rs", "#[expect(\n    dead_code,\n)]\n// reason"),
            ["a.rs:1"]
        );
        assert!(found("a.rs", "#[expect(\n    dead_code,\n    reason = \"…\"\n)]").is_empty());
    }

    #[test]
    fn reference_values_need_an_origin() {
        assert_eq!(
            found("crates/a/tests/data/b.csv", "x,y\n1,2\n"),
            ["crates/a/tests/data/b.csv"]
        );
        assert!(found("crates/a/tests/data/b.csv", "# By a script\nx,y\n").is_empty());
    }
}
