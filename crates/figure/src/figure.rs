use sky::{Angle, Apparent, Body, Instant, Sky, SkyError, astrolabe_stars};

use crate::planetary_hour::hour_number;
use crate::{
    AccidentPoints, Aspect, BeamLimits, Border, Cusps, DailyCourse, Dignities, DignityTables,
    Horizon, House, LotInputs, Lots, LotsByNight, Lunation, Method, Motion, NoAnswer, OrbTable,
    Planet, PlanetaryHour, Reason, Reception, Sect, Site, SolarDay, Subject, Sunrise, UnderSun,
    antiscion, contra_antiscion, ruler_of_hour,
};

/// By which rules a figure is finished. Each names its printed source.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choices {
    /// The house method.
    pub method: Method,
    /// Where houses begin to count.
    pub border: Border,
    /// Whether Uranus, Neptune and Pluto are shown.
    pub outer: bool,
    /// Which node of the Moon.
    pub node: NodeKind,
    /// What is taken for sunrise.
    pub sunrise: Sunrise,
    /// The tables of dignities.
    pub dignities: DignityTables,
    /// The table of orbs.
    pub orbs: OrbTable,
    /// The limits of the Sun's beams.
    pub beams: BeamLimits,
    /// The points of accidental dignities.
    pub accidents: AccidentPoints,
    /// The lots.
    pub lots: Lots,
    /// Whether lots change by night.
    pub by_night: LotsByNight,
    /// How near in longitude a star of an instrument must stand to be shown; none
    /// are looked for at zero.
    pub star_orb: Angle,
}

/// Which node of the Moon's path is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum NodeKind {
    /// The mean one, which the old tables give.
    #[default]
    Mean,
    /// The one of the ellipse that the Moon follows at the instant.
    True,
}

impl NodeKind {
    /// Both.
    pub const ALL: [NodeKind; 2] = [NodeKind::Mean, NodeKind::True];

    /// `mean` or `true`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            NodeKind::Mean => "mean",
            NodeKind::True => "true",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            NodeKind::Mean => "common practice of the old tables",
            NodeKind::True => "the ellipse that the Moon follows at the instant",
        }
    }
}

/// A finished figure.
#[derive(Clone, Debug)]
pub struct Figure {
    /// The horizon it is cast for.
    pub horizon: Horizon,
    /// The ascendant.
    pub ascendant: Result<Angle, NoAnswer>,
    /// The midheaven.
    pub midheaven: Angle,
    /// The cusps.
    pub cusps: Result<Cusps, NoAnswer>,
    /// Whether it is of the day or the night.
    pub sect: Sect,
    /// The day or night that holds the moment; none where the Sun does not rise.
    pub day: Result<SolarDay, NoAnswer>,
    /// The planetary hour.
    pub hour: Result<PlanetaryHour, NoAnswer>,
    /// The Sun, the Moon and the planets.
    pub bodies: Vec<Placed>,
    /// The Moon's ascending node, and its house.
    pub north_node: (Angle, Option<House>),
    /// Aspects by degree, each pair once.
    pub aspects: Vec<Aspect>,
    /// Which planets receive which.
    pub receptions: Vec<Reception>,
    /// The lots, in the order of the list; none where one has no answer.
    pub lots: Vec<Option<(Angle, Option<House>)>>,
    /// The new or full Moon before; none before the span of the ephemeris.
    pub lunation: Option<Lunation>,
    /// Stars that stand near a body or an angle in longitude.
    pub stars: Vec<StarNear>,
}

/// A body in the figure.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Which.
    pub body: Body,
    /// Where it appears.
    pub place: Apparent,
    /// Its house, where the method has an answer.
    pub house: Option<House>,
    /// Its dignities; none for the outer three.
    pub dignities: Option<Dignities>,
    /// How it moves.
    pub motion: Motion,
    /// Whether the Sun hides it; never for the Sun itself.
    pub under_sun: Option<UnderSun>,
    /// Its antiscion.
    pub antiscion: Angle,
    /// Opposite that.
    pub contra_antiscion: Angle,
    /// Whether it is above the horizon itself, by its own latitude.
    pub up: bool,
    /// The equator's degree that rises with it, by its own latitude; none where it
    /// neither rises nor sets.
    pub oblique_ascension: Option<Angle>,
}

/// A star near a body or an angle.
#[derive(Clone, Debug, PartialEq)]
pub struct StarNear {
    /// Its name.
    pub star: &'static str,
    /// Its longitude.
    pub longitude: Angle,
    /// The body, `ascendant` or `midheaven`.
    pub to: &'static str,
    /// From it to the star.
    pub away: Angle,
}

/// Angles and cusps that were read or printed, to finish a figure from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GivenAngles {
    /// The ascendant.
    pub ascendant: Angle,
    /// The midheaven.
    pub midheaven: Angle,
    /// The cusps, where there are twelve.
    pub cusps: Option<Cusps>,
    /// The unequal hours of the day or the night that have passed, in [0, 12), where
    /// they were read among the hour lines. Else they are the ones that the ascendant
    /// and the Sun's degree make: [`Horizon::unequal_hours_by_ascendant`].
    pub hours: Option<(Sect, f64)>,
}

impl Figure {
    /// The figure of a sky at a place whose clocks are so many seconds ahead of UT.
    ///
    /// # Errors
    /// When a sunrise it needs is outside the span of the ephemeris.
    pub fn cast(
        sky: &Sky,
        site: Site,
        clock_ahead_of_ut_s: f64,
        choices: &Choices,
    ) -> Result<Figure, SkyError> {
        let horizon = site.horizon(sky);
        let day = SolarDay::at(sky, site, choices.sunrise)?;
        let hour = day
            .as_ref()
            .map(|day| PlanetaryHour::at(day, sky.instant(), clock_ahead_of_ut_s))
            .map_err(|none| *none);
        let sun = sky.sun();
        let altitude = horizon
            .position(sun.right_ascension, sun.declination)
            .altitude;
        let angles = Angles {
            ascendant: horizon.ascendant(),
            midheaven: horizon.midheaven(),
            cusps: choices.method.cusps(&horizon),
            sect: Sect::of_altitude(altitude),
            day,
            hour,
        };
        Ok(angles.finished(sky, horizon, choices))
    }

    /// The same from angles that were read: houses, lots, sect and hour follow
    /// from them, the planets from the sky.
    ///
    /// # Errors
    /// As [`Figure::cast`].
    pub fn from_angles(
        sky: &Sky,
        site: Site,
        clock_ahead_of_ut_s: f64,
        given: &GivenAngles,
        choices: &Choices,
    ) -> Result<Figure, SkyError> {
        let horizon = site.horizon(sky);
        let sun = sky.sun().longitude;
        let day = SolarDay::at(sky, site, choices.sunrise)?;
        let read = given.hours.map_or_else(
            || horizon.unequal_hours_by_ascendant(given.ascendant, sun),
            Ok,
        );
        let hour = match (&day, read) {
            (Ok(day), Ok((sect, passed))) => {
                let exact = PlanetaryHour::at(day, sky.instant(), clock_ahead_of_ut_s);
                Ok(read_hour(&exact, day, sky.instant(), (sect, passed)))
            }
            (Err(none), _) => Err(*none),
            (_, Err(none)) => Err(none),
        };
        let none = || horizon.no_answer(Subject::Cusps(choices.method), Reason::OutOfOrder);
        let angles = Angles {
            ascendant: Ok(given.ascendant),
            midheaven: given.midheaven,
            cusps: given.cusps.ok_or_else(none),
            sect: Sect::of_ascendant(given.ascendant, sun),
            day,
            hour,
        };
        Ok(angles.finished(sky, horizon, choices))
    }

    /// A body of the figure, if it is shown.
    #[must_use]
    pub fn body(&self, body: Body) -> Option<&Placed> {
        self.bodies.iter().find(|placed| placed.body == body)
    }
}

/// The hour of a reading, named by the day of the exact one.
fn read_hour(
    exact: &PlanetaryHour,
    day: &SolarDay,
    instant: Instant,
    (sect, passed): (Sect, f64),
) -> PlanetaryHour {
    const DAY_AND_NIGHT_S: f64 = 86_400.0;
    let number = hour_number(passed);
    // Across a sunrise the reading belongs to the neighbouring day: the next day's
    // planet stands three places down the spheres, the last one's four.
    let day_ruler = match (exact.sect, sect) {
        (Sect::Day, Sect::Night) if exact.number <= 6 => exact.day_ruler.down(4),
        (Sect::Night, Sect::Day) if exact.number > 6 => exact.day_ruler.down(3),
        _ => exact.day_ruler,
    };
    let long_s = if sect == exact.sect {
        day.unequal_hour_s()
    } else {
        DAY_AND_NIGHT_S / 12.0 - day.unequal_hour_s()
    };
    let begins = instant.plus_seconds((f64::from(number - 1) - passed) * long_s);
    PlanetaryHour {
        sect,
        number,
        ruler: ruler_of_hour(day_ruler, sect, number),
        day_ruler,
        begins,
        ends: begins.plus_seconds(long_s),
    }
}

/// What a figure is finished from.
struct Angles {
    ascendant: Result<Angle, NoAnswer>,
    midheaven: Angle,
    cusps: Result<Cusps, NoAnswer>,
    sect: Sect,
    day: Result<SolarDay, NoAnswer>,
    hour: Result<PlanetaryHour, NoAnswer>,
}

impl Angles {
    fn finished(self, sky: &Sky, horizon: Horizon, choices: &Choices) -> Figure {
        let cusps = self.cusps.ok();
        let house = |longitude| cusps.map(|cusps| choices.border.house_of(&cusps, longitude));
        let sun = sky.sun();
        let places: [Apparent; 10] = Body::ALL.map(|body| match body {
            Body::Sun => sun,
            other @ (Body::Moon
            | Body::Mercury
            | Body::Venus
            | Body::Mars
            | Body::Jupiter
            | Body::Saturn
            | Body::Uranus
            | Body::Neptune
            | Body::Pluto) => sky.body(other),
        });
        let planets: Vec<(Planet, Angle)> = Body::ALL
            .into_iter()
            .zip(&places)
            .filter_map(|(body, place)| Some((Planet::of(body)?, place.longitude)))
            .collect();
        let shown = if choices.outer { 10 } else { 7 };
        let bodies: Vec<Placed> = Body::ALL
            .into_iter()
            .zip(places)
            .take(shown)
            .map(|(body, place)| {
                let planet = Planet::of(body);
                Placed {
                    body,
                    place,
                    house: house(place.longitude),
                    dignities: planet.map(|planet| {
                        let tables = choices.dignities;
                        tables.among(planet, place.longitude, self.sect, &planets)
                    }),
                    motion: Motion::of(planet, &place),
                    under_sun: (body != Body::Sun)
                        .then(|| choices.beams.of_body(&place, &sun))
                        .flatten(),
                    antiscion: antiscion(place.longitude),
                    contra_antiscion: contra_antiscion(place.longitude),
                    up: horizon
                        .position(place.right_ascension, place.declination)
                        .altitude
                        > Angle::ZERO,
                    oblique_ascension: rises_with(&horizon, &place),
                }
            })
            .collect();
        let north_node = match choices.node {
            NodeKind::Mean => sky.mean_node(),
            NodeKind::True => sky.true_node(),
        };
        let lunation = Lunation::before(sky).ok();
        let ascendant = self.ascendant.ok();
        let longitude = |wanted: Body| {
            let found = Body::ALL.into_iter().zip(&places);
            let mut found = found.filter(|(body, _)| *body == wanted);
            found
                .next()
                .map_or(Angle::ZERO, |(_, place)| place.longitude)
        };
        let lots = choices.lots.cast(&LotInputs {
            sect: self.sect,
            by_night: choices.by_night,
            ascendant,
            midheaven: self.midheaven,
            cusps: cusps.as_ref(),
            north_node,
            lunation: lunation.map(|lunation| lunation.moon),
            body: &longitude,
        });
        let aspects = aspects(&bodies, choices.orbs);
        let stars = stars_near(sky, choices.star_orb, &bodies, ascendant, self.midheaven);
        Figure {
            horizon,
            ascendant: self.ascendant,
            midheaven: self.midheaven,
            cusps: self.cusps,
            sect: self.sect,
            day: self.day,
            hour: self.hour,
            receptions: choices.dignities.receptions(&planets, self.sect, &aspects),
            aspects,
            north_node: (north_node, house(north_node)),
            lots: lots
                .into_iter()
                .map(|lot| lot.map(|longitude| (longitude, house(longitude))))
                .collect(),
            lunation,
            stars,
            bodies,
        }
    }
}

fn aspects(bodies: &[Placed], orbs: OrbTable) -> Vec<Aspect> {
    let mut found = Vec::new();
    for (index, one) in bodies.iter().enumerate() {
        for other in bodies.iter().skip(index + 1) {
            let pair = ((one.body, &one.place), (other.body, &other.place));
            found.extend(Aspect::between(pair.0, pair.1, orbs));
        }
    }
    found
}

/// The equator's degree that rises with a body: its right ascension less its
/// ascensional difference.
fn rises_with(horizon: &Horizon, place: &Apparent) -> Option<Angle> {
    match horizon.daily_course(place.declination) {
        DailyCourse::RisesAndSets(arcs) => {
            Some((place.right_ascension - arcs.ascensional_difference()).in_turn())
        }
        DailyCourse::NeverSets | DailyCourse::NeverRises => None,
    }
}

/// The stars of instruments, where they appear, as the bodies do. (A rete has them at
/// mean places, up to 40″ away.)
fn stars_near(
    sky: &Sky,
    orb: Angle,
    bodies: &[Placed],
    ascendant: Option<Angle>,
    midheaven: Angle,
) -> Vec<StarNear> {
    if orb <= Angle::ZERO {
        return Vec::new();
    }
    let mut to: Vec<(&'static str, Angle)> = bodies
        .iter()
        .map(|placed| (placed.body.name(), placed.place.longitude))
        .collect();
    to.extend(ascendant.map(|ascendant| ("ascendant", ascendant)));
    to.push(("midheaven", midheaven));
    let mut found = Vec::new();
    for star in astrolabe_stars() {
        let longitude = sky.star(star).longitude;
        for (name, target) in &to {
            let away = target.to(longitude);
            if away.abs() <= orb {
                found.push(StarNear {
                    star: star.label(),
                    longitude,
                    to: name,
                    away,
                });
            }
        }
    }
    found
}
