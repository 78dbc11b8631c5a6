//! What the classical treatise teaches to be done with the instrument, an operation in
//! each file: there stands everything that is known of it, in one value. The one list
//! of them is the table below.

use std::fmt;
use std::str::FromStr;

use instrument::{BackLine, Instrument};
use thiserror::Error;

use crate::operation::{Act, Operation, Step};
use crate::quantity::Quantity;
use crate::sight::Sighting;

mod record;
mod steps;

pub use record::{
    About, AskedOf, BodyAsked, Source, Stars, TaskChoices, TaskInput, Taught, TowardsMecca,
};
use record::{Record, Sighted, Steps};

/// Makes the modules of the operations and the list of them of one table.
macro_rules! table {
    ($($(#[$doc:meta])* $task:ident: $file:ident,)*) => {
        $(mod $file;)*

        /// What the classical treatise teaches to be done with the instrument: Chaucer's
        /// conclusions (*A Treatise on the Astrolabe*, 1391, ed. Skeat 1894), each under a
        /// plain name of ours.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Task {
            $($(#[$doc])* $task,)*
        }

        impl Task {
            /// All of them, in the treatise's order.
            pub const ALL: [Task; [$(stringify!($task)),*].len()] = [$(Task::$task),*];

            /// What is known of it.
            const fn record(self) -> &'static Record {
                match self {
                    $(Task::$task => &$file::RECORD,)*
                }
            }
        }
    };
}

table! {
    /// The Sun's degree for a date.
    SunDegree: sun_degree,
    /// The altitude of the Sun, the Moon or a star.
    Altitude: altitude,
    /// The hour and the ascendant from the Sun's altitude.
    HourBySun: hour_by_sun,
    /// The hour and the ascendant from a star's altitude.
    HourByStar: hour_by_star,
    /// The hour from an altitude that has no line of its own.
    BetweenAlmucantars: between_almucantars,
    /// Dawn and nightfall.
    DawnAndNightfall: dawn_and_nightfall,
    /// The arcs of day and night, sunrise and sunset.
    DayAndNight: day_and_night,
    /// How long a star is up, when it rises and sets.
    StarUp: star_up,
    /// When a degree rises, culminates and sets.
    DegreeUp: degree_up,
    /// Unequal hours turned into equal ones.
    EqualHours: equal_hours,
    /// The day with both its twilights.
    DayWithTwilights: day_with_twilights,
    /// The lengths of the unequal hours.
    UnequalHours: unequal_hours,
    /// Equal hours since sunrise and since sunset.
    HoursGone: hours_gone,
    /// The unequal hour and its planet.
    PlanetaryHour: planetary_hour,
    /// When an unequal hour begins and ends.
    HourSpan: hour_span,
    /// The altitude on the meridian.
    MeridianAltitude: meridian_altitude,
    /// The Sun's degree from its altitude at noon.
    SunDegreeByAltitude: sun_degree_by_altitude,
    /// The other day that is equally long.
    EquallyLongDays: equally_long_days,
    /// The degree of a star from two equal altitudes.
    StarDegreeByTwoAltitudes: star_degree_by_two_altitudes,
    /// The degree that culminates with a star.
    CulminatingDegree: culminating_degree,
    /// The degrees that rise and set with a star.
    RisingDegree: rising_degree,
    /// The declination of a degree.
    Declination: declination,
    /// The latitude for which a plate is made.
    PlateLatitude: plate_latitude,
    /// The latitude by a star that does not set.
    LatitudeByCircumpolarStar: latitude_by_circumpolar_star,
    /// The latitude by the Sun at noon.
    LatitudeByNoonSun: latitude_by_noon_sun,
    /// The latitude by a star on the meridian.
    LatitudeByStar: latitude_by_star,
    /// The right ascension of an arc of the zodiac.
    RightAscension: right_ascension,
    /// The oblique ascension of an arc of the zodiac.
    ObliqueAscension: oblique_ascension,
    /// The four quarters of the world from the Sun.
    FourQuarters: four_quarters,
    /// A planet's latitude by its altitude on the meridian.
    PlanetLatitude: planet_latitude,
    /// Where the Sun rises and sets.
    SunriseAzimuth: sunrise_azimuth,
    /// The azimuth and altitude at an hour.
    AzimuthAtHour: azimuth_at_hour,
    /// The azimuth from an altitude.
    AzimuthByAltitude: azimuth_by_altitude,
    /// The degree of the Moon, or of a planet, by a star.
    MoonDegree: moon_degree,
    /// Whether a planet is direct or retrograde.
    DirectOrRetrograde: direct_or_retrograde,
    /// The houses by the unequal-hour lines.
    HousesByHours: houses_by_hours,
    /// The houses by thirds of the limb.
    HousesByLimb: houses_by_limb,
    /// A primary direction to the ascendant, counted on the limb.
    DirectionToAscendant: direction_to_ascendant,
    /// A primary direction to the midheaven, counted on the limb.
    DirectionToMidheaven: direction_to_midheaven,
    /// The true meridian by two equal shadows.
    MeridianByShadows: meridian_by_shadows,
    /// The degree with which a planet of some latitude rises.
    RisingDegreeOfPlanet: rising_degree_of_planet,
    /// A height by umbra recta, the foot in reach.
    HeightByRecta: height_by_recta,
    /// A height by umbra versa, the foot in reach.
    HeightByVersa: height_by_versa,
    /// A height out of reach by umbra versa, from two stations.
    HeightByVersaTwice: height_by_versa_twice,
    /// A height out of reach by umbra recta, from two stations.
    HeightByRectaTwice: height_by_recta_twice,
    /// Points of umbra recta turned into umbra versa.
    RectaToVersa: recta_to_versa,
    /// The Sun's altitude at noon by the curves of the back.
    NoonAltitudeByArcs: noon_altitude_by_arcs,
    /// The Sun's altitude in the direction of Mecca by the qibla curves of the back.
    QiblaByCurves: qibla_by_curves,
    /// The equal hour from the Sun's altitude by the back's quadrant.
    HourByQuadrant: hour_by_quadrant,
    /// The declination of a degree by the sine quadrant.
    DeclinationBySines: declination_by_sines,
    /// The shadow of a gnomon from an altitude.
    ShadowByCotangents: shadow_by_cotangents,
    /// The face, the term and the mansion of a degree.
    LordsByRings: lords_by_rings,
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
    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.record().name
    }

    /// What it is for.
    #[must_use]
    pub fn title(self) -> &'static str {
        self.record().title
    }

    /// Where it is taught.
    #[must_use]
    pub fn source(self) -> Source {
        self.record().source
    }

    /// The heading under which it is looked for.
    #[must_use]
    pub fn heading(self) -> &'static str {
        self.record().heading
    }

    /// When it is weak, in a sentence or two.
    #[must_use]
    pub fn weak(self) -> &'static str {
        self.record().weak
    }

    /// Where it is asked in teaching.
    #[must_use]
    pub fn taught(self) -> &'static [Taught] {
        self.record().taught
    }

    /// What it needs besides the moment, the place and the instrument.
    #[must_use]
    pub fn needs(self) -> &'static [TaskInput] {
        self.record().needs
    }

    /// What it can be asked about.
    #[must_use]
    pub fn about(self) -> About {
        self.record().asks.about
    }

    /// Whether the Moon or a planet may be named in place of what is told and seen of it.
    #[must_use]
    pub fn body_asked(self) -> BodyAsked {
        self.record().asks.body
    }

    /// Which stars of the rete serve.
    #[must_use]
    pub fn stars(self) -> Stars {
        self.record().asks.stars
    }

    /// Whether the degree is the Sun's where none is told.
    #[must_use]
    pub fn takes_suns_degree(self) -> bool {
        self.record().asks.suns_degree
    }

    /// Whether what is told of stands on the ecliptic where no latitude is told.
    #[must_use]
    pub fn is_on_ecliptic_unless_told(self) -> bool {
        self.record().asks.on_ecliptic
    }

    /// Whether the unequal hours that are told are the number of one hour, 1 to 24.
    #[must_use]
    pub fn takes_numbered_hour(self) -> bool {
        self.record().asks.numbered_hour
    }

    /// Whether the shadow that the alidade cuts is shorter from further off, as umbra versa
    /// is; umbra recta is longer.
    #[must_use]
    pub fn has_shrinking_shadow(self) -> bool {
        self.record().asks.shrinking_shadow
    }

    /// The line in the back's field that it needs; `None` where every instrument will do.
    #[must_use]
    pub fn reads_on_back(self) -> Option<BackLine> {
        self.record().asks.back
    }

    /// What it is asked of.
    #[must_use]
    pub fn asked_of(self) -> AskedOf {
        self.record().asked_of
    }

    /// Whether it depends on the half of the sky in which the Sun or the star stands.
    #[must_use]
    pub fn takes_side(self) -> bool {
        match self.record().asks.sighted {
            Sighted::EastOrWest => true,
            Sighted::Anywhere | Sighted::OnMeridian(_) => false,
        }
    }

    /// What is sighted on the meridian, where it may stand on either side of the zenith.
    #[must_use]
    pub fn sighted_on_meridian(self) -> Option<Sighting> {
        match self.record().asks.sighted {
            Sighted::OnMeridian(sight) => Some(sight),
            Sighted::Anywhere | Sighted::EastOrWest => None,
        }
    }

    /// Its steps on an instrument.
    #[must_use]
    pub fn operation(self, instrument: &Instrument, choices: &TaskChoices) -> Operation {
        let steps = match self.record().steps {
            Steps::Casting(procedure) => crate::cast::casting(instrument, &[procedure]).steps,
            Steps::Acts(acts) => acts(instrument, choices).into_iter().map(step).collect(),
        };
        Operation {
            title: self.title(),
            steps,
        }
    }

    /// The quantities that it is for, the chief one first: those it finds that are
    /// no mere stages on the way.
    #[must_use]
    pub fn finds(self, operation: &Operation) -> Vec<Quantity> {
        let found = operation.steps.iter().filter_map(|step| step.act.finds());
        let mut finds: Vec<Quantity> = found
            .filter(|quantity| quantity.is_an_end() || self.record().end == Some(*quantity))
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
