//! Trials, for tests: how often a thing is tried, who is killed or refused by the system in
//! the middle of it, and what came of it.
//!
//! A test tries a thing some times; `cargo xtask ordeal` sets [`PERCENT`], and the same test
//! tries it as often as its table says.

use std::ffi::OsStr;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus};
use std::sync::OnceLock;

/// The variable that says how much of the whole ordeal is tried, in hundredths of it.
pub const PERCENT: &str = "ALMURI_ORDEAL";

/// How often something is tried: a few times, or so many in the whole ordeal.
#[must_use]
pub fn times(usual: u64, whole: u64) -> u64 {
    match percent() {
        None => usual,
        Some(percent) => (whole * percent).div_ceil(100).max(1),
    }
}

/// Whether this is the ordeal, and no ordinary test.
#[must_use]
pub fn is_on() -> bool {
    percent().is_some()
}

fn percent() -> Option<u64> {
    std::env::var(PERCENT).ok()?.parse().ok()
}

/// How a line of the table begins, by which it is found.
pub const TOLD: &str = "ordeal | ";

/// Tells what was tried, how often, and what came of it: a line of the table.
pub fn tell(what: &str, how_often: u64, came_of_it: &str) {
    let mut out = std::io::stdout().lock();
    // Where nobody reads it there is nobody to tell.
    let _ = writeln!(out, "\n{TOLD}{what} | {how_often} | {came_of_it}");
}

/// Numbers that look random and are the same on every machine: SplitMix64 (Steele, Lea
/// and Flood 2014).
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// Dice that begin from a seed.
    #[must_use]
    pub fn seeded(seed: u64) -> Dice {
        Dice(seed)
    }

    /// The next number.
    pub fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below an end, which is not 0.
    pub fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.roll() % end.max(1) as u64).unwrap_or(0)
    }

    /// One of several; there is at least one.
    pub fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// What breaks parsers: large and small numbers, what is none, characters of many kinds,
/// and brackets without end.
#[derive(Debug)]
pub struct Thorns(Vec<String>);

impl Default for Thorns {
    fn default() -> Thorns {
        const SHORT: &[&str] = &[
            "0",
            "-1",
            "-0",
            "1e308",
            "-1e-320",
            "NaN",
            "inf",
            "99999999999999999999",
            "0x10",
            "1_000",
            "°",
            "′",
            "″",
            "'",
            "\"",
            "\\",
            ",",
            ";",
            ":",
            "-",
            "–",
            "+",
            ".",
            " ",
            "\t",
            "\r\n",
            "\0",
            "\u{1b}[2J",
            "\u{fffe}",
            "\u{feff}",
            "\u{202e}",
            "é",
            "ß",
            "İ",
            "ſ",
            "漢",
            "🜚",
            "{",
            "}",
            "[",
            "]",
            "[[pupils]]",
            "= ",
            "\n[faults]\n",
            "null",
            "true",
            "#",
            "/*",
            "%00",
            "../",
        ];
        let long = [
            "[".repeat(3000),
            "{\"a\":".repeat(300),
            "9".repeat(2000),
            "ä".repeat(500),
        ];
        let short = SHORT.iter().map(|text| (*text).to_owned());
        Thorns(short.chain(long).collect())
    }
}

impl Thorns {
    /// One of some good inputs, spoiled in some places.
    pub fn spoil(&self, good: &[String], dice: &mut Dice) -> String {
        let mut text: Vec<char> = dice.one_of(good).chars().collect();
        for _ in 0..=dice.below(4) {
            let at = dice.below(text.len() + 1);
            let end = (at + 1 + dice.below(12)).min(text.len());
            match dice.below(7) {
                0 => drop(text.drain(at..end)),
                1 => {
                    let again: Vec<char> = text[at..end].to_vec();
                    text.splice(at..at, again);
                }
                2 if at < text.len() => {
                    let one = u32::from(text[at]) ^ (1 << dice.below(8));
                    text[at] = char::from_u32(one).unwrap_or('x');
                }
                3 => text.truncate(at.max(1)),
                4 => {
                    let other: Vec<char> = dice.one_of(good).chars().collect();
                    let from = dice.below(other.len() + 1);
                    let to = (from + dice.below(40)).min(other.len());
                    text.splice(at..at, other[from..to].iter().copied());
                }
                _ => {
                    let thorn = dice.one_of(&self.0);
                    text.splice(at..at, thorn.chars());
                }
            }
        }
        text.into_iter().collect()
    }
}

/// The system calls by which files and their names are changed.
pub const CHANGING: &str =
    "pwrite64,write,fsync,fdatasync,ftruncate,rename,unlink,openat,mkdir,chmod,fchmod";

/// Whether `strace` is there, which does something to a program at a chosen system call.
#[must_use]
pub fn has_strace() -> bool {
    static FOUND: OnceLock<bool> = OnceLock::new();
    *FOUND.get_or_init(|| succeeds(Command::new("strace").arg("-V")))
}

/// Whether `faketime` is there, which lets a program believe another time.
#[must_use]
pub fn has_faketime() -> bool {
    static FOUND: OnceLock<bool> = OnceLock::new();
    *FOUND.get_or_init(|| succeeds(Command::new("faketime").arg("--version")))
}

fn succeeds(command: &mut Command) -> bool {
    command.output().is_ok_and(|output| output.status.success())
}

/// A program whose clock begins at a moment of UTC, `2226-12-31 23:59:59`, and goes on.
#[must_use]
pub fn at_clock(program: impl AsRef<OsStr>, utc: &str) -> Command {
    let mut command = Command::new("faketime");
    command.env("TZ", "UTC").arg("-f").arg(format!("@{utc}"));
    command.arg(program);
    command
}

/// A program that another account of the machine starts, one that owns nothing; none where
/// this account may not start it so.
#[must_use]
pub fn as_another_account(program: impl AsRef<OsStr>) -> Option<Command> {
    let other = OTHER_ACCOUNT.to_string();
    let so = || {
        let mut command = Command::new("setpriv");
        command.args(["--reuid", &other, "--regid", &other, "--clear-groups"]);
        command
    };
    let mut command = so();
    command.arg(program);
    succeeds(so().arg("true")).then_some(command)
}

/// The number of an account that owns nothing; common practice, `nobody`.
pub const OTHER_ACCOUNT: u32 = 65_534;

/// A disk of its own, in memory, of any size.
#[derive(Debug)]
pub struct SmallDisk {
    path: PathBuf,
}

impl SmallDisk {
    /// Puts a disk of so many bytes in the place of an empty folder; none where this
    /// account may not.
    #[must_use]
    pub fn of(bytes: usize, path: &Path) -> Option<SmallDisk> {
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", &format!("size={bytes}"), "tmpfs"]);
        succeeds(mount.arg(path)).then(|| SmallDisk {
            path: path.to_owned(),
        })
    }

    /// Gives it another size, or leave to be read alone: `size=4096`, `ro`, `rw`; says
    /// whether that was done.
    #[must_use]
    pub fn is_now(&self, what: &str) -> bool {
        /// A process that another test begins holds our files for a moment.
        const TRIES: u32 = 40;
        let options = format!("remount,{what}");
        (0..TRIES).any(|tried| {
            if tried > 0 {
                std::thread::sleep(std::time::Duration::from_millis(50));
            }
            succeeds(Command::new("mount").args(["-o", &options]).arg(&self.path))
        })
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = succeeds(Command::new("umount").arg(&self.path));
    }
}

/// How often someone was killed, and how often at a system call that was chosen; who had
/// finished before is not counted.
#[derive(Clone, Copy, Debug, Default)]
pub struct Kills {
    /// All.
    pub all: u64,
    /// Those at system calls.
    pub at_calls: u64,
}

impl Kills {
    /// Counts whoever ended so.
    pub fn count(&mut self, ended: ExitStatus, at_call: bool) {
        let killed = was_killed(ended);
        self.all += u64::from(killed);
        self.at_calls += u64::from(killed && at_call);
    }

    /// Tells of them: a line of the table.
    pub fn tell(&self, who: &str, came_of_it: &str) {
        let who = format!("kills of {who}, {} of them at system calls", self.at_calls);
        tell(&who, self.all, came_of_it);
    }
}

/// Whether a program was killed, itself or under `strace`, and did not end of its own.
#[must_use]
pub fn was_killed(ended: ExitStatus) -> bool {
    // As `strace` and shells tell of it: 128 and the signal's number.
    ended.code() == Some(137) || signal_of(ended) == Some(9)
}

#[cfg(unix)]
fn signal_of(ended: ExitStatus) -> Option<i32> {
    use std::os::unix::process::ExitStatusExt;
    ended.signal()
}

#[cfg(not(unix))]
fn signal_of(_: ExitStatus) -> Option<i32> {
    None
}

/// A program that is killed at one of the calls that change files, the first having the
/// number 1.
#[must_use]
pub fn killed_at(program: impl AsRef<OsStr>, call: u64) -> Command {
    injected(program, CHANGING, &format!("signal=SIGKILL:when={call}"))
}

/// A program to which the system refuses some calls, from one of them on: `ENOSPC` as on a
/// full disk, `EACCES` where leave was taken away, `EROFS`, `EIO` or another error.
#[must_use]
pub fn refused_from(program: impl AsRef<OsStr>, calls: &str, error: &str, first: u64) -> Command {
    injected(program, calls, &format!("error={error}:when={first}+"))
}

fn injected(program: impl AsRef<OsStr>, calls: &str, what: &str) -> Command {
    let mut command = Command::new("strace");
    command
        .args(["-f", "-qq", "-o", "/dev/null", "-e"])
        .arg(format!("trace={calls}"))
        .arg("-e")
        .arg(format!("inject={calls}:{what}"))
        .arg(program);
    command
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dice_are_those_of_the_paper() {
        // The first numbers of seed 0: S. Vigna's reference implementation, splitmix64.c.
        let mut dice = Dice::seeded(0);
        assert_eq!(dice.roll(), 0xe220_a839_7b1d_cdaf);
        assert_eq!(dice.roll(), 0x6e78_9e6a_a1b9_65f4);
        assert!((0..100).all(|_| dice.below(7) < 7));
    }
}
