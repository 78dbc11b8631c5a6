//! `cargo xtask licences`: every dependency may be used freely.

use crate::cargo::Metadata;

/// What a dependency may be licensed under, by SPDX name. All ask for no more than their notice
/// (ISC is the two-clause BSD licence in fewer words).
const PERMITTED: &[&str] = &[
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "CC0-1.0",
    "ISC",
    "MIT",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Looks at every dependency, direct or not, for tests or not.
pub(crate) fn run(_: &[String]) -> Result<(), String> {
    let packages = Metadata::read()?.packages;
    let theirs: Vec<_> = packages
        .iter()
        .filter(|package| !package.is_ours())
        .collect();
    let refused: Vec<String> = theirs
        .iter()
        .filter(|package| !package.license.as_deref().is_some_and(permits))
        .map(|package| {
            format!(
                "{} {} is licensed under {}",
                package.name,
                package.version,
                package.license.as_deref().unwrap_or("nothing it names"),
            )
        })
        .collect();
    if refused.is_empty() {
        println!(
            "{} dependencies, all under a permitted licence",
            theirs.len()
        );
        return Ok(());
    }
    Err(format!(
        "{}\npermitted are {}: do without the crate, or argue for its licence in \
         xtask/src/licences.rs and give its credit in NOTICE",
        refused.join("\n"),
        PERMITTED.join(", "),
    ))
}

/// Whether an SPDX expression can be met with permitted licences alone. One
/// that is not understood cannot.
fn permits(expression: &str) -> bool {
    let spaced = expression
        .replace('(', " ( ")
        .replace(')', " ) ")
        .replace('/', " OR "); // as crates wrote it before SPDX
    let mut words = Words(spaced.split_whitespace().collect());
    words.either() == Some(true) && words.0.is_empty()
}

/// What is left of an expression.
struct Words<'a>(std::collections::VecDeque<&'a str>);

impl Words<'_> {
    fn take(&mut self, word: &str) -> bool {
        let found = self.0.front() == Some(&word);
        if found {
            self.0.pop_front();
        }
        found
    }

    fn either(&mut self) -> Option<bool> {
        let mut permitted = self.both()?;
        while self.take("OR") {
            permitted |= self.both()?;
        }
        Some(permitted)
    }

    fn both(&mut self) -> Option<bool> {
        let mut permitted = self.one()?;
        while self.take("AND") {
            permitted &= self.one()?;
        }
        Some(permitted)
    }

    fn one(&mut self) -> Option<bool> {
        if self.take("(") {
            let inner = self.either()?;
            return self.take(")").then_some(inner);
        }
        let mut licence = self.0.pop_front()?.to_owned();
        if self.take("WITH") {
            licence = format!("{licence} WITH {}", self.0.pop_front()?);
        }
        Some(PERMITTED.contains(&licence.as_str()))
    }
}

#[cfg(test)]
mod tests {
    use super::permits;

    #[test]
    fn one_permitted_choice_is_enough_and_every_part_is_needed() {
        for expression in [
            "MIT",
            "MIT/Apache-2.0",
            "GPL-3.0-only OR MIT",
            "(MIT OR GPL-3.0-only) AND Unicode-3.0",
            "Apache-2.0 WITH LLVM-exception",
        ] {
            assert!(permits(expression), "{expression}");
        }
        for expression in [
            "",
            "GPL-3.0-only",
            "MIT AND GPL-3.0-only",
            "GPL-2.0-only WITH Classpath-exception-2.0",
            "(MIT",
            "MIT OR",
            "MIT Apache-2.0",
        ] {
            assert!(!permits(expression), "{expression}");
        }
    }
}
