use sky::{Angle, Body, Instant, Search, Sky, SkyError, Sought, Span, Tracked};

use crate::{Sight, Site, Target};

const SECONDS_PER_DAY: f64 = 86_400.0;

/// Something passes a height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HorizonCrossing {
    /// When.
    pub instant: Instant,
    /// Upward or downward.
    pub rises: bool,
}

/// What something does in the course of an interval. To stay up or down is an
/// answer, not a failure: polar days and nights are of this kind.
#[derive(Clone, Debug, PartialEq)]
pub enum HorizonCourse {
    /// It crosses the horizon: when, in order.
    Crosses(Vec<HorizonCrossing>),
    /// It stays above.
    StaysAbove,
    /// It stays below.
    StaysBelow,
}

/// The darkness that the Sun's depth below the horizon makes; its centre, without
/// refraction (common practice).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Twilight {
    /// 6°: outdoors one can still read.
    Civil,
    /// 12°: the horizon can still be seen at sea.
    Nautical,
    /// 18°: the faintest stars come out. The twilight line of an astrolabe.
    Astronomical,
}

impl Twilight {
    /// All three, the lightest first.
    pub const ALL: [Twilight; 3] = [Twilight::Civil, Twilight::Nautical, Twilight::Astronomical];

    /// The Sun's depth.
    #[must_use]
    pub const fn depth(self) -> Angle {
        match self {
            Twilight::Civil => Angle::from_deg(6.0),
            Twilight::Nautical => Angle::from_deg(12.0),
            Twilight::Astronomical => Angle::from_deg(18.0),
        }
    }
}

/// Every rising and setting in [from, until), in order. To 1 ms as the sight defines
/// it; what is seen over a real horizon differs by seconds, near the poles by minutes,
/// for refraction changes with the weather.
///
/// Within a degree of the poles a body can rise and set again, or the reverse, within
/// an hour, by less than 5″ of height: such a pair may be passed over.
///
/// ```
/// use figure::{Sight, Site, Target, risings_and_settings};
/// use sky::{Angle, Body, Instant, Latitude};
///
/// let boston = Site {
///     latitude: Latitude::from_deg(42.3333)?,
///     longitude: Angle::from_deg(-71.0833),
/// };
/// let [from, until] = [2_447_240.5, 2_447_241.5].map(Instant::from_jd_ut); // 1988 March 20
/// let sun = Target::Body(Body::Sun);
/// let events = risings_and_settings(sun, boston, Sight::ALMANAC, from, until)?;
/// assert_eq!(events.count(), 2);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn risings_and_settings(
    target: Target<'_>,
    site: Site,
    sight: Sight,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<HorizonCrossing, SkyError>>, SkyError> {
    let height = move |sky: &Sky| site.above_horizon(sky, target, sight);
    crossings(site, height, from, until)
}

/// Every moment in [from, until) at which something passes an altitude, its centre
/// seen from the Earth's centre, without refraction: an almucantar.
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn altitude_passages(
    target: Target<'_>,
    site: Site,
    altitude: Angle,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<HorizonCrossing, SkyError>>, SkyError> {
    let height = move |sky: &Sky| site.position(sky, target, Sight::GEOMETRIC).altitude - altitude;
    crossings(site, height, from, until)
}

/// Every beginning (the Sun rises to that depth) and end (it sinks to it) of a
/// twilight in [from, until).
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn twilights(
    twilight: Twilight,
    site: Site,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<HorizonCrossing, SkyError>>, SkyError> {
    let sun = Target::Body(Body::Sun);
    altitude_passages(sun, site, -twilight.depth(), from, until)
}

impl HorizonCourse {
    /// The course of something in [from, until).
    ///
    /// # Errors
    /// When the interval leaves the span of the ephemeris.
    pub fn of(
        target: Target<'_>,
        site: Site,
        sight: Sight,
        from: Instant,
        until: Instant,
    ) -> Result<HorizonCourse, SkyError> {
        let crossings = risings_and_settings(target, site, sight, from, until)?
            .collect::<Result<Vec<_>, _>>()?;
        if !crossings.is_empty() {
            return Ok(HorizonCourse::Crosses(crossings));
        }
        let at_first = site.above_horizon(&Sky::at(from)?, target, sight);
        Ok(if at_first > Angle::ZERO {
            HorizonCourse::StaysAbove
        } else {
            HorizonCourse::StaysBelow
        })
    }
}

/// The moments when a height is zero.
fn crossings(
    site: Site,
    height: impl Fn(&Sky) -> Angle,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<HorizonCrossing, SkyError>>, SkyError> {
    /// Long enough for the height to change, short enough for a straight line.
    const MOMENT_SECONDS: f64 = 60.0;
    let track = move |instant: Instant| {
        let away = height(&Sky::at(instant)?);
        let later = instant.plus_seconds(MOMENT_SECONDS);
        let (beside, seconds) = if Span::contains_jd_tt(later.jd_tt()) {
            (later, MOMENT_SECONDS)
        } else {
            (instant.plus_seconds(-MOMENT_SECONDS), -MOMENT_SECONDS)
        };
        let change = height(&Sky::at(beside)?) - away;
        Ok(Tracked {
            away,
            rate: change * (SECONDS_PER_DAY / seconds),
        })
    };
    let sought = Sought::Passage(Angle::FULL_TURN);
    let search = Search::new(track, sought, step_days(site), from, until)?;
    Ok(search.map(|found| {
        let found = found?;
        Ok(HorizonCrossing {
            instant: found.instant,
            rises: found.growing,
        })
    }))
}

/// Short enough for the height to turn round once at most. Its turns are twelve hours
/// apart, nearly, but where the body's own motion outdoes the daily one.
fn step_days(site: Site) -> f64 {
    const HOUR: f64 = 1.0 / 24.0;
    if site.latitude.deg().abs() < 80.0 {
        4.0 * HOUR
    } else {
        HOUR
    }
}
