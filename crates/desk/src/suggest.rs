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

/// A place that may be meant by a text, as a request takes it: the text itself where it
/// names one; a town and what it lies in without the comma between, `leipzig germany`; or
/// the first that begins so. It is for offering: nobody has chosen it yet.
#[must_use]
pub fn place_meant(text: &str) -> Option<String> {
    /// More words than the longest name of a town with its region and country.
    const MOST_WORDS: usize = 12;
    let text = text.trim();
    if Place::find(text).is_ok() {
        return Some(text.to_owned());
    }
    let words: Vec<&str> = text.split_whitespace().collect();
    if words.len() > MOST_WORDS {
        return None;
    }
    let named = |text: &str| match Town::named(text) {
        Ok(town) => Some(town.full_name()),
        Err(error) => error.candidates().first().cloned(),
    };
    let parted = (1..words.len()).rev().find_map(|at| {
        let (town, within) = words.split_at_checked(at)?;
        let (town, within) = (town.join(" "), within.join(" "));
        named(&format!("{town}, {within}"))
    });
    let thrice = || {
        (1..words.len()).rev().find_map(|at| {
            let (town, rest) = words.split_at_checked(at)?;
            (1..rest.len()).rev().find_map(|at| {
                let (region, country) = rest.split_at_checked(at)?;
                let parts = [town, region, country].map(|part| part.join(" "));
                named(&parts.join(", "))
            })
        })
    };
    named(text)
        .or(parted)
        .or_else(thrice)
        .or_else(|| suggest(text, None).into_iter().next().map(|one| one.name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_town_is_offered_for_what_may_have_meant_it() {
        for (text, meant) in [
            ("leipzig germany", Some("Leipzig, Saxony, Germany")),
            (
                "new york usa",
                Some("New York City, New York, United States"),
            ),
            (
                "oxford england united kingdom",
                Some("Oxford, England, United Kingdom"),
            ),
            ("52.5,13.4", Some("52.5,13.4")),
            ("Lisbon, Portugal", Some("Lisbon, Portugal")),
            ("Leipz", Some("Leipzig, Saxony, Germany")),
            ("xqzzy", None),
            ("", None),
        ] {
            assert_eq!(place_meant(text).as_deref(), meant, "{text}");
        }
    }
}
