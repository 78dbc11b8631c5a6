use std::io::Result;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What is begun and not yet whole, by its path.
static BEGUN: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

/// A file or a folder that is taken away again unless it is finished: when this is
/// dropped, and when the program is ended by Ctrl-C.
#[derive(Debug)]
pub(crate) struct Begun(PathBuf);

impl Begun {
    /// What was just made there.
    pub(crate) fn at(path: PathBuf) -> Begun {
        all().push(path.clone());
        Begun(path)
    }

    pub(crate) fn path(&self) -> &Path {
        &self.0
    }

    /// Gives it the name it is to bear. Ctrl-C does not come between.
    pub(crate) fn finish<T>(self, name: impl FnOnce(&Path) -> Result<T>) -> Result<T> {
        let hold = all();
        let named = name(&self.0);
        drop(hold);
        named
    }
}

impl Drop for Begun {
    fn drop(&mut self) {
        take_away(&self.0);
        all().retain(|path| *path != self.0);
    }
}

/// Ends the program with nothing half made, once what is being named has its name.
pub(crate) fn end(code: i32) -> ! {
    let begun = all();
    for path in begun.iter() {
        take_away(path);
    }
    // The list is held until the end, so that nothing is begun any more.
    std::process::exit(code)
}

fn all() -> MutexGuard<'static, Vec<PathBuf>> {
    BEGUN.lock().unwrap_or_else(PoisonError::into_inner)
}

/// What bears another name by now is not there, and that is no matter.
fn take_away(path: &Path) {
    let _ = if path.is_dir() {
        std::fs::remove_dir_all(path)
    } else {
        std::fs::remove_file(path)
    };
}
