use crate::{Angle, Apparent, Body, Found, Instant, Search, Sky, SkyError, Sought, Span, Tracked};

const SECONDS_PER_DAY: f64 = 86_400.0;

/// A body enters a sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ingress {
    /// When.
    pub instant: Instant,
    /// The border crossed, a multiple of 30° in [0°, 360°).
    pub border: Angle,
    /// Whether it goes backward, into the sign that ends at the border.
    pub retrograde: bool,
}

/// A planet stands still in longitude.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// When.
    pub instant: Instant,
    /// Which way it moves thereafter.
    pub turns_retrograde: bool,
}

/// The Moon's longitude from the Sun's is a whole number of quarter turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoonPhase {
    /// When.
    pub instant: Instant,
    /// Which of the four.
    pub phase: Phase,
}

/// The four principal phases of the Moon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// With the Sun.
    New,
    /// A quarter turn after the Sun.
    FirstQuarter,
    /// Opposite the Sun.
    Full,
    /// A quarter turn before the Sun.
    LastQuarter,
}

/// Every moment in [from, until) at which a body's apparent longitude is the one given,
/// in order; a planet may pass it three times while it turns back and forth. To 1 ms.
///
/// ```
/// use sky::{Angle, Body, Instant, passages};
/// let [from, until] = [2_451_544.5, 2_451_910.5].map(Instant::from_jd_ut); // the year 2000
/// let equinox = passages(Body::Sun, Angle::ZERO, from, until)?.next().unwrap()?;
/// assert!((equinox.jd_ut() - 2_451_623.816).abs() < 0.001); // 20 March, 7:35 UT
/// # Ok::<(), sky::SkyError>(())
/// ```
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn passages(
    body: Body,
    longitude: Angle,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<Instant, SkyError>>, SkyError> {
    let track = move |instant| {
        let seen = Sky::at(instant)?.body(body);
        Ok(Tracked {
            away: longitude.to(seen.longitude),
            rate: seen.speed,
        })
    };
    let sought = Sought::Passage(Angle::FULL_TURN);
    let search = Search::new(track, sought, step_days(body), from, until)?;
    Ok(search.map(|found| Ok(found?.instant)))
}

/// The next moment, not before the one given, at which a body reaches a longitude.
///
/// # Errors
/// When that is beyond the span of the ephemeris.
pub fn next_passage(body: Body, longitude: Angle, from: Instant) -> Result<Instant, SkyError> {
    passages(body, longitude, from, span_end())?
        .next()
        .unwrap_or_else(beyond)
}

/// Every moment in [from, until) at which a body enters a sign, forward or backward.
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn ingresses(
    body: Body,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<Ingress, SkyError>>, SkyError> {
    const SIGN: Angle = Angle::from_deg(30.0);
    let track = move |instant| {
        let seen = Sky::at(instant)?.body(body);
        Ok(Tracked {
            away: from_multiple(seen.longitude, SIGN),
            rate: seen.speed,
        })
    };
    let search = Search::new(track, Sought::Passage(SIGN), step_days(body), from, until)?;
    Ok(search.map(move |found| {
        let Found { instant, growing } = found?;
        let longitude = Sky::at(instant)?.body(body).longitude;
        Ok(Ingress {
            instant,
            border: (longitude - from_multiple(longitude, SIGN)).in_turn(),
            retrograde: !growing,
        })
    }))
}

/// Every moment in [from, until) at which a body turns retrograde or direct; none for the
/// Sun and the Moon. Within a second of the ephemeris for Mercury, Venus and Mars, within
/// half a minute for Pluto, whose path bends least.
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn stations(
    body: Body,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<Station, SkyError>>, SkyError> {
    let track = move |instant| {
        let Apparent {
            longitude, speed, ..
        } = Sky::at(instant)?.body(body);
        Ok(Tracked {
            away: longitude,
            rate: speed,
        })
    };
    let search = Search::new(track, Sought::Standstill, step_days(body), from, until)?;
    Ok(search.map(|found| {
        let Found { instant, growing } = found?;
        Ok(Station {
            instant,
            turns_retrograde: !growing,
        })
    }))
}

/// Every new Moon, full Moon and quarter in [from, until).
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn moon_phases(
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<MoonPhase, SkyError>>, SkyError> {
    /// The Moon leaves the Sun by 10° to 15° a day, a quarter turn in six days at least.
    const STEP_DAYS: f64 = 2.0;
    let track = |instant| {
        let (elongation, rate) = elongation(&Sky::at(instant)?);
        Ok(Tracked {
            away: from_multiple(elongation, Angle::QUARTER_TURN),
            rate,
        })
    };
    let sought = Sought::Passage(Angle::QUARTER_TURN);
    let search = Search::new(track, sought, STEP_DAYS, from, until)?;
    Ok(search.map(|found| {
        let instant = found?.instant;
        let (elongation, _) = elongation(&Sky::at(instant)?);
        let phase = match (elongation / Angle::QUARTER_TURN).round() as i32 {
            1 => Phase::FirstQuarter,
            2 => Phase::Full,
            3 => Phase::LastQuarter,
            _ => Phase::New,
        };
        Ok(MoonPhase { instant, phase })
    }))
}

/// The last new or full Moon before a moment.
///
/// # Errors
/// When the moment, or the month before it, is outside the span of the ephemeris.
pub fn last_syzygy_before(instant: Instant) -> Result<MoonPhase, SkyError> {
    /// New and full Moon are at most 15.6 days apart.
    const LONG_ENOUGH_DAYS: f64 = 16.0;
    let from = instant.plus_seconds(-LONG_ENOUGH_DAYS * SECONDS_PER_DAY);
    let mut last = beyond();
    for found in moon_phases(from, instant)? {
        let found = found?;
        if matches!(found.phase, Phase::New | Phase::Full) {
            last = Ok(found);
        }
    }
    last
}

/// The Moon's longitude from the Sun's, in the turn, and its daily growth.
fn elongation(sky: &Sky) -> (Angle, Angle) {
    let (sun, moon) = (sky.sun(), sky.body(Body::Moon));
    (
        (moon.longitude - sun.longitude).in_turn(),
        moon.speed - sun.speed,
    )
}

/// From the nearest multiple of a period, at most half of it either way.
fn from_multiple(angle: Angle, period: Angle) -> Angle {
    angle - (angle / period).round() * period
}

/// Short enough that the body stays within half a sign and stands still once at most.
fn step_days(body: Body) -> f64 {
    match body {
        Body::Moon => 0.8,
        Body::Mercury => 5.0,
        Body::Venus | Body::Sun => 8.0,
        Body::Mars => 12.0,
        _ => 30.0,
    }
}

fn span_end() -> Instant {
    Instant::from_jd_tt(Span::end_jd())
}

fn beyond<T>() -> Result<T, SkyError> {
    Err(Span::outside(Span::end_jd()))
}
