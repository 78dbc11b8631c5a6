//! No modules of a crate stand on each other in a circle.
//!
//! A module is a file. It stands on another when it names something that is written there,
//! whichever way the name came: `crate::…`, `super::…`, a `use`, or what a module between
//! them shows of a third (`pub use`). That a module declares others and shows what is theirs
//! does not make it stand on them: so a `lib.rs` or `mod.rs` may be the table of contents of
//! files that take from it. Tests are not looked at. Methods are found by the type of what
//! they are called on and name no module, so that they are not seen.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::complaint::Complaint;
use super::files::Text;
use super::modules::Source;

/// The modules of a crate: which are in which, and what stands in them.
struct Crate<'a> {
    modules: Vec<Module<'a>>,
}

struct Module<'a> {
    text: &'a Text,
    source: Source,
    parent: Option<usize>,
    children: BTreeMap<&'a str, usize>,
}

/// That a module stands on another: where it first names something of it.
type Edges = Vec<BTreeMap<usize, usize>>;

pub(super) fn complaints(texts: &[Text]) -> Vec<Complaint> {
    let sources: BTreeSet<&str> = texts
        .iter()
        .filter(|text| text.is_rust())
        .filter_map(|text| {
            let at = text.path.find("src/")?;
            let folder = &text.path[..at + "src/".len()];
            let is_crate = folder == "xtask/src/" || folder.matches('/').count() == 3;
            is_crate.then_some(folder)
        })
        .collect();
    sources
        .into_iter()
        .filter_map(|folder| Crate::read(texts, folder))
        .flat_map(|house| house.complaints())
        .collect()
}

impl<'a> Crate<'a> {
    fn read(texts: &'a [Text], folder: &str) -> Option<Crate<'a>> {
        let root = ["lib.rs", "main.rs"].into_iter().find_map(|name| {
            texts
                .iter()
                .find(|text| text.path == format!("{folder}{name}"))
        })?;
        // By its path within the folder: parents come before what is in them.
        let mut files: Vec<(Vec<&str>, &Text)> = texts
            .iter()
            .filter(|text| text.is_rust() && text.path != root.path)
            .filter_map(|text| {
                let path = text.path.strip_prefix(folder)?.strip_suffix(".rs")?;
                let path = path.strip_suffix("/mod").unwrap_or(path);
                Some((path.split('/').collect(), text))
            })
            .collect();
        files.sort_by(|a, b| a.0.cmp(&b.0));
        let mut modules = vec![Module::of(root, None)];
        for (path, text) in files {
            let (name, above) = path.split_last()?;
            let parent = above
                .iter()
                .try_fold(0, |at, name| modules[at].children.get(name).copied());
            // What no module declares belongs to another program of the folder.
            let Some(parent) = parent else { continue };
            let index = modules.len();
            modules.push(Module::of(text, Some(parent)));
            modules[parent].children.insert(name, index);
        }
        Some(Crate { modules })
    }

    fn complaints(&self) -> Vec<Complaint> {
        let edges = self.edges();
        knots(&edges)
            .iter()
            .map(|knot| {
                let circle = shortest_circle(&edges, knot);
                let names: Vec<String> = circle.iter().map(|at| self.name(*at)).collect();
                let steps: Vec<String> = circle
                    .iter()
                    .zip(circle.iter().cycle().skip(1))
                    .map(|(from, to)| {
                        let line = edges[*from].get(to).copied().unwrap_or_default();
                        format!("{}:{line}", self.modules[*from].text.path)
                    })
                    .collect();
                let more = match knot.len() - circle.len() {
                    0 => String::new(),
                    more => format!("; {more} more hang together with them"),
                };
                Complaint {
                    place: steps[0].clone(),
                    wrong: format!(
                        "{} stand on each other in a circle ({}){more}",
                        names.join(" → "),
                        steps.join(", ")
                    ),
                    mend: "move what they share to a module below them",
                }
            })
            .collect()
    }

    /// Which modules each stands on, and where it says so.
    fn edges(&self) -> Edges {
        (0..self.modules.len())
            .map(|at| self.stands_on(at))
            .collect()
    }

    fn stands_on(&self, at: usize) -> BTreeMap<usize, usize> {
        let source = &self.modules[at].source;
        let imported = source
            .imports
            .iter()
            .filter(|import| !import.is_shown && !self.is_a_module(at, &import.path))
            .map(|import| (&import.path, import.line));
        // What is brought in without being shown has been counted where it is brought in.
        let counted = |path: &[String]| {
            path.len() == 1
                && source
                    .imports
                    .iter()
                    .any(|import| !import.is_shown && path.first() == Some(&import.name))
        };
        let named = source
            .paths
            .iter()
            .filter(|(path, _)| !counted(path))
            .map(|(path, line)| (path, *line));
        let mut found = BTreeMap::new();
        for (path, line) in imported.chain(named) {
            if let Some(to) = self.written_in(at, path, 0)
                && to != at
            {
                let first = found.entry(to).or_insert(line);
                *first = line.min(*first);
            }
        }
        found
    }

    /// Whether a path of a `use` names a module, if an item as well: what is taken of it then
    /// says which it was.
    fn is_a_module(&self, at: usize, path: &[String]) -> bool {
        let above = |at: usize| self.modules[at].parent.unwrap_or(at);
        path.iter()
            .try_fold(at, |at, name| match name.as_str() {
                "crate" => Some(0),
                "self" => Some(at),
                "super" => Some(above(at)),
                name => self.modules[at].children.get(name).copied(),
            })
            .is_some()
    }

    /// The module in which stands what a path names, as written in a module. Nothing for what
    /// other crates have, for what stands in the function itself, and for modules.
    fn written_in(&self, at: usize, path: &[String], depth: usize) -> Option<usize> {
        // An import may have the name of what it imports from another crate.
        if depth > 8 {
            return None;
        }
        let (first, rest) = path.split_first()?;
        match first.as_str() {
            "crate" => self.shown_by(0, rest, depth),
            "self" => self.shown_by(at, rest, depth),
            "super" => {
                let mut above = self.modules[at].parent.unwrap_or(at);
                let mut rest = rest;
                while let Some((first, after)) = rest.split_first()
                    && first == "super"
                {
                    above = self.modules[above].parent.unwrap_or(above);
                    rest = after;
                }
                self.shown_by(above, rest, depth)
            }
            _ => {
                let module = &self.modules[at];
                let knows = module.children.contains_key(first.as_str()) && !rest.is_empty()
                    || module
                        .source
                        .imports
                        .iter()
                        .any(|import| import.name == *first || import.name == "*");
                knows.then(|| self.shown_by(at, path, depth)).flatten()
            }
        }
    }

    /// The module in which stands what a module shows under a name.
    fn shown_by(&self, at: usize, path: &[String], depth: usize) -> Option<usize> {
        let module = &self.modules[at];
        let (name, rest) = path.split_first()?;
        let import = module
            .source
            .imports
            .iter()
            .find(|import| import.name == *name);
        if let Some(child) = module.children.get(name.as_str())
            && (import.is_none() || !rest.is_empty())
        {
            return self.shown_by(*child, rest, depth);
        }
        if let Some(import) = import {
            let whole: Vec<String> = import.path.iter().chain(rest).cloned().collect();
            return self.written_in(at, &whole, depth + 1);
        }
        if module.source.items.contains(name) {
            return Some(at);
        }
        module
            .source
            .imports
            .iter()
            .filter(|import| import.name == "*")
            .find_map(|import| {
                let whole: Vec<String> = import.path.iter().chain(path).cloned().collect();
                self.written_in(at, &whole, depth + 1)
            })
    }

    fn name(&self, at: usize) -> String {
        let path = &self.modules[at].text.path;
        let path = path.strip_prefix("crates/").unwrap_or(path);
        let path = path.strip_suffix(".rs").unwrap_or(path);
        path.replace("/src/", "::").replace('/', "::")
    }
}

impl<'a> Module<'a> {
    fn of(text: &'a Text, parent: Option<usize>) -> Module<'a> {
        Module {
            text,
            source: Source::read(&text.content),
            parent,
            children: BTreeMap::new(),
        }
    }
}

/// The sets of modules that each come to one another, larger than one.
fn knots(edges: &Edges) -> Vec<Vec<usize>> {
    let reached: Vec<BTreeSet<usize>> = (0..edges.len()).map(|at| reached(edges, at)).collect();
    let mut knots: Vec<Vec<usize>> = (0..edges.len())
        .filter(|at| reached[*at].contains(at))
        .map(|at| {
            let both = |other: &&usize| reached[**other].contains(&at);
            reached[at].iter().filter(both).copied().collect()
        })
        .collect();
    knots.sort();
    knots.dedup();
    knots
}

/// All that is come to from a module, itself only if it stands in a circle.
fn reached(edges: &Edges, from: usize) -> BTreeSet<usize> {
    let mut found = BTreeSet::new();
    let mut next = vec![from];
    while let Some(at) = next.pop() {
        next.extend(edges[at].keys().filter(|to| found.insert(**to)));
    }
    found
}

fn shortest_circle(edges: &Edges, knot: &[usize]) -> Vec<usize> {
    knot.iter()
        .filter_map(|from| circle_from(edges, *from))
        .min_by_key(Vec::len)
        .unwrap_or_default()
}

/// The shortest way from a module back to itself, without its end.
fn circle_from(edges: &Edges, from: usize) -> Option<Vec<usize>> {
    let mut before: BTreeMap<usize, usize> = BTreeMap::new();
    let mut next = VecDeque::from([from]);
    while let Some(at) = next.pop_front() {
        for to in edges[at].keys() {
            if *to == from {
                let mut circle = vec![at];
                while let Some(at) = circle.last().filter(|at| **at != from) {
                    circle.push(*before.get(at)?);
                }
                circle.reverse();
                return Some(circle);
            }
            if !before.contains_key(to) {
                before.insert(*to, at);
                next.push_back(*to);
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is complained of in a crate of such files.
    fn wrong(files: &[(&str, &str)]) -> Vec<String> {
        let texts: Vec<Text> = files
            .iter()
            .map(|(name, content)| Text {
                path: format!("crates/a/src/{name}"),
                content: (*content).to_owned(),
            })
            .collect();
        complaints(&texts)
            .into_iter()
            .map(|complaint| complaint.wrong)
            .collect()
    }

    #[test]
    fn a_circle_is_named_with_each_of_its_steps() {
        assert_eq!(
            wrong(&[
                ("lib.rs", "mod b;\nmod c;\nmod d;"),
                ("b.rs", "\nuse crate::c::C;\npub struct B;"),
                ("c.rs", "use super::d;\npub struct C;\n\nfn f() { d::g() }"),
                ("d.rs", "pub fn g() { crate::b::B; }"),
            ]),
            ["a::b → a::c → a::d stand on each other in a circle \
                 (crates/a/src/b.rs:2, crates/a/src/c.rs:4, crates/a/src/d.rs:1)"]
        );
    }

    #[test]
    fn what_is_shown_is_followed_to_where_it_stands() {
        // By way of the root, which stands on neither of the two.
        let root = ("lib.rs", "mod b;\nmod c;\npub use b::B;\npub use c::C;");
        let c = ("c.rs", "pub struct C(crate::B);");
        assert!(wrong(&[root, ("b.rs", "pub struct B;"), c]).is_empty());
        assert_eq!(
            wrong(&[root, ("b.rs", "use crate::*;\npub struct B(C);"), c]).len(),
            1
        );
        assert_eq!(
            wrong(&[root, ("b.rs", "pub struct B(super::C);"), c]).len(),
            1
        );
    }

    #[test]
    fn a_parent_may_show_its_children_but_not_lean_on_them() {
        let child = ("b.rs", "use super::A;\npub struct B(A);");
        assert!(wrong(&[("lib.rs", "mod b;\npub use b::B;\npub struct A;"), child]).is_empty());
        for leaning in [
            "mod b;\nuse b::B;\npub struct A;",
            "mod b;\npub use b::B;\npub struct A;\nfn f() -> B {}",
            "mod b;\npub struct A;\nfn f() -> b::B {}",
        ] {
            assert_eq!(wrong(&[("lib.rs", leaning), child]).len(), 1, "{leaning}");
        }
    }

    #[test]
    fn tests_and_methods_are_not_looked_at() {
        let b = ("b.rs", "pub struct B(crate::c::C);");
        for c in [
            "pub struct C;\n#[cfg(test)]\nmod tests { use crate::b::B; }",
            "pub struct C;\nimpl C { fn f(&self) { self.b() } fn b(&self) {} }",
            "//! See [`crate::b::B`].\npub struct C;",
        ] {
            assert!(
                wrong(&[("lib.rs", "mod b;\nmod c;"), b, ("c.rs", c)]).is_empty(),
                "{c}"
            );
        }
    }
}
