use sky::Sign;

use crate::Planet;
use crate::Planet::{Jupiter, Mars, Mercury, Saturn, Venus};

/// Whose table of terms.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum TermTable {
    /// The Egyptians', as Ptolemy hands them down: Tetrabiblos I.20 (tr. Ashmand
    /// 1822, p. 33).
    Egyptian,
    /// Those Ptolemy found in an old book: Tetrabiblos I.21. The manuscripts differ
    /// (tr. Ashmand 1822, p. 36, prints two readings of many); these add up to the
    /// degrees that he himself counts for each planet.
    Ptolemy,
    /// Ptolemy's as printed by W. Lilly, Christian Astrology (1647; ed. 1852, p. 72),
    /// and J. Middleton, Practical Astrology (1679), I.7, p. 60.
    #[default]
    Lilly,
}

/// One of the five parts of a sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Term {
    /// The planet that rules it.
    pub ruler: Planet,
    /// The degree of the sign at which it ends.
    pub end_deg: u8,
}

type Row = [(Planet, u8); 5];

/// Each with the degree at which it ends, from Aries to Pisces.
const EGYPTIAN: [Row; 12] = [
    [
        (Jupiter, 6),
        (Venus, 12),
        (Mercury, 20),
        (Mars, 25),
        (Saturn, 30),
    ],
    [
        (Venus, 8),
        (Mercury, 14),
        (Jupiter, 22),
        (Saturn, 27),
        (Mars, 30),
    ],
    [
        (Mercury, 6),
        (Jupiter, 12),
        (Venus, 17),
        (Mars, 24),
        (Saturn, 30),
    ],
    [
        (Mars, 7),
        (Venus, 13),
        (Mercury, 19),
        (Jupiter, 26),
        (Saturn, 30),
    ],
    [
        (Jupiter, 6),
        (Venus, 11),
        (Saturn, 18),
        (Mercury, 24),
        (Mars, 30),
    ],
    [
        (Mercury, 7),
        (Venus, 17),
        (Jupiter, 21),
        (Mars, 28),
        (Saturn, 30),
    ],
    [
        (Saturn, 6),
        (Mercury, 14),
        (Jupiter, 21),
        (Venus, 28),
        (Mars, 30),
    ],
    [
        (Mars, 7),
        (Venus, 11),
        (Mercury, 19),
        (Jupiter, 24),
        (Saturn, 30),
    ],
    [
        (Jupiter, 12),
        (Venus, 17),
        (Mercury, 21),
        (Saturn, 26),
        (Mars, 30),
    ],
    [
        (Mercury, 7),
        (Jupiter, 14),
        (Venus, 22),
        (Saturn, 26),
        (Mars, 30),
    ],
    [
        (Mercury, 7),
        (Venus, 13),
        (Jupiter, 20),
        (Mars, 25),
        (Saturn, 30),
    ],
    [
        (Venus, 12),
        (Jupiter, 16),
        (Mercury, 19),
        (Mars, 28),
        (Saturn, 30),
    ],
];

const PTOLEMY: [Row; 12] = [
    [
        (Jupiter, 6),
        (Venus, 14),
        (Mercury, 21),
        (Mars, 26),
        (Saturn, 30),
    ],
    [
        (Venus, 8),
        (Mercury, 15),
        (Jupiter, 22),
        (Saturn, 24),
        (Mars, 30),
    ],
    [
        (Mercury, 7),
        (Jupiter, 13),
        (Venus, 20),
        (Mars, 26),
        (Saturn, 30),
    ],
    [
        (Mars, 6),
        (Jupiter, 13),
        (Mercury, 20),
        (Venus, 27),
        (Saturn, 30),
    ],
    [
        (Jupiter, 6),
        (Mercury, 13),
        (Saturn, 19),
        (Venus, 25),
        (Mars, 30),
    ],
    [
        (Mercury, 7),
        (Venus, 13),
        (Jupiter, 18),
        (Saturn, 24),
        (Mars, 30),
    ],
    [
        (Saturn, 6),
        (Venus, 11),
        (Mercury, 16),
        (Jupiter, 24),
        (Mars, 30),
    ],
    [
        (Mars, 6),
        (Venus, 13),
        (Jupiter, 21),
        (Mercury, 27),
        (Saturn, 30),
    ],
    [
        (Jupiter, 8),
        (Venus, 14),
        (Mercury, 19),
        (Saturn, 25),
        (Mars, 30),
    ],
    [
        (Venus, 6),
        (Mercury, 12),
        (Jupiter, 19),
        (Saturn, 25),
        (Mars, 30),
    ],
    [
        (Saturn, 6),
        (Mercury, 12),
        (Venus, 20),
        (Jupiter, 25),
        (Mars, 30),
    ],
    [
        (Venus, 8),
        (Jupiter, 14),
        (Mercury, 20),
        (Mars, 25),
        (Saturn, 30),
    ],
];

const LILLY: [Row; 12] = [
    [
        (Jupiter, 6),
        (Venus, 14),
        (Mercury, 21),
        (Mars, 26),
        (Saturn, 30),
    ],
    [
        (Venus, 8),
        (Mercury, 15),
        (Jupiter, 22),
        (Saturn, 26),
        (Mars, 30),
    ],
    [
        (Mercury, 7),
        (Jupiter, 14),
        (Venus, 21),
        (Saturn, 25),
        (Mars, 30),
    ],
    [
        (Mars, 6),
        (Jupiter, 13),
        (Mercury, 20),
        (Venus, 27),
        (Saturn, 30),
    ],
    [
        (Saturn, 6),
        (Mercury, 13),
        (Venus, 19),
        (Jupiter, 25),
        (Mars, 30),
    ],
    [
        (Mercury, 7),
        (Venus, 13),
        (Jupiter, 18),
        (Saturn, 24),
        (Mars, 30),
    ],
    [
        (Saturn, 6),
        (Venus, 11),
        (Jupiter, 19),
        (Mercury, 24),
        (Mars, 30),
    ],
    [
        (Mars, 6),
        (Jupiter, 14),
        (Venus, 21),
        (Mercury, 27),
        (Saturn, 30),
    ],
    [
        (Jupiter, 8),
        (Venus, 14),
        (Mercury, 19),
        (Saturn, 25),
        (Mars, 30),
    ],
    [
        (Venus, 6),
        (Mercury, 12),
        (Jupiter, 19),
        (Mars, 25),
        (Saturn, 30),
    ],
    [
        (Saturn, 6),
        (Mercury, 12),
        (Venus, 20),
        (Jupiter, 25),
        (Mars, 30),
    ],
    [
        (Venus, 8),
        (Jupiter, 14),
        (Mercury, 20),
        (Mars, 26),
        (Saturn, 30),
    ],
];

impl TermTable {
    /// All of them.
    pub const ALL: [TermTable; 3] = [TermTable::Egyptian, TermTable::Ptolemy, TermTable::Lilly];

    /// `egyptian`, `ptolemy` or `lilly`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            TermTable::Egyptian => "egyptian",
            TermTable::Ptolemy => "ptolemy",
            TermTable::Lilly => "lilly",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            TermTable::Egyptian => "Ptolemy, Tetrabiblos I.20",
            TermTable::Ptolemy => {
                "Ptolemy, Tetrabiblos I.21, in the readings that give his own sums"
            }
            TermTable::Lilly => {
                "Lilly, Christian Astrology (1647; ed. 1852, p. 72); Middleton, Practical Astrology (1679), p. 60"
            }
        }
    }

    /// The five terms of a sign, in order.
    #[must_use]
    pub fn of(self, sign: Sign) -> [Term; 5] {
        let table = match self {
            TermTable::Egyptian => &EGYPTIAN,
            TermTable::Ptolemy => &PTOLEMY,
            TermTable::Lilly => &LILLY,
        };
        table[sign as usize].map(|(ruler, end_deg)| Term { ruler, end_deg })
    }

    /// The term that holds a degree of a sign; where one ends the next begins.
    #[must_use]
    pub fn at(self, sign: Sign, within_deg: f64) -> Term {
        let terms = self.of(sign);
        let found = terms
            .into_iter()
            .find(|term| within_deg < f64::from(term.end_deg));
        found.unwrap_or(terms[4])
    }
}
