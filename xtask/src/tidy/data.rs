//! Every data file has its origin and licence written down.

use std::path::Path;

use super::complaint::Complaint;
use super::files::{self, Text};

const ACCOUNT: &str = "data/README.md";

pub(super) fn complaints(root: &Path, texts: &[Text]) -> Result<Vec<Complaint>, String> {
    let account = texts
        .iter()
        .find(|text| text.path == ACCOUNT)
        .map_or("", |text| text.content.as_str());
    Ok(unaccounted(&files::paths(root, "data")?, account))
}

/// Files of which the account does not speak, and files of which it speaks in vain.
fn unaccounted(paths: &[String], account: &str) -> Vec<Complaint> {
    let named = |path: &&String| {
        let name = path.strip_prefix("data/").unwrap_or(path);
        account.contains(&format!("`{name}`"))
    };
    let gone = account
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
        .filter(|name| !paths.contains(&format!("data/{name}")))
        .map(|name| Complaint {
            place: ACCOUNT.to_owned(),
            wrong: format!("{name} is not in data/"),
            mend: "remove its row, or bring the file",
        });
    paths
        .iter()
        .filter(|path| *path != ACCOUNT)
        .filter(|path| !named(path))
        .map(|path| Complaint {
            place: path.clone(),
            wrong: format!("not accounted for in {ACCOUNT}"),
            mend: "add a row: `file`, what it is, its origin, its licence, the script that makes it",
        })
        .chain(gone)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::unaccounted;

    #[test]
    fn files_and_rows_answer_each_other() {
        let paths = ["data/README.md", "data/a.csv", "data/b.csv"].map(str::to_owned);
        let places = |account| {
            let found = unaccounted(&paths, account);
            found
                .into_iter()
                .map(|complaint| complaint.wrong)
                .collect::<Vec<_>>()
        };
        assert!(places("| `a.csv` | x |\n| `b.csv` | y |").is_empty());
        assert_eq!(
            places("| `a.csv` | x |"),
            ["not accounted for in data/README.md"]
        );
        assert_eq!(
            places("| `a.csv` |\n| `b.csv` |\n| `c.csv` |"),
            ["c.csv is not in data/"]
        );
    }
}
