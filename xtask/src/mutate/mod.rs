//! `cargo xtask mutate`: how many little mistakes in the sources the tests would notice.
//!
//! One build holds every mutant of the sample, each asleep until its number stands in the
//! environment. While all sleep every test runs once by itself, and it is noted which
//! mutants it meets; then each mutant wakes for the tests that meet it, the quickest first,
//! until one fails.

mod area;
mod argued;
mod build;
mod changes;
mod copy;
mod memory;
mod mutant;
mod sample;
mod spliced;
mod table;
mod trial;

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard};
use std::time::Duration;

use crate::cargo;
use area::AREAS;
use build::{Built, Program};
use copy::{COPY, Copy};
use memory::Memory;
use mutant::Mutant;
use sample::{Possible, Wanted};
use table::{Fate, Tried};
use trial::{Measured, Test};

/// What is asked on the command line.
struct Asked {
    seed: u64,
    /// Which mutants of each area are made.
    wanted: Wanted,
    /// The area whose mutants are tried, or all of them.
    of: Option<&'static str>,
    /// What the names of the tests hold that are asked.
    by: String,
}

/// Tests are asked about a mutant until those that passed have taken so long while all
/// slept: the longest run everything, and hardly look at anything.
const LONG_ENOUGH: Duration = Duration::from_secs(20);

pub(crate) fn run(words: &[String]) -> Result<(), String> {
    let asked = Asked::read(words)?;
    let possible = sample::possible(asked.seed)?;
    let all: Vec<Mutant> = possible
        .iter()
        .flat_map(|one| one.mutants.clone())
        .collect();
    let stale = argued::out_of_date(&all);
    if !stale.is_empty() {
        return Err(format!(
            "argued for in xtask/src/mutate/argued.rs, and not in the sources any more:\n{}",
            stale.join("\n")
        ));
    }
    let (programs, no_rust) = built(&possible, &asked.wanted)?;
    let tests = measured(&programs, &asked.by)?;
    println!("{} tests are asked", tests.len());
    let mut survived = 0;
    for possible in &possible {
        let wanted = possible.wanted(&asked.wanted, &no_rust);
        if asked.of.is_some_and(|name| name != possible.area.name) || wanted.is_empty() {
            continue;
        }
        println!("── {}", possible.area.name);
        let tried = Tried {
            area: possible.area.name,
            possible: possible.mutants.len(),
            fates: fates(&wanted, &tests)?,
        };
        println!("{}", table::count(&tried));
        if asked.wanted.is_a_sample() {
            table::write(asked.seed, tests.len(), &tried)?;
        }
        survived += table::survived(&tried);
    }
    match survived {
        0 => Ok(()),
        many => Err(format!(
            "{many} survived: let a test notice them, or argue in xtask/src/mutate/argued.rs why none can"
        )),
    }
}

impl Asked {
    fn read(words: &[String]) -> Result<Asked, String> {
        let mut asked = Asked {
            seed: 1,
            wanted: Wanted::Many(90),
            of: None,
            by: String::new(),
        };
        for pair in words.chunks(2) {
            let (word, value) = (pair[0].as_str(), pair.get(1).map_or("", String::as_str));
            let wrong = |accepted: &str| format!("{word} {value:?}: {accepted} is meant");
            match word {
                "--seed" => asked.seed = value.parse().map_err(|_| wrong("a whole number"))?,
                "--how-many" => {
                    let how_many = value.parse().map_err(|_| wrong("a whole number"))?;
                    asked.wanted = Wanted::Many(how_many);
                }
                "--at" => {
                    let place = value.parse();
                    let place = place.map_err(|()| wrong("a place like crates/x/src/y.rs:12"))?;
                    asked.wanted.add(place);
                }
                "--by" => value.clone_into(&mut asked.by),
                "--of" => {
                    let names: Vec<&str> = AREAS.iter().map(|area| area.name).collect();
                    let name = names.iter().copied().find(|name| *name == value);
                    asked.of = Some(name.ok_or_else(|| wrong(&names.join(" or ")))?);
                }
                other => {
                    return Err(format!(
                        "{other:?} is not understood; there are --seed, --how-many, --of, --at and --by"
                    ));
                }
            }
        }
        if asked.wanted.is_a_sample() && !asked.by.is_empty() {
            return Err("--by goes with --at: a sample is tried by all tests".to_owned());
        }
        Ok(asked)
    }
}

/// Builds the tests with a sample of each area, and gives what is no Rust besides: such
/// mutants are left out and others taken for them until all is.
fn built(possible: &[Possible], wanted: &Wanted) -> Result<(Vec<Program>, BTreeSet<u64>), String> {
    let mut no_rust = Memory::no_rust();
    loop {
        let numbers = no_rust
            .things()
            .filter_map(|one| one.parse().ok())
            .collect();
        let sample: Vec<Mutant> = possible
            .iter()
            .flat_map(|one| one.wanted(wanted, &numbers))
            .cloned()
            .collect();
        if sample.is_empty() {
            return Err("nothing can be said otherwise there".to_owned());
        }
        println!("building {} mutants", sample.len());
        match build::build(&Copy::write(&sample)?)? {
            Built::Programs(programs) => return Ok((programs, numbers)),
            Built::NoRust(culprits) => {
                for number in culprits {
                    no_rust.add(&number.to_string(), "")?;
                }
            }
        }
    }
}

/// The tests that are asked, the quickest first.
fn measured(programs: &[Program], by: &str) -> Result<Vec<Measured>, String> {
    let mut tests = Vec::new();
    for program in programs {
        tests.extend(Test::all(program)?);
    }
    tests.retain(|test| test.name().contains(by));
    println!("measuring {} tests", tests.len());
    let memory = Mutex::new(Memory::measured());
    let mut measured = side_by_side(&tests, |index, test| {
        let name = test.name();
        let written = known(&memory)?.of(&name).map(str::to_owned);
        if let Some(measured) = written.and_then(|text| Measured::remembered(test, &text)) {
            return Ok(measured);
        }
        let notes = cargo::root().join(format!("{COPY}.notes-{index}"));
        let measured = test.clone().measured(&notes)?;
        known(&memory)?.add(&name, &measured.written())?;
        Ok(measured)
    })?;
    measured.retain(Measured::is_asked);
    measured.sort_by_key(|one| one.took);
    Ok(measured)
}

/// What becomes of each mutant.
fn fates(sample: &[&Mutant], tests: &[Measured]) -> Result<Vec<(Mutant, Fate)>, String> {
    let (noticed, survived) = (
        Mutex::new(Memory::noticed()),
        Mutex::new(Memory::survived()),
    );
    side_by_side(sample, |_, mutant| {
        let fate = match argued::argument(mutant) {
            Some(why) => Fate::Argued(why),
            None => fate(mutant, tests, &noticed, &survived)?,
        };
        println!("{}", table::told(mutant, &fate));
        Ok(((*mutant).clone(), fate))
    })
}

/// Asks first what noticed it last time; and what it survived already not again.
fn fate(
    mutant: &Mutant,
    tests: &[Measured],
    noticed: &Mutex<Memory>,
    survived: &Mutex<Memory>,
) -> Result<Fate, String> {
    let name = mutant.number.to_string();
    let last_time = known(noticed)?.of(&name).map(str::to_owned);
    let (newest, mut asked) = known(survived)?
        .of(&name)
        .and_then(|word| {
            let (newest, asked) = word.split_once(' ')?;
            Some((newest.parse().ok()?, asked.parse().ok()?))
        })
        .unwrap_or((0, 0));
    let meeting = || {
        tests
            .iter()
            .filter(|test| test.meets.contains(&mutant.number))
    };
    let mut new: Vec<&Measured> = meeting().filter(|test| test.build > newest).collect();
    new.sort_by_key(|test| Some(test.test.name()) != last_time);
    let mut took = Duration::ZERO;
    for test in new {
        if took > LONG_ENOUGH {
            break;
        }
        if test.notices(mutant.number)? {
            known(noticed)?.add(&name, &test.test.name())?;
            return Ok(Fate::Noticed);
        }
        took += test.took;
        asked += 1;
    }
    let newest = tests.iter().map(|test| test.build).max().unwrap_or(newest);
    known(survived)?.add(&name, &format!("{newest} {asked}"))?;
    let met_by = meeting().count();
    Ok(Fate::Survived {
        // A test that was built anew was asked again.
        asked: asked.min(met_by),
        met_by,
    })
}

/// What is known so far, by whoever works at the same time.
fn known(memory: &Mutex<Memory>) -> Result<MutexGuard<'_, Memory>, String> {
    memory
        .lock()
        .map_err(|_| "another trial broke off".to_owned())
}

/// Does something with each of many, as many at a time as the machine has cores; in their
/// order.
fn side_by_side<T: Sync, R: Send>(
    all: &[T],
    work: impl Fn(usize, &T) -> Result<R, String> + Sync,
) -> Result<Vec<R>, String> {
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::new());
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    let Some(one) = all.get(index) else { break };
                    let result = work(index, one);
                    if let Ok(mut done) = done.lock() {
                        done.push((index, result));
                    }
                }
            });
        }
    });
    let mut done = done.into_inner().map_err(|_| "a trial broke off")?;
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}
