//! Tests, asked one at a time: which mutants each meets, and which it notices.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant, UNIX_EPOCH};

use super::build::Program;
use super::copy::told;

/// A test by itself.
#[derive(Clone)]
pub(super) struct Test {
    program: Program,
    name: String,
}

/// A test, how long it takes while all mutants sleep, and which of them it meets.
pub(super) struct Measured {
    pub(super) test: Test,
    /// Which build of its program it was.
    pub(super) build: u128,
    pub(super) took: Duration,
    pub(super) meets: BTreeSet<u64>,
}

/// What came of a test.
#[derive(Clone, Copy, PartialEq)]
enum Outcome {
    Passed,
    Failed,
    DidNotEnd,
}

/// The longest that a test may work while all mutants sleep. Longer ones try everything a
/// thousand times; they are taken to meet nothing, and asked about no mutant.
const LONGEST: Duration = Duration::from_secs(5);

/// With a mutant awake a test may work so many times as long as without, and so much more,
/// before it is taken to run in a circle.
const TIMES: u32 = 5;
const AND: Duration = Duration::from_secs(30);

/// A test that works no more is waited for so many times as long as it may work.
const WAITED: u32 = 10;

/// How a test is started: others at the machine come first, and a mutant that asks for ever
/// more memory does not get it (kB).
const START: &str = "ulimit -v 8000000; exec nice -n 5 \"$0\" \"$@\"";

impl Test {
    /// The tests of a program.
    pub(super) fn all(program: &Program) -> Result<Vec<Test>, String> {
        let output = Command::new(&program.path)
            .args(["--list", "--format", "terse"])
            .current_dir(&program.folder)
            .output()
            .map_err(told(&program.path))?;
        Ok(String::from_utf8_lossy(&output.stdout)
            .lines()
            .filter_map(|line| line.strip_suffix(": test"))
            .map(|name| Test {
                program: program.clone(),
                name: name.to_owned(),
            })
            .collect())
    }

    /// Its name, with those of its crate and its program.
    pub(super) fn name(&self) -> String {
        format!("{} {}", self.program.name, self.name)
    }

    /// Which build of its program this is, as far as its file tells.
    fn build(&self) -> Result<u128, String> {
        let failed = told(&self.program.path);
        let changed = fs::metadata(&self.program.path).and_then(|file| file.modified());
        let since = changed.map_err(failed)?.duration_since(UNIX_EPOCH);
        Ok(since.map_or(0, |since| since.as_nanos()))
    }

    /// Runs it while all mutants sleep. A test that fails so says nothing of any.
    pub(super) fn measured(self, notes: &Path) -> Result<Measured, String> {
        let _ = fs::remove_file(notes);
        let (outcome, took) = self.run(LONGEST, "ALMURI_MUTANTS_MET", &notes.to_string_lossy())?;
        if outcome == Outcome::Failed {
            return Err(format!("{}: fails while all mutants sleep", self.name()));
        }
        let met = match outcome {
            Outcome::DidNotEnd => String::new(),
            Outcome::Passed | Outcome::Failed => fs::read_to_string(notes).unwrap_or_default(),
        };
        let _ = fs::remove_file(notes);
        Ok(Measured {
            build: self.build()?,
            test: self,
            took,
            meets: met.lines().filter_map(|line| line.parse().ok()).collect(),
        })
    }

    /// What came of it, and how long it worked.
    fn run(
        &self,
        longest: Duration,
        key: &str,
        value: &str,
    ) -> Result<(Outcome, Duration), String> {
        let failed = told(&self.program.path);
        let mut child = Command::new("sh")
            .args(["-c", START])
            .arg(&self.program.path)
            .args(["--exact", &self.name, "--test-threads", "1"])
            .current_dir(&self.program.folder)
            .env(key, value)
            // The same cases each time; the first that fails is enough.
            .env("PROPTEST_RNG_SEED", "1")
            .env("PROPTEST_MAX_SHRINK_ITERS", "0")
            .env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1")
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .map_err(&failed)?;
        let begin = Instant::now();
        let mut worked = Duration::ZERO;
        loop {
            // Until it is asked how it ended, what it worked can be read.
            worked = worked.max(worked_so_far(&child).unwrap_or_else(|| begin.elapsed()));
            match child.try_wait().map_err(&failed)? {
                Some(status) if status.success() => return Ok((Outcome::Passed, worked)),
                Some(_) => return Ok((Outcome::Failed, worked)),
                None if worked > longest || begin.elapsed() > longest * WAITED => {
                    child.kill().and_then(|()| child.wait()).map_err(&failed)?;
                    return Ok((Outcome::DidNotEnd, worked));
                }
                None => std::thread::sleep(Duration::from_millis(10)),
            }
        }
    }
}

/// The processor's time that a program has had, by which a busy machine is not taken for a
/// slow program; None where the system does not tell.
fn worked_so_far(child: &Child) -> Option<Duration> {
    /// Linux counts it in hundredths of a second, in the 14th and 15th field (proc(5)).
    const HUNDREDTH: Duration = Duration::from_millis(10);
    let told = fs::read_to_string(format!("/proc/{}/stat", child.id())).ok()?;
    // The second field is a name in brackets, which may hold anything.
    let (_, after_name) = told.rsplit_once(')')?;
    let mut fields = after_name.split_whitespace().skip(11);
    let (user, system): (u32, u32) = (fields.next()?.parse().ok()?, fields.next()?.parse().ok()?);
    Some(HUNDREDTH * (user + system))
}

impl Measured {
    /// As it was written down, where that was of the same build.
    pub(super) fn remembered(test: &Test, written: &str) -> Option<Measured> {
        let mut numbers = written.split(' ');
        let build = numbers.next()?.parse().ok()?;
        if test.build() != Ok(build) {
            return None;
        }
        Some(Measured {
            test: test.clone(),
            build,
            took: Duration::from_millis(numbers.next()?.parse().ok()?),
            meets: numbers.filter_map(|number| number.parse().ok()).collect(),
        })
    }

    /// As it is written down.
    pub(super) fn written(&self) -> String {
        let mut written = format!("{} {}", self.build, self.took.as_millis());
        for number in &self.meets {
            written += &format!(" {number}");
        }
        written
    }

    /// Whether it was short enough to be asked.
    pub(super) fn is_asked(&self) -> bool {
        self.took < LONGEST
    }

    /// Whether it fails while a mutant is awake, or runs in a circle.
    pub(super) fn notices(&self, mutant: u64) -> Result<bool, String> {
        let longest = self.took * TIMES + AND;
        let (outcome, _) = self
            .test
            .run(longest, "ALMURI_MUTANT_AWAKE", &mutant.to_string())?;
        Ok(outcome != Outcome::Passed)
    }
}
