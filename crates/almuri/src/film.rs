use std::path::Path;
use std::process::Command;

use desk::Cabinet;

use crate::arguments::FilmArguments;
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::work::request;

/// How wide a picture is, in pixels.
const PIXELS: &str = "1920";

/// Makes a film of an operation, into a folder.
pub(crate) fn run(arguments: &FilmArguments) -> Result<String, Failure> {
    let cabinet = Cabinet::built_in();
    let film = desk::film(&request(&arguments.work, &cabinet)?, &cabinet, now_unix_s())?;
    let folder = &arguments.output;
    let keep = |name: &str, text: &str| {
        let path = folder.join(name);
        std::fs::write(&path, text).map_err(|error| {
            Failure::other(format!("{} cannot be written: {error}", path.display()))
        })
    };
    std::fs::create_dir_all(folder)
        .map_err(|error| Failure::other(format!("{} cannot be made: {error}", folder.display())))?;
    keep("film.svg", &film.film_svg)?;
    keep("film.vtt", &film.captions_vtt)?;
    keep("rehearsal.txt", &film.rehearsal)?;
    let mut pictures = 0;
    for (number, frame) in film.frames.iter().enumerate() {
        let name = format!("frame-{:03}", number + 1);
        keep(&format!("{name}.svg"), &frame.svg)?;
        pictures += usize::from(drawn(folder, &name));
    }
    if arguments.work.json {
        let said = serde_json::json!({
            "folder": folder.display().to_string(),
            "frames": film.frames.len(),
            "png_frames": pictures,
            "seconds": film.frames.last().map(|frame| frame.ends_s),
        });
        return Ok(said.to_string() + "\n");
    }
    let png = if pictures == film.frames.len() {
        "each as SVG and PNG".to_owned()
    } else {
        "as SVG; with rsvg-convert at hand they would be PNG too".to_owned()
    };
    Ok(format!(
        "{}: film.svg, film.vtt, rehearsal.txt, and {} frames, {png}\n",
        folder.display(),
        film.frames.len()
    ))
}

/// Draws a frame as PNG where librsvg's converter is at hand.
fn drawn(folder: &Path, name: &str) -> bool {
    let status = Command::new("rsvg-convert")
        .args(["--width", PIXELS, "--keep-aspect-ratio", "--output"])
        .arg(folder.join(format!("{name}.png")))
        .arg(folder.join(format!("{name}.svg")))
        .output();
    status.is_ok_and(|output| output.status.success())
}
