use std::path::Path;

use press::DrawingFormat;

use crate::failure::Failure;
use crate::part_file::PartFile;

/// The format of a drawing, by the end of its file's name.
pub(crate) fn format_of(path: &Path) -> Result<DrawingFormat, Failure> {
    let end = path.extension().and_then(|end| end.to_str());
    end.and_then(DrawingFormat::named).ok_or_else(|| {
        Failure::bad_input(format!(
            "{} is no kind of drawing that is made here; a name that ends in .svg, .pdf or .png would do",
            path.display()
        ))
    })
}

/// Writes a file whole or not at all; over one that is there only where that is said.
pub(crate) fn write_whole(path: &Path, bytes: &[u8], overwrite: bool) -> Result<(), Failure> {
    let mut file = PartFile::create(path, overwrite)?;
    file.write_all(bytes)?;
    file.finish()
}
