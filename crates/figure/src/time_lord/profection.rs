use sky::{Angle, Sign};

use crate::sign_and_degree;

/// How long a place stays in a sign by profection.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Profection {
    /// A year in each.
    Year,
    /// Twenty-eight days in each, from the year's.
    Month,
    /// Two days and a third in each, from the month's.
    Day,
}

impl Profection {
    /// Where it is in print.
    pub const SOURCE: &'static str = "Ptolemy, Tetrabiblos IV.10 (tr. Ashmand 1822, pp. 140–141): a year to a sign, 28 days, 2⅓ days; Vettius Valens, Anthology IV.11";

    /// How many days it is in a sign; a year's depend on the Sun.
    #[must_use]
    pub const fn days(self) -> f64 {
        match self {
            Profection::Year => super::YEAR_DAYS,
            Profection::Month => 28.0,
            Profection::Day => 7.0 / 3.0,
        }
    }
}

/// Where a place has come after whole years and the days of the year that is running: by
/// year, by month and by day, keeping its degree.
#[must_use]
pub fn profected(place: Angle, years: u32, days: f64) -> [Angle; 3] {
    let signs = |count: f64| Angle::from_deg(30.0 * count.rem_euclid(12.0));
    let year = place + signs(f64::from(years));
    let months = (days / Profection::Month.days()).floor();
    let month = year + signs(months);
    let left = days - months * Profection::Month.days();
    let day = month + signs((left / Profection::Day.days()).floor());
    [year, month, day].map(Angle::in_turn)
}

/// Who hands the year over to whom, by the signs that they are in: the year of life is
/// counted from each, itself the first, and who stands in the sign that it comes to takes
/// over. Vettius Valens, Anthology IV.11.
#[must_use]
pub fn handed_over<T: Copy>(places: &[(T, Angle)], year_of_life: u32) -> Vec<(T, T)> {
    let on = year_of_life.saturating_sub(1) % 12;
    let sign = |place: Angle| sign_and_degree(place).0;
    let mut found = Vec::new();
    for (from, at) in places {
        let reached = Sign::ALL[(sign(*at) as usize + on as usize) % 12];
        let takers = places.iter().filter(|(_, there)| sign(*there) == reached);
        found.extend(takers.map(|(to, _)| (*from, *to)));
    }
    found
}
