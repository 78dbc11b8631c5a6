use std::fmt;

/// A house of the figure, by its number: I begins on the eastern horizon and the
/// numbers run downwards from there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct House(u8);

const NUMERALS: [&str; 12] = [
    "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII",
];

impl House {
    /// All twelve, in order.
    pub const ALL: [House; 12] = [
        House(1),
        House(2),
        House(3),
        House(4),
        House(5),
        House(6),
        House(7),
        House(8),
        House(9),
        House(10),
        House(11),
        House(12),
    ];

    /// The house with this number; `None` unless it is 1 to 12.
    #[must_use]
    pub const fn new(number: u8) -> Option<House> {
        if number >= 1 && number <= 12 {
            Some(House(number))
        } else {
            None
        }
    }

    /// Its number, 1 to 12.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// The house across the figure, whose cusp is the opposite degree.
    #[must_use]
    pub const fn opposite(self) -> House {
        House((self.0 + 5) % 12 + 1)
    }

    /// The house that follows it.
    #[must_use]
    pub const fn next(self) -> House {
        House(self.0 % 12 + 1)
    }

    /// The house that it follows.
    #[must_use]
    pub const fn before(self) -> House {
        House((self.0 + 10) % 12 + 1)
    }

    /// Its numeral, I to XII.
    #[must_use]
    pub fn numeral(self) -> &'static str {
        NUMERALS.get(usize::from(self.0 - 1)).copied().unwrap_or("")
    }
}

impl fmt::Display for House {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.numeral())
    }
}
