use sky::Sign;

use crate::{Planet, Sect};

/// Whose table of the rulers of triplicities.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum TriplicityTable {
    /// Dorotheus of Sidon, Carmen I.1 (1st century; from memory), and Vettius Valens,
    /// Anthology II.1 (2nd century; ed. Kroll 1908, p. 55): one by day, one by night,
    /// and a third that takes part.
    Dorotheus,
    /// Ptolemy, Tetrabiblos I.18 (2nd century; in the edition of Boll and Boer 1940,
    /// I.19): as Dorotheus without the third; but Mars rules the watery signs, with
    /// Venus by day and the Moon by night.
    Ptolemy,
    /// W. Lilly, Christian Astrology (1647; ed. 1852, p. 72), and J. Middleton,
    /// Practical Astrology (1679), I.7, p. 60: the watery signs are Mars's by day and
    /// by night.
    #[default]
    Lilly,
}

impl TriplicityTable {
    /// All of them.
    pub const ALL: [TriplicityTable; 3] = [
        TriplicityTable::Dorotheus,
        TriplicityTable::Ptolemy,
        TriplicityTable::Lilly,
    ];

    /// `dorotheus`, `ptolemy` or `lilly`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            TriplicityTable::Dorotheus => "dorotheus",
            TriplicityTable::Ptolemy => "ptolemy",
            TriplicityTable::Lilly => "lilly",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            TriplicityTable::Dorotheus => {
                "Dorotheus of Sidon, Carmen I.1 (from memory); Vettius Valens, Anthology II.1"
            }
            TriplicityTable::Ptolemy => "Ptolemy, Tetrabiblos I.18",
            TriplicityTable::Lilly => {
                "Lilly, Christian Astrology (1647; ed. 1852, p. 72); Middleton, Practical Astrology (1679), p. 60"
            }
        }
    }

    /// The rulers of a sign's triplicity.
    #[must_use]
    pub fn of(self, sign: Sign) -> Triplicity {
        use Planet::{Jupiter, Mars, Mercury, Moon, Saturn, Sun, Venus};
        let (day, night, third) = match sign as usize % 4 {
            0 => (Sun, Jupiter, Saturn),
            1 => (Venus, Moon, Mars),
            2 => (Saturn, Mercury, Jupiter),
            _ => (Venus, Mars, Moon),
        };
        let watery = sign as usize % 4 == 3;
        let (day, night, always) = match self {
            TriplicityTable::Dorotheus => (day, night, Some(third)),
            TriplicityTable::Ptolemy if watery => (Venus, Moon, Some(Mars)),
            TriplicityTable::Lilly if watery => (Mars, Mars, None),
            TriplicityTable::Ptolemy | TriplicityTable::Lilly => (day, night, None),
        };
        Triplicity { day, night, always }
    }
}

/// The rulers of a triplicity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Triplicity {
    /// By day.
    pub day: Planet,
    /// By night.
    pub night: Planet,
    /// By day and by night, with the other.
    pub always: Option<Planet>,
}

impl Triplicity {
    /// Whether a planet rules it now.
    #[must_use]
    pub fn rules(&self, planet: Planet, sect: Sect) -> bool {
        let now = match sect {
            Sect::Day => self.day,
            Sect::Night => self.night,
        };
        now == planet || self.always == Some(planet)
    }
}
