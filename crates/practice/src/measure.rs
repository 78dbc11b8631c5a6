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
    /// How finely an answer is given, at the finest: times to the minute, unequal hours
    /// and plain numbers to a tenth, all else to a minute of arc.
    #[must_use]
    pub fn answered_to(self) -> Angle {
        match self {
            Measure::TimeOfDay => Angle::from_deg(0.25),
            Measure::UnequalHours => Angle::from_hours(0.1),
            Measure::Number => Angle::from_deg(0.1),
            Measure::Degree | Measure::Arc | Measure::Height | Measure::Azimuth => {
                Angle::from_arcmin(1.0)
            }
        }
    }

    /// By how much an instrument may be off in what is asked of a pupil: a degree, which
    /// on the limb is four minutes, or a tenth of an unequal hour.
    #[must_use]
    pub fn most_off(self) -> Angle {
        match self {
            Measure::UnequalHours => Angle::from_hours(0.1),
            Measure::Degree
            | Measure::TimeOfDay
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth
            | Measure::Number => Angle::from_deg(1.0),
        }
    }

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
        // By what a whole has of the last digit: so 25°20′ is 1520/60, as near as can be.
        let to = |number: f64, of_a_whole: f64| (number * of_a_whole).round() / of_a_whole;
        match self {
            Measure::Degree
            | Measure::TimeOfDay
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth => Angle::from_deg(to(value.deg(), 60.0)),
            Measure::UnequalHours => Angle::from_hours(to(value.hours(), 100.0)),
            Measure::Number => Angle::from_deg(to(value.deg(), 100.0)),
        }
    }
}
