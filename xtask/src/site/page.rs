//! The page's files, as they lie in the workbench.

use std::fs;
use std::path::Path;

use super::data::Data;
use super::piece::Piece;

/// What the page is made of, each file by its path within it.
pub(super) struct Page {
    pub(super) index: String,
    /// `js/main.js` and its like.
    pub(super) modules: Vec<(String, String)>,
    pub(super) styles: Vec<(String, String)>,
    pub(super) fonts: Vec<(String, Vec<u8>)>,
    pub(super) icon: String,
    /// The same as pictures, for systems on which a page is installed.
    pub(super) pictures: Vec<(String, Vec<u8>)>,
}

impl Page {
    pub(super) fn read(folder: &Path) -> Result<Page, String> {
        let text = |path: &str| {
            let path = folder.join(path);
            fs::read_to_string(&path).map_err(|error| format!("{}: {error}", path.display()))
        };
        let texts = |within: &str, end: &str| -> Result<Vec<(String, String)>, String> {
            files(&folder.join(within), end)?
                .into_iter()
                .map(|name| {
                    let path = format!("{within}/{name}");
                    Ok((path.clone(), text(&path)?))
                })
                .collect()
        };
        let all = |within: &str, end: &str| -> Result<Vec<(String, Vec<u8>)>, String> {
            files(&folder.join(within), end)?
                .into_iter()
                .map(|name| {
                    let path = format!("{within}/{name}");
                    let bytes = fs::read(folder.join(&path));
                    Ok((path, bytes.map_err(|error| error.to_string())?))
                })
                .collect()
        };
        Ok(Page {
            index: text("index.html")?,
            modules: texts("js", ".js")?,
            styles: texts("style", ".css")?,
            fonts: all("fonts", ".woff2")?,
            pictures: all("icons", ".png")?,
            icon: text("favicon.svg")?,
        })
    }

    /// The page as the desk's own, with some lines at the end of its head.
    pub(super) fn here(&self, head: &str) -> String {
        self.index
            .replacen("<html ", "<html data-desk=\"here\" ", 1)
            .replace("href=\"/", "href=\"./")
            .replace("src=\"/", "src=\"./")
            .replacen("</head>", &format!("{head}</head>"), 1)
    }
}

/// What tells the page of its pieces: see `pieces.js`.
pub(super) fn manifest(
    version: &str,
    (desk, whole): (&Piece, Option<&Piece>),
    worker: &str,
    at: &str,
    data: &Data,
) -> String {
    let names = |pieces: &[Piece]| {
        pieces
            .iter()
            .map(|piece| format!("{at}{}", piece.name))
            .collect::<Vec<_>>()
    };
    let manifest = serde_json::json!({
        "version": version,
        "desk": format!("{at}{}", desk.name),
        "whole": whole.map(|whole| format!("{at}{}", whole.name)),
        "worker": worker,
        "sky": names(&data.sky),
        "towns": names(&data.towns),
        "lacks": data.lacks,
    });
    format!("<script type=\"application/json\" id=\"pieces\">{manifest}</script>\n")
}

/// The names of the files of a folder that end so, in order.
fn files(folder: &Path, end: &str) -> Result<Vec<String>, String> {
    let unreadable = |error| format!("{} cannot be read: {error}", folder.display());
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let name = entry.map_err(unreadable)?.file_name().display().to_string();
        if name.ends_with(end) {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}
