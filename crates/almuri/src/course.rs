use desk::CourseRequest;
use press::{PageSize, Printed};

use crate::arguments::CourseArguments;
use crate::exercises::json_file;
use crate::failure::Failure;
use crate::set_folder::SetFolder;
use crate::settings::Settings;
use crate::{cabinet, interrupt, with};

/// The book, and the answers to its exercises.
const COURSE: &str = "course.pdf";
const KEY: &str = "key.pdf";

/// Makes a course of lessons for an instrument, into a folder: the book, its key, and a
/// file from which answers are corrected.
pub(crate) fn run(arguments: &CourseArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let size = PageSize::parse(&arguments.page)?;
    let kept = if arguments.no_settings {
        Settings::default()
    } else {
        Settings::kept()?
    };
    let (at, zone) = match (&arguments.at, kept.home) {
        (Some(at), _) => (at.clone(), arguments.zone.clone()),
        (None, Some(home)) => (home, arguments.zone.clone().or(kept.zone)),
        (None, None) => {
            return Err(Failure::bad_input(
                "no place is said and no home place is kept; --at \"Lisbon, Portugal\" or `almuri settings --home PLACE` would do",
            ));
        }
    };
    let named = arguments.with.as_ref().or(kept.with.as_ref());
    let request = CourseRequest {
        at,
        zone,
        with: named
            .map(|name| with::instrument(name, &cabinet))
            .transpose()?,
        year: arguments.year,
        seed: arguments.seed,
        by: arguments.by.clone().or(kept.by),
    };
    let to = SetFolder::of(
        &arguments.output,
        arguments.overwrite,
        &[COURSE, KEY, handouts::EXERCISES_JSON],
    )?;
    let (course, files) = interrupt::work(|patience| {
        let course = desk::course(&request, &cabinet, patience.part(0, 2))?;
        let patience = patience.part(1, 2);
        let pdf = |name: &str, handout: &press::Handout, patience| {
            Ok::<_, Failure>(Printed {
                name: name.to_owned(),
                bytes: press::handout(handout, size, patience)?,
            })
        };
        let book = handouts::course_handout(&course);
        let files = [
            pdf(COURSE, &book, patience.part(0, 2))?,
            pdf(
                KEY,
                &handouts::long_key(&course.exercises),
                patience.part(1, 2),
            )?,
            json_file(&course.exercises)?,
        ];
        Ok((course, files))
    })?;
    to.put(&files)?;
    let names: Vec<String> = files
        .iter()
        .map(|file| arguments.output.join(&file.name).display().to_string())
        .collect();
    if arguments.json {
        let lessons: Vec<&desk::LessonAnswer> = course
            .lessons
            .iter()
            .map(|one| &one.example.answer)
            .collect();
        let told = serde_json::json!({
            "files": names, "lessons": lessons, "exercises": course.exercises,
        });
        return Ok(told.to_string() + "\n");
    }
    Ok(names.join("\n") + "\n")
}
