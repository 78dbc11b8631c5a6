//! The leaves of the finished figure: each a table with its sources, each in a file of its
//! own. A new one is a file and a line in [`LEAVES`], and is then on the command line, in
//! JSON and comma-separated values, and on the page.

mod accidents;
mod almutens;
mod antiscia;
mod appearances;
mod aspects;
mod by_sign;
mod chains;
mod considerations;
mod cusps;
mod decennials;
mod degrees;
mod distributors;
mod eclipses;
mod firdaria;
mod leaf;
mod life;
mod moon;
mod phases;
mod places;
mod profections;
mod returns;
mod standing;
mod star_natures;

use figure::Figure;
use schemars::JsonSchema;
use serde::Serialize;
use sky::Sky;

use crate::answer::{CellAnswer, LeafAnswer};
use crate::figure_case::FigureCase;
use crate::refusal::{Field, Refusal, quoted};
use leaf::{Hangs, Leaf, Made, Opened};

/// All of them, in the order in which they are read.
const LEAVES: [Leaf; 22] = [
    places::LEAF,
    cusps::LEAF,
    degrees::LEAF,
    accidents::LEAF,
    standing::LEAF,
    aspects::LEAF,
    by_sign::LEAF,
    antiscia::LEAF,
    chains::LEAF,
    moon::LEAF,
    phases::LEAF,
    appearances::LEAF,
    star_natures::LEAF,
    almutens::LEAF,
    life::LEAF,
    considerations::LEAF,
    profections::LEAF,
    firdaria::LEAF,
    decennials::LEAF,
    distributors::LEAF,
    returns::LEAF,
    eclipses::LEAF,
];

/// The name of a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LeafName {
    /// By which it is asked for.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
}

/// The leaves that a finished figure has besides its first page.
#[must_use]
pub fn figure_leaves() -> Vec<LeafName> {
    let names = LEAVES.iter().map(|leaf| LeafName {
        name: leaf.name,
        title: leaf.title,
    });
    names.collect()
}

/// The word for every leaf.
const ALL: &str = "all";

/// The leaves of these names.
pub(crate) fn opened(
    names: &[String],
    finishing: &FigureCase,
    exact: &Figure,
    read: Option<&Figure>,
) -> Result<Vec<LeafAnswer>, Refusal> {
    for name in names {
        if name != ALL && !LEAVES.iter().any(|leaf| leaf.name == name) {
            let mut choices: Vec<String> = vec![ALL.to_owned()];
            choices.extend(LEAVES.iter().map(|leaf| leaf.name.to_owned()));
            return Err(Refusal {
                value: None,
                message: format!(
                    "{} is no leaf of a figure; {} would do",
                    quoted(name),
                    choices.join(", ")
                ),
                choices,
                field: Field::Rule,
            });
        }
    }
    let wanted = |leaf: &&Leaf| names.iter().any(|name| name == ALL || name == leaf.name);
    let wanted: Vec<&Leaf> = LEAVES.iter().filter(wanted).collect();
    if wanted.is_empty() {
        return Ok(Vec::new());
    }
    let others = Others::of(finishing, read);
    let sky = finishing.casting.moment.sky();
    let opened = Opened::new(finishing, sky, exact);
    let as_read = others.read.map(|read| Opened::new(finishing, sky, read));
    let shifted: Vec<(&str, Opened<'_>)> = others
        .shifted
        .iter()
        .map(|(how, sky, figure)| (how.as_str(), Opened::new(finishing, sky, figure)))
        .collect();
    let mut found = Vec::new();
    for leaf in wanted {
        let made = made(leaf, &opened);
        let read = as_read.iter().map(|one| ("As read", one));
        let moved = shifted.iter().map(|(how, one)| (*how, one));
        let compared: Vec<(&str, &Opened<'_>)> = match leaf.hangs {
            Hangs::Horizon => read.chain(moved).collect(),
            Hangs::Moment => moved.collect(),
            Hangs::Neither => Vec::new(),
        };
        let changes = compared.into_iter();
        let changes = changes
            .flat_map(|(how, other)| parted(leaf, how, &made, &self::made(leaf, other)))
            .collect();
        found.push(LeafAnswer {
            name: leaf.name,
            title: leaf.title,
            sources: made.sources,
            columns: made.columns,
            rows: made.rows,
            notes: made.notes,
            changes,
        });
    }
    Ok(found)
}

/// The figures beside the exact one: as read, and by a clock a little wrong.
struct Others<'a> {
    read: Option<&'a Figure>,
    /// How the clock is off, in words, with the sky and the figure that it would be.
    shifted: Vec<(String, Sky, Figure)>,
}

impl Others<'_> {
    /// Without those of clocks that the ephemeris does not reach.
    fn of<'a>(finishing: &FigureCase, read: Option<&'a Figure>) -> Others<'a> {
        let now = finishing.casting.moment.instant();
        let mut shifted = Vec::new();
        for (seconds, way) in [
            (-finishing.within_s, "earlier"),
            (finishing.within_s, "later"),
        ] {
            if seconds.abs() > 0.0 {
                let Ok(sky) = Sky::at(now.plus_seconds(seconds)) else {
                    continue;
                };
                let Ok(figure) = finishing.exact_of(&sky) else {
                    continue;
                };
                let by = sky::Plain(seconds.abs());
                shifted.push((format!("{by} s {way}"), sky, figure));
            }
        }
        Others { read, shifted }
    }
}

/// A leaf as it is made; where the ephemeris ends too near, that is what it says.
fn made(leaf: &Leaf, opened: &Opened<'_>) -> Made {
    (leaf.make)(opened).unwrap_or_else(|error| Made {
        notes: vec![format!("Nothing can be told: {error}.")],
        ..Made::default()
    })
}

/// Where one table says otherwise than another, in words; degrees and moments always move a
/// little and are no change.
fn parted(leaf: &Leaf, how: &str, one: &Made, other: &Made) -> Vec<String> {
    let name = |row: &[CellAnswer]| {
        let cells = row.iter().take(leaf.named_by);
        let said: Vec<&str> = cells.map(|cell| cell.said.as_str()).collect();
        said.join(" ")
    };
    let mut found = Vec::new();
    for row in &one.rows {
        let own = name(row);
        let Some(there) = other.rows.iter().find(|there| name(there) == own) else {
            found.push(format!("{how}: {own} falls away."));
            continue;
        };
        let cells = row.iter().zip(there).zip(&one.columns).skip(leaf.named_by);
        for ((cell, there), column) in cells {
            if cell.is_words() && cell.said != there.said {
                found.push(format!(
                    "{how}: {own}, {column}: {}, not {}.",
                    there.said, cell.said
                ));
            }
        }
    }
    for row in &other.rows {
        let its = name(row);
        if !one.rows.iter().any(|here| name(here) == its) {
            found.push(format!("{how}: {its} is added."));
        }
    }
    found
}
