//! The page as a folder of files for any static host.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::data::Data;
use super::page::{Page, manifest};
use super::piece::{Desks, Piece, write as write_file};

/// What the page may do: load its own files, and reach the host it came from.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; \
     style-src 'self'; font-src 'self'; img-src 'self' data: blob:; media-src blob:; manifest-src 'self'; \
     connect-src 'self'; base-uri 'none'; form-action 'none'";

/// What was written.
pub(super) struct Written {
    pub(super) files: usize,
    pub(super) bytes: usize,
}

fn write_all(files: &BTreeMap<String, Vec<u8>>, into: &Path) -> Result<Written, String> {
    // What an earlier build left would be served too.
    if into.join("index.html").is_file() {
        fs::remove_dir_all(into).map_err(|error| format!("{}: {error}", into.display()))?;
    }
    for (path, bytes) in files {
        write_file(&into.join(path), bytes)?;
    }
    Ok(Written {
        files: files.len(),
        bytes: files.values().map(Vec::len).sum(),
    })
}

pub(super) fn write(
    page: &Page,
    desks: &Desks,
    data: &Data,
    into: &Path,
) -> Result<Written, String> {
    let mut files = BTreeMap::new();
    for (path, text) in &page.modules {
        files.insert(path.clone(), text.clone().into_bytes());
    }
    for (path, text) in &page.styles {
        // A folder need not lie at the root of its host.
        let text = text.replace("url(\"/fonts/", "url(\"../fonts/");
        files.insert(path.clone(), text.into_bytes());
    }
    for (path, bytes) in page.fonts.iter().chain(&page.pictures) {
        files.insert(path.clone(), bytes.clone());
    }
    files.insert("favicon.svg".to_owned(), page.icon.clone().into_bytes());
    let Desks { small, whole } = desks;
    for piece in [small, whole].into_iter().chain(data.pieces()) {
        files.insert(format!("data/{}", piece.name), piece.bytes.clone());
    }
    let mut head = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n");
    head.push_str(&manifest(
        &version(page, [small, whole], data),
        (small, Some(whole)),
        "js/desk-worker.js",
        "data/",
        data,
    ));
    // The desk begins while the rest of the page is on its way.
    head.push_str("<script type=\"module\" async src=\"./js/desk-here.js\"></script>\n");
    for piece in std::iter::once(small).chain(data.in_order().0) {
        head.push_str(&format!(
            "<link rel=\"preload\" href=\"./data/{}\" as=\"fetch\" crossorigin>\n",
            piece.name
        ));
    }
    // All at once, and not each when another names it.
    for (path, _) in &page.modules {
        if path != "js/desk-worker.js" {
            head.push_str(&format!("<link rel=\"modulepreload\" href=\"./{path}\">\n"));
        }
    }
    head.push_str("<link rel=\"apple-touch-icon\" href=\"./icons/512-maskable.png\">\n");
    head.push_str("<link rel=\"manifest\" href=\"./almuri.webmanifest\">\n");
    files.insert("almuri.webmanifest".to_owned(), web_manifest().into_bytes());
    files.insert("index.html".to_owned(), page.here(&head).into_bytes());
    let offline = service_worker(&files, &version(page, [small, whole], data))?;
    files.insert("sw.js".to_owned(), offline.into_bytes());
    write_all(&files, into)
}

/// By which a browser installs the page (W3C, Web Application Manifest).
fn web_manifest() -> String {
    serde_json::json!({
        "name": "Almuri",
        "short_name": "Almuri",
        "description": "Casting with the astrolabe",
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": "#f6f1e4",
        "theme_color": "#f6f1e4",
        "icons": [
            { "src": "favicon.svg", "sizes": "any", "type": "image/svg+xml" },
            { "src": "icons/192.png", "sizes": "192x192", "type": "image/png" },
            { "src": "icons/512.png", "sizes": "512x512", "type": "image/png" },
            { "src": "icons/512-maskable.png", "sizes": "512x512", "type": "image/png", "purpose": "maskable" },
        ],
    })
    .to_string()
}

/// The script that keeps all of it for when there is no network.
fn service_worker(files: &BTreeMap<String, Vec<u8>>, version: &str) -> Result<String, String> {
    let mut paths: Vec<&str> = files.keys().map(String::as_str).collect();
    paths.push("./");
    let paths = serde_json::to_string(&paths).map_err(|error| error.to_string())?;
    Ok(include_str!("sw.js")
        .replacen("@version@", version, 1)
        .replacen("@files@", &paths, 1))
}

/// From what the site was built: the same where all its bytes are.
pub(super) fn version<'a>(
    page: &Page,
    desks: impl IntoIterator<Item = &'a Piece>,
    data: &'a Data,
) -> String {
    let texts = page.modules.iter().chain(&page.styles);
    let texts = texts.map(|(_, text)| text.as_bytes());
    let pieces = desks.into_iter().chain(data.pieces());
    let parts = texts
        .chain([page.index.as_bytes(), page.icon.as_bytes()])
        .chain(pieces.map(|piece| piece.bytes.as_slice()));
    let sum = parts.fold(0_u32, |sum, part| {
        let mut hasher = crc32fast::Hasher::new_with_initial(sum);
        hasher.update(part);
        hasher.finalize()
    });
    format!("{}-{sum:08x}", env!("CARGO_PKG_VERSION"))
}
