//! The one list of what calculation does for each operation.

use std::collections::BTreeMap;

use practice::Task;
use sky::SkyError;

use crate::answers::Answers;
use crate::facts::Facts;
use crate::moving_sun::{Found, Moving};
use crate::{azimuth, day, ecliptic, hour, houses, meridian, on_back};

/// What is otherwise as the Sun moves.
type Events = fn(&Moving<'_>) -> Result<Vec<Found>, SkyError>;

/// How calculation answers an operation.
#[derive(Clone, Copy)]
pub(crate) struct Calculation {
    /// With the Sun held still, as an instrument holds it.
    pub(crate) held: fn(&Facts<'_>) -> Answers,
    /// What is otherwise as the Sun moves; None of what is asked at the moment itself, of a
    /// degree or a star, or of altitudes alone.
    pub(crate) moving: Option<Events>,
}

const fn at_the_moment(held: fn(&Facts<'_>) -> Answers) -> Calculation {
    Calculation { held, moving: None }
}

const fn events(held: fn(&Facts<'_>) -> Answers, moving: Events) -> Calculation {
    Calculation {
        held,
        moving: Some(moving),
    }
}

/// A sum on paper: calculation has nothing to add.
const SUM: Calculation = at_the_moment(|_| Answers(BTreeMap::new()));

impl Calculation {
    pub(crate) const fn of(task: Task) -> Calculation {
        match task {
            Task::SunDegree => at_the_moment(hour::sun_degree),
            Task::Altitude => at_the_moment(hour::altitude),
            Task::HourBySun => events(hour::hour_by_sun, |moving| moving.at_altitude()),
            Task::HourByStar => events(hour::hour_by_star, |moving| moving.by_star_altitude()),
            Task::BetweenAlmucantars => {
                events(hour::between_almucantars, |moving| moving.at_altitude())
            }
            Task::DawnAndNightfall => events(day::dawn_and_nightfall, |moving| moving.day()),
            Task::DayAndNight => events(day::day_and_night, |moving| moving.day()),
            Task::StarUp => events(day::star_up, |moving| moving.by_the_sky()),
            Task::DegreeUp => events(day::degree_up, |moving| moving.by_the_sky()),
            Task::EqualHours => events(day::equal_hours, |moving| moving.day()),
            Task::DayWithTwilights => events(day::day_with_twilights, |moving| moving.day()),
            Task::UnequalHours => events(day::unequal_hours, |moving| moving.day()),
            Task::HoursGone => events(day::hours_gone, |moving| moving.day()),
            Task::PlanetaryHour => events(day::planetary_hour, |moving| moving.day()),
            Task::HourSpan => events(day::hour_span, |moving| moving.day()),
            Task::MeridianAltitude => events(meridian::meridian_altitude, |moving| {
                moving.of_the_sun(Moving::at_noon)
            }),
            Task::SunDegreeByAltitude => at_the_moment(meridian::sun_degree_by_altitude),
            Task::EquallyLongDays => at_the_moment(meridian::equally_long_days),
            Task::StarDegreeByTwoAltitudes => at_the_moment(ecliptic::star_degree_by_two_altitudes),
            Task::CulminatingDegree => at_the_moment(ecliptic::culminating_degree),
            Task::RisingDegree => at_the_moment(ecliptic::rising_degree),
            Task::Declination => at_the_moment(meridian::declination),
            Task::PlateLatitude => at_the_moment(meridian::plate_latitude),
            Task::LatitudeByCircumpolarStar => {
                at_the_moment(meridian::latitude_by_circumpolar_star)
            }
            Task::LatitudeByNoonSun => {
                events(meridian::latitude_by_noon_sun, |moving| moving.at_noon())
            }
            Task::LatitudeByStar => at_the_moment(meridian::latitude_by_star),
            Task::RightAscension => at_the_moment(ecliptic::right_ascension),
            Task::ObliqueAscension => at_the_moment(ecliptic::oblique_ascension),
            Task::FourQuarters => events(azimuth::four_quarters, |moving| {
                moving.of_the_sun(Moving::at_altitude)
            }),
            Task::PlanetLatitude => at_the_moment(meridian::planet_latitude),
            Task::SunriseAzimuth => events(azimuth::sunrise_azimuth, |moving| {
                moving.of_the_sun(Moving::rising_azimuths)
            }),
            Task::AzimuthAtHour => at_the_moment(azimuth::azimuth_at_hour),
            Task::AzimuthByAltitude => events(azimuth::azimuth_by_altitude, |moving| {
                moving.of_the_sun(Moving::at_altitude)
            }),
            Task::MoonDegree => at_the_moment(ecliptic::moon_degree),
            Task::HousesByHours => at_the_moment(houses::houses_by_hours),
            Task::HousesByLimb => at_the_moment(houses::houses_by_limb),
            Task::DirectionToAscendant => at_the_moment(houses::direction_to_ascendant),
            Task::DirectionToMidheaven => at_the_moment(houses::direction_to_midheaven),
            Task::RisingDegreeOfPlanet => at_the_moment(ecliptic::rising_degree_of_planet),
            Task::NoonAltitudeByArcs => events(on_back::noon_altitude, |moving| moving.at_noon()),
            Task::QiblaByCurves => events(on_back::towards_mecca, |moving| moving.towards_mecca()),
            Task::HourByQuadrant => {
                events(on_back::hour_by_altitude, |moving| moving.at_altitude())
            }
            Task::DeclinationBySines => at_the_moment(on_back::declination_by_sines),
            Task::ShadowByCotangents => at_the_moment(on_back::shadow),
            Task::LordsByRings => at_the_moment(on_back::parts_of_rings),
            Task::DirectOrRetrograde
            | Task::MeridianByShadows
            | Task::HeightByRecta
            | Task::HeightByVersa
            | Task::HeightByVersaTwice
            | Task::HeightByRectaTwice
            | Task::RectaToVersa => SUM,
        }
    }
}
