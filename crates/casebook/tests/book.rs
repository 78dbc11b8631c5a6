//! Keeping, finding, editing, undoing, deleting, and what may go wrong.

use std::path::{Path, PathBuf};

use casebook::{Case, CaseId, Casebook, CasebookError, GivenMark, Reading, Undone};
use rusqlite::Connection;
use tempfile::TempDir;

fn case(name: &str) -> Case {
    Case {
        name: name.to_owned(),
        when: "1391-03-12 09:00".to_owned(),
        at: "Oxford, United Kingdom".to_owned(),
        ..Case::default()
    }
}

fn full(name: &str) -> Case {
    Case {
        zone: Some("Europe/London".to_owned()),
        clock: Some("sun".to_owned()),
        calendar: Some("julian".to_owned()),
        houses: Some("alcabitius".to_owned()),
        with: Some("class instrument".to_owned()),
        by: Some("turning".to_owned()),
        readings: vec![Reading {
            what: "ascendant".to_owned(),
            degree: "20 Gemini".to_owned(),
            who: Some("a pupil".to_owned()),
        }],
        marks: vec![GivenMark {
            what: "the setting".to_owned(),
            mark: "7/10".to_owned(),
            remark: "the hour, not the degree".to_owned(),
        }],
        note: "Per aventure, with Éléonore".to_owned(),
        tags: vec![
            "treatise".to_owned(),
            " lesson 3 ".to_owned(),
            "treatise".to_owned(),
        ],
        ..case(name)
    }
}

fn fresh() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    (folder, path)
}

fn open(path: &Path) -> Casebook {
    Casebook::open(path).expect("it opens")
}

#[test]
fn what_is_kept_is_there_after_closing() {
    let (_folder, path) = fresh();
    let kept = open(&path).keep(full("Chaucer")).expect("kept");
    let found = open(&path).get(kept.id).expect("there");
    assert_eq!(found, kept);
    assert_eq!(found.case.tags, ["lesson 3", "treatise"]);
    assert_eq!(found.case.readings[0].degree, "20 Gemini");
}

#[test]
fn words_are_found_by_their_beginnings_without_accents() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    book.keep(full("Chaucer's morning")).expect("kept");
    book.keep(case("Another")).expect("kept");
    let count = |words: &str| book.find(words, 10).expect("searched").cases.len();
    for (words, expected) in [
        ("", 2),
        ("chau", 1),
        ("ELEONORE", 1),
        ("aventure eleo", 1),
        ("oxford", 2),
        ("1391", 2),
        ("treatise", 1),
        ("nothing", 0),
        ("\" OR * NEAR(", 0),
        ("'; --", 2),
    ] {
        assert_eq!(count(words), expected, "{words}");
    }
    let found = book.find("oxford", 1).expect("searched");
    assert!(
        found.more && found.cases[0].case.name == "Another",
        "the last first"
    );
    assert_eq!(book.tagged("treatise", 5).expect("searched").cases.len(), 1);
    assert_eq!(
        book.tags().expect("tags"),
        [("lesson 3".to_owned(), 1), ("treatise".to_owned(), 1)]
    );
}

#[test]
fn edits_are_undone_one_after_another() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    let kept = book.keep(case("First")).expect("kept");
    let second = book
        .edit(kept.id, kept.version, case("Second"))
        .expect("edited");
    book.edit(kept.id, second.version, case("Third"))
        .expect("edited");
    drop(book);
    let mut book = open(&path);
    for (name, gone) in [("Second", "Third"), ("First", "Second")] {
        let Undone::Restored(now) = book.undo().expect("undone") else {
            panic!("restored");
        };
        assert_eq!(now.case.name, name);
        assert_eq!(book.find(name, 9).expect("searched").cases.len(), 1);
        assert!(book.find(gone, 9).expect("searched").cases.is_empty());
    }
    assert_eq!(
        book.undo().expect("undone"),
        Undone::Removed(kept.id, "First".to_owned())
    );
    assert!(matches!(book.undo(), Err(CasebookError::NothingToUndo)));
    assert!(book.is_empty().expect("counted"));
}

#[test]
fn an_edit_from_an_old_state_is_refused() {
    let (_folder, path) = fresh();
    let (mut mine, mut other) = (open(&path), open(&path));
    let kept = mine.keep(case("Shared")).expect("kept");
    other
        .edit(kept.id, kept.version, case("Theirs"))
        .expect("edited");
    let refused = mine.edit(kept.id, kept.version, case("Mine"));
    assert!(matches!(refused, Err(CasebookError::Changed(_))));
    assert_eq!(mine.get(kept.id).expect("there").case.name, "Theirs");
}

#[test]
fn all_cases_of_a_list_are_kept_or_none() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    let error = book
        .keep_all(vec![case("Good"), case("  ")])
        .expect_err("one has no name");
    assert_eq!(
        error.to_string(),
        "this case cannot be kept: a name is missing"
    );
    assert!(book.is_empty().expect("counted"));
    assert!(matches!(book.get(CaseId(1)), Err(CasebookError::NoCase(_))));
}

fn holds(file: &Path, word: &str) -> bool {
    let bytes = std::fs::read(file).unwrap_or_default();
    bytes
        .windows(word.len())
        .any(|window| window.eq_ignore_ascii_case(word.as_bytes()))
}

/// The words stand in no file of the folder: not in the book, its log, or a backup.
#[test]
fn what_is_deleted_is_gone_from_every_file() {
    const SECRET: &str = "Zanzibarkhanate";
    let (folder, path) = fresh();
    let mut book = open(&path);
    for n in 0..200 {
        book.keep(case(&format!("Case {n}"))).expect("kept");
    }
    let kept = book.keep(full(SECRET)).expect("kept");
    let edited = Case {
        note: format!("{SECRET} again"),
        ..full(SECRET)
    };
    book.edit(kept.id, kept.version, edited).expect("edited");
    book.back_up("2024-01-01").expect("backed up");
    book.back_up("by-hand").expect("backed up");
    assert!(
        files(folder.path())
            .iter()
            .filter(|file| holds(file, SECRET))
            .count()
            >= 3
    );

    book.delete(kept.id).expect("deleted");
    for file in files(folder.path()) {
        assert!(!holds(&file, SECRET), "{}", file.display());
    }
    assert_eq!(book.len().expect("counted"), 200);
    book.check().expect("sound");
    // From what a restoration sets aside as well.
    let again = book.keep(full(SECRET)).expect("kept");
    book.back_up("with").expect("backed up");
    drop(book);
    Casebook::restore(&path, "with").expect("restored");
    let mut book = open(&path);
    book.delete(again.id).expect("deleted");
    for file in files(folder.path()) {
        assert!(!holds(&file, SECRET), "{}", file.display());
    }
    // What could be undone of it is gone too, the rest is not.
    assert!(matches!(book.undo().expect("undone"), Undone::Removed(..)));
    drop(book);
    for file in files(folder.path()) {
        assert!(!holds(&file, SECRET), "{}", file.display());
    }
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

/// After a restoration numbers begin again where the backup ended; a later backup
/// may have another case under the same number, which is left alone.
#[test]
fn a_deletion_takes_the_same_case_from_the_backups_and_no_other() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    book.keep(case("One")).expect("kept");
    book.back_up("old").expect("backed up");
    book.keep(case("Two before")).expect("kept");
    book.back_up("new").expect("backed up");
    drop(book);
    Casebook::restore(&path, "old").expect("restored");
    let mut book = open(&path);
    let other = book.keep(case("Two after")).expect("kept");
    book.delete(other.id).expect("deleted");
    drop(book);
    Casebook::restore(&path, "new").expect("restored");
    assert_eq!(
        open(&path).find("before", 9).expect("searched").cases.len(),
        1
    );
}

#[test]
fn a_backup_is_made_once_a_day_and_restored() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    assert!(
        book.backups().expect("listed").is_empty(),
        "nothing to keep yet"
    );
    book.keep(case("First")).expect("kept");
    drop(book);
    let mut book = open(&path);
    let today = book.backups().expect("listed");
    assert_eq!(today.len(), 1);
    book.keep(case("Second")).expect("kept");
    drop(book);
    assert_eq!(open(&path).backups().expect("listed"), today, "one a day");

    let error = Casebook::restore(&path, "2020-02-02").expect_err("there is none");
    assert!(error.to_string().contains(&today[0].name), "{error}");
    let aside = Casebook::restore(&path, &today[0].name).expect("restored");
    let book = open(&path);
    assert_eq!(book.len().expect("counted"), 1);
    let before = Casebook::open_without_backup(&aside.expect("set aside")).expect("opens");
    assert_eq!(before.len().expect("counted"), 2, "what was there is kept");
}

#[test]
fn a_backup_lies_nowhere_but_in_its_folder() {
    let (folder, path) = fresh();
    let mut book = open(&path);
    book.keep(case("First")).expect("kept");
    let before = files(folder.path());
    for name in ["", "../outside", "/outside", "a/b", ".", "two words", "é"] {
        let error = book.back_up(name).expect_err(name).to_string();
        assert!(
            error.contains("letters, figures, - and _ would do"),
            "{error}"
        );
    }
    assert_eq!(files(folder.path()), before);
}

#[test]
fn a_damaged_file_is_refused_and_a_backup_takes_its_place() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    for n in 0..300 {
        book.keep(case(&format!("Case {n}"))).expect("kept");
    }
    book.back_up("good").expect("backed up");
    drop(book);
    let whole = std::fs::read(&path).expect("read");
    // The first page, pages within, a cut, and something else altogether.
    let spoiled: [Vec<u8>; 4] = [
        whole
            .iter()
            .enumerate()
            .map(|(n, byte)| if n < 60 { 0x55 } else { *byte })
            .collect(),
        whole
            .iter()
            .enumerate()
            .map(|(n, byte)| if n > 8_192 { 0xAA } else { *byte })
            .collect(),
        whole[..whole.len() / 2].to_vec(),
        b"a letter to a friend, long enough to be looked at. ".repeat(100),
    ];
    for (n, bytes) in spoiled.into_iter().enumerate() {
        std::fs::write(&path, &bytes).expect("written");
        let error = Casebook::open(&path).expect_err("damaged");
        assert!(
            matches!(error, CasebookError::Damaged { .. }),
            "{n}: {error}"
        );
        assert!(error.to_string().contains("casebook-backups"), "{error}");
        assert_eq!(std::fs::read(&path).expect("read"), bytes, "left as it is");
        Casebook::restore(&path, "good").expect("restored");
        let book = open(&path);
        assert_eq!(book.len().expect("counted"), 300);
        book.check().expect("sound");
    }
}

/// Each page in turn is spoiled after the day's backup was made. Opening may not see
/// it, but nothing is written to the file and no backup is made of it.
#[test]
fn nothing_is_written_to_a_damaged_file() {
    let (folder, path) = fresh();
    let mut book = open(&path);
    let ids = book
        .keep_all((0..400).map(|n| full(&format!("Case {n}"))).collect())
        .expect("kept");
    drop(book);
    // With the day's backup.
    drop(open(&path));
    let whole = std::fs::read(&path).expect("read");
    const PAGE: usize = 4096;
    let (mut opened, mut refused) = (0, 0);
    for at in (PAGE..whole.len()).step_by(PAGE) {
        let mut spoiled = whole.clone();
        spoiled[at..at + PAGE].fill(0xAA);
        std::fs::write(&path, &spoiled).expect("written");
        let looks_bad = Connection::open(&path)
            .and_then(|raw| {
                raw.query_row("PRAGMA quick_check(1)", [], |row| row.get::<_, String>(0))
            })
            .map_or(true, |said| said != "ok");
        if !looks_bad {
            // Free pages, or the middle of a long text.
            continue;
        }
        let is_damage = |error: CasebookError| {
            assert!(
                matches!(error, CasebookError::Damaged { .. }),
                "page at {at}: {error}"
            );
        };
        match Casebook::open(&path) {
            Err(error) => {
                is_damage(error);
                refused += 1;
            }
            Ok(mut book) => {
                opened += 1;
                is_damage(book.keep(case("Another")).expect_err("a change"));
                is_damage(book.edit(ids[7], 1, case("Other")).expect_err("an edit"));
                is_damage(book.undo().expect_err("an undoing"));
                is_damage(book.back_up("bad").expect_err("a backup"));
                // What is read is refused too, where it lies there.
                if let Err(error) = book.each(|_| Ok::<(), CasebookError>(())) {
                    assert!(error.to_string().contains("restore a backup"), "{error}");
                }
            }
        }
        assert_eq!(std::fs::read(&path).expect("read"), spoiled, "page at {at}");
    }
    assert!(opened > 20 && refused > 0, "{opened}, {refused}");
    assert_eq!(
        files(folder.path()).len(),
        3,
        "the file, whose turn it is, and the day's backup"
    );
}

/// Sound when it was opened, damaged since: the first change looks and refuses.
#[test]
fn a_file_is_looked_through_before_the_first_change_and_not_at_opening() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    book.keep_all((0..400).map(|n| full(&format!("Case {n}"))).collect())
        .expect("kept");
    drop(book);
    drop(open(&path));
    let mut book = open(&path);
    let mut bytes = std::fs::read(&path).expect("read");
    let middle = bytes.len() / 2 / 4096 * 4096;
    bytes[middle..middle + 4096].fill(0xAA);
    std::fs::write(&path, &bytes).expect("written");
    let error = book.keep(case("Another")).expect_err("looked through now");
    assert!(matches!(error, CasebookError::Damaged { .. }), "{error}");
}

#[test]
fn another_programs_file_is_refused() {
    let (_folder, path) = fresh();
    Connection::open(&path)
        .expect("opens")
        .execute_batch("CREATE TABLE t(x)")
        .expect("made");
    assert!(matches!(
        Casebook::open(&path),
        Err(CasebookError::Damaged { .. })
    ));
}

#[test]
fn a_newer_version_is_refused_and_left_as_it_is() {
    let (_folder, path) = fresh();
    open(&path).keep(case("Later")).expect("kept");
    let connection = Connection::open(&path).expect("opens");
    connection
        .pragma_update(None, "user_version", 99)
        .expect("set");
    connection
        .pragma_update(None, "journal_mode", "DELETE")
        .expect("set");
    drop(connection);
    let before = std::fs::read(&path).expect("read");
    let error = Casebook::open(&path).expect_err("newer");
    assert!(
        error
            .to_string()
            .contains("is of version 99, and this program knows versions up to 5"),
        "{error}"
    );
    assert_eq!(std::fs::read(&path).expect("read"), before);
}

#[test]
fn a_full_disk_changes_nothing() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    let kept = book.keep(case("There")).expect("kept");
    // The file may not grow: what SQLite does when the disk is full.
    let limit: i64 = book.limit_to_present_size().expect("limited");
    assert!(limit > 0);
    let large = Case {
        note: "x".repeat(500_000),
        ..case("Large")
    };
    let error = book.keep(large).expect_err("full");
    assert!(matches!(error, CasebookError::DiskFull), "{error}");
    assert_eq!(book.len().expect("counted"), 1);
    drop(book);
    let mut book = open(&path);
    book.check().expect("sound");
    assert_eq!(book.get(kept.id).expect("there").case.name, "There");
    book.keep(case("Room again")).expect("kept");
}

/// Each of two processes' worth of connections keeps its cases while the other does, and a third
/// that opens the book meanwhile takes it for sound.
#[test]
fn two_writers_lose_nothing() {
    let (_folder, path) = fresh();
    open(&path);
    let writers: Vec<_> = ["left", "right"]
        .map(|name| {
            let path = path.clone();
            std::thread::spawn(move || {
                let mut book = open(&path);
                for n in 0..60 {
                    book.keep(case(&format!("{name} {n}"))).expect("kept");
                }
            })
        })
        .into_iter()
        .collect();
    for _ in 0..25 {
        open(&path);
    }
    for writer in writers {
        writer.join().expect("no panic");
    }
    let book = open(&path);
    assert_eq!(book.len().expect("counted"), 120);
    assert_eq!(book.find("left", 100).expect("searched").cases.len(), 60);
    book.check().expect("sound");
}

#[test]
fn what_was_read_waits_until_a_mark_is_given() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    // A note that says so is not a reading.
    book.keep(Case {
        note: "\"readings\":[{}]".to_owned(),
        ..case("Nothing read")
    })
    .expect("kept");
    let read = book
        .keep(Case {
            readings: vec![Reading {
                what: "ascendant".to_owned(),
                degree: "11 Pisces".to_owned(),
                who: Some("a pupil, invented".to_owned()),
            }],
            ..case("Read")
        })
        .expect("kept");
    let waiting = |book: &Casebook| {
        let found = book.to_correct(9).expect("searched");
        found.cases.iter().map(|kept| kept.id).collect::<Vec<_>>()
    };
    assert_eq!(waiting(&book), [read.id]);
    let marked = Case {
        marks: vec![GivenMark {
            what: "ascendant".to_owned(),
            mark: "good".to_owned(),
            remark: String::new(),
        }],
        ..read.case
    };
    book.edit(read.id, read.version, marked).expect("edited");
    assert_eq!(waiting(&book), []);
    book.undo().expect("undone");
    assert_eq!(waiting(&book), [read.id]);
}

#[test]
fn a_casebook_that_may_only_be_read_says_so() {
    let (_folder, path) = fresh();
    open(&path).keep(full("Chaucer")).expect("kept");
    let connection = Connection::open(&path).expect("opens");
    connection
        .pragma_update(None, "query_only", "ON")
        .expect("set");
    let refused = connection
        .execute("DELETE FROM done", [])
        .expect_err("refused");
    let error = CasebookError::from(refused);
    assert!(matches!(error, CasebookError::ReadOnly), "{error}");
    assert!(error.to_string().contains("may be written to"));
}

/// Cases of a megabyte each: no more are shown than are held at once.
#[test]
fn what_is_shown_at_once_has_a_bound() {
    let (_folder, path) = fresh();
    let mut book = open(&path);
    let large = |n| Case {
        note: "x".repeat(1_000_000),
        ..case(&format!("Case {n}"))
    };
    book.keep_all((0..36).map(large).collect()).expect("kept");
    let found = book.find("", 100).expect("listed");
    assert!(found.more);
    assert_eq!(found.cases.len(), 33, "32 MB of them");
}

#[test]
fn no_text_of_a_case_is_a_mistaken_file() {
    let long = "x".repeat((1 << 20) + 1);
    let mut tagged = case("Tagged");
    tagged.tags.push(long.clone());
    let mut read = full("Read");
    read.readings[0].degree.clone_from(&long);
    let mut drawn = case("Drawn");
    drawn.figure = Some(long);
    for case in [tagged, read, drawn] {
        let why = case.check().expect_err(&case.name);
        assert!(why.contains("is too long"), "{why}");
    }
}
