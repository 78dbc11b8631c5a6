//! What goes wrong from outside: flipped bits, exchanged pages, deletions and
//! restorations that are broken off, several programs at once.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use casebook::{Case, CaseId, Casebook, CasebookError};
use ordeal::{Dice, tell, times};
use rusqlite::Connection;
use tempfile::TempDir;

fn case(name: &str) -> Case {
    Case {
        name: name.to_owned(),
        when: "2024-05-14 09:20".to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        note: format!("what was said of {name}"),
        tags: vec!["tried".to_owned()],
        ..Case::default()
    }
}

fn fresh() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    (folder, path)
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

fn holding(folder: &Path, word: &str) -> Vec<PathBuf> {
    let holds = |file: &PathBuf| {
        let bytes = std::fs::read(file).unwrap_or_default();
        bytes
            .windows(word.len())
            .any(|window| window.eq_ignore_ascii_case(word.as_bytes()))
    };
    files(folder).into_iter().filter(holds).collect()
}

/// A book of some pages, closed, as bytes.
fn book_of(path: &Path, cases: usize) -> (Vec<Case>, Vec<u8>) {
    let kept: Vec<Case> = (0..cases).map(|n| case(&format!("Case {n}"))).collect();
    let mut book = Casebook::open_without_backup(path).expect("opens");
    book.keep_all(kept.clone()).expect("kept");
    drop(book);
    (kept, std::fs::read(path).expect("read"))
}

/// That nothing is shown that was not kept, and whether something was noticed.
fn is_noticed(path: &Path, kept: &[Case]) -> bool {
    let Ok(book) = Casebook::open_without_backup(path) else {
        return true;
    };
    let shown = book.find("", kept.len() + 9);
    let mut whole = false;
    if let Ok(found) = &shown {
        for one in &found.cases {
            let number = usize::try_from(one.id.0 - 1).expect("a number");
            assert_eq!(
                Some(&one.case),
                kept.get(number),
                "case {} read wrong",
                one.id
            );
        }
        whole = found.cases.len() == kept.len();
    }
    !whole || book.check().is_err()
}

/// No flipped bit makes a case read otherwise than it was kept; one in a case's own
/// bytes is found by `check`.
#[test]
fn no_flipped_bit_is_read_as_if_it_were_kept() {
    let (_folder, path) = fresh();
    let (kept, bytes) = book_of(&path, 60);
    let notes: Vec<usize> = (0..bytes.len() - 8)
        .filter(|at| bytes[*at..].starts_with(b"what was said"))
        .collect();
    assert!(notes.len() >= 60, "{}", notes.len());
    let mut dice = Dice::seeded(20_241_126);
    let rounds = times(160, 1000);
    let mut unnoticed = 0;
    for round in 0..rounds {
        // Every other one in the words of a case.
        let in_case = round % 2 == 0;
        let at = if in_case {
            notes[dice.below(notes.len())] + dice.below(24)
        } else {
            dice.below(bytes.len())
        };
        let mut spoiled = bytes.clone();
        spoiled[at] ^= 1 << dice.below(8);
        std::fs::write(&path, &spoiled).expect("written");
        let noticed = is_noticed(&path, &kept);
        assert!(noticed || !in_case, "byte {at} in a case's own words");
        unnoticed += u64::from(!noticed);
    }
    tell(
        "single bits flipped in a casebook, every other one in a case's words",
        rounds,
        &format!(
            "none read wrong; {unnoticed} where they change nothing that is kept, the others noticed"
        ),
    );
}

/// One page in the place of another, or no more pages from one on.
#[test]
fn a_doubled_exchanged_or_truncated_page_is_noticed() {
    const PAGE: usize = 4096;
    let (_folder, path) = fresh();
    let (kept, bytes) = book_of(&path, 200);
    let pages = bytes.len() / PAGE;
    let mut dice = Dice::seeded(7);
    let rounds = times(200, 1000);
    let mut harmless = 0;
    for _ in 0..rounds {
        let (from, to) = (1 + dice.below(pages - 1), 1 + dice.below(pages - 1));
        let mut spoiled = bytes.clone();
        if dice.below(3) == 0 {
            // In the middle of a page, or at its end.
            spoiled.truncate(from * PAGE + dice.below(2) * dice.below(PAGE));
            std::fs::write(&path, &spoiled).expect("written");
            if !is_noticed(&path, &kept) {
                // What is missing at the end of the last page is read as zeros.
                let cut = &bytes[spoiled.len()..];
                let is_empty = cut.len() < PAGE && cut.iter().all(|byte| *byte == 0);
                assert!(is_empty, "cut off in page {from} of {pages}");
                harmless += 1;
            }
            continue;
        }
        spoiled.copy_within(from * PAGE..(from + 1) * PAGE, to * PAGE);
        if dice.below(2) == 0 {
            spoiled[from * PAGE..(from + 1) * PAGE]
                .copy_from_slice(&bytes[to * PAGE..(to + 1) * PAGE]);
        }
        if spoiled != bytes {
            std::fs::write(&path, &spoiled).expect("written");
            assert!(is_noticed(&path, &kept), "page {from} over {to}");
        }
    }
    tell(
        "pages doubled, exchanged or cut off",
        rounds,
        &format!(
            "none read wrong; {harmless} where the empty end of the last page was cut off, the others noticed"
        ),
    );
}

/// Changes a file as an old page in the place of a new one does: without the triggers that
/// keep count.
fn behind_its_back(path: &Path, change: &str) {
    let raw = Connection::open(path).expect("opens");
    let triggers: Vec<(String, String)> = raw
        .prepare(
            "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = 'cases'",
        )
        .expect("asked")
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .expect("asked")
        .collect::<Result<_, _>>()
        .expect("read");
    assert_eq!(triggers.len(), 3);
    for (name, _) in &triggers {
        raw.execute_batch(&format!("DROP TRIGGER {name}"))
            .expect("dropped");
    }
    raw.execute_batch(change).expect("changed");
    for (_, sql) in &triggers {
        raw.execute_batch(sql).expect("made again");
    }
}

#[test]
fn a_case_that_is_missing_is_noticed_by_the_count() {
    let (_folder, path) = fresh();
    drop(book_of(&path, 5));
    behind_its_back(
        &path,
        "DELETE FROM words WHERE rowid = 3; DELETE FROM tags WHERE case_id = 3;
         DELETE FROM done WHERE case_id = 3; DELETE FROM cases WHERE id = 3;",
    );
    let book = Casebook::open_without_backup(&path).expect("opens");
    let error = book.check().expect_err("one is missing").to_string();
    assert!(
        error.contains("5 cases were kept, and 4 are there"),
        "{error}"
    );
}

/// A case as it was before it was edited, whole and with its own checksum.
#[test]
fn an_old_case_in_the_place_of_a_new_one_is_noticed() {
    let (_folder, path) = fresh();
    drop(book_of(&path, 5));
    let raw = Connection::open(&path).expect("opens");
    let (changed, document, checksum): (i64, String, i64) = raw
        .query_row(
            "SELECT changed_unix_s, document, checksum FROM cases WHERE id = 3",
            [],
            |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
        )
        .expect("read");
    drop(raw);
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    let kept = book.get(CaseId(3)).expect("there");
    let edited = Case {
        houses: Some("porphyry".to_owned()),
        ..kept.case
    };
    book.edit(kept.id, kept.version, edited).expect("edited");
    book.check().expect("sound");
    drop(book);
    behind_its_back(
        &path,
        &format!(
            "UPDATE cases SET version = 1, changed_unix_s = {changed}, checksum = {checksum},
             document = '{document}' WHERE id = 3;"
        ),
    );
    let book = Casebook::open_without_backup(&path).expect("opens");
    assert_eq!(book.get(CaseId(3)).expect("by itself").case.houses, None);
    let error = book.check().expect_err("not what was kept").to_string();
    assert!(
        error.contains("the cases that are there are not those that were kept"),
        "{error}"
    );
}

/// What a case was before its last change is known by a checksum of its own.
#[test]
fn what_could_be_undone_is_not_undone_into_something_else() {
    let (_folder, path) = fresh();
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    let kept = book.keep(case("Before")).expect("kept");
    let edited = book
        .edit(kept.id, kept.version, case("After"))
        .expect("edited");
    drop(book);
    behind_its_back(
        &path,
        "UPDATE done SET before = replace(before, 'Before', 'Nobody') WHERE before IS NOT NULL;",
    );
    let mut book = Casebook::open_without_backup(&path).expect("opens, to look");
    let error = book.check().expect_err("spoiled").to_string();
    assert!(error.contains("what could be undone is spoiled"), "{error}");
    book.undo().expect_err("spoiled");
    assert_eq!(book.get(kept.id).expect("there"), edited);
}

/// One case that cannot be read is told by its number; the others are listed, and it
/// can be deleted.
#[test]
fn one_unreadable_case_hides_no_other() {
    let (_folder, path) = fresh();
    drop(book_of(&path, 5));
    let raw = Connection::open(&path).expect("opens");
    for document in [
        "{\"name\":\"Someone else\"}",
        "{\"name\":\"\u{fffd}\",\"what\":1}",
    ] {
        raw.execute("UPDATE cases SET document = ?1 WHERE id = 3", [document])
            .expect("spoiled");
        let mut book = Casebook::open(&path).expect("opens");
        assert!(
            book.notices()[0].starts_with("case 3"),
            "{:?}",
            book.notices()
        );
        assert!(book.backups().expect("listed").is_empty(), "none of this");
        let other = book.keep(case("Another")).expect("kept");
        book.delete(other.id).expect("deleted");
        let found = book.find("", 9).expect("listed");
        assert_eq!(found.cases.len(), 4);
        assert_eq!(found.unreadable[0].id, CaseId(3));
        assert!(!found.more);
        assert!(book.to_correct(9).is_ok(), "today's list");
        let error = book.get(CaseId(3)).expect_err("spoiled");
        assert!(error.to_string().starts_with("case 3 is not"), "{error}");
        let error = book.check().expect_err("spoiled");
        assert!(error.to_string().contains("case 3"), "{error}");
        let written = casebook::write_json(&book, None, &mut Vec::new());
        assert!(written.is_err(), "no whole book goes out");
    }
    drop(raw);
    let mut book = Casebook::open(&path).expect("opens");
    assert_eq!(book.delete(CaseId(3)).expect("deleted").left, []);
    book.check().expect("sound again");
    drop(book);
    let book = Casebook::open(&path).expect("opens");
    assert_eq!(book.notices(), Vec::<String>::new());
    assert_eq!(book.backups().expect("listed").len(), 1);
}

#[test]
fn a_deletion_that_cannot_reach_a_backup_says_so_and_is_gone_on_with() {
    const SECRET: &str = "Zanzibarkhanate";
    let (folder, path) = fresh();
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    book.keep(case("Other")).expect("kept");
    let kept = book.keep(case(SECRET)).expect("kept");
    let whole = book.back_up("whole").expect("backed up").path;
    let spoiled = book.back_up("spoiled").expect("backed up").path;
    // Half made, and set aside behind a gap in the numbers.
    let part = folder.path().join("casebook-backups").join("left.part");
    std::fs::copy(&whole, part).expect("copied");
    let aside = folder.path().join("casebook.sqlite.before-7");
    std::fs::copy(&whole, aside).expect("copied");
    let good = std::fs::read(&spoiled).expect("read");
    let half: Vec<u8> = good
        .iter()
        .map(|byte| if *byte == 0 { 9 } else { *byte })
        .collect();
    std::fs::write(&spoiled, half).expect("spoiled");

    let deleted = book.delete(kept.id).expect("begun");
    let [left] = deleted.left.as_slice() else {
        panic!("one file is left: {deleted:?}");
    };
    assert_eq!(left.path, spoiled);
    assert!(left.why.contains("damaged"), "{left}");
    assert_eq!(
        holding(folder.path(), SECRET),
        std::slice::from_ref(&spoiled)
    );
    assert!(matches!(book.get(kept.id), Err(CasebookError::NoCase(_))));
    drop(book);
    let book = Casebook::open(&path).expect("opens");
    assert!(
        book.notices()
            .iter()
            .any(|notice| notice.contains("spoiled.sqlite")),
        "{:?}",
        book.notices()
    );
    drop(book);
    // Mended, it is reached at the next opening.
    std::fs::write(&spoiled, good).expect("mended");
    let book = Casebook::open(&path).expect("opens");
    assert_eq!(book.notices(), Vec::<String>::new());
    assert_eq!(holding(folder.path(), SECRET), Vec::<PathBuf>::new());
}

#[test]
fn a_deletion_waits_for_whoever_reads_the_log() {
    const SECRET: &str = "Zanzibarkhanate";
    let (folder, path) = fresh();
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    let kept = book.keep(case(SECRET)).expect("kept");
    let reader = Connection::open(&path).expect("opens");
    reader
        .execute_batch("BEGIN; SELECT * FROM cases")
        .expect("reads");
    let deleted = book.delete(kept.id).expect("begun");
    assert!(
        deleted.left.iter().any(|left| left.why.contains("reading")),
        "{deleted:?}"
    );
    reader.execute_batch("COMMIT").expect("done");
    drop((reader, book));
    let book = Casebook::open(&path).expect("opens");
    assert_eq!(book.notices(), Vec::<String>::new());
    assert_eq!(holding(folder.path(), SECRET), Vec::<PathBuf>::new());
}

/// A backup that still has what was deleted comes back without it.
#[test]
fn what_was_deleted_does_not_come_back_with_a_backup() {
    let (_folder, path) = fresh();
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    book.keep(case("Other")).expect("kept");
    let kept = book.keep(case("Gone")).expect("kept");
    let backup = book.back_up("with").expect("backed up").path;
    let bytes = std::fs::read(&backup).expect("read");
    // Out of reach while the case is deleted.
    std::fs::write(&backup, b"spoiled").expect("spoiled");
    book.delete(kept.id).expect("begun");
    drop(book);
    std::fs::write(&backup, bytes).expect("mended");
    Casebook::restore(&path, "with").expect("restored");
    let book = Casebook::open_without_backup(&path).expect("opens");
    assert_eq!(book.find("Gone", 9).expect("looked for").cases.len(), 0);
    assert_eq!(book.find("Other", 9).expect("looked for").cases.len(), 1);
}

/// A deletion that could not reach a backup is gone on with by the book that is restored
/// meanwhile, though the case never stood in that one.
#[test]
fn a_restored_book_goes_on_with_a_deletion() {
    const SECRET: &str = "Zanzibarkhanate";
    let (folder, path) = fresh();
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    book.keep(case("Other")).expect("kept");
    book.back_up("without").expect("backed up");
    let kept = book.keep(case(SECRET)).expect("kept");
    let backup = book.back_up("with").expect("backed up").path;
    let bytes = std::fs::read(&backup).expect("read");
    // Out of reach while the case is deleted.
    std::fs::write(&backup, b"spoiled").expect("spoiled");
    assert_eq!(book.delete(kept.id).expect("begun").left.len(), 1);
    drop(book);
    Casebook::restore(&path, "without").expect("restored");
    std::fs::write(&backup, bytes).expect("mended");
    let book = Casebook::open(&path).expect("opens");
    assert_eq!(book.notices(), Vec::<String>::new());
    assert_eq!(holding(folder.path(), SECRET), Vec::<PathBuf>::new());
}

/// As a restoration that was killed leaves them: after its note, after each of the
/// names that it changes.
#[test]
fn a_restoration_that_was_broken_off_is_gone_on_with() {
    for stage in 0..3 {
        let (folder, path) = fresh();
        let (kept, _) = book_of(&path, 3);
        let book = Casebook::open_without_backup(&path).expect("opens");
        let backup = book.back_up("three").expect("backed up").path;
        drop(book);
        let mut book = Casebook::open_without_backup(&path).expect("opens");
        book.keep(case("Fourth")).expect("kept");
        drop(book);
        let beside = |end: &str| folder.path().join(format!("casebook.sqlite.{end}"));
        std::fs::copy(&backup, beside("restored.part")).expect("copied");
        std::fs::write(beside("restoring"), "casebook.sqlite.before-1").expect("noted");
        if stage > 0 {
            std::fs::rename(&path, beside("before-1")).expect("set aside");
        }
        if stage > 1 {
            std::fs::rename(beside("restored.part"), &path).expect("in its place");
        }
        let book = Casebook::open_without_backup(&path).expect("opens");
        let found = book.find("", 9).expect("listed").cases;
        assert_eq!(found.len(), kept.len(), "stage {stage}");
        drop(book);
        let before = Casebook::open_without_backup(&beside("before-1")).expect("opens");
        assert_eq!(before.len().expect("counted"), 4, "stage {stage}");
        assert!(!beside("restoring").exists() && !beside("restored.part").exists());
    }
}

/// By which the same test knows that it is one of the writers.
const BOOK: &str = "ALMURI_TEST_SHARED_CASEBOOK";

fn keep_many(path: &Path) {
    for n in 0..kept_by_each() {
        // Opened anew each time, as the command line does.
        let mut book = Casebook::open(path).expect("opens");
        book.keep(case(&format!("{} of {}", n, std::process::id())))
            .expect("kept");
    }
}

const WRITERS: u64 = 8;

fn kept_by_each() -> u64 {
    times(20, 500)
}

#[test]
fn many_programs_keep_all_and_make_one_backup() {
    if let Some(path) = std::env::var_os(BOOK) {
        return keep_many(Path::new(&path));
    }
    let (_folder, path) = fresh();
    let writers: Vec<_> = (0..WRITERS)
        .map(|_| {
            Command::new(std::env::current_exe().expect("this program"))
                .args([
                    "--exact",
                    "many_programs_keep_all_and_make_one_backup",
                    "--nocapture",
                ])
                .env(BOOK, &path)
                .stdout(Stdio::null())
                .stderr(Stdio::piped())
                .spawn()
                .expect("it starts")
        })
        .collect();
    for writer in writers {
        let ended = writer.wait_with_output().expect("it ends");
        assert!(
            ended.status.success(),
            "{}",
            String::from_utf8_lossy(&ended.stderr)
        );
    }
    let book = Casebook::open(&path).expect("opens");
    assert_eq!(book.len().expect("counted"), WRITERS * kept_by_each());
    book.check().expect("sound");
    assert_eq!(book.backups().expect("listed").len(), 1);
    tell(
        "cases kept by 8 processes at once, each opening the book anew, from the day's first opening on",
        WRITERS * kept_by_each(),
        "all kept, one backup",
    );
}

#[cfg(unix)]
#[test]
fn other_accounts_may_read_nothing() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().expect("a folder");
    let own = folder.path().join("own");
    let path = own.join("casebook.sqlite");
    let mut book = Casebook::open(&path).expect("opens");
    book.keep(case("Private")).expect("kept");
    book.back_up("copy").expect("backed up");
    let leave = |path: &Path| path.metadata().expect("there").permissions().mode() & 0o777;
    for file in files(&own) {
        assert_eq!(leave(&file) & 0o077, 0, "{}", file.display());
    }
    assert_eq!(leave(&own), 0o700);
    assert_eq!(leave(&own.join("casebook-backups")), 0o700);
    // As an earlier version left it.
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o644)).expect("opened");
    Casebook::close_to_others(&path);
    assert_eq!(leave(&path), 0o600);
}
