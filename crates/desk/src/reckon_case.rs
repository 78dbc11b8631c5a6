//! A case for the pen, understood.

use std::collections::BTreeMap;

use ::tables::pen::{Account, Found, Given, Hand, Kept, LeftOut, account};
use ::tables::{Ask, DayHour};
use figure::{House, Method};
use moment::{Clock, Moment};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::{Angle, Body, Latitude};

use crate::moment::understood_place;
use crate::moment_texts::MomentTexts;
use crate::old_clock::OldClock;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::{CastRequest, WithInstrument};
use crate::tables::{one_of, refused};

/// What is asked when a figure is to be worked with the pen: texts, as a person gives them.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ReckonRequest {
    /// `YYYY-MM-DD HH:MM[:SS]`, or `now`.
    pub when: String,
    /// A town, or coordinates.
    pub at: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// `zone` (unless said), `mean`, `sun`, or an offset such as `+01:00`.
    pub clock: Option<String>,
    /// `gregorian` or `julian`.
    pub calendar: Option<String>,
    /// `earlier` or `later`, where a clock time came twice or not at all.
    pub which: Option<String>,
    /// The house method of the table of houses; alcabitius unless said.
    pub houses: Option<String>,
    /// The latitude that the table of houses is made for, in degrees; the place's unless
    /// said.
    pub table_latitude: Option<f64>,
    /// At which hour the ephemeris has its days: `noon` unless said, or `midnight`.
    pub hour: Option<String>,
    /// Whether the Moon's second difference is taken.
    pub second_difference: bool,
    /// What is left out of the sum: `summer-time`, `zone`, `longitude`, `equation-of-time`.
    pub without: Vec<String>,
    /// What a person found on a sheet of their own: `sidereal-time` to a time such as
    /// `22:15:56`; `ascendant`, `midheaven`, a house's numeral, a body's name or `fortune` to a
    /// degree such as `11°30′ Pisces`.
    pub read: BTreeMap<String, String>,
    /// An instrument that the case is worked with too, so that the pen is held against the
    /// brass.
    pub with: Option<WithInstrument>,
    /// The cusp procedure on it; turning unless said.
    pub by: Option<String>,
    /// Where its Sun's degree is taken from, as in casting.
    pub sun: Option<String>,
    /// On which of its plates it is worked, as in casting.
    pub plates: Option<String>,
}

impl ReckonRequest {
    /// The same case with an instrument.
    pub(crate) fn on_the_brass(&self) -> CastRequest {
        CastRequest {
            when: self.when.clone(),
            at: self.at.clone(),
            zone: self.zone.clone(),
            clock: self.clock.clone(),
            calendar: self.calendar.clone(),
            which: self.which.clone(),
            houses: self.houses.clone(),
            with: self.with.clone(),
            by: self.by.clone(),
            sun: self.sun.clone(),
            plates: self.plates.clone(),
            without: self.without.clone(),
            ..CastRequest::default()
        }
    }
}

/// A case for the pen, understood.
pub(crate) struct Case {
    pub(crate) moment: Moment,
    pub(crate) given: Given,
    pub(crate) hand: Hand,
}

impl Case {
    pub(crate) fn of(request: &ReckonRequest, now_unix_s: Option<f64>) -> Result<Case, Refusal> {
        let moment = understood(request, now_unix_s)?;
        let method = match &request.houses {
            None => Method::default(),
            Some(name) => name
                .parse()
                .map_err(|error: figure::UnknownMethod| Refusal::new(Field::Houses, error))?,
        };
        let given = given(&moment, method);
        let hand = hand(request, &given)?;
        Ok(Case {
            moment,
            given,
            hand,
        })
    }

    /// What calculation gives.
    pub(crate) fn exact(&self) -> Found {
        exact(&self.moment, self.given.method)
    }

    /// The sheet worked under every mixture of an ideal hand and this one.
    ///
    /// # Errors
    /// When it cannot be worked.
    pub(crate) fn account(&self) -> Result<Account, Refusal> {
        let obliquity = self.moment.sky().obliquity();
        let ideal = Hand::ideal(&self.given, obliquity, self.hand.hour);
        account(&self.given, self.exact(), &ideal, &self.hand).map_err(refused)
    }
}

fn understood(request: &ReckonRequest, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
    if let Some(clock) = &request.clock
        && OldClock::named(clock).is_some()
    {
        return Err(Refusal::new(
            Field::Clock,
            format!(
                "with the pen one begins from a mean clock or the Sun's, and {} is an old \
                 reckoning; zone, mean, sun or an offset such as +01:00 would do",
                quoted(clock)
            ),
        ));
    }
    let said = MomentTexts {
        when: &request.when,
        zone: request.zone.as_deref(),
        clock: request.clock.as_deref(),
        calendar: request.calendar.as_deref(),
        which: request.which.as_deref(),
    };
    said.at(understood_place(&request.at)?, now_unix_s)
}

fn given(moment: &Moment, method: Method) -> Given {
    Given {
        date: moment.civil().date,
        clock_s: moment.civil().time.seconds(),
        kept: match (moment.clock(), moment.standard_offset_s()) {
            (Clock::Sun, _) => Kept::Sun,
            (_, Some(ahead_s)) => Kept::Standard {
                ahead_s,
                summer_s: moment.summer_time_s(),
            },
            (_, None) => Kept::Mean,
        },
        latitude: moment.place().latitude,
        longitude: moment.place().longitude,
        method,
    }
}

/// As the person works, and by which tables.
fn hand(request: &ReckonRequest, given: &Given) -> Result<Hand, Refusal> {
    let table_latitude = match request.table_latitude {
        Some(deg) => Latitude::from_deg(deg).map_err(|error| Refusal::new(Field::Table, error))?,
        // As its title has it, to the minute.
        None => {
            let deg = (given.latitude.deg() * 60.0).round() / 60.0;
            Latitude::from_deg(deg).unwrap_or(given.latitude)
        }
    };
    let year = Ask {
        calendar: given.date.calendar(),
        ..Ask::of_year(given.date.year())
    };
    Ok(Hand {
        table_latitude,
        obliquity: year.obliquity().map_err(refused)?,
        hour: match &request.hour {
            Some(hour) => one_of(hour, Field::Hour, &DayHour::ALL, DayHour::name)?,
            None => DayHour::default(),
        },
        second_difference: request.second_difference,
        left_out: request
            .without
            .iter()
            .map(|name| one_of(name, Field::Without, &LeftOut::ALL, LeftOut::name))
            .collect::<Result<_, _>>()?,
        has_digits: true,
        has_rows: true,
        slips: Vec::new(),
        goes_on_with: None,
    })
}

/// What calculation gives.
fn exact(moment: &Moment, method: Method) -> Found {
    let horizon = figure::Horizon {
        sidereal_time: moment.sidereal_time(),
        obliquity: moment.sky().obliquity(),
        latitude: moment.place().latitude,
    };
    let cusps = method.cusps(&horizon).ok().map(|cusps| cusps.all());
    let midheaven = horizon.midheaven();
    let mut all = cusps.map_or([None; 12], |all| all.map(|cusp| Some(cusp.deg())));
    // The meridian has an answer where a method has none.
    all[House::X.index()] = Some(midheaven.deg());
    all[House::IV.index()] = Some((midheaven + Angle::HALF_TURN).in_turn().deg());
    let place = |body: Body| moment.sky().body(body).longitude.deg();
    let sidereal_h = moment.sidereal_time().in_turn().hours();
    Found::finished(
        sidereal_h,
        midheaven.deg(),
        all,
        Body::ALL.map(place).to_vec(),
    )
}
