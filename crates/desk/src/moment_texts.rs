use moment::{Calendar, Clock, Missing, Moment, MomentError, Place, SaidMoment, When, Which, Zone};

use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;

/// A moment as it is said, but for its place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct MomentTexts<'a> {
    pub(crate) when: &'a str,
    pub(crate) zone: Option<&'a str>,
    pub(crate) clock: Option<&'a str>,
    pub(crate) calendar: Option<&'a str>,
    pub(crate) which: Option<&'a str>,
}

impl<'a> MomentTexts<'a> {
    /// Those of a case.
    pub(crate) fn of(case: &'a CastRequest) -> MomentTexts<'a> {
        MomentTexts {
            when: &case.when,
            zone: case.zone.as_deref(),
            clock: case.clock.as_deref(),
            calendar: case.calendar.as_deref(),
            which: case.which.as_deref(),
        }
    }

    /// What is said of a moment at a place, by a kind of clock, whichever the text of the
    /// clock names.
    pub(crate) fn said_by(self, clock: Clock, place: Place) -> Result<SaidMoment, Refusal> {
        Ok(SaidMoment {
            place,
            calendar: parsed(self.calendar, Field::Calendar, str::parse::<Calendar>)?,
            clock,
            zone: parsed(self.zone, Field::Zone, Zone::named)?,
            which: parsed(self.which, Field::Which, str::parse::<Which>)?,
            when: self.when.parse().map_err(refused)?,
        })
    }
}

/// The moment that is meant.
pub(crate) fn resolved(said: &SaidMoment, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
    Moment::resolve(said, now_unix_s).map_err(refused)
}

/// Another time by the clock of a moment.
pub(crate) fn by_its_clock(moment: &Moment, when: When) -> Result<Moment, Refusal> {
    moment.at(when).map_err(refused)
}

fn refused(error: MomentError) -> Refusal {
    let texts = |texts: [&str; 2]| texts.map(str::to_owned).to_vec();
    let (field, choices) = match error.missing() {
        Some(Missing::Zone) => (Field::Zone, vec![]),
        Some(Missing::Calendar) => (Field::Calendar, texts(["julian", "gregorian"])),
        Some(Missing::Which) => (Field::Which, texts(["earlier", "later"])),
        _ => (Field::When, error.candidates().to_vec()),
    };
    Refusal {
        choices,
        ..Refusal::new(field, error)
    }
}

pub(crate) fn parsed<T, E: ToString>(
    text: Option<&str>,
    field: Field,
    parse: impl Fn(&str) -> Result<T, E>,
) -> Result<Option<T>, Refusal> {
    text.map(|text| parse(text).map_err(|error| Refusal::new(field, error.to_string())))
        .transpose()
}
