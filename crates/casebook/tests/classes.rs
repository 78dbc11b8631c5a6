//! Classes and their papers are kept by the rules of cases: versions, undoing, deletion for
//! good, checksums, backups, and carrying out and in.

use casebook::{
    Answer, Answered, Asked, Case, Casebook, CasebookError, Class, ClassId, KeptClass, KeptPaper,
    Paper, Pupil, Undone, read_json, write_json,
};
use tempfile::TempDir;

fn class(pupils: usize) -> Class {
    Class {
        name: "Thursday class".to_owned(),
        place: "Lisbon, Portugal".to_owned(),
        level: "beginner".to_owned(),
        pupils: (1..=pupils)
            .map(|number| Pupil {
                name: format!("Pupil {number:02}"),
                with: "class instrument".to_owned(),
                ..Pupil::default()
            })
            .collect(),
        ..Class::default()
    }
}

fn asked(of: &str) -> Asked {
    Asked::of(&serde_json::json!({ "version": 1, "of": of })).expect("JSON")
}

fn papers(class: &Class) -> Vec<Paper> {
    let papers = class.pupils.iter().map(|pupil| Paper {
        pupil: pupil.name.clone(),
        asked: asked(&pupil.name),
        ..Paper::default()
    });
    papers.collect()
}

fn book(folder: &TempDir) -> Casebook {
    Casebook::open_without_backup(&folder.path().join("casebook.sqlite")).expect("opens")
}

/// A class of thirty with a sheet given out, and one case beside it.
fn of_thirty(book: &mut Casebook) -> KeptClass {
    let case = Case {
        name: "A question".to_owned(),
        when: "2024-05-14 09:20".to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        ..Case::default()
    };
    book.keep(case).expect("kept");
    let kept = book.keep_class(&class(30)).expect("kept");
    let sheet = book
        .give_out(kept.id, papers(&kept.class))
        .expect("given out");
    assert_eq!(sheet, 1);
    kept
}

#[test]
fn a_class_is_kept_beside_the_cases_and_is_none() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = book(&folder);
    let kept = of_thirty(&mut book);
    assert_eq!(book.len().expect("counted"), 1);
    assert_eq!(book.find("", 99).expect("found").cases.len(), 1);
    assert_eq!(book.classes().expect("listed"), std::slice::from_ref(&kept));
    let papers = book.papers(kept.id).expect("there");
    assert_eq!(papers.len(), 30);
    assert_eq!(
        book.paper(papers[29].id).expect("there").paper.pupil,
        "Pupil 30"
    );
    assert!(matches!(
        book.get(casebook::CaseId(kept.id.0)),
        Err(CasebookError::NoCase(_))
    ));
    assert!(matches!(
        book.class(ClassId(1)),
        Err(CasebookError::NoClass(_))
    ));
    assert_eq!(book.give_out(kept.id, Vec::new()).expect("nothing"), 2);
    book.check().expect("sound");
}

#[test]
fn changes_name_the_version_they_began_from_and_are_undone() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = book(&folder);
    let kept = of_thirty(&mut book);
    let before = book.papers(kept.id).expect("there")[3].clone();
    let answered = Paper {
        answers: vec![Answered {
            question: 1,
            read: vec![Answer {
                what: "ascendant".to_owned(),
                value: "11 Pisces".to_owned(),
                mark: "right".to_owned(),
            }],
            verdict: "right".to_owned(),
            ..Answered::default()
        }],
        ..before.paper.clone()
    };
    let after = book
        .edit_paper(before.id, before.version, &answered)
        .expect("edited");
    assert!(matches!(
        book.edit_paper(before.id, before.version, &answered),
        Err(CasebookError::PaperChanged(_))
    ));
    let larger = book
        .edit_class(kept.id, kept.version, &class(31))
        .expect("edited");
    assert!(matches!(
        book.edit_class(kept.id, kept.version, &class(31)),
        Err(CasebookError::ClassChanged(_))
    ));
    assert_eq!(
        book.paper(after.id).expect("there").paper,
        answered,
        "as it was"
    );
    assert_eq!(larger.class.pupils.len(), 31);

    let said = |undone| match undone {
        Undone::OfClass(said) => said,
        other => panic!("{other:?}"),
    };
    assert_eq!(
        said(book.undo().expect("undone")),
        "the class Thursday class is again as it was"
    );
    assert_eq!(
        said(book.undo().expect("undone")),
        "sheet 1 of Pupil 04, in the class Thursday class, is again as it was"
    );
    assert_eq!(book.paper(before.id).expect("there").paper, before.paper);
    // What was given out together is taken back together.
    said(book.undo().expect("undone"));
    assert!(book.papers(kept.id).expect("none").is_empty());
    assert_eq!(
        said(book.undo().expect("undone")),
        "the class Thursday class is kept no more"
    );
    assert!(book.classes().expect("none").is_empty());
    assert_eq!(book.len().expect("counted"), 1, "the case is");
    book.check().expect("sound");
}

#[test]
fn papers_that_are_edited_together_are_all_edited_or_none_and_undone_as_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = book(&folder);
    let kept = of_thirty(&mut book);
    let before = book.papers(kept.id).expect("there");
    let remarked = before[..3].iter().map(|kept| Paper {
        remark: "looked at".to_owned(),
        ..kept.paper.clone()
    });
    let after: Vec<Paper> = remarked.collect();
    let edits = |late: i64| {
        let versions = [0, 0, late];
        let edits = before.iter().zip(versions).zip(&after);
        let edits = edits.map(|((kept, late), after)| (kept.id, kept.version - late, after));
        edits.collect::<Vec<_>>()
    };
    assert!(matches!(
        book.edit_papers(edits(1)),
        Err(CasebookError::PaperChanged(_))
    ));
    assert_eq!(book.papers(kept.id).expect("there"), before);
    assert!(book.edit_papers([]).expect("none").is_empty());
    let edited = book.edit_papers(edits(0)).expect("edited");
    let papers: Vec<Paper> = edited.into_iter().map(|kept| kept.paper).collect();
    assert_eq!(papers, after);
    book.undo().expect("undone");
    let again = book.papers(kept.id).expect("there");
    let papers = |all: Vec<KeptPaper>| all.into_iter().map(|kept| kept.paper).collect::<Vec<_>>();
    assert_eq!(papers(again), papers(before));
}

#[test]
fn what_cannot_be_kept_is_told_and_nothing_of_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = book(&folder);
    let twice = Class {
        pupils: [class(1).pupils, class(2).pupils].concat(),
        ..class(1)
    };
    for (unfit, what) in [
        (Class::default(), "a name is missing"),
        (class(0), "nobody"),
        (twice, "Pupil 01"),
    ] {
        let why = book.keep_class(&unfit).expect_err("unfit");
        assert!(
            why.is_bad_input() && why.to_string().contains(what),
            "{why}"
        );
    }
    let kept = book.keep_class(&class(2)).expect("kept");
    let nameless = [papers(&kept.class), vec![Paper::default()]].concat();
    let why = book.give_out(kept.id, nameless).expect_err("unfit");
    assert!(why.to_string().contains("somebody"), "{why}");
    assert!(book.papers(kept.id).expect("none").is_empty());
}

/// A class and its papers are gone from the file, what could be undone and the backups.
#[test]
fn a_deleted_class_stands_nowhere_any_more() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    let mut book = Casebook::open(&path).expect("opens");
    let kept = of_thirty(&mut book);
    book.back_up("before").expect("backed up");
    assert!(matches!(
        book.delete_class(kept.id, kept.version + 1),
        Err(CasebookError::ClassChanged(_))
    ));
    // A pupil who leaves first.
    book.delete_papers_of(kept.id, "Pupil 07").expect("deleted");
    assert_eq!(book.papers(kept.id).expect("there").len(), 29);
    let deleted = book.delete_class(kept.id, kept.version).expect("deleted");
    assert_eq!(deleted.left, []);
    assert!(book.classes().expect("none").is_empty());
    book.check().expect("sound");
    drop(book);
    for file in everything_in(folder.path()) {
        let bytes = std::fs::read(&file).expect("read");
        for word in ["Pupil 07", "Pupil 12", "Thursday"] {
            let there = bytes
                .windows(word.len())
                .any(|part| part == word.as_bytes());
            assert!(!there, "{word} in {}", file.display());
        }
    }
    let book = Casebook::open(&path).expect("opens");
    assert_eq!(book.len().expect("counted"), 1);
}

fn everything_in(folder: &std::path::Path) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(folder).expect("listed");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    paths
        .flat_map(|path| {
            if path.is_dir() {
                everything_in(&path)
            } else {
                vec![path]
            }
        })
        .collect()
}

/// A bit that flips in a paper, its kind or its class is found, and is told by its number.
#[test]
fn a_spoiled_paper_is_found() {
    let spoil = [
        "document = replace(document, 'Pupil 05', 'Pupil 15')",
        "kind = 'class'",
        "class_id = 1",
        "version = 9",
    ];
    for change in spoil {
        let folder = tempfile::tempdir().expect("a folder");
        let mut kept = book(&folder);
        of_thirty(&mut kept);
        let path = kept.path().to_owned();
        drop(kept);
        let raw = rusqlite::Connection::open(&path).expect("opens");
        raw.execute(&format!("UPDATE cases SET {change} WHERE id = 7"), [])
            .expect("spoiled");
        drop(raw);
        let spoiled = book(&folder);
        let why = spoiled.check().expect_err(change);
        assert!(
            matches!(&why, CasebookError::Unreadable(one) if one.id.0 == 7),
            "{why}"
        );
    }
}

/// What is looked at together has a bound.
#[test]
fn a_class_has_room_for_so_many_sheets() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = book(&folder);
    let kept = book.keep_class(&class(20)).expect("kept");
    let large: Vec<Paper> = papers(&kept.class)
        .into_iter()
        .map(|paper| Paper {
            asked: asked(&"x".repeat(1_000_000)),
            ..paper
        })
        .collect();
    for sheet in [1, 2] {
        let given = book.give_out(kept.id, large.clone()).expect("given out");
        assert_eq!(given, sheet);
    }
    let full = book.give_out(kept.id, large).expect_err("48 MB are full");
    assert!(matches!(full, CasebookError::ClassFull(id) if id == kept.id));
    assert!(full.is_bad_input(), "{full}");
    assert_eq!(book.papers(kept.id).expect("there").len(), 40);
}

#[test]
fn what_goes_out_comes_in_and_is_one_change() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut kept = book(&folder);
    of_thirty(&mut kept);
    let mut out = Vec::new();
    write_json(&kept, None, &mut out).expect("written");
    let text = String::from_utf8(out).expect("a text");
    assert!(text.contains("\"version\":2"));
    let read = read_json(&text, |_| Ok(())).expect("a casebook");
    assert_eq!((read.bad.len(), read.classes.len()), (0, 1));

    let other_folder = tempfile::tempdir().expect("a folder");
    let mut other = book(&other_folder);
    let cases = read.good.into_iter().map(|(_, case)| case).collect();
    assert_eq!(other.keep_imported(cases, &read.classes).expect("kept"), 2);
    let mut again = Vec::new();
    write_json(&other, None, &mut again).expect("written");
    assert_eq!(String::from_utf8(again).expect("a text"), text);
    other.undo().expect("undone");
    assert!(other.classes().expect("none").is_empty());
    assert_eq!(other.len().expect("counted"), 1);

    // One that is none is told by its line, and a book without classes is as it was.
    let wrong = text.replace(
        "\"place\":\"Lisbon, Portugal\",\"level\"",
        "\"place\":\"\",\"level\"",
    );
    let read = read_json(&wrong, |_| Ok(())).expect("a casebook");
    assert_eq!((read.bad.len(), read.classes.len()), (1, 0));
    assert_eq!(
        (read.bad[0].line, read.bad[0].why.as_str()),
        (4, "a place is missing")
    );
    let earlier = text.replace("\"version\":2", "\"version\":1");
    assert!(
        read_json(&earlier, |_| Ok(())).is_err(),
        "it has no classes"
    );
}
