use std::path::Path;

use desk::{Cabinet, CastRequest, DrawRequest};

use crate::arguments::DrawArguments;
use crate::cast::{moment_request, now_unix_s, settings};
use crate::failure::Failure;
use crate::picture::write_whole;
use crate::{cabinet, with};

/// Draws the front of an instrument, into a file or onto standard output.
pub(crate) fn run(arguments: &DrawArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    if let Some(path) = arguments.output.as_deref() {
        is_svg(path)?;
    }
    let svg = desk::draw(&request(arguments, &cabinet)?, &cabinet, now_unix_s())?;
    let file = arguments
        .output
        .as_deref()
        .filter(|path| *path != Path::new("-"));
    match file {
        None if arguments.json => Ok(serde_json::json!({ "svg": svg }).to_string() + "\n"),
        None => Ok(svg),
        Some(path) => {
            write_whole(path, svg.as_bytes(), arguments.overwrite)?;
            let shown = path.display().to_string();
            Ok(if arguments.json {
                serde_json::json!({ "file": shown, "bytes": svg.len() }).to_string() + "\n"
            } else {
                String::new()
            })
        }
    }
}

/// A file for an SVG is called so: what is in it would not be what its name says.
fn is_svg(path: &Path) -> Result<(), Failure> {
    let ends = path.extension().and_then(|end| end.to_str());
    if path == Path::new("-") || ends.is_some_and(|end| end.eq_ignore_ascii_case("svg")) {
        return Ok(());
    }
    Err(Failure::bad_input(format!(
        "{} does not end in .svg, and the drawing is SVG; a name that does, or - for standard output, would do",
        path.display()
    )))
}

fn request(arguments: &DrawArguments, cabinet: &Cabinet) -> Result<DrawRequest, Failure> {
    let set = match &arguments.when {
        Some(when) => Some(CastRequest {
            by: arguments.by.clone(),
            without: arguments.without.clone(),
            ..moment_request(when, &arguments.moment, arguments.with.as_ref(), cabinet)?
        }),
        None => None,
    };
    let usual = settings(&arguments.moment)?.with;
    let named = arguments.with.as_ref().or(usual.as_ref());
    Ok(DrawRequest {
        with: named
            .map(|name| with::instrument(name, cabinet))
            .transpose()?,
        plate_deg: arguments.plate,
        set,
        step: arguments.step,
    })
}
