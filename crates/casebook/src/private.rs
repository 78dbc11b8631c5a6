//! Files and folders that other accounts of the machine cannot read.

use std::fs::{DirBuilder, File, OpenOptions};
use std::io;
use std::path::Path;

/// Makes a folder, and those it lies in, for the user alone; what is there already
/// stays as it is.
pub(crate) fn folder(path: &Path) -> io::Result<()> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(0o700);
    }
    builder.create(path)
}

/// Makes an empty file for the user alone, where there is none.
pub(crate) fn file(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(false);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options.open(path)
}

/// Takes the others' leave to a file or folder away, where the user may do so.
pub(crate) fn close_to_others(path: &Path) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        if let Ok(about) = path.metadata() {
            let mut leave = about.permissions();
            let own = leave.mode() & 0o700;
            if leave.mode() & 0o077 != 0 {
                leave.set_mode(own);
                // What belongs to someone else is theirs to close.
                let _ = std::fs::set_permissions(path, leave);
            }
        }
    }
    #[cfg(not(unix))]
    let _ = path;
}

/// That what was done to the names in a file's folder outlasts a loss of power.
pub(crate) fn sync_folder_of(path: &Path) -> io::Result<()> {
    #[cfg(unix)]
    if let Some(folder) = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
    {
        return File::open(folder)?.sync_all();
    }
    let _ = path;
    Ok(())
}
