use sky::{Angle, Body, Instant, Search, SkyError, Sought, Tracked};

use super::{Almanac, Condition, FigureAngle, Spans};
use crate::{
    AspectKind, Choices, Dignity, Horizon, House, Method, Planet, PlanetaryHour, Sect, Site,
    SolarDay, UnderSun,
};

/// A search for the time when conditions hold, at a place.
///
/// A condition is a question of signs: of how far a longitude is from a degree, one body
/// from another, a degree from the horizon. What it says can change at the zeros of these
/// alone. All of them, its **seams**, are found; between two neighbouring seams it says one
/// thing, which a look at the middle tells. A seam too many does no harm. That none is
/// missing:
///
/// - Longitudes and their differences are cubics in each row of the [`Almanac`], with two
///   turns at most, which are known (`Almanac::passages`).
/// - A given degree rises, and culminates, once in a turn of the sky, at a sidereal time
///   that is known in closed form. Within the polar circles the ascendant also leaps across,
///   as the midheaven goes through the horizon: twice in a turn, likewise known.
/// - The degree of a body, or so much from it, rises and sets between turns of its height,
///   which are sought first ([`Search`]); its hour angle only grows.
/// - Up to 64° of latitude a cusp of any method goes forward through the signs, at all times
///   and faster than a planet (`tests/choosing.rs`), so that it meets the planet once in
///   each turn. Beyond, houses are sought by `whole-sign` and `equal` alone, which follow
///   the ascendant.
pub struct Choosing<'a> {
    /// The sky.
    pub almanac: &'a Almanac,
    /// The place.
    pub site: Site,
    /// The rules: house method and border, sunrise, dignities, beams.
    pub choices: &'a Choices,
    /// How many seconds its clocks are ahead of UT, which tells the day of the week.
    pub clock_ahead_of_ut_s: &'a dyn Fn(Instant) -> f64,
}

/// Up to this latitude every method divides the figure at every time, and every cusp goes forward.
const HOUSES_TO_DEG: f64 = 64.0;

const HOUR_S: f64 = 3600.0;

impl Choosing<'_> {
    /// The latitude, either way, up to which houses can be sought by every method.
    pub const HOUSES_TO_DEG: f64 = HOUSES_TO_DEG;

    /// Whether houses can be sought here, by the method that is chosen.
    #[must_use]
    pub fn has_houses(&self) -> bool {
        let follows_ascendant = matches!(self.choices.method, Method::WholeSign | Method::Equal);
        follows_ascendant || self.site.latitude.deg().abs() <= HOUSES_TO_DEG
    }

    /// When a condition holds: to a second of the ephemeris.
    ///
    /// # Errors
    /// When something that must be looked up is outside the span of the ephemeris.
    pub fn spans(&self, condition: &Condition) -> Result<Spans, SkyError> {
        let bounds = self.almanac.bounds();
        let passages = |body, levels: &[Angle]| self.almanac.passages(body, None, levels, false);
        let seams = match *condition {
            Condition::Ascendant(arc) => {
                let mut seams = self.leaps();
                seams.extend(self.rises(arc.begins));
                seams.extend(self.rises(arc.ends()));
                seams
            }
            Condition::Midheaven(arc) => {
                let culminates = |degree: Angle| {
                    let at = move |horizon: &Horizon| Some(horizon.right_ascension(degree));
                    self.almanac.at_sidereal_time(self.site, at)
                };
                [culminates(arc.begins), culminates(arc.ends())].concat()
            }
            Condition::Stands(body, arc) => passages(body, &[arc.begins, arc.ends()]),
            Condition::OnAngle(body, angle, orb) => {
                let on_horizon = |orb| self.degree_on_horizon(body, orb);
                let on_meridian = |orb| self.degree_on_meridian(body, orb);
                match angle {
                    FigureAngle::Ascendant | FigureAngle::Descendant => {
                        [self.leaps(), on_horizon(orb)?, on_horizon(-orb)?].concat()
                    }
                    FigureAngle::Midheaven | FigureAngle::LowerMidheaven => {
                        [on_meridian(orb)?, on_meridian(-orb)?].concat()
                    }
                }
            }
            Condition::InHouse(body, house) => self.house_seams(body, house)?,
            Condition::Waxing => {
                let levels = [Angle::ZERO, Angle::HALF_TURN];
                let (moon, sun) = (Body::Moon, Some(Body::Sun));
                self.almanac.passages(moon, sun, &levels, false)
            }
            Condition::InAspect(sought) => {
                let orb = sought.orb();
                let levels: Vec<Angle> = sought
                    .kinds()
                    .flat_map(|kind| [-orb, Angle::ZERO, orb].map(|off| kind.arc() + off))
                    .flat_map(|arc| [arc, -arc])
                    .collect();
                self.almanac
                    .passages(sought.one, Some(sought.other), &levels, true)
            }
            Condition::VoidOfCourse => return Ok(self.void_of_course().and(&all(bounds))),
            Condition::HourOf(planet) => {
                return self.planetary(|hour| hour.ruler == planet);
            }
            Condition::DayOf(planet) => {
                return self.planetary(|hour| hour.day_ruler == planet);
            }
            Condition::Direct(body) => self.almanac.passages(body, None, &[], true),
            Condition::Has(planet, _) | Condition::Dignified(planet) => {
                let mut seams = passages(planet.body(), &self.borders_of_dignities());
                seams.extend(self.sun_passes(Angle::ZERO)?);
                seams
            }
            Condition::UnderBeams(planet) | Condition::Combust(planet) => {
                let limits = self.choices.beams.limits();
                let levels: Vec<Angle> = limits.into_iter().flat_map(|at| [at, -at]).collect();
                let (planet, sun) = (planet.body(), Some(Body::Sun));
                let mut seams = self.almanac.passages(planet, sun, &levels, false);
                for body in [planet, Body::Sun] {
                    seams.extend(passages(body, &heads_of_signs()));
                }
                seams
            }
            Condition::ByDay => self.sun_passes(Angle::ZERO)?,
        };
        Ok(Spans::between(seams, bounds, |at| {
            self.holds(condition, at)
        }))
    }

    /// Whether a condition of the moment alone holds, between its seams.
    fn holds(&self, condition: &Condition, at: f64) -> bool {
        let horizon = || self.almanac.horizon(self.site, at);
        let longitude = |body| self.almanac.longitude(body, at);
        let day = || self.sun_height(at, Angle::ZERO) > Angle::ZERO;
        match *condition {
            Condition::Ascendant(arc) => horizon().ascendant().is_ok_and(|asc| arc.holds(asc)),
            Condition::Midheaven(arc) => arc.holds(horizon().midheaven()),
            Condition::Stands(body, arc) => arc.holds(longitude(body)),
            Condition::OnAngle(body, angle, orb) => {
                let horizon = horizon();
                let degree = match angle {
                    FigureAngle::Ascendant => horizon.ascendant().ok(),
                    FigureAngle::Descendant => {
                        horizon.ascendant().ok().map(|asc| asc + Angle::HALF_TURN)
                    }
                    FigureAngle::Midheaven => Some(horizon.midheaven()),
                    FigureAngle::LowerMidheaven => Some(horizon.midheaven() + Angle::HALF_TURN),
                };
                degree.is_some_and(|degree| degree.to(longitude(body)).abs() <= orb)
            }
            Condition::InHouse(body, house) => {
                let cusps = self.choices.method.cusps(&horizon());
                let border = self.choices.border;
                cusps.is_ok_and(|cusps| border.house_of(&cusps, longitude(body)) == house)
            }
            Condition::Waxing => {
                (longitude(Body::Moon) - longitude(Body::Sun)).in_turn() < Angle::HALF_TURN
            }
            Condition::InAspect(sought) => {
                let apart = longitude(sought.one).to(longitude(sought.other));
                let speed = |body| self.almanac.speed(body, at);
                // How fast the arc between them grows, in a day.
                let growth = (speed(sought.other) - speed(sought.one)) * apart.deg().signum();
                sought.kinds().any(|kind| {
                    let off = apart.abs() - kind.arc();
                    let applies = off.deg() * growth.deg() < 0.0;
                    off.abs() <= sought.orb()
                        && sought.applying.is_none_or(|wanted| wanted == applies)
                })
            }
            Condition::Direct(body) => self.almanac.speed(body, at) >= Angle::ZERO,
            Condition::Has(planet, dignity) => {
                let sect = if day() { Sect::Day } else { Sect::Night };
                let longitude = longitude(planet.body());
                let dignities = self.choices.dignities.of(planet, longitude, sect);
                dignities.has(dignity)
            }
            Condition::Dignified(planet) => {
                !self.holds(&Condition::Has(planet, Dignity::Peregrine), at)
            }
            Condition::UnderBeams(planet) => self.under_sun(planet, at).is_some(),
            Condition::Combust(planet) => matches!(
                self.under_sun(planet, at),
                Some(UnderSun::Heart | UnderSun::Combust)
            ),
            Condition::ByDay => day(),
            // These have spans of their own.
            Condition::VoidOfCourse | Condition::HourOf(_) | Condition::DayOf(_) => false,
        }
    }

    fn under_sun(&self, planet: Planet, at: f64) -> Option<UnderSun> {
        let longitude = |body| self.almanac.longitude(body, at);
        let beams = self.choices.beams;
        beams.of(longitude(planet.body()), longitude(Body::Sun))
    }

    /// When a degree rises.
    fn rises(&self, degree: Angle) -> Vec<f64> {
        self.almanac.at_sidereal_time(self.site, |horizon| {
            let rises_with = horizon.oblique_ascension(degree).ok()?;
            Some(rises_with - Angle::QUARTER_TURN)
        })
    }

    /// When the ascendant leaps: the midheaven goes through the horizon, which happens
    /// within the polar circles alone. sin θ = −1 / (tan φ tan ε), twice in a turn.
    fn leaps(&self) -> Vec<f64> {
        let leap = |horizon: &Horizon, second: bool| {
            let sine = -1.0 / (horizon.latitude.tan() * horizon.obliquity.tan());
            let first = (sine.abs() <= 1.0).then(|| Angle::asin(sine))?;
            Some(if second {
                Angle::HALF_TURN - first
            } else {
                first
            })
        };
        let when = |second| {
            self.almanac
                .at_sidereal_time(self.site, |horizon| leap(horizon, second))
        };
        [when(false), when(true)].concat()
    }

    /// When the degree so far from a body's own rises or sets.
    fn degree_on_horizon(&self, body: Body, off: Angle) -> Result<Vec<f64>, SkyError> {
        let height = |at: f64| {
            let degree = self.almanac.longitude(body, at) + off;
            let horizon = self.almanac.horizon(self.site, at);
            horizon.position_of_degree(degree).altitude
        };
        self.zeros(height)
    }

    /// When the degree so far from a body's own is on the meridian, above or below.
    fn degree_on_meridian(&self, body: Body, off: Angle) -> Result<Vec<f64>, SkyError> {
        let track = |at: f64| {
            let horizon = self.almanac.horizon(self.site, at);
            let degree = self.almanac.longitude(body, at) + off;
            let hour = horizon.hour_angle(horizon.right_ascension(degree));
            Tracked {
                away: hour - (hour / Angle::HALF_TURN).round() * Angle::HALF_TURN,
                // Nothing outruns the turning of the sky.
                rate: Angle::FULL_TURN,
            }
        };
        self.search(track, Angle::HALF_TURN)
    }

    /// When the Sun's centre passes a height.
    fn sun_passes(&self, altitude: Angle) -> Result<Vec<f64>, SkyError> {
        self.zeros(|at| self.sun_height(at, altitude))
    }

    /// The Sun's latitude of less than 1″ is left out.
    fn sun_height(&self, at: f64, altitude: Angle) -> Angle {
        let sun = self.almanac.longitude(Body::Sun, at);
        let horizon = self.almanac.horizon(self.site, at);
        horizon.position_of_degree(sun).altitude - altitude
    }

    /// The moments when a height is zero, which turns round once in an hour at most.
    fn zeros(&self, height: impl Fn(f64) -> Angle) -> Result<Vec<f64>, SkyError> {
        const MOMENT_S: f64 = 60.0;
        let track = |at: f64| {
            let away = height(at);
            Tracked {
                away,
                rate: (height(at + MOMENT_S) - away) * (86_400.0 / MOMENT_S),
            }
        };
        self.search(track, Angle::FULL_TURN)
    }

    fn search(&self, track: impl Fn(f64) -> Tracked, period: Angle) -> Result<Vec<f64>, SkyError> {
        let from = self.almanac.from();
        let (begins, ends) = self.almanac.wider();
        let track = |instant: Instant| Ok(track(instant.seconds_since(from)));
        let interval = (from.plus_seconds(begins), from.plus_seconds(ends));
        let sought = Sought::Passage(period);
        Search::new(track, sought, HOUR_S / 86_400.0, interval.0, interval.1)?
            .map(|found| Ok(found?.instant.seconds_since(from)))
            .collect()
    }

    /// When a house may begin or end to hold a body.
    fn house_seams(&self, body: Body, house: House) -> Result<Vec<f64>, SkyError> {
        const LEAD: Angle = Angle::from_deg(5.0);
        let leads = [Angle::ZERO, LEAD];
        match self.choices.method {
            Method::WholeSign => {
                let mut seams = self.leaps();
                for head in heads_of_signs() {
                    seams.extend(self.rises(head));
                }
                let levels = leads.map(|lead| heads_of_signs().map(|head| head - lead));
                seams.extend(self.almanac.passages(body, None, &levels.concat(), false));
                Ok(seams)
            }
            Method::Equal => {
                let mut seams = self.leaps();
                for house in [house, house.next()] {
                    for lead in leads {
                        let begins = Angle::from_deg(30.0 * f64::from(house.number() - 1));
                        seams.extend(self.degree_on_horizon(body, lead - begins)?);
                    }
                }
                Ok(seams)
            }
            method @ (Method::Alcabitius
            | Method::Regiomontanus
            | Method::Campanus
            | Method::Placidus
            | Method::Porphyry
            | Method::EqualFromMidheaven
            | Method::Meridian
            | Method::EquatorFromAscendant
            | Method::Morinus
            | Method::Koch
            | Method::Topocentric) => Ok([house, house.next()]
                .into_iter()
                .flat_map(|house| leads.map(|lead| (house, lead)))
                .flat_map(|(house, lead)| self.cusp_meets(method, house, lead, body))
                .collect()),
        }
    }

    /// When a point so far before a cusp meets a body. The cusp goes forward, and less than
    /// once round in an hour.
    fn cusp_meets(&self, method: Method, house: House, lead: Angle, body: Body) -> Vec<f64> {
        let past = |at: f64| {
            let cusps = method.cusps(&self.almanac.horizon(self.site, at)).ok()?;
            Some(cusps.get(house) - lead - self.almanac.longitude(body, at))
        };
        let (from, until) = self.almanac.bounds();
        let mut found = Vec::new();
        let mut at = from;
        while at < until {
            let end = (at + HOUR_S).min(until);
            if let (Some(first), Some(last)) = (past(at), past(end)) {
                let short = (-first).in_turn();
                if short <= (last - first).in_turn() {
                    let (mut before, mut after) = (at, end);
                    // An hour halved 22 times is a millisecond.
                    for _ in 0..22 {
                        let middle = f64::midpoint(before, after);
                        let gone = past(middle).map(|there| (there - first).in_turn());
                        if gone.is_some_and(|gone| gone >= short) {
                            after = middle;
                        } else {
                            before = middle;
                        }
                    }
                    found.push(after);
                }
            }
            at = end;
        }
        found
    }

    /// All degrees at which a dignity may begin or end. Every table divides at whole ones.
    fn borders_of_dignities(&self) -> Vec<Angle> {
        let tables = self.choices.dignities;
        let around = |degree: f64| {
            let rulers = |deg| tables.rulers(Angle::from_deg(deg));
            rulers(degree - 0.5) != rulers(degree + 0.5)
        };
        let degrees = (0..360_u16).map(f64::from);
        let borders = degrees.filter(|degree| around(*degree));
        borders.map(Angle::from_deg).collect()
    }

    /// From her last exact aspect in a sign, or where she makes none from her entry, to her
    /// leaving it.
    fn void_of_course(&self) -> Spans {
        let moon = Body::Moon;
        let enters = self.almanac.passages(moon, None, &heads_of_signs(), false);
        let others = Planet::ALL.into_iter().map(Planet::body);
        let arcs: Vec<Angle> = AspectKind::ALL
            .into_iter()
            .flat_map(|kind| [kind.arc(), -kind.arc()])
            .collect();
        let mut aspects: Vec<f64> = others
            .filter(|other| *other != moon)
            .flat_map(|other| self.almanac.passages(moon, Some(other), &arcs, false))
            .collect();
        aspects.sort_by(f64::total_cmp);
        let stays = enters.windows(2).map(|stay| {
            let (enters, leaves) = (stay[0], stay[1]);
            let before = aspects.partition_point(|aspect| *aspect < leaves);
            let last = before.checked_sub(1).and_then(|last| aspects.get(last));
            (last.copied().unwrap_or(enters).max(enters), leaves)
        });
        Spans::joined(stays)
    }

    /// The unequal hours of which something is true.
    fn planetary(&self, is_wanted: impl Fn(&PlanetaryHour) -> bool) -> Result<Spans, SkyError> {
        /// Where the Sun is up or down for longer there is no day of hours.
        const LONGEST_S: f64 = 86_400.0;
        let altitude = self.choices.sunrise.altitude();
        let passes = self.sun_passes(altitude)?;
        let instant = |at: f64| self.almanac.from().plus_seconds(at);
        let mut hours = Vec::new();
        for pair in passes.windows(2) {
            let (begins, ends) = (pair[0], pair[1]);
            if ends - begins > LONGEST_S {
                continue;
            }
            let middle = f64::midpoint(begins, ends);
            let (sect, noon) = if self.sun_height(middle, altitude) > Angle::ZERO {
                (Sect::Day, middle)
            } else {
                (Sect::Night, middle - LONGEST_S / 2.0)
            };
            let day = SolarDay {
                sect,
                begins: instant(begins),
                ends: instant(ends),
                noon: instant(noon),
            };
            let ahead_s = (self.clock_ahead_of_ut_s)(day.noon);
            let long_s = (ends - begins) / 12.0;
            for hour in 0..12_u8 {
                let from = begins + long_s * f64::from(hour);
                let within = instant(from + long_s / 2.0);
                if is_wanted(&PlanetaryHour::at(&day, within, ahead_s)) {
                    hours.push((from, from + long_s));
                }
            }
        }
        Ok(Spans::joined(hours).and(&all(self.almanac.bounds())))
    }
}

fn all((from, until): (f64, f64)) -> Spans {
    Spans::one(from, until)
}

fn heads_of_signs() -> [Angle; 12] {
    std::array::from_fn(|sign| Angle::from_deg(30.0 * sign as f64))
}
