use desk::{Cabinet, LessonRequest};
use press::PageSize;

use crate::arguments::LessonArguments;
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::picture::write_whole;
use crate::work::request;

/// Makes a worked example to be laid on a desk.
pub(crate) fn run(arguments: &LessonArguments) -> Result<String, Failure> {
    let cabinet = Cabinet::built_in();
    let size = PageSize::parse(&arguments.page)?;
    is_pdf(&arguments.output)?;
    let mut work = request(&arguments.work, &cabinet)?;
    work.moment.by = arguments.by.clone().or(work.moment.by);
    work.moment.houses = arguments.houses.clone().or(work.moment.houses);
    let lesson = desk::lesson(&LessonRequest { work }, &cabinet, now_unix_s())?;
    let bytes = press::handout(&workbench::lesson_handout(&lesson), size)?;
    write_whole(&arguments.output, &bytes)?;
    if arguments.work.json {
        let mut told = serde_json::to_value(&lesson.answer).map_err(Failure::other)?;
        if let Some(told) = told.as_object_mut() {
            told.insert(
                "file".to_owned(),
                arguments.output.display().to_string().into(),
            );
        }
        return Ok(told.to_string() + "\n");
    }
    Ok(format!("{}\n", arguments.output.display()))
}

/// A file for a PDF is called so: what is in it would not be what its name says.
pub(crate) fn is_pdf(path: &std::path::Path) -> Result<(), Failure> {
    let ends = path.extension().and_then(|end| end.to_str());
    if ends.is_some_and(|end| end.eq_ignore_ascii_case("pdf")) {
        return Ok(());
    }
    Err(Failure::bad_input(format!(
        "{} does not end in .pdf, and a handout is PDF; a name that does would do",
        path.display()
    )))
}
