use moment::{Calendar, Clock, Moment, Place, SaidMoment, UtcOffset, When, Which, Zone};
use sky::{Angle, Latitude};

use crate::moment_texts::{MomentTexts, parsed, resolved};
use crate::old_clock::OldClock;
use crate::refusal::{Field, Refusal, quoted};

/// The place that is meant.
///
/// # Errors
/// When there is none, or there are several.
pub fn understood_place(at: &str) -> Result<Place, Refusal> {
    Place::find(at).map_err(|error| Refusal {
        choices: error.candidates().to_vec(),
        ..Refusal::new(Field::At, error)
    })
}

/// What is said of a moment, understood: by a clock, or by an old reckoning of the day.
#[derive(Clone, Debug)]
pub(crate) struct ToldMoment {
    /// By an old reckoning, what is said is read as if by the Sun's clock.
    said: SaidMoment,
    old: Option<OldClock>,
}

impl ToldMoment {
    /// The moment that is meant.
    pub(crate) fn moment(&self, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
        match self.old {
            Some(old) => old.moment(&self.said),
            None => resolved(&self.said, now_unix_s),
        }
    }

    /// When it is.
    pub(crate) fn when(&self) -> &When {
        &self.said.when
    }

    /// The zone that is named.
    pub(crate) fn zone(&self) -> Option<Zone> {
        self.said.zone
    }

    /// Which of two times that the clock shows alike it is, where that is said.
    pub(crate) fn which(&self) -> Option<Which> {
        self.said.which
    }

    /// Another time told by the same clock; of two that a clock shows alike, this one.
    pub(crate) fn at(&self, when: When, which: Option<Which>) -> ToldMoment {
        let said = SaidMoment {
            when,
            which,
            ..self.said.clone()
        };
        ToldMoment {
            said,
            old: self.old,
        }
    }

    /// The same told by a clock of our time.
    pub(crate) fn by_clock(&self, clock: Clock) -> ToldMoment {
        let said = SaidMoment {
            clock,
            ..self.said.clone()
        };
        ToldMoment { said, old: None }
    }

    /// The same told by an old reckoning.
    pub(crate) fn by_old_clock(&self, old: OldClock) -> ToldMoment {
        ToldMoment {
            old: Some(old),
            ..self.by_clock(Clock::Sun)
        }
    }

    /// The same with its date in a calendar.
    pub(crate) fn in_calendar(&self, calendar: Calendar) -> ToldMoment {
        let said = SaidMoment {
            calendar: Some(calendar),
            ..self.said.clone()
        };
        ToldMoment { said, ..*self }
    }

    /// The same told of another place, by the clocks of a zone.
    pub(crate) fn of_place(&self, place: Place, zone: Option<Zone>) -> ToldMoment {
        let said = SaidMoment {
            place,
            zone,
            ..self.said.clone()
        };
        ToldMoment { said, ..*self }
    }

    /// Whether it is told by an old reckoning.
    pub(crate) fn is_by_old_clock(&self) -> bool {
        self.old.is_some()
    }
}

impl MomentTexts<'_> {
    /// What is said of a moment at a place.
    pub(crate) fn told(self, place: Place) -> Result<ToldMoment, Refusal> {
        let old = self.clock.and_then(OldClock::named);
        let clock = match old {
            Some(_) => Clock::Sun,
            None => self.clock(true)?.unwrap_or_default(),
        };
        let said = self.said_by(clock, place)?;
        Ok(ToldMoment { said, old })
    }

    /// The moment, at a place.
    pub(crate) fn at(self, place: Place, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
        self.told(place)?.moment(now_unix_s)
    }

    /// The moment, at no place: by the zone or the offset that is said, or else in
    /// Universal Time.
    pub(crate) fn anywhere(self, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
        let zone = parsed(self.zone, Field::Zone, Zone::named)?;
        let clock = match self.clock(false)? {
            None if zone.is_none() => Clock::Offset(UtcOffset::default()),
            None => Clock::Zone,
            Some(Clock::Mean | Clock::Sun) => {
                return Err(Refusal::new(
                    Field::Clock,
                    format!(
                        "a clock of the kind {} shows the time of a place, and none is said; \
                         a place, a zone or an offset would do",
                        quoted(self.clock.unwrap_or_default())
                    ),
                ));
            }
            Some(clock) => clock,
        };
        let nowhere = Place {
            name: "no place".to_owned(),
            latitude: Latitude::ZERO,
            longitude: Angle::ZERO,
            zone: None,
            country: None,
            region: None,
            nearest: None,
            called: None,
        };
        resolved(&self.said_by(clock, nowhere)?, now_unix_s)
    }

    /// The clock; a message about it lists the old reckonings where there is a place
    /// for them.
    fn clock(self, at_a_place: bool) -> Result<Option<Clock>, Refusal> {
        let parse = |text: &str| {
            text.parse::<Clock>().map_err(|error| match at_a_place {
                true => format!("{error}, or an old reckoning: {}", OldClock::names()),
                false => error.to_string(),
            })
        };
        parsed(self.clock, Field::Clock, parse)
    }
}
