//! What calculation gives for the operations of the treatise: the other road.
//!
//! Spherical trigonometry, with the [`figure`], from the same things given, seen and told
//! as a [`practice::Working`] has; no line of the instrument is asked. One function for
//! each operation; here, in the desk and in tests alone the two roads meet.

#![deny(clippy::wildcard_enum_match_arm)]

mod answers;
mod azimuth;
mod day;
mod division;
mod ecliptic;
mod facts;
mod hour;
mod houses;
mod meridian;
mod moving_sun;

use std::collections::BTreeMap;

use practice::{Conditions, Quantity, Task, Value, Way};

use answers::Answers;
use facts::Facts;

pub use division::division;
pub use moving_sun::calculated;

/// The exact answers to an operation under ideal conditions. A quantity that has no answer
/// (a star that never rises) is missing.
///
/// The Sun keeps its place, as it does on an instrument; [`calculated`] has what truly
/// happens beside it.
///
/// Where the treatise's own method is wrong or rough, the answer under the same name is the
/// right one: the degree of a star by the mean of two ascendants is held against the true
/// one.
#[must_use]
pub fn exact(task: Task, ideal: &Conditions, way: &Way) -> BTreeMap<Quantity, Value> {
    let facts = Facts::of(ideal, way);
    let answers = match task {
        Task::SunDegree => hour::sun_degree(&facts),
        Task::Altitude => hour::altitude(&facts),
        Task::HourBySun => hour::hour_by_sun(&facts),
        Task::HourByStar => hour::hour_by_star(&facts),
        Task::BetweenAlmucantars => hour::between_almucantars(&facts),
        Task::DawnAndNightfall => day::dawn_and_nightfall(&facts),
        Task::DayAndNight => day::day_and_night(&facts),
        Task::StarUp => day::star_up(&facts),
        Task::DegreeUp => day::degree_up(&facts),
        Task::EqualHours => day::equal_hours(&facts),
        Task::DayWithTwilights => day::day_with_twilights(&facts),
        Task::UnequalHours => day::unequal_hours(&facts),
        Task::HoursGone => day::hours_gone(&facts),
        Task::PlanetaryHour => day::planetary_hour(&facts),
        Task::HourSpan => day::hour_span(&facts),
        Task::MeridianAltitude => meridian::meridian_altitude(&facts),
        Task::SunDegreeByAltitude => meridian::sun_degree_by_altitude(&facts),
        Task::EquallyLongDays => meridian::equally_long_days(&facts),
        Task::StarDegreeByTwoAltitudes => ecliptic::star_degree_by_two_altitudes(&facts),
        Task::CulminatingDegree => ecliptic::culminating_degree(&facts),
        Task::RisingDegree => ecliptic::rising_degree(&facts),
        Task::Declination => meridian::declination(&facts),
        Task::PlateLatitude => meridian::plate_latitude(&facts),
        Task::LatitudeByCircumpolarStar => meridian::latitude_by_circumpolar_star(&facts),
        Task::LatitudeByNoonSun => meridian::latitude_by_noon_sun(&facts),
        Task::LatitudeByStar => meridian::latitude_by_star(&facts),
        Task::RightAscension => ecliptic::right_ascension(&facts),
        Task::ObliqueAscension => ecliptic::oblique_ascension(&facts),
        Task::FourQuarters => azimuth::four_quarters(&facts),
        Task::PlanetLatitude => meridian::planet_latitude(&facts),
        Task::SunriseAzimuth => azimuth::sunrise_azimuth(&facts),
        Task::AzimuthAtHour => azimuth::azimuth_at_hour(&facts),
        Task::AzimuthByAltitude => azimuth::azimuth_by_altitude(&facts),
        Task::MoonDegree => ecliptic::moon_degree(&facts),
        Task::HousesByHours => houses::houses_by_hours(&facts),
        Task::HousesByLimb => houses::houses_by_limb(&facts),
        Task::DirectionToAscendant => houses::direction_to_ascendant(&facts),
        Task::DirectionToMidheaven => houses::direction_to_midheaven(&facts),
        Task::RisingDegreeOfPlanet => ecliptic::rising_degree_of_planet(&facts),
        // These are sums on paper: calculation has nothing to add.
        Task::DirectOrRetrograde
        | Task::MeridianByShadows
        | Task::HeightByRecta
        | Task::HeightByVersa
        | Task::HeightByVersaTwice
        | Task::HeightByRectaTwice
        | Task::RectaToVersa => Answers::default(),
    };
    answers.0
}
