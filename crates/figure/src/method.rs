use std::fmt;
use std::str::FromStr;

use thiserror::Error;

/// A way to divide the figure into twelve houses.
///
/// ```
/// use figure::Method;
/// assert_eq!("whole-sign".parse(), Ok(Method::WholeSign));
/// assert_eq!(Method::Alcabitius.to_string(), "alcabitius");
/// assert!("alcabitus".parse::<Method>().is_err());
/// ```
///
/// Where a method has an answer:
///
/// | | up to the polar circles | beyond them |
/// |---|---|---|
/// | alcabitius, porphyry, equal, whole-sign, equal-from-midheaven, meridian, equator-from-ascendant, morinus | always | always |
/// | regiomontanus, campanus | always | while the midheaven is above the horizon |
/// | placidus | always | while each cusp it needs is a degree that rises and sets, and one alone |
/// | koch | always | while the midheaven's degree rises and sets, and the cusps keep the order of the signs |
/// | topocentric | always to two degrees short of them, then while the cusps keep the order of the signs | the same, while the midheaven is above the horizon |
///
/// None has one where there is no [ascendant](crate::Horizon::ascendant) to begin from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Method {
    /// The ascendant degree's own semi-arcs cut in three, and carried to the
    /// ecliptic by hour circles. The usual one here.
    #[default]
    Alcabitius,
    /// Circles through the north and south points of the horizon and every
    /// 30th degree of the equator from the meridian.
    Regiomontanus,
    /// Circles through the north and south points of the horizon and every
    /// 30th degree of the prime vertical.
    Campanus,
    /// Every cusp stands at a third of its own semi-arc.
    Placidus,
    /// The quadrants cut in three on the ecliptic.
    Porphyry,
    /// Every 30th degree of the ecliptic from the ascendant.
    Equal,
    /// The signs themselves, from the one that rises.
    WholeSign,
    /// Every 30th degree of the ecliptic from the midheaven.
    EqualFromMidheaven,
    /// Every 30th degree of the equator from the meridian, carried to the
    /// ecliptic by hour circles.
    Meridian,
    /// Every 30th degree of the equator from the ascendant's right ascension,
    /// carried to the ecliptic by hour circles.
    EquatorFromAscendant,
    /// Every 30th degree of the equator from the meridian, carried to the
    /// ecliptic by circles of its own latitude.
    Morinus,
    /// The degrees that rise at thirds of the midheaven degree's own semi-arc.
    Koch,
    /// Ascendants under poles whose tangents are thirds of the latitude's.
    Topocentric,
}

impl Method {
    /// Every method.
    pub const ALL: [Method; 13] = [
        Method::Alcabitius,
        Method::Regiomontanus,
        Method::Campanus,
        Method::Placidus,
        Method::Porphyry,
        Method::Equal,
        Method::WholeSign,
        Method::EqualFromMidheaven,
        Method::Meridian,
        Method::EquatorFromAscendant,
        Method::Morinus,
        Method::Koch,
        Method::Topocentric,
    ];

    /// Its name, as it is written and read everywhere.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Method::Alcabitius => "alcabitius",
            Method::Regiomontanus => "regiomontanus",
            Method::Campanus => "campanus",
            Method::Placidus => "placidus",
            Method::Porphyry => "porphyry",
            Method::Equal => "equal",
            Method::WholeSign => "whole-sign",
            Method::EqualFromMidheaven => "equal-from-midheaven",
            Method::Meridian => "meridian",
            Method::EquatorFromAscendant => "equator-from-ascendant",
            Method::Morinus => "morinus",
            Method::Koch => "koch",
            Method::Topocentric => "topocentric",
        }
    }

    /// Where it is defined in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Method::Alcabitius => {
                "G. Chaucer, A Treatise on the Astrolabe (1391), ed. Skeat 1894, II.36 and II.37"
            }
            Method::Regiomontanus => {
                "Regiomontanus, Tabulae directionum (1490; from memory); \
                 J. Middleton, Practical Astrology (1679), I.9"
            }
            Method::Campanus => "J. Palmer, The Catholique Planisphaer (1658), IV.53",
            Method::Placidus => "Placidus de Titis, Primum mobile (1657; from memory)",
            Method::Porphyry => {
                "Porphyry, Introduction to the Tetrabiblos (3rd century; from memory)"
            }
            Method::Equal => "Firmicus Maternus, Mathesis, book II (4th century; from memory)",
            Method::WholeSign => "Paulus of Alexandria, Introduction (378; from memory)",
            Method::EqualFromMidheaven => "common practice",
            Method::Meridian => "Zariel (D. Cope), early 20th century (from memory)",
            Method::EquatorFromAscendant => {
                "J. Palmer, The Catholique Planisphaer (1658), IV.48, there under the name of Alcabitius"
            }
            Method::Morinus => "J.-B. Morin, Astrologia Gallica (1661; from memory)",
            Method::Koch => {
                "W. A. Koch, Regiomontanus und das Häusersystem des Geburtsortes (1960; from memory)"
            }
            Method::Topocentric => "W. Polich and A. P. Nelson Page (1961; from memory)",
        }
    }

    /// What it does, in one line.
    #[must_use]
    pub const fn description(self) -> &'static str {
        match self {
            Method::Alcabitius => {
                "the ascendant degree's own semi-arcs cut in three, carried to the ecliptic by hour circles"
            }
            Method::Regiomontanus => {
                "circles through the horizon's north and south points and every 30th degree of the equator"
            }
            Method::Campanus => {
                "circles through the horizon's north and south points and every 30th degree of the prime vertical"
            }
            Method::Placidus => "every cusp stands at a third of its own semi-arc",
            Method::Porphyry => "the quadrants cut in three on the ecliptic",
            Method::Equal => "every 30th degree of the ecliptic from the ascendant",
            Method::WholeSign => "the signs themselves, from the one that rises",
            Method::EqualFromMidheaven => "every 30th degree of the ecliptic from the midheaven",
            Method::Meridian => {
                "every 30th degree of the equator from the meridian, carried to the ecliptic by hour circles"
            }
            Method::EquatorFromAscendant => {
                "every 30th degree of the equator from the ascendant's right ascension, \
                 carried to the ecliptic by hour circles"
            }
            Method::Morinus => {
                "every 30th degree of the equator from the meridian, \
                 carried to the ecliptic by circles of latitude"
            }
            Method::Koch => {
                "the degrees that rise at thirds of the midheaven degree's own semi-arc"
            }
            Method::Topocentric => {
                "ascendants under poles whose tangents are thirds of the latitude's"
            }
        }
    }
}

impl fmt::Display for Method {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

/// From a method's name, in letters of either case.
impl FromStr for Method {
    type Err = UnknownMethod;

    fn from_str(name: &str) -> Result<Method, UnknownMethod> {
        Method::ALL
            .into_iter()
            .find(|method| method.name().eq_ignore_ascii_case(name.trim()))
            .ok_or_else(|| UnknownMethod::new(name))
    }
}

/// No house method has this name; the message lists those that there are.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("no house method is called {name:?}; {names} would do", names = names())]
pub struct UnknownMethod {
    name: String,
}

impl UnknownMethod {
    /// More of a wrong name than this helps nobody.
    const SHOWN: usize = 40;

    fn new(name: &str) -> UnknownMethod {
        let mut shown: String = name.chars().take(UnknownMethod::SHOWN).collect();
        if shown.len() < name.len() {
            shown.push('…');
        }
        UnknownMethod { name: shown }
    }
}

fn names() -> String {
    Method::ALL.map(Method::name).join(", ")
}
