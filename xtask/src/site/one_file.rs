//! The page as one file: every module, style, font and piece within it. A module finds
//! another by a map of names; from a double-click nothing else could be loaded.

use super::data::Data;
use super::page::{Page, manifest};
use super::piece::{Piece, base64};

/// The script that holds the desk, which is no module.
const WORKER: &str = "js/desk-worker.js";

/// It loads nothing from anywhere, and may reach nothing.
const POLICY: &str = "default-src 'none'; script-src 'unsafe-inline' 'wasm-unsafe-eval' data: blob:; \
     worker-src blob:; style-src 'unsafe-inline'; font-src data:; img-src data: blob:; media-src blob:; \
     connect-src 'none'; base-uri 'none'; form-action 'none'";

pub(super) fn text(page: &Page, desk: &Piece, data: &Data) -> Result<String, String> {
    let modules: Vec<_> = page
        .modules
        .iter()
        .filter(|(path, _)| path != WORKER)
        .collect();
    let mut imports = serde_json::Map::new();
    for (path, text) in &modules {
        let address = format!(
            "data:text/javascript;base64,{}",
            base64(by_name(text).as_bytes())
        );
        imports.insert(name_of(path), address.into());
    }
    let map = serde_json::json!({ "imports": imports });
    let mut head = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n");
    head.push_str(&manifest(
        &super::folder::version(page, desk, data),
        &desk.name,
        WORKER,
        "",
        data,
    ));
    head.push_str(&format!("<script type=\"importmap\">{map}</script>\n"));
    head.push_str("<script type=\"module\">import \"almuri/main.js\";</script>\n");
    let mut lines = Vec::new();
    for line in page.here(&head).lines() {
        lines.push(within(page, line)?);
    }
    let mut text = lines.join("\n");
    let worker = page
        .modules
        .iter()
        .find(|(path, _)| path == WORKER)
        .ok_or_else(|| format!("there is no {WORKER}"))?;
    let mut pieces = inline(WORKER, worker.1.as_bytes());
    for piece in std::iter::once(desk).chain(data.pieces()) {
        pieces.push_str(&inline(&piece.name, &piece.bytes));
    }
    let end = text.rfind("</body>").ok_or("the page has no end")?;
    text.insert_str(end, &pieces);
    Ok(text)
}

/// A line of the page with what it names put in its place.
fn within(page: &Page, line: &str) -> Result<String, String> {
    let named = |attribute: &str| {
        let (_, rest) = line.split_once(&format!("{attribute}=\"./"))?;
        rest.split_once('"').map(|(path, _)| path)
    };
    if line.contains("rel=\"stylesheet\"") {
        let path = named("href").unwrap_or_default();
        let style = page.styles.iter().find(|(one, _)| one == path);
        let (_, style) = style.ok_or_else(|| format!("there is no {path}"))?;
        let media = if line.contains("media=\"print\"") {
            " media=\"print\""
        } else {
            ""
        };
        return Ok(format!("<style{media}>{}</style>", with_fonts(page, style)));
    }
    if line.contains("rel=\"preload\"") || line.contains("src=\"./js/main.js\"") {
        return Ok(String::new());
    }
    if line.contains("rel=\"icon\"") {
        let icon = base64(page.icon.as_bytes());
        return Ok(format!(
            "<link rel=\"icon\" href=\"data:image/svg+xml;base64,{icon}\">"
        ));
    }
    Ok(line.to_owned())
}

fn with_fonts(page: &Page, style: &str) -> String {
    page.fonts
        .iter()
        .fold(style.to_owned(), |style, (path, bytes)| {
            let address = format!("url(\"/{path}\")");
            if style.contains(&address) {
                style.replace(
                    &address,
                    &format!("url(data:font/woff2;base64,{})", base64(bytes)),
                )
            } else {
                style
            }
        })
}

/// A module that names others by the map.
fn by_name(text: &str) -> String {
    text.replace("from \"./", "from \"almuri/")
        .replace("import(\"./", "import(\"almuri/")
        .replace("import \"./", "import \"almuri/")
}

fn name_of(path: &str) -> String {
    path.replacen("js/", "almuri/", 1)
}

fn inline(name: &str, bytes: &[u8]) -> String {
    format!(
        "<script type=\"text/plain\" data-piece=\"{name}\">{}</script>\n",
        base64(bytes)
    )
}
