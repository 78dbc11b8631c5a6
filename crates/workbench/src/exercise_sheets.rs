use desk::ExercisesAnswer;
use press::{PageSize, PressError, Printed};

use crate::exercise_handout::{class_key, pupil_sheet};

/// The name of the file by which answers are corrected.
pub const EXERCISES_JSON: &str = "exercises.json";

/// What exercises are printed as: a sheet for everyone, and the key.
///
/// # Errors
/// When a sheet cannot be printed on such paper.
pub fn exercise_sheets(
    exercises: &ExercisesAnswer,
    size: PageSize,
) -> Result<Vec<Printed>, PressError> {
    let mut files: Vec<Printed> = Vec::new();
    for pupil in &exercises.pupils {
        let begins = format!("sheet-{}", file_name(&pupil.name));
        // Names that come to the same letters each have a file.
        let name = (1..)
            .map(|n| match n {
                1 => format!("{begins}.pdf"),
                n => format!("{begins}-{n}.pdf"),
            })
            .find(|name| files.iter().all(|file| file.name != *name))
            .unwrap_or_default();
        files.push(Printed {
            name,
            bytes: press::handout(&pupil_sheet(exercises, pupil), size)?,
        });
    }
    files.push(Printed {
        name: "key.pdf".to_owned(),
        bytes: press::handout(&class_key(exercises), size)?,
    });
    Ok(files)
}

/// A name as files bear it: letters and figures, the rest hyphens.
#[must_use]
pub fn file_name(name: &str) -> String {
    let mut plain = String::new();
    for character in name.chars() {
        if character.is_alphanumeric() {
            plain.extend(character.to_lowercase());
        } else if !plain.is_empty() && !plain.ends_with('-') {
            plain.push('-');
        }
    }
    plain.trim_end_matches('-').chars().take(60).collect()
}
