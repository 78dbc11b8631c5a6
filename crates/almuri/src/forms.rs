use desk::FigureForm;
use press::PageSize;

use crate::arguments::FormsArguments;
use crate::cabinet;
use crate::failure::Failure;
use crate::interrupt;
use crate::part_file::PartFile;
use crate::settings::Settings;
use crate::with;

/// Prints blank figures, a page for each form.
pub(crate) fn run(arguments: &FormsArguments) -> Result<String, Failure> {
    let size = PageSize::parse(&arguments.page)?;
    let cabinet = cabinet::at_hand();
    let settings = if arguments.no_settings {
        Settings::default()
    } else {
        Settings::kept()?
    };
    let at = arguments.at.clone().or(settings.home).ok_or_else(|| {
        Failure::bad_input("no place is said, and no home place is kept; --at PLACE would do")
    })?;
    let named = arguments.with.as_ref().or(settings.with.as_ref());
    let with = named
        .map(|name| with::instrument(name, &cabinet))
        .transpose()?;
    let mut forms = FigureForm::ALL.to_vec();
    if !arguments.form.is_empty() {
        let wanted = arguments.form.iter();
        forms = wanted
            .map(|name| FigureForm::named(Some(name)))
            .collect::<Result<_, _>>()?;
    }
    let mut file = PartFile::create(&arguments.output, arguments.overwrite)?;
    let bytes = interrupt::work(|patience| {
        let scenes = desk::blank_figures(&at, with.as_ref(), &forms, &cabinet)?;
        Ok::<_, Failure>(handouts::blank_forms(&scenes, size, patience)?)
    })?;
    file.write_all(&bytes)?;
    file.finish()?;
    Ok(format!("{}\n", arguments.output.display()))
}
