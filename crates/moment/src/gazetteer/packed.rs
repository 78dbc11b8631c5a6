//! The packed table of `cargo xtask gazetteer`. All numbers little-endian; every
//! block is compressed by itself, so that a question opens only those it needs.
//!
//! ```text
//! "places 1\n"  (of a part "places 2\n"  u8 length and letters: which towns it has)
//!               u32 towns  u16 towns in a block  u16 town blocks  u16 name blocks
//! lists:         u32 length
//! town blocks × { u32 length, u32 south, u32 north, u32 west, u32 east }
//! name blocks × { u32 length, u8 length and letters of the first key }
//! then the blocks themselves, in that order
//!
//! lists:  lines "country.region code \t region name", an empty line, zone names
//! town block: u16 towns  u32 south  u32 west
//!         planes: region 2, zone 2, north of south 3, east of west 3, rank 1
//!         names, a line each
//! name block: u16 names  planes: town 3, rank 1
//!         u8 letters shared with the key before, each
//!         the other letters, a line each
//! ```
//!
//! Places are in ten-thousandths of a degree (11 m) from the south pole and from
//! 180° west; towns follow a curve that keeps neighbours together; rank is ten
//! times the logarithm of the population to the base 2. A column of numbers of
//! several bytes is stored as planes: all lowest bytes, then all next, and so on.

use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{LazyLock, OnceLock};

use sky::{Angle, Latitude};

use super::Town;
use crate::{Country, MomentError, Zone};

/// Those that are built into a program that reads no others.
#[cfg(feature = "embedded")]
const PACKED: &[u8] = include_bytes!("../../../../data/places/places.bin");

const WHOLE: &[u8] = b"places 1\n";
const PART: &[u8] = b"places 2\n";

/// No block is larger, uncompressed.
const LARGEST_BLOCK: usize = 1 << 20;

/// The towns that a program knows: all of `data/places/places.bin`, or a part of them.
///
/// They are a value that whoever holds the program hands over once
/// ([`Gazetteer::hold`]); with the feature `embedded` all are there from the beginning.
/// Without any, no town is found.
#[derive(Debug)]
pub struct Gazetteer {
    /// Of a part: which towns they are.
    part: Option<&'static str>,
    regions: Vec<Region>,
    zones: Vec<Zone>,
    towns_per_block: usize,
    town_blocks: Vec<TownBlock>,
    name_blocks: Vec<NameBlock>,
}

#[derive(Debug)]
struct Region {
    country: Country,
    code: &'static str,
    name: &'static str,
}

/// A block of towns and the least rectangle that holds them.
#[derive(Debug)]
pub(super) struct TownBlock {
    packed: &'static [u8],
    south: u32,
    north: u32,
    west: u32,
    east: u32,
}

#[derive(Debug)]
struct NameBlock {
    packed: &'static [u8],
    first: &'static str,
}

/// A name, the number of a town of that name, and the town's rank.
#[derive(Clone, Debug, Eq, PartialEq)]
pub(super) struct Entry {
    pub(super) key: String,
    pub(super) town: usize,
    pub(super) rank: u8,
}

/// What was handed over: some towns at first, and all when they have come.
static SOME: OnceLock<Gazetteer> = OnceLock::new();
static ALL: OnceLock<Gazetteer> = OnceLock::new();

/// Whether a town was looked for while only some were there.
static MISSED: AtomicBool = AtomicBool::new(false);

/// The towns that are known now, for whoever must know all of them to answer.
pub(super) fn gazetteer() -> &'static Gazetteer {
    let held = towns_so_far();
    if held.part.is_some() {
        MISSED.store(true, Ordering::Relaxed);
    }
    held
}

/// The towns that are known now, for what may be answered with some of them: a name that is
/// among them, for a part that more is to follow has all towns that bear it.
pub(super) fn towns_so_far() -> &'static Gazetteer {
    ALL.get()
        .or_else(|| SOME.get())
        .unwrap_or_else(Gazetteer::embedded)
}

/// Bytes read one after the other; zeros beyond the end.
struct Reader(&'static [u8]);

impl Reader {
    fn take(&mut self, length: usize) -> &'static [u8] {
        let (taken, rest) = self.0.split_at_checked(length).unwrap_or((self.0, &[]));
        self.0 = rest;
        taken
    }

    fn number(&mut self, length: usize) -> u32 {
        let bytes = self.take(length);
        bytes
            .iter()
            .rev()
            .fold(0, |number, byte| number << 8 | u32::from(*byte))
    }

    fn length(&mut self, length: usize) -> usize {
        self.number(length) as usize
    }
}

fn inflated(packed: &[u8]) -> Vec<u8> {
    miniz_oxide::inflate::decompress_to_vec_with_limit(packed, LARGEST_BLOCK).unwrap_or_default()
}

impl Gazetteer {
    /// From the bytes of `data/places/places.bin`, or of a part of it that `cargo xtask
    /// site` makes. Blocks are opened when something in them is first looked for.
    ///
    /// # Errors
    /// Where they are not what was written.
    pub fn from_bytes(bytes: &'static [u8]) -> Result<Gazetteer, MomentError> {
        let part = match bytes.split_at_checked(WHOLE.len()) {
            Some((WHOLE, _)) => None,
            Some((PART, rest)) => {
                let mut rest = Reader(rest);
                let letters = rest.length(1);
                let named = std::str::from_utf8(rest.take(letters));
                Some(named.map_err(|_| MomentError::damaged_towns())?)
            }
            _ => return Err(MomentError::damaged_towns()),
        };
        let before = part.map_or(0, |part| part.len() + 1);
        let read = Gazetteer::open(bytes, WHOLE.len() + before, part);
        if read.town_blocks.iter().any(|block| block.packed.is_empty()) {
            return Err(MomentError::damaged_towns());
        }
        Ok(read)
    }

    /// From now on these are asked: some until all have come, then all.
    ///
    /// # Errors
    /// Where such towns are held already.
    pub fn hold(self) -> Result<(), MomentError> {
        let place = if self.part.is_none() { &ALL } else { &SOME };
        place.set(self).map_err(|_| MomentError::towns_held())
    }

    /// Whether, since this was last asked, a town was looked for while only some were
    /// there. Whoever can bring all then asks again: another may bear the name.
    pub fn was_missed() -> bool {
        MISSED.swap(false, Ordering::Relaxed)
    }

    /// Of a part: which towns it has, within a sentence.
    pub(super) fn part(&self) -> Option<&'static str> {
        self.part
    }

    #[cfg(feature = "embedded")]
    fn embedded() -> &'static Gazetteer {
        static OPENED: OnceLock<Gazetteer> = OnceLock::new();
        OPENED.get_or_init(|| Gazetteer::open(PACKED, WHOLE.len(), None))
    }

    #[cfg(not(feature = "embedded"))]
    fn embedded() -> &'static Gazetteer {
        static NONE: Gazetteer = Gazetteer {
            part: Some("no towns"),
            regions: Vec::new(),
            zones: Vec::new(),
            towns_per_block: 1,
            town_blocks: Vec::new(),
            name_blocks: Vec::new(),
        };
        &NONE
    }

    /// The tables that begin behind so many bytes.
    fn open(bytes: &'static [u8], begin: usize, part: Option<&'static str>) -> Gazetteer {
        let mut head = Reader(bytes);
        head.take(begin + 4);
        let towns_per_block = head.length(2);
        let (town_count, name_count) = (head.length(2), head.length(2));
        let lists_length = head.length(4);
        let towns: Vec<(usize, [u32; 4])> = (0..town_count)
            .map(|_| {
                let length = head.length(4);
                (length, std::array::from_fn(|_| head.number(4)))
            })
            .collect();
        let names: Vec<(usize, &'static str)> = (0..name_count)
            .map(|_| {
                let length = head.length(4);
                let letters = head.length(1);
                let first = std::str::from_utf8(head.take(letters));
                (length, first.unwrap_or_default())
            })
            .collect();

        // What the whole program keeps: a few thousand names of regions.
        let lists = String::from_utf8(inflated(head.take(lists_length))).unwrap_or_default();
        let lists: &'static str = lists.leak();
        let (regions, zones) = lists.split_once("\n\n").unwrap_or_default();
        let countries: HashMap<&str, Country> = Country::all()
            .map(|country| (country.code(), country))
            .collect();
        Gazetteer {
            part,
            regions: regions
                .lines()
                .filter_map(|line| Region::from_line(line, &countries))
                .collect(),
            zones: zones
                .lines()
                .filter_map(|name| Zone::named(name).ok())
                .collect(),
            towns_per_block,
            town_blocks: towns
                .into_iter()
                .map(|(length, [south, north, west, east])| TownBlock {
                    packed: head.take(length),
                    south,
                    north,
                    west,
                    east,
                })
                .collect(),
            name_blocks: names
                .into_iter()
                .map(|(length, first)| NameBlock {
                    packed: head.take(length),
                    first,
                })
                .collect(),
        }
    }

    /// The blocks of towns.
    pub(super) fn town_blocks(&self) -> &[TownBlock] {
        &self.town_blocks
    }

    /// The number of the block in which a town is.
    pub(super) fn block_of(&self, town: usize) -> usize {
        town / self.towns_per_block.max(1)
    }

    /// The towns of some numbers, in that order.
    pub(super) fn towns(&self, numbers: &[usize]) -> Vec<Town> {
        let mut order: Vec<usize> = (0..numbers.len()).collect();
        order.sort_by_key(|place| numbers.get(*place));
        let mut found: Vec<(usize, Town)> = Vec::with_capacity(numbers.len());
        let mut opened: Option<(usize, Vec<Town>)> = None;
        for place in order {
            let number = numbers.get(place).copied().unwrap_or_default();
            let block = self.block_of(number);
            let towns = match &opened {
                Some((number, towns)) if *number == block => towns,
                _ => {
                    let towns = self.town_blocks.get(block);
                    let towns = towns
                        .map(|packed| self.towns_in(packed))
                        .unwrap_or_default();
                    &opened.insert((block, towns)).1
                }
            };
            if let Some(town) = towns.get(number % self.towns_per_block.max(1)) {
                found.push((place, town.clone()));
            }
        }
        found.sort_by_key(|(place, _)| *place);
        found.into_iter().map(|(_, town)| town).collect()
    }

    /// The towns of a block.
    pub(super) fn towns_in(&self, block: &TownBlock) -> Vec<Town> {
        let bytes = inflated(block.packed);
        let mut rest = bytes.as_slice();
        let mut take = |length: usize| {
            let (taken, after) = rest.split_at_checked(length).unwrap_or((rest, &[]));
            rest = after;
            taken
        };
        let count = number(take(2));
        let (south, west) = (number(take(4)), number(take(4)));
        let regions = planes(take(2 * count), count);
        let zones = planes(take(2 * count), count);
        let norths = planes(take(3 * count), count);
        let easts = planes(take(3 * count), count);
        let ranks = planes(take(count), count);
        let names = std::str::from_utf8(rest).unwrap_or_default().lines();
        let columns = regions
            .zip(zones)
            .zip(norths)
            .zip(easts)
            .zip(ranks)
            .zip(names);
        columns
            .filter_map(|(((((region, zone), north), east), rank), name)| {
                let region = self.regions.get(region)?;
                Some(Town {
                    name: name.to_owned(),
                    region: region.name,
                    region_code: region.code,
                    country: region.country,
                    latitude: Latitude::from_deg(degrees(south + north, 90)).ok()?,
                    longitude: Angle::from_deg(degrees(west + east, 180)),
                    zone: *self.zones.get(zone)?,
                    population: population(rank),
                })
            })
            .collect()
    }

    /// Every name that begins with a (folded) text, in alphabetical order, until
    /// told to stop.
    pub(super) fn names_from(&self, start: &str, mut each: impl FnMut(&Entry) -> bool) {
        let after = self
            .name_blocks
            .partition_point(|block| block.first < start);
        for block in self.name_blocks.iter().skip(after.saturating_sub(1)) {
            for entry in block.entries() {
                if entry.key.as_str() < start {
                    continue;
                }
                if !each(&entry) {
                    return;
                }
            }
        }
    }
}

impl Region {
    fn from_line(line: &'static str, countries: &HashMap<&str, Country>) -> Option<Region> {
        let (codes, name) = line.split_once('\t')?;
        let (country, code) = codes.split_once('.')?;
        Some(Region {
            country: *countries.get(country)?,
            code,
            name,
        })
    }
}

impl TownBlock {
    /// South, north, west and east edge in degrees.
    pub(super) fn edges_deg(&self) -> [f64; 4] {
        [
            degrees(self.south as usize, 90),
            degrees(self.north as usize, 90),
            degrees(self.west as usize, 180),
            degrees(self.east as usize, 180),
        ]
    }
}

impl NameBlock {
    fn entries(&self) -> Vec<Entry> {
        let bytes = inflated(self.packed);
        let (count, rest) = bytes.split_at_checked(2).unwrap_or_default();
        let count = number(count);
        let (towns, rest) = rest.split_at_checked(3 * count).unwrap_or_default();
        let (ranks, rest) = rest.split_at_checked(count).unwrap_or_default();
        let (shared, rest) = rest.split_at_checked(count).unwrap_or_default();
        let rests = std::str::from_utf8(rest).unwrap_or_default().lines();
        let mut key = String::new();
        let columns = planes(towns, count).zip(ranks).zip(shared).zip(rests);
        columns
            .map(|(((town, rank), shared), rest)| {
                key.truncate(usize::from(*shared));
                key.push_str(rest);
                Entry {
                    key: key.clone(),
                    town,
                    rank: *rank,
                }
            })
            .collect()
    }
}

fn number(bytes: &[u8]) -> usize {
    bytes
        .iter()
        .rev()
        .fold(0, |number, byte| number << 8 | usize::from(*byte))
}

/// A column of so many numbers.
fn planes(bytes: &[u8], count: usize) -> impl Iterator<Item = usize> {
    (0..count).map(move |place| {
        let column = bytes.iter().skip(place).step_by(count.max(1));
        column
            .rev()
            .fold(0, |number, byte| number << 8 | usize::from(*byte))
    })
}

fn degrees(ten_thousandths: usize, less: i32) -> f64 {
    // Subtracted as a whole number, so that the last of four decimals stays exact.
    (ten_thousandths as f64 - f64::from(less) * 1e4) / 1e4
}

/// How many live in a town of a rank, one byte; reckoned once, for opening a block asks it of
/// every town there.
fn population(rank: usize) -> u32 {
    static ALL: LazyLock<[u32; 256]> = LazyLock::new(|| {
        std::array::from_fn(|rank| {
            let exact = libm::pow(2.0, rank as f64 / 10.0);
            let unit = libm::pow(10.0, (libm::log10(exact).floor() - 1.0).max(0.0));
            ((exact / unit).round() * unit) as u32
        })
    });
    ALL.get(rank).copied().unwrap_or_default()
}

#[cfg(all(test, feature = "embedded"))]
mod tests {
    use std::collections::HashSet;

    use super::*;
    use crate::fold_name;

    #[test]
    fn every_town_opens_and_is_found_by_its_own_name() {
        let gazetteer = gazetteer();
        let towns: Vec<Town> = gazetteer
            .town_blocks()
            .iter()
            .flat_map(|block| {
                let towns = gazetteer.towns_in(block);
                let [south, north, west, east] = block.edges_deg();
                for town in &towns {
                    assert!(
                        (south..=north).contains(&town.latitude.deg()),
                        "{}",
                        town.name
                    );
                    assert!(
                        (west..=east).contains(&town.longitude.deg()),
                        "{}",
                        town.name
                    );
                }
                towns
            })
            .collect();
        let mut head = Reader(PACKED);
        head.take(WHOLE.len());
        assert_eq!(towns.len(), head.length(4));

        let mut own = HashSet::new();
        let mut before = String::new();
        gazetteer.names_from("", |entry| {
            assert!(before <= entry.key);
            before.clone_from(&entry.key);
            if fold_name(&towns[entry.town].name) == entry.key {
                own.insert(entry.town);
            }
            true
        });
        assert_eq!(own.len(), towns.len());
    }

    #[test]
    fn names_are_found_from_any_letter_on() {
        // First and last of their blocks among them.
        let mut all = Vec::new();
        gazetteer().names_from("", |entry| {
            all.push(entry.clone());
            true
        });
        for entry in all.iter().step_by(97) {
            let mut found = false;
            gazetteer().names_from(&entry.key, |other| {
                found |= other == entry;
                other.key == entry.key
            });
            assert!(found, "{}", entry.key);
        }
    }
}
