use std::fs;
use std::path::Path;

/// Folders that hold nothing of ours.
const FOREIGN: &[&str] = &[".git", ".venv", "__pycache__", "node_modules", "target"];

/// A text file of the project, by its path from the root, parted by slashes.
pub(super) struct Text {
    pub(super) path: String,
    pub(super) content: String,
}

impl Text {
    /// Every file of the project that is text; others are passed over.
    pub(super) fn all(root: &Path) -> Result<Vec<Text>, String> {
        let paths = paths(root, "")?;
        Ok(paths
            .into_iter()
            .filter_map(|path| {
                let content = fs::read_to_string(root.join(&path)).ok()?;
                Some(Text { path, content })
            })
            .collect())
    }

    pub(super) fn is_rust(&self) -> bool {
        self.path.ends_with(".rs")
    }

    /// The lines with their numbers, from 1.
    pub(super) fn numbered(&self) -> impl Iterator<Item = (usize, &str)> {
        self.content
            .lines()
            .enumerate()
            .map(|(i, line)| (i + 1, line))
    }
}

/// The paths of all files in a folder and its folders, from the root, in order.
pub(super) fn paths(root: &Path, folder: &str) -> Result<Vec<String>, String> {
    let here = root.join(folder);
    let cannot = |error| format!("{} cannot be listed: {error}", here.display());
    let mut found = Vec::new();
    for entry in fs::read_dir(&here).map_err(cannot)? {
        let entry = entry.map_err(cannot)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = if folder.is_empty() {
            name.clone()
        } else {
            format!("{folder}/{name}")
        };
        let kind = entry.file_type().map_err(cannot)?;
        if kind.is_dir() && !FOREIGN.contains(&name.as_str()) {
            found.extend(paths(root, &path)?);
        } else if kind.is_file() && !FOREIGN.contains(&name.as_str()) {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}
