//! Making files, all or none, and choosing plates, on the command line.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;

/// A folder that goes away with the test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let path = std::env::temp_dir().join(format!("almuri-make-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Folder(path)
    }

    fn path(&self, name: &str) -> String {
        self.0.join(name).display().to_string()
    }

    fn names(&self, name: &str) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(self.0.join(name))
            .unwrap()
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // A folder left behind in the temporary folder is no failure.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn almuri(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args(arguments)
        .output()
        .unwrap()
}

/// A card has the sum of the instrument that it goes with: a ring of equal days wants no
/// equation of time.
#[test]
fn a_card_has_the_sum_of_its_instrument() {
    let told = |name: &str, more: &[&str]| {
        let folder = Folder::new(name);
        let into = folder.path("cards");
        let plates = ["plates", "--towns", "42.88,-8.54", "--stock", "42"];
        almuri(
            &[
                &plates[..],
                &["--cards", "2027", "--json", "-o", &into],
                more,
            ]
            .concat(),
        )
    };
    let weeks = |output: &Output| {
        let told: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        let card = &told["towns"][0]["card"];
        card["equation_of_time"].as_array().unwrap().len()
    };
    assert!(weeks(&told("card-class", &["--with", "class instrument"])) > 40);
    assert_eq!(
        weeks(&told("card-ring", &["--with", "date-ring instrument"])),
        0
    );
    let both = told(
        "card-both",
        &["--with", "date-ring instrument", "--date-from", "zodiac"],
    );
    refused(&both, "equal-day-ring");
}

fn refused(output: &Output, word: &str) {
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(output.stdout.is_empty());
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains(word), "{said}");
}

#[test]
fn a_set_is_made_whole_and_nothing_overwritten() {
    let folder = Folder::new("set");
    let out = folder.path("set");
    let made = almuri(&[
        "make",
        "--with",
        "pocket instrument",
        "--out",
        &out,
        "--parts",
        "rete,pin",
        "--formats",
        "svg,dxf",
        "--json",
    ]);
    assert_eq!(made.status.code(), Some(0), "{made:?}");
    let answer: Value = serde_json::from_slice(&made.stdout).unwrap();
    let told = answer["files"].as_array().unwrap().len();
    let names = folder.names("set");
    assert_eq!(
        names,
        [
            "manifest.json",
            "pin.dxf",
            "pin.svg",
            "rete.dxf",
            "rete.svg",
            "sheet.txt",
            "wedge.dxf",
            "wedge.svg"
        ]
    );
    assert_eq!(told, names.len());
    // Again: refused, and the folder as it was.
    let mine = folder.0.join("set").join("rete.svg");
    std::fs::write(&mine, "mine").unwrap();
    let again = [
        "make",
        "--with",
        "pocket instrument",
        "--out",
        &out,
        "--formats",
        "svg",
    ];
    refused(&almuri(&again), "--overwrite");
    assert_eq!(std::fs::read_to_string(&mine).unwrap(), "mine");
    assert_eq!(folder.names("set").len(), names.len());
    let mut over = again.to_vec();
    over.push("--overwrite");
    assert_eq!(almuri(&over).status.code(), Some(0));
    assert!(std::fs::read_to_string(&mine).unwrap().starts_with("<svg"));
    // Only the folder itself is there, nothing half made beside it.
    assert_eq!(folder.names(""), ["set"]);
}

/// What a set that was broken off while it was exchanged left is put in its place before
/// the next; and what is in the way is noticed before anything is made.
#[test]
fn an_exchange_that_was_broken_off_is_gone_on_with() {
    let folder = Folder::new("exchange");
    let out = folder.path("set");
    let set = folder.0.join("set");
    let left = set.join("not-yet-exchanged");
    std::fs::create_dir_all(&left).unwrap();
    for (file, text) in [
        (set.join("notes.txt"), "one's own"),
        (set.join("manifest.json"), "old"),
        (set.join("back.svg"), "old"),
        (left.join("manifest.json"), "newer"),
        (left.join("back.svg"), "newer"),
    ] {
        std::fs::write(file, text).unwrap();
    }
    let text = |name: &str| std::fs::read_to_string(set.join(name)).unwrap();
    let make = |more: &[&str]| {
        let pin = [
            "make",
            "--with",
            "pocket instrument",
            "--out",
            &out,
            "--parts",
            "pin",
            "--formats",
            "svg",
        ];
        almuri(&[&pin, more].concat())
    };
    // Where nothing may be overwritten nothing is touched.
    refused(&make(&[]), "manifest.json is there already");
    refused(
        &make(&[]),
        "was broken off, and old and new ones lie beside each other",
    );
    assert_eq!(text("back.svg"), "old");
    let made = make(&["--overwrite"]);
    assert_eq!(made.status.code(), Some(0), "{made:?}");
    let said = String::from_utf8_lossy(&made.stderr);
    assert!(
        said.contains("it is finished: 2 that were left are in their places"),
        "{said}"
    );
    assert_eq!(text("back.svg"), "newer");
    assert!(text("manifest.json").starts_with('{'));
    assert_eq!(text("notes.txt"), "one's own");
    assert_eq!(
        folder.names("set"),
        [
            "back.svg",
            "manifest.json",
            "notes.txt",
            "pin.svg",
            "sheet.txt",
            "wedge.svg"
        ]
    );
    // A folder of a file's name stops it before any file is exchanged.
    std::fs::remove_file(set.join("wedge.svg")).unwrap();
    std::fs::create_dir(set.join("wedge.svg")).unwrap();
    std::fs::write(set.join("pin.svg"), "old").unwrap();
    refused(&make(&["--overwrite"]), "wedge.svg is a folder");
    assert_eq!(text("pin.svg"), "old");
}

/// Commands that take seconds look first whether they may write.
#[test]
fn what_is_in_the_way_is_told_before_the_work() {
    let folder = Folder::new("in-the-way");
    let class = folder.path("class.toml");
    std::fs::write(
        &class,
        "version = 1\nname = \"c\"\nplace = \"Nowhereton\"\nyear = 2026\nseed = 1\n\
         [[pupils]]\nname = \"a\"\nwith = \"class instrument\"\n",
    )
    .unwrap();
    // Each would be refused for something else, if it came so far.
    for (file, command) in [
        (
            "course.pdf",
            &["course", "--year", "2026", "--at", "Nowhereton"][..],
        ),
        ("exercises.json", &["exercises", &class]),
        (
            "manifest.json",
            &["make", "--with", "class instrument", "--dpi", "1e9"],
        ),
    ] {
        let out = folder.path(file.split('.').next().unwrap());
        std::fs::create_dir_all(&out).unwrap();
        std::fs::write(PathBuf::from(&out).join(file), "mine").unwrap();
        let command: Vec<&str> = command.iter().copied().chain(["-o", &out]).collect();
        let said = almuri(&command);
        if file == "manifest.json" {
            // What is wrong with the line itself is told first.
            refused(&said, "--dpi");
        } else {
            refused(&said, "is there already");
        }
    }
}

/// Ctrl-C ends work at once, and nothing of it is left.
#[cfg(unix)]
#[test]
fn work_stops_when_it_is_asked_to() {
    let folder = Folder::new("stopped");
    let out = folder.path("set");
    let begun = std::time::Instant::now();
    let child = Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args(["make", "--with", "class instrument", "--out", &out])
        .args(["--formats", "svg,dxf,pdf,png,paper"])
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_millis(400));
    let killed = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(killed.unwrap().success());
    let output = child.wait_with_output().unwrap();
    assert!(begun.elapsed().as_secs() < 5, "it went on");
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    // One line, and no picture of its progress where that is no terminal.
    assert_eq!(
        String::from_utf8_lossy(&output.stderr),
        "almuri: stopped; nothing was written\n"
    );
    assert_eq!(folder.names(""), [""; 0]);
}

#[test]
fn a_failure_leaves_nothing() {
    let folder = Folder::new("failure");
    let specification = folder.path("thin.toml");
    std::fs::write(
        &specification,
        "version = 1\nname = \"thin\"\ndiameter_mm = 60\nepoch_year = 2025\nplates_deg = [42]\n\
         [parts]\nleast_width_mm = 4",
    )
    .unwrap();
    let out = folder.path("set");
    refused(
        &almuri(&["make", "--with", &specification, "--out", &out]),
        "the rete cannot be cut as one piece",
    );
    assert_eq!(folder.names(""), ["thin.toml"]);
    for (arguments, word) in [
        (["--parts", "wheel"], "“wheel” is no part"),
        (["--formats", "doc"], "“doc” is no format"),
        (["--page", "b0"], "“b0” is no size of paper"),
        (["--dpi", "5"], "20 to 1200"),
        (["--plate", "-40"], "the other hemisphere"),
    ] {
        let mut command = vec!["make", "--with", "class instrument", "--out", &out];
        command.extend(arguments);
        refused(&almuri(&command), word);
    }
    assert_eq!(folder.names(""), ["thin.toml"]);
    // A folder that cannot be made.
    let nowhere = almuri(&[
        "make",
        "--out",
        "/proc/none/set",
        "--formats",
        "svg",
        "--parts",
        "pin",
    ]);
    assert_eq!(nowhere.status.code(), Some(1));
}

#[test]
fn a_plate_for_a_town() {
    let folder = Folder::new("town");
    let out = folder.path("set");
    let made = almuri(&[
        "make",
        "--with",
        "class instrument",
        "--out",
        &out,
        "--parts",
        "plates",
        "--plate",
        "Lisbon, Portugal",
        "--formats",
        "svg",
    ]);
    assert_eq!(made.status.code(), Some(0), "{made:?}");
    let svg = std::fs::read_to_string(folder.0.join("set").join("plate-1a.svg")).unwrap();
    assert!(svg.contains("plate for latitude 38°44′"), "{}", &svg[..400]);
    assert!(svg.contains("data-line=\"almucantar 30°\""));
}

#[test]
fn plates_for_towns() {
    let folder = Folder::new("towns");
    let list = folder.path("towns.txt");
    std::fs::write(&list, "# pupils\nMadrid, Spain\n43.3,5.4\n").unwrap();
    let said = almuri(&[
        "plates", "--towns", &list, "--stock", "42,46", "--cards", "2027",
    ]);
    assert_eq!(said.status.code(), Some(0), "{said:?}");
    let text = String::from_utf8_lossy(&said.stdout);
    for word in [
        "Madrid",
        "times better",
        "The fewest plates",
        "2027-03-28",
        "equation of time",
    ] {
        assert!(text.contains(word), "{text}");
    }
    let json = almuri(&[
        "plates",
        "--towns",
        "43.3,5.4;51.8,-1.3",
        "--stock",
        "42",
        "--json",
    ]);
    let answer: Value = serde_json::from_slice(&json.stdout).unwrap();
    assert_eq!(answer["towns"].as_array().unwrap().len(), 2);
    refused(
        &almuri(&["plates", "--towns", "Nonesuchville"]),
        "Nonesuchville",
    );
}

#[test]
fn a_card_for_every_town() {
    let folder = Folder::new("cards");
    let out = folder.path("cards");
    let ask = |more: &[&str]| {
        let mut all = vec![
            "plates",
            "--towns",
            "Santiago de Compostela; 42.88,-8.54; 42.88,-8.54",
            "--stock",
            "42,46",
            "--cards",
            "2027",
            "--json",
            "--out",
            &out,
        ];
        all.extend(more);
        almuri(&all)
    };
    let made = ask(&[]);
    assert_eq!(made.status.code(), Some(0), "{made:?}");
    let answer: Value = serde_json::from_slice(&made.stdout).unwrap();
    assert_eq!(answer["card_files"].as_array().unwrap().len(), 3);
    let names = folder.names("cards");
    assert_eq!(names.len(), 3, "{names:?}");
    let first = |name: &String| std::fs::read(folder.0.join("cards").join(name)).unwrap();
    for name in &names {
        assert!(first(name).starts_with(b"%PDF"), "{name}");
    }
    let before: Vec<Vec<u8>> = names.iter().map(first).collect();
    refused(&ask(&[]), "--overwrite");
    assert_eq!(ask(&["--overwrite"]).status.code(), Some(0));
    assert_eq!(names.iter().map(first).collect::<Vec<_>>(), before);
    refused(
        &ask(&["--paper", "a7", "--overwrite"]),
        "a5, a6, a4 or letter",
    );
}

/// What no machine can make is refused by its option, and nothing is written.
#[test]
fn solids_and_films_that_cannot_be_are_refused() {
    let folder = Folder::new("solids-refused");
    let into = folder.path("set");
    for (more, told) in [
        (&["--engrave-depth", "2"][..], "or less would do"),
        (&["--engrave-depth=-1"], "engrave-depth -1 is out of range"),
        (
            &["--raised", "0.2", "--engrave-depth", "0.2"],
            "alone would do",
        ),
        (&["--line-width", "nan"], "line-width"),
        (&["--film", "blue"], "positive"),
        (&["--undercut", "1"], "undercut 1 is out of range"),
        (&["--film-dpi", "99999"], "film-dpi 99999 is out of range"),
        (
            &["--formats", "film", "--undercut", "0.15"],
            "leaves nothing of lines",
        ),
        (&["--formats", "obj"], "3mf"),
    ] {
        let usual: &[&str] = if more.contains(&"--formats") {
            &[]
        } else {
            &["--formats", "3mf"]
        };
        let parts = ["--with", "class instrument", "--parts", "plates"];
        let made = almuri(&[&["make", "-o", &into], &parts[..], usual, more].concat());
        let said = String::from_utf8_lossy(&made.stderr).into_owned();
        assert_eq!(made.status.code(), Some(2), "{more:?}: {said}");
        assert!(said.contains(told), "{more:?}: {said}");
        assert!(!std::path::Path::new(&into).exists());
    }
}
