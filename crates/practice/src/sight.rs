use crate::measure::Measure;

/// What is seen in the sky or on the ground, through the sights or on the board:
/// it comes from outside, with the error of the hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sight {
    /// The altitude of the Sun or of the star asked about.
    Altitude,
    /// A second altitude, taken later.
    OtherAltitude,
    /// The Sun's altitude at noon, or a star's on the meridian.
    NoonAltitude,
    /// A circumpolar star's altitude at its upper passage.
    UpperAltitude,
    /// The same star's at its lower passage.
    LowerAltitude,
    /// The altitude of the Moon or of a planet.
    WandererAltitude,
    /// The direction of a morning shadow on a board, in degrees from any line on it.
    MorningShadow,
    /// The direction of the equally long evening shadow.
    EveningShadow,
    /// Points cut by the alidade on the shadow square.
    Shadow,
    /// Points cut from the second station.
    OtherShadow,
}

impl Sight {
    /// All of them.
    pub const ALL: [Sight; 10] = [
        Sight::Altitude,
        Sight::OtherAltitude,
        Sight::NoonAltitude,
        Sight::UpperAltitude,
        Sight::LowerAltitude,
        Sight::WandererAltitude,
        Sight::MorningShadow,
        Sight::EveningShadow,
        Sight::Shadow,
        Sight::OtherShadow,
    ];

    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Sight::Altitude => "altitude",
            Sight::OtherAltitude => "other-altitude",
            Sight::NoonAltitude => "noon-altitude",
            Sight::UpperAltitude => "upper-altitude",
            Sight::LowerAltitude => "lower-altitude",
            Sight::WandererAltitude => "wanderer-altitude",
            Sight::MorningShadow => "morning-shadow",
            Sight::EveningShadow => "evening-shadow",
            Sight::Shadow => "shadow",
            Sight::OtherShadow => "other-shadow",
        }
    }

    /// The same in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Sight::Altitude => "altitude",
            Sight::OtherAltitude => "other altitude",
            Sight::NoonAltitude => "noon altitude",
            Sight::UpperAltitude => "upper altitude",
            Sight::LowerAltitude => "lower altitude",
            Sight::WandererAltitude => "altitude of the Moon or planet",
            Sight::MorningShadow => "morning shadow",
            Sight::EveningShadow => "evening shadow",
            Sight::Shadow => "shadow",
            Sight::OtherShadow => "other shadow",
        }
    }

    /// What kind of number it is.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Sight::MorningShadow | Sight::EveningShadow => Measure::Azimuth,
            Sight::Shadow | Sight::OtherShadow => Measure::Points,
            Sight::Altitude
            | Sight::OtherAltitude
            | Sight::NoonAltitude
            | Sight::UpperAltitude
            | Sight::LowerAltitude
            | Sight::WandererAltitude => Measure::Height,
        }
    }
}

/// What is told with the question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Told {
    /// A degree of the zodiac.
    Degree,
    /// A second one.
    OtherDegree,
    /// An ecliptic latitude.
    Latitude,
    /// A number of unequal hours.
    UnequalHours,
    /// A distance on the ground: to the foot of a tower, or between two stations.
    Distance,
    /// The height of the eye.
    EyeHeight,
}

impl Told {
    /// All of them.
    pub const ALL: [Told; 6] = [
        Told::Degree,
        Told::OtherDegree,
        Told::Latitude,
        Told::UnequalHours,
        Told::Distance,
        Told::EyeHeight,
    ];

    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Told::Degree => "degree",
            Told::OtherDegree => "other-degree",
            Told::Latitude => "latitude",
            Told::UnequalHours => "unequal-hours",
            Told::Distance => "distance",
            Told::EyeHeight => "eye-height",
        }
    }

    /// What kind of number it is.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Told::Degree | Told::OtherDegree => Measure::Degree,
            Told::Latitude => Measure::Height,
            Told::UnequalHours => Measure::UnequalHours,
            Told::Distance | Told::EyeHeight => Measure::Length,
        }
    }
}
