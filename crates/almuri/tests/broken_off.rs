//! Broken off in the middle, killed or refused by the system: what was answered for is
//! there, what is half made is gone on with or refused, and Ctrl-C is obeyed at once.

#![cfg(unix)]
#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fmt::Write as _;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::sync::Mutex;
use std::time::{Duration, Instant};

use ordeal::{Dice, Kills, has_strace, is_on, killed_at, refused_from, tell, times};
use serde_json::{Value, json};

const ALMURI: &str = env!("CARGO_BIN_EXE_almuri");

/// In a folder, with settings and a casebook of its own there.
fn at_home(mut command: Command, folder: &Path) -> Command {
    command
        .current_dir(folder)
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .env("XDG_DATA_HOME", folder.join("data"))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

fn almuri(folder: &Path, arguments: &[&str]) -> Output {
    at_home(Command::new(ALMURI), folder)
        .args(arguments)
        .output()
        .unwrap()
}

#[track_caller]
fn done(folder: &Path, arguments: &[&str]) -> String {
    let out = almuri(folder, arguments);
    let said = String::from_utf8_lossy(&out.stderr);
    assert!(out.status.success(), "{arguments:?}: {said}");
    String::from_utf8(out.stdout).unwrap()
}

fn interrupted(child: &Child) {
    let killed = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(killed.unwrap().success());
}

/// The program, killed at a system call by which something is written where `strace` is
/// there and the round is odd; else after some time.
fn killed(
    kills: &mut Kills,
    folder: &Path,
    arguments: &[&str],
    round: u64,
    dice: &mut Dice,
) -> Output {
    let by_call = has_strace() && round % 2 == 1;
    let command = if by_call {
        killed_at(ALMURI, 1 + dice.roll() % 90)
    } else {
        Command::new(ALMURI)
    };
    let mut child = at_home(command, folder).args(arguments).spawn().unwrap();
    if !by_call {
        std::thread::sleep(Duration::from_millis(dice.roll() % 120));
        // It may have finished meanwhile.
        let _ = child.kill();
    }
    let out = child.wait_with_output().unwrap();
    kills.count(out.status, by_call);
    out
}

#[test]
fn what_the_command_line_answered_for_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let rounds = times(8, 210);
    let mut dice = Dice::seeded(3);
    let (mut answered, mut kills) = (Vec::new(), Kills::default());
    for round in 0..rounds {
        let name = format!("Case {round}");
        let keep = [
            "casebook",
            "keep",
            &name,
            "2024-05-14 09:20",
            "--at",
            "0,0",
            "--clock",
            "mean",
        ];
        let out = killed(&mut kills, folder, &keep, round, &mut dice);
        if out.status.success() {
            answered.push(name);
        }
    }
    done(folder, &["casebook", "check"]);
    let limit = (rounds + 1).to_string();
    let listed = done(folder, &["casebook", "list", "--limit", &limit, "--json"]);
    let names = |text: &str| -> Vec<String> {
        let listed: Value = serde_json::from_str(text).unwrap();
        let cases = listed["cases"].as_array().unwrap().iter();
        cases
            .map(|one| one["case"]["name"].as_str().unwrap().to_owned())
            .collect()
    };
    let there = names(&listed);
    for name in &answered {
        assert!(there.contains(name), "{name} was answered for");
    }
    kills.tell(
        "the command line that keeps a case",
        "nothing lost, nothing left that cannot be finished",
    );
}

/// A case kept by the page: its number, once that is answered.
fn keeps(address: &str, cookie: &str, name: &str) -> Option<i64> {
    let body = json!({ "name": name, "when": "2024-05-14 09:20", "at": "0,0", "clock": "mean" });
    let body = body.to_string();
    let mut stream = TcpStream::connect(address).ok()?;
    stream
        .set_read_timeout(Some(Duration::from_secs(20)))
        .ok()?;
    let asked = format!(
        "POST /desk/casebook/keep HTTP/1.1\r\nHost: {address}\r\nCookie: {cookie}\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    );
    stream.write_all(asked.as_bytes()).ok()?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer).ok()?;
    let (head, body) = answer.split_once("\r\n\r\n")?;
    let kept: Value = serde_json::from_str(body).ok()?;
    head.starts_with("HTTP/1.1 200")
        .then_some(kept["id"].as_i64())?
}

#[test]
fn what_the_page_was_answered_for_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let rounds = times(4, 60);
    let mut dice = Dice::seeded(4);
    let answered = Mutex::new(Vec::new());
    let mut kills = Kills::default();
    for round in 0..rounds {
        let by_call = has_strace() && round % 2 == 1;
        let command = if by_call {
            killed_at(ALMURI, 40 + dice.roll() % 600)
        } else {
            Command::new(ALMURI)
        };
        let mut server = at_home(command, folder)
            .args(["--no-open", "--port", "0"])
            .spawn()
            .unwrap();
        let mut told = String::new();
        BufReader::new(server.stdout.take().unwrap())
            .read_line(&mut told)
            .unwrap();
        // It may have been killed before it told.
        let mut at_call = by_call && told.is_empty();
        if let Some((_, page)) = told.trim().split_once("http://") {
            let (address, key) = page.split_once("/enter/").unwrap();
            let port = address.rsplit(':').next().unwrap();
            let cookie = format!("almuri-{port}={key}");
            let wait = Duration::from_millis(150 + dice.roll() % 400);
            std::thread::scope(|scope| {
                for client in 0..3 {
                    let (answered, cookie) = (&answered, &cookie);
                    scope.spawn(move || {
                        for n in 0.. {
                            let name = format!("Case {n} of {client} in round {round}");
                            match keeps(address, cookie, &name) {
                                Some(id) => answered.lock().unwrap().push((id, name)),
                                None => return,
                            }
                        }
                    });
                }
                let begun = Instant::now();
                let longest = if by_call {
                    Duration::from_secs(5)
                } else {
                    wait
                };
                while begun.elapsed() < longest && server.try_wait().unwrap().is_none() {
                    std::thread::sleep(Duration::from_millis(5));
                }
                at_call = by_call && server.try_wait().unwrap().is_some();
                // Under `strace` the program itself is its child, and goes with it.
                let _ = server.kill();
            });
        }
        let _ = server.kill();
        kills.count(server.wait().unwrap(), at_call);
    }
    let answered = answered.into_inner().unwrap();
    assert!(!answered.is_empty(), "nothing was kept at all");
    done(folder, &["casebook", "check"]);
    let limit = (answered.len() * 2 + 100).to_string();
    let listed: Value = serde_json::from_str(&done(
        folder,
        &["casebook", "list", "--limit", &limit, "--json"],
    ))
    .unwrap();
    let cases = listed["cases"].as_array().unwrap();
    for (id, name) in &answered {
        let there = cases.iter().find(|one| one["id"] == *id);
        assert_eq!(
            there.map(|one| &one["case"]["name"]),
            Some(&json!(name)),
            "case {id}"
        );
    }
    kills.tell(
        "the server while three clients keep cases",
        &format!(
            "all {} cases that were answered for are there",
            answered.len()
        ),
    );
}

fn table(rows: usize) -> String {
    let mut text = "name,when,at,clock\n".to_owned();
    for n in 0..rows {
        writeln!(
            text,
            "case {n},{}-{:02}-{:02} {:02}:{:02},\"{}.5,{}.25\",mean",
            1600 + n % 420,
            n % 12 + 1,
            n % 28 + 1,
            n % 24,
            n * 7 % 60,
            n as i32 % 120 - 60,
            n as i32 % 300 - 150
        )
        .unwrap();
    }
    text
}

/// Stopped, killed, and its half-made table spoiled: taken up as it would have been, or
/// refused.
#[test]
fn a_batch_is_taken_up_as_it_was_or_refused() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    std::fs::write(folder.join("cases.csv"), table(12_000)).unwrap();
    done(folder, &["batch", "cases.csv", "-o", "whole.csv"]);
    let whole = std::fs::read(folder.join("whole.csv")).unwrap();
    let batch = ["batch", "cases.csv", "-o", "out.csv", "--cores", "1"];
    let (out, part) = (folder.join("out.csv"), folder.join("out.csv.part"));
    let rounds = times(4, 400);
    let mut dice = Dice::seeded(5);
    let (mut went_on, mut refused) = (0_u64, 0_u64);
    let mut kills = Kills::default();
    for round in 0..rounds {
        // Stopped in order, so that there is a note; then killed while it goes on.
        let child = at_home(Command::new(ALMURI), folder)
            .args(batch)
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(60 + dice.roll() % 300));
        interrupted(&child);
        child.wait_with_output().unwrap();
        let by_call = has_strace();
        let command = if by_call {
            killed_at(ALMURI, 1 + dice.roll() % 120)
        } else {
            Command::new(ALMURI)
        };
        let mut child = at_home(command, folder).args(batch).spawn().unwrap();
        if !by_call {
            std::thread::sleep(Duration::from_millis(dice.roll() % 200));
            let _ = child.kill();
        }
        kills.count(child.wait_with_output().unwrap().status, by_call);
        let there = std::fs::read(&part).unwrap_or_default();
        if !out.exists() && !there.is_empty() {
            match round % 5 {
                0 => std::fs::remove_file(&part).unwrap(),
                1 => std::fs::write(&part, &there[..dice.below(there.len())]).unwrap(),
                2 => {
                    std::fs::write(&part, whole.iter().rev().copied().collect::<Vec<u8>>()).unwrap()
                }
                _ => {}
            }
        }
        if !out.exists() {
            let again = almuri(folder, &batch);
            let said = String::from_utf8_lossy(&again.stderr);
            if again.status.success() {
                went_on += 1;
            } else {
                assert_eq!(again.status.code(), Some(2), "{said}");
                assert!(said.contains("--afresh begins anew"), "{said}");
                refused += 1;
                done(folder, &[&batch[..], &["--afresh"]].concat());
            }
        }
        assert!(std::fs::read(&out).unwrap() == whole, "round {round}");
        assert!(!part.exists() && !folder.join("out.csv.unfinished").exists());
        std::fs::remove_file(&out).unwrap();
    }
    kills.tell(
        "batches that are gone on with, three of five half-made tables taken away, cut or exchanged",
        &format!(
            "{went_on} went on to the same table, {refused} were refused, others had finished"
        ),
    );
}

/// The names and texts of a folder's files.
fn texts(folder: &Path) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_file())
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).unwrap())
        })
        .collect();
    all.sort();
    all
}

const OLD: &str = "2001-01-01";
const NEW: &str = "2002-02-02";

/// Sets exchanged for others of another date, with a file of somebody's own among them.
fn make<'a>(dated: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    let mut command = vec![
        "make",
        "--with",
        "pocket instrument",
        "-o",
        "set",
        "--parts",
        "pin,rule,alidade",
        "--formats",
        "svg,dxf",
        "--dated",
        dated,
    ];
    command.extend(more);
    command
}

/// That the set is the old one or the new, or is exchanged with the next command.
fn is_one_or_the_other(folder: &Path, what: &str) {
    let set = folder.join("set");
    let left = set.join("not-yet-exchanged");
    let mut dates: Vec<&str> = Vec::new();
    for (name, text) in texts(&set) {
        if name == "notes.txt" {
            assert_eq!(text, "my own", "{what}");
            continue;
        }
        let date = [OLD, NEW].into_iter().find(|date| text.contains(date));
        dates.extend(date);
    }
    dates.sort_unstable();
    dates.dedup();
    assert!(dates.len() == 1 || left.is_dir(), "{what}: {dates:?}");
    let are_left = left
        .read_dir()
        .is_ok_and(|mut files| files.next().is_some());
    let out = almuri(folder, &make(NEW, &["--overwrite"]));
    let said = String::from_utf8_lossy(&out.stderr);
    assert!(out.status.success(), "{what}: {said}");
    assert_eq!(said.contains("it is finished"), are_left, "{what}: {said}");
    for (name, text) in texts(&set) {
        assert!(!text.contains(OLD), "{what}: {name}");
    }
    let folders = || set.read_dir().unwrap().map(|entry| entry.unwrap().path());
    let left: Vec<_> = folders().filter(|path| path.is_dir()).collect();
    assert_eq!(left, Vec::<PathBuf>::new(), "{what}");
}

#[test]
fn a_set_is_exchanged_whole() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let set = folder.join("set");
    let mut dice = Dice::seeded(6);
    let fresh = || {
        let _ = std::fs::remove_dir_all(&set);
        done(folder, &make(OLD, &[]));
        std::fs::write(set.join("notes.txt"), "my own").unwrap();
    };
    let rounds = times(5, 100);
    let mut kills = Kills::default();
    for round in 0..rounds {
        fresh();
        killed(
            &mut kills,
            folder,
            &make(NEW, &["--overwrite"]),
            round,
            &mut dice,
        );
        is_one_or_the_other(folder, &format!("round {round}"));
    }
    kills.tell(
        "who exchanges a set of files for a new one",
        "the old set, the new set, or the exchange finished by the next command",
    );
    if !has_strace() {
        return;
    }
    let calls = "write,fsync,rename,mkdir,unlink,rmdir";
    for error in ["ENOSPC", "EACCES", "EROFS", "EIO"] {
        let mut tried = 0;
        for first in (1..).step_by(if is_on() { 1 } else { 5 }) {
            fresh();
            let out = at_home(refused_from(ALMURI, calls, error, first), folder)
                .args(make(NEW, &["--overwrite"]))
                .output()
                .unwrap();
            let said = String::from_utf8_lossy(&out.stderr);
            assert!(
                !said.contains("panicked"),
                "{error} from call {first}: {said}"
            );
            if out.status.success() {
                break;
            }
            is_one_or_the_other(folder, &format!("{error} from call {first}: {said}"));
            tried += 1;
        }
        tell(
            &format!("{error} by the system, from each of the calls of an exchange of a set on"),
            tried,
            "the old set, the new set, or the exchange finished by the next command",
        );
    }
}

/// Whether a program has begun to listen for Ctrl-C, where the system tells: on a busy
/// machine that takes a while.
fn listens(child: &Child) -> bool {
    const INTERRUPT: u64 = 1 << 1;
    let Ok(status) = std::fs::read_to_string(format!("/proc/{}/status", child.id())) else {
        return true;
    };
    let caught = status.lines().find_map(|line| line.strip_prefix("SigCgt:"));
    let caught = caught.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok());
    caught.is_none_or(|mask| mask & INTERRUPT != 0)
}

/// Commands that take seconds, stopped in the middle of them.
#[test]
fn ctrl_c_is_obeyed_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let mut class = "version = 1\nname = \"c\"\nplace = \"42.88,-8.54\"\nzone = \"Europe/Madrid\"\nyear = 2026\nseed = 1\nquestions = 15\n".to_owned();
    for n in 0..20 {
        write!(
            class,
            "[[pupils]]\nname = \"p{n}\"\nwith = \"class instrument\"\n"
        )
        .unwrap();
    }
    std::fs::write(folder.join("class.toml"), class).unwrap();
    let towns: String = (0..2000)
        .map(|n| format!("{}.{},{}\n", n % 60, n / 60, n % 180))
        .collect();
    std::fs::write(folder.join("towns.txt"), towns).unwrap();
    std::fs::write(folder.join("cases.csv"), table(40_000)).unwrap();
    let commands: [&[&str]; 7] = [
        &["casebook", "import", "cases.csv"],
        &[
            "make",
            "--with",
            "lecture instrument",
            "-o",
            "set",
            "--formats",
            "svg,dxf,pdf,png,paper",
        ],
        &["exercises", "class.toml", "-o", "sheets"],
        &[
            "course",
            "--year",
            "2026",
            "--at",
            "42.88,-8.54",
            "--zone",
            "Europe/Madrid",
            "-o",
            "course",
        ],
        &[
            "plates",
            "--towns",
            "towns.txt",
            "--houses",
            "placidus",
            "--within",
            "0.01",
        ],
        &["batch", "cases.csv", "-o", "figures.csv"],
        &[
            "planets",
            "--from",
            "1000-01-01 00:00",
            "--to",
            "2000-01-01 00:00",
            "--every",
            "1h",
            "-o",
            "sky.csv",
        ],
    ];
    let mut longest = Duration::ZERO;
    for arguments in commands {
        let mut child = at_home(Command::new(ALMURI), folder)
            .args(arguments)
            .spawn()
            .unwrap();
        let started = Instant::now();
        while !listens(&child) && child.try_wait().unwrap().is_none() {
            assert!(
                started.elapsed() < Duration::from_secs(60),
                "{arguments:?} does not listen"
            );
            std::thread::sleep(Duration::from_millis(5));
        }
        std::thread::sleep(Duration::from_millis(300));
        assert!(
            child.try_wait().unwrap().is_none(),
            "{arguments:?} had ended"
        );
        interrupted(&child);
        let begun = Instant::now();
        let out = child.wait_with_output().unwrap();
        longest = longest.max(begun.elapsed());
        let said = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(1), "{arguments:?}: {said}");
        assert!(
            said.starts_with("almuri: stopped") && said.lines().count() == 1,
            "{said}"
        );
        for name in ["set", "sheets", "course", "figures.csv", "sky.csv"] {
            assert!(!folder.join(name).exists(), "{name}");
        }
    }
    let kept: Value =
        serde_json::from_str(&done(folder, &["casebook", "check", "--json"])).unwrap();
    let kept = kept["cases"].as_u64().unwrap();
    assert!(kept == 0 || kept == 40_000, "{kept}");
    let left: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name.contains("part") && name != "figures.csv.part")
        .collect();
    assert_eq!(left, [""; 0]);
    tell(
        "commands stopped by Ctrl-C in the middle of their work",
        commands.len() as u64,
        &format!("all ended within {:.0} ms", longest.as_secs_f64() * 1000.0),
    );
    // As long as a busy machine may take; the table says how long it was.
    assert!(longest < Duration::from_secs(5), "{longest:?}");
}
