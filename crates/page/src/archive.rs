use press::{Packing, Printed};

use crate::{Answer, Fault};

/// Files in one archive, as they are: it goes no further than this machine.
///
/// # Errors
/// Where they are more, or longer, than the format holds.
pub(crate) fn archive(files: Vec<Printed>) -> Result<Answer, Fault> {
    let files = files.into_iter().map(|file| (file.name, file.bytes));
    let bytes = press::archive(files, Packing::Stored)
        .ok_or_else(|| Fault::inner("the files are too many or too long for one archive"))?;
    Ok(Answer {
        kind: "application/zip",
        bytes,
    })
}
