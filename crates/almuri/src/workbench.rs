use workbench::{Book, Desk, Keeper, Kept, NotKept};

use crate::arguments::WorkbenchArguments;
use crate::failure::Failure;
use crate::output::print;
use crate::settings::Settings;
use crate::settings_command::keep_if_they_work;
use crate::{book_file, browser, cabinet};

/// Starts the workbench, says its address, and opens it in the browser.
pub(crate) fn run(arguments: &WorkbenchArguments) -> Result<(), Failure> {
    let book = match &arguments.book {
        Some(path) => Ok(path.clone()),
        None => book_file::place().map_err(|failure| failure.to_string()),
    };
    let desk = Desk::new(cabinet::shelf(), SettingsFile, Book::at(book));
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
            with: settings.with.and_then(|usual| named(&usual)),
            houses: settings.houses,
            by: settings.by,
            sun: settings.sun,
            figures: settings.figures,
            page_address: settings.page_address,
        })
    }

    fn keep(&self, kept: Kept) -> Result<(), NotKept> {
        let mut settings = Settings::kept().map_err(not_kept)?;
        // The page knows names alone: the specification file that bears one stays.
        let before = settings.with.take();
        settings.with = match before.filter(|usual| cabinet::is_file(usual)) {
            Some(file) if named(&file) == kept.with => Some(file),
            _ => kept.with,
        };
        settings.home = kept.home;
        settings.zone = kept.zone;
        settings.houses = kept.houses;
        settings.by = kept.by;
        settings.sun = kept.sun;
        settings.figures = kept.figures;
        settings.page_address = kept.page_address;
        keep_if_they_work(&settings).map_err(not_kept)
    }
}

/// The name of the usual instrument, which the settings may name by its file; none where
/// there is no such instrument any more.
fn named(usual: &str) -> Option<String> {
    let cabinet = cabinet::at_hand();
    if cabinet::is_file(usual) {
        return cabinet.name_of_file(usual).map(str::to_owned);
    }
    let there = cabinet.named(usual).ok()?;
    Some(there.specification().name.clone())
}

fn not_kept(failure: Failure) -> NotKept {
    NotKept(failure.to_string())
}
