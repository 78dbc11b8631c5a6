//! A table of what came of a chore, in parts, each made by itself.

/// The table with a part in the place of what it had under that heading, the parts in the
/// order of the headings.
pub(crate) fn with_part<'a>(
    head: &str,
    headings: impl Iterator<Item = &'a str>,
    table: &str,
    (heading, part): (&str, &str),
) -> String {
    let old: Vec<String> = table
        .split("\n## ")
        .skip(1)
        .map(|part| format!("## {}", part.trim_end()))
        .collect();
    let parts: Vec<String> = headings
        .filter_map(|one| {
            if one == heading {
                return Some(format!("## {heading}\n\n{}", part.trim_end()));
            }
            let begins = format!("## {one}\n");
            old.iter().find(|part| part.starts_with(&begins)).cloned()
        })
        .collect();
    format!("{head}\n{}\n", parts.join("\n\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_takes_its_own_place() {
        let with = |table: &str, part| with_part("# All\n", ["a", "b"].into_iter(), table, part);
        let table = with("", ("b", "first"));
        let table = with(&table, ("a", "second"));
        let table = with(&table, ("b", "third"));
        assert_eq!(table, "# All\n\n## a\n\nsecond\n\n## b\n\nthird\n");
    }
}
