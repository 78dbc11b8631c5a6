use sky::{Angle, Body, Instant, Sky, SkyError};

use crate::solar_day::{Event, Reckoned, crossing};
use crate::{Site, Target};

/// A day by the Sun at a place, from one midnight of local apparent time to the next.
///
/// What happens in it is found with the Sun moving: an event is when it truly happens,
/// and the Sun is taken where it then stands.
#[derive(Clone, Debug)]
pub struct ApparentDay {
    site: Site,
    noon: Sky,
}

/// Which way the Sun passes an altitude.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passage {
    /// Upward, in the east.
    Rising,
    /// Downward, in the west.
    Setting,
}

/// Seconds of time in which the Sun's hour angle grows by a degree.
const SECONDS_PER_DEGREE: f64 = 240.0;

/// Seconds in which the sky turns by a degree: the sidereal day of 86 164.1 s over 360.
const SECONDS_PER_DEGREE_OF_SKY: f64 = 239.344_7;

/// Moments are told to the millisecond: this near to midnight, the day that begins is meant.
const AT_MIDNIGHT: Angle = Angle::from_deg(0.002 / SECONDS_PER_DEGREE);

impl ApparentDay {
    /// The day that holds the instant of a sky.
    ///
    /// # Errors
    /// When its noon is outside the span of the ephemeris.
    pub fn of(sky: &Sky, site: Site) -> Result<ApparentDay, SkyError> {
        let hour = hour(sky, site);
        let since_noon = if hour > Angle::HALF_TURN - AT_MIDNIGHT {
            hour - Angle::FULL_TURN
        } else {
            hour
        };
        let about = plus_degrees(sky.instant(), -since_noon);
        Ok(ApparentDay {
            site,
            noon: at_hour(site, Angle::ZERO, about)?,
        })
    }

    /// The sky when the Sun is on the meridian.
    #[must_use]
    pub const fn noon(&self) -> &Sky {
        &self.noon
    }

    /// When the Sun's centre passes an altitude, without refraction and seen from the
    /// Earth's centre; so many days after this one. None where it does not. As near as
    /// [`SolarDay::at`](crate::SolarDay::at).
    ///
    /// # Errors
    /// When that is outside the span of the ephemeris.
    pub fn sun_passes(
        &self,
        altitude: Angle,
        passage: Passage,
        days_later: i8,
    ) -> Result<Option<Instant>, SkyError> {
        let now = Reckoned::at(&self.noon, self.site);
        let side = match passage {
            Passage::Rising => -1.0,
            Passage::Setting => 1.0,
        };
        let turns = f64::from(days_later);
        let event = Event { turns, side };
        crossing(&now, self.noon.instant(), self.site, altitude, event)
    }

    /// The sky at the Sun's hour angle, from noon, in [−180°, 180°].
    ///
    /// # Errors
    /// When that is outside the span of the ephemeris.
    pub fn at_hour(&self, hour: Angle) -> Result<Sky, SkyError> {
        at_hour(self.site, hour, plus_degrees(self.noon.instant(), hour))
    }
}

impl Site {
    /// The sky when the local sidereal time is this, within half a turn of another sky.
    ///
    /// # Errors
    /// When that is outside the span of the ephemeris.
    pub fn at_sidereal_time(&self, sidereal_time: Angle, near: &Sky) -> Result<Sky, SkyError> {
        // The second round mends what nutation and the day's own length leave.
        (0..2).try_fold(near.clone(), |sky, _| {
            let short = self.horizon(&sky).sidereal_time.to(sidereal_time);
            let seconds = short.deg() * SECONDS_PER_DEGREE_OF_SKY;
            Sky::at(sky.instant().plus_seconds(seconds))
        })
    }
}

fn hour(sky: &Sky, site: Site) -> Angle {
    site.hour_angle(sky, Target::Body(Body::Sun))
}

fn plus_degrees(instant: Instant, turn: Angle) -> Instant {
    instant.plus_seconds(turn.deg() * SECONDS_PER_DEGREE)
}

/// The sky at an hour angle of the Sun, near an instant. The equation of time changes by
/// 30 s a day: each round leaves 1/2900 of what was wanting.
fn at_hour(site: Site, wanted: Angle, about: Instant) -> Result<Sky, SkyError> {
    (0..3).try_fold(Sky::at(about)?, |sky, _| {
        let short = hour(&sky, site).to(wanted);
        Sky::at(plus_degrees(sky.instant(), short))
    })
}
