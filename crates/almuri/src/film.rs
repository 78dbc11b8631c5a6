use desk::{FilmRequest, FilmShape};
use press::Printed;

use crate::arguments::FilmArguments;
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::set_folder::SetFolder;
use crate::work::request;
use crate::{cabinet, interrupt};

/// Makes a film of casting or of an operation, into a folder: all of it, or nothing.
pub(crate) fn run(arguments: &FilmArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let to = SetFolder::of(&arguments.output, arguments.overwrite, &["film.svg"])?;
    let shape = shape(&arguments.shape)?;
    let asked = FilmRequest {
        work: request(&arguments.work, &cabinet)?,
        shape,
        title: arguments.title.clone(),
        end: arguments.end.clone(),
    };
    let film = desk::film(&asked, &cabinet, now_unix_s())?;
    let text = |name: &str, text: &str| Printed {
        name: name.to_owned(),
        bytes: text.as_bytes().to_vec(),
    };
    let mut files = vec![
        text("film.svg", &film.film_svg),
        text("film.vtt", &film.captions_vtt),
        text("script.txt", &film.script),
        text("rehearsal.txt", &film.rehearsal),
    ];
    let mut pictures = 0;
    interrupt::work(|patience| {
        for (number, frame) in film.frames.iter().enumerate() {
            patience.at(number, film.frames.len())?;
            let name = format!("frame-{:03}", number + 1);
            files.push(text(&format!("{name}.svg"), &frame.svg));
            if let Some(bytes) = picture(&frame.svg, shape)? {
                files.push(Printed {
                    name: format!("{name}.png"),
                    bytes,
                });
                pictures += 1;
            }
        }
        Ok(())
    })?;
    let folder = &arguments.output;
    to.put(&files)?;
    if arguments.work.json {
        let said = serde_json::json!({
            "folder": folder.display().to_string(),
            "frames": film.frames.len(),
            "png_frames": pictures,
            "seconds": film.frames.last().map(|frame| frame.ends_s),
        });
        return Ok(said.to_string() + "\n");
    }
    let form = if pictures > 0 {
        "each as SVG and PNG"
    } else {
        "as SVG; a build with documents makes them PNG too"
    };
    Ok(format!(
        "{}: film.svg, film.vtt, script.txt, rehearsal.txt, and {} frames, {form}\n",
        folder.display(),
        film.frames.len()
    ))
}

fn shape(named: &str) -> Result<FilmShape, Failure> {
    let found = FilmShape::ALL
        .into_iter()
        .find(|one| one.name() == named.trim());
    found.ok_or_else(|| {
        let names = FilmShape::ALL.map(FilmShape::name).join(" or ");
        let shown: String = named.chars().take(60).collect();
        Failure::bad_input(format!(
            "--shape {shown:?} is no shape of a film; {names} would do"
        ))
    })
}

/// A frame as a picture, where this build makes any.
#[cfg(feature = "documents")]
fn picture(svg: &str, shape: FilmShape) -> Result<Option<Vec<u8>>, Failure> {
    let (width, _) = shape.size();
    Ok(Some(press::still(svg, width)?))
}

#[cfg(not(feature = "documents"))]
#[expect(
    clippy::unnecessary_wraps,
    reason = "a build with documents can fail here"
)]
fn picture(_: &str, _: FilmShape) -> Result<Option<Vec<u8>>, Failure> {
    Ok(None)
}
