use moment::{Clock, Moment, Place, UtcOffset, Zone};
use sky::{Angle, Latitude};

use crate::moment_texts::{MomentTexts, parsed};
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

impl MomentTexts<'_> {
    /// The moment, at a place.
    pub(crate) fn at(self, place: Place, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
        if let Some(old) = self.clock.and_then(OldClock::named) {
            return old.moment(self, &place, now_unix_s);
        }
        let clock = self.clock(true)?.unwrap_or_default();
        self.by(clock, place, now_unix_s)
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
        self.by(clock, nowhere, now_unix_s)
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
