//! `almuri planets` as it is run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

fn almuri(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_almuri"));
    command.arg("planets").args(arguments).arg("--no-settings");
    command
}

fn run(arguments: &[&str]) -> Output {
    almuri(arguments).output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// A folder of this test's own, empty.
fn folder(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).unwrap();
    path
}

#[test]
fn a_table_for_reading() {
    let output = run(&["2024-05-14 09:20", "--at", "Santiago de Compostela, Spain"]);
    assert!(output.status.success() && output.stderr.is_empty());
    let text = said(&output);
    for expected in [
        "24°00′ Taurus",
        "Pluto",
        "retrograde",
        "true node",
        "culminates",
    ] {
        assert!(text.contains(expected), "{expected} in\n{text}");
    }
    assert!(
        text.lines().all(|line| line.chars().count() <= 96),
        "{text}"
    );
}

#[test]
fn json_is_one_object() {
    let output = run(&["2024-05-14 09:20", "--json"]);
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(value["bodies"].as_array().unwrap().len(), 10);
    let output = run(&[
        "--from",
        "2024-05-14 09:20",
        "--to",
        "2024-05-20 09:20",
        "--every",
        "1d",
        "--json",
    ]);
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(value["rows"].as_array().unwrap().len(), 7);
    assert_eq!(value["complete"], true);
}

#[test]
fn bad_input_leaves_with_2_and_says_nothing_on_standard_output() {
    for arguments in [
        &["2024-02-30 00:00"][..],
        &["3000-01-01 00:00"],
        &["2024-01-01 00:00", "--at", "91,0"],
        &[],
        &["--from", "2024-01-01 00:00"],
        &[
            "--from",
            "2024-01-01 00:00",
            "--to",
            "2024-02-01 00:00",
            "--every",
            "soon",
        ],
    ] {
        let output = run(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
        assert!(output.stderr.starts_with(b"almuri: "), "{arguments:?}");
    }
}

#[test]
fn a_file_is_written_whole_and_quietly() {
    let folder = folder("whole");
    let path = folder.join("ephemeris.csv");
    let output = run(&[
        "--from",
        "2000-01-01 00:00",
        "--to",
        "2000-12-31 00:00",
        "--every",
        "1d",
        "--output",
        path.to_str().unwrap(),
    ]);
    assert!(output.status.success());
    assert!(output.stdout.is_empty() && output.stderr.is_empty());
    let text = fs::read_to_string(&path).unwrap();
    assert_eq!(text.lines().count(), 1 + 366);
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
    let fields = |line: &str| line.split(',').count();
    assert!(
        text.lines().all(|line| fields(line) == 56),
        "{}",
        fields(&text)
    );
}

/// Ctrl-C leaves neither the file nor a part of it, and an older one as it was.
#[cfg(unix)]
#[test]
fn an_interrupt_leaves_no_broken_file() {
    let folder = folder("interrupted");
    let path = folder.join("ephemeris.csv");
    fs::write(&path, "older").unwrap();
    let child = almuri(&[
        "--from",
        "-0500-01-01 00:00",
        "--to",
        "2500-01-01 00:00",
        "--every",
        "1h",
        "--overwrite",
        "--output",
        path.to_str().unwrap(),
    ])
    .stderr(Stdio::piped())
    .spawn()
    .unwrap();
    // It is written under a name of its own until it is whole.
    let parts = || {
        let files = fs::read_dir(&folder)
            .unwrap()
            .map(|file| file.unwrap().path());
        files
            .filter(|file| file.extension().is_some_and(|end| end == "part"))
            .count()
    };
    let begun = std::time::Instant::now();
    while parts() == 0 {
        assert!(begun.elapsed().as_secs() < 60, "nothing was begun");
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    let killed = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(killed.unwrap().success());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(String::from_utf8_lossy(&output.stderr).contains("stopped after"));
    assert_eq!(fs::read_to_string(&path).unwrap(), "older");
    assert_eq!(parts(), 0);
}

/// A reader that stops early is no failure.
#[test]
fn standard_output_may_be_closed() {
    let mut child = almuri(&[
        "--from",
        "-0500-01-01 00:00",
        "--to",
        "2500-01-01 00:00",
        "--every",
        "1h",
    ])
    .stdout(Stdio::piped())
    .spawn()
    .unwrap();
    let mut out = child.stdout.take().unwrap();
    let mut begin = [0; 100];
    std::io::Read::read_exact(&mut out, &mut begin).unwrap();
    drop(out);
    assert!(child.wait().unwrap().success());
}
