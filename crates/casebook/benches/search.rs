//! How long a casebook of 100,000 cases takes to open, to search and to write:
//! `cargo bench -p casebook`.

use std::time::Instant;

use casebook::{Case, Casebook};

const NAMES: [&str; 20] = [
    "Agnes",
    "Bertram",
    "Cecily",
    "Denis",
    "Edith",
    "Fulk",
    "Geoffrey",
    "Hawise",
    "Isabel",
    "Jordan",
    "Katherine",
    "Lambert",
    "Maud",
    "Nicholas",
    "Odo",
    "Petronilla",
    "Quentin",
    "Roger",
    "Sibyl",
    "Thomas",
];

#[expect(clippy::print_stdout, reason = "a benchmark's report is its purpose")]
fn main() {
    let count = if std::env::args().any(|arg| arg == "--bench") {
        100_000
    } else {
        100
    };
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    let mut book = Casebook::open_without_backup(&path).expect("opens");
    let cases: Vec<Case> = (0..count).map(case).collect();
    let timed = |what: &str, start: Instant| {
        println!("{what:<40}{:>10.2} ms", start.elapsed().as_secs_f64() * 1e3);
    };
    let start = Instant::now();
    book.keep_all(cases).expect("kept");
    timed(&format!("keep {count} at once"), start);
    drop(book);

    let start = Instant::now();
    drop(Casebook::open(&path).expect("opens"));
    timed("open, the first of the day", start);
    let start = Instant::now();
    let mut book = Casebook::open(&path).expect("opens");
    timed("open", start);
    for words in [
        "maud",
        "m",
        "lisbon",
        "maud lisbon 17",
        "nicholas q",
        "zz",
        "",
    ] {
        let start = Instant::now();
        let found = book.find(words, 50).expect("searched");
        timed(
            &format!(
                "find {words:?}: {}{}",
                found.cases.len(),
                if found.more { "+" } else { "" }
            ),
            start,
        );
    }
    let start = Instant::now();
    let found = book.tagged("lesson 3", 50).expect("searched");
    assert_eq!(found.cases.len(), count.min(50 * 7) / 7);
    timed("tag", start);
    let start = Instant::now();
    let kept = book.keep(case(count)).expect("kept");
    timed("keep one, the file looked through before", start);
    let start = Instant::now();
    book.keep(case(count + 1)).expect("kept");
    timed("keep another", start);
    let start = Instant::now();
    book.edit(kept.id, kept.version, case(7)).expect("edited");
    timed("edit one", start);
    let start = Instant::now();
    book.undo().expect("undone");
    timed("undo", start);
    let start = Instant::now();
    book.back_up("bench").expect("backed up");
    timed("back up", start);
    let start = Instant::now();
    book.delete(kept.id).expect("deleted");
    timed("delete one, from the backup too", start);
}

fn case(n: usize) -> Case {
    let name = |n: usize| NAMES[n % NAMES.len()];
    Case {
        name: format!("{} {}", name(n), name(n / 20 + 7)),
        when: format!(
            "{}-{:02}-{:02} {:02}:{:02}",
            1600 + n % 400,
            n % 12 + 1,
            n % 28 + 1,
            n % 24,
            n % 60
        ),
        at: if n.is_multiple_of(3) {
            "Lisbon, Portugal"
        } else {
            "Oxford, United Kingdom"
        }
        .to_owned(),
        note: format!(
            "asked about the {} of {}",
            ["house", "voyage", "harvest"][n % 3],
            name(n * 13)
        ),
        tags: vec![format!("lesson {}", n % 7)],
        ..Case::default()
    }
}
