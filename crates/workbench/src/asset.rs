use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::http::{Method, StatusCode, Uri};
use axum::response::{IntoResponse, Response};

use crate::fault::Fault;

/// A file of the page: the path it is asked for by, its type, its bytes.
type Asset = (&'static str, &'static str, &'static [u8]);

const HTML: &str = "text/html; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";
const STYLE: &str = "text/css; charset=utf-8";
const PICTURE: &str = "image/svg+xml";
const FONT: &str = "font/woff2";

/// A file of the page by its name, which is also its path.
macro_rules! page {
    ($kind:expr, $name:literal) => {
        (
            concat!("/", $name),
            $kind,
            include_bytes!(concat!("../page/", $name)),
        )
    };
}

/// Everything that is served; a path that is not here does not exist.
const ASSETS: &[Asset] = &[
    ("/", HTML, include_bytes!("../page/index.html")),
    page!(PICTURE, "favicon.svg"),
    page!(STYLE, "style/base.css"),
    page!(STYLE, "style/layout.css"),
    page!(STYLE, "style/parts.css"),
    page!(STYLE, "style/leaves.css"),
    page!(STYLE, "style/cabinet.css"),
    page!(STYLE, "style/specification.css"),
    page!(STYLE, "style/operations.css"),
    page!(STYLE, "style/correcting.css"),
    page!(STYLE, "style/astrolabe.css"),
    page!(STYLE, "style/first-hour.css"),
    page!(STYLE, "style/handbook.css"),
    page!(STYLE, "style/beside.css"),
    page!(STYLE, "style/photograph.css"),
    page!(STYLE, "style/posted.css"),
    page!(STYLE, "style/print.css"),
    page!(FONT, "fonts/libertinus-serif-latin-400-italic.woff2"),
    page!(FONT, "fonts/libertinus-serif-latin-400-normal.woff2"),
    page!(FONT, "fonts/libertinus-serif-latin-700-normal.woff2"),
    page!(FONT, "fonts/libertinus-serif-latin-ext-400-normal.woff2"),
    page!(SCRIPT, "js/asking.js"),
    page!(SCRIPT, "js/awake.js"),
    page!(SCRIPT, "js/bench-glass.js"),
    page!(SCRIPT, "js/beside.js"),
    page!(SCRIPT, "js/book.js"),
    page!(SCRIPT, "js/brass-pictures.js"),
    page!(SCRIPT, "js/cabinet.js"),
    page!(SCRIPT, "js/candidates.js"),
    page!(SCRIPT, "js/case-form.js"),
    page!(SCRIPT, "js/casebook.js"),
    page!(SCRIPT, "js/chapter.js"),
    page!(SCRIPT, "js/chooser.js"),
    page!(SCRIPT, "js/class-form.js"),
    page!(SCRIPT, "js/classes.js"),
    page!(SCRIPT, "js/drawn-beside.js"),
    page!(SCRIPT, "js/paper.js"),
    page!(SCRIPT, "js/comparing.js"),
    page!(SCRIPT, "js/correcting.js"),
    page!(SCRIPT, "js/cut-out.js"),
    page!(SCRIPT, "js/demonstration.js"),
    page!(SCRIPT, "js/desk-here.js"),
    page!(SCRIPT, "js/desk.js"),
    page!(SCRIPT, "js/door.js"),
    page!(SCRIPT, "js/effects.js"),
    page!(SCRIPT, "js/element.js"),
    page!(SCRIPT, "js/elsewhere.js"),
    page!(SCRIPT, "js/examining.js"),
    page!(SCRIPT, "js/exercise-correcting.js"),
    page!(SCRIPT, "js/face.js"),
    page!(SCRIPT, "js/figure-leaves.js"),
    page!(SCRIPT, "js/figure.js"),
    page!(SCRIPT, "js/film-leaf.js"),
    page!(SCRIPT, "js/film-parts.js"),
    page!(SCRIPT, "js/film.js"),
    page!(SCRIPT, "js/findings.js"),
    page!(SCRIPT, "js/first-hour.js"),
    page!(SCRIPT, "js/fragment.js"),
    page!(SCRIPT, "js/from-link.js"),
    page!(SCRIPT, "js/handbook-text.js"),
    page!(SCRIPT, "js/handbook.js"),
    page!(SCRIPT, "js/hands.js"),
    page!(SCRIPT, "js/help.js"),
    page!(SCRIPT, "js/here.js"),
    page!(SCRIPT, "js/in-view.js"),
    page!(SCRIPT, "js/instrument-list.js"),
    page!(SCRIPT, "js/kept-faces.js"),
    page!(SCRIPT, "js/kept-here.js"),
    page!(SCRIPT, "js/laying.js"),
    page!(SCRIPT, "js/leaf.js"),
    page!(SCRIPT, "js/lens.js"),
    page!(SCRIPT, "js/live.js"),
    page!(SCRIPT, "js/main.js"),
    page!(SCRIPT, "js/marking.js"),
    page!(SCRIPT, "js/method-field.js"),
    page!(SCRIPT, "js/mp4.js"),
    page!(SCRIPT, "js/offline.js"),
    page!(SCRIPT, "js/operation-form.js"),
    page!(SCRIPT, "js/operation.js"),
    page!(SCRIPT, "js/own-brass.js"),
    page!(SCRIPT, "js/own.js"),
    page!(SCRIPT, "js/pad.js"),
    page!(SCRIPT, "js/pen.js"),
    page!(SCRIPT, "js/photograph.js"),
    page!(SCRIPT, "js/pieces.js"),
    page!(SCRIPT, "js/place-field.js"),
    page!(SCRIPT, "js/player.js"),
    page!(SCRIPT, "js/pointer.js"),
    page!(SCRIPT, "js/posted.js"),
    page!(SCRIPT, "js/readings.js"),
    page!(SCRIPT, "js/rules.js"),
    page!(SCRIPT, "js/said.js"),
    page!(SCRIPT, "js/save.js"),
    page!(SCRIPT, "js/seeking.js"),
    page!(SCRIPT, "js/set-brass.js"),
    page!(SCRIPT, "js/settings.js"),
    page!(SCRIPT, "js/shares.js"),
    page!(SCRIPT, "js/shelf.js"),
    page!(SCRIPT, "js/showing.js"),
    page!(SCRIPT, "js/sky.js"),
    page!(SCRIPT, "js/snap.js"),
    page!(SCRIPT, "js/specification-field.js"),
    page!(SCRIPT, "js/specification-form.js"),
    page!(SCRIPT, "js/specification-text.js"),
    page!(SCRIPT, "js/stage.js"),
    page!(SCRIPT, "js/store.js"),
    page!(SCRIPT, "js/strip.js"),
    page!(SCRIPT, "js/suggest-field.js"),
    page!(SCRIPT, "js/surroundings.js"),
    page!(SCRIPT, "js/swipe.js"),
    page!(SCRIPT, "js/table.js"),
    page!(SCRIPT, "js/take-in-hand.js"),
    page!(SCRIPT, "js/teaching.js"),
    page!(SCRIPT, "js/times.js"),
    page!(SCRIPT, "js/today.js"),
    page!(SCRIPT, "js/tried.js"),
    page!(SCRIPT, "js/trust.js"),
    page!(SCRIPT, "js/trying.js"),
    page!(SCRIPT, "js/turning.js"),
    page!(SCRIPT, "js/verdict.js"),
    page!(SCRIPT, "js/walk.js"),
    page!(SCRIPT, "js/week.js"),
    page!(SCRIPT, "js/why.js"),
    page!(SCRIPT, "js/words.js"),
    page!(SCRIPT, "js/working.js"),
    page!(SCRIPT, "js/workshop.js"),
    page!(SCRIPT, "js/year-book.js"),
];

/// Answers with a file of the page, if there is one of that path.
pub(crate) async fn asset(method: Method, uri: Uri) -> Response {
    if method != Method::GET && method != Method::HEAD {
        let message = "Only files are here, to be read.".to_owned();
        return Fault::Request(StatusCode::METHOD_NOT_ALLOWED, message).into_response();
    }
    let found = ASSETS.iter().find(|(path, ..)| *path == uri.path());
    match found {
        Some((_, kind, bytes)) => {
            // The binary changes when it is built anew, and its page with it.
            let headers = [(CONTENT_TYPE, *kind), (CACHE_CONTROL, "no-cache")];
            (headers, *bytes).into_response()
        }
        None => {
            let message = "The workbench has no such page; it begins at /.".to_owned();
            Fault::Request(StatusCode::NOT_FOUND, message).into_response()
        }
    }
}
