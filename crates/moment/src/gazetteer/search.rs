use std::cmp::Reverse;
use std::collections::HashMap;

use super::Town;
use super::packed::{Entry, Gazetteer, gazetteer, towns_so_far};
use crate::coordinates::Coordinates;
use crate::fold::{fold_name, without_umlauts};
use crate::near::edits;
use crate::{Country, MomentError};

/// As many towns as a message lists.
const LISTED: usize = 12;

/// Coordinates that tell towns of one name apart need be no nearer.
const SAME_DEG: f64 = 0.005;

/// What someone wrote: a name, and what it lies in or where.
pub(super) struct Wanted {
    pub(super) name: String,
    pub(super) within: Vec<String>,
    at: Option<Coordinates>,
}

impl Wanted {
    /// From `Town`, `Town, Country`, `Town, Region, Country`, and each of these
    /// with coordinates in brackets behind.
    pub(super) fn new(text: &str) -> Wanted {
        let bracketed = || {
            let (text, at) = text.trim_end().strip_suffix(')')?.rsplit_once('(')?;
            Some((text, Coordinates::parse(at)?.ok()?))
        };
        let (text, at) = match bracketed() {
            Some((text, at)) => (text, Some(at)),
            None => (text, None),
        };
        let mut parts = text.split(',').map(fold_name);
        Wanted {
            name: parts.next().unwrap_or_default(),
            within: parts.filter(|part| !part.is_empty()).collect(),
            at,
        }
    }

    fn fits(&self, town: &Town) -> bool {
        self.within.iter().all(|part| lies_in(town, part))
            && self.at.is_none_or(|at| {
                (at.latitude.deg() - town.latitude.deg()).abs() < SAME_DEG
                    && (at.longitude.deg() - town.longitude.deg()).abs() < SAME_DEG
            })
    }
}

/// Whether a (folded) text names the region or the country of a town.
pub(super) fn lies_in(town: &Town, part: &str) -> bool {
    let part = part.replace(' ', "");
    let is = |name: &str| fold_name(name).replace(' ', "") == part;
    is(town.region)
        || is(town.region_code)
        || is(town.country.name())
        || is(town.country.code())
        || other_names(town.country).any(|name| name == part)
}

/// What countries are called besides (folded, without gaps).
fn other_names(country: Country) -> impl Iterator<Item = &'static str> {
    const OTHER: &[(&str, &str)] = &[
        ("GB", "uk"),
        ("GB", "greatbritain"),
        ("GB", "britain"),
        ("US", "usa"),
        ("US", "unitedstatesofamerica"),
        ("US", "america"),
        ("NL", "holland"),
        ("NL", "netherlands"),
        ("NL", "thenetherlands"),
        ("CZ", "czechrepublic"),
        ("CZ", "czechia"),
        ("TR", "turkey"),
        ("TR", "turkiye"),
        ("AE", "uae"),
        ("MM", "burma"),
        ("CI", "cotedivoire"),
        ("KR", "korea"),
        ("CD", "congo"),
        ("MK", "macedonia"),
        ("DE", "deutschland"),
        ("AT", "osterreich"),
        ("CH", "schweiz"),
        ("CH", "suisse"),
        ("CH", "svizzera"),
        ("ES", "espana"),
        ("IT", "italia"),
        ("PL", "polska"),
        ("BR", "brasil"),
        ("SE", "sverige"),
        ("NO", "norge"),
        ("DK", "danmark"),
        ("FI", "suomi"),
    ];
    OTHER
        .iter()
        .filter(move |(code, _)| *code == country.code())
        .map(|(_, name)| *name)
}

impl Town {
    /// The town of a name: `Town`, `Town, Country` or `Town, Region, Country`, in
    /// letters of either case, with or without accents; regions and countries by
    /// name or by code. Towns that bear the name itself go before smaller ones that
    /// are called so in another language, or once were.
    ///
    /// # Errors
    /// When there is no such town; and when there are several: a choice is never
    /// made for the asker. The message lists them, the largest first, each in a
    /// form that names it alone. A town that bears the name and a larger one that
    /// is or was called so are several, unless both region and country are said:
    /// Bombay in New Zealand, and Mumbai.
    ///
    /// ```
    /// use moment::Town;
    /// let town = Town::named("koln, germany")?;
    /// assert_eq!(town.full_name(), "Köln, North Rhine-Westphalia, Germany");
    /// assert_eq!(Town::named("Firenze")?.name, "Florence");
    /// assert_eq!(Town::named("Calcutta, India")?.name, "Kolkata");
    /// assert!(Town::named("Paris").unwrap_err().candidates()[0].contains("France"));
    /// # Ok::<(), moment::MomentError>(())
    /// ```
    pub fn named(text: &str) -> Result<Town, MomentError> {
        let wanted = Wanted::new(text);
        let mut towns = bearing(&wanted.name, &wanted);
        if towns.is_empty() {
            let plain = without_umlauts(&wanted.name);
            if plain != wanted.name {
                towns = bearing(&plain, &wanted);
            }
        }
        match towns.as_slice() {
            [] => Err(MomentError::town(text, meant(&wanted), gazetteer().part())),
            [town] => Ok(town.clone()),
            towns => Err(MomentError::several_towns(text, told_apart(towns), LISTED)),
        }
    }

    /// What this town was asked for by, where that is not its name.
    pub(crate) fn called_otherwise(&self, text: &str) -> Option<String> {
        let asked = text.split([',', '(']).next().unwrap_or_default().trim();
        let (asked_folded, name) = (fold_name(asked), fold_name(&self.name));
        let same = asked_folded == name || without_umlauts(&asked_folded) == name;
        (!same).then(|| asked.to_owned())
    }

    /// The names of several towns as they can be asked for, with coordinates where
    /// region and country do not tell them apart.
    #[must_use]
    pub fn told_apart(towns: &[Town]) -> Vec<String> {
        told_apart(towns)
    }
}

/// The towns that bear a (folded) name, and larger ones that are called so elsewhere
/// or once were; all of the latter if none bears it. The largest first.
fn bearing(name: &str, wanted: &Wanted) -> Vec<Town> {
    let of_name = |known: &Gazetteer| {
        let mut entries = Vec::new();
        known.names_from(name, |entry| {
            let same = entry.key == name;
            if same {
                entries.push((0, entry.clone()));
            }
            same
        });
        known.towns(&best(entries, usize::MAX))
    };
    // Who has only some towns has all that bear a name of theirs, and none of another.
    let mut towns = of_name(towns_so_far());
    if towns.is_empty() {
        towns = of_name(gazetteer());
    }
    towns.retain(|town| wanted.fits(town));
    let bears = |town: &Town| fold_name(&town.name) == name;
    let bearing = towns.iter().filter(|town| bears(town));
    if let Some(largest) = bearing.map(|town| town.population).max() {
        // Region and country together say well enough that no other is meant.
        let is_full = wanted.within.len() > 1;
        towns.retain(|town| bears(town) || (!is_full && town.population > largest));
    }
    towns
}

/// The numbers of the towns of some entries with their fit (0 is best), the best
/// and largest first, each once.
fn best(mut entries: Vec<(u8, Entry)>, count: usize) -> Vec<usize> {
    entries.sort_by_key(|(fit, entry)| (*fit, Reverse(entry.rank), entry.town));
    let mut seen = std::collections::HashSet::new();
    let towns = entries.into_iter().map(|(_, entry)| entry.town);
    towns
        .filter(|town| seen.insert(*town))
        .take(count)
        .collect()
}

/// The names of several towns, with coordinates where region and country do not
/// tell them apart.
fn told_apart(towns: &[Town]) -> Vec<String> {
    let names: Vec<String> = towns.iter().map(Town::full_name).collect();
    let mut counts: HashMap<&str, usize> = HashMap::new();
    for name in &names {
        *counts.entry(name).or_default() += 1;
    }
    let each = names.iter().zip(towns).map(|(name, town)| {
        if counts.get(name.as_str()).is_some_and(|count| *count > 1) {
            format!("{name} ({})", town.coordinates())
        } else {
            name.clone()
        }
    });
    each.collect()
}

/// Towns someone may have meant by a name that none bears.
fn meant(wanted: &Wanted) -> Vec<String> {
    const OFFERED: usize = 3;
    const LONGEST: usize = 40;
    /// Fewer letters begin too many names.
    const SHORTEST: usize = 3;
    if wanted.name.is_empty() || wanted.name.len() > LONGEST {
        return Vec::new();
    }
    // What was begun and not finished.
    let begun: Vec<Town> = Town::suggest(&wanted.name, None, OFFERED)
        .into_iter()
        .map(|suggested| suggested.town)
        .filter(|town| fold_name(&town.name).starts_with(&wanted.name))
        .collect();
    if !begun.is_empty() && wanted.name.len() >= SHORTEST {
        return told_apart(&begun);
    }
    let letters: Vec<char> = wanted.name.chars().collect();
    // A misspelling seldom touches more than every third letter.
    let most = (letters.len() / 3).clamp(1, 3);
    let mut entries = Vec::new();
    gazetteer().names_from("", |entry| {
        if entry.key == wanted.name {
            // It exists, but not where it was looked for.
            entries.push((0, entry.clone()));
        } else if entry.key.len().abs_diff(wanted.name.len()) <= most
            && let Some(distance) = edits(&letters, &entry.key, most)
        {
            entries.push((distance as u8, entry.clone()));
        }
        true
    });
    told_apart(&gazetteer().towns(&best(entries, OFFERED)))
}
