//! The ephemeris and the towns, whole or in part.

use std::collections::HashSet;
use std::path::Path;

use moment::fold_name;
use sky::Ephemeris;

use super::piece::Piece;
use crate::{cargo, gazetteer};

/// The years that come first where all are there: those that are asked for most.
const FIRST_YEARS: (i32, i32) = (1800, 2100);

/// The years of the old epoch among the instruments that come with the program.
const OLD_EPOCH: (i32, i32) = (1498, 1506);

/// Towns of so many people are the large ones.
const LARGE: u32 = 15_000;

/// What the page needs besides the desk.
pub(super) struct Data {
    /// The ephemeris: a part that comes first and the whole, or the part asked for.
    pub(super) sky: Vec<Piece>,
    /// The same of the towns.
    pub(super) towns: Vec<Piece>,
    /// What is not there, in a sentence.
    pub(super) lacks: Option<String>,
}

impl Data {
    pub(super) fn of(years: Option<(i32, i32)>, towns: Option<&str>) -> Result<Data, String> {
        let data = cargo::root().join("data");
        let whole: &'static [u8] = read(&data.join("ephemeris.bin"))?.leak();
        let (from, to) = years.unwrap_or(FIRST_YEARS);
        // Instruments of an old epoch are divided by the sky of their years.
        let (from, to) = if from < OLD_EPOCH.1 {
            (from.min(OLD_EPOCH.0), to.max(OLD_EPOCH.1))
        } else {
            (from, to)
        };
        let mut sky = vec![Piece {
            name: format!("sky-{from}-{to}.bin"),
            bytes: Ephemeris::part(whole, (from, to), Some(OLD_EPOCH))
                .map_err(|error| error.to_string())?,
        }];
        let table = read(&data.join("places/places.bin"))?;
        let all = gazetteer::unpacked(&table)?;
        let choice = match towns {
            Some(text) => Choice::of(text, &data.join("places/countries.tsv"))?,
            None => Choice::First,
        };
        let (some, named) = choice.taken(all)?;
        let mut parts = vec![Piece {
            name: "towns-first.bin".to_owned(),
            bytes: gazetteer::pack(&some, Some(&named))?,
        }];
        let mut lacks = Vec::new();
        if years.is_none() {
            sky.push(Piece {
                name: "sky.bin".to_owned(),
                bytes: whole.to_vec(),
            });
        } else {
            lacks.push(format!("the sky of the years {from} to {to}"));
        }
        if towns.is_none() {
            parts.push(Piece {
                name: "towns.bin".to_owned(),
                bytes: table,
            });
        } else {
            lacks.push(named);
        }
        let lacks = (!lacks.is_empty())
            .then(|| format!("This copy holds {}, and no more.", lacks.join(" and ")));
        Ok(Data {
            sky,
            towns: parts,
            lacks,
        })
    }

    pub(super) fn pieces(&self) -> impl Iterator<Item = &Piece> {
        self.sky.iter().chain(&self.towns)
    }

    /// Those with which the page begins, and those that come when they are missed.
    pub(super) fn in_order(&self) -> (impl Iterator<Item = &Piece>, impl Iterator<Item = &Piece>) {
        let first = self.sky.first().into_iter().chain(self.towns.first());
        (
            first,
            self.sky.iter().skip(1).chain(self.towns.iter().skip(1)),
        )
    }
}

/// Which towns are wanted.
enum Choice {
    /// The large ones, with all that bear one of their names, where the others follow: so a
    /// name that is there is answered without them.
    First,
    Large,
    /// Codes of countries, and their names.
    Countries(Vec<(String, String)>),
    /// Names of towns, as a file has them.
    Listed(Vec<String>, String),
}

impl Choice {
    fn of(text: &str, countries: &Path) -> Result<Choice, String> {
        if text == "large" {
            return Ok(Choice::Large);
        }
        if Path::new(text).is_file() {
            let list = String::from_utf8(read(Path::new(text))?)
                .map_err(|_| format!("{text} is no text; a town on each line would do"))?;
            let towns = list.lines().map(str::trim).filter(|line| !line.is_empty());
            let file = Path::new(text).file_name().unwrap_or_default();
            return Ok(Choice::Listed(
                towns.map(str::to_owned).collect(),
                file.display().to_string(),
            ));
        }
        let table = String::from_utf8(read(countries)?).map_err(|error| error.to_string())?;
        let known = table
            .lines()
            .skip(1)
            .filter_map(|line| line.split_once('\t'));
        let known: Vec<(&str, &str)> = known.collect();
        let wanted = text.split(',').map(str::trim).map(|name| {
            let same = |(code, country): &&(&str, &str)| {
                fold_name(country) == fold_name(name) || code.eq_ignore_ascii_case(name)
            };
            let found = known.iter().find(same);
            found
                .map(|(code, country)| ((*code).to_owned(), (*country).to_owned()))
                .ok_or_else(|| {
                    format!("--towns: {name:?} is no country; Spain,Portugal would do, or large, or a file with a town on each line")
                })
        });
        wanted.collect::<Result<_, _>>().map(Choice::Countries)
    }

    /// Those of all towns that are wanted, and what they are called within a sentence.
    fn taken(
        &self,
        mut towns: Vec<gazetteer::Town>,
    ) -> Result<(Vec<gazetteer::Town>, String), String> {
        let named = match self {
            Choice::First => {
                let least = gazetteer::rank(LARGE);
                let large = towns.iter().filter(|town| town.rank >= least);
                let names: HashSet<String> = large.flat_map(|town| town.keys.clone()).collect();
                towns.retain_mut(|town| {
                    if town.rank < least {
                        town.keys.retain(|key| names.contains(key));
                    }
                    !town.keys.is_empty()
                });
                "the larger towns".to_owned()
            }
            Choice::Large => {
                let least = gazetteer::rank(LARGE);
                towns.retain(|town| town.rank >= least);
                "the towns of 15,000 people and more".to_owned()
            }
            Choice::Countries(countries) => {
                let codes: HashSet<&str> =
                    countries.iter().map(|(code, _)| code.as_str()).collect();
                towns.retain(|town| {
                    let country = town.region.split('.').next();
                    country.is_some_and(|code| codes.contains(code))
                });
                let names: Vec<&str> = countries.iter().map(|(_, name)| name.as_str()).collect();
                format!("the towns of {}", listed(&names))
            }
            Choice::Listed(names, file) => {
                // As the desk understands them, so that none is chosen for the asker.
                let wanted = names
                    .iter()
                    .map(|name| {
                        moment::Town::named(name).map_err(|error| format!("{file}: {error}"))
                    })
                    .map(|town| town.map(|town| town.full_name()))
                    .collect::<Result<HashSet<_>, _>>()?;
                towns.retain(|town| wanted.contains(&full_name(town)));
                format!("the {} towns of {file}", wanted.len())
            }
        };
        Ok((towns, named))
    }
}

/// `Town, Region, Country`, as the desk writes it.
fn full_name(town: &gazetteer::Town) -> String {
    let (codes, region) = town.region.split_once('\t').unwrap_or_default();
    let code = codes.split('.').next().unwrap_or_default();
    let country = moment::Country::all().find(|country| country.code() == code);
    let country = country.map_or("", |country| country.name());
    if region.is_empty() {
        format!("{}, {country}", town.name)
    } else {
        format!("{}, {region}, {country}", town.name)
    }
}

/// `Spain, Portugal and Italy`.
fn listed(names: &[&str]) -> String {
    match names.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
        None => String::new(),
    }
}

fn read(path: &Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|error| format!("{} cannot be read: {error}", path.display()))
}
