use crate::Planet;

/// The years of a planet: the greater, the least, and the mean, which is half their sum, are in
/// W. Lilly, An Introduction to Astrology (1647; ed. 1852, pp. 37–52). The greater of the five are
/// the degrees of their terms: Ptolemy, Tetrabiblos I.21 (ed. Boll and Boer 1940). The least make
/// the months of Vettius Valens, Anthology VI.5.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanetYears {
    /// The greater.
    pub greater: f64,
    /// The least.
    pub least: f64,
}

impl PlanetYears {
    /// Where they are in print.
    pub const SOURCE: &'static str = "years: Lilly, Christian Astrology (1647; ed. 1852, pp. 37–52); the greater of five planets: Ptolemy, Tetrabiblos I.21; the least: Vettius Valens, Anthology VI.5";

    /// Of a planet.
    #[must_use]
    pub const fn of(planet: Planet) -> PlanetYears {
        let (greater, least) = match planet {
            Planet::Saturn => (57.0, 30.0),
            Planet::Jupiter => (79.0, 12.0),
            Planet::Mars => (66.0, 15.0),
            Planet::Sun => (120.0, 19.0),
            Planet::Venus => (82.0, 8.0),
            Planet::Mercury => (76.0, 20.0),
            Planet::Moon => (108.0, 25.0),
        };
        PlanetYears { greater, least }
    }

    /// The mean.
    #[must_use]
    pub const fn mean(&self) -> f64 {
        (self.greater + self.least) / 2.0
    }

    /// A quarter of the least, the period of Valens IV.1.
    #[must_use]
    pub const fn quarter(&self) -> f64 {
        self.least / 4.0
    }

    /// The days of it that a year has when the seven share the year in proportion to their
    /// quarters: Valens IV.1, 2 5/6 days for each of the least years.
    #[must_use]
    pub const fn days_of_a_year(&self) -> f64 {
        self.least * (2.0 + 5.0 / 6.0)
    }
}
