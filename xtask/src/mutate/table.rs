//! What became of the mutants, as the table tells it.

use std::fmt::Write;

use super::copy::told as told_error;
use super::mutant::Mutant;
use crate::cargo;

/// Where the table is.
const TABLE: &str = "reference/mutants.md";

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
struct Count {
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

    fn and(self, other: Count) -> Count {
        Count {
            possible: self.possible + other.possible,
            made: self.made + other.made,
            noticed: self.noticed + other.noticed,
            argued: self.argued + other.argued,
            survived: self.survived + other.survived,
        }
    }

    fn row(self, name: &str) -> String {
        let percent = 100 * self.noticed / self.made.max(1);
        format!(
            "| {name} | {} | {} | {} | {percent} % | {} | {} |\n",
            self.possible, self.made, self.noticed, self.argued, self.survived
        )
    }
}

/// How many survived without an argument.
pub(super) fn survived(tried: &[Tried]) -> usize {
    tried.iter().map(|one| Count::of(one).survived).sum()
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

pub(super) fn print(tried: &[Tried]) {
    print!("{}", counts(tried));
}

fn counts(tried: &[Tried]) -> String {
    let mut rows = String::from(
        "| area | possible | made | noticed | of those made | argued | survived |\n\
         |---|--:|--:|--:|--:|--:|--:|\n",
    );
    let mut sum = Count::default();
    for one in tried {
        let count = Count::of(one);
        rows += &count.row(one.area);
        sum = sum.and(count);
    }
    rows + &sum.row("all")
}

/// Writes the table.
pub(super) fn write(seed: u64, tests: usize, tried: &[Tried]) -> Result<(), String> {
    let mut text = format!(
        "# Mutants\n\n\
         How many little mistakes in the sources the tests notice: a random sample of what\n\
         could be said otherwise in each area, made by `cargo xtask mutate --seed {seed}`, each\n\
         tried on those of {tests} tests that meet it, the quickest first. What is possible holds\n\
         some that are no Rust, which are not made.\n\n{}",
        counts(tried)
    );
    for (heading, is) in [
        (
            "Argued",
            (|fate| matches!(fate, Fate::Argued(_))) as fn(&Fate) -> bool,
        ),
        ("Survived", |fate| matches!(fate, Fate::Survived { .. })),
    ] {
        let fates = tried.iter().flat_map(|one| &one.fates);
        let rows: String = fates.filter(|(_, fate)| is(fate)).map(row).collect();
        if !rows.is_empty() {
            let _ = write!(
                text,
                "\n## {heading}\n\n| where | changed | why |\n|---|---|---|\n{rows}"
            );
        }
    }
    let path = cargo::root().join(TABLE);
    std::fs::write(&path, text).map_err(told_error(&path))
}

/// A mutant that lives, as a row.
fn row((mutant, fate): &(Mutant, Fate)) -> String {
    let why = match fate {
        Fate::Noticed => String::new(),
        Fate::Argued(why) => (*why).to_owned(),
        Fate::Survived { asked, met_by } => format!("{asked} of {met_by} tests asked"),
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
