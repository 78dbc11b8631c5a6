//! The cabinet's folder: what is kept is whole, for its owner alone, and nobody's change
//! is undone unawares.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use std::fs;

use casebook::{CabinetError, CabinetFolder};
use tempfile::TempDir;

fn folder() -> (TempDir, CabinetFolder) {
    let above = tempfile::tempdir().unwrap();
    let folder = CabinetFolder::at(above.path().join("kept").join("cabinet"));
    (above, folder)
}

fn names(folder: &CabinetFolder) -> Vec<String> {
    let files = folder.files().unwrap();
    files.into_iter().map(|one| one.file).collect()
}

#[test]
fn a_folder_that_is_not_there_is_empty_and_is_not_made_by_looking() {
    let (above, folder) = folder();
    assert!(folder.files().unwrap().is_empty());
    assert!(!above.path().join("kept").exists());
}

#[test]
fn what_is_added_is_found_changed_and_taken_away() {
    let (_above, folder) = folder();
    assert_eq!(
        folder.add("my key ring", "one").unwrap(),
        "my-key-ring.toml"
    );
    assert_eq!(
        folder.add("My key-ring", "two").unwrap(),
        "my-key-ring-2.toml"
    );
    assert_eq!(names(&folder), ["my-key-ring-2.toml", "my-key-ring.toml"]);
    let before = folder.state().unwrap();
    assert_eq!(folder.state().unwrap(), before);
    folder
        .replace("my-key-ring.toml", "one", "changed")
        .unwrap();
    assert_ne!(folder.state().unwrap(), before);
    // Whoever began from another text does not undo that.
    for refused in [
        folder.replace("my-key-ring.toml", "one", "mine"),
        folder.remove("my-key-ring.toml", "one"),
    ] {
        assert!(matches!(refused, Err(CabinetError::Changed(_))));
    }
    assert_eq!(folder.files().unwrap()[1].text, Ok("changed".to_owned()));
    folder.remove("my-key-ring.toml", "changed").unwrap();
    assert_eq!(names(&folder), ["my-key-ring-2.toml"]);
}

#[test]
fn no_file_outside_the_folder_is_touched() {
    let (above, folder) = folder();
    folder.add("one", "one").unwrap();
    let outside = above.path().join("kept").join("secret.toml");
    fs::write(&outside, "secret").unwrap();
    for name in [
        "../secret.toml",
        outside.to_str().unwrap(),
        "..",
        "",
        ".lock",
    ] {
        let refused = folder.remove(name, "secret");
        assert!(matches!(refused, Err(CabinetError::NoFile(_))), "{name}");
        let refused = folder.replace(name, "secret", "taken");
        assert!(matches!(refused, Err(CabinetError::NoFile(_))), "{name}");
    }
    assert_eq!(folder.add("../../secret", "mine").unwrap(), "secret.toml");
    assert_eq!(fs::read_to_string(outside).unwrap(), "secret");
}

#[test]
fn a_file_that_cannot_be_read_is_told_and_the_others_are_there() {
    let (_above, folder) = folder();
    folder.add("good", "good").unwrap();
    let put = |name: &str, bytes: &[u8]| fs::write(folder.path().join(name), bytes).unwrap();
    put("letters.toml", b"\xff\xfe\x00");
    put("long.toml", &[b'#'; 70_000]);
    put("notes.txt", b"not one of them");
    put(".hidden.toml", b"not one of them");
    fs::create_dir(folder.path().join("folder.toml")).unwrap();
    let files = folder.files().unwrap();
    let told: Vec<(&str, bool)> = files
        .iter()
        .map(|one| (one.file.as_str(), one.text.is_ok()))
        .collect();
    assert_eq!(
        told,
        [
            ("folder.toml", false),
            ("good.toml", true),
            ("letters.toml", false),
            ("long.toml", false),
        ]
    );
    assert!(matches!(
        folder.add("endless", &"#".repeat(70_000)),
        Err(CabinetError::TooLong(70_000))
    ));
}

#[cfg(unix)]
#[test]
fn files_and_folder_are_for_their_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let (_above, folder) = folder();
    let mode = |path: &std::path::Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    let file = folder.path().join(folder.add("one", "one").unwrap());
    assert_eq!((mode(folder.path()), mode(&file)), (0o700, 0o600));
    // A folder carried here from elsewhere is closed to others with the next change.
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
    folder.replace("one.toml", "one", "two").unwrap();
    assert_eq!((mode(folder.path()), mode(&file)), (0o700, 0o600));
}

/// Eight threads, each with a folder of its own upon the same place, as programs have.
#[test]
fn many_at_once_lose_nothing() {
    let (_above, folder) = folder();
    std::thread::scope(|scope| {
        for number in 0..8 {
            let path = folder.path().to_owned();
            scope.spawn(move || {
                let mine = CabinetFolder::at(path);
                for _ in 0..6 {
                    mine.add("the same name", &format!("of {number}")).unwrap();
                }
            });
        }
    });
    let files = folder.files().unwrap();
    assert_eq!(files.len(), 48);
    for number in 0..8 {
        let of = files
            .iter()
            .filter(|one| one.text == Ok(format!("of {number}")));
        assert_eq!(of.count(), 6);
    }
    let all = fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(all, 49, "nothing but the files and the lock is left");
}
