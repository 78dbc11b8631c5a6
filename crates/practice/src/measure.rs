use sky::Angle;

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

    /// The last digit with which a value is put into a sum: a minute of arc, also on the
    /// limb, where arcs are counted in degrees; a hundredth of an hour or of a number.
    #[must_use]
    pub fn written_to(self) -> Angle {
        match self {
            Measure::Degree
            | Measure::TimeOfDay
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth => Angle::from_arcmin(1.0),
            Measure::UnequalHours => Angle::from_hours(0.01),
            Measure::Number => Angle::from_deg(0.01),
        }
    }

    /// A value to its last written digit.
    #[must_use]
    pub fn written(self, value: Angle) -> Angle {
        // How many of the last digit make a whole: so 25°20′ is 1520/60, as near as can be.
        let a_whole = (1.0 / self.written_to().deg()).max(1.0).round();
        match self {
            Measure::UnequalHours => Angle::from_hours((value.hours() * 100.0).round() / 100.0),
            _ => Angle::from_deg((value.deg() * a_whole).round() / a_whole),
        }
    }
}
