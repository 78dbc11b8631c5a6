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
}

impl Points {
    /// Both.
    pub const ALL: [Points; 2] = [Points::Lilly, Points::Alqabisi];

    /// `lilly` or `alqabisi`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Points::Lilly => "lilly",
            Points::Alqabisi => "alqabisi",
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
        }
    }

    /// The points of a dignity.
    #[must_use]
    pub const fn of(self, dignity: Dignity) -> i32 {
        match (dignity, self) {
            (Dignity::Rulership, _) => 5,
            (Dignity::Exaltation, _) => 4,
            (Dignity::Triplicity, _) => 3,
            (Dignity::Term, _) => 2,
            (Dignity::Face, _) => 1,
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
                Points::Alqabisi,
            ) => 0,
        }
    }
}
