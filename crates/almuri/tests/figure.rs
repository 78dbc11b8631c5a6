//! The finished figure by the command line: as a table, and drawn.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;
use std::process::{Command, Output};

fn figure(folder: &Path, more: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args(["figure", "2024-05-14 09:20", "--at", "42.8806,-8.5449"])
        .args(["--zone", "Europe/Madrid", "--no-settings"])
        .args(more)
        .current_dir(folder)
        .output()
        .unwrap()
}

#[test]
fn the_table_says_what_a_reader_needs() {
    let folder = tempfile::tempdir().unwrap();
    let out = figure(folder.path(), &[]);
    let text = String::from_utf8(out.stdout).unwrap();
    for line in [
        "a figure of the day",
        "hour 2 of the day, ruled by the Sun, in the day of Mars",
        "What the reading changes",
        "terms          lilly",
        "Border: cusp is taken, where Lilly has five-degrees.",
    ] {
        assert!(text.contains(line), "{line} is not in\n{text}");
    }
}

/// What was read is drawn: beside the calculated figure, or alone.
#[test]
fn a_drawing_shows_what_was_read() {
    let folder = tempfile::tempdir().unwrap();
    let drawn = |more: &[&str]| {
        let out = figure(folder.path(), &[&["-o", "-"], more].concat());
        let error = String::from_utf8_lossy(&out.stderr);
        assert!(out.status.success(), "{error}");
        out.stdout
    };
    let read = ["--read", "ascendant=2 Cancer"];
    let calculated = drawn(&[]);
    assert_ne!(drawn(&read), calculated);
    assert_eq!(
        drawn(&read),
        drawn(&[&read, &["--filled", "both"][..]].concat())
    );
    assert_eq!(
        drawn(&[&read, &["--filled", "calculated"][..]].concat()),
        calculated
    );
    let alone = ["--filled", "as-read"];
    assert_ne!(drawn(&[&read, &alone[..]].concat()), drawn(&alone));
}

#[cfg(feature = "documents")]
#[test]
fn drawn_as_the_files_name_says() {
    let folder = tempfile::tempdir().unwrap();
    for (name, begins) in [
        ("a.svg", b"<svg ".as_slice()),
        ("a.pdf", b"%PDF-"),
        ("A.PNG", b"\x89PNG"),
    ] {
        let out = figure(folder.path(), &["--form", "square", "-o", name]);
        assert!(
            out.status.success(),
            "{}",
            String::from_utf8_lossy(&out.stderr)
        );
        assert!(out.stdout.is_empty());
        let bytes = std::fs::read(folder.path().join(name)).unwrap();
        assert!(bytes.starts_with(begins), "{name}");
    }
    for filled in ["calculated", "as-read", "both", "blank"] {
        for form in [
            "brass",
            "brass-narrow",
            "square",
            "round",
            "round-narrow",
            "as-instrument",
            "as-instrument-narrow",
        ] {
            let name = format!("{filled}-{form}.svg");
            let out = figure(
                folder.path(),
                &["--form", form, "--filled", filled, "-o", &name],
            );
            let said = String::from_utf8_lossy(&out.stderr);
            assert!(out.status.success(), "{name}: {said}");
        }
    }
    let out = figure(folder.path(), &["-o", "a.gif"]);
    assert_eq!(out.status.code(), Some(2));
    let message = String::from_utf8(out.stderr).unwrap();
    assert!(message.contains(".svg, .pdf or .png would do"), "{message}");
}

#[test]
fn the_table_in_parts() {
    let folder = tempfile::tempdir().unwrap();
    let out = figure(folder.path(), &["--only", "aspects,cusps"]);
    let text = String::from_utf8(out.stdout).unwrap();
    assert!(text.starts_with("Angles and cusps"), "{text}");
    assert!(text.contains("Aspects by degree"));
    assert!(!text.contains("Planets") && !text.contains("Lots"));
    let out = figure(folder.path(), &["--only", "houses"]);
    assert_eq!(out.status.code(), Some(2));
    let message = String::from_utf8(out.stderr).unwrap();
    assert!(message.contains("moment, cusps, planets"), "{message}");
}
