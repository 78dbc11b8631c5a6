use std::fmt;

/// One of the twelve houses, by its number: I begins at the ascendant, and the numbers run
/// in the order of the signs. How they are divided is for others; the word is here, for
/// figures and instruments both have it.
///
/// Printed in Roman numerals, as on a figure.
///
/// ```
/// use sky::House;
/// assert_eq!(House::II.opposite(), House::VIII);
/// assert_eq!(House::from_number(10), Some(House::X));
/// assert_eq!(House::X.to_string(), "X");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the names are numbers")]
pub enum House {
    I = 1,
    II,
    III,
    IV,
    V,
    VI,
    VII,
    VIII,
    IX,
    X,
    XI,
    XII,
}

impl House {
    /// All twelve, I to XII.
    pub const ALL: [House; 12] = [
        House::I,
        House::II,
        House::III,
        House::IV,
        House::V,
        House::VI,
        House::VII,
        House::VIII,
        House::IX,
        House::X,
        House::XI,
        House::XII,
    ];

    /// The house with a number from 1 to 12.
    #[must_use]
    pub fn from_number(number: u8) -> Option<House> {
        House::ALL
            .into_iter()
            .find(|house| house.number() == number)
    }

    /// The house with a Roman numeral, in letters of either size.
    #[must_use]
    pub fn from_roman(numeral: &str) -> Option<House> {
        House::ALL
            .into_iter()
            .find(|house| house.roman().eq_ignore_ascii_case(numeral))
    }

    /// 1 to 12.
    #[must_use]
    pub const fn number(self) -> u8 {
        self as u8
    }

    /// The house across the figure: VII for I.
    #[must_use]
    pub const fn opposite(self) -> House {
        House::ALL[(self.index() + 6) % 12]
    }

    /// The house after it: I for XII.
    #[must_use]
    pub const fn next(self) -> House {
        House::ALL[(self.index() + 1) % 12]
    }

    /// The house before it: XII for I.
    #[must_use]
    pub const fn before(self) -> House {
        House::ALL[(self.index() + 11) % 12]
    }

    /// The number in Roman numerals.
    #[must_use]
    pub const fn roman(self) -> &'static str {
        match self {
            House::I => "I",
            House::II => "II",
            House::III => "III",
            House::IV => "IV",
            House::V => "V",
            House::VI => "VI",
            House::VII => "VII",
            House::VIII => "VIII",
            House::IX => "IX",
            House::X => "X",
            House::XI => "XI",
            House::XII => "XII",
        }
    }

    /// 0 to 11, for arrays in the order of the houses.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize - 1
    }
}

impl fmt::Display for House {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.roman())
    }
}
