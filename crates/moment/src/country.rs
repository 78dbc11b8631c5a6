use std::fmt;

const TABLE: &str = include_str!("../../../data/places/countries.tsv");

/// A country of today, by its ISO 3166 code.
#[derive(Clone, Copy, Eq, Hash, PartialEq)]
pub struct Country {
    code: &'static str,
    name: &'static str,
}

impl Country {
    /// From a code of two capital letters, such as `ES`; None for one that does not exist.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Country> {
        Country::all().find(|country| country.code == code)
    }

    /// Every country.
    pub fn all() -> impl Iterator<Item = Country> {
        TABLE
            .lines()
            .skip(1)
            .filter_map(|line| line.split_once('\t'))
            .map(|(code, name)| Country { code, name })
    }

    /// The code, such as `ES`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// The name in English, such as `Spain`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.name
    }
}

/// The name.
impl fmt::Display for Country {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name)
    }
}

/// The code.
impl fmt::Debug for Country {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Country({})", self.code)
    }
}
