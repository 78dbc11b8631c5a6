use std::fs::{self, DirBuilder, File, OpenOptions};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use thiserror::Error;

/// The cabinet's folder: instruments of one's own, each in a plain text file.
///
/// What a text says is no matter here. A file is written beside its place and given its
/// name when it is whole, for its owner alone; whoever changes something holds the
/// folder meanwhile, and other programs wait. A name is made of letters, figures and
/// hyphens, so that none leads out of the folder.
#[derive(Clone, Debug)]
pub struct CabinetFolder {
    path: PathBuf,
}

/// A file of the folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FolderFile {
    /// Its name, such as `key-ring.toml`.
    pub file: String,
    /// What is in it; or why that cannot be had.
    pub text: Result<String, String>,
}

/// How the folder stands: the same again means that nothing was changed meanwhile.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FolderState(Vec<(String, u64, Option<SystemTime>)>);

/// Why the cabinet cannot do what was asked. What it holds is as it was before.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum CabinetError {
    /// The file was changed or taken away since it was looked at.
    #[error("{0} was changed meanwhile by someone else; look at it again first")]
    Changed(String),
    /// No file of the folder is called so.
    #[error("the cabinet has no file {0:?}; the list shows those there are")]
    NoFile(String),
    /// The text is too long.
    #[error("the text is {0} bytes long; one of {MOST_BYTES} at most would do")]
    TooLong(usize),
    /// The folder or a file cannot be read or written.
    #[error("{} cannot be used: {why}", path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// Why.
        why: std::io::Error,
    },
}

impl CabinetError {
    /// Whether what was asked is at fault, and not the folder.
    #[must_use]
    pub fn is_bad_input(&self) -> bool {
        match self {
            CabinetError::Changed(_) | CabinetError::NoFile(_) | CabinetError::TooLong(_) => true,
            CabinetError::File { .. } => false,
        }
    }

    fn file(path: &Path, why: std::io::Error) -> CabinetError {
        CabinetError::File {
            path: path.to_owned(),
            why,
        }
    }
}

/// No specification is longer; a mistaken file is not read whole.
const MOST_BYTES: usize = 64 * 1024;

/// How its files end.
const END: &str = ".toml";

/// Held by whoever changes something.
const LOCK: &str = ".lock";

impl CabinetFolder {
    /// In this place; it need not be there yet.
    #[must_use]
    pub fn at(path: PathBuf) -> CabinetFolder {
        CabinetFolder { path }
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Its files in the order of their names. One that cannot be read is there with the
    /// reason; a folder that is not there has none.
    ///
    /// # Errors
    /// When the folder itself cannot be read.
    pub fn files(&self) -> Result<Vec<FolderFile>, CabinetError> {
        let names = self.names()?;
        Ok(names
            .into_iter()
            .map(|file| FolderFile {
                text: self.text(&file),
                file,
            })
            .collect())
    }

    /// How it stands now, without a look into the files.
    ///
    /// # Errors
    /// When the folder itself cannot be read.
    pub fn state(&self) -> Result<FolderState, CabinetError> {
        let names = self.names()?;
        Ok(FolderState(
            names
                .into_iter()
                .map(|name| {
                    let about = fs::metadata(self.path.join(&name)).ok();
                    let bytes = about.as_ref().map_or(0, fs::Metadata::len);
                    let changed = about.and_then(|about| about.modified().ok());
                    (name, bytes, changed)
                })
                .collect(),
        ))
    }

    /// Keeps a text in a file of its own, called after a name, and says which.
    ///
    /// # Errors
    /// When it is too long, or cannot be written.
    pub fn add(&self, called: &str, text: &str) -> Result<String, CabinetError> {
        let _held = self.hold()?;
        let stem = stem(called);
        let there = self.names_of_all()?;
        let free = |name: &String| !there.iter().any(|one| one.to_lowercase() == *name);
        let first = format!("{stem}{END}");
        let file = std::iter::once(first)
            .chain((2_u32..).map(|number| format!("{stem}-{number}{END}")))
            .find(free)
            .unwrap_or_default();
        self.write(&file, text)?;
        Ok(file)
    }

    /// Puts a text in the place of the one that a file held when it was looked at.
    ///
    /// # Errors
    /// When the file holds something else now, or cannot be written.
    pub fn replace(&self, file: &str, before: &str, text: &str) -> Result<(), CabinetError> {
        let _held = self.hold()?;
        self.is_as_before(file, before)?;
        self.write(file, text)
    }

    /// Takes a file away, which held this when it was looked at.
    ///
    /// # Errors
    /// When the file holds something else now, or cannot be taken away.
    pub fn remove(&self, file: &str, before: &str) -> Result<(), CabinetError> {
        let _held = self.hold()?;
        self.is_as_before(file, before)?;
        let path = self.path.join(file);
        fs::remove_file(&path).map_err(|why| CabinetError::file(&path, why))?;
        self.settle();
        Ok(())
    }

    /// The names of its files, in order.
    fn names(&self) -> Result<Vec<String>, CabinetError> {
        let mut names = self.names_of_all()?;
        names.retain(|name| name.ends_with(END) && !name.starts_with('.'));
        names.sort();
        Ok(names)
    }

    fn names_of_all(&self) -> Result<Vec<String>, CabinetError> {
        let unreadable = |why| CabinetError::file(&self.path, why);
        let entries = match fs::read_dir(&self.path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
            other => other.map_err(unreadable)?,
        };
        let mut names = Vec::new();
        for entry in entries {
            names.push(
                entry
                    .map_err(unreadable)?
                    .file_name()
                    .to_string_lossy()
                    .into_owned(),
            );
        }
        Ok(names)
    }

    /// What is in a file; or why that cannot be had.
    fn text(&self, file: &str) -> Result<String, String> {
        let path = self.path.join(file);
        let about = fs::metadata(&path).map_err(|error| error.to_string())?;
        if !about.is_file() {
            return Err("it is no file".to_owned());
        }
        let mut bytes = Vec::new();
        let opened = File::open(&path).map_err(|error| error.to_string())?;
        opened
            .take(MOST_BYTES as u64 + 1)
            .read_to_end(&mut bytes)
            .map_err(|error| error.to_string())?;
        if bytes.len() > MOST_BYTES {
            return Err(format!("it is longer than {MOST_BYTES} bytes"));
        }
        String::from_utf8(bytes).map_err(|_| "it is not written in UTF-8".to_owned())
    }

    fn is_as_before(&self, file: &str, before: &str) -> Result<(), CabinetError> {
        if !self.names()?.iter().any(|name| name == file) {
            return Err(CabinetError::NoFile(file.to_owned()));
        }
        match self.text(file) {
            Ok(text) if text == before => Ok(()),
            _ => Err(CabinetError::Changed(file.to_owned())),
        }
    }

    /// Holds the folder, made if it is not there, until what is returned is dropped.
    fn hold(&self) -> Result<File, CabinetError> {
        self.make()?;
        let path = self.path.join(LOCK);
        let held = || {
            let lock = for_its_owner()
                .create(true)
                .truncate(false)
                .write(true)
                .open(&path)?;
            lock.lock()?;
            Ok(lock)
        };
        held().map_err(|why| CabinetError::file(&path, why))
    }

    /// Makes the folder, for its owner alone.
    fn make(&self) -> Result<(), CabinetError> {
        let failed = |why| CabinetError::file(&self.path, why);
        if let Some(above) = self.path.parent() {
            fs::create_dir_all(above).map_err(failed)?;
        }
        let mut builder = DirBuilder::new();
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
        match builder.create(&self.path) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            other => other.map_err(failed)?,
        }
        // One that was made by hand, or carried here, may be open to others.
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = fs::metadata(&self.path)
                .map_err(failed)?
                .permissions()
                .mode();
            if mode & 0o077 != 0 {
                let owners = fs::Permissions::from_mode(0o700);
                fs::set_permissions(&self.path, owners).map_err(failed)?;
            }
        }
        Ok(())
    }

    /// Writes a file whole or not at all; the folder is held.
    fn write(&self, file: &str, text: &str) -> Result<(), CabinetError> {
        if text.len() > MOST_BYTES {
            return Err(CabinetError::TooLong(text.len()));
        }
        let path = self.path.join(file);
        // What a broken-off writing left is overwritten: nobody else writes now.
        let part = self.path.join(format!(".{file}.part"));
        let written = || {
            let _ = fs::remove_file(&part);
            let mut whole = for_its_owner().create_new(true).write(true).open(&part)?;
            whole.write_all(text.as_bytes())?;
            whole.sync_all()?;
            fs::rename(&part, &path)
        };
        written().map_err(|why| {
            let _ = fs::remove_file(&part);
            CabinetError::file(&path, why)
        })?;
        self.settle();
        Ok(())
    }

    /// Sees that the names are on the disk too, where a folder can be asked for that.
    fn settle(&self) {
        if let Ok(folder) = File::open(&self.path) {
            let _ = folder.sync_all();
        }
    }
}

/// How a file is opened that is for its owner alone.
fn for_its_owner() -> OpenOptions {
    let mut options = OpenOptions::new();
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options
}

/// A name as its file bears it: letters and figures of any script, in lower case, with
/// hyphens between; short, and none that a system keeps for itself.
fn stem(called: &str) -> String {
    /// File names have 255 bytes at most; a number and the end come behind.
    const MOST: usize = 120;
    let mut stem = String::new();
    for letter in called.chars().flat_map(char::to_lowercase) {
        if stem.len() + letter.len_utf8() > MOST {
            break;
        }
        if letter.is_alphanumeric() {
            stem.push(letter);
        } else if !stem.is_empty() && !stem.ends_with('-') {
            stem.push('-');
        }
    }
    let stem = stem.trim_end_matches('-');
    let device = ["con", "prn", "aux", "nul"].contains(&stem)
        || stem
            .strip_prefix("com")
            .or_else(|| stem.strip_prefix("lpt"))
            .is_some_and(|rest| rest.chars().count() == 1);
    match stem {
        "" => "instrument".to_owned(),
        _ if device => format!("instrument-{stem}"),
        _ => stem.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_name_is_told_by_its_letters() {
        for (called, file) in [
            ("my key ring", "my-key-ring"),
            ("../../a secret", "a-secret"),
            ("up\\..\\there", "up-there"),
            ("  …  ", "instrument"),
            ("Großmutters Messing", "großmutters-messing"),
            ("أسطرلاب", "أسطرلاب"),
            ("CON", "instrument-con"),
            ("lpt1", "instrument-lpt1"),
            (".hidden", "hidden"),
        ] {
            assert_eq!(stem(called), file);
        }
    }

    proptest! {
        #[test]
        fn no_name_leads_out_of_the_folder(called in any::<String>()) {
            let stem = stem(&called);
            prop_assert!(!stem.is_empty() && stem.len() <= 140);
            prop_assert!(stem.chars().all(|c| c.is_alphanumeric() || c == '-'), "{stem}");
            prop_assert!(!stem.starts_with('-') && !stem.ends_with('-'));
        }
    }
}
