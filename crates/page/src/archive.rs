use press::{Packing, Printed};

use crate::{Answer, Fault};

/// Files in one archive, as they are: it goes no further than this machine.
///
/// # Errors
/// Where they are more, or longer, than the format holds.
pub(crate) fn archive(files: &[Printed]) -> Result<Answer, Fault> {
    let files = files
        .iter()
        .map(|file| (file.name.as_str(), file.bytes.as_slice()));
    let bytes = press::archive(files, Packing::Stored)
        .ok_or_else(|| Fault::inner("the files are too many or too long for one archive"))?;
    Ok(Answer {
        kind: "application/zip",
        bytes,
    })
}
