//! Casting with the astrolabe: the command line, and the start of the workbench.

mod arguments;
mod as_meant;
mod batch;
mod begun;
mod beside;
mod book_file;
mod browser;
mod cabinet;
mod cabinet_command;
mod casebook;
mod cast;
mod cast_sheet;
mod choose;
mod class;
mod class_post;
mod compare;
mod correct;
mod course;
mod draw;
mod during;
mod ephemeris;
mod examine;
mod exercises;
mod failure;
mod figure;
mod figure_table;
mod film;
mod forms;
mod interrupt;
mod lesson;
mod make;
mod moments;
mod nest;
mod output;
mod part_file;
mod picture;
mod planets;
mod plates;
mod progress;
mod proofread;
mod reckon;
mod revolution;
mod set_folder;
mod settings;
mod settings_command;
mod share;
mod sheet;
mod stand;
mod tables;
mod with;
mod work;
mod workbench;
mod year;

use std::process::ExitCode;

use arguments::{Arguments, Command};
use clap::FromArgMatches;
use failure::Failure;
use output::print;

fn main() -> ExitCode {
    let parsed = arguments::command()
        .try_get_matches()
        .and_then(|matches| Arguments::from_arg_matches(&matches));
    let result = match parsed {
        Err(error) if error.kind() == clap::error::ErrorKind::InvalidUtf8 => {
            Err(Failure::bad_input(not_text()))
        }
        Ok(arguments) => run(arguments),
        Err(error) if !error.use_stderr() => print(&error.render().to_string()),
        Err(error) => Err(Failure::arguments(&error)),
    };
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => as_meant::offered(failure, &written()).report(),
    }
}

/// Which argument is no text: a place, a date or a name is one, though a file's name need
/// not be.
fn not_text() -> String {
    let mut words = std::env::args_os().skip(1).enumerate();
    let word = words.find(|(_, word)| word.to_str().is_none());
    let (number, word) = word.unwrap_or_default();
    format!(
        "argument {}, “{}”, is no text in UTF-8; written in UTF-8 it would do",
        number + 1,
        word.to_string_lossy()
    )
}

/// What was written behind the program's name.
fn written() -> Vec<String> {
    let words = std::env::args_os().skip(1);
    words
        .map(|word| word.to_string_lossy().into_owned())
        .collect()
}

fn run(arguments: Arguments) -> Result<(), Failure> {
    match arguments.command {
        // A server listens itself.
        None | Some(Command::Share(_)) => {}
        Some(Command::Casebook(_) | Command::Class(_)) => {
            interrupt::listen(interrupt::CASEBOOK_STOPPED)?;
        }
        Some(_) => interrupt::listen(interrupt::STOPPED)?,
    }
    let text = match arguments.command {
        None => return workbench::run(&arguments.workbench),
        Some(Command::Share(share)) => return share::run(&share),
        Some(Command::Cast(cast)) => cast_sheet::run(&cast)?,
        Some(Command::Figure(figure)) => figure::run(&figure)?,
        Some(Command::Batch(batch)) => batch::run(&batch)?,
        Some(Command::Casebook(casebook)) => casebook::run(&casebook)?,
        Some(Command::Work(work)) => work::run(&work)?,
        Some(Command::Stand(stand)) => stand::run(&stand)?,
        Some(Command::Planets(planets)) => planets::run(&planets)?,
        Some(Command::Correct(correct)) => correct::run(&correct)?,
        Some(Command::During(during)) => during::run(&during)?,
        Some(Command::Revolution(revolution)) => revolution::run(&revolution)?,
        Some(Command::Choose(choose)) => choose::run(&choose)?,
        Some(Command::Compare(compare)) => compare::run(&compare)?,
        Some(Command::Moments(moments)) => moments::run(&moments)?,
        Some(Command::Year(year)) => year::run(&year)?,
        Some(Command::Film(film)) => film::run(&film)?,
        Some(Command::Lesson(lesson)) => lesson::run(&lesson)?,
        Some(Command::Course(course)) => course::run(&course)?,
        Some(Command::Exercises(exercises)) => exercises::run(&exercises)?,
        Some(Command::Class(class)) => class::run(&class)?,
        Some(Command::Forms(forms)) => forms::run(&forms)?,
        Some(Command::Draw(draw)) => draw::run(&draw)?,
        Some(Command::Make(make)) => make::run(&make)?,
        Some(Command::Nest(nest)) => nest::run(&nest)?,
        Some(Command::Plates(plates)) => plates::run(&plates)?,
        Some(Command::Examine(examine)) => examine::run(&examine)?,
        Some(Command::Cabinet(cabinet)) => cabinet_command::run(&cabinet)?,
        Some(Command::Proofread(proofread)) => proofread::run(&proofread)?,
        Some(Command::Reckon(reckon)) => reckon::run(&reckon)?,
        Some(Command::Tables(tables)) => tables::run(&tables)?,
        Some(Command::Settings(settings)) => settings_command::run(&settings)?,
    };
    print(&text)
}
