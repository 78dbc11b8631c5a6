use std::collections::HashMap;

use sky::{Angle, Latitude};

use super::Town;
use super::nearest::{apart_km, least_km};
use super::packed::{Entry, gazetteer};
use super::search::{Wanted, lies_in};
use crate::fold::{fold_name, without_umlauts};

/// A town that someone may be about to write.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggested {
    /// The town.
    pub town: Town,
    /// The other name by which it was found, in plain letters; none where its own name, or a
    /// later word of it, begins as was written.
    pub called: Option<String>,
}

/// How well a town fits what was written, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    /// Its own name begins so, or the whole of another name is written.
    Name,
    /// A later word of its own name begins so.
    LaterWord,
    /// Another name of it, that it has elsewhere or once had, begins so.
    OtherName,
}

/// Where what is near is sooner meant.
type Near = Option<(Latitude, Angle)>;

/// Ranks are ten times the logarithm of the population to the base 2.
const DOUBLE: f64 = 10.0;

/// Within this distance all is near, in kilometres; from there a town twice as far away
/// must be twice as large to be meant as soon.
const NEAR_KM: f64 = 200.0;

/// A name that is written to its end counts as eight times the size: it may be one of
/// thousands, or the mere beginning of a city's.
const WHOLE_NAME: f64 = 3.0 * DOUBLE;

impl Town {
    /// Towns for what someone has written so far, the best first: those whose own name
    /// begins so before those of which a later word does, and these before those that only
    /// are, or once were, called so elsewhere. Among equals by size, and by nearness to a
    /// place (longitude east positive) where one is given. `Town, Region` and `Town,
    /// Country` narrow the choice.
    ///
    /// ```
    /// use moment::Town;
    /// let towns = Town::suggest("santiago de comp", None, 3);
    /// assert_eq!(towns[0].town.name, "Santiago de Compostela");
    /// assert_eq!(towns[0].called, None);
    /// ```
    #[must_use]
    pub fn suggest(text: &str, near: Near, count: usize) -> Vec<Suggested> {
        /// As many towns are looked at before they are narrowed down.
        const LOOKED_AT: usize = 300;
        let wanted = Wanted::new(text);
        if wanted.name.is_empty() {
            return Vec::new();
        }
        let found = found(&wanted.name, near, count);
        let mut by_weight: Vec<(&usize, &Found)> = found.iter().collect();
        by_weight
            .sort_by(|(a, one), (b, other)| other.weight.total_cmp(&one.weight).then(a.cmp(b)));
        by_weight.truncate(LOOKED_AT);
        let numbers: Vec<usize> = by_weight.iter().map(|(number, _)| **number).collect();
        let towns = gazetteer().towns(&numbers);
        let mut fitting: Vec<(Fit, f64, Suggested)> = towns
            .into_iter()
            .zip(by_weight)
            // The last part may still be being written.
            .filter(|(town, _)| {
                wanted
                    .within
                    .iter()
                    .all(|part| begins_to_lie_in(town, part))
            })
            .map(|(town, (_, found))| fitted(town, found, &wanted.name, near))
            .collect();
        fitting.sort_by(|(fit, weight, _), (other_fit, other, _)| {
            fit.cmp(other_fit).then(other.total_cmp(weight))
        });
        fitting.truncate(count);
        fitting
            .into_iter()
            .map(|(.., suggested)| suggested)
            .collect()
    }
}

/// A town that bears a name which fits.
struct Found {
    /// Its rank, less what it loses by its distance, which is known to its block.
    weight: f64,
    rank: u8,
    /// The shortest of its names that fit.
    key: String,
}

/// The towns of which some name begins so, or, where there are too few, has a later word
/// that does.
fn found(name: &str, near: Near, count: usize) -> HashMap<usize, Found> {
    let mut blocks_km: HashMap<usize, f64> = HashMap::new();
    let mut found: HashMap<usize, Found> = HashMap::new();
    let mut take = |entry: &Entry| {
        let known = found.get(&entry.town);
        if known.is_some_and(|known| known.key.len() <= entry.key.len()) {
            return;
        }
        let far = near.map_or(0.0, |near| {
            let block = gazetteer().block_of(entry.town);
            let km = *blocks_km.entry(block).or_insert_with(|| {
                let block = gazetteer().town_blocks().get(block);
                block.map_or(0.0, |block| least_km(block, degrees(near)))
            });
            loss(km)
        });
        let new = Found {
            weight: f64::from(entry.rank) - far,
            rank: entry.rank,
            key: entry.key.clone(),
        };
        found.insert(entry.town, new);
    };
    let mut some = 0;
    gazetteer().names_from(name, |entry| {
        let begins = entry.key.starts_with(name);
        if begins {
            take(entry);
            some += 1;
        }
        begins
    });
    if some < count {
        let later_word = format!(" {name}");
        gazetteer().names_from("", |entry| {
            if entry.key.contains(&later_word) {
                take(entry);
            }
            true
        });
    }
    found
}

fn fitted(town: Town, found: &Found, name: &str, near: Near) -> (Fit, f64, Suggested) {
    let own = fold_name(&town.name);
    let is_whole = own == name;
    let begins = own.starts_with(name) || own.starts_with(&without_umlauts(name));
    let later_word = || own.contains(&format!(" {name}"));
    let (fit, by_own) = if begins {
        (Fit::Name, true)
    } else if found.key == name {
        (Fit::Name, false)
    } else if later_word() {
        (Fit::LaterWord, true)
    } else {
        (Fit::OtherName, false)
    };
    let far = near.map_or(0.0, |near| {
        loss(apart_km(
            degrees(near),
            (town.latitude.deg(), town.longitude.deg()),
        ))
    });
    let whole = if is_whole { WHOLE_NAME } else { 0.0 };
    let called = (!by_own).then(|| capitals(&found.key));
    (
        fit,
        f64::from(found.rank) + whole - far,
        Suggested { town, called },
    )
}

/// What a distance takes off a rank.
fn loss(km: f64) -> f64 {
    DOUBLE * libm::log2(1.0 + km / NEAR_KM)
}

fn degrees((latitude, longitude): (Latitude, Angle)) -> (f64, f64) {
    (latitude.deg(), longitude.signed().deg())
}

/// `Santa Fe` of `santa fe`.
fn capitals(folded: &str) -> String {
    let words = folded.split(' ').map(|word| {
        let mut letters = word.chars();
        let first = letters.next().map(|letter| letter.to_ascii_uppercase());
        first.into_iter().chain(letters).collect::<String>()
    });
    words.collect::<Vec<_>>().join(" ")
}

fn begins_to_lie_in(town: &Town, part: &str) -> bool {
    let begins = |name: &str| fold_name(name).starts_with(part);
    lies_in(town, part) || begins(town.region) || begins(town.country.name())
}
