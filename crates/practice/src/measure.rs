use sky::Angle;

use crate::amount::Amount;

/// What kind of number a quantity is: which case of [`Value`](crate::Value) it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A degree of the zodiac.
    Degree,
    /// An hour angle on the limb, said as a time of day.
    TimeOfDay,
    /// An arc of the limb or a span of time, 15° an equal hour.
    Arc,
    /// An altitude, a latitude, a declination: signed degrees.
    Height,
    /// A direction along the horizon, from north by east.
    Azimuth,
    /// Unequal hours: 0 to 12 by day, 12 to 24 by night.
    UnequalHours,
    /// Points of the shadow square, sixtieths of the whole sine, digits or feet of a shadow.
    Points,
    /// A length, in the unit in which the distance was told.
    Length,
}

impl Measure {
    /// So much of it, in its own unit.
    #[must_use]
    pub const fn amount(self, number: f64) -> Amount {
        match self {
            Measure::Degree | Measure::Height | Measure::Azimuth => {
                Amount::Angle(Angle::from_deg(number))
            }
            Measure::TimeOfDay | Measure::Arc => Amount::Time(Angle::from_deg(number)),
            Measure::UnequalHours => Amount::UnequalHours(number),
            Measure::Points => Amount::Points(number),
            Measure::Length => Amount::Length(number),
        }
    }

    /// How finely an answer is given, at the finest: times to the minute, unequal hours,
    /// points and lengths to a tenth, all else to a minute of arc.
    #[must_use]
    pub const fn answered_to(self) -> Amount {
        self.amount(match self {
            Measure::TimeOfDay => 0.25,
            Measure::UnequalHours | Measure::Points | Measure::Length => 0.1,
            Measure::Degree | Measure::Arc | Measure::Height | Measure::Azimuth => 1.0 / 60.0,
        })
    }

    /// By how much an instrument may be off in what is asked of a pupil: a degree, which
    /// on the limb is four minutes, a tenth of an unequal hour, a point, a length's unit.
    #[must_use]
    pub const fn most_off(self) -> Amount {
        self.amount(match self {
            Measure::UnequalHours => 0.1,
            Measure::Degree
            | Measure::TimeOfDay
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth
            | Measure::Points
            | Measure::Length => 1.0,
        })
    }

    /// Its name in answers.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Measure::Degree => "degree",
            Measure::TimeOfDay => "time-of-day",
            Measure::Arc => "arc",
            Measure::Height => "height",
            Measure::Azimuth => "azimuth",
            Measure::UnequalHours => "unequal-hours",
            Measure::Points | Measure::Length => "number",
        }
    }

    /// The last digit with which a value is put into a sum ([`Value::written`](crate::Value::written)).
    #[must_use]
    pub const fn written_to(self) -> Amount {
        self.amount(match self {
            Measure::Degree
            | Measure::TimeOfDay
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth => 1.0 / 60.0,
            Measure::UnequalHours | Measure::Points | Measure::Length => 0.01,
        })
    }
}
