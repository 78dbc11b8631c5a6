use std::sync::OnceLock;

use sky::{Body, Zodiacal};
use thiserror::Error;
use toml::{Table, Value};

use crate::House;
use crate::lot::{Formula, Lot, LotPoint, Lots};

/// A list of lots that cannot be used: where, what is wrong, and what would do.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("list of lots: {0}")]
pub struct LotsError(String);

/// Larger texts are no list; the limit keeps a mistaken file from being parsed.
const MOST_BYTES: usize = 256 * 1024;

const KEYS: [&str; 4] = ["name", "day", "night", "source"];

const EXAMPLE: &str = "`ascendant + Moon - Sun` would do";

impl Default for Lots {
    fn default() -> Lots {
        Lots::built_in()
    }
}

impl Lots {
    /// Those that come with the program: `data/lots.toml`.
    #[must_use]
    pub fn built_in() -> Lots {
        static BUILT_IN: OnceLock<Lots> = OnceLock::new();
        BUILT_IN
            .get_or_init(|| {
                let text = include_str!("../../../data/lots.toml");
                // A test reads every one of them.
                Lots(Vec::new())
                    .extended_by(text)
                    .unwrap_or(Lots(Vec::new()))
            })
            .clone()
    }

    /// With those of a text added, or put in the place of those with the same name.
    ///
    /// # Errors
    /// When the text is not such a list; the message says where and what would do.
    pub fn extended_by(&self, text: &str) -> Result<Lots, LotsError> {
        extended(self, text)
    }
}

fn extended(lots: &Lots, text: &str) -> Result<Lots, LotsError> {
    if text.len() > MOST_BYTES {
        return Err(LotsError(format!(
            "the text is {} bytes long; at most {MOST_BYTES} would do",
            text.len()
        )));
    }
    let table: Table = text.parse().map_err(|error: toml::de::Error| {
        let line = error.span().map_or(1, |span| {
            text.get(..span.start).unwrap_or("").lines().count().max(1)
        });
        LotsError(format!("line {line} is not TOML: {}", error.message()))
    })?;
    if let Some(key) = table.keys().find(|key| *key != "version" && *key != "lot") {
        return Err(LotsError(format!(
            "{} is not known; `version` and `[[lot]]` would do",
            short(key)
        )));
    }
    match table.get("version") {
        Some(Value::Integer(1)) => {}
        _ => return Err(LotsError("it must begin with `version = 1`".to_owned())),
    }
    let given = match table.get("lot") {
        None => &Vec::new(),
        Some(Value::Array(given)) => given,
        Some(_) => return Err(LotsError("lots are written as `[[lot]]`".to_owned())),
    };
    let mut all = lots.0.clone();
    for (index, value) in given.iter().enumerate() {
        let lot = Reader {
            number: index + 1,
            value,
        }
        .lot()?;
        match all.iter_mut().find(|one| one.name == lot.name) {
            Some(old) => *old = lot,
            None => all.push(lot),
        }
    }
    known_before(&all)?;
    Ok(Lots(all))
}

/// A lot may be reckoned from those before it alone, so that none goes in a circle.
fn known_before(all: &[Lot]) -> Result<(), LotsError> {
    for (index, lot) in all.iter().enumerate() {
        for formula in [&lot.day, &lot.night] {
            for point in [&formula.cast_from, &formula.to, &formula.from] {
                let LotPoint::Lot(name) = point else { continue };
                let before = all.iter().take(index).any(|one| one.name == *name);
                if !before {
                    return Err(LotsError(format!(
                        "{}: {} is no degree of a figure, nor a lot that stands before it; {EXAMPLE}",
                        short(&lot.name),
                        short(name)
                    )));
                }
            }
        }
    }
    Ok(())
}

struct Reader<'a> {
    number: usize,
    value: &'a Value,
}

impl Reader<'_> {
    fn lot(&self) -> Result<Lot, LotsError> {
        let Value::Table(table) = self.value else {
            return Err(self.wrong("it is no table; `[[lot]]` would do"));
        };
        if let Some(key) = table.keys().find(|key| !KEYS.contains(&key.as_str())) {
            return Err(self.wrong(&format!(
                "{} is not known; {} would do",
                short(key),
                KEYS.join(", ")
            )));
        }
        let text = |key: &str| match table.get(key) {
            Some(Value::String(text)) if !text.trim().is_empty() && text.len() <= 400 => {
                Ok(text.trim())
            }
            Some(_) => Err(self.wrong(&format!("{key} must be a text of 1 to 400 bytes"))),
            None => Err(self.wrong(&format!("{key} is missing"))),
        };
        let name = text("name")?;
        if fixed_point(name).is_some() || name.contains(['+', '-', '−']) {
            return Err(self.wrong(&format!("{} cannot be the name of a lot", short(name))));
        }
        let day = self.formula(text("day")?)?;
        let night = match text("night")? {
            "reversed" => day.reversed(),
            "same" => day.clone(),
            other => self.formula(other)?,
        };
        let source = match table.get("source") {
            None => "",
            Some(_) => text("source")?,
        };
        Ok(Lot {
            name: name.to_owned(),
            day,
            night,
            source: source.to_owned(),
        })
    }

    fn formula(&self, text: &str) -> Result<Formula, LotsError> {
        let parts = text
            .split_once('+')
            .and_then(|(from, rest)| Some((from, rest.split_once(['-', '−'])?)));
        let Some((cast_from, (to, from))) = parts else {
            return Err(self.wrong(&format!("{} is no formula; {EXAMPLE}", short(text))));
        };
        if [cast_from, to, from]
            .iter()
            .any(|part| part.contains(['+', '-', '−']) || part.trim().is_empty())
        {
            return Err(self.wrong(&format!(
                "{} is not of the form A + B - C; {EXAMPLE}",
                short(text)
            )));
        }
        Ok(Formula {
            cast_from: point(cast_from),
            to: point(to),
            from: point(from),
        })
    }

    fn wrong(&self, what: &str) -> LotsError {
        LotsError(format!("lot {}: {what}", self.number))
    }
}

fn point(text: &str) -> LotPoint {
    let text = text.trim();
    fixed_point(text).unwrap_or_else(|| LotPoint::Lot(text.to_owned()))
}

/// A degree of the figure that has a name of its own.
fn fixed_point(text: &str) -> Option<LotPoint> {
    let house = |prefix: &str| {
        let numeral = text.strip_prefix(prefix)?;
        House::ALL
            .into_iter()
            .find(|house| house.roman() == numeral.trim())
    };
    match text {
        "ascendant" => return Some(LotPoint::Ascendant),
        "midheaven" => return Some(LotPoint::Midheaven),
        "north node" => return Some(LotPoint::NorthNode),
        "lunation" => return Some(LotPoint::Lunation),
        _ => {}
    }
    if let Some(body) = Body::ALL.into_iter().find(|body| body.name() == text) {
        return Some(LotPoint::Body(body));
    }
    if let Some(house) = house("cusp ") {
        return Some(LotPoint::Cusp(house));
    }
    if let Some(house) = house("ruler of ") {
        return Some(LotPoint::RulerOf(house));
    }
    let degree = text.starts_with(|c: char| c.is_ascii_digit());
    let degree = degree.then(|| text.parse::<Zodiacal>().ok()).flatten()?;
    Some(LotPoint::Degree(degree.0))
}

/// Text short enough to stand in a message.
fn short(text: &str) -> String {
    let mut shown: String = text.chars().take(40).collect();
    if shown.len() < text.len() {
        shown.push('…');
    }
    format!("“{shown}”")
}
