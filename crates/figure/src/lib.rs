//! What is exactly so at a moment and place: ascendant, midheaven, houses,
//! rising and setting, by spherical trigonometry; and what the old books read off
//! that, by their printed tables: hours, lots, dignities, aspects.
//!
//! Nothing here knows an instrument or a clock. A [`Horizon`] is three angles, and
//! all that belongs to a moment follows from them. A [`Figure`] is a horizon with the
//! planets of a [`Sky`](sky::Sky), finished by [`Choices`]; nothing says what any of it
//! means. What happens in the course of
//! time at a [`Site`] (rising, setting, culmination, twilight) is found in the
//! ephemeris by [`risings_and_settings`], [`culminations()`] and [`twilights`]; when
//! several conditions hold together, by [`Choosing`].
//!
//! ```
//! use figure::{Horizon, House, Method};
//! use sky::{Angle, Latitude};
//!
//! # if cfg!(feature = "test-shift-ascendant") { return Ok(()) }
//! // J. Meeus, Astronomical Algorithms (2nd ed. 1998), chapter 14.
//! let horizon = Horizon {
//!     sidereal_time: Angle::from_hours(5.0),
//!     obliquity: Angle::from_deg(23.44),
//!     latitude: Latitude::from_deg(51.0)?,
//! };
//! assert_eq!(format!("{:.3}", horizon.ascendant()?), "169.358°");
//!
//! let cusps = Method::Alcabitius.cusps(&horizon)?;
//! assert_eq!(cusps.get(House::X), horizon.midheaven());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! A question without an answer (the ascendant of the pole, placidus where
//! degrees never set) is a [`NoAnswer`] in plain words, never a number.

#![deny(clippy::wildcard_enum_match_arm)]

mod accident;
mod apparent_day;
mod ascendant;
mod ascension;
mod aspect;
mod author;
mod border;
mod choosing;
mod close;
mod co_rising;
mod crossings;
mod cubic;
mod culminations;
mod cusps;
mod daily_course;
mod dignity;
mod eclipse;
mod ecliptic;
mod figure;
mod heliacal;
mod horizon;
mod houses;
mod life;
mod lot;
mod lot_toml;
mod lunation;
mod mansion;
mod meeting;
mod method;
mod motion;
mod no_answer;
mod orb;
mod planet;
mod planetary_hour;
mod sect;
mod sight;
mod site;
mod solar_day;
mod target;
mod time_lord;

pub use accident::{Accident, AccidentPoints, FortuneState, PointedStar, Standing, joy_of};
pub use apparent_day::{ApparentDay, Passage};
pub use aspect::{Aspect, AspectKind, antiscion, contra_antiscion};
pub use author::{Author, AuthorRules, SetRule};
pub use border::Border;
pub use choosing::{
    Almanac, Arc, AspectSought, Choosing, Condition, FigureAngle, Piece, Spans, Within,
};
pub use close::{Change, Close};
pub use crossings::{
    HorizonCourse, HorizonCrossing, Twilight, altitude_passages, risings_and_settings, twilights,
};
pub use culminations::{Culmination, culminations};
pub use cusps::{Cusps, NotCusps};
pub use daily_course::{DailyCourse, SemiArcs};
pub use dignity::{
    Dignities, Dignity, DignityTables, FigureClaims, Points, Reception, ReceptionRule, Rulers,
    Term, TermTable, Triplicity, TriplicityTable, exaltation_of_planet, most, sign_and_degree,
    strength_of_house,
};
pub use eclipse::{
    LocalSolarEclipse, LunarEclipse, SolarEclipse, SolarKind, lunar_eclipses, solar_eclipses,
};
pub use figure::{Choices, Figure, GivenAngles, NodeKind, Placed, StarNear};
pub use heliacal::{Appearance, AppearanceKind, appearances, arcus_visionis_deg};
pub use horizon::{Horizon, HorizonPosition};
pub use life::LifeCandidate;
pub use lot::{Formula, Lot, LotInputs, LotPoint, Lots, LotsByNight};
pub use lot_toml::LotsError;
pub use lunation::Lunation;
pub use mansion::{Mansion, MansionZodiac, dodecatemorion};
pub use meeting::{
    AspectCourse, Between, Chain, Courses, Declination, Exact, Mate, Meeting, MoonsCourse, Side,
    Stands, chains,
};
pub use method::{Method, UnknownMethod};
pub use motion::{BeamLimits, Motion, UnderSun, mean_motion};
pub use no_answer::{NoAnswer, Reason, Subject};
pub use orb::OrbTable;
pub use planet::Planet;
pub use planetary_hour::{PlanetaryHour, ruler_of_day, ruler_of_hour};
pub use sect::Sect;
pub use sight::{Limb, Refraction, SeenFrom, Sight};
pub use site::Site;
pub use sky::House;
pub use solar_day::{SolarDay, Sunrise};
pub use target::Target;
pub use time_lord::{
    Beginner, DecennialDays, Decennials, Distribution, Firdaria, FirdariaByNight, FirdariaLord,
    LordSpan, PlanetYears, Profection, YEAR_DAYS, distributions, firdaria, handed_over, profected,
};
