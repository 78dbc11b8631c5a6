use desk::ExercisesAnswer;
use patience::Patience;
use press::{PageSize, PressError, Printed};

use crate::class_key;
use crate::exercise::{long_key, pupil_sheet};

/// The name of the file by which answers are corrected.
pub const EXERCISES_JSON: &str = "exercises.json";

/// Which key is printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Key {
    /// Two pages for five pupils.
    #[default]
    Short,
    /// That, and the one at length beside it.
    AtLengthToo,
}

/// What exercises are printed as: a sheet for everyone, and the key.
///
/// # Errors
/// When a sheet cannot be printed on such paper, or nobody waits for them any longer.
pub fn exercise_sheets(
    exercises: &ExercisesAnswer,
    size: PageSize,
    key: Key,
    patience: Patience<'_>,
) -> Result<Vec<Printed>, PressError> {
    let mut files: Vec<Printed> = Vec::new();
    for pupil in patience.part(0, 2).each(&exercises.pupils) {
        let (pupil, patience) = pupil?;
        files.push(Printed {
            name: pdf_name("sheet", &pupil.name, &files),
            bytes: press::handout(&pupil_sheet(exercises, pupil), size, patience)?,
        });
    }
    let mut keys = vec![("key.pdf", class_key(exercises))];
    match key {
        Key::Short => {}
        Key::AtLengthToo => keys.push(("key-at-length.pdf", long_key(exercises))),
    }
    for (name, handout) in keys {
        files.push(Printed {
            name: name.to_owned(),
            bytes: press::handout(&handout, size, patience.part(1, 2))?,
        });
    }
    Ok(files)
}

/// The file of a sheet for someone or somewhere: letters and figures of the name, and a
/// number where names come to the same letters.
#[must_use]
pub fn pdf_name(kind: &str, name: &str, files: &[Printed]) -> String {
    let mut plain = String::new();
    for character in name.chars() {
        if character.is_alphanumeric() {
            plain.extend(character.to_lowercase());
        } else if !plain.is_empty() && !plain.ends_with('-') {
            plain.push('-');
        }
    }
    let plain: String = plain.trim_end_matches('-').chars().take(60).collect();
    (1..)
        .map(|n| match n {
            1 => format!("{kind}-{plain}.pdf"),
            n => format!("{kind}-{plain}-{n}.pdf"),
        })
        .find(|name| files.iter().all(|file| file.name != *name))
        .unwrap_or_default()
}
