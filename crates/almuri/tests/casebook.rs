//! The casebook by the command line.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

fn almuri(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .arg("casebook")
        .args(arguments)
        .env("XDG_DATA_HOME", folder)
        .env("XDG_CONFIG_HOME", folder)
        .output()
        .unwrap()
}

#[track_caller]
fn json(folder: &Path, arguments: &[&str]) -> Value {
    let mut all = arguments.to_vec();
    all.push("--json");
    let out = almuri(folder, &all);
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    serde_json::from_slice(&out.stdout).unwrap()
}

#[track_caller]
fn refused(folder: &Path, arguments: &[&str]) -> String {
    let out = almuri(folder, arguments);
    assert_eq!(out.status.code(), Some(2), "{arguments:?}");
    assert!(out.stdout.is_empty());
    String::from_utf8(out.stderr).unwrap()
}

const CHAUCER: [&str; 6] = [
    "keep",
    "Chaucer",
    "1391-03-12 09:00",
    "--at",
    "51.8333,-1.25",
    "--clock=sun",
];

#[test]
fn keep_find_edit_undo_delete() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let mut keep = CHAUCER.to_vec();
    keep.extend(["--tag", "treatise", "--read", "ascendant=20 Gemini"]);
    let kept = json(folder, &keep);
    let id = kept["id"].to_string();
    assert_eq!(kept["case"]["readings"][0]["degree"], "20 Gemini");
    json(
        folder,
        &["edit", &id, "--note", "per aventure", "--mark", "all=9"],
    );
    assert_eq!(
        json(folder, &["find", "avent"])["cases"][0]["case"]["marks"][0]["mark"],
        "9"
    );
    assert_eq!(json(folder, &["undo"])["case"]["note"], Value::Null);
    assert_eq!(json(folder, &["tags"])["treatise"], 1);
    assert!(refused(folder, &["delete", &id]).contains("--yes says that this is meant"));
    json(folder, &["delete", &id, "--yes"]);
    assert!(refused(folder, &["show", &id]).contains("there is no case"));
    assert_eq!(json(folder, &["check"])["cases"], 0);
}

#[test]
fn a_name_does_not_command_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let name = "red \u{1b}[31m\u{1b}]0;title\u{7}";
    let mut keep = CHAUCER;
    keep[1] = name;
    let kept = almuri(folder.path(), &keep);
    let listed = almuri(folder.path(), &["list"]);
    for out in [kept, listed] {
        assert!(out.status.success());
        let text = String::from_utf8(out.stdout).unwrap();
        assert!(text.contains("red "), "{text:?}");
        assert!(
            !text.chars().any(|c| c.is_control() && c != '\n'),
            "{text:?}"
        );
    }
    let kept = json(folder.path(), &["show", "1"]);
    assert_eq!(kept["case"]["name"], name, "it is kept as it was said");
}

#[test]
fn what_could_not_be_cast_is_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    for (arguments, said) in [
        (
            [
                "keep",
                "x",
                "2024-13-01 09:00",
                "--at",
                "0,0",
                "--clock=mean",
            ],
            "2024-13-01",
        ),
        (
            ["keep", "x", "now", "--at", "0,0", "--clock=mean"],
            "another time later",
        ),
        (
            [
                "keep",
                "x",
                "2024-05-14 09:20",
                "--at",
                "Nowhereton",
                "--clock=mean",
            ],
            "Nowhereton",
        ),
    ] {
        let message = refused(folder, &arguments);
        assert!(message.contains(said), "{message}");
    }
    assert!(refused(folder, &["keep", "x", "2024-05-14 09:20"]).contains("a place is missing"));
}

/// A book of more cases than are read in at once goes into several files, each of which is
/// read in.
#[test]
fn a_large_book_is_carried_out_in_several_files() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let book = folder.join("large.sqlite");
    let case = casebook::Case {
        name: "An invented one".to_owned(),
        when: "1391-03-12 09:00".to_owned(),
        at: "51.8333,-1.25".to_owned(),
        clock: Some("mean".to_owned()),
        ..casebook::Case::default()
    };
    casebook::Casebook::open_without_backup(&book)
        .unwrap()
        .keep_all(vec![case; 50_001])
        .unwrap();
    let book = book.display().to_string();
    let first = folder.join("all.json").display().to_string();
    let second = folder.join("all-2.json").display().to_string();
    let export = ["export", "-o", &first, "--book", &book];
    let written = json(folder, &export);
    assert_eq!(written["cases"], 50_001);
    assert_eq!(written["files"][1], second.as_str());
    let other = folder.join("other.sqlite").display().to_string();
    let brought = json(folder, &["import", &second, "--book", &other]);
    assert_eq!(brought["kept"], 1);
    // What is there is not written over unless that is said.
    std::fs::remove_file(&first).unwrap();
    assert!(refused(folder, &export).contains("all-2.json is there already"));
    assert!(!Path::new(&first).exists(), "nothing is half written");
}

#[test]
fn carried_out_and_in_again() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    json(folder, &CHAUCER);
    for name in ["all.csv", "all.json"] {
        let file = folder.join(name).display().to_string();
        assert_eq!(json(folder, &["export", "-o", &file])["cases"], 1);
        let other = folder.join("other").join(name).display().to_string();
        assert_eq!(
            json(folder, &["import", &file, "--book", &other])["kept"],
            1
        );
        assert_eq!(
            json(folder, &["list", "--book", &other])["cases"][0]["case"]["name"],
            "Chaucer"
        );
    }
    let bad = folder.join("bad.csv");
    std::fs::write(&bad, "name,when,at,clock\nGood,2024-05-14 09:20,\"0,0\",mean\nBad,2024-05-34 09:20,\"0,0\",mean\n").unwrap();
    let file = bad.display().to_string();
    let message = refused(folder, &["import", &file]);
    assert!(
        message.contains("1 of 2 rows cannot be kept, and none was")
            && message.contains("line 3: "),
        "{message}"
    );
    let imported = json(folder, &["import", &file, "--good-only"]);
    assert_eq!(
        (&imported["kept"], &imported["bad"][0]["line"]),
        (&Value::from(1), &Value::from(3))
    );
}

#[test]
fn backed_up_and_restored() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    json(folder, &CHAUCER);
    json(folder, &["back-up", "before-the-lesson"]);
    let mut another = CHAUCER;
    another[1] = "Another";
    json(folder, &another);
    assert!(refused(folder, &["restore", "after"]).contains("before-the-lesson"));
    json(folder, &["restore", "before-the-lesson"]);
    assert_eq!(json(folder, &["check"])["cases"], 1);
    // The day's own and the one with a name.
    assert_eq!(
        json(folder, &["backups"])["backups"]
            .as_array()
            .unwrap()
            .len(),
        2
    );
}

/// Somebody who is not permitted everything: for the system's own user no file is
/// read-only, so the command is carried out by another then.
#[cfg(unix)]
mod not_permitted {
    use super::*;
    use std::fs::{Permissions, set_permissions};
    use std::io::ErrorKind;
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;
    use std::path::PathBuf;

    /// Nobody in particular.
    const NOBODY: u32 = 65534;

    struct Reader {
        folder: tempfile::TempDir,
        program: PathBuf,
        as_nobody: bool,
    }

    fn permit(path: &Path, mode: u32) {
        set_permissions(path, Permissions::from_mode(mode)).unwrap();
    }

    impl Reader {
        /// With a casebook in which a case is kept.
        fn new() -> Reader {
            let folder = tempfile::tempdir().unwrap();
            permit(folder.path(), 0o755);
            let program = folder.path().join("program");
            std::fs::copy(env!("CARGO_BIN_EXE_almuri"), &program).unwrap();
            permit(&program, 0o755);
            json(folder.path(), &CHAUCER);
            json(folder.path(), &["back-up", "then"]);
            // Whoever reads here is another account: the owner gives it leave.
            let backups = folder.path().join("almuri/casebook-backups");
            permit(&backups, 0o755);
            for backup in std::fs::read_dir(&backups).unwrap() {
                permit(&backup.unwrap().path(), 0o644);
            }
            let probe = folder.path().join("probe");
            std::fs::write(&probe, "").unwrap();
            permit(&probe, 0o444);
            let as_nobody = std::fs::write(&probe, "").is_ok();
            Reader {
                folder,
                program,
                as_nobody,
            }
        }

        fn book(&self) -> PathBuf {
            self.folder.path().join("almuri/casebook.sqlite")
        }

        fn almuri(&self, arguments: &[&str]) -> Output {
            let mut command = Command::new(&self.program);
            if self.as_nobody {
                command.uid(NOBODY).gid(NOBODY);
            }
            command
                .current_dir(self.folder.path())
                .arg("casebook")
                .args(arguments)
                .env("XDG_DATA_HOME", self.folder.path())
                .env("XDG_CONFIG_HOME", self.folder.path());
            loop {
                match command.output() {
                    // Another test's process still has the copy open for a moment.
                    Err(error) if error.kind() == ErrorKind::ExecutableFileBusy => {
                        std::thread::yield_now();
                    }
                    out => return out.unwrap(),
                }
            }
        }

        /// Everything in the casebook's folder, with what it holds.
        fn everything(&self) -> Vec<(PathBuf, Vec<u8>)> {
            let mut all = Vec::new();
            let mut folders = vec![self.folder.path().join("almuri")];
            while let Some(folder) = folders.pop() {
                for entry in std::fs::read_dir(folder).unwrap() {
                    let path = entry.unwrap().path();
                    if path.is_dir() {
                        folders.push(path);
                    } else {
                        all.push((path.clone(), std::fs::read(path).unwrap()));
                    }
                }
            }
            all.sort();
            all
        }

        /// That everything can be read, nothing changed, and no file comes or goes.
        fn only_reads(&self) {
            let before = self.everything();
            let out_of_here = self.folder.path().join("elsewhere");
            std::fs::create_dir_all(&out_of_here).unwrap();
            permit(&out_of_here, 0o777);
            let export = out_of_here.join("all.csv").display().to_string();
            for reading in [
                &["list"] as &[&str],
                &["find", "chau"],
                &["show", "1"],
                &["export", "-o", &export],
                &["tags"],
                &["check"],
                &["backups"],
            ] {
                let out = self.almuri(reading);
                let said = String::from_utf8_lossy(&out.stderr);
                assert!(out.status.success(), "{reading:?}: {said}");
            }
            let said = |reading: &[&str]| String::from_utf8(self.almuri(reading).stdout).unwrap();
            assert!(said(&["list"]).contains("Chaucer"));
            assert!(said(&["find", "chau"]).contains("Chaucer"));
            let exported = std::fs::read_to_string(&export).unwrap();
            assert!(exported.contains("Chaucer"), "{exported}");
            for change in [
                &CHAUCER as &[&str],
                &["edit", "1", "--note", "changed"],
                &["undo"],
                &["delete", "1", "--yes"],
                &["import", &export],
                &["back-up", "now"],
                &["restore", "then"],
            ] {
                let out = self.almuri(change);
                assert_eq!(out.status.code(), Some(1), "{change:?}");
                assert!(out.stdout.is_empty());
                assert_eq!(
                    String::from_utf8_lossy(&out.stderr),
                    "almuri: the casebook may only be read here; a file and a folder that may be written to would do\n",
                    "{change:?}"
                );
            }
            assert_eq!(self.everything(), before);
        }
    }

    /// Its folder may be written to: nothing is put into it all the same.
    #[test]
    fn a_file_that_may_only_be_read() {
        let reader = Reader::new();
        permit(&reader.folder.path().join("almuri"), 0o777);
        permit(&reader.book(), 0o444);
        reader.only_reads();
    }

    #[test]
    fn a_folder_that_may_only_be_read() {
        let reader = Reader::new();
        permit(&reader.book(), 0o666);
        permit(&reader.folder.path().join("almuri"), 0o555);
        reader.only_reads();
        permit(&reader.folder.path().join("almuri"), 0o755);
    }

    #[test]
    fn a_file_and_a_folder_that_may_only_be_read() {
        let reader = Reader::new();
        permit(&reader.book(), 0o444);
        permit(&reader.folder.path().join("almuri"), 0o555);
        reader.only_reads();
        permit(&reader.folder.path().join("almuri"), 0o755);
    }
}
