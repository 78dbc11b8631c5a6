use std::collections::HashMap;
use std::sync::OnceLock;

use thiserror::Error;

use super::{Star, stars};

/// A name by which no star of the catalogue is known.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error(
    "no star is known as \"{0}\": a name (Aldebaran, Alhabor), a designation (α Tau, alpha Tau, \
     17 Tau) or a Hipparcos number (HIP 21421) would be accepted"
)]
pub struct UnknownStar(String);

/// The star of this name: an ordinary name, a name on instruments, a variant,
/// a designation with the Greek letter as such or spelt out, or a Hipparcos number.
///
/// Case, accents, spaces and hyphens do not matter. Where old and new use
/// differ, the ordinary name of today wins: *Algenib* is γ Pegasi, although
/// astrolabes have it for α Persei. A letter that several stars share without
/// its number (*α Cen*) means the brightest.
///
/// ```
/// assert_eq!(sky::star_named("aldebarán")?.hip, 21421);
/// assert_eq!(sky::star_named("alpha cen")?.name, Some("Rigil Kentaurus"));
/// assert!(sky::star_named("Vulcan").is_err());
/// # Ok::<(), sky::UnknownStar>(())
/// ```
///
/// # Errors
/// When no star has the name.
pub fn star_named(name: &str) -> Result<&'static Star, UnknownStar> {
    // Exactly as written first: among the Roman letters i Car is another star than I Car.
    stars()
        .iter()
        .find(|star| star.designation == name)
        .or_else(|| index().get(&folded(name)).copied())
        .ok_or_else(|| UnknownStar(name.chars().take(LONGEST_SHOWN).collect()))
}

/// The star that a pointer lettered with this name stands for: where old and new use differ,
/// the name on instruments wins; else as [`star_named`].
///
/// ```
/// assert_eq!(sky::star_lettered("Algenib")?.designation, "α Per");
/// assert_eq!(sky::star_named("Algenib")?.designation, "γ Peg");
/// # Ok::<(), sky::UnknownStar>(())
/// ```
///
/// # Errors
/// When no star has the name.
pub fn star_lettered(name: &str) -> Result<&'static Star, UnknownStar> {
    let wanted = folded(name);
    let lettered = |star: &&Star| {
        star.instrument_name
            .is_some_and(|one| folded(one) == wanted)
    };
    match stars().iter().find(lettered) {
        Some(star) => Ok(star),
        None => star_named(name),
    }
}

/// Of a mistaken name, as many characters as an error message repeats.
const LONGEST_SHOWN: usize = 80;

fn index() -> &'static HashMap<String, &'static Star> {
    static INDEX: OnceLock<HashMap<String, &'static Star>> = OnceLock::new();
    INDEX.get_or_init(|| {
        let mut index = HashMap::new();
        let mut add = |name: &str, star: &'static Star| {
            index.entry(folded(name)).or_insert(star);
        };
        for star in stars() {
            add(star.designation, star);
            add(&format!("HIP {}", star.hip), star);
        }
        for star in stars() {
            star.name.iter().for_each(|name| add(name, star));
        }
        for star in stars() {
            star.instrument_name.iter().for_each(|name| add(name, star));
        }
        for star in stars() {
            star.variants.iter().for_each(|name| add(name, star));
            // θ1 Eri is also θ Eri: stars come brightest first, so that the brightest has the bare letter.
            if let Some((letter, constellation)) = star.designation.split_once(' ') {
                let bare = letter.trim_end_matches(|c: char| c.is_ascii_digit());
                if !bare.is_empty() {
                    add(&format!("{bare} {constellation}"), star);
                }
            }
        }
        index
    })
}

/// Small letters and digits alone, without accents, Greek letters spelt out.
fn folded(name: &str) -> String {
    let mut folded = String::with_capacity(name.len());
    for c in name.chars().flat_map(char::to_lowercase) {
        match c {
            _ if c.is_ascii_alphanumeric() => folded.push(c),
            'α'..='ω' => folded.push_str(greek(c)),
            'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ā' => folded.push('a'),
            'ç' => folded.push('c'),
            'è' | 'é' | 'ê' | 'ë' | 'ē' => folded.push('e'),
            'ì' | 'í' | 'î' | 'ï' | 'ī' | 'ı' => folded.push('i'),
            'ñ' => folded.push('n'),
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ō' => folded.push('o'),
            'ù' | 'ú' | 'û' | 'ü' | 'ū' => folded.push('u'),
            'ḥ' | 'ḫ' => folded.push('h'),
            'ṣ' | 'š' => folded.push('s'),
            'æ' => folded.push_str("ae"),
            'œ' => folded.push_str("oe"),
            '¹' => folded.push('1'),
            '²' => folded.push('2'),
            '³' => folded.push('3'),
            _ => {}
        }
    }
    folded
}

fn greek(letter: char) -> &'static str {
    const NAMES: [&str; 25] = [
        "alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "iota", "kappa",
        "lambda", "mu", "nu", "xi", "omicron", "pi", "rho", "sigma", "sigma", "tau", "upsilon",
        "phi", "chi", "psi", "omega",
    ];
    NAMES.get(letter as usize - 'α' as usize).unwrap_or(&"")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(name: &str, designation: &str) {
        assert_eq!(
            star_named(name).map(|star| star.designation),
            Ok(designation)
        );
    }

    #[test]
    fn every_way_of_naming_a_star_finds_it() {
        for name in [
            "Sirius",
            "SIRIUS",
            "Alhabor",
            "canis maior",
            "α CMa",
            "Alpha CMa",
            "hip32349",
        ] {
            check(name, "α CMa");
        }
        check("Lanx Australis", "α2 Lib");
        check("α² Lib", "α2 Lib");
        check("α Lib", "α2 Lib");
        check("51 and", "51 And");
        check("Rāsalhágue", "α Oph");
    }

    #[test]
    fn the_ordinary_name_wins_over_the_instrument_s() {
        // Algenib, the side, was said of Perseus and of the Winged Horse; IAU usage keeps the latter.
        check("Algenib", "γ Peg");
        check("Algorab", "δ Crv");
    }

    #[test]
    fn every_star_is_found_by_its_designation_and_its_ordinary_name() {
        for star in stars() {
            check(star.designation, star.designation);
            check(&format!("HIP {}", star.hip), star.designation);
            star.name
                .iter()
                .for_each(|name| check(name, star.designation));
        }
    }

    #[test]
    fn every_instrument_name_finds_its_star_unless_it_is_another_s_ordinary_name() {
        let astray: Vec<_> = stars()
            .iter()
            .flat_map(|star| {
                star.instrument_name
                    .iter()
                    .chain(&star.variants)
                    .map(move |name| (*name, star))
            })
            .filter(|(name, star)| star_named(name).map(|found| found.hip) != Ok(star.hip))
            .map(|(name, _)| name)
            .collect();
        assert_eq!(astray, ["Algenib", "Algorab"]);
    }

    #[test]
    fn a_mistaken_name_is_refused_and_repeated() {
        for name in ["", "Vulcan", "★", "HIP", "α"] {
            let error = star_named(name).expect_err(name);
            assert!(
                error.to_string().contains(&format!("\"{name}\"")),
                "{error}"
            );
        }
        let error = star_named(&"x".repeat(100_000)).expect_err("no such star");
        assert!(error.to_string().len() < 400);
    }
}
