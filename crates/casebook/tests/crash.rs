//! Killed in the middle of keeping, deleting, copying and restoring, many times: what
//! was answered for is there, what was deleted is gone, and nothing is left that cannot
//! be finished.
//!
//! Each round kills at another moment; where `strace` is there, every other one at a
//! system call by which something is written.

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use casebook::{Case, CaseId, Casebook};
use ordeal::{Kills, has_strace, killed_at, times, was_killed};

/// By which the same tests know that they are the ones to be killed.
const BOOK: &str = "ALMURI_TEST_CASEBOOK";

/// How often each is killed.
fn rounds() -> u64 {
    times(8, 270)
}

/// What came of all kills.
const ALL_IS_WELL: &str = "nothing lost, nothing left that cannot be finished";

fn case(name: String) -> Case {
    Case {
        name,
        when: "2024-05-14 09:20".to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        note: "some words to fill a page with ".repeat(40),
        ..Case::default()
    }
}

fn say(what: &str) {
    let mut out = std::io::stdout();
    writeln!(out, "answered {what}").expect("said");
    out.flush().expect("said");
}

/// Runs a test of this program as a process of its own, and kills it after some time, or
/// at one of so many `calls`: what it had answered for. It works without end, or ends well.
fn killed(kills: &mut Kills, test: &str, path: &Path, round: u64, calls: u64) -> Vec<String> {
    let this = std::env::current_exe().expect("this program");
    let by_call = has_strace() && round % 2 == 1;
    let mut command = if by_call {
        killed_at(this, 30 + (round * 7919) % calls)
    } else {
        Command::new(this)
    };
    let mut child = command
        .args(["--exact", test, "--nocapture"])
        .env(BOOK, path)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    let out = child.stdout.take().expect("its output");
    let mut err = child.stderr.take().expect("its errors");
    let errors = std::thread::spawn(move || {
        let mut text = String::new();
        err.read_to_string(&mut text).map(|_| text)
    });
    let reader = std::thread::spawn(move || {
        let lines = BufReader::new(out).lines().map_while(Result::ok);
        lines
            .filter_map(|line| Some(line.split_once("answered ")?.1.to_owned()))
            .collect()
    });
    let mut ended = None;
    if by_call {
        // At the call that was chosen, or when it has had its time.
        for _ in 0..400 {
            ended = child.try_wait().expect("asked");
            if ended.is_some() {
                break;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    } else {
        // At another point of the work each time.
        std::thread::sleep(Duration::from_millis(15 + (round * 37) % 400));
    }
    let at_call = ended.is_some_and(was_killed);
    let _ = child.kill();
    let ended = child.wait().expect("gone");
    let said = reader.join().expect("read");
    let errors = errors.join().expect("read").unwrap_or_default();
    assert!(
        was_killed(ended) || ended.success(),
        "round {round}: it broke before it was killed: {errors}"
    );
    kills.count(ended, at_call);
    said
}

/// Keeps and edits without end, and says each case that has been answered for.
fn write_until_killed(path: &Path) {
    let mut book = Casebook::open_without_backup(path).expect("it opens");
    for n in 0.. {
        let kept = book.keep(case(format!("Case {n}"))).expect("kept");
        let edited = case(format!("Case {n} edited"));
        book.edit(kept.id, kept.version, edited).expect("edited");
        say(&kept.id.to_string());
    }
}

#[test]
fn nothing_answered_for_is_lost() {
    if let Some(path) = std::env::var_os(BOOK) {
        return write_until_killed(Path::new(&path));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    let (mut answered, mut kills) = (Vec::new(), Kills::default());
    for round in 0..rounds() {
        let said = killed(
            &mut kills,
            "nothing_answered_for_is_lost",
            &path,
            round,
            900,
        );
        answered.extend(said.iter().filter_map(|id| id.parse::<i64>().ok()));
        let book = Casebook::open_without_backup(&path).expect("it opens after a kill");
        book.check().expect("it is sound after a kill");
        for id in &answered {
            let kept = book.get(CaseId(*id)).expect("answered for");
            assert!(
                kept.case.name.ends_with("edited"),
                "case {id}: {}",
                kept.case.name
            );
        }
    }
    assert!(
        answered.len() > 8,
        "only {} cases were written",
        answered.len()
    );
    kills.tell("who keeps and edits", ALL_IS_WELL);
}

/// Between the last page that is written for a case and the answer the disk is waited for:
/// else a loss of power would take what was answered for.
#[test]
fn an_answer_waits_for_the_disk() {
    const NAME: &str = "an_answer_waits_for_the_disk";
    const CASES: usize = 5;
    if let Some(path) = std::env::var_os(BOOK) {
        let mut book = Casebook::open_without_backup(Path::new(&path)).expect("it opens");
        for n in 0..CASES {
            let kept = book.keep(case(format!("Case {n}"))).expect("kept");
            say(&kept.id.to_string());
        }
        return;
    }
    if !has_strace() {
        return;
    }
    let folder = tempfile::tempdir().expect("a folder");
    let calls = folder.path().join("calls");
    let ended = Command::new("strace")
        .args(["-f", "-qq", "-s", "200", "-e"])
        .args(["trace=pwrite64,write,fsync,fdatasync", "-o"])
        .arg(&calls)
        .arg(std::env::current_exe().expect("this program"))
        .args(["--exact", NAME, "--nocapture"])
        .env(BOOK, folder.path().join("casebook.sqlite"))
        .output()
        .expect("it ends");
    assert!(ended.status.success());
    let (mut waits, mut answers) = (false, 0);
    let calls = std::fs::read_to_string(calls).expect("its calls");
    // Each line begins with the number of the process.
    for call in calls.lines().filter_map(|line| line.split_once(' ')) {
        let call = call.1.trim_start();
        if call.starts_with("pwrite64(") {
            waits = true;
        } else if call.starts_with("fsync(") || call.starts_with("fdatasync(") {
            waits = false;
        } else if call.starts_with("write(") && call.contains("answered ") {
            assert!(!waits, "answered before the disk had it");
            answers += 1;
        }
    }
    assert_eq!(answers, CASES);
}

/// How the words begin of which each stands in one case alone.
const SECRET: &str = "zanzibarkhanate";

fn secret(id: i64) -> String {
    format!("{SECRET}{id:06}end")
}

/// The cases whose words stand in some file of a folder, each file read once.
fn standing_in(folder: &Path) -> BTreeSet<i64> {
    let mut found = BTreeSet::new();
    for file in files(folder) {
        let bytes = std::fs::read(file).unwrap_or_default();
        let text = String::from_utf8_lossy(&bytes);
        let ends = text.split(SECRET).skip(1);
        let ids = ends.filter_map(|rest| rest.split_once("end")?.0.parse::<i64>().ok());
        found.extend(ids);
    }
    found
}

/// Keeps, makes backups, and deletes every other case, without end.
fn delete_until_killed(path: &Path) {
    let mut book = Casebook::open(path).expect("it opens");
    for n in 0.. {
        let kept = book.keep(case("To be named".to_owned())).expect("kept");
        let named = case(secret(kept.id.0));
        book.edit(kept.id, kept.version, named).expect("named");
        say(&format!("keep {}", kept.id));
        if n % 3 == 0 {
            book.back_up(&format!("copy-{}", n % 4)).expect("copied");
        }
        if n % 2 == 0 {
            say(&format!("begin {}", kept.id));
            let deleted = book.delete(kept.id).expect("deleted");
            assert_eq!(deleted.left, []);
            say(&format!("delete {}", kept.id));
        }
    }
}

#[test]
fn what_was_deleted_is_gone_however_it_was_broken_off() {
    const NAME: &str = "what_was_deleted_is_gone_however_it_was_broken_off";
    if let Some(path) = std::env::var_os(BOOK) {
        return delete_until_killed(Path::new(&path));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    let (mut kept, mut begun) = (BTreeSet::<i64>::new(), BTreeSet::<i64>::new());
    let mut kills = Kills::default();
    for round in 0..rounds() {
        for said in killed(&mut kills, NAME, &path, round, 900) {
            let (what, id) = said.split_once(' ').unwrap_or_default();
            if let Ok(id) = id.parse() {
                if what == "keep" {
                    kept.insert(id);
                } else {
                    begun.insert(id);
                }
            }
        }
        let book = Casebook::open(&path).expect("it opens after a kill");
        assert_eq!(book.notices(), Vec::<String>::new(), "round {round}");
        book.check().expect("it is sound after a kill");
        drop(book);
        let standing = standing_in(folder.path());
        let book = Casebook::open_without_backup(&path).expect("it opens");
        for id in &kept {
            let stands = standing.contains(id);
            match (book.get(CaseId(*id)), begun.contains(id)) {
                (Ok(_), false) => assert!(stands, "case {id} is kept"),
                // Begun, and killed before the book had it.
                (Ok(_), true) => {}
                (Err(_), true) => assert!(!stands, "round {round}: case {id} was deleted"),
                (Err(why), false) => panic!("round {round}: case {id} is lost: {why}"),
            }
        }
    }
    assert!(kept.len() > 8, "only {} cases were written", kept.len());
    kills.tell("who keeps, deletes and makes backups", ALL_IS_WELL);
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.push(path);
        }
    }
    found
}

/// Restores one backup and the other in turn, without end.
fn restore_until_killed(path: &Path) {
    for n in 0.. {
        let name = if n % 2 == 0 { "three" } else { "five" };
        Casebook::restore(path, name).expect("restored");
        say(name);
    }
}

#[test]
fn a_restoration_ends_in_one_book_or_the_other() {
    const NAME: &str = "a_restoration_ends_in_one_book_or_the_other";
    if let Some(path) = std::env::var_os(BOOK) {
        return restore_until_killed(Path::new(&path));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    let mut book = Casebook::open_without_backup(&path).expect("it opens");
    for n in 1..=5 {
        book.keep(case(format!("Case {n}"))).expect("kept");
        if n == 3 {
            book.back_up("three").expect("backed up");
        }
    }
    book.back_up("five").expect("backed up");
    drop(book);
    let mut kills = Kills::default();
    for round in 0..rounds() {
        killed(&mut kills, NAME, &path, round, 900);
        let book = Casebook::open_without_backup(&path).expect("it opens after a kill");
        let cases = book.len().expect("counted");
        assert!(cases == 3 || cases == 5, "round {round}: {cases} cases");
        book.check().expect("it is sound after a kill");
        drop(book);
        // What was set aside would fill the disk in a long ordeal.
        for file in files(folder.path()) {
            if file.to_string_lossy().contains(".before-") {
                std::fs::remove_file(file).expect("removed");
            }
        }
    }
    kills.tell("who restores backups", ALL_IS_WELL);
}

/// A book as the first version made it.
fn old_book(path: &Path, cases: usize) {
    let raw = rusqlite::Connection::open(path).expect("opens");
    raw.execute_batch(
        "PRAGMA journal_mode = WAL;
        PRAGMA application_id = 0x414c4d55;
        CREATE TABLE cases (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
            version INTEGER NOT NULL,
            kept_unix_s INTEGER NOT NULL,
            changed_unix_s INTEGER NOT NULL,
            document TEXT NOT NULL
        ) STRICT;
        CREATE TABLE tags (
            tag TEXT NOT NULL,
            case_id INTEGER NOT NULL REFERENCES cases(id) ON DELETE CASCADE,
            PRIMARY KEY (tag, case_id)
        ) STRICT, WITHOUT ROWID;
        CREATE INDEX tags_of_case ON tags(case_id);
        CREATE TABLE done (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            case_id INTEGER NOT NULL REFERENCES cases(id) ON DELETE CASCADE,
            at_unix_s INTEGER NOT NULL,
            before TEXT
        ) STRICT;
        CREATE INDEX done_to_case ON done(case_id);
        PRAGMA user_version = 1;",
    )
    .expect("made");
    for n in 0..cases {
        let document = serde_json::to_string(&case(format!("Case {n}"))).expect("text");
        raw.execute(
            "INSERT INTO cases(version, kept_unix_s, changed_unix_s, document)
             VALUES (1, 0, 0, ?1)",
            [document],
        )
        .expect("kept");
    }
}

/// Brings a book of the first version up to date.
fn migrate(path: &Path) {
    Casebook::open(path).expect("it opens");
    say("up to date");
}

#[test]
fn an_old_book_is_of_one_version_or_the_other() {
    const NAME: &str = "an_old_book_is_of_one_version_or_the_other";
    if let Some(path) = std::env::var_os(BOOK) {
        return migrate(Path::new(&path));
    }
    const CASES: usize = 40;
    let mut kills = Kills::default();
    for round in 0..rounds() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("casebook.sqlite");
        old_book(&path, CASES);
        killed(&mut kills, NAME, &path, round, 150);
        let book = Casebook::open(&path).expect("it opens after a kill");
        book.check().expect("it is sound after a kill");
        let found = book.find("", CASES + 1).expect("listed").cases;
        assert_eq!(found.len(), CASES, "round {round}");
        assert!(found.iter().all(|kept| kept.case.note.len() > 1000));
    }
    kills.tell("who brings an old book up to date", ALL_IS_WELL);
}
