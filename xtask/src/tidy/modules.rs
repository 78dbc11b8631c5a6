//! What a Rust source file imports, defines and names, as far as the knots between modules
//! ask for it. Tokens are enough for that, and see into macros as well.

/// What stands in the file of one module, without what is there for its tests alone.
#[derive(Default)]
pub(super) struct Source {
    /// Every name that a `use` brings in.
    pub(super) imports: Vec<Import>,
    /// The items defined here.
    pub(super) items: Vec<String>,
    /// Every path that is written outside a `use`, of one name or more.
    pub(super) paths: Vec<(Vec<String>, usize)>,
}

/// A name brought in by a `use`.
pub(super) struct Import {
    /// The name that it has here, `*` for all that a module shows.
    pub(super) name: String,
    pub(super) path: Vec<String>,
    /// Whether others can have it from here.
    pub(super) is_shown: bool,
    pub(super) line: usize,
}

/// A word, or one of the signs that matter, and its line.
#[derive(Clone, Debug, PartialEq)]
struct Token {
    text: String,
    line: usize,
}

impl Source {
    pub(super) fn read(content: &str) -> Source {
        let tokens = without_tests(tokens(content));
        let mut source = Source::default();
        let mut at = 0;
        let mut is_shown = false;
        while let Some(token) = tokens.get(at) {
            let next = |ahead: usize| tokens.get(at + ahead).map(|token| token.text.as_str());
            match token.text.as_str() {
                "pub" => {
                    let is_within = next(1) == Some("(");
                    at = if is_within {
                        after_group(&tokens, at + 1)
                    } else {
                        at + 1
                    };
                    is_shown = true;
                    continue;
                }
                "use" if next(1) != Some("<") => {
                    at = source.read_use(&tokens, at + 1, &[], is_shown);
                }
                "fn" | "struct" | "enum" | "trait" | "type" | "const" | "static" | "mod" => {
                    let name = next(1).filter(|name| is_word(name) && *name != "fn");
                    // A module in a file of its own is no item of this one.
                    if let Some(name) = name
                        && (token.text != "mod" || next(2) != Some(";"))
                    {
                        source.items.push(name.to_owned());
                    }
                    at += 1 + usize::from(name.is_some());
                }
                "macro_rules" => {
                    source.items.extend(next(2).map(str::to_owned));
                    at += 3;
                }
                // What follows a dot is a field or a method, which no import brings in.
                "." => at += 1 + usize::from(next(1).is_some_and(is_word)),
                word if is_word(word) => {
                    let (path, after) = path(&tokens, at);
                    source.paths.push((path, token.line));
                    at = after;
                }
                "::" => at += 1 + usize::from(next(1).is_some_and(is_word)),
                _ => at += 1,
            }
            is_shown = false;
        }
        source
    }

    /// Reads the tree of a `use` from a place in it; gives the place behind it.
    fn read_use(
        &mut self,
        tokens: &[Token],
        mut at: usize,
        before: &[String],
        is_shown: bool,
    ) -> usize {
        let mut path = before.to_vec();
        while let Some(token) = tokens.get(at) {
            match token.text.as_str() {
                "{" => {
                    at += 1;
                    while tokens.get(at).is_some_and(|token| token.text != "}") {
                        at = self.read_use(tokens, at, &path, is_shown);
                        at += usize::from(tokens.get(at).is_some_and(|token| token.text == ","));
                    }
                    return at + 1;
                }
                "::" => at += 1,
                name => {
                    at += 1;
                    if name != "self" || path.is_empty() {
                        path.push(name.to_owned());
                    }
                    let after = |ahead: usize| tokens.get(at + ahead).map(|next| &*next.text);
                    if after(0) == Some("::") {
                        continue;
                    }
                    let (name, length) = match (after(0), after(1)) {
                        (Some("as"), Some(other)) => (other, 2),
                        _ => (path.last().map_or("", String::as_str), 0),
                    };
                    let name = name.to_owned();
                    if name == "*" {
                        path.pop();
                    }
                    self.imports.push(Import {
                        name,
                        path,
                        is_shown,
                        line: token.line,
                    });
                    return at + length;
                }
            }
        }
        at
    }
}

fn is_word(text: &str) -> bool {
    text.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// The path that begins with a word, and the place behind it.
fn path(tokens: &[Token], mut at: usize) -> (Vec<String>, usize) {
    let mut path = Vec::new();
    loop {
        path.extend(tokens.get(at).map(|token| token.text.clone()));
        at += 1;
        let goes_on = tokens.get(at).is_some_and(|token| token.text == "::")
            && tokens.get(at + 1).is_some_and(|token| is_word(&token.text));
        if !goes_on {
            return (path, at);
        }
        at += 1;
    }
}

/// The place behind the brackets that open at a place.
fn after_group(tokens: &[Token], mut at: usize) -> usize {
    let mut depth = 0;
    while let Some(token) = tokens.get(at) {
        at += 1;
        match token.text.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    at
}

/// Takes away every item that is compiled for tests alone.
fn without_tests(tokens: Vec<Token>) -> Vec<Token> {
    const FOR_TESTS: [&str; 7] = ["#", "[", "cfg", "(", "test", ")", "]"];
    let mut kept = Vec::with_capacity(tokens.len());
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        let is_for_tests = tokens[at..]
            .iter()
            .map(|token| token.text.as_str())
            .take(FOR_TESTS.len())
            .eq(FOR_TESTS);
        if !is_for_tests {
            kept.push(token.clone());
            at += 1;
            continue;
        }
        at += FOR_TESTS.len();
        while let Some(token) = tokens.get(at) {
            match token.text.as_str() {
                ";" => {
                    at += 1;
                    break;
                }
                "{" => {
                    at = after_group(&tokens, at);
                    at += usize::from(tokens.get(at).is_some_and(|token| token.text == ";"));
                    break;
                }
                "(" | "[" => at = after_group(&tokens, at),
                _ => at += 1,
            }
        }
    }
    kept
}

/// Words, `::` and single signs; comments, numbers and what stands in quotes left out.
fn tokens(content: &str) -> Vec<Token> {
    let mut found = Vec::new();
    let mut rest = content;
    let mut line = 1;
    while let Some(first) = rest.chars().next() {
        let word = rest
            .find(|c: char| !c.is_alphanumeric() && c != '_')
            .unwrap_or(rest.len());
        let length = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            block_comment(rest)
        } else if let Some(length) = quoted(rest) {
            length
        } else if word > 0 {
            if is_word(rest) {
                found.push(Token {
                    text: rest[..word].to_owned(),
                    line,
                });
            }
            word
        } else {
            let length = if rest.starts_with("::") {
                2
            } else {
                first.len_utf8()
            };
            if !first.is_whitespace() {
                found.push(Token {
                    text: rest[..length].to_owned(),
                    line,
                });
            }
            length
        };
        let (passed, remaining) = rest.split_at(length);
        line += passed.matches('\n').count();
        rest = remaining;
    }
    found
}

/// The length of a comment that may hold others.
fn block_comment(text: &str) -> usize {
    let mut depth = 0;
    let mut at = 0;
    while at < text.len() {
        let rest = &text.as_bytes()[at..];
        if rest.starts_with(b"/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with(b"*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    text.len()
}

/// The length of a string, a character or a lifetime, if the text begins with one.
fn quoted(text: &str) -> Option<usize> {
    let prefix = ["br", "cr", "b", "c", "r"]
        .into_iter()
        .find(|prefix| text.starts_with(prefix))
        .unwrap_or("");
    let after = &text[prefix.len()..];
    if prefix.ends_with('r') {
        let hashes = after.len() - after.trim_start_matches('#').len();
        if after[hashes..].starts_with('"') {
            let begin = prefix.len() + hashes + 1;
            let end = format!("\"{}", "#".repeat(hashes));
            let length = text[begin..].find(&end)? + begin + end.len();
            return Some(length);
        }
        return None;
    }
    let quote = after.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    if quote == '\'' {
        let mut inside = after[1..].chars();
        let first = inside.next()?;
        // A lifetime has no quote behind it.
        if first != '\\' && inside.next() != Some('\'') {
            return Some(prefix.len() + 1);
        }
    }
    let mut escaped = false;
    for (at, c) in after.char_indices().skip(1) {
        if escaped {
            escaped = false;
        } else if c == '\\' {
            escaped = true;
        } else if c == quote {
            return Some(prefix.len() + at + 1);
        }
    }
    Some(text.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paths(content: &str) -> Vec<(String, usize)> {
        Source::read(content)
            .paths
            .into_iter()
            .map(|(path, line)| (path.join("::"), line))
            .collect()
    }

    fn imports(content: &str) -> Vec<String> {
        Source::read(content)
            .imports
            .into_iter()
            .map(|import| format!("{} = {}", import.name, import.path.join("::")))
            .collect()
    }

    #[test]
    fn a_use_is_read_to_its_leaves() {
        assert_eq!(
            imports("use crate::{a::{self, B as C}, d::*};\npub(super) use super::e;"),
            [
                "a = crate::a",
                "C = crate::a::B",
                "* = crate::d",
                "e = super::e"
            ]
        );
        let shown = Source::read("pub(super) use super::e;\nuse super::f;").imports;
        assert!(shown[0].is_shown && !shown[1].is_shown);
        assert_eq!(shown[1].line, 2);
    }

    #[test]
    fn comments_strings_and_tests_name_nothing() {
        assert!(
            paths(
                "// crate::a\n/* crate::b /* */ crate::c */ \"crate::d \\\" e\" r#\"f \" g\"# 'h' '\\''"
            )
            .is_empty()
        );
        assert!(paths("#[cfg(test)]\nmod tests { use super::*; crate::a() }").is_empty());
        assert!(imports("#[cfg(test)]\nuse crate::{a, b};").is_empty());
        assert_eq!(
            paths("// one\n\"two\nthree\"\nx.crate_field.y crate::a::b::<T>()"),
            [
                ("x".to_owned(), 4),
                ("crate::a::b".to_owned(), 4),
                ("T".to_owned(), 4)
            ]
        );
    }

    #[test]
    fn items_are_known_by_name() {
        assert_eq!(
            Source::read(
                "pub(crate) const fn a() {}\npub struct B<'a>(&'a str);\nmod c;\nmod d {}\nmacro_rules! e { () => {} }"
            )
            .items,
            ["a", "B", "d", "e"]
        );
    }
}
