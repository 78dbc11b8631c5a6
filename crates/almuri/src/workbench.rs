use desk::Cabinet;
use workbench::{Book, Desk, Keeper, Kept, NotKept};

use crate::arguments::WorkbenchArguments;
use crate::failure::Failure;
use crate::settings::Settings;
use crate::{browser, casebook, print};

/// Starts the workbench, says its address, and opens it in the browser.
pub(crate) fn run(arguments: &WorkbenchArguments) -> Result<(), Failure> {
    let book = match &arguments.book {
        Some(path) => Ok(path.clone()),
        None => casebook::place().map_err(|failure| failure.to_string()),
    };
    let desk = Desk::new(Cabinet::built_in(), SettingsFile, Book::at(book));
    workbench::run(desk, arguments.port, |address, session| {
        let page = session.page(address);
        // Where standard output is gone the page is opened all the same.
        let _ = print(&format!("The workbench is at {page}\nCtrl-C ends it.\n"));
        if !arguments.no_open {
            browser::open(&page);
        }
    })
    .map_err(Failure::other)
}

/// The settings file that the other commands use too.
struct SettingsFile;

impl Keeper for SettingsFile {
    fn kept(&self) -> Result<Kept, NotKept> {
        let settings = Settings::kept().map_err(not_kept)?;
        Ok(Kept {
            home: settings.home,
            zone: settings.zone,
            with: settings.with.filter(|name| in_cabinet(name)),
            houses: settings.houses,
            by: settings.by,
            figures: settings.figures,
        })
    }

    fn keep(&self, kept: Kept) -> Result<(), NotKept> {
        let mut settings = Settings::kept().map_err(not_kept)?;
        // The page knows the cabinet alone: a specification file stays as it is.
        let file = settings.with.clone().filter(|name| !in_cabinet(name));
        settings.home = kept.home;
        settings.zone = kept.zone;
        settings.with = kept.with.or(file);
        settings.houses = kept.houses;
        settings.by = kept.by;
        settings.figures = kept.figures;
        settings.keep_if_they_work().map_err(not_kept)
    }
}

fn in_cabinet(name: &str) -> bool {
    Cabinet::built_in().named(name).is_ok()
}

fn not_kept(failure: Failure) -> NotKept {
    NotKept(failure.to_string())
}
