use crate::Dignity;

/// How many points a dignity counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Points {
    /// 5, 4, 3, 2, 1 for the dignities, and 5, 4, 5 off for detriment, fall and a
    /// peregrine planet: W. Lilly, Christian Astrology (1647), p. 115 (from
    /// memory), and J. Middleton, Practical Astrology (1679), I.7, p. 63; for mutual
    /// reception by house 5, by exaltation 4.
    #[default]
    Lilly,
    /// 5, 4, 3, 2, 1 for the dignities and nothing off: al-Qabīṣī, Introduction,
    /// I.22 (10th century; from memory).
    Alqabisi,
    /// One for each of sign, exaltation, triplicity and term, and nothing off: Ptolemy
    /// counts in how many ways a planet has to do with a place, Tetrabiblos III.2 (tr.
    /// Robbins 1940). His fifth way, the aspect, is no dignity of the planet's own.
    Ptolemy,
}

impl Points {
    /// All of them.
    pub const ALL: [Points; 3] = [Points::Lilly, Points::Alqabisi, Points::Ptolemy];

    /// `lilly`, `alqabisi` or `ptolemy`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Points::Lilly => "lilly",
            Points::Alqabisi => "alqabisi",
            Points::Ptolemy => "ptolemy",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Points::Lilly => {
                "Lilly, Christian Astrology (1647), p. 115 (from memory); Middleton, Practical Astrology (1679), p. 63"
            }
            Points::Alqabisi => "al-Qabīṣī, Introduction I.22 (from memory)",
            Points::Ptolemy => "Ptolemy, Tetrabiblos III.2: each way counts one",
        }
    }

    /// The points of a dignity.
    #[must_use]
    pub const fn of(self, dignity: Dignity) -> i32 {
        match (dignity, self) {
            (
                Dignity::Rulership | Dignity::Exaltation | Dignity::Triplicity | Dignity::Term,
                Points::Ptolemy,
            ) => 1,
            (Dignity::Face, Points::Ptolemy) => 0,
            (Dignity::Rulership, Points::Lilly | Points::Alqabisi) => 5,
            (Dignity::Exaltation, Points::Lilly | Points::Alqabisi) => 4,
            (Dignity::Triplicity, Points::Lilly | Points::Alqabisi) => 3,
            (Dignity::Term, Points::Lilly | Points::Alqabisi) => 2,
            (Dignity::Face, Points::Lilly | Points::Alqabisi) => 1,
            (Dignity::Detriment | Dignity::Peregrine, Points::Lilly) => -5,
            (Dignity::Fall, Points::Lilly) => -4,
            (Dignity::RulershipExchanged, Points::Lilly) => 5,
            (Dignity::ExaltationExchanged, Points::Lilly) => 4,
            (
                Dignity::Detriment
                | Dignity::Fall
                | Dignity::Peregrine
                | Dignity::RulershipExchanged
                | Dignity::ExaltationExchanged,
                Points::Alqabisi | Points::Ptolemy,
            ) => 0,
        }
    }
}
