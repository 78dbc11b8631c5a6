use desk::{Cabinet, LessonRequest, WorkRequest};
use patience::Patience;
use press::PageSize;

use crate::arguments::LessonArguments;
use crate::cabinet;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::part_file::PartFile;
use crate::settings::Settings;
use crate::settings_command::page_address;
use crate::work::{listed, request};

/// Makes a worked example to be laid on a desk; alone, lists what there is one of.
pub(crate) fn run(arguments: &LessonArguments) -> Result<String, Failure> {
    let Some(operation) = &arguments.work.operation else {
        return Ok(format!(
            "cast                      Casting a figure (chart).\n{}",
            listed(&desk::operations())
        ));
    };
    let cabinet = cabinet::at_hand();
    let size = PageSize::parse(&arguments.page)?;
    is_pdf(&arguments.output)?;
    let work = if operation.trim().eq_ignore_ascii_case("cast") {
        cast(arguments, &cabinet)?
    } else {
        operation_of_treatise(arguments, &cabinet)?
    };
    let mut file = PartFile::create(&arguments.output, arguments.overwrite)?;
    let code = page_address(&Settings::kept()?)?
        .map(|address| address.code_of_work(&work, &cabinet))
        .transpose()
        .map_err(Failure::bad_input)?
        .flatten();
    let lesson = desk::lesson(&LessonRequest { work }, &cabinet, now_unix_s())?;
    let handout = handouts::lesson_handout(&lesson, code);
    let bytes = press::handout(&handout, size, Patience::ENDLESS)?;
    file.write_all(&bytes)?;
    file.finish()?;
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

/// Casting a figure: with what belongs to it, and nothing that does not.
fn cast(arguments: &LessonArguments, cabinet: &Cabinet) -> Result<WorkRequest, Failure> {
    let given = &arguments.work;
    let stray = [
        ("--read", !given.read.is_empty()),
        ("--tell", !given.tell.is_empty()),
        ("--star", given.star.is_some()),
        ("--body", given.body.is_some()),
        ("--hand", given.hand.is_some()),
        ("--side", given.side.is_some()),
        ("--of", given.of.is_some()),
    ];
    if let Some((option, _)) = stray.iter().find(|(_, said)| *said) {
        return Err(Failure::bad_input(format!(
            "{option} belongs to the operations of the treatise; a worked cast takes --by and --houses, and readings are held against it by `almuri cast --read` or `almuri correct`"
        )));
    }
    let Some(when) = given.when.as_deref() else {
        return Err(Failure::bad_input(
            "no moment is said; `almuri lesson cast \"2024-05-14 09:20\" --at \"Lisbon, Portugal\"` would do",
        ));
    };
    let mut moment = moment_request(when, &given.moment, given.with.as_ref(), cabinet)?;
    moment.by = arguments.by.clone().or(moment.by);
    moment.houses = arguments.houses.clone().or(moment.houses);
    Ok(WorkRequest {
        operation: "cast".to_owned(),
        moment,
        ..WorkRequest::default()
    })
}

fn operation_of_treatise(
    arguments: &LessonArguments,
    cabinet: &Cabinet,
) -> Result<WorkRequest, Failure> {
    let stray = [
        ("--by", arguments.by.is_some()),
        ("--houses", arguments.houses.is_some()),
    ];
    if let Some((option, _)) = stray.iter().find(|(_, said)| *said) {
        return Err(Failure::bad_input(format!(
            "{option} belongs to casting; `almuri lesson cast`, houses-by-hours or houses-by-limb would do"
        )));
    }
    request(&arguments.work, cabinet)
}

/// A file for a PDF is called so: what is in it would not be what its name says.
fn is_pdf(path: &std::path::Path) -> Result<(), Failure> {
    let ends = path.extension().and_then(|end| end.to_str());
    if ends.is_some_and(|end| end.eq_ignore_ascii_case("pdf")) {
        return Ok(());
    }
    Err(Failure::bad_input(format!(
        "{} does not end in .pdf, and a handout is PDF; a name that does would do",
        path.display()
    )))
}
