//! Which mutants are made.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::fs;
use std::str::FromStr;

use super::area::{AREAS, Area};
use super::changes::{self, Constants, Number};
use super::copy::{files, told};
use super::mutant::Mutant;
use crate::cargo;

/// Every mutant that could be made in an area.
pub(super) struct Possible {
    pub(super) area: &'static Area,
    pub(super) mutants: Vec<Mutant>,
}

/// Which mutants are made.
pub(super) enum Wanted {
    /// So many in each area, at random.
    Many(usize),
    /// All that can be made at some places.
    At(Vec<Place>),
}

/// A line of a source.
pub(super) struct Place {
    file: String,
    line: usize,
}

impl Wanted {
    /// Whether they tell of an area, and not of some places in it.
    pub(super) fn is_a_sample(&self) -> bool {
        matches!(self, Wanted::Many(_))
    }

    pub(super) fn add(&mut self, place: Place) {
        match self {
            Wanted::Many(_) => *self = Wanted::At(vec![place]),
            Wanted::At(places) => places.push(place),
        }
    }
}

impl FromStr for Place {
    type Err = ();

    fn from_str(text: &str) -> Result<Place, ()> {
        let (file, line) = text.rsplit_once(':').ok_or(())?;
        Ok(Place {
            file: file.to_owned(),
            line: line.parse().map_err(|_| ())?,
        })
    }
}

impl Place {
    fn holds(&self, mutant: &Mutant) -> bool {
        self.file == mutant.file && self.line == mutant.change.line
    }
}

/// Everything that could be said otherwise, area by area, numbered for a seed.
pub(super) fn possible(seed: u64) -> Result<Vec<Possible>, String> {
    let constants = constants()?;
    AREAS
        .iter()
        .map(|area| {
            let mut mutants = Vec::new();
            for (file, source) in sources(&area.folder())? {
                if !area.holds(&file) {
                    continue;
                }
                let found = changes::changes(&source, &constants);
                let found = found.map_err(|error| format!("{file}: {error}"))?;
                let mut so_far: HashMap<String, usize> = HashMap::new();
                for change in found {
                    let alike = format!("{} {}", change.function, change.told);
                    let nth = so_far.entry(alike).or_default();
                    mutants.push(Mutant::new(seed, &file, change, *nth));
                    *nth += 1;
                }
            }
            // Their numbers are scattered, so that the first of them are a random sample,
            // which a change in one place leaves as it is everywhere else.
            mutants.sort_by_key(|mutant| mutant.number);
            Ok(Possible { area, mutants })
        })
        .collect()
}

impl Possible {
    /// Those of them that are wanted, without what is no Rust.
    pub(super) fn wanted(&self, wanted: &Wanted, no_rust: &BTreeSet<u64>) -> Vec<&Mutant> {
        let are_rust = self
            .mutants
            .iter()
            .filter(|mutant| !no_rust.contains(&mutant.number));
        match wanted {
            Wanted::Many(how_many) => are_rust.take(*how_many).collect(),
            Wanted::At(places) => are_rust
                .filter(|mutant| places.iter().any(|place| place.holds(mutant)))
                .collect(),
        }
    }
}

/// The numbers that have a name in the crates with an area or in those beneath them.
fn constants() -> Result<Constants, String> {
    let circle = ["PI", "TAU", "FRAC_PI_2"].map(|name| (name.to_owned(), Number::Real));
    let mut found = Constants::from(circle);
    let areas = AREAS.iter().map(Area::folder);
    for folder in areas.chain(["crates/sky/src".to_owned(), "crates/moment/src".to_owned()]) {
        for (file, source) in sources(&folder)? {
            let here = changes::constants(&source);
            found.extend(here.map_err(|error| format!("{file}: {error}"))?);
        }
    }
    Ok(found)
}

/// The sources of a folder, by their paths from the root.
fn sources(folder: &str) -> Result<BTreeMap<String, String>, String> {
    let root = cargo::root();
    let mut found = BTreeMap::new();
    for path in files(&root.join(folder))? {
        if path.extension().is_some_and(|extension| extension == "rs") {
            let text = fs::read_to_string(&path).map_err(told(&path))?;
            let name = path.strip_prefix(&root).unwrap_or(&path);
            found.insert(name.to_string_lossy().into_owned(), text);
        }
    }
    Ok(found)
}
