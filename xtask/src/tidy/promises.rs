//! Every promise of `docs/promises.md` has the test that shows it.

use super::complaint::Complaint;
use super::files::Text;

const PROMISES: &str = "docs/promises.md";

pub(super) fn complaints(texts: &[Text]) -> Vec<Complaint> {
    let promises = texts.iter().find(|text| text.path == PROMISES);
    let rows = promises.into_iter().flat_map(|text| {
        let rows = text.numbered();
        rows.filter(|(_, line)| line.starts_with("| ") && !line.starts_with("| promise |"))
    });
    rows.filter(|(_, row)| !is_shown(row, texts))
        .map(|(line, _)| Complaint {
            place: format!("{PROMISES}:{line}"),
            wrong: "no such test shows it".to_owned(),
            mend: "name the file below crates/ and its test, each between backticks, or take the promise back",
        })
        .collect()
}

/// Whether the last cell of a row names a file and a test of it.
fn is_shown(row: &str, texts: &[Text]) -> bool {
    let cell = row.trim_end_matches([' ', '|']).rsplit('|').next();
    let Some([_, path, _, test, _]) = cell.and_then(|cell| {
        let parts: Vec<&str> = cell.split('`').collect();
        <[&str; 5]>::try_from(parts).ok()
    }) else {
        return false;
    };
    let path = format!("crates/{path}");
    let text = texts.iter().find(|text| text.path == path);
    text.is_some_and(|text| text.content.contains(&format!("fn {test}(")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_without_its_test_is_told() {
        let text = |path: &str, content: &str| Text {
            path: path.to_owned(),
            content: content.to_owned(),
        };
        let rows = "| promise | shown by |\n|---|---|\n\
            | kept | `a/tests/b.rs` `it_is` |\n\
            | broken | `a/tests/b.rs` `it_is_not` |\n\
            | by nothing | |\n";
        let texts = [
            text(PROMISES, rows),
            text("crates/a/tests/b.rs", "fn it_is() {}"),
        ];
        let places: Vec<String> = complaints(&texts)
            .into_iter()
            .map(|complaint| complaint.place)
            .collect();
        assert_eq!(places, ["docs/promises.md:4", "docs/promises.md:5"]);
    }
}
