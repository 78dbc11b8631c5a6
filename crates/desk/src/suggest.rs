use moment::Town;
use schemars::JsonSchema;
use serde::Serialize;

/// A place that someone may mean.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SuggestionAnswer {
    /// The town with its region and country, as a request takes it.
    pub name: String,
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
}

/// How many are worth reading.
const MOST: usize = 8;

/// Towns that a text may mean, the best fit and then the largest first.
#[must_use]
pub fn suggest(text: &str) -> Vec<SuggestionAnswer> {
    let towns = Town::suggest(text, MOST);
    let names = Town::told_apart(&towns).into_iter();
    names
        .zip(&towns)
        .map(|(name, town)| SuggestionAnswer {
            name,
            latitude_deg: town.latitude.deg(),
            longitude_deg: town.longitude.deg(),
        })
        .collect()
}
