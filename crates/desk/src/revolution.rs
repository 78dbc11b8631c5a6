use std::ops::RangeInclusive;

use moment::{CivilTime, Clock, Moment, UtcOffset, When, Which};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Instant, Sky};

use crate::answer::CastAnswer;
use crate::cabinet::Cabinet;
use crate::casting::{Casting, told_moment};
use crate::moment::ToldMoment;
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;

/// The years in which a revolution is looked for: those of the ephemeris.
pub const REVOLUTION_YEARS: RangeInclusive<i32> = -600..=2650;

/// What is asked of a revolution of the year.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct RevolutionRequest {
    /// The moment of the beginning: a birth, a coronation.
    pub moment: CastRequest,
    /// The year in which the Sun returns, astronomical, in the calendar of the moment.
    pub year: i32,
    /// Where the revolution is cast; where it began unless said.
    pub at: Option<String>,
}

/// A revolution of the year.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RevolutionAnswer {
    /// The Sun's degree to which it returns.
    pub sun_deg: f64,
    /// Full years gone: which return of the Sun it is, counted from the beginning.
    pub years: i32,
    /// Where the Sun does not come back within the year asked for but just before or after
    /// it, that; and when it next does.
    pub note: Option<String>,
    /// How far the midheaven's right ascension is from what it was, counted onward on the limb.
    pub limb_turn_deg: f64,
    /// The same for one year in the mean of those gone: about 87°, as it is printed; null
    /// where no year has gone.
    pub limb_turn_a_year_deg: Option<f64>,
    /// The figure of that moment, on the clock that the beginning was told by; by
    /// Universal Time where that clock cannot say it, as an old reckoning cannot.
    pub cast: CastAnswer,
}

/// Casts the figure of the moment at which the Sun comes back to its degree.
///
/// # Errors
/// When the request cannot be understood, or the ephemeris does not reach the year.
pub fn revolution(
    request: &RevolutionRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<RevolutionAnswer, Refusal> {
    let radix = Casting::of(&request.moment, cabinet, now_unix_s)?;
    let sun = radix.moment.sky().sun().longitude;
    let civil = radix.moment.civil();
    let years = request.year.saturating_sub(civil.date.year());
    // At its ends the ephemeris itself says how far it goes.
    if !REVOLUTION_YEARS.contains(&request.year) {
        return Err(Refusal::new(
            Field::When,
            format!(
                "the year {} is outside the ephemeris; one from −{} to {} would do",
                request.year,
                REVOLUTION_YEARS.start().unsigned_abs(),
                REVOLUTION_YEARS.end()
            ),
        ));
    }
    let returns = Returns {
        radix: &radix.moment,
        sun,
    };
    let instant = returns.after(years)?;
    // From the even clock to the Earth's turning.
    let ut_s = (instant.jd_ut() - radix.moment.instant().jd_ut()) * 86_400.0;
    let there = CastRequest {
        zone: match request.at {
            None => request.moment.zone.clone(),
            Some(_) => None,
        },
        at: request.at.as_ref().unwrap_or(&request.moment.at).clone(),
        ..request.moment.clone()
    };
    let moment = on_its_clock(&told_moment(&there)?, radix.moment.utc().plus_seconds(ut_s))?;
    let cast = Casting::of_moment(&there, moment, cabinet)?;
    let note = match cast.moment.civil().date.year() {
        year if year == request.year => None,
        year => Some(returns.beside(request.year, year, years, &cast.moment)?),
    };
    let turn = (cast.moment.sidereal_time() - radix.moment.sidereal_time()).in_turn();
    Ok(RevolutionAnswer {
        sun_deg: sun.in_turn().deg(),
        years,
        note,
        limb_turn_deg: turn.deg(),
        limb_turn_a_year_deg: a_year(turn, years),
        cast: cast.answer(cabinet),
    })
}

/// The Sun's returns to where it stood at a beginning.
struct Returns<'a> {
    radix: &'a Moment,
    sun: Angle,
}

impl Returns<'_> {
    /// When the Sun is back after so many years.
    fn after(&self, years: i32) -> Result<Instant, Refusal> {
        /// The tropical year in days (*Explanatory Supplement*, 2013).
        const YEAR: f64 = 365.242_19;
        let mut after_s = f64::from(years) * YEAR * 86_400.0;
        for _ in 0..8 {
            let instant = self.radix.instant().plus_seconds(after_s);
            let sky = Sky::at(instant).map_err(|why| Refusal::new(Field::When, why))?;
            let there = sky.sun();
            let step = there.longitude.to(self.sun) / there.speed;
            after_s += step * 86_400.0;
            if step.abs() < 1e-9 {
                break;
            }
        }
        Ok(self.radix.instant().plus_seconds(after_s))
    }

    /// Says that a return is not within the year asked for, and whether another is.
    fn beside(&self, asked: i32, year: i32, years: i32, found: &Moment) -> Result<String, Refusal> {
        let (side, other) = if year < asked {
            ("before", years.saturating_add(1))
        } else {
            ("after", years.saturating_sub(1))
        };
        let beside = found
            .clock_at(self.after(other)?)
            .map_err(|why| Refusal::new(Field::When, why))?;
        let also = if beside.date.year() == asked {
            format!("the one within {asked}")
        } else {
            format!("{asked} itself has none; the other beside it")
        };
        let name = |years: i32| match u32::try_from(years) {
            Ok(count @ 1..) => format!("the {} return", nth(count)),
            _ => format!("{} years before the beginning", years.unsigned_abs()),
        };
        let found = found.civil().date;
        Ok(format!(
            "The Sun is back on {found}, just {side} the year {asked} that is asked for: {}. \
             {}, {}, is on {}.",
            name(years),
            capital(&also),
            name(other),
            beside.date
        ))
    }
}

pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// `21st`.
fn nth(number: u32) -> String {
    let ending = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}

/// What is told, at another instant by its own clock.
fn on_its_clock(told: &ToldMoment, utc: CivilTime) -> Result<Moment, Refusal> {
    /// What a clock shows is told to the millisecond.
    const SAME_S: f64 = 0.01;
    let then = told.at(When::utc_is(utc), None);
    let by_utc = then
        .by_clock(Clock::Offset(UtcOffset::default()))
        .moment(None)?;
    if told.is_by_old_clock() {
        return Ok(by_utc);
    }
    let Ok(read_off) = then.moment(None) else {
        return Ok(by_utc);
    };
    // A clock shows some times twice.
    let shown = When::clock_shows(read_off.civil());
    let same = [None, Some(Which::Earlier), Some(Which::Later)]
        .into_iter()
        .filter_map(|which| told.at(shown.clone(), which).moment(None).ok())
        .find(|told| told.instant().seconds_since(by_utc.instant()).abs() < SAME_S);
    Ok(same.unwrap_or(by_utc))
}

/// One year's part of the turn: the whole turns are those that bring it nearest the
/// excess of the tropical year over whole days, 87°11′.
fn a_year(turn: Angle, years: i32) -> Option<f64> {
    let years = f64::from(years);
    (years >= 1.0).then(|| {
        let expected = 87.19 * years;
        let whole = ((expected - turn.deg()) / 360.0).round();
        (turn.deg() + whole * 360.0) / years
    })
}
