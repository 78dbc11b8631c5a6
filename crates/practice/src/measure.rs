/// What kind of number a quantity is. All are kept as angles; how one is said
/// depends on this.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A degree of the zodiac.
    Degree,
    /// An hour angle on the limb, said as a time of day.
    TimeOfDay,
    /// An arc of the limb, 15° an equal hour.
    Arc,
    /// An altitude, a latitude, a declination: signed degrees.
    Height,
    /// A direction along the horizon, from north by east.
    Azimuth,
    /// Unequal hours, 15° each whatever their length: 0 to 12 by day, 12 to 24 by
    /// night.
    UnequalHours,
    /// A plain number in the place of degrees: points of the shadow square, feet.
    Number,
}

impl Measure {
    /// Its name in answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Measure::Degree => "degree",
            Measure::TimeOfDay => "time-of-day",
            Measure::Arc => "arc",
            Measure::Height => "height",
            Measure::Azimuth => "azimuth",
            Measure::UnequalHours => "unequal-hours",
            Measure::Number => "number",
        }
    }
}
