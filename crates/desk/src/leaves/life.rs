use figure::{LifeCandidate, PlanetYears};

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened, list};
use crate::answer::CellAnswer;

/// The candidates for giver of life and giver of years, with their tests, undecided.
pub(super) const LEAF: Leaf = Leaf {
    name: "life",
    title: "Giver of life and giver of years: the tests, undecided",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let tables = opened.choices().dignities;
    let found = opened
        .figure
        .life_candidates(&tables, &opened.places_of_life());
    let mut rows = Vec::new();
    for one in &found {
        let rulers = |sees: bool| {
            let found = one.rulers.iter().filter(|(.., seen)| *seen == sees);
            list(found.map(|(planet, dignity, _)| {
                let years = PlanetYears::of(*planet);
                format!(
                    "{planet} by {} ({}, {}, {} years)",
                    dignity.name(),
                    years.greater,
                    years.mean(),
                    years.least
                )
            }))
        };
        rows.push(vec![
            CellAnswer::said(one.name),
            CellAnswer::degree(one.place),
            CellAnswer::said(one.house.to_string()),
            CellAnswer::yes(one.prorogative),
            CellAnswer::yes(one.above),
            rulers(true),
            rulers(false),
        ]);
    }
    Ok(Made {
        sources: vec![
            LifeCandidate::SOURCE.to_owned(),
            PlanetYears::SOURCE.to_owned(),
        ],
        columns: vec![
            "",
            "degree",
            "house from 5° above the ascendant",
            "prorogative",
            "above the horizon",
            "rulers that see it, with greater, mean and least years",
            "rulers that do not",
        ],
        rows,
        notes: vec![
            "Ptolemy prefers, by day, the Sun, then the Moon, then the planet with most ways of \
             rule over the Sun, the new Moon before and the ascendant; by night the Moon, then \
             the Sun, then the one with most over the Moon, the full Moon before and the lot of \
             Fortune; last the ascendant, or Fortune where the lunation was full."
                .to_owned(),
            "These are the old tests, told and not judged; no length of a life follows from them."
                .to_owned(),
        ],
    })
}
