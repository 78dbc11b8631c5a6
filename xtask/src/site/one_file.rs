//! The page as one file: every module, style, font and piece within it. A module finds
//! another by a map of names; from a double-click nothing else could be loaded.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use super::data::Data;
use super::page::{Page, manifest};
use super::piece::{Piece, packed};

/// The script that holds the desk, which is no module.
const WORKER: &str = "js/desk-worker.js";

/// It loads nothing from anywhere, and may reach nothing.
const POLICY: &str = "default-src 'none'; script-src 'unsafe-inline' 'wasm-unsafe-eval' blob:; \
     worker-src blob:; style-src 'unsafe-inline'; font-src data:; img-src data: blob:; media-src blob:; \
     connect-src 'none'; base-uri 'none'; form-action 'none'";

/// The piece in which all modules lie.
const MODULES: &str = "modules.json.z";

/// Unpacks the modules, gives each its name, and begins with the first.
const BEGIN: &str = "(async () => {
  const parts = document.querySelectorAll('script[data-piece=\"modules.json.z\"]');
  const packed = [...parts].map((part) => part.textContent).join('');
  for (const part of parts) part.remove();
  const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
  const opened = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate'));
  const imports = {};
  for (const [name, text] of Object.entries(await new Response(opened).json()))
    imports[name] = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
  const map = document.createElement('script');
  map.type = 'importmap';
  map.textContent = JSON.stringify({ imports });
  document.head.append(map);
  // The desk begins while the rest of the page is put together.
  import('almuri/desk-here.js');
  await import('almuri/main.js');
})();";

/// The page with a desk, the whole one or the small one.
pub(super) fn text(
    page: &Page,
    desk: &Piece,
    is_whole: bool,
    data: &Data,
) -> Result<String, String> {
    let mut head = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n");
    head.push_str(&manifest(
        &super::folder::version(page, [desk], data),
        (desk, is_whole.then_some(desk)),
        WORKER,
        "",
        data,
    ));
    let mut lines = Vec::new();
    for line in page.here(&head).lines() {
        lines.push(within(page, line)?);
    }
    let mut text = lines.join("\n");
    let (worker, modules): (Vec<_>, Vec<_>) =
        page.modules.iter().partition(|(path, _)| path == WORKER);
    let (_, worker) = worker
        .first()
        .ok_or_else(|| format!("there is no {WORKER}"))?;
    let modules: serde_json::Map<_, _> = modules
        .into_iter()
        .map(|(path, text)| (name_of(path), by_name(&without_comments(text)).into()))
        .collect();
    let modules = serde_json::Value::Object(modules).to_string();
    let mut pieces = inline(MODULES, &packed(modules.as_bytes()));
    pieces.push_str(&inline(WORKER, worker.as_bytes()));
    // What comes first is enough to begin with; a browser reads the rest meanwhile.
    let (first, later) = data.in_order();
    for piece in std::iter::once(desk).chain(first) {
        pieces.push_str(&inline(&piece.name, &piece.bytes));
    }
    pieces.push_str(&format!("<script>{BEGIN}</script>\n"));
    for piece in later {
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
        let icon = STANDARD.encode(&page.icon);
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
                    &format!("url(data:font/woff2;base64,{})", STANDARD.encode(bytes)),
                )
            } else {
                style
            }
        })
}

/// A script without the lines that are nothing but a comment: whoever reads the page's source
/// finds them in the folder, and a file for the post is a twentieth of a megabyte smaller. A
/// comment beside code stays, and so does whatever stands in a text of several lines.
fn without_comments(script: &str) -> String {
    let (mut in_comment, mut in_text) = (false, false);
    let mut kept = String::with_capacity(script.len());
    for line in script.lines() {
        let bare = line.trim();
        let begins = !in_text && bare.starts_with("/*");
        if in_comment || (begins && (bare.ends_with("*/") || !bare.contains("*/"))) {
            in_comment = !bare.ends_with("*/");
        } else if in_text || !bare.starts_with("//") {
            in_text ^= line.matches('`').count() % 2 == 1;
            kept.push_str(line);
            kept.push('\n');
        }
    }
    kept
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

/// So many bytes of a piece lie in an element of their own: whole groups of three, which base64
/// writes in four letters. What a browser has to put together of a longer text, it keeps.
const PART: usize = 3 << 14;

fn inline(name: &str, bytes: &[u8]) -> String {
    let parts = bytes.len().div_ceil(PART);
    let script = |part: &[u8]| {
        format!(
            "<script type=\"text/plain\" data-piece=\"{name}\" data-parts=\"{parts}\">{}</script>\n",
            STANDARD.encode(part)
        )
    };
    bytes.chunks(PART).map(script).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_lines_that_are_nothing_but_a_comment_are_left_out() {
        let script = "/**\n * What it does: `{id}`.\n */\n// Why.\nconst a = 1; // stays\n  /** @type {B} */\n\
                      /** @type {C} */ let b = `one\n// a text\n/* of lines */`;\nb /* c */ = 2;\n// The end.\n";
        let kept = "const a = 1; // stays\n\
                    /** @type {C} */ let b = `one\n// a text\n/* of lines */`;\nb /* c */ = 2;\n";
        assert_eq!(without_comments(script), kept);
    }

    /// What is left of a module of the page is its lines in order, and nothing but comments is
    /// missing.
    #[test]
    fn no_line_of_the_page_s_code_is_left_out() {
        let page = Page::read(&crate::cargo::root().join("crates/workbench/page")).unwrap();
        let mut spared = 0;
        for (path, script) in &page.modules {
            let kept = without_comments(script);
            let mut left = kept.lines().peekable();
            for line in script.lines() {
                if left.next_if_eq(&line).is_none() {
                    let bare = line.trim();
                    assert!(
                        bare.starts_with("//")
                            || bare.starts_with("/*")
                            || bare.starts_with('*')
                            || bare.ends_with("*/"),
                        "{path}: {line}"
                    );
                }
            }
            assert_eq!(left.next(), None, "{path}");
            spared += script.len() - kept.len();
        }
        assert!(spared > 100_000, "{spared}");
    }
}
