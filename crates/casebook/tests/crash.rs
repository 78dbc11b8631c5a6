//! Killed in the middle of writing, many times: what was answered for is there.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use casebook::{Case, Casebook};

/// By which the same test knows that it is the one to be killed.
const BOOK: &str = "ALMURI_TEST_CASEBOOK";

const ROUNDS: u64 = 40;

fn case(name: String) -> Case {
    Case {
        name,
        when: "2024-05-14 09:20".to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        note: "some words to fill a page with ".repeat(40),
        ..Case::default()
    }
}

/// Keeps and edits without end, and says each case that has been answered for.
fn write_until_killed(path: &Path) {
    let mut book = Casebook::open_without_backup(path).expect("it opens");
    let mut out = std::io::stdout();
    for n in 0.. {
        let kept = book.keep(case(format!("Case {n}"))).expect("kept");
        let edited = case(format!("Case {n} edited"));
        book.edit(kept.id, kept.version, edited).expect("edited");
        writeln!(out, "answered {}", kept.id).expect("said");
        out.flush().expect("said");
    }
}

#[test]
fn nothing_answered_for_is_lost() {
    if let Some(path) = std::env::var_os(BOOK) {
        return write_until_killed(Path::new(&path));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("casebook.sqlite");
    let mut answered = Vec::new();
    for round in 0..ROUNDS {
        let mut child = Command::new(std::env::current_exe().expect("this program"))
            .args(["--exact", "nothing_answered_for_is_lost", "--nocapture"])
            .env(BOOK, &path)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("it starts");
        let out = child.stdout.take().expect("its output");
        let reader = std::thread::spawn(move || {
            let lines = BufReader::new(out).lines().map_while(Result::ok);
            let said = |line: String| line.rsplit("answered ").next()?.parse().ok();
            lines
                .filter(|line| line.contains("answered "))
                .filter_map(said)
                .collect::<Vec<i64>>()
        });
        // At another point of the work each time.
        std::thread::sleep(Duration::from_millis(15 + round * 3));
        child.kill().expect("killed");
        child.wait().expect("gone");
        answered.extend(reader.join().expect("read"));

        let book = Casebook::open_without_backup(&path).expect("it opens after a kill");
        book.check().expect("it is sound after a kill");
        for id in &answered {
            let kept = book.get(casebook::CaseId(*id)).expect("answered for");
            assert!(
                kept.case.name.ends_with("edited"),
                "case {id}: {}",
                kept.case.name
            );
        }
    }
    assert!(
        answered.len() > 20,
        "only {} cases were written",
        answered.len()
    );
}
