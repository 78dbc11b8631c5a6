use std::io::Read;
use std::path::Path;

use desk::{Cabinet, Class, ExercisesAnswer, WithInstrument};
use handouts::Key;
use press::{PageSize, Printed};

use crate::arguments::ExercisesArguments;
use crate::failure::Failure;
use crate::set_folder::SetFolder;
use crate::{cabinet, interrupt, with};

/// No class is larger than this; a mistaken file is not read whole. Exercises with their
/// keys are longer.
const MOST_CLASS_BYTES: u64 = 256 * 1024;
const MOST_EXERCISE_BYTES: u64 = 64 * 1024 * 1024;

/// Draws exercises for a class, into a folder: a sheet for everyone, the key, and a file
/// from which answers are corrected.
pub(crate) fn run(arguments: &ExercisesArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let size = PageSize::parse(&arguments.page)?;
    let path = &arguments.class;
    let of_file = |message: &dyn std::fmt::Display| {
        Failure::bad_input(format!("{}: {message}", path.display()))
    };
    let class = Class::from_toml(&class_text(path)?).map_err(|refusal| of_file(&refusal))?;
    let instruments: Vec<WithInstrument> = class
        .pupils
        .iter()
        .map(|pupil| {
            instrument(&pupil.with, path, &cabinet).map_err(|failure| {
                of_file(&format!("{}pupil “{}”: {failure}", pupil.line, pupil.name))
            })
        })
        .collect::<Result<_, _>>()?;
    let to = SetFolder::of(
        &arguments.output,
        arguments.overwrite,
        &[handouts::EXERCISES_JSON],
    )?;
    let key = if arguments.key_at_length {
        Key::AtLengthToo
    } else {
        Key::Short
    };
    let (exercises, files) = interrupt::work(|patience| {
        let exercises = desk::exercises(&class, &instruments, &cabinet, patience.part(0, 2))
            .map_err(|refusal| of_file(&refusal))?;
        let mut files = handouts::exercise_sheets(&exercises, size, key, patience.part(1, 2))?;
        files.push(json_file(&exercises)?);
        Ok((exercises, files))
    })?;
    to.put(&files)?;
    let folder = &arguments.output;
    if arguments.json {
        let names: Vec<String> = files
            .iter()
            .map(|file| folder.join(&file.name).display().to_string())
            .collect();
        let told = serde_json::json!({ "files": names, "exercises": exercises });
        return Ok(told.to_string() + "\n");
    }
    let mut text = String::new();
    for file in &files {
        text.push_str(&format!("{}\n", folder.join(&file.name).display()));
    }
    for pupil in &exercises.pupils {
        for note in &pupil.notes {
            text.push_str(&format!("{}: {note}\n", pupil.name));
        }
    }
    Ok(text)
}

/// The text of a class file.
pub(crate) fn class_text(path: &Path) -> Result<String, Failure> {
    text_of(path, MOST_CLASS_BYTES, "a class file")
}

/// An instrument of the cabinet, or a specification beside the class file.
fn instrument(name: &str, class: &Path, cabinet: &Cabinet) -> Result<WithInstrument, Failure> {
    if cabinet.named(name).is_ok() {
        return with::instrument(name, cabinet);
    }
    let beside = class.with_file_name(name);
    if beside.is_file() {
        return Ok(WithInstrument::Specification(with::specification(&beside)?));
    }
    with::instrument(name, cabinet)
}

/// The file from which answers are corrected.
pub(crate) fn json_file(exercises: &ExercisesAnswer) -> Result<Printed, Failure> {
    let json = serde_json::to_string_pretty(exercises).map_err(Failure::other)? + "\n";
    Ok(Printed {
        name: handouts::EXERCISES_JSON.to_owned(),
        bytes: json.into_bytes(),
    })
}

/// Exercises that were drawn before.
pub(crate) fn drawn_before(path: &Path) -> Result<ExercisesAnswer, Failure> {
    let text = text_of(path, MOST_EXERCISE_BYTES, "the exercises.json of a class")?;
    desk::exercises_of_json(&text)
        .map_err(|refusal| Failure::bad_input(format!("{}: {refusal}", path.display())))
}

/// The text of a file that is no larger than it may be.
pub(crate) fn text_of(path: &Path, most: u64, what: &str) -> Result<String, Failure> {
    let shown = path.display();
    if path.exists() && !path.is_file() {
        return Err(Failure::bad_input(format!(
            "{shown} is no file; {what} would do"
        )));
    }
    let cannot = |why: &dyn std::fmt::Display| {
        Failure::bad_input(format!("{shown} cannot be read ({why}); {what} would do"))
    };
    let file = std::fs::File::open(path).map_err(|error| cannot(&error))?;
    let mut text = String::new();
    file.take(most + 1)
        .read_to_string(&mut text)
        .map_err(|error| cannot(&error))?;
    if u64::try_from(text.len()).unwrap_or(u64::MAX) > most {
        return Err(cannot(&format!("it is longer than {most} bytes")));
    }
    Ok(text)
}
