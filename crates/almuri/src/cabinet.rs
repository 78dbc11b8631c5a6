//! The instruments at hand.

use std::path::Path;

use ::casebook::CabinetFolder;
use desk::{Cabinet, CabinetFile};
use workbench::Shelf;

use crate::settings::Settings;
use crate::{book_file, with};

/// The instruments at hand: those that come with the program, those kept in the cabinet's
/// folder, and the one that the settings name by its file.
pub(crate) fn at_hand() -> Cabinet {
    let folder = folder();
    workbench::at_hand(folder.as_ref(), of_settings())
}

/// The same for the page, as they stand whenever it asks.
pub(crate) fn shelf() -> Shelf {
    Shelf::of(folder(), of_settings)
}

/// The folder of one's own instruments, beside the casebook.
pub(crate) fn folder() -> Result<CabinetFolder, String> {
    book_file::place()
        .map(|book| CabinetFolder::at(book.with_file_name("cabinet")))
        .map_err(|failure| failure.to_string())
}

/// The specification file that the settings name, if they name one. Settings that cannot
/// be read are told where they are needed.
fn of_settings() -> Option<CabinetFile> {
    let path = Settings::kept().ok()?.with?;
    is_file(&path).then(|| CabinetFile {
        text: with::specification(Path::new(&path)).map_err(|failure| failure.to_string()),
        file: path,
        in_folder: false,
    })
}

/// Whether the settings name a specification file, and not an instrument of the cabinet: a
/// file is kept by its whole path.
pub(crate) fn is_file(usual: &str) -> bool {
    Path::new(usual).is_absolute()
}
