//! Many figures at once by the command line.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fmt::Write;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

fn almuri(folder: &Path, arguments: &[&str]) -> Output {
    command(folder, arguments).output().unwrap()
}

fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_almuri"));
    command.arg("batch").args(arguments).current_dir(folder);
    command
}

#[track_caller]
fn done(folder: &Path, arguments: &[&str]) -> String {
    let out = almuri(folder, arguments);
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    String::from_utf8(out.stdout).unwrap()
}

fn read(folder: &Path, name: &str) -> String {
    std::fs::read_to_string(folder.join(name)).unwrap()
}

fn table(rows: usize) -> String {
    let mut text = "name,when,at,clock\n".to_owned();
    for n in 0..rows {
        let (month, day, hour, minute) = (n % 12 + 1, n % 28 + 1, n % 24, n * 7 % 60);
        let (latitude, longitude) = (n % 120, n % 300);
        writeln!(
            text,
            "case {n},{}-{month:02}-{day:02} {hour:02}:{minute:02},\"{}.5,{}.25\",mean",
            1600 + n % 420,
            latitude as i32 - 60,
            longitude as i32 - 150
        )
        .unwrap();
    }
    text
}

#[test]
fn rows_keep_their_order_on_any_number_of_cores() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    std::fs::write(folder.join("cases.csv"), table(2000)).unwrap();
    assert_eq!(
        done(folder, &["cases.csv", "-o", "one.csv", "--cores", "1"]),
        "2000 figures written to one.csv\n"
    );
    done(folder, &["cases.csv", "-o", "three.csv", "--cores", "3"]);
    let one = read(folder, "one.csv");
    assert!(
        one == read(folder, "three.csv"),
        "the same whatever the cores"
    );
    for (n, line) in one.lines().skip(1).enumerate() {
        assert!(line.starts_with(&format!("{},case {n},", n + 2)), "{line}");
    }
    assert!(!folder.join("one.csv.part").exists() && !folder.join("one.csv.unfinished").exists());
}

/// The same numbers as the figure of the desk gives.
#[test]
fn a_row_is_the_figure() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    std::fs::write(
        folder.join("cases.csv"),
        "when,at,zone,houses\n2024-05-14 09:20,\"42.8806,-8.5449\",Europe/Madrid,placidus\n",
    )
    .unwrap();
    done(folder, &["cases.csv", "-o", "out.jsonl", "--outer"]);
    let row: Value = serde_json::from_str(&read(folder, "out.jsonl")).unwrap();
    let figure = Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args([
            "figure",
            "2024-05-14 09:20",
            "--at",
            "42.8806,-8.5449",
            "--zone",
            "Europe/Madrid",
        ])
        .args(["--houses", "placidus", "--outer", "--no-settings", "--json"])
        .output()
        .unwrap();
    let figure: Value = serde_json::from_slice(&figure.stdout).unwrap();
    let exact = &figure["exact"];
    for key in ["ascendant_deg", "midheaven_deg", "cusps_deg", "sect"] {
        assert_eq!(row["figure"][key], exact[key], "{key}");
    }
    assert_eq!(row["figure"]["hour"]["ruler"], exact["hour"]["ruler"]);
    assert_eq!(row["figure"]["bodies"].as_array().unwrap().len(), 10);
    for (body, whole) in row["figure"]["bodies"]
        .as_array()
        .unwrap()
        .iter()
        .zip(exact["bodies"].as_array().unwrap())
    {
        assert_eq!(
            (&body["longitude_deg"], &body["house"]),
            (&whole["longitude_deg"], &whole["house"])
        );
        assert_eq!(body["dignity"], whole["dignities"]["score"]);
    }
}

#[test]
fn what_is_wrong_with_a_row_stands_in_its_own_column() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let mut rows = b"when,at,clock,mine\n\
        2024-05-14 09:20,Lisbon,,kept\n\
        2024-05-34 09:20,\"0,0\",mean,\n\
        ,\"0,0\",mean,\n\
        2024-05-14 09:20,\"0,0\"\n\
        now,\"0,0\",mean,\n\
        -9000-05-14 09:20,\"0,0\",mean,\n\
        2024-05-14 09:20,\"78.2,15.6\",mean,polar day\n"
        .to_vec();
    rows.extend(b"2024-05-14 09:20,\xff\xfe,mean,\n2024-05-14 09:20,\"0,0\",mean,last\n");
    std::fs::write(folder.join("cases.csv"), rows).unwrap();
    let said = done(folder, &["cases.csv", "-o", "out.csv", "--json"]);
    let said: Value = serde_json::from_str(&said).unwrap();
    assert_eq!(
        (&said["rows"], &said["refused"]),
        (&Value::from(9), &Value::from(7))
    );
    let out = read(folder, "out.csv");
    let mut reader = csv::Reader::from_reader(out.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let errors: Vec<&str> = rows.iter().map(|row| row.get(4).unwrap()).collect();
    for (error, words) in errors.iter().zip([
        "Lisbon",
        "2024-05-34",
        "a date and time is missing",
        "2 fields, and the header 4",
        "`now`",
        "-9000",
        "",
        "UTF-8",
        "",
    ]) {
        assert!(
            error.contains(words) && error.is_empty() == words.is_empty(),
            "{error} / {words}"
        );
    }
}

#[test]
fn what_cannot_be_begun_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    std::fs::write(folder.join("cases.csv"), table(1)).unwrap();
    std::fs::write(folder.join("other.csv"), "date,place\n").unwrap();
    for (arguments, words) in [
        (vec!["cases.csv", "-o", "out.txt"], "one of them would do"),
        (vec!["none.csv", "-o", "out.csv"], "none.csv cannot be read"),
        (
            vec!["other.csv", "-o", "out.csv"],
            "it needs `when` and `at`",
        ),
        (
            vec!["cases.csv", "-o", "out.csv", "--houses", "x"],
            "no house method is called",
        ),
        (
            vec!["cases.csv", "-o", "out.csv", "--cores", "0"],
            "1 to 1024",
        ),
    ] {
        let out = almuri(folder, &arguments);
        let message = String::from_utf8(out.stderr).unwrap();
        assert_eq!(out.status.code(), Some(2), "{message}");
        assert!(message.contains(words), "{message}");
        assert!(!folder.join("out.csv").exists());
    }
}

/// Broken off and taken up again, the table is what it would have been.
#[cfg(unix)]
#[test]
fn a_broken_run_is_taken_up_again() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    std::fs::write(folder.join("cases.csv"), table(40_000)).unwrap();
    let arguments = ["cases.csv", "-o", "broken.csv", "--cores", "1"];
    let mut broken = false;
    for wait_ms in [150, 300, 80] {
        let child = command(folder, &arguments)
            .stderr(std::process::Stdio::piped())
            .spawn()
            .unwrap();
        std::thread::sleep(std::time::Duration::from_millis(wait_ms));
        let pid = child.id().to_string();
        Command::new("kill").args(["-INT", &pid]).status().unwrap();
        let out = child.wait_with_output().unwrap();
        if out.status.success() {
            break;
        }
        let message = String::from_utf8(out.stderr).unwrap();
        if message.contains("the same command goes on from there") {
            broken = true;
            assert!(!folder.join("broken.csv").exists());
            let refused = almuri(folder, &["cases.csv", "-o", "broken.csv", "--outer"]);
            assert!(String::from_utf8_lossy(&refused.stderr).contains("--afresh begins anew"));
        }
    }
    done(folder, &arguments);
    done(folder, &["cases.csv", "-o", "whole.csv"]);
    assert!(
        read(folder, "broken.csv") == read(folder, "whole.csv"),
        "broken off: {broken}"
    );
    assert!(broken, "it was too fast to be broken off");
}

/// A quotation mark that is never closed makes one row of all that follows.
#[test]
fn a_row_without_end_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let endless = format!("{}\"case 4,{}", table(3), "1600-01-01\n".repeat(200_000));
    std::fs::write(folder.join("cases.csv"), endless).unwrap();
    let out = almuri(folder, &["cases.csv", "-o", "figures.csv"]);
    let said = String::from_utf8(out.stderr).unwrap();
    assert_eq!(out.status.code(), Some(2), "{said}");
    assert!(
        said.contains("from line 5 on") && said.contains("quotation mark"),
        "{said}"
    );
    assert!(!folder.join("figures.csv").exists());
}

/// What lies where the half-made table should be is written on from only if it is what
/// the broken run wrote.
#[cfg(unix)]
#[test]
fn a_half_made_table_that_is_not_its_own_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    std::fs::write(folder.join("cases.csv"), table(8_000)).unwrap();
    let arguments = ["cases.csv", "-o", "broken.csv", "--cores", "1"];
    let mut child = command(folder, &arguments)
        .stderr(std::process::Stdio::null())
        .spawn()
        .unwrap();
    // Its note is there once it was told to stop, and the table half made.
    let pid = child.id().to_string();
    std::thread::sleep(std::time::Duration::from_millis(250));
    Command::new("kill").args(["-INT", &pid]).status().unwrap();
    child.wait().unwrap();
    let part = folder.join("broken.csv.part");
    let good = std::fs::read(&part).unwrap();
    let mut flipped = good.clone();
    flipped[20] ^= 1;
    for (there, why) in [
        (None, "is not there"),
        (Some(&good[..good.len() - 1]), "is shorter than"),
        (Some(&[] as &[u8]), "is shorter than"),
        (Some(&flipped), "is not what was written"),
    ] {
        match there {
            None => std::fs::remove_file(&part).unwrap(),
            Some(bytes) => std::fs::write(&part, bytes).unwrap(),
        }
        let refused = almuri(folder, &arguments);
        let said = String::from_utf8(refused.stderr).unwrap();
        assert_eq!(refused.status.code(), Some(2), "{said}");
        assert!(said.contains(why) && said.contains("--afresh"), "{said}");
        assert!(!folder.join("broken.csv").exists());
    }
    // Longer is what a crash leaves: it is cut back.
    std::fs::write(&part, [good.as_slice(), b"half a line"].concat()).unwrap();
    done(folder, &arguments);
    done(folder, &["cases.csv", "-o", "whole.csv"]);
    assert!(read(folder, "broken.csv") == read(folder, "whole.csv"));
}

/// What spreadsheets of many countries write: the same figures, and decimal commas refused.
#[test]
fn semicolons_and_tabs_part_columns_too() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let rows = [
        ["name", "when", "at", "mine, of old"],
        ["A", "2024-05-14 09:20", "42.8806,-8.5449", "x"],
        ["B", "1391-03-12 09:00", "51°50′N 1°15′W", ""],
    ];
    let written = |name: &str, separator: &str| {
        let lines: Vec<String> = rows.iter().map(|row| row.join(separator)).collect();
        std::fs::write(folder.join(name), lines.join("\r\n")).unwrap();
    };
    let quoted = "name,when,at,\"mine, of old\"\nA,2024-05-14 09:20,\"42.8806,-8.5449\",x\nB,1391-03-12 09:00,51°50′N 1°15′W,\n";
    std::fs::write(folder.join("commas.csv"), quoted).unwrap();
    written("semicolons.csv", ";");
    written("tabs.csv", "\t");
    let figures = ["commas", "semicolons", "tabs"].map(|name| {
        let output = format!("{name}-out.csv");
        assert_eq!(
            done(folder, &[&format!("{name}.csv"), "-o", &output]),
            format!("2 figures written to {output}\n")
        );
        read(folder, &output)
    });
    assert_eq!(figures[0], figures[1]);
    assert_eq!(figures[0], figures[2]);

    std::fs::write(
        folder.join("decimals.csv"),
        "when;at;longitude\n2024-05-14 09:20;42,88;-8,54\n2024-05-14 09:20;42,88 N 8,54 W;\n2024-05-14 09:20;42,88;-8,54;\n",
    )
    .unwrap();
    done(folder, &["decimals.csv", "-o", "decimals.jsonl"]);
    let lines = read(folder, "decimals.jsonl");
    let errors: Vec<String> = lines
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap()["error"].to_string())
        .collect();
    for (error, names) in errors.iter().zip([
        "one number with a decimal comma",
        "a comma stands within a number",
        "4 fields",
    ]) {
        assert!(error.contains(names), "{error}");
    }
    assert_eq!(errors.len(), 3);
}

/// Through a pipe comes what goes into a file, in the same order; what cannot be cast says
/// why in its column.
#[test]
fn a_pipe_gives_what_a_file_does() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let cases = table(1000) + "no date,2023-02-29 12:00,\"1.5,2.25\",mean\n";
    std::fs::write(folder.join("cases.csv"), &cases).unwrap();
    done(folder, &["cases.csv", "-o", "file.csv"]);
    let expected = read(folder, "file.csv");
    assert_eq!(done(folder, &["cases.csv", "-o", "-"]), expected);
    let through = |arguments: &[&str], text: &str| {
        let mut child = command(folder, arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stdin = child.stdin.take().unwrap();
        let text = text.to_owned();
        // It may be refused before all of it was read.
        let fed = std::thread::spawn(move || stdin.write_all(text.as_bytes()));
        let out = child.wait_with_output().unwrap();
        let _ = fed.join().unwrap();
        out
    };
    let out = through(&["-", "-o", "-", "--cores", "3"], &cases);
    assert!(out.status.success() && out.stderr.is_empty());
    assert!(String::from_utf8(out.stdout).unwrap() == expected);
    // Pieces of one table, put together.
    let (header, rows) = cases.split_once('\n').unwrap();
    let half = rows.len() / 2 + rows[rows.len() / 2..].find('\n').unwrap() + 1;
    let mut together = String::new();
    for piece in [&rows[..half], &rows[half..]] {
        let out = through(
            &["-", "-o", "-", "--without-header"],
            &format!("{header}\n{piece}"),
        );
        together += &String::from_utf8(out.stdout).unwrap();
    }
    // The lines are counted within each.
    let without_line = |text: &str| -> Vec<String> {
        let lines = text.lines().filter_map(|line| line.split_once(','));
        lines.map(|(_, rest)| rest.to_owned()).collect()
    };
    let (_, expected_rows) = expected.split_once('\n').unwrap();
    assert!(without_line(&together) == without_line(expected_rows));
    let last = expected_rows.lines().last().unwrap();
    assert!(last.contains("2023-02-29"), "{last}");
    // Into a file, from a pipe.
    let out = through(&["-", "-o", "piped.csv"], &cases);
    assert!(out.status.success());
    assert!(read(folder, "piped.csv") == expected);
    // What is no table is refused, and nothing comes out.
    for (arguments, text) in [
        (&["-", "-o", "-"][..], "no,table\n1,2\n"),
        (&["-", "-o", "-", "--json"], &cases),
    ] {
        let out = through(arguments, text);
        assert_eq!(out.status.code(), Some(2));
        assert!(out.stdout.is_empty() && !out.stderr.is_empty());
    }
}
