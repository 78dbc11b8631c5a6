use ::moment::Moment;
use sky::{Instant, SkyError};

use crate::answer::ClockTimeAnswer;
use crate::casting::Casting;

pub(crate) const DAY_S: f64 = 86_400.0;

/// A year at a place with an instrument, understood.
pub(crate) struct Book {
    /// Of its first noon.
    pub(crate) casting: Casting,
    pub(crate) begins: Instant,
    pub(crate) ends: Instant,
}

impl Book {
    pub(crate) fn moment(&self) -> &Moment {
        &self.casting.moment
    }

    pub(crate) fn site(&self) -> figure::Site {
        self.casting.site()
    }

    /// What the clock shows at an instant, to the second.
    pub(crate) fn clock(&self, instant: Instant) -> Result<ClockTimeAnswer, SkyError> {
        Ok(ClockTimeAnswer(self.moment().clock_at(to_second(instant))?))
    }
}

/// The nearest whole second of UT.
pub(crate) fn to_second(instant: Instant) -> Instant {
    let (day, fraction) = instant.ut_parts();
    Instant::from_ut(day, (fraction * DAY_S).round() / DAY_S)
}
