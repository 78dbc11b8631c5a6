//! What calculation gives for the operations of the treatise: the other road.

use std::collections::BTreeMap;

use figure::{DailyCourse, Horizon, Method, SemiArcs};
use instrument::{Hemisphere, House, Pick};
use sky::{Angle, Latitude};

use crate::conditions::{Conditions, SunTaken};
use crate::finding::Finding;
use crate::operation::Brought;
use crate::procedure::Procedure;
use crate::quantity::Quantity;
use crate::sight::{Sight, Told};
use crate::task::{Task, Way};

/// The exact answers to a task by spherical trigonometry, from the same things
/// given, seen and told, under ideal conditions. A quantity that has no answer (a
/// star that never rises) is missing.
///
/// Where the treatise's own method is wrong or rough, the answer under the same
/// name is the right one: the degree of a star by the mean of two ascendants is
/// held against the true one.
#[must_use]
pub fn exact(task: Task, ideal: &Conditions, way: &Way) -> BTreeMap<Quantity, Angle> {
    let mut answers = Answers {
        facts: Facts::of(ideal, way),
        found: BTreeMap::new(),
    };
    answers.of(task);
    answers.found
}

/// A point of the sky.
#[derive(Clone, Copy)]
struct Place {
    right_ascension: Angle,
    declination: Latitude,
}

struct Facts<'a> {
    conditions: &'a Conditions,
    way: &'a Way,
    latitude: Latitude,
    obliquity: Angle,
    sun: Place,
}

impl<'a> Facts<'a> {
    fn of(conditions: &'a Conditions, way: &'a Way) -> Facts<'a> {
        let given = conditions.given.sun;
        let obliquity = conditions.instrument.obliquity();
        let horizon = Horizon {
            sidereal_time: Angle::ZERO,
            obliquity,
            latitude: conditions.given.latitude,
        };
        let sun = match conditions.sun {
            SunTaken::TruePlace => Place {
                right_ascension: given.right_ascension,
                declination: given.declination,
            },
            SunTaken::OnEcliptic | SunTaken::ByInstrument => Place {
                right_ascension: horizon.right_ascension(given.longitude),
                declination: horizon.declination(given.longitude),
            },
        };
        Facts {
            conditions,
            way,
            latitude: conditions.given.latitude,
            obliquity,
            sun,
        }
    }

    fn horizon(&self, sidereal_time: Angle) -> Horizon {
        Horizon {
            sidereal_time,
            obliquity: self.obliquity,
            latitude: self.latitude,
        }
    }

    fn told(&self, told: Told) -> Option<Angle> {
        self.conditions.told.get(&told).copied()
    }

    fn seen(&self, sight: Sight) -> Option<Angle> {
        self.conditions.seen.get(&sight).map(|seen| seen.value)
    }

    /// An altitude seen on the meridian, counted on through the zenith where it stands
    /// beyond.
    fn seen_on_meridian(&self, sight: Sight) -> Option<Angle> {
        let seen = self.seen(sight)?;
        Some(if self.way.beyond_zenith {
            Angle::HALF_TURN - seen
        } else {
            seen
        })
    }

    fn star(&self) -> Option<Place> {
        self.conditions.star.as_ref().map(|star| Place {
            right_ascension: star.right_ascension,
            declination: star.declination,
        })
    }

    fn degree(&self, longitude: Angle) -> Place {
        let horizon = self.horizon(Angle::ZERO);
        Place {
            right_ascension: horizon.right_ascension(longitude),
            declination: horizon.declination(longitude),
        }
    }

    /// A point by its ecliptic longitude and latitude.
    fn zodiacal(&self, longitude: Angle, latitude: Angle) -> Place {
        let (sin_b, cos_b) = latitude.sin_cos();
        let (sin_l, cos_l) = longitude.sin_cos();
        let (sin_e, cos_e) = self.obliquity.sin_cos();
        let y = cos_b * sin_l * cos_e - sin_b * sin_e;
        Place {
            right_ascension: Angle::atan2(y, cos_b * cos_l),
            declination: Latitude::asin(sin_b * cos_e + cos_b * sin_l * sin_e),
        }
    }

    /// Whose altitude or rising is asked for.
    fn subject(&self) -> Option<Place> {
        match self.way.subject {
            Brought::Star => self.star(),
            Brought::Degree(Quantity::Told(told)) => Some(self.degree(self.told(told)?)),
            _ => Some(self.sun),
        }
    }

    /// +1 in the north, −1 on the south's instruments.
    fn towards_pole(&self) -> f64 {
        match self.conditions.instrument.specification().hemisphere {
            Hemisphere::North => 1.0,
            Hemisphere::South => -1.0,
        }
    }

    /// The hour angle at which a declination has an altitude:
    /// cos H = (sin h − sin φ sin δ) / (cos φ cos δ).
    fn hour_angle_at(&self, declination: Latitude, altitude: Angle, side: Pick) -> Option<Angle> {
        let cosine = (altitude.sin() - self.latitude.sin() * declination.sin())
            / (self.latitude.cos() * declination.cos());
        let size = (cosine.abs() <= 1.0).then(|| Angle::acos(cosine))?;
        Some(if side == Pick::Western { size } else { -size })
    }

    fn arcs(&self, declination: Latitude) -> Option<SemiArcs> {
        match self.horizon(Angle::ZERO).daily_course(declination) {
            DailyCourse::RisesAndSets(arcs) => Some(arcs),
            DailyCourse::NeverSets | DailyCourse::NeverRises => None,
        }
    }

    fn meridian_altitude(&self, declination: Latitude) -> Angle {
        let from_equator = declination.angle() * self.towards_pole();
        Angle::QUARTER_TURN - self.latitude.angle().abs() + from_equator
    }

    /// The Sun's hour angle at a sidereal time.
    fn hour_at(&self, sidereal_time: Angle) -> Angle {
        (sidereal_time - self.sun.right_ascension).signed()
    }

    /// The sidereal time by the clock.
    fn sidereal_time(&self) -> Angle {
        self.conditions.hour_for_rule() + self.sun.right_ascension
    }
}

struct Answers<'a> {
    facts: Facts<'a>,
    found: BTreeMap<Quantity, Angle>,
}

impl Answers<'_> {
    fn put(&mut self, finding: Finding, value: Option<Angle>) {
        self.put_quantity(Quantity::Found(finding), value);
    }

    fn put_quantity(&mut self, quantity: Quantity, value: Option<Angle>) {
        if let Some(value) = value.filter(|value| value.is_finite()) {
            self.found.insert(quantity, value);
        }
    }

    fn angles(&mut self, sidereal_time: Angle) {
        let horizon = self.facts.horizon(sidereal_time);
        self.put_quantity(Quantity::Ascendant, horizon.ascendant().ok());
        self.put_quantity(Quantity::Midheaven, Some(horizon.midheaven()));
    }

    fn of(&mut self, task: Task) {
        match task {
            Task::SunDegree => {
                let longitude = self.facts.conditions.given.sun.longitude;
                self.put_quantity(Quantity::SunDegree, Some(longitude));
            }
            Task::Altitude => {
                let altitude = self.facts.seen(Sight::Altitude);
                self.put_quantity(Quantity::Seen(Sight::Altitude), altitude);
            }
            Task::HourBySun | Task::BetweenAlmucantars => self.hour_by(Some(self.facts.sun)),
            Task::HourByStar => self.hour_by(self.facts.star()),
            Task::DawnAndNightfall
            | Task::DayAndNight
            | Task::DayWithTwilights
            | Task::UnequalHours
            | Task::EqualHours
            | Task::HoursGone
            | Task::PlanetaryHour
            | Task::HourSpan => self.day(),
            Task::StarUp => self.up(self.facts.star()),
            Task::DegreeUp => {
                let degree = self.facts.told(Told::Degree);
                self.up(degree.map(|degree| self.facts.degree(degree)));
            }
            Task::DirectionToAscendant | Task::DirectionToMidheaven => self.direction(task),
            Task::MeridianAltitude => {
                let subject = self.facts.subject();
                let altitude = subject.map(|at| self.facts.meridian_altitude(at.declination));
                self.put(Finding::MeridianAltitude, altitude);
            }
            Task::SunDegreeByAltitude => {
                let seen = self.facts.seen_on_meridian(Sight::NoonAltitude);
                self.through_zenith(seen);
                let degree = self.sun_degree_by_altitude();
                self.put(Finding::SunDegree, degree);
            }
            Task::EquallyLongDays => {
                let degree = self.facts.told(Told::Degree);
                let declination = degree.map(|degree| self.facts.degree(degree).declination);
                let altitude = declination.map(|d| self.facts.meridian_altitude(d));
                self.put(Finding::MeridianAltitude, altitude);
                let other = degree.map(|degree| (Angle::HALF_TURN - degree).in_turn());
                self.put(Finding::OtherDegree, other);
            }
            Task::Declination => {
                let degree = self.facts.told(Told::Degree);
                if let Some(place) = degree.map(|degree| self.facts.degree(degree)) {
                    self.declination(place.declination);
                }
            }
            Task::PlateLatitude => self.pole(),
            Task::LatitudeByCircumpolarStar => {
                let upper = self.facts.seen_on_meridian(Sight::UpperAltitude);
                self.through_zenith(upper);
                let lower = self.facts.seen(Sight::LowerAltitude);
                let pole = upper.zip(lower).map(|(upper, lower)| (upper + lower) / 2.0);
                self.put(Finding::PoleAltitude, pole);
            }
            Task::LatitudeByNoonSun => self.latitude_by(Some(self.facts.sun)),
            Task::LatitudeByStar => self.latitude_by(self.facts.star()),
            Task::FourQuarters | Task::AzimuthByAltitude => self.azimuth_by_altitude(),
            Task::SunriseAzimuth => self.rising_azimuths(),
            Task::AzimuthAtHour => self.at_hour(),
            Task::RightAscension | Task::ObliqueAscension => self.ascensions(),
            Task::StarDegreeByTwoAltitudes => self.star_degree(),
            Task::CulminatingDegree => {
                let theta = self.facts.star().map(|star| star.right_ascension);
                let degree = theta.map(|theta| self.facts.horizon(theta).midheaven());
                self.put(Finding::CulminatingDegree, degree);
            }
            Task::RisingDegree => {
                if let Some(star) = self.facts.star() {
                    self.rising_degrees(star);
                }
            }
            Task::PlanetLatitude => self.planet_latitude(),
            Task::MoonDegree => {
                let degree = self.moon_degree();
                self.put(Finding::MoonDegree, degree);
            }
            Task::RisingDegreeOfPlanet => self.rising_degree_of_planet(),
            Task::HousesByHours => self.houses(Procedure::Turning),
            Task::HousesByLimb => self.houses(Procedure::LimbThirds),
            // These are sums on paper: calculation has nothing to add.
            Task::DirectOrRetrograde
            | Task::MeridianByShadows
            | Task::HeightByRecta
            | Task::HeightByVersa
            | Task::HeightByVersaTwice
            | Task::HeightByRectaTwice
            | Task::RectaToVersa => {}
        }
    }

    fn hour_by(&mut self, body: Option<Place>) {
        let Some((body, altitude)) = body.zip(self.facts.seen(Sight::Altitude)) else {
            return;
        };
        let side = self.facts.way.side;
        if let Some(hour_angle) = self.facts.hour_angle_at(body.declination, altitude, side) {
            let theta = hour_angle + body.right_ascension;
            self.put(Finding::Hour, Some(self.facts.hour_at(theta)));
            self.angles(theta);
        }
    }

    fn day(&mut self) {
        let facts = &self.facts;
        let declination = facts.sun.declination;
        let hour = facts.conditions.hour_for_rule();
        let depth = Angle::from_deg(-18.0);
        let dawn = facts.hour_angle_at(declination, depth, Pick::Eastern);
        let nightfall = facts.hour_angle_at(declination, depth, Pick::Western);
        let arcs = facts.arcs(declination);
        let number = f64::from(facts.way.hour.clamp(1, 24));
        let told = facts.told(Told::UnequalHours);
        self.put(Finding::Dawn, dawn);
        self.put(Finding::Nightfall, nightfall);
        let whole = dawn
            .zip(nightfall)
            .map(|(dawn, nightfall)| nightfall - dawn);
        self.put(Finding::DayWithTwilights, whole);
        let Some(arcs) = arcs else {
            return;
        };
        let twilight = dawn.map(|dawn| arcs.rising() - dawn);
        let unequal = |hours: f64| {
            if hours <= 12.0 {
                arcs.rising() + arcs.unequal_hour_of_day() * hours
            } else {
                arcs.setting() + arcs.unequal_hour_of_night() * (hours - 12.0)
            }
        };
        let length = if number > 12.0 {
            arcs.unequal_hour_of_night()
        } else {
            arcs.unequal_hour_of_day()
        };
        let since_sunrise = (hour - arcs.rising()).in_turn();
        let since_sunset = (hour - arcs.setting()).in_turn();
        let now = if since_sunrise < arcs.day() {
            since_sunrise / arcs.unequal_hour_of_day()
        } else {
            12.0 + since_sunset / arcs.unequal_hour_of_night()
        };
        for (finding, value) in [
            (Finding::Twilight, twilight),
            (Finding::Hour, Some(hour)),
            (Finding::Sunrise, Some(arcs.rising())),
            (Finding::Sunset, Some(arcs.setting())),
            (Finding::DayArc, Some(arcs.day())),
            (Finding::NightArc, Some(arcs.night())),
            (Finding::UnequalHourOfDay, Some(arcs.unequal_hour_of_day())),
            (
                Finding::UnequalHourOfNight,
                Some(arcs.unequal_hour_of_night()),
            ),
            (Finding::EqualHours, told.map(|told| length * told.hours())),
            (Finding::SinceSunrise, Some(since_sunrise)),
            (Finding::SinceSunset, Some(since_sunset)),
            (Finding::UnequalHour, Some(Angle::from_hours(now))),
            (Finding::HourBegins, Some(unequal(number - 1.0).signed())),
            (Finding::HourEnds, Some(unequal(number).signed())),
        ] {
            self.put(finding, value);
        }
    }

    fn up(&mut self, body: Option<Place>) {
        let Some(star) = body else {
            return;
        };
        let hour = |hour_angle: Angle| self.facts.hour_at(hour_angle + star.right_ascension);
        let culmination = hour(Angle::ZERO);
        let arcs = self.facts.arcs(star.declination);
        let risings = arcs.map(|arcs| (hour(arcs.rising()), hour(arcs.setting())));
        self.put(Finding::Culmination, Some(culmination));
        self.put(Finding::Rising, risings.map(|(rising, _)| rising));
        self.put(Finding::Setting, risings.map(|(_, setting)| setting));
        self.put(Finding::ArcAbove, arcs.map(SemiArcs::day));
    }

    fn sun_degree_by_altitude(&self) -> Option<Angle> {
        let facts = &self.facts;
        let altitude = facts.seen_on_meridian(Sight::NoonAltitude)?;
        let from_equator = altitude + facts.latitude.angle().abs() - Angle::QUARTER_TURN;
        // sin λ = sin δ / sin ε, in the half of the year that it is.
        let sine = from_equator.sin() * facts.towards_pole() / facts.obliquity.sin();
        let first = (sine.abs() <= 1.0).then(|| Angle::asin(sine))?;
        let season = facts.conditions.given.sun.longitude;
        let other = Angle::HALF_TURN - first;
        let nearer = season.to(first).abs() <= season.to(other).abs();
        Some(if nearer { first } else { other }.in_turn())
    }

    fn through_zenith(&mut self, counted: Option<Angle>) {
        let counted = counted.filter(|_| self.facts.way.beyond_zenith);
        self.put(Finding::ThroughZenith, counted);
    }

    fn declination(&mut self, declination: Latitude) {
        let altitude = self.facts.meridian_altitude(declination);
        self.put(Finding::MeridianAltitude, Some(altitude));
        self.put(Finding::Declination, Some(declination.angle()));
        let pole = self.facts.latitude.angle().abs();
        self.put(Finding::EquatorAltitude, Some(Angle::QUARTER_TURN - pole));
    }

    fn pole(&mut self) {
        let pole = self.facts.latitude.angle().abs();
        self.put(Finding::PoleAltitude, Some(pole));
        self.put(Finding::EquatorAltitude, Some(Angle::QUARTER_TURN - pole));
    }

    fn latitude_by(&mut self, body: Option<Place>) {
        let noon = self.facts.seen_on_meridian(Sight::NoonAltitude);
        let Some((body, noon)) = body.zip(noon) else {
            return;
        };
        self.through_zenith(Some(noon));
        self.declination(body.declination);
        let equator = noon - body.declination.angle() * self.facts.towards_pole();
        self.put(Finding::EquatorHere, Some(equator));
        self.put(Finding::PoleAltitude, Some(Angle::QUARTER_TURN - equator));
    }

    fn azimuth_by_altitude(&mut self) {
        let facts = &self.facts;
        let Some((body, altitude)) = facts.subject().zip(facts.seen(Sight::Altitude)) else {
            return;
        };
        let at = facts.hour_angle_at(body.declination, altitude, facts.way.side);
        let azimuth = at.map(|at| {
            let horizon = facts.horizon(at + body.right_ascension);
            horizon
                .position(body.right_ascension, body.declination)
                .azimuth
        });
        self.put(Finding::Azimuth, azimuth);
        let from_south = azimuth.map(|azimuth| (azimuth - Angle::HALF_TURN).signed());
        self.put(Finding::FromSouth, from_south);
    }

    fn rising_azimuths(&mut self) {
        let facts = &self.facts;
        let Some(body) = facts.subject() else {
            return;
        };
        // cos A = sin δ / cos φ.
        let arcs = facts.arcs(body.declination);
        let azimuth = arcs.map(|_| Angle::acos(body.declination.sin() / facts.latitude.cos()));
        self.put(Finding::Azimuth, azimuth);
        let setting = azimuth.map(|azimuth| Angle::FULL_TURN - azimuth);
        self.put(Finding::SettingAzimuth, setting);
    }

    fn at_hour(&mut self) {
        let facts = &self.facts;
        let Some(body) = facts.subject() else {
            return;
        };
        let horizon = facts.horizon(facts.sidereal_time());
        let position = horizon.position(body.right_ascension, body.declination);
        self.put(Finding::Azimuth, Some(position.azimuth));
        self.put(Finding::Altitude, Some(position.altitude));
    }

    fn ascensions(&mut self) {
        let facts = &self.facts;
        let (first, second) = (facts.told(Told::Degree), facts.told(Told::OtherDegree));
        let Some((first, second)) = first.zip(second) else {
            return;
        };
        let horizon = facts.horizon(Angle::ZERO);
        let right = horizon.right_ascension(second) - horizon.right_ascension(first);
        let oblique = |degree| horizon.oblique_ascension(degree).ok();
        let oblique = oblique(first).zip(oblique(second));
        self.put(Finding::RightAscension, Some(right.in_turn()));
        let arc = oblique.map(|(first, second)| (second - first).in_turn());
        self.put(Finding::ObliqueAscension, arc);
    }

    /// Skeat's correction of II.17: the oblique ascensions are halved.
    fn star_degree(&mut self) {
        let facts = &self.facts;
        let (first, second) = (facts.told(Told::Degree), facts.told(Told::OtherDegree));
        let Some((first, second)) = first.zip(second) else {
            return;
        };
        let horizon = facts.horizon(Angle::ZERO);
        let oblique = |degree| horizon.oblique_ascension(degree).ok();
        let middle = oblique(first).zip(oblique(second)).map(|(first, second)| {
            let middle = first + (second - first).in_turn() / 2.0;
            facts.horizon(middle - Angle::QUARTER_TURN)
        });
        let degree = middle.map(|middle| middle.midheaven());
        self.put(Finding::CulminatingDegree, degree);
        self.put(Finding::OldCulminatingDegree, degree);
        let rising = middle.and_then(|middle| middle.ascendant().ok());
        self.put(Finding::OldRisingDegree, rising);
    }

    fn rising_degrees(&mut self, body: Place) {
        let arcs = self.facts.arcs(body.declination);
        let ascendant = |hour_angle: Angle| {
            let horizon = self.facts.horizon(hour_angle + body.right_ascension);
            horizon.ascendant().ok()
        };
        let rising = arcs.and_then(|arcs| ascendant(arcs.rising()));
        let setting = arcs.and_then(|arcs| ascendant(arcs.setting()));
        let setting = setting.map(|degree| (degree + Angle::HALF_TURN).in_turn());
        self.put(Finding::RisingDegree, rising);
        self.put(Finding::SettingDegree, setting);
    }

    /// The latitude that gives the altitude seen, on the circle of latitude:
    /// sin δ = sin β cos ε + cos β sin λ sin ε.
    fn planet_latitude(&mut self) {
        let facts = &self.facts;
        let seen = facts.seen_on_meridian(Sight::WandererAltitude);
        let Some((degree, altitude)) = facts.told(Told::Degree).zip(seen) else {
            return;
        };
        let of_degree = facts.meridian_altitude(facts.degree(degree).declination);
        self.put(Finding::MeridianAltitude, Some(of_degree));
        self.through_zenith(Some(altitude));
        // Seen on the meridian, the planet culminates with another degree than its
        // own; the declination alone is used.
        let facts = &self.facts;
        let from_equator = altitude + facts.latitude.angle().abs() - Angle::QUARTER_TURN;
        let sine = from_equator.sin() * facts.towards_pole();
        let (a, b) = (facts.obliquity.cos(), degree.sin() * facts.obliquity.sin());
        let size = a.hypot(b);
        let latitude = (sine.abs() <= size).then(|| Angle::asin(sine / size) - Angle::atan2(b, a));
        self.put(Finding::PlanetLatitude, latitude);
    }

    /// The ecliptic's degree at an altitude: sin h is a wave along the ecliptic.
    fn moon_degree(&self) -> Option<Angle> {
        let facts = &self.facts;
        let (star, altitude) = (facts.star()?, facts.seen(Sight::Altitude)?);
        let wanted = facts.seen(Sight::WandererAltitude)?;
        let at = facts.hour_angle_at(star.declination, altitude, facts.way.side)?;
        let horizon = facts.horizon(at + star.right_ascension);
        let sine = |longitude: f64| {
            let position = horizon.position_of_degree(Angle::from_deg(longitude));
            position.altitude.sin()
        };
        let (a, b) = (sine(0.0), sine(90.0));
        let crest = Angle::atan2(b, a);
        let ratio = wanted.sin() / a.hypot(b);
        let off = (ratio.abs() <= 1.0).then(|| Angle::acos(ratio))?;
        let east = |degree: &Angle| {
            let azimuth = horizon.position_of_degree(*degree).azimuth;
            (azimuth < Angle::HALF_TURN) == (facts.way.other_side != Pick::Western)
        };
        let mut on_side = [crest + off, crest - off].into_iter().filter(east);
        let first = on_side.next()?;
        on_side.next().is_none().then(|| first.in_turn())
    }

    fn rising_degree_of_planet(&mut self) {
        let facts = &self.facts;
        let (degree, latitude) = (facts.told(Told::Degree), facts.told(Told::Latitude));
        let Some((longitude, latitude)) = degree.zip(latitude) else {
            return;
        };
        let body = facts.zodiacal(longitude, latitude);
        let of_degree = facts.meridian_altitude(facts.degree(longitude).declination);
        self.rising_degrees(body);
        self.found.remove(&Quantity::Found(Finding::SettingDegree));
        let rising = self
            .found
            .get(&Quantity::Found(Finding::RisingDegree))
            .copied();
        self.put(Finding::OldRisingDegree, rising);
        self.put(Finding::MeridianAltitude, Some(of_degree));
    }

    /// From the sidereal time of the moment to that at which the place comes to the angle.
    fn direction(&mut self, task: Task) {
        let facts = &self.facts;
        let (degree, latitude) = (facts.told(Told::Degree), facts.told(Told::Latitude));
        let Some((longitude, latitude)) = degree.zip(latitude) else {
            return;
        };
        let body = facts.zodiacal(longitude, latitude);
        let hour_angle = match task {
            Task::DirectionToAscendant => facts.arcs(body.declination).map(SemiArcs::rising),
            _ => Some(Angle::ZERO),
        };
        let now = facts.sidereal_time();
        let arc = hour_angle.map(|at| (at + body.right_ascension - now).in_turn());
        self.put(Finding::DirectionArc, arc);
    }

    fn houses(&mut self, procedure: Procedure) {
        let theta = self.facts.sidereal_time();
        self.angles(theta);
        let Ok(cusps) = Method::Alcabitius.cusps(&self.facts.horizon(theta)) else {
            return;
        };
        for (house, cusp) in House::ALL.into_iter().zip(cusps.all()) {
            if procedure.read_houses().contains(&house) {
                self.put_quantity(Quantity::Cusp(procedure, house), Some(cusp));
            }
        }
    }
}
