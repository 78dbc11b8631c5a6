use crate::measure::Measure;

/// What is seen in the sky or on the ground, through the sights or on the board:
/// it comes from outside, with the error of the hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sighting {
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

impl Sighting {
    /// All of them.
    pub const ALL: [Sighting; 10] = [
        Sighting::Altitude,
        Sighting::OtherAltitude,
        Sighting::NoonAltitude,
        Sighting::UpperAltitude,
        Sighting::LowerAltitude,
        Sighting::WandererAltitude,
        Sighting::MorningShadow,
        Sighting::EveningShadow,
        Sighting::Shadow,
        Sighting::OtherShadow,
    ];

    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Sighting::Altitude => "altitude",
            Sighting::OtherAltitude => "other-altitude",
            Sighting::NoonAltitude => "noon-altitude",
            Sighting::UpperAltitude => "upper-altitude",
            Sighting::LowerAltitude => "lower-altitude",
            Sighting::WandererAltitude => "wanderer-altitude",
            Sighting::MorningShadow => "morning-shadow",
            Sighting::EveningShadow => "evening-shadow",
            Sighting::Shadow => "shadow",
            Sighting::OtherShadow => "other-shadow",
        }
    }

    /// The same in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Sighting::Altitude => "altitude",
            Sighting::OtherAltitude => "other altitude",
            Sighting::NoonAltitude => "noon altitude",
            Sighting::UpperAltitude => "upper altitude",
            Sighting::LowerAltitude => "lower altitude",
            Sighting::WandererAltitude => "altitude of the Moon or planet",
            Sighting::MorningShadow => "morning shadow",
            Sighting::EveningShadow => "evening shadow",
            Sighting::Shadow => "shadow",
            Sighting::OtherShadow => "other shadow",
        }
    }

    /// What kind of number it is.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Sighting::MorningShadow | Sighting::EveningShadow => Measure::Azimuth,
            Sighting::Shadow | Sighting::OtherShadow => Measure::Points,
            Sighting::Altitude
            | Sighting::OtherAltitude
            | Sighting::NoonAltitude
            | Sighting::UpperAltitude
            | Sighting::LowerAltitude
            | Sighting::WandererAltitude => Measure::Height,
        }
    }
}

/// What is told with the question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stated {
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

impl Stated {
    /// All of them.
    pub const ALL: [Stated; 6] = [
        Stated::Degree,
        Stated::OtherDegree,
        Stated::Latitude,
        Stated::UnequalHours,
        Stated::Distance,
        Stated::EyeHeight,
    ];

    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Stated::Degree => "degree",
            Stated::OtherDegree => "other-degree",
            Stated::Latitude => "latitude",
            Stated::UnequalHours => "unequal-hours",
            Stated::Distance => "distance",
            Stated::EyeHeight => "eye-height",
        }
    }

    /// What kind of number it is.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Stated::Degree | Stated::OtherDegree => Measure::Degree,
            Stated::Latitude => Measure::Height,
            Stated::UnequalHours => Measure::UnequalHours,
            Stated::Distance | Stated::EyeHeight => Measure::Length,
        }
    }
}
