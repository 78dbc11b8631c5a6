//! The workshop: the parts as they would be made, their files, and plates for towns.

use desk::{CastRequest, PlatesRequest, WithInstrument};
use handouts::town_card;
use patience::Patience;
use press::{CardPaper, Code, FilmSense, Filming, Order, OrderError, Rates, Shaping, Stuff};
use serde::{Deserialize, Serialize};

use crate::answer::read;
use crate::archive::archive;
use crate::{Answer, Fault, Holder, Kept, json};

/// Which instrument is looked at, with which plates, and which of its parts.
#[derive(Deserialize)]
#[serde(default, deny_unknown_fields)]
struct Parts {
    with: Option<WithInstrument>,
    plates: Vec<String>,
    parts: Vec<String>,
    formats: Vec<String>,
    page: String,
    lines: Lines,
    films: Films,
    rates: RatesAsked,
}

/// Of what it is made, how many, and what that costs by one's own rates; nothing for the
/// usual, and no rate is assumed.
#[derive(Deserialize, Default)]
#[serde(default, deny_unknown_fields)]
struct RatesAsked {
    of: Option<String>,
    batch: Option<u16>,
    price_kg: Option<f64>,
    price_hour: Option<f64>,
    cut_mm_per_min: Option<f64>,
    engrave_mm_per_min: Option<f64>,
}

impl RatesAsked {
    fn rates(&self) -> Result<Rates, OrderError> {
        let usual = Rates::default();
        Rates {
            of: self.of.as_deref().map_or(Ok(usual.of), Stuff::named)?,
            batch: self.batch.unwrap_or(usual.batch),
            kilogram: self.price_kg,
            hour: self.price_hour,
            cut_mm_per_min: self.cut_mm_per_min,
            engrave_mm_per_min: self.engrave_mm_per_min,
        }
        .checked()
    }
}

/// How lines stand in solids, in millimetres; nothing for the usual.
#[derive(Deserialize, Default)]
#[serde(default, deny_unknown_fields)]
struct Lines {
    engrave_depth_mm: Option<f64>,
    raised_mm: Option<f64>,
    line_width_mm: Option<f64>,
}

/// How films for etching are made.
#[derive(Deserialize, Default)]
#[serde(default, deny_unknown_fields)]
struct Films {
    negative: bool,
    mirrored: bool,
    through: bool,
    undercut_mm: Option<f64>,
    dots_per_inch: Option<f64>,
}

impl Films {
    fn filming(&self) -> Result<Filming, OrderError> {
        let usual = Filming::default();
        Filming {
            sense: if self.negative {
                FilmSense::Negative
            } else {
                FilmSense::Positive
            },
            mirrored: self.mirrored,
            through: self.through,
            undercut_mm: self.undercut_mm.unwrap_or(usual.undercut_mm),
            dots_per_inch: self.dots_per_inch.unwrap_or(usual.dots_per_inch),
        }
        .checked()
    }
}

impl Default for Parts {
    fn default() -> Parts {
        Parts {
            with: None,
            plates: Vec::new(),
            parts: Vec::new(),
            formats: Vec::new(),
            page: "a4".to_owned(),
            lines: Lines::default(),
            films: Films::default(),
            rates: RatesAsked::default(),
        }
    }
}

pub(crate) fn preview(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let asked: Parts = read(body)?;
    json(&desk::part_pictures(
        asked.with.as_ref(),
        &asked.plates,
        &asked.parts,
        &holder.cabinet(),
        patience,
    )?)
}

/// The files of a set, in one archive: a page can hand over one file at a time.
pub(crate) fn make(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let asked: Parts = read(body)?;
    let instrument = desk::to_make(asked.with.as_ref(), &asked.plates, &holder.cabinet())?;
    let today = holder.now_unix_s().map(desk::date_of).unwrap_or_default();
    let order =
        Order::of(&asked.parts, &asked.formats, &asked.page, today).map_err(Fault::asked)?;
    let made = desk::linked_to_make(asked.with.as_ref(), &asked.plates, &holder.cabinet())?;
    let Kept { home, zone, .. } = holder.settings().map_err(Fault::asked)?;
    let code = home.map(|home| code_now(holder, home, zone, Some(made)));
    let lines = &asked.lines;
    let shaping = Shaping::of(lines.engrave_depth_mm, lines.raised_mm, lines.line_width_mm);
    let order = Order {
        code: code.transpose()?.flatten(),
        shaping: shaping.map_err(Fault::asked)?,
        filming: asked.films.filming().map_err(Fault::asked)?,
        rates: asked.rates.rates().map_err(Fault::asked)?,
        ..order
    };
    let set = press::set(&instrument, &order, patience).map_err(Fault::asked)?;
    archive(set.files)
}

/// The code of a link to an instrument as it is set now in a place; none where no address
/// of a page is known.
fn code_now(
    holder: &dyn Holder,
    at: String,
    zone: Option<String>,
    with: Option<WithInstrument>,
) -> Result<Option<Code>, Fault> {
    let address = holder.settings().map_err(Fault::asked)?.linked_to()?;
    let Some(address) = address else {
        return Ok(None);
    };
    let case = CastRequest {
        at,
        zone,
        with,
        ..CastRequest::default()
    };
    let code = address.code_now(case, &holder.cabinet(), holder.now_unix_s());
    code.map_err(Fault::asked)
}

/// The card of a town.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CardAsked {
    plates: PlatesRequest,
    paper: String,
    /// The instrument that it goes with, for its code.
    #[serde(default)]
    with: Option<WithInstrument>,
}

pub(crate) fn card(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let asked: CardAsked = read(body)?;
    let paper = CardPaper::named(&asked.paper).map_err(Fault::asked)?;
    let towns = asked.plates.towns.len();
    if towns > 1 {
        return Err(Fault::asked(format!(
            "a card is of one town, and {towns} are named; each by itself would do"
        )));
    }
    let answer = desk::plates(&asked.plates, patience)?;
    let first = answer.towns.first();
    let code = match first {
        Some(town) => code_now(holder, town.name.clone(), None, asked.with)?,
        None => None,
    };
    let card = first
        .and_then(|town| town_card(&answer, town, code))
        .ok_or_else(|| Fault::asked("a card is of a year; 2027 would do"))?;
    Ok(Answer {
        kind: "application/pdf",
        bytes: press::card(&card, paper).map_err(Fault::asked)?,
    })
}

pub(crate) fn plates(body: &[u8], _: &dyn Holder, patience: Patience<'_>) -> Result<Answer, Fault> {
    json(&desk::plates(&read(body)?, patience)?)
}

/// A file of measurements as an example.
#[derive(Serialize)]
struct Example {
    measurements: &'static str,
}

pub(crate) fn example() -> Result<Answer, Fault> {
    json(&Example {
        measurements: desk::EXAMPLE_MEASUREMENTS,
    })
}
