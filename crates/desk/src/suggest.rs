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

/// Towns whose name begins as a text does, the largest first.
#[must_use]
pub fn suggest(text: &str) -> Vec<SuggestionAnswer> {
    let wanted = text.trim().to_lowercase();
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut towns: Vec<Town> = Town::all()
        .filter(|town| town.full_name().to_lowercase().starts_with(&wanted))
        .collect();
    towns.sort_by_key(|town| std::cmp::Reverse(town.population));
    towns
        .into_iter()
        .take(MOST)
        .map(|town| SuggestionAnswer {
            name: town.full_name(),
            latitude_deg: town.latitude.deg(),
            longitude_deg: town.longitude.deg(),
        })
        .collect()
}
