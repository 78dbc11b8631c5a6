//! Who may import whom.

use std::collections::{HashMap, HashSet};

use super::complaint::Complaint;
use super::files::Text;
use crate::cargo::Package;

/// A crate of the house, and the crates of the house it may import, in its
/// tests too. Imports run one way, from the top of this list to its end.
const HOUSE: &[(&str, &[&str])] = &[
    // The gazetteer is packed with the same folding of names that reads it, and parts of
    // the ephemeris are cut by what reads them.
    ("xtask", &["moment", "ordeal", "sky"]),
    (
        "almuri",
        &[
            "casebook",
            "desk",
            "handouts",
            "page",
            "patience",
            "press",
            "workbench",
        ],
    ),
    (
        "workbench",
        &["casebook", "desk", "page", "patience", "press"],
    ),
    ("site", &["casebook", "desk", "page", "patience", "press"]),
    (
        "page",
        &["casebook", "desk", "handouts", "patience", "press"],
    ),
    ("handouts", &["desk", "patience", "press"]),
    (
        "press",
        &["drawing", "instrument", "moment", "patience", "sky"],
    ),
    ("casebook", &[]),
    (
        "desk",
        &[
            "drawing",
            "exact",
            "tables",
            "words",
            "practice",
            "instrument",
            "figure",
            "moment",
            "patience",
            "sky",
        ],
    ),
    (
        "drawing",
        &[
            "practice",
            "instrument",
            "figure",
            "moment",
            "patience",
            "sky",
        ],
    ),
    (
        "words",
        &["tables", "practice", "instrument", "moment", "sky"],
    ),
    (
        "exact",
        &["practice", "instrument", "figure", "moment", "sky"],
    ),
    ("practice", &["instrument", "moment", "sky"]),
    ("tables", &["figure", "moment", "sky"]),
    ("instrument", &["moment", "sky"]),
    ("figure", &["sky"]),
    ("moment", &["sky"]),
    ("ordeal", &[]),
    ("patience", &[]),
    ("sky", &[]),
];

/// The crate for tests alone, which are no part of the house.
const FOR_TESTS: &str = "ordeal";

/// Crates that only one of ours may use outside its tests: what they know is
/// to be had from that one.
const KEPT: &[(&str, &str)] = &[
    ("deunicode", "moment"),
    ("rusqlite", "casebook"),
    ("sofars", "sky"),
];

/// The crates without I/O, threads, clock or C code, so that they can run
/// inside a page: the desk and all it stands on.
const PURE: &str = "desk";

/// What a pure crate does not touch.
const IMPURE: &[&str] = &[
    "std::env",
    "std::fs",
    "std::io",
    "std::net",
    "std::process",
    "std::thread",
    "std::time::Instant",
    "std::time::SystemTime",
];

/// The crate of calculation, which knows operations and what is given with them, but
/// takes no number from the instrument's lines. That `practice` takes none from the
/// figure its manifest says.
const EXACT: &str = "crates/exact/src/";

/// How the instrument's lines are asked.
const ASKS_LINES: &[&str] = &["carry_out", "read_ecliptic", ".plate(", ".trace(", ".rete_"];

/// What the manifests say.
pub(super) fn complaints(packages: &[Package]) -> Vec<Complaint> {
    let house: HashMap<_, _> = HOUSE.iter().copied().collect();
    let mut found = Vec::new();
    for package in packages.iter().filter(|package| package.is_ours()) {
        let Some(may) = house.get(package.name.as_str()) else {
            found.push(Complaint {
                place: format!("crates/{}/Cargo.toml", package.name),
                wrong: format!("{} has no room in the house", package.name),
                mend: "say in ARCHITECTURE.md what it is for, and in xtask/src/tidy/house.rs what it may import",
            });
            continue;
        };
        for dependency in &package.dependencies {
            let name = dependency.name.as_str();
            let for_tests = name == FOR_TESTS && dependency.kind.as_deref() == Some("dev");
            if house.contains_key(name) && !may.contains(&name) && !for_tests {
                found.push(Complaint {
                    place: format!("crates/{}/Cargo.toml", package.name),
                    wrong: format!("{} may not import {name}", package.name),
                    mend: "let a crate above both join them, or argue for it in ARCHITECTURE.md and xtask/src/tidy/house.rs",
                });
            }
            let keeper = KEPT.iter().find(|(kept, _)| *kept == name);
            if let Some((_, keeper)) = keeper
                && package.name != *keeper
                && dependency.kind.is_none()
            {
                found.push(Complaint {
                    place: format!("crates/{}/Cargo.toml", package.name),
                    wrong: format!("{name} is for {keeper} alone"),
                    mend: "ask that crate, and give it the function it lacks",
                });
            }
        }
    }
    found.extend(bindings_to_c(packages));
    found
}

/// Libraries in C under the pure crates.
fn bindings_to_c(packages: &[Package]) -> Vec<Complaint> {
    let by_name: HashMap<&str, &Package> = packages
        .iter()
        .map(|package| (package.name.as_str(), package))
        .collect();
    let mut under = HashSet::new();
    let mut next = vec![PURE];
    while let Some(name) = next.pop() {
        let Some(package) = by_name.get(name) else {
            continue;
        };
        if under.insert(name) {
            let needed = package
                .dependencies
                .iter()
                .filter(|dependency| dependency.kind.as_deref() != Some("dev"));
            next.extend(needed.map(|dependency| dependency.name.as_str()));
        }
    }
    packages
        .iter()
        .filter(|package| under.contains(package.name.as_str()))
        .filter_map(|package| {
            let library = package.links.as_ref()?;
            Some(Complaint {
                place: format!("{} {}", package.name, package.version),
                wrong: format!("binds to {library}, and {PURE} stands on it"),
                mend: "use a crate without C code below the desk, or move the work above it",
            })
        })
        .collect()
}

/// What a source file says.
pub(super) fn complaints_of_source(text: &Text) -> Vec<Complaint> {
    let Some((name, _)) = text
        .path
        .strip_prefix("crates/")
        .and_then(|path| path.split_once('/'))
    else {
        return Vec::new();
    };
    if !text.is_rust() {
        return Vec::new();
    }
    let pure = name == PURE
        || HOUSE
            .iter()
            .any(|(room, may)| *room == PURE && may.contains(&name));
    let source = text.path.starts_with(&format!("crates/{name}/src/"));
    let mut found = Vec::new();
    for (number, line) in text.numbered() {
        let code = line.split("//").next().unwrap_or_default();
        let place = || format!("{}:{number}", text.path);
        if text.path.starts_with(EXACT)
            && let Some(asks) = ASKS_LINES.iter().find(|asks| code.contains(*asks))
        {
            found.push(Complaint {
                place: place(),
                wrong: format!("{asks} asks the instrument's lines"),
                mend: "calculate it; readings and calculation are held against each other in the desk and in tests",
            });
        }
        if pure
            && source
            && let Some(impure) = IMPURE.iter().find(|impure| code.contains(*impure))
        {
            found.push(Complaint {
                place: place(),
                wrong: format!("{impure} below the desk"),
                mend: "let it come in with the request; the command line and the page touch the world",
            });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cargo::Dependency;

    fn package(name: &str, needs: &[(&str, Option<&str>)]) -> Package {
        Package {
            name: name.to_owned(),
            version: "0.1.0".to_owned(),
            license: None,
            links: None,
            source: None,
            dependencies: needs
                .iter()
                .map(|(name, kind)| Dependency {
                    name: (*name).to_owned(),
                    kind: kind.map(str::to_owned),
                })
                .collect(),
        }
    }

    fn wrong(complaints: &[Complaint]) -> Vec<&str> {
        complaints
            .iter()
            .map(|complaint| complaint.wrong.as_str())
            .collect()
    }

    #[test]
    fn rooms_are_lower_than_what_imports_them() {
        for (at, (room, may)) in HOUSE.iter().enumerate() {
            for below in *may {
                assert!(
                    HOUSE[at + 1..].iter().any(|(name, _)| name == below),
                    "{room}, {below}"
                );
            }
        }
    }

    #[test]
    fn forbidden_imports_are_seen() {
        let found = complaints(&[
            package(
                "figure",
                &[("sky", None), ("instrument", Some("dev")), ("sofars", None)],
            ),
            package("drawing", &[("sofars", Some("dev"))]),
            package("cellar", &[]),
        ]);
        assert_eq!(
            wrong(&found),
            [
                "figure may not import instrument",
                "sofars is for sky alone",
                "cellar has no room in the house",
            ]
        );
    }

    #[test]
    fn c_code_under_the_desk_is_seen_and_elsewhere_is_not() {
        let mut binding = package("zip-sys", &[]);
        binding.links = Some("z".to_owned());
        binding.source = Some("registry".to_owned());
        let desk = package("desk", &[("middle", None)]);
        let mut middle = package("middle", &[("zip-sys", None)]);
        middle.source = Some("registry".to_owned());
        let found = complaints(&[desk, middle, binding]);
        assert_eq!(wrong(&found), ["binds to z, and desk stands on it"]);

        let mut binding = package("zip-sys", &[]);
        binding.links = Some("z".to_owned());
        binding.source = Some("registry".to_owned());
        assert!(complaints(&[package("almuri", &[("zip-sys", None)]), binding]).is_empty());
    }

    fn source(path: &str, content: &str) -> Text {
        Text {
            path: path.to_owned(),
            content: content.to_owned(),
        }
    }

    #[test]
    fn the_roads_are_apart() {
        let found = complaints(&[
            package("practice", &[("figure", Some("dev"))]),
            package("exact", &[("figure", None), ("practice", None)]),
        ]);
        assert_eq!(wrong(&found), ["practice may not import figure"]);
        let asking = "let working = carry_out(&operation, &conditions);";
        let of = |path| complaints_of_source(&source(path, asking)).len();
        assert_eq!(of("crates/exact/src/day.rs"), 1);
        for path in ["crates/exact/tests/two_roads.rs", "crates/desk/src/work.rs"] {
            assert_eq!(of(path), 0, "{path}");
        }
    }

    #[test]
    fn the_world_stays_above_the_desk() {
        let reading = "let text = std::fs::read_to_string(path)?;";
        for path in ["crates/desk/src/a.rs", "crates/sky/src/a.rs"] {
            assert_eq!(
                complaints_of_source(&source(path, reading)).len(),
                1,
                "{path}"
            );
        }
        for path in [
            "crates/almuri/src/a.rs",
            "crates/sky/tests/a.rs",
            "xtask/src/a.rs",
        ] {
            assert!(
                complaints_of_source(&source(path, reading)).is_empty(),
                "{path}"
            );
        }
    }
}
