use std::fmt;
use std::str::FromStr;

use instrument::{Instrument, Pick};
use thiserror::Error;

use crate::operation::{Act, Brought, Operation, Step};
use crate::quantity::Quantity;
use crate::sight::{Sight, Told};

mod angles;
mod ascensions;
mod asked;
mod day;
mod heights;
mod hour;
mod stars;

/// What the classical treatise teaches to be done with the instrument: Chaucer's
/// conclusions (*A Treatise on the Astrolabe*, 1391, ed. Skeat 1894), each under a
/// plain name of ours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Task {
    /// The Sun's degree for a date.
    SunDegree,
    /// The altitude of the Sun, the Moon or a star.
    Altitude,
    /// The hour and the ascendant from the Sun's altitude.
    HourBySun,
    /// The hour and the ascendant from a star's altitude.
    HourByStar,
    /// The hour from an altitude that has no line of its own.
    BetweenAlmucantars,
    /// Dawn and nightfall.
    DawnAndNightfall,
    /// The arcs of day and night, sunrise and sunset.
    DayAndNight,
    /// How long a star is up, when it rises and sets.
    StarUp,
    /// When a degree rises, culminates and sets.
    DegreeUp,
    /// Unequal hours turned into equal ones.
    EqualHours,
    /// The day with both its twilights.
    DayWithTwilights,
    /// The lengths of the unequal hours.
    UnequalHours,
    /// Equal hours since sunrise and since sunset.
    HoursGone,
    /// The unequal hour and its planet.
    PlanetaryHour,
    /// When an unequal hour begins and ends.
    HourSpan,
    /// The altitude on the meridian.
    MeridianAltitude,
    /// The Sun's degree from its altitude at noon.
    SunDegreeByAltitude,
    /// The other day that is equally long.
    EquallyLongDays,
    /// The degree of a star from two equal altitudes.
    StarDegreeByTwoAltitudes,
    /// The degree that culminates with a star.
    CulminatingDegree,
    /// The degrees that rise and set with a star.
    RisingDegree,
    /// The declination of a degree.
    Declination,
    /// The latitude for which a plate is made.
    PlateLatitude,
    /// The latitude by a star that does not set.
    LatitudeByCircumpolarStar,
    /// The latitude by the Sun at noon.
    LatitudeByNoonSun,
    /// The latitude by a star on the meridian.
    LatitudeByStar,
    /// The right ascension of an arc of the zodiac.
    RightAscension,
    /// The oblique ascension of an arc of the zodiac.
    ObliqueAscension,
    /// The four quarters of the world from the Sun.
    FourQuarters,
    /// A planet's latitude by its altitude on the meridian.
    PlanetLatitude,
    /// Where the Sun rises and sets.
    SunriseAzimuth,
    /// The azimuth and altitude at an hour.
    AzimuthAtHour,
    /// The azimuth from an altitude.
    AzimuthByAltitude,
    /// The degree of the Moon, or of a planet, by a star.
    MoonDegree,
    /// Whether a planet is direct or retrograde.
    DirectOrRetrograde,
    /// The houses by the unequal-hour lines.
    HousesByHours,
    /// The houses by thirds of the limb.
    HousesByLimb,
    /// A primary direction to the ascendant, counted on the limb.
    DirectionToAscendant,
    /// A primary direction to the midheaven, counted on the limb.
    DirectionToMidheaven,
    /// The true meridian by two equal shadows.
    MeridianByShadows,
    /// The degree with which a planet of some latitude rises.
    RisingDegreeOfPlanet,
    /// A height by umbra recta, the foot in reach.
    HeightByRecta,
    /// A height by umbra versa, the foot in reach.
    HeightByVersa,
    /// A height out of reach by umbra versa, from two stations.
    HeightByVersaTwice,
    /// A height out of reach by umbra recta, from two stations.
    HeightByRectaTwice,
    /// Points of umbra recta turned into umbra versa.
    RectaToVersa,
}

/// What decides between several ways of doing a task.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Way {
    /// The half of the plate in which the Sun or the star stands.
    pub side: Pick,
    /// The half in which the Moon or planet stands.
    pub other_side: Pick,
    /// Whose altitude, azimuth or rising is asked for.
    pub subject: Brought,
    /// Whether what is seen on the meridian stands beyond the zenith from where its
    /// altitude is counted: from the equator's side, of a star that does not set from
    /// the pole's.
    pub beyond_zenith: bool,
    /// The number of the unequal hour asked for: 1 to 12 by day, 13 to 24 by night.
    pub hour: u8,
}

impl Default for Way {
    fn default() -> Way {
        Way {
            side: Pick::Eastern,
            other_side: Pick::Eastern,
            subject: Brought::Sun,
            beyond_zenith: false,
            hour: 1,
        }
    }
}

/// What a task needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// A star of the rete.
    Star,
    /// Something seen; where nothing was, what would be seen at the moment.
    Seen(Sight),
    /// Something told.
    Told(Told),
}

/// A name that no operation has.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("“{0}” is no operation; `almuri work` lists them")]
pub struct UnknownTask(String);

impl FromStr for Task {
    type Err = UnknownTask;

    fn from_str(text: &str) -> Result<Task, UnknownTask> {
        let name = text.trim().to_lowercase();
        let found = Task::ALL.into_iter().find(|task| task.name() == name);
        found.ok_or_else(|| UnknownTask(text.chars().take(60).collect()))
    }
}

impl fmt::Display for Task {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl Task {
    /// All of them, in the treatise's order.
    pub const ALL: [Task; 46] = [
        Task::SunDegree,
        Task::Altitude,
        Task::HourBySun,
        Task::HourByStar,
        Task::BetweenAlmucantars,
        Task::DawnAndNightfall,
        Task::DayAndNight,
        Task::StarUp,
        Task::DegreeUp,
        Task::EqualHours,
        Task::DayWithTwilights,
        Task::UnequalHours,
        Task::HoursGone,
        Task::PlanetaryHour,
        Task::HourSpan,
        Task::MeridianAltitude,
        Task::SunDegreeByAltitude,
        Task::EquallyLongDays,
        Task::StarDegreeByTwoAltitudes,
        Task::CulminatingDegree,
        Task::RisingDegree,
        Task::Declination,
        Task::PlateLatitude,
        Task::LatitudeByCircumpolarStar,
        Task::LatitudeByNoonSun,
        Task::LatitudeByStar,
        Task::RightAscension,
        Task::ObliqueAscension,
        Task::FourQuarters,
        Task::PlanetLatitude,
        Task::SunriseAzimuth,
        Task::AzimuthAtHour,
        Task::AzimuthByAltitude,
        Task::MoonDegree,
        Task::DirectOrRetrograde,
        Task::HousesByHours,
        Task::HousesByLimb,
        Task::DirectionToAscendant,
        Task::DirectionToMidheaven,
        Task::MeridianByShadows,
        Task::RisingDegreeOfPlanet,
        Task::HeightByRecta,
        Task::HeightByVersa,
        Task::HeightByVersaTwice,
        Task::HeightByRectaTwice,
        Task::RectaToVersa,
    ];

    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Task::SunDegree => "sun-degree",
            Task::Altitude => "altitude",
            Task::HourBySun => "hour-by-sun",
            Task::HourByStar => "hour-by-star",
            Task::BetweenAlmucantars => "between-almucantars",
            Task::DawnAndNightfall => "dawn-and-nightfall",
            Task::DayAndNight => "day-and-night",
            Task::StarUp => "star-up",
            Task::DegreeUp => "degree-up",
            Task::EqualHours => "equal-hours",
            Task::DayWithTwilights => "day-with-twilights",
            Task::UnequalHours => "unequal-hours",
            Task::HoursGone => "hours-gone",
            Task::PlanetaryHour => "planetary-hour",
            Task::HourSpan => "hour-span",
            Task::MeridianAltitude => "meridian-altitude",
            Task::SunDegreeByAltitude => "sun-degree-by-altitude",
            Task::EquallyLongDays => "equally-long-days",
            Task::StarDegreeByTwoAltitudes => "star-degree-by-two-altitudes",
            Task::CulminatingDegree => "culminating-degree",
            Task::RisingDegree => "rising-degree",
            Task::Declination => "declination",
            Task::PlateLatitude => "plate-latitude",
            Task::LatitudeByCircumpolarStar => "latitude-by-circumpolar-star",
            Task::LatitudeByNoonSun => "latitude-by-noon-sun",
            Task::LatitudeByStar => "latitude-by-star",
            Task::RightAscension => "right-ascension",
            Task::ObliqueAscension => "oblique-ascension",
            Task::FourQuarters => "four-quarters",
            Task::PlanetLatitude => "planet-latitude",
            Task::SunriseAzimuth => "sunrise-azimuth",
            Task::AzimuthAtHour => "azimuth-at-hour",
            Task::AzimuthByAltitude => "azimuth-by-altitude",
            Task::MoonDegree => "moon-degree",
            Task::DirectOrRetrograde => "direct-or-retrograde",
            Task::HousesByHours => "houses-by-hours",
            Task::HousesByLimb => "houses-by-limb",
            Task::DirectionToAscendant => "direction-to-ascendant",
            Task::DirectionToMidheaven => "direction-to-midheaven",
            Task::MeridianByShadows => "meridian-by-shadows",
            Task::RisingDegreeOfPlanet => "rising-degree-of-planet",
            Task::HeightByRecta => "height-by-recta",
            Task::HeightByVersa => "height-by-versa",
            Task::HeightByVersaTwice => "height-by-versa-twice",
            Task::HeightByRectaTwice => "height-by-recta-twice",
            Task::RectaToVersa => "recta-to-versa",
        }
    }

    /// What it is for.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Task::SunDegree => "The Sun's degree for a date",
            Task::Altitude => "The altitude of the Sun, the Moon or a star",
            Task::HourBySun => "The hour and the ascendant from the Sun's altitude",
            Task::HourByStar => "The hour and the ascendant from a star's altitude",
            Task::BetweenAlmucantars => "The hour from an altitude that has no line of its own",
            Task::DawnAndNightfall => "Dawn and nightfall",
            Task::DayAndNight => "The arcs of day and night, sunrise and sunset",
            Task::StarUp => "How long a star is up, when it rises and sets",
            Task::DegreeUp => "When a degree rises, culminates and sets",
            Task::EqualHours => "Unequal hours turned into equal ones",
            Task::DayWithTwilights => "The day with both its twilights",
            Task::UnequalHours => "The lengths of the unequal hours",
            Task::HoursGone => "Equal hours since sunrise and since sunset",
            Task::PlanetaryHour => "The unequal hour and its planet",
            Task::HourSpan => "When an unequal hour begins and ends",
            Task::MeridianAltitude => "The altitude on the meridian",
            Task::SunDegreeByAltitude => "The Sun's degree from its altitude at noon",
            Task::EquallyLongDays => "The other day that is equally long",
            Task::StarDegreeByTwoAltitudes => "The degree of a star from two equal altitudes",
            Task::CulminatingDegree => "The degree that culminates with a star",
            Task::RisingDegree => "The degrees that rise and set with a star",
            Task::Declination => "The declination of a degree",
            Task::PlateLatitude => "The latitude for which a plate is made",
            Task::LatitudeByCircumpolarStar => "The latitude by a star that does not set",
            Task::LatitudeByNoonSun => "The latitude by the Sun at noon",
            Task::LatitudeByStar => "The latitude by a star on the meridian",
            Task::RightAscension => "The right ascension of an arc of the zodiac",
            Task::ObliqueAscension => "The oblique ascension of an arc of the zodiac",
            Task::FourQuarters => "The four quarters of the world from the Sun",
            Task::PlanetLatitude => "A planet's latitude by its altitude on the meridian",
            Task::SunriseAzimuth => "Where the Sun rises and sets",
            Task::AzimuthAtHour => "The azimuth and altitude at an hour",
            Task::AzimuthByAltitude => "The azimuth from an altitude",
            Task::MoonDegree => "The degree of the Moon, or of a planet, by a star",
            Task::DirectOrRetrograde => "Whether a planet is direct or retrograde",
            Task::HousesByHours => "The houses by the unequal-hour lines",
            Task::HousesByLimb => "The houses by thirds of the limb",
            Task::DirectionToAscendant => {
                "A primary direction to the ascendant, counted on the limb"
            }
            Task::DirectionToMidheaven => {
                "A primary direction to the midheaven, counted on the limb"
            }
            Task::MeridianByShadows => "The true meridian by two equal shadows",
            Task::RisingDegreeOfPlanet => "The degree with which a planet of some latitude rises",
            Task::HeightByRecta => "A height by umbra recta, the foot in reach",
            Task::HeightByVersa => "A height by umbra versa, the foot in reach",
            Task::HeightByVersaTwice => "A height out of reach by umbra versa, from two stations",
            Task::HeightByRectaTwice => "A height out of reach by umbra recta, from two stations",
            Task::RectaToVersa => "Points of umbra recta turned into umbra versa",
        }
    }

    /// Where the treatise has it.
    #[must_use]
    pub fn source(self) -> &'static str {
        match self {
            Task::SunDegree => "II.1",
            Task::Altitude => "II.2",
            Task::HourBySun => "II.3",
            Task::HourByStar => "II.3",
            Task::BetweenAlmucantars => "II.5",
            Task::DawnAndNightfall => "II.6",
            Task::DayAndNight => "II.7",
            Task::StarUp => "II.7",
            Task::DegreeUp => "II.3, turned round",
            Task::EqualHours => "II.8",
            Task::DayWithTwilights => "II.9",
            Task::UnequalHours => "II.10",
            Task::HoursGone => "II.11",
            Task::PlanetaryHour => "II.12",
            Task::HourSpan => "II.12",
            Task::MeridianAltitude => "II.13",
            Task::SunDegreeByAltitude => "II.14",
            Task::EquallyLongDays => "II.15–16",
            Task::StarDegreeByTwoAltitudes => "II.17",
            Task::CulminatingDegree => "II.18",
            Task::RisingDegree => "II.19",
            Task::Declination => "II.20",
            Task::PlateLatitude => "II.21–22",
            Task::LatitudeByCircumpolarStar => "II.23–24",
            Task::LatitudeByNoonSun => "II.25",
            Task::LatitudeByStar => "II.25",
            Task::RightAscension => "II.26–27",
            Task::ObliqueAscension => "II.26, 28",
            Task::FourQuarters => "II.29",
            Task::PlanetLatitude => "II.30",
            Task::SunriseAzimuth => "II.31",
            Task::AzimuthAtHour => "II.32",
            Task::AzimuthByAltitude => "II.33",
            Task::MoonDegree => "II.34",
            Task::DirectOrRetrograde => "II.35",
            Task::HousesByHours => "II.36",
            Task::HousesByLimb => "II.37",
            Task::DirectionToAscendant => "common practice, not in the treatise",
            Task::DirectionToMidheaven => "common practice, not in the treatise",
            Task::MeridianByShadows => "II.38",
            Task::RisingDegreeOfPlanet => "II.40",
            Task::HeightByRecta => "II.41",
            Task::HeightByVersa => "II.41 (supplement)",
            Task::HeightByVersaTwice => "II.42 (supplement)",
            Task::HeightByRectaTwice => "II.43 (supplement)",
            Task::RectaToVersa => "II.42 (supplement)",
        }
    }

    /// When it is weak, in a sentence or two.
    #[must_use]
    pub fn weak(self) -> &'static str {
        match self {
            Task::SunDegree => {
                "As good as the calendar scale: it is divided for one year or for the mean of four, so the Sun may stand up to half a degree off; about the solstices that hardly moves its declination, about the equinoxes it moves it most."
            }
            Task::Altitude => {
                "The hand sways: without support a quarter of a degree is good work. Near the horizon refraction lifts what is seen by up to half a degree."
            }
            Task::HourBySun => {
                "Worth little near noon, when the altitude stands still: the treatise allows no ascendant between eleven and one. Best in the east and west."
            }
            Task::HourByStar => {
                "Worth little while the star is near the meridian; best in the east and west. A pointer made for another century is off by a degree in seventy-two years."
            }
            Task::BetweenAlmucantars => {
                "The almuri does not go evenly between two almucantars: the proportion is good to a minute or two on lines five degrees apart, and worst near noon."
            }
            Task::DawnAndNightfall => {
                "Eighteen degrees is a convention. In northern summers beyond 48½° the Sun does not go so deep, and there is no answer."
            }
            Task::DayAndNight => {
                "By the plate's horizon and the Sun's centre: the visible Sun rises some minutes earlier and sets as much later. On a slanting horizon, about the equinoxes in high latitudes, the setting is least certain."
            }
            Task::StarUp => {
                "A star that stays up or never rises has no answer. Where its path runs slantwise to the horizon the setting is coarse."
            }
            Task::DegreeUp => {
                "As good as the horizon there: coarse where the ecliptic lies flat on it."
            }
            Task::EqualHours => {
                "An error of the day's length is divided by twelve and multiplied by the hours."
            }
            Task::DayWithTwilights => {
                "As dawn and nightfall: no answer where the Sun does not sink eighteen degrees."
            }
            Task::UnequalHours => {
                "A twelfth of the error of the day's arc: the safest measure on the plate."
            }
            Task::HoursGone => "As good as the hour it starts from.",
            Task::PlanetaryHour => {
                "Near the end of an hour the lines do not tell which it is: look at what it reads to. Lines engraved as arcs are off by up to a minute or two of time at 52°."
            }
            Task::HourSpan => {
                "As good as the hour lines: arcs are off by up to a minute or two of time at 52°."
            }
            Task::MeridianAltitude => "Good all year: here the altitude stands still.",
            Task::SunDegreeByAltitude => {
                "Worth little near the solstices, where the Sun's declination stands still: a quarter of a degree of altitude is then ten degrees of the zodiac."
            }
            Task::EquallyLongDays => {
                "Near the solstices the two days run together and the degree is coarse."
            }
            Task::StarDegreeByTwoAltitudes => {
                "The treatise takes the mean of the two ascendants, and that is wrong by several degrees: the hours are to be halved, not the degrees (Skeat's note, 1894)."
            }
            Task::CulminatingDegree => {
                "A matter of the rete alone, good at any hour; the pointer ages by a degree in seventy-two years."
            }
            Task::RisingDegree => {
                "Coarse where the ecliptic lies flat on the horizon, about 0° Libra setting and 0° Aries rising in the north."
            }
            Task::Declination => {
                "As good as the almucantars; about the solstices nearly exact for any degree."
            }
            Task::PlateLatitude => "Shows how the plate was drawn, whatever is engraved on it.",
            Task::LatitudeByCircumpolarStar => {
                "Needs no tables. Half the error of either altitude; refraction raises the lower one more."
            }
            Task::LatitudeByNoonSun => {
                "As good as the altitude; the declination adds most about the equinoxes, when the Sun's degree is a day off."
            }
            Task::LatitudeByStar => "As good as the altitude and the place of the pointer.",
            Task::RightAscension => "The same on every plate; as good as the limb.",
            Task::ObliqueAscension => {
                "Only for the plate's own latitude; beyond the polar circles some degrees never rise."
            }
            Task::FourQuarters => {
                "Coarse when the Sun is high: near the zenith the azimuth lines run together."
            }
            Task::PlanetLatitude => {
                "Rough: the altitudes are compared along the hour circle, the latitude is reckoned across the ecliptic. The two agree at 0° Cancer and Capricorn alone."
            }
            Task::SunriseAzimuth => {
                "By the true horizon; hills and refraction shift it, the more the farther north."
            }
            Task::AzimuthAtHour => "As good as the hour: near noon the azimuth runs fastest.",
            Task::AzimuthByAltitude => {
                "Worth little near noon, when the altitude stands still and the azimuth runs."
            }
            Task::MoonDegree => {
                "Rough for the Moon: it stands up to five degrees off the ecliptic, and its parallax takes up to a degree from its altitude."
            }
            Task::DirectOrRetrograde => {
                "Both altitudes must be taken with the same star at the same height, the planet in the east; near its station the change is less than the hand's error."
            }
            Task::HousesByHours => {
                "The same houses as by thirds of the limb; where the two differ on your instrument, the hour lines are off."
            }
            Task::HousesByLimb => {
                "Free of the hour lines, and so the better way on plates engraved with arcs."
            }
            Task::DirectionToAscendant => {
                "The arc is as good as the birth time: four minutes of time are a degree, and a degree about a year."
            }
            Task::DirectionToMidheaven => {
                "The arc is as good as the birth time: four minutes of time are a degree, and a degree about a year."
            }
            Task::MeridianByShadows => {
                "The Sun's declination changes between the shadows: up to a few minutes of arc at the equinoxes, nothing at the solstices."
            }
            Task::RisingDegreeOfPlanet => {
                "The treatise lays the latitude off along the rule, which is off by degrees far from the solstices; on the circle of latitude it is right."
            }
            Task::HeightByRecta => {
                "Surest near twelve points; with few points a small slip of the alidade is many feet."
            }
            Task::HeightByVersa => "Surest near twelve points.",
            Task::HeightByVersaTwice => {
                "Weak when the stations are close: the small difference of two readings divides the way between."
            }
            Task::HeightByRectaTwice => "Weak when the stations are close, as with umbra versa.",
            Task::RectaToVersa => "Plain arithmetic: 144 divided by the points.",
        }
    }

    /// Its steps on an instrument.
    #[must_use]
    pub fn operation(self, instrument: &Instrument, way: &Way) -> Operation {
        if let Some(procedure) = self.procedure() {
            return Operation {
                title: self.title(),
                ..crate::cast::casting(instrument, &[procedure])
            };
        }
        let acts = hour::acts(self, instrument, way)
            .or_else(|| day::acts(self, instrument, way))
            .or_else(|| angles::acts(self, instrument, way))
            .or_else(|| stars::acts(self, instrument, way))
            .or_else(|| ascensions::acts(self, way))
            .or_else(|| heights::acts(self))
            .unwrap_or_default();
        Operation {
            title: self.title(),
            steps: acts.into_iter().map(step).collect(),
        }
    }

    /// The quantities that it is for, the chief one first: those it finds that are
    /// no mere stages on the way.
    #[must_use]
    pub fn finds(self, operation: &Operation) -> Vec<Quantity> {
        let found = operation.steps.iter().filter_map(|step| step.act.finds());
        let mut finds: Vec<Quantity> = found
            .filter(|quantity| match quantity {
                Quantity::Found(_)
                | Quantity::Ascendant
                | Quantity::Midheaven
                | Quantity::Cusp(..) => true,
                Quantity::SunDegree => self == Task::SunDegree,
                Quantity::Seen(_) => self == Task::Altitude,
                _ => false,
            })
            .collect();
        finds.dedup();
        finds
    }
}

fn step(act: Act) -> Step {
    Step {
        act,
        procedure: None,
    }
}
