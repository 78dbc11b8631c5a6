use sky::{Angle, Instant, Sky, SkyError};

use crate::{DailyCourse, Horizon, NoAnswer, Reason, Sect, Site, Subject};

/// What is taken for sunrise and sunset.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Sunrise {
    /// The Sun's centre on the true horizon, without refraction: what the horizon
    /// of a plate shows.
    #[default]
    Centre,
    /// The Sun's upper limb on the sea horizon as it is seen, its centre 50′ below
    /// (refraction 34′, semi-diameter 16′; the almanacs' common practice).
    UpperLimb,
}

impl Sunrise {
    /// Both.
    pub const ALL: [Sunrise; 2] = [Sunrise::Centre, Sunrise::UpperLimb];

    /// `centre` or `upper-limb`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Sunrise::Centre => "centre",
            Sunrise::UpperLimb => "upper-limb",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Sunrise::Centre => {
                "the Sun's centre on the true horizon, without refraction, as a plate shows it"
            }
            Sunrise::UpperLimb => {
                "the Sun's upper limb as it is seen, the centre 50′ below (common practice of almanacs)"
            }
        }
    }

    /// The altitude of the Sun's centre at that instant.
    #[must_use]
    pub const fn altitude(self) -> Angle {
        match self {
            Sunrise::Centre => Angle::ZERO,
            Sunrise::UpperLimb => Angle::from_arcmin(-50.0),
        }
    }
}

/// The day or the night that holds an instant, from sunrise to sunset or from
/// sunset to sunrise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolarDay {
    /// Which of the two.
    pub sect: Sect,
    /// When it began.
    pub begins: Instant,
    /// When it ends.
    pub ends: Instant,
    /// The Sun's passage of the meridian in the day that is, or that the night follows.
    pub noon: Instant,
}

/// Seconds of time in which the Sun's hour angle grows by a degree.
const SECONDS_PER_DEGREE: f64 = 240.0;

const DAY_SECONDS: f64 = 86_400.0;

/// Moments are told to the millisecond, and a rising is found to one or two: nearer than
/// this an instant is at the rising itself, and what begins with it is meant.
pub(crate) const AT_ONCE_S: f64 = 0.01;

/// The Sun at an instant, with what is needed to reckon a day either way.
pub(crate) struct Reckoned {
    hour_angle: Angle,
    declination: Angle,
    /// In a day.
    declination_rate: Angle,
    altitude: Angle,
}

impl Reckoned {
    pub(crate) fn at(sky: &Sky, site: Site) -> Reckoned {
        let sun = sky.sun();
        let horizon = site.horizon(sky);
        let declination = sun.declination.angle();
        let (sin, cos) = (sky.obliquity().sin(), sun.longitude.cos());
        Reckoned {
            hour_angle: horizon.hour_angle(sun.right_ascension),
            declination,
            declination_rate: sun.speed * (sin * cos / declination.cos()),
            altitude: horizon
                .position(sun.right_ascension, sun.declination)
                .altitude,
        }
    }

    /// The hour angle at which the Sun crosses an altitude, with the declination it
    /// has so many seconds later; none while it does not cross it.
    fn crossing(&self, site: Site, altitude: Angle, later_s: f64) -> Option<Angle> {
        let declination = self.declination + self.declination_rate * (later_s / DAY_SECONDS);
        let (sin_latitude, cos_latitude) = (site.latitude.sin(), site.latitude.cos());
        let cos = (altitude.sin() - sin_latitude * declination.sin())
            / (cos_latitude * declination.cos());
        (cos.abs() < 1.0).then(|| Angle::acos(cos))
    }
}

impl SolarDay {
    /// The day or night at a place that holds the instant of a sky; at a rising or
    /// setting, the one that begins with it. To 0.01 s up to 60° of latitude, and to 1 s
    /// until the Sun grazes the horizon.
    ///
    /// The inner error says that the Sun does not rise or set in that day.
    ///
    /// # Errors
    /// When the day leaves the span of the ephemeris.
    pub fn at(
        sky: &Sky,
        site: Site,
        sunrise: Sunrise,
    ) -> Result<Result<SolarDay, NoAnswer>, SkyError> {
        let now = Reckoned::at(sky, site);
        let from = sky.instant();
        let cross = |turns: f64, side: f64| {
            crossing(&now, from, site, sunrise.altitude(), Event { turns, side })
        };
        let up = now.altitude > sunrise.altitude();
        let (sect, begins, ends) = match (up, now.hour_angle < Angle::ZERO) {
            (true, _) => (Sect::Day, (0.0, -1.0), (0.0, 1.0)),
            (false, true) => (Sect::Night, (-1.0, 1.0), (0.0, -1.0)),
            (false, false) => (Sect::Night, (0.0, 1.0), (1.0, -1.0)),
        };
        let (Some(begins), Some(ends)) = (cross(begins.0, begins.1)?, cross(ends.0, ends.1)?)
        else {
            return Ok(Err(no_sunrise(&site.horizon(sky), sky.sun().longitude)));
        };
        if ends.seconds_since(from) < AT_ONCE_S {
            let within = Sky::at(ends.plus_seconds(2.0 * AT_ONCE_S))?;
            return SolarDay::at(&within, site, sunrise);
        }
        let to_noon = -now.hour_angle
            - match (sect, now.hour_angle < Angle::ZERO) {
                (Sect::Night, true) => Angle::FULL_TURN,
                _ => Angle::ZERO,
            };
        Ok(Ok(SolarDay {
            sect,
            begins,
            ends,
            noon: from.plus_seconds(to_noon.deg() * SECONDS_PER_DEGREE),
        }))
    }

    /// A twelfth of it, in seconds: an unequal hour.
    #[must_use]
    pub fn unequal_hour_s(&self) -> f64 {
        self.ends.seconds_since(self.begins) / 12.0
    }
}

fn no_sunrise(horizon: &Horizon, sun: Angle) -> NoAnswer {
    horizon.no_answer(Subject::Sunrise, Reason::NeitherRisesNorSets(sun))
}

/// The rising (side −1) or setting (side 1) of the day so many turns from this one.
#[derive(Clone, Copy)]
pub(crate) struct Event {
    pub(crate) turns: f64,
    pub(crate) side: f64,
}

/// Reckoned with the Sun's own motion, then mended once by the true Sun: the
/// second difference of its place over a day leaves a second or two to mend.
pub(crate) fn crossing(
    now: &Reckoned,
    from: Instant,
    site: Site,
    altitude: Angle,
    event: Event,
) -> Result<Option<Instant>, SkyError> {
    let noon_s = (Angle::FULL_TURN * event.turns - now.hour_angle).deg() * SECONDS_PER_DEGREE;
    let mut later_s = noon_s;
    for _ in 0..6 {
        let Some(arc) = now.crossing(site, altitude, later_s) else {
            return Ok(None);
        };
        later_s = noon_s + arc.deg() * event.side * SECONDS_PER_DEGREE;
    }
    for _ in 0..MOST_MENDINGS {
        let there = from.plus_seconds(later_s);
        let sun = Reckoned::at(&Sky::at(there)?, site);
        let Some(arc) = sun.crossing(site, altitude, 0.0) else {
            return Ok(None);
        };
        let short = sun.hour_angle.to(arc * event.side);
        // How fast the crossing's own hour angle flees before the Sun.
        let fled = sun
            .crossing(site, altitude, DAY_SECONDS / 24.0)
            .map_or(0.0, |next| (next - arc).deg() * event.side / 15.0);
        let mend_s = short.deg() * SECONDS_PER_DEGREE / (1.0 - fled);
        later_s += mend_s;
        if mend_s.abs() < SETTLED_S {
            break;
        }
    }
    Ok(Some(from.plus_seconds(later_s)))
}

/// Below this a mending leaves less than a millisecond to the next.
const SETTLED_S: f64 = 3.0;

/// Near the polar circles the Sun comes down at a slant and two are needed.
const MOST_MENDINGS: u32 = 8;

impl Horizon {
    /// The unequal hours of the day or the night that have passed, by the degree
    /// that rises and the Sun's degree alone, in [0, 12): the equator's arc that
    /// has risen since the Sun's degree (by night, its opposite) over a twelfth of
    /// its day. G. Chaucer, A Treatise on the Astrolabe (1391), II.7–12.
    ///
    /// The Sun is taken to keep its degree from sunrise to sunset, as it does
    /// on an instrument.
    ///
    /// # Errors
    /// When the ascendant or the Sun's degree neither rises nor sets.
    pub fn unequal_hours_by_ascendant(
        &self,
        ascendant: Angle,
        sun: Angle,
    ) -> Result<(Sect, f64), NoAnswer> {
        let sect = Sect::of_ascendant(ascendant, sun);
        let rose = match sect {
            Sect::Day => sun,
            Sect::Night => sun + Angle::HALF_TURN,
        };
        let DailyCourse::RisesAndSets(arcs) = self.course_of_degree(rose) else {
            return Err(no_sunrise(self, sun));
        };
        let risen = self.oblique_ascension(ascendant)? - self.oblique_ascension(rose)?;
        Ok((sect, risen.in_turn() / arcs.unequal_hour_of_day()))
    }
}
