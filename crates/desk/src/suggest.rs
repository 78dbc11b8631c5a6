use moment::{Place, Town};
use schemars::JsonSchema;
use serde::Serialize;

/// A place that someone may mean.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SuggestionAnswer {
    /// The town with its region and country, as a request takes it.
    pub name: String,
    /// Why it stands there; null where its name says so.
    pub why: Option<String>,
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
}

/// How many are worth reading.
const MOST: usize = 8;

/// Towns that a text may mean: by their own names first, then by others; among equals by
/// size, and by nearness to a home place, if there is one that can be understood.
#[must_use]
pub fn suggest(text: &str, home: Option<&str>) -> Vec<SuggestionAnswer> {
    let home = home.and_then(|home| Place::find(home).ok());
    let near = home.map(|place| (place.latitude, place.longitude));
    let (towns, called): (Vec<Town>, Vec<Option<String>>) = Town::suggest(text, near, MOST)
        .into_iter()
        .map(|suggested| (suggested.town, suggested.called))
        .unzip();
    let names = Town::told_apart(&towns).into_iter();
    names
        .zip(&towns)
        .zip(called)
        .map(|((name, town), called)| SuggestionAnswer {
            name,
            why: called.map(|called| format!("is or was also called {called}")),
            latitude_deg: town.latitude.deg(),
            longitude_deg: town.longitude.deg(),
        })
        .collect()
}
