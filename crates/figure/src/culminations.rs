use sky::{Angle, Instant, Search, Sky, SkyError, Sought, Tracked};

use crate::{Site, Target};

/// Something crosses the meridian.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Culmination {
    /// When.
    pub instant: Instant,
    /// On the half of the meridian that goes through the zenith, or on that through
    /// the nadir.
    pub upper: bool,
}

/// Every upper and lower culmination in [from, until), in order. To 1 ms.
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn culminations(
    target: Target<'_>,
    site: Site,
    from: Instant,
    until: Instant,
) -> Result<impl Iterator<Item = Result<Culmination, SkyError>>, SkyError> {
    /// An eighth of a turn, well within half the period.
    const STEP_DAYS: f64 = 0.125;
    let hour_angle = move |instant| Ok(site.hour_angle(&Sky::at(instant)?, target));
    let track = move |instant| {
        let hour_angle: Angle = hour_angle(instant)?;
        let nearest = (hour_angle / Angle::HALF_TURN).round() * Angle::HALF_TURN;
        Ok(Tracked {
            away: hour_angle - nearest,
            // Nothing outruns the turning of the Earth.
            rate: Angle::FULL_TURN,
        })
    };
    let sought = Sought::Passage(Angle::HALF_TURN);
    let search = Search::new(track, sought, STEP_DAYS, from, until)?;
    Ok(search.map(move |found| {
        let instant = found?.instant;
        Ok(Culmination {
            instant,
            upper: hour_angle(instant)?.abs() < Angle::QUARTER_TURN,
        })
    }))
}
