use casebook::Kept;
use desk::{Cabinet, PlatesRequest, TownPlates, WithInstrument};
use patience::Patience;
use serde::Serialize;

/// A place of recent cases that the plates at hand serve badly.
#[derive(Debug, Serialize)]
pub struct PlateToMake {
    /// The instrument that lacks the plate.
    with: String,
    /// The same within a sentence.
    called: String,
    #[serde(flatten)]
    town: TownPlates,
}

/// The places of these cases for which their instrument needs a plate of its own, so
/// many at most. A case without an instrument was cast with the usual one.
#[must_use]
pub fn plates_to_make(
    cases: &[Kept],
    usual: Option<&str>,
    cabinet: &Cabinet,
    most: usize,
) -> Vec<PlateToMake> {
    let mut seen = Vec::new();
    let mut found = Vec::new();
    for kept in cases {
        let asked = (&kept.case.at, kept.case.with.as_deref().or(usual));
        if seen.contains(&asked) {
            continue;
        }
        seen.push(asked);
        if found.len() < most {
            found.extend(plate_to_make(asked.0, asked.1, cabinet));
        }
    }
    found
}

/// Nothing where a plate at hand serves, or the kept words are no longer understood:
/// then the case itself says so when it is taken up.
fn plate_to_make(at: &str, with: Option<&str>, cabinet: &Cabinet) -> Option<PlateToMake> {
    let with = with.map(|name| WithInstrument::Named(name.to_owned()));
    let instrument = desk::instrument_for(at, with.as_ref(), cabinet).ok()?;
    let request = PlatesRequest {
        towns: vec![at.to_owned()],
        stock_deg: instrument.plates_deg,
        ..PlatesRequest::default()
    };
    let answer = desk::plates(&request, Patience::ENDLESS);
    let town = answer.ok()?.towns.into_iter().next()?;
    (town.advice == "new-plate").then_some(PlateToMake {
        with: instrument.name,
        called: instrument.called,
        town,
    })
}
