//! The system refuses: a full disk, leave taken away, a medium that fails, from one call on
//! and for all that follow. What was answered for is there afterwards, what was refused
//! changed nothing that matters, and all can be gone on with once the system permits it.
//!
//! `strace` refuses in the system's place, and a disk in memory is full of itself and may
//! only be read; without either, folders that vanish are tried.

use std::io::{IoSlice, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use casebook::{Case, CaseId, Casebook, CasebookError};
use ordeal::{OTHER_ACCOUNT, SmallDisk, as_another_account, has_strace, is_on, refused_from, tell};

/// By which the same test knows that it is the one to be refused.
const BOOK: &str = "ALMURI_TEST_REFUSED_CASEBOOK";

/// The calls that are refused: those by which files and their names are changed.
const CALLS: &str = "pwrite64,write,fsync,fdatasync,ftruncate,rename,unlink,mkdir,openat";

/// A word that stands in one case alone, which is deleted.
const GONE: &str = "Zanzibarkhanate";

fn case(name: &str) -> Case {
    Case {
        name: name.to_owned(),
        when: "2024-05-14 09:20".to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        note: format!("what was said of {name}, {}", "at some length ".repeat(60)),
        ..Case::default()
    }
}

/// Tells by a call that is not refused.
fn say(what: String) {
    let line = format!("answered {what}\n");
    let _ = std::io::stderr().write_vectored(&[IoSlice::new(line.as_bytes())]);
}

/// The day's work, as far as it is permitted; says what was answered for.
fn work(path: &Path, say: &mut dyn FnMut(String)) -> Result<(), CasebookError> {
    let mut book = Casebook::open(path)?;
    let kept = book.keep(case("First"))?;
    say(format!("keep {}", kept.id));
    let edited = book.edit(kept.id, kept.version, case("First again"))?;
    say(format!("edit {}", edited.id));
    book.back_up("copy")?;
    let gone = book.keep(case(GONE))?;
    say(format!("keep {}", gone.id));
    book.back_up("copy-with")?;
    say(format!("begin {}", gone.id));
    if book.delete(gone.id)?.left.is_empty() {
        say(format!("delete {}", gone.id));
    }
    drop(book);
    Casebook::restore(path, "copy")?;
    say("restore".to_owned());
    let mut book = Casebook::open(path)?;
    let kept = book.keep(case("Last"))?;
    say(format!("keep {}", kept.id));
    Ok(())
}

fn holds_the_deleted(folder: &Path) -> bool {
    let word = GONE.as_bytes();
    std::fs::read_dir(folder).expect("a folder").any(|entry| {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            return holds_the_deleted(&path);
        }
        let bytes = std::fs::read(&path).unwrap_or_default();
        bytes.windows(word.len()).any(|window| window == word)
    })
}

/// That the book has what was answered for, and nothing that was deleted, and needs nothing
/// more. Opened twice: what was broken off is gone on with at the first opening.
fn is_as_answered(path: &Path, answered: &[&str], what: &str) {
    let has = |what: &str| answered.contains(&what);
    let told = format!("{what}: {answered:?}");
    drop(Casebook::open(path).unwrap_or_else(|why| panic!("{told}: {why}")));
    let book = Casebook::open(path).expect("opens");
    assert_eq!(book.notices(), Vec::<String>::new(), "{told}");
    book.check().unwrap_or_else(|why| panic!("{told}: {why}"));
    let name = |id: i64| book.get(CaseId(id)).map(|kept| kept.case.name);
    assert_eq!(name(1).ok().as_deref(), Some("Before"), "{told}");
    // A restoration that was told, or begun and finished since, takes the rest back.
    if has("edit 2") {
        assert_eq!(name(2).ok().as_deref(), Some("First again"), "{told}");
    } else if has("keep 2") {
        assert!(name(2).is_ok(), "{told}");
    }
    // The number may be given again once it was taken back.
    let last = answered.iter().filter(|line| **line == "keep 3").count() > 1;
    if last {
        assert_eq!(name(3).ok().as_deref(), Some("Last"), "{told}");
    }
    let deleted = name(3).ok().is_none_or(|name| name != GONE);
    if has("delete 3") {
        assert!(deleted, "{told}");
    } else if has("keep 3") && !has("begin 3") {
        assert!(!deleted, "{told}");
    }
    let folder = path.parent().expect("a folder");
    assert!(!deleted || !holds_the_deleted(folder), "{told}");
}

/// The test that works until it is refused something, as a process of its own.
const WORKING: &str = "what_the_system_refuses_loses_nothing";

#[test]
fn what_the_system_refuses_loses_nothing() {
    if let Some(path) = std::env::var_os(BOOK) {
        if let Err(why) = work(Path::new(&path), &mut say) {
            say(format!("refused {why}"));
        }
        return;
    }
    if !has_strace() {
        return;
    }
    // Every call in the ordeal, else some of them.
    let step = if is_on() { 1 } else { 71 };
    for error in ["ENOSPC", "EACCES", "EROFS", "EIO"] {
        let tried = refused_everywhere(CALLS, error, step);
        tell(
            &format!("{error} by the system, from each of the calls of a day's work on"),
            tried,
            "nothing lost, nothing left that cannot be finished",
        );
    }
}

/// Names are changed seldom, and each time between two of them a book may be without one.
#[test]
fn a_name_that_cannot_be_changed_leaves_one_book_or_the_other() {
    if has_strace() {
        let tried = refused_everywhere("rename", "EIO", 1);
        assert!(tried > 4, "only {tried} names are changed");
    }
}

/// Has a day's work refused some calls from one of them on, and looks what is left; one
/// further each time, until nothing was refused. How often that was.
fn refused_everywhere(calls: &str, error: &str, step: usize) -> u64 {
    let this = std::env::current_exe().expect("this program");
    let mut tried = 0;
    for first in (1..).step_by(step) {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("own").join("casebook.sqlite");
        let mut begun = Casebook::open(&path).expect("begun");
        begun.keep(case("Before")).expect("kept");
        drop(begun);
        let ended = refused_from(&this, calls, error, first)
            .args(["--exact", WORKING, "--nocapture"])
            .env(BOOK, &path)
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .and_then(std::process::Child::wait_with_output)
            .expect("it ends");
        let said = String::from_utf8_lossy(&ended.stderr);
        assert!(
            !said.contains("panicked"),
            "{error} from call {first}: {said}"
        );
        let answered: Vec<&str> = said
            .lines()
            .filter_map(|line| Some(line.split_once("answered ")?.1))
            .collect();
        is_as_answered(&path, &answered, &format!("{error} from call {first}"));
        tried += 1;
        let was_refused = answered.iter().any(|line| line.starts_with("refused"));
        if answered.contains(&"restore") && !was_refused {
            break;
        }
    }
    tried
}

/// A disk with room for so much and no more: for every size at which the day's work stops
/// at another of its steps. Once there is room all is as it was answered for.
#[test]
fn a_full_disk_loses_nothing() {
    /// The disk grows by a page at a time.
    const PAGE: usize = 4096;
    const ROOM: &str = "size=64m";
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own").join("casebook.sqlite");
    let (mut tried, mut answers) = (0, std::collections::BTreeSet::new());
    for pages in (16..4096).step_by(if is_on() { 1 } else { 16 }) {
        let Some(disk) = SmallDisk::of(pages * PAGE, folder.path()) else {
            tell(
                "sizes of a full disk",
                0,
                "not tried: no leave to mount one here",
            );
            return;
        };
        let mut begun = match Casebook::open(&path) {
            Ok(book) => book,
            // No room for a book at all: nothing was answered for.
            Err(_) => continue,
        };
        if begun.keep(case("Before")).is_err() {
            continue;
        }
        drop(begun);
        let mut answered = Vec::new();
        let worked = work(&path, &mut |what| answered.push(what));
        assert!(disk.is_now(ROOM), "it is given room");
        let answered: Vec<&str> = answered.iter().map(String::as_str).collect();
        is_as_answered(
            &path,
            &answered,
            &format!("a disk of {pages} pages: {worked:?}"),
        );
        tried += 1;
        answers.insert(answered.len());
        if worked.is_ok() {
            break;
        }
    }
    assert!(answers.len() > 2, "it was full at {answers:?} steps");
    tell(
        "sizes of a disk, a page more each, until it has room for a day's work",
        tried,
        &format!(
            "full at {} different steps of it: nothing lost, nothing left that cannot be finished",
            answers.len() - 1
        ),
    );
}

/// A disk that may only be read from one day on, and be written to again later.
#[test]
fn a_disk_that_may_only_be_read_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let Some(disk) = SmallDisk::of(1 << 24, folder.path()) else {
        return;
    };
    let path = folder.path().join("own").join("casebook.sqlite");
    let mut book = Casebook::open(&path).expect("opens");
    let kept = book.keep(case("Before")).expect("kept");
    drop(book);
    assert!(disk.is_now("ro"), "may be read alone");
    let mut read = Casebook::open(&path).expect("read");
    assert!(read.is_read_only());
    assert_eq!(read.get(kept.id).expect("read").case.name, "Before");
    for refused in [
        read.keep(case("After")).map(drop),
        read.edit(kept.id, kept.version, case("After")).map(drop),
        read.delete(kept.id).map(drop),
        read.undo().map(drop),
        read.back_up("copy").map(drop),
        Casebook::restore(&path, "copy").map(drop),
    ] {
        refused.expect_err("it may only be read");
    }
    drop(read);
    assert!(disk.is_now("rw"), "may be written to again");
    let mut book = Casebook::open(&path).expect("opens");
    assert_eq!(book.len().expect("counted"), 1);
    book.keep(case("After")).expect("kept");
}

/// Under a book that is open its folder is moved away, and its file deleted: what would be
/// kept where nobody finds it again is not answered for.
#[cfg(unix)]
#[test]
fn nothing_is_kept_where_nobody_finds_it() {
    for moved in [true, false] {
        let folder = tempfile::tempdir().expect("a folder");
        let own = folder.path().join("own");
        let path = own.join("casebook.sqlite");
        let mut book = Casebook::open_without_backup(&path).expect("opens");
        book.keep(case("Before")).expect("kept");
        if moved {
            std::fs::rename(&own, folder.path().join("elsewhere")).expect("moved");
        } else {
            std::fs::remove_dir_all(&own).expect("deleted");
        }
        let refused = book.keep(case("After")).expect_err("not in its place");
        assert!(refused.to_string().contains("no longer"), "{refused}");
        assert!(!path.exists(), "and it is not begun anew");
    }
}

/// The folder of the book may be read and no more, from the middle of the work on.
#[cfg(unix)]
#[test]
fn leave_that_is_taken_away_is_told() {
    use std::os::unix::fs::{PermissionsExt, chown};
    const NAME: &str = "leave_that_is_taken_away_is_told";
    // The superuser needs no leave: another account tries it.
    let is_root = Command::new("id").arg("-u").output();
    if is_root.is_ok_and(|said| said.stdout == b"0\n") {
        let folder = tempfile::tempdir().expect("a folder");
        let this = folder.path().join("this");
        std::fs::copy(std::env::current_exe().expect("this program"), &this).expect("copied");
        chown(folder.path(), Some(OTHER_ACCOUNT), Some(OTHER_ACCOUNT)).expect("given");
        let Some(mut other) = as_another_account(&this) else {
            return;
        };
        let ended = other
            .args(["--exact", NAME, "--nocapture"])
            .env("TMPDIR", folder.path())
            .current_dir(folder.path())
            .output()
            .expect("it ends");
        let said = String::from_utf8_lossy(&ended.stdout);
        assert!(ended.status.success(), "{said}");
        assert!(said.contains("1 passed"), "{said}");
        return;
    }
    let folder = tempfile::tempdir().expect("a folder");
    let own = folder.path().join("own");
    let path = own.join("casebook.sqlite");
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    book.keep(case("Before")).expect("kept");
    let leave = |mode| {
        std::fs::set_permissions(&own, std::fs::Permissions::from_mode(mode)).expect("set");
    };
    leave(0o500);
    book.back_up("copy").expect_err("no folder for it");
    drop(book);
    let mut read = Casebook::open(&path).expect("read");
    assert!(read.is_read_only());
    assert_eq!(read.len().expect("counted"), 1);
    read.keep(case("After")).expect_err("read only");
    leave(0o700);
    let mut book = Casebook::open(&path).expect("opens");
    book.keep(case("After")).expect("kept");
}
