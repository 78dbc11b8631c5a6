use std::str::FromStr;

use crate::{Calendar, Clock, MomentError, Place, When, Zone};

/// A moment as it was said.
#[derive(Clone, Debug, PartialEq)]
pub struct SaidMoment {
    /// When.
    pub when: When,
    /// Where.
    pub place: Place,
    /// In which calendar; without it Julian to 4 October 1582, Gregorian from the
    /// 15th on.
    pub calendar: Option<Calendar>,
    /// By which kind of clock.
    pub clock: Clock,
    /// The zone by which the clock went, where it was named; without it the
    /// place's own.
    pub zone: Option<Zone>,
    /// Which of two instants is meant where the clocks were changed; of no effect
    /// where the time is plain.
    pub which: Option<Which>,
}

impl SaidMoment {
    /// A time by the clocks of a place, with nothing more said: `YYYY-MM-DD HH:MM[:SS]`,
    /// or `now`.
    ///
    /// # Errors
    /// When the text is neither.
    pub fn new(when: &str, place: Place) -> Result<SaidMoment, MomentError> {
        Ok(SaidMoment {
            when: when.parse()?,
            place,
            calendar: None,
            clock: Clock::Zone,
            zone: None,
            which: None,
        })
    }

    /// With a zone for the place, where one is needed and can be had from a town nearby.
    pub(crate) fn located(&self) -> SaidMoment {
        let mut located = self.clone();
        let needed = self.clock == Clock::Zone && self.zone.is_none() && self.place.zone.is_none();
        if needed {
            located.place = located.place.with_zone_of_nearest_town();
        }
        located
    }
}

/// Which of two instants is meant by a clock time that came twice, or that was
/// left out when the clocks were put forward.
///
/// In a time left out the earlier is the one by the offset after the change.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Which {
    /// The earlier instant.
    Earlier,
    /// The later instant.
    Later,
}

/// From `earlier` or `later`, in letters of either case.
impl FromStr for Which {
    type Err = MomentError;

    fn from_str(text: &str) -> Result<Which, MomentError> {
        match text.trim() {
            word if word.eq_ignore_ascii_case("earlier") => Ok(Which::Earlier),
            word if word.eq_ignore_ascii_case("later") => Ok(Which::Later),
            _ => Err(MomentError::which(text)),
        }
    }
}
