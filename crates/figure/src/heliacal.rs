use sky::{Angle, Body, Instant, Sky, SkyError};

use crate::{Planet, Sight, Site, Target, risings_and_settings};

/// A planet comes out of the Sun's light, or goes into it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Appearance {
    /// What it is.
    pub kind: AppearanceKind,
    /// When it rises or sets on that day, its centre on the true horizon.
    pub instant: Instant,
}

/// The four of them; the outer planets have the first and the last alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AppearanceKind {
    /// The first morning on which it is seen: its heliacal rising.
    MorningFirst,
    /// The last morning.
    MorningLast,
    /// The first evening.
    EveningFirst,
    /// The last evening: its heliacal setting.
    EveningLast,
}

/// How deep the Sun must stand while a planet is on the horizon, so that it is seen: along the
/// circle through the zenith, in degrees (Ptolemy, Almagest XIII.7, ed. Heiberg, vol. II, 1903,
/// pp. 595 and 597, for clear air in summer in Phoenicia). None for the Sun and the Moon.
#[must_use]
pub const fn arcus_visionis_deg(planet: Planet) -> Option<f64> {
    match planet {
        Planet::Sun | Planet::Moon => None,
        Planet::Mercury => Some(10.0),
        Planet::Venus => Some(5.0),
        Planet::Mars => Some(11.5),
        Planet::Jupiter => Some(10.0),
        Planet::Saturn => Some(11.0),
    }
}

/// Two passages of the same horizon follow each other by a day.
const NEXT_DAY_S: f64 = 1.5 * 86_400.0;
/// Beyond this elongation a planet is lost at dawn or dusk for it is opposite the Sun, not near
/// him.
const NEAR_SUN_DEG: f64 = 90.0;

/// Every first and last morning and evening of a planet in [from, until), by Ptolemy's arcs of
/// vision: it is seen on a day when the Sun stands so deep while it rises before him or sets
/// after him. None for the Sun and the Moon. Weather, hills and the eye make days of difference.
///
/// # Errors
/// When the interval, with two days on either side, leaves the span of the ephemeris.
pub fn appearances(
    planet: Planet,
    site: Site,
    from: Instant,
    until: Instant,
) -> Result<Vec<Appearance>, SkyError> {
    let Some(arc_deg) = arcus_visionis_deg(planet) else {
        return Ok(Vec::new());
    };
    let target = Target::Body(planet.body());
    const ASIDE_S: f64 = 2.0 * 86_400.0;
    let (begin, end) = (from.plus_seconds(-ASIDE_S), until.plus_seconds(ASIDE_S));
    let mut found = Vec::new();
    let (mut mornings, mut evenings) = (None, None);
    for crossing in risings_and_settings(target, site, Sight::GEOMETRIC, begin, end)? {
        let crossing = crossing?;
        let day = Day::of(planet, site, crossing.instant, crossing.rises, arc_deg)?;
        let (before, first, last) = if crossing.rises {
            let kinds = (AppearanceKind::MorningFirst, AppearanceKind::MorningLast);
            (&mut mornings, kinds.0, kinds.1)
        } else {
            let kinds = (AppearanceKind::EveningFirst, AppearanceKind::EveningLast);
            (&mut evenings, kinds.0, kinds.1)
        };
        let previous: Option<Day> = before.replace(day);
        let Some(previous) = previous.filter(|one| one.is_before(day)) else {
            continue;
        };
        match (previous.is_seen, day.is_seen) {
            (false, true) if day.is_near_sun => found.push((first, day.instant)),
            (true, false) if previous.is_near_sun => found.push((last, previous.instant)),
            _ => {}
        }
    }
    found.retain(|(_, at)| at.seconds_since(from) >= 0.0 && at.seconds_since(until) < 0.0);
    found.sort_by(|a, b| a.1.seconds_since(b.1).total_cmp(&0.0));
    let told = found.into_iter();
    Ok(told
        .map(|(kind, instant)| Appearance { kind, instant })
        .collect())
}

/// A planet on the horizon, on one day.
#[derive(Clone, Copy)]
struct Day {
    instant: Instant,
    is_seen: bool,
    is_near_sun: bool,
}

impl Day {
    fn of(
        planet: Planet,
        site: Site,
        instant: Instant,
        rises: bool,
        arc_deg: f64,
    ) -> Result<Day, SkyError> {
        let sky = Sky::at(instant)?;
        let sun = site.position(&sky, Target::Body(Body::Sun), Sight::GEOMETRIC);
        let place = sky.body(planet.body()).longitude;
        // West of the Sun it rises before him, east it sets after him.
        let elongation = sky.sun().longitude.to(place).deg();
        let is_aside = if rises {
            elongation < 0.0
        } else {
            elongation > 0.0
        };
        Ok(Day {
            instant,
            is_seen: is_aside && sun.altitude <= Angle::from_deg(-arc_deg),
            is_near_sun: elongation.abs() < NEAR_SUN_DEG,
        })
    }

    fn is_before(self, next: Day) -> bool {
        next.instant.seconds_since(self.instant) < NEXT_DAY_S
    }
}
