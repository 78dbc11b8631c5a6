//! What became of the mutants, as the table tells it.

use std::fmt;

use super::area::AREAS;
use super::copy::told as told_error;
use super::mutant::Mutant;
use crate::{cargo, parts};

/// Where the table is, and its head.
const TABLE: &str = "reference/mutants.md";
const HEAD: &str = "# Mutants\n\n\
    How many little mistakes in the sources the tests notice: a random sample of what could\n\
    be said otherwise in an area, each tried on the tests that meet it, the quickest first,\n\
    until those that passed have taken some time. Tests that work more than five seconds\n\
    by themselves are not asked. What could be made counts some mutants that are no Rust,\n\
    which are not tried.\n";

/// What became of a mutant.
pub(super) enum Fate {
    /// A test failed.
    Noticed,
    /// No test can notice it, for a reason.
    Argued(&'static str),
    /// So many of the tests that meet it were asked, and none failed.
    Survived { asked: usize, met_by: usize },
}

/// The mutants of an area.
pub(super) struct Tried {
    pub(super) area: &'static str,
    /// How many could be made there.
    pub(super) possible: usize,
    pub(super) fates: Vec<(Mutant, Fate)>,
}

/// How many of the mutants of an area had each fate.
#[derive(Clone, Copy, Default)]
pub(super) struct Count {
    possible: usize,
    made: usize,
    noticed: usize,
    argued: usize,
    survived: usize,
}

impl Count {
    fn of(tried: &Tried) -> Count {
        let of = |is: fn(&Fate) -> bool| tried.fates.iter().filter(|(_, fate)| is(fate)).count();
        Count {
            possible: tried.possible,
            made: tried.fates.len(),
            noticed: of(|fate| matches!(fate, Fate::Noticed)),
            argued: of(|fate| matches!(fate, Fate::Argued(_))),
            survived: of(|fate| matches!(fate, Fate::Survived { .. })),
        }
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Count {
            possible,
            made,
            noticed,
            argued,
            survived,
        } = self;
        write!(
            f,
            "of {possible} that could be made {made} were tried; {noticed} were noticed, {argued} are argued for, {survived} survived"
        )
    }
}

/// How many had each fate.
pub(super) fn count(tried: &Tried) -> Count {
    Count::of(tried)
}

/// How many survived without an argument.
pub(super) fn survived(tried: &Tried) -> usize {
    Count::of(tried).survived
}

/// A mutant and what became of it, on a line.
pub(super) fn told(mutant: &Mutant, fate: &Fate) -> String {
    let fate = match fate {
        Fate::Noticed => "noticed".to_owned(),
        Fate::Argued(_) => "argued".to_owned(),
        Fate::Survived { asked, met_by } => {
            format!("SURVIVED {asked} of the {met_by} tests that meet it")
        }
    };
    format!(
        "{fate}: {} {}:{} {}: {}",
        mutant.number, mutant.file, mutant.change.line, mutant.change.function, mutant.change.told
    )
}

/// Writes what became of an area as its part of the table.
pub(super) fn write(seed: u64, tests: usize, tried: &Tried) -> Result<(), String> {
    let count = Count::of(tried);
    let mut part = format!(
        "`cargo xtask mutate --seed {seed} --of {}`, {tests} tests: {count}.\n",
        tried.area
    );
    let lives = tried
        .fates
        .iter()
        .filter(|(_, fate)| !matches!(fate, Fate::Noticed));
    let rows: String = lives.map(row).collect();
    if !rows.is_empty() {
        part += &format!("\n| lives | changed | why |\n|---|---|---|\n{rows}");
    }
    let path = cargo::root().join(TABLE);
    let table = std::fs::read_to_string(&path).unwrap_or_default();
    let headings = AREAS.iter().map(|area| area.name);
    let table = parts::with_part(HEAD, headings, &table, (tried.area, &part));
    std::fs::write(&path, table).map_err(told_error(&path))
}

/// A mutant that lives, as a row.
fn row((mutant, fate): &(Mutant, Fate)) -> String {
    let why = match fate {
        Fate::Noticed => String::new(),
        Fate::Argued(why) => (*why).to_owned(),
        Fate::Survived { asked, met_by } => {
            format!("survived {asked} of the {met_by} tests that meet it")
        }
    };
    let cell = |text: &str| text.replace('|', "\\|");
    format!(
        "| {}:{}, {} | {} | {} |\n",
        mutant.file,
        mutant.change.line,
        mutant.change.function,
        cell(&mutant.change.told),
        cell(&why)
    )
}
