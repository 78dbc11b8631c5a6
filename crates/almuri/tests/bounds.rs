//! The dearest requests: each command and each path of the page is among those that
//! `reference/bounds.py` measures, and what is dearer is refused, with what would be
//! accepted.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Output};

const MEASURED: &str = include_str!("../../../reference/bounds.py");

fn almuri(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .current_dir(folder)
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .env("XDG_DATA_HOME", folder.join("data"))
        // Wide enough that each line of a help stands on one.
        .env("COLUMNS", "1000")
        .args(arguments)
        .output()
        .unwrap()
}

/// The commands that a help lists.
fn commands(arguments: &[&str]) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let help = almuri(folder.path(), &[arguments, &["--help"]].concat());
    let help = String::from_utf8(help.stdout).unwrap();
    let (_, listed) = help.split_once(":\n").unwrap();
    listed
        .lines()
        .filter_map(|line| line.strip_prefix("  "))
        .filter(|line| line.starts_with(|c: char| c.is_ascii_lowercase()))
        .map(|line| line.split_whitespace().next().unwrap().to_owned())
        .collect()
}

#[test]
fn every_command_and_every_path_is_measured() {
    let top = commands(&[]);
    assert!(top.len() > 20, "{top:?}");
    let of_others = ["casebook", "class"].map(|command| {
        let all = commands(&[command]);
        assert!(all.len() > 7, "{all:?}");
        all.into_iter().map(move |one| format!("{command} {one}"))
    });
    let alone = top
        .into_iter()
        .filter(|one| one != "casebook" && one != "class");
    let commands = alone
        .chain(of_others.into_iter().flatten())
        .map(|command| format!("`{command}`"));
    let paths =
        workbench::paths().map(|path| format!("(\"{}\", ", path.trim_start_matches("/desk/")));
    let missing: Vec<String> = commands
        .chain(paths)
        .filter(|what| !MEASURED.contains(what))
        .collect();
    assert_eq!(missing, [""; 0], "reference/bounds.py has a row for each");
}

/// A class of so many with so many questions each.
fn class(pupils: usize, questions: usize) -> String {
    let mut text = format!(
        "version = 1\nname = \"c\"\nplace = \"42.88,-8.54\"\nzone = \"Europe/Madrid\"\nyear = 2026\nseed = 1\nquestions = {questions}\n"
    );
    for number in 0..pupils {
        write!(
            text,
            "[[pupils]]\nname = \"p{number}\"\nwith = \"class instrument\"\n"
        )
        .unwrap();
    }
    text
}

#[test]
fn what_is_dearer_is_refused_with_what_would_do() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let large = |diameter: u32, plates: usize| {
        let plates: Vec<String> = (0..plates)
            .map(|n| format!("{}", 10.0 + n as f64 / 2.0))
            .collect();
        format!(
            "version = 1\nname = \"large\"\ndiameter_mm = {diameter}\nepoch_year = 2025\nplates_deg = [{}]\n",
            plates.join(", ")
        )
    };
    for (name, text) in [
        ("class.toml", class(100, 4)),
        ("crowd.toml", class(101, 1)),
        ("large.toml", large(1000, 40)),
        ("towns.txt", "42.5,0\n".repeat(2001)),
        ("few.txt", "42.5,0\n".repeat(401)),
        ("long.toml", "# \n".repeat(100_000)),
        ("long.txt", "42.5,0\n".repeat(200_000)),
        ("long.csv", "name,when,at\n".repeat(100_002)),
        ("table.csv", "a,b\n".repeat(2_200_000)),
    ] {
        std::fs::write(folder.join(name), text).unwrap();
    }
    let plates = vec!["42"; 101].join(",");
    let choose = [
        "choose",
        "--at",
        "51.5,0",
        "--clock",
        "mean",
        "--from",
        "2020-01-01",
    ];
    let wishes = ["--rather", "Moon in Leo"].repeat(24);
    let houses = ["--rather", "Mars in house 1"].repeat(3);
    let must = ["--must", "Moon waxing"];
    let of_choose = |more: &[&'static str]| [&choose[..], more, &must].concat();
    let asked: [(Vec<&str>, &str); 17] = [
        (vec!["exercises", "class.toml"], "3 questions each would do"),
        (vec!["exercises", "crowd.toml"], "up to 100 would do"),
        (vec!["exercises", "long.toml"], "longer than 262144 bytes"),
        (
            vec!["plates", "--towns", "towns.txt"],
            "2000 at most would do",
        ),
        (vec!["plates", "--towns", "long.txt"], "longer than"),
        (
            vec![
                "plates", "--towns", "few.txt", "--cards", "2026", "-o", "cards",
            ],
            "400 at most would do",
        ),
        (
            vec!["plates", "--towns", "42,0", "--stock", &plates],
            "100 at most would do",
        ),
        (
            vec!["make", "--with", "large.toml", "-o", "set"],
            "would do",
        ),
        (
            vec!["make", "--with", "long.toml", "-o", "set"],
            "longer than any",
        ),
        (
            of_choose(&["--to", "2031-01-01"]),
            "ten years at once would do",
        ),
        (
            of_choose(&[&["--to", "2020-02-01"], &wishes[..]].concat()),
            "24 in all would do",
        ),
        (
            of_choose(&[&["--to", "2029-12-31"], &houses[..]].concat()),
            "2 such wishes, would do",
        ),
        (
            vec!["year", "2650", "--at", "51.5,0"],
            "1583 to 2649 would do",
        ),
        (
            vec![
                "course",
                "--year",
                "1500",
                "--at",
                "51.5,0",
                "--zone",
                "Europe/London",
            ],
            "1583 to 2649 would do",
        ),
        (
            vec!["casebook", "import", "long.csv"],
            "more than 50000 rows; in parts they would do",
        ),
        (vec!["proofread", "table.csv"], "longer than 8 MB"),
        (
            vec![
                "make",
                "--with",
                "pocket instrument",
                "-o",
                "set",
                "--dpi",
                "2400",
            ],
            "20 to 1200 would do",
        ),
    ];
    for (arguments, says) in asked {
        let out = almuri(folder, &arguments);
        let said = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{arguments:?}: {said}");
        assert!(said.contains(says), "{arguments:?}: {said}");
        assert_eq!(out.stdout, b"", "{arguments:?}");
    }
}
