//! Every data file has its origin and licence written down, and every file of `reference` what
//! it is and what makes it.

use std::path::Path;

use super::complaint::Complaint;
use super::files::{self, Text};

const ACCOUNT: &str = "data/README.md";
const REFERENCE: &str = "reference/README.md";

pub(super) fn complaints(root: &Path, texts: &[Text]) -> Result<Vec<Complaint>, String> {
    let account = |path: &str| {
        let text = texts.iter().find(|text| text.path == path);
        text.map_or("", |text| text.content.as_str())
    };
    let mut all = unaccounted(&files::paths(root, "data")?, account(ACCOUNT));
    let paths = files::paths(root, "reference")?;
    all.extend(unexplained(&paths, account(REFERENCE)));
    Ok(all)
}

/// Scripts and tables of which the account of `reference` does not speak; what a script needs
/// beside it is the script's own.
fn unexplained(paths: &[String], account: &str) -> Vec<Complaint> {
    let is_ours = |name: &&str| {
        let ends = [".py", ".csv", ".tsv", ".md"];
        !name.contains('/') && ends.iter().any(|end| name.ends_with(end))
    };
    paths
        .iter()
        .filter(|path| *path != REFERENCE)
        .filter_map(|path| path.strip_prefix("reference/"))
        .filter(is_ours)
        .filter(|name| !account.contains(&format!("`{name}`")))
        .map(|name| Complaint {
            place: format!("reference/{name}"),
            wrong: format!("not accounted for in {REFERENCE}"),
            mend: "add a row: what makes it, what it is, from what",
        })
        .collect()
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
    use super::{unaccounted, unexplained};

    #[test]
    fn scripts_and_their_tables_are_explained() {
        let paths = [
            "reference/README.md",
            "reference/a.py",
            "reference/a.csv",
            "reference/needs.txt",
            "reference/speed/b.py",
        ];
        let paths = paths.map(str::to_owned);
        assert!(unexplained(&paths, "| `a.py` | `a.csv` | x |").is_empty());
        let found = unexplained(&paths, "| `a.py` | x |");
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].place, "reference/a.csv");
    }

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
