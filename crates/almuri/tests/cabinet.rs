//! One's own instruments in the terminal: kept, found by name, copied, carried out, removed.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use std::fs;
use std::process::{Command, Output};

use serde_json::Value;
use tempfile::TempDir;

/// A folder for settings, casebook and cabinet that goes away with the test.
struct Home(TempDir);

impl Home {
    fn new() -> Home {
        Home(tempfile::tempdir().unwrap())
    }

    fn almuri(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_almuri"))
            .args(arguments)
            .current_dir(self.0.path())
            .env("XDG_CONFIG_HOME", self.0.path())
            .env("XDG_DATA_HOME", self.0.path())
            .output()
            .unwrap()
    }

    #[track_caller]
    fn says(&self, arguments: &[&str]) -> String {
        let output = self.almuri(arguments);
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success() && said.is_empty(), "{said}");
        String::from_utf8(output.stdout).unwrap()
    }

    #[track_caller]
    fn refuses(&self, arguments: &[&str], names: &str) {
        let output = self.almuri(arguments);
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(output.stdout.is_empty());
        assert!(said.contains(names), "{names:?} is not in: {said}");
    }

    fn file(&self, name: &str, text: &str) {
        fs::write(self.0.path().join(name), text).unwrap();
    }

    fn kept(&self) -> std::path::PathBuf {
        self.0.path().join("almuri").join("cabinet")
    }
}

const RING: &str = "# bought at a fair, invented\nversion = 1\nname = \"my key ring\"\ndiameter_mm = 60\norientation = \"midnight-up\"\nepoch_year = 2024\nplates_deg = [43]\ndate_from = \"equal-day-ring\"\n";

const CAST: [&str; 6] = [
    "cast",
    "2024-05-14 09:20",
    "--at",
    "42.8806,-8.5449",
    "--zone",
    "Europe/Madrid",
];

#[test]
fn an_instrument_is_kept_used_copied_carried_out_and_removed() {
    let home = Home::new();
    home.file("ring.toml", RING);
    let said = home.says(&["cabinet", "add", "ring.toml"]);
    assert!(
        said.starts_with("my key ring is in the cabinet\n"),
        "{said}"
    );
    let list = home.says(&["cabinet"]);
    assert!(
        list.contains("class instrument") && list.contains("my key ring"),
        "{list}"
    );
    assert!(list.contains("my-key-ring.toml"), "{list}");

    // At once in use, by its name in any letters, and read right in a sentence.
    let with: Vec<&str> = CAST.into_iter().chain(["--with", "My Key Ring"]).collect();
    let sheet = home.says(&with);
    assert!(sheet.contains("with my key ring, 60 mm"), "{sheet}");
    assert!(!sheet.contains("the my key ring"), "{sheet}");
    let by_file: Vec<&str> = CAST.into_iter().chain(["--with", "ring.toml"]).collect();
    assert_eq!(home.says(&by_file), sheet);

    home.refuses(
        &["cabinet", "add", "ring.toml"],
        "has a “my key ring” already",
    );
    home.file("ring.toml", &RING.replace("[43]", "[43, 45]"));
    home.says(&["cabinet", "add", "ring.toml", "--overwrite", "--usual"]);
    let usual = home.says(&CAST);
    assert!(usual.contains("my key ring"), "{usual}");
    let shown: Value =
        serde_json::from_str(&home.says(&["cabinet", "my key ring", "--json"])).unwrap();
    assert_eq!(shown["plates_deg"], serde_json::json!([43.0, 45.0]));

    home.says(&["cabinet", "copy", "class instrument", "desk piece"]);
    let exported = home.says(&["cabinet", "export", "desk piece"]);
    assert!(
        exported.contains("name = \"desk piece\"") && exported.contains("# An invented"),
        "{exported}"
    );
    home.says(&["cabinet", "export", "my key ring", "-o", "out.toml"]);
    assert!(
        fs::read_to_string(home.0.path().join("out.toml"))
            .unwrap()
            .starts_with("# bought")
    );
    home.refuses(
        &["cabinet", "export", "my key ring", "-o", "out.toml"],
        "--overwrite",
    );

    home.refuses(&["cabinet", "remove", "my key ring"], "--yes");
    home.refuses(
        &["cabinet", "remove", "class instrument", "--yes"],
        "cabinet's folder",
    );
    let removed = home.says(&["cabinet", "remove", "my key ring", "--yes"]);
    assert!(
        removed.contains("no instrument is the usual one now"),
        "{removed}"
    );
    home.refuses(&with, "no instrument of the cabinet");
    assert!(home.says(&CAST).contains("class instrument"));
}

#[test]
fn a_broken_file_is_told_by_its_name_and_the_others_are_listed() {
    let home = Home::new();
    home.file("ring.toml", RING);
    home.says(&["cabinet", "add", "ring.toml"]);
    fs::write(home.kept().join("broken.toml"), "name = ").unwrap();
    fs::write(home.kept().join("twice.toml"), RING.replace("60", "61")).unwrap();
    let list = home.says(&["cabinet"]);
    assert!(list.contains("my key ring\n"), "{list}");
    assert!(
        list.contains("broken.toml cannot be used: instrument specification: line 1"),
        "{list}"
    );
    assert!(
        list.contains(
            "twice.toml cannot be used: its name “my key ring” is that of my-key-ring.toml"
        ),
        "{list}"
    );
    home.refuses(
        &["cabinet", "nothing such"],
        "broken.toml of the cabinet cannot be used",
    );
    let told: Value = serde_json::from_str(&home.says(&["cabinet", "--json"])).unwrap();
    assert_eq!(told["unread"][0]["file"], "broken.toml");
    assert_eq!(told["own"][0]["name"], "my key ring");
}

#[test]
fn what_the_settings_name_by_a_file_is_in_the_list() {
    let home = Home::new();
    home.file("ring.toml", RING);
    home.says(&["settings", "--with", "ring.toml"]);
    let told: Value = serde_json::from_str(&home.says(&["cabinet", "--json"])).unwrap();
    assert_eq!(told["own"][0]["in_folder"], false);
    assert_eq!(told["instruments"][17]["name"], "my key ring");
    // Found by its name too, and still by the settings.
    assert!(home.says(&CAST).contains("my key ring"));
    let with: Vec<&str> = CAST.into_iter().chain(["--with", "my key ring"]).collect();
    assert!(home.says(&with).contains("my key ring"));
    home.refuses(
        &["cabinet", "remove", "my key ring", "--yes"],
        "cabinet's folder",
    );
    // Gone, it is told, and the rest is there.
    fs::remove_file(home.0.path().join("ring.toml")).unwrap();
    let list = home.says(&["cabinet"]);
    assert!(
        list.contains("class instrument") && list.contains("ring.toml cannot be used"),
        "{list}"
    );
}

#[test]
fn nothing_that_is_there_is_overwritten_unless_that_is_said() {
    let home = Home::new();
    let at = ["--at", "42.8806,-8.5449", "--zone", "Europe/Madrid"];
    let line = |head: &[&'static str], more: &[&'static str]| -> Vec<&'static str> {
        head.iter()
            .copied()
            .chain(at)
            .chain(more.iter().copied())
            .collect()
    };
    let figure = |more: &[&'static str]| line(&["figure", "2024-05-14 09:20"], more);
    home.says(&figure(&["-o", "one.svg"]));
    for command in [
        figure(&["-o", "one.svg"]),
        line(&["draw", "2024-05-14 09:20"], &["--output", "one.svg"]),
        line(&["compare", "2024-05-14 09:20"], &["-o", "one.svg"]),
        vec![
            "planets",
            "--from",
            "2024-05-14 00:00",
            "--to",
            "2024-05-16 00:00",
            "--every",
            "1d",
            "-o",
            "one.svg",
        ],
        vec!["cabinet", "export", "class instrument", "-o", "one.svg"],
    ] {
        home.refuses(
            &command,
            "one.svg is there already; another name, or --overwrite, would do",
        );
        let overwriting: Vec<&str> = command.iter().copied().chain(["--overwrite"]).collect();
        home.says(&overwriting);
    }
    home.says(&["casebook", "export", "-o", "cases.csv"]);
    home.refuses(&["casebook", "export", "-o", "cases.csv"], "--overwrite");
    home.says(&["casebook", "export", "-o", "cases.csv", "--overwrite"]);
    fs::create_dir(home.0.path().join("folder.svg")).unwrap();
    home.refuses(
        &figure(&["-o", "folder.svg"]),
        "is a folder, and a file is written",
    );
    // Several files want a folder, which is not called like one of them.
    home.refuses(
        &["course", "--at", "Lisbon, Portugal", "--year", "2024", "-o", "course.pdf"],
        "course.pdf is called like a file, and several files are written, into a folder; course would do",
    );
    assert!(!home.0.path().join("course.pdf").exists());
    // An older name of the option is still understood.
    home.refuses(&["make", "--out", "parts.svg"], "called like a file");
}

#[test]
fn a_line_that_is_not_understood_is_told_as_it_should_be() {
    let home = Home::new();
    let leipzig = "almuri cast \"2001-08-19 14:30\" --at \"Leipzig, Saxony, Germany\"\n";
    for line in [
        &["cast", "2001-08-19", "14:30", "leipzig", "germany"][..],
        &["cast", "19.08.2001 14:30", "--at", "Leipzig, Germany"],
        &["cast", "2001-08-19 14:30", "--at", "leipzig germany"],
    ] {
        home.refuses(
            line,
            "did you mean\n    almuri cast \"2001-08-19 14:30\" --at \"Leipzig",
        );
    }
    home.refuses(
        &["cast", "2001-08-19", "14:30", "leipzig", "germany"],
        leipzig,
    );
    home.refuses(
        &["cast", "19.08.2001", "--at", "Leipzig, Germany"],
        "did you mean 2001-08-19?",
    );
}

#[test]
fn the_help_begins_with_an_example_and_groups_the_commands() {
    let home = Home::new();
    for flag in ["--help", "-h"] {
        let help = home.says(&[flag]);
        assert!(
            help.starts_with("almuri cast \"2024-05-14 09:20\" --at"),
            "{help}"
        );
        let at = |word: &str| {
            help.find(word)
                .unwrap_or_else(|| panic!("{word} is not in: {help}"))
        };
        assert!(
            at("A figure:") < at("  cast ") && at("  cast ") < at("Teaching and learning:"),
            "{help}"
        );
        assert!(at("  make ") > at("Choosing, making, repairing:"), "{help}");
        assert!(at("--no-open") > at("  settings "), "{help}");
    }
}
