use std::fmt;

use crate::measure::Measure;

/// What an operation of the treatise finds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Finding {
    /// The Sun's hour angle: local apparent time from noon.
    Hour,
    /// When the Sun stands 18° below the eastern horizon.
    Dawn,
    /// When it stands 18° below the western.
    Nightfall,
    /// When the Sun's centre is on the geometric horizon in the east.
    Sunrise,
    /// The same in the west.
    Sunset,
    /// When a star or a degree rises, by the Sun.
    Rising,
    /// When it sets, by the Sun.
    Setting,
    /// When it is on the meridian, by the Sun.
    Culmination,
    /// From sunrise to sunset.
    DayArc,
    /// From sunset to sunrise.
    NightArc,
    /// From dawn to nightfall.
    DayWithTwilights,
    /// From dawn to sunrise.
    Twilight,
    /// From a star's rising to its setting.
    ArcAbove,
    /// A twelfth of the day.
    UnequalHourOfDay,
    /// A twelfth of the night: 30° less the day's.
    UnequalHourOfNight,
    /// A number of unequal hours turned into equal ones.
    EqualHours,
    /// Equal hours gone since sunrise.
    SinceSunrise,
    /// Equal hours gone since sunset.
    SinceSunset,
    /// The unequal hour: 0 to 12 by day, 12 to 24 by night.
    UnequalHour,
    /// When an unequal hour begins.
    HourBegins,
    /// When it ends.
    HourEnds,
    /// Of the Sun, a star or a degree, counted from the horizon on the noon side:
    /// more than 90° beyond the zenith.
    MeridianAltitude,
    /// The right angle less the latitude, as the plate has it.
    EquatorAltitude,
    /// The same as the place has it, by what is seen there.
    EquatorHere,
    /// What was seen beyond the zenith, counted on through it: more than 90°.
    ThroughZenith,
    /// The latitude, north or south.
    PoleAltitude,
    /// Distance from the equator; north is positive, on southern instruments too.
    Declination,
    /// Of the Sun, a star or a degree at an hour.
    Altitude,
    /// Direction along the horizon.
    Azimuth,
    /// Where it sets.
    SettingAzimuth,
    /// From south by west; the east is negative.
    FromSouth,
    /// Midway between two equal shadows.
    MeridianDirection,
    /// The Sun's degree found from its altitude at noon.
    SunDegree,
    /// The other degree of the same declination.
    OtherDegree,
    /// The ascendant when a star or planet rises.
    RisingDegree,
    /// The descendant when it sets.
    SettingDegree,
    /// The midheaven when it is on the meridian.
    CulminatingDegree,
    /// The midheaven under the mean of two ascendants, as the treatise has it.
    OldCulminatingDegree,
    /// The planet's latitude laid off along the rule instead of the circle of latitude.
    OldRisingDegree,
    /// The ecliptic's degree at the altitude of the Moon or of a planet.
    MoonDegree,
    /// The arc of the equator that crosses the meridian with an arc of the zodiac.
    RightAscension,
    /// The arc of the equator that rises with an arc of the zodiac.
    ObliqueAscension,
    /// Its altitude on the meridian less that of its degree: along the hour circle.
    PlanetLatitude,
    /// How far the sky turns until something comes to an angle.
    DirectionArc,
    /// The second altitude less the first.
    AltitudeChange,
    /// The height of a tower.
    TowerHeight,
    /// Points of umbra recta turned into points of umbra versa.
    Versa,
    /// The Sun's at noon, as it is seen: never more than 90°.
    NoonAltitude,
    /// The Sun's when it stands in the direction of Mecca: the lower where it does so twice.
    TowardsMecca,
    /// The higher where it does so twice.
    HigherTowardsMecca,
    /// How far a degree is from the nearer equinox.
    FromEquinox,
    /// The sine of that, of which the whole is sixty parts.
    SineOfDegree,
    /// The sine of the obliquity.
    SineOfObliquity,
    /// The sine of a declination.
    SineOfDeclination,
    /// A declination without its side.
    DeclinationSize,
    /// The shadow of a gnomon of twelve digits.
    ShadowDigits,
    /// The shadow of a gnomon of seven feet.
    ShadowFeet,
}

impl Finding {
    /// All of them.
    pub const ALL: [Finding; 57] = [
        Finding::Hour,
        Finding::Dawn,
        Finding::Nightfall,
        Finding::Sunrise,
        Finding::Sunset,
        Finding::Rising,
        Finding::Setting,
        Finding::Culmination,
        Finding::DayArc,
        Finding::NightArc,
        Finding::DayWithTwilights,
        Finding::Twilight,
        Finding::ArcAbove,
        Finding::UnequalHourOfDay,
        Finding::UnequalHourOfNight,
        Finding::EqualHours,
        Finding::SinceSunrise,
        Finding::SinceSunset,
        Finding::UnequalHour,
        Finding::HourBegins,
        Finding::HourEnds,
        Finding::MeridianAltitude,
        Finding::EquatorAltitude,
        Finding::EquatorHere,
        Finding::ThroughZenith,
        Finding::PoleAltitude,
        Finding::Declination,
        Finding::Altitude,
        Finding::Azimuth,
        Finding::SettingAzimuth,
        Finding::FromSouth,
        Finding::MeridianDirection,
        Finding::SunDegree,
        Finding::OtherDegree,
        Finding::RisingDegree,
        Finding::SettingDegree,
        Finding::CulminatingDegree,
        Finding::OldCulminatingDegree,
        Finding::OldRisingDegree,
        Finding::MoonDegree,
        Finding::RightAscension,
        Finding::ObliqueAscension,
        Finding::PlanetLatitude,
        Finding::DirectionArc,
        Finding::AltitudeChange,
        Finding::TowerHeight,
        Finding::Versa,
        Finding::NoonAltitude,
        Finding::TowardsMecca,
        Finding::HigherTowardsMecca,
        Finding::FromEquinox,
        Finding::SineOfDegree,
        Finding::SineOfObliquity,
        Finding::SineOfDeclination,
        Finding::DeclinationSize,
        Finding::ShadowDigits,
        Finding::ShadowFeet,
    ];

    /// Its name in answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Finding::Hour => "hour",
            Finding::Dawn => "dawn",
            Finding::Nightfall => "nightfall",
            Finding::Sunrise => "sunrise",
            Finding::Sunset => "sunset",
            Finding::Rising => "rising",
            Finding::Setting => "setting",
            Finding::Culmination => "culmination",
            Finding::DayArc => "day-arc",
            Finding::NightArc => "night-arc",
            Finding::DayWithTwilights => "day-with-twilights",
            Finding::Twilight => "twilight",
            Finding::ArcAbove => "arc-above",
            Finding::UnequalHourOfDay => "unequal-hour-of-day",
            Finding::UnequalHourOfNight => "unequal-hour-of-night",
            Finding::EqualHours => "equal-hours",
            Finding::SinceSunrise => "since-sunrise",
            Finding::SinceSunset => "since-sunset",
            Finding::UnequalHour => "unequal-hour",
            Finding::HourBegins => "hour-begins",
            Finding::HourEnds => "hour-ends",
            Finding::MeridianAltitude => "meridian-altitude",
            Finding::EquatorAltitude => "equator-altitude",
            Finding::EquatorHere => "equator-altitude-here",
            Finding::ThroughZenith => "altitude-through-zenith",
            Finding::PoleAltitude => "pole-altitude",
            Finding::Declination => "declination",
            Finding::Altitude => "altitude",
            Finding::Azimuth => "azimuth",
            Finding::SettingAzimuth => "setting-azimuth",
            Finding::FromSouth => "from-south",
            Finding::MeridianDirection => "meridian-direction",
            Finding::SunDegree => "sun-degree-by-altitude",
            Finding::OtherDegree => "equal-day-degree",
            Finding::RisingDegree => "rising-degree",
            Finding::SettingDegree => "setting-degree",
            Finding::CulminatingDegree => "culminating-degree",
            Finding::OldCulminatingDegree => "old-culminating-degree",
            Finding::OldRisingDegree => "old-rising-degree",
            Finding::MoonDegree => "moon-degree",
            Finding::RightAscension => "right-ascension",
            Finding::ObliqueAscension => "oblique-ascension",
            Finding::PlanetLatitude => "planet-latitude",
            Finding::DirectionArc => "direction-arc",
            Finding::AltitudeChange => "altitude-change",
            Finding::TowerHeight => "height",
            Finding::Versa => "versa",
            Finding::NoonAltitude => "altitude-at-noon",
            Finding::TowardsMecca => "altitude-towards-mecca",
            Finding::HigherTowardsMecca => "higher-altitude-towards-mecca",
            Finding::FromEquinox => "from-equinox",
            Finding::SineOfDegree => "sine-of-degree",
            Finding::SineOfObliquity => "sine-of-obliquity",
            Finding::SineOfDeclination => "sine-of-declination",
            Finding::DeclinationSize => "size-of-declination",
            Finding::ShadowDigits => "shadow-digits",
            Finding::ShadowFeet => "shadow-feet",
        }
    }

    /// What kind of number it is.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Finding::Hour
            | Finding::Dawn
            | Finding::Nightfall
            | Finding::Sunrise
            | Finding::Sunset
            | Finding::Rising
            | Finding::Setting
            | Finding::Culmination
            | Finding::HourBegins
            | Finding::HourEnds => Measure::TimeOfDay,
            Finding::DayArc
            | Finding::NightArc
            | Finding::DayWithTwilights
            | Finding::Twilight
            | Finding::ArcAbove
            | Finding::DirectionArc
            | Finding::UnequalHourOfDay
            | Finding::UnequalHourOfNight
            | Finding::EqualHours
            | Finding::SinceSunrise
            | Finding::SinceSunset
            | Finding::RightAscension
            | Finding::ObliqueAscension => Measure::Arc,
            Finding::UnequalHour => Measure::UnequalHours,
            Finding::MeridianAltitude
            | Finding::EquatorAltitude
            | Finding::EquatorHere
            | Finding::ThroughZenith
            | Finding::PoleAltitude
            | Finding::Declination
            | Finding::Altitude
            | Finding::FromSouth
            | Finding::PlanetLatitude
            | Finding::NoonAltitude
            | Finding::TowardsMecca
            | Finding::HigherTowardsMecca
            | Finding::FromEquinox
            | Finding::DeclinationSize
            | Finding::AltitudeChange => Measure::Height,
            Finding::Azimuth | Finding::SettingAzimuth | Finding::MeridianDirection => {
                Measure::Azimuth
            }
            Finding::SunDegree
            | Finding::OtherDegree
            | Finding::RisingDegree
            | Finding::SettingDegree
            | Finding::CulminatingDegree
            | Finding::OldCulminatingDegree
            | Finding::OldRisingDegree
            | Finding::MoonDegree => Measure::Degree,
            Finding::TowerHeight => Measure::Length,
            Finding::Versa
            | Finding::SineOfDegree
            | Finding::SineOfObliquity
            | Finding::SineOfDeclination
            | Finding::ShadowDigits
            | Finding::ShadowFeet => Measure::Points,
        }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Finding::Hour => "hour",
            Finding::Dawn => "dawn",
            Finding::Nightfall => "nightfall",
            Finding::Sunrise => "sunrise",
            Finding::Sunset => "sunset",
            Finding::Rising => "rising",
            Finding::Setting => "setting",
            Finding::Culmination => "culmination",
            Finding::DayArc => "arc of the day",
            Finding::NightArc => "arc of the night",
            Finding::DayWithTwilights => "day with its twilights",
            Finding::Twilight => "twilight",
            Finding::ArcAbove => "arc above the horizon",
            Finding::UnequalHourOfDay => "unequal hour of the day",
            Finding::UnequalHourOfNight => "unequal hour of the night",
            Finding::EqualHours => "equal hours",
            Finding::SinceSunrise => "equal hours since sunrise",
            Finding::SinceSunset => "equal hours since sunset",
            Finding::UnequalHour => "unequal hour",
            Finding::HourBegins => "beginning of the unequal hour",
            Finding::HourEnds => "end of the unequal hour",
            Finding::MeridianAltitude => "altitude on the meridian",
            Finding::EquatorAltitude => "altitude of the equator on the meridian",
            Finding::EquatorHere => "altitude of the equator at the place",
            Finding::ThroughZenith => "altitude counted through the zenith",
            Finding::PoleAltitude => "altitude of the pole",
            Finding::Declination => "declination",
            Finding::Altitude => "altitude",
            Finding::Azimuth => "azimuth",
            Finding::SettingAzimuth => "azimuth of setting",
            Finding::FromSouth => "azimuth from the south",
            Finding::MeridianDirection => "direction of the meridian on the board",
            Finding::SunDegree => "Sun's degree by its altitude",
            Finding::OtherDegree => "degree of an equally long day",
            Finding::RisingDegree => "degree that rises with it",
            Finding::SettingDegree => "degree that sets with it",
            Finding::CulminatingDegree => "degree that culminates with it",
            Finding::OldCulminatingDegree => "degree by the old rule",
            Finding::OldRisingDegree => "rising degree by the old rule",
            Finding::MoonDegree => "degree at the Moon's altitude",
            Finding::RightAscension => "right ascension of the arc",
            Finding::ObliqueAscension => "oblique ascension of the arc",
            Finding::PlanetLatitude => "planet's latitude, roughly",
            Finding::DirectionArc => "arc of direction",
            Finding::AltitudeChange => "change of the planet's altitude",
            Finding::TowerHeight => "height",
            Finding::Versa => "points of umbra versa",
            Finding::NoonAltitude => "Sun's altitude at noon",
            Finding::TowardsMecca => "Sun's altitude in the direction of Mecca",
            Finding::HigherTowardsMecca => "Sun's higher altitude in the direction of Mecca",
            Finding::FromEquinox => "distance from the equinox",
            Finding::SineOfDegree => "sine of the distance",
            Finding::SineOfObliquity => "sine of the obliquity",
            Finding::SineOfDeclination => "sine of the declination",
            Finding::DeclinationSize => "size of the declination",
            Finding::ShadowDigits => "shadow in digits",
            Finding::ShadowFeet => "shadow in feet",
        })
    }
}
