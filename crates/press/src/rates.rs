use crate::order_error::{OrderError, in_range, shortened};

/// Of what, how many, and what it costs by one's own rates: none is assumed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rates {
    /// Of what the sheets are.
    pub of: Stuff,
    /// How many instruments are made at once.
    pub batch: u16,
    /// What a kilogram of it costs, in one's own coin.
    pub kilogram: Option<f64>,
    /// What an hour of the machine costs.
    pub hour: Option<f64>,
    /// How many millimetres are cut in a minute.
    pub cut_mm_per_min: Option<f64>,
    /// How many millimetres are engraved in a minute.
    pub engrave_mm_per_min: Option<f64>,
}

/// What sheets are made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stuff {
    /// CuZn37.
    Brass,
    /// Cu-ETP.
    Copper,
    /// CuNi12Zn24.
    NickelSilver,
    /// AlMg3.
    Aluminium,
    /// Plain steel.
    Steel,
    /// 1.4301.
    StainlessSteel,
    /// PMMA.
    Acrylic,
    /// Of birch.
    Plywood,
}

impl Stuff {
    /// All of them.
    pub const ALL: [Stuff; 8] = [
        Stuff::Brass,
        Stuff::Copper,
        Stuff::NickelSilver,
        Stuff::Aluminium,
        Stuff::Steel,
        Stuff::StainlessSteel,
        Stuff::Acrylic,
        Stuff::Plywood,
    ];

    /// Its name, the kind that is meant, and its density in grams to the cubic centimetre,
    /// as producers' data sheets have it (from memory).
    #[must_use]
    pub const fn told(self) -> (&'static str, &'static str, f64) {
        match self {
            Stuff::Brass => ("brass", "CuZn37, EN CW508L", 8.44),
            Stuff::Copper => ("copper", "Cu-ETP, EN CW004A", 8.93),
            Stuff::NickelSilver => ("nickel-silver", "CuNi12Zn24, EN CW403J", 8.67),
            Stuff::Aluminium => ("aluminium", "AlMg3, EN AW-5754", 2.67),
            Stuff::Steel => ("steel", "plain", 7.85),
            Stuff::StainlessSteel => ("stainless-steel", "EN 1.4301", 7.9),
            Stuff::Acrylic => ("acrylic", "PMMA", 1.19),
            Stuff::Plywood => ("plywood", "of birch, about", 0.68),
        }
    }

    /// That of a name.
    ///
    /// # Errors
    /// When there is none.
    pub fn named(name: &str) -> Result<Stuff, OrderError> {
        let wanted = name.trim().to_lowercase();
        let found = Stuff::ALL.into_iter().find(|one| one.told().0 == wanted);
        found.ok_or_else(|| OrderError::Stuff(shortened(name)))
    }
}

impl Default for Rates {
    fn default() -> Rates {
        Rates {
            of: Stuff::Brass,
            batch: 1,
            kilogram: None,
            hour: None,
            cut_mm_per_min: None,
            engrave_mm_per_min: None,
        }
    }
}

impl Rates {
    /// Whether every number is one that can be reckoned with.
    ///
    /// # Errors
    /// The first that is not, with what would do.
    pub fn checked(self) -> Result<Rates, OrderError> {
        in_range([
            ("batch", Some(f64::from(self.batch)), 1.0, 1000.0),
            ("price-kg", self.kilogram, 0.0, 1e6),
            ("price-hour", self.hour, 0.0, 1e6),
            ("cut-speed", self.cut_mm_per_min, 0.1, 1e5),
            ("engrave-speed", self.engrave_mm_per_min, 0.1, 1e6),
        ])?;
        Ok(self)
    }
}
