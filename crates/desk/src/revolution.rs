use std::ops::RangeInclusive;

use moment::{CivilTime, Moment};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Instant, Sky};

use crate::answer::CastAnswer;
use crate::cabinet::Cabinet;
use crate::casting::Casting;
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
    let sun = radix.moment.sky.sun().longitude;
    let civil = radix.moment.civil;
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
    let ut_s = (instant.jd_ut() - radix.moment.instant.jd_ut()) * 86_400.0;
    let there = CastRequest {
        zone: match request.at {
            None => request.moment.zone.clone(),
            Some(_) => None,
        },
        at: request.at.as_ref().unwrap_or(&request.moment.at).clone(),
        ..request.moment.clone()
    };
    let cast = on_its_clock(&there, radix.moment.utc.plus_seconds(ut_s), cabinet)?;
    let note = match cast.moment.civil.date.year() {
        year if year == request.year => None,
        year => Some(returns.beside(request.year, year, years, &cast.moment)?),
    };
    let turn = (cast.moment.sidereal_time - radix.moment.sidereal_time).in_turn();
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
            let instant = self.radix.instant.plus_seconds(after_s);
            let sky = Sky::at(instant).map_err(|why| Refusal::new(Field::When, why))?;
            let there = sky.sun();
            let step = there.longitude.to(self.sun) / there.speed;
            after_s += step * 86_400.0;
            if step.abs() < 1e-9 {
                break;
            }
        }
        Ok(self.radix.instant.plus_seconds(after_s))
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
        let found = found.civil.date;
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

/// A case at another instant, told by the case's own clock.
fn on_its_clock(case: &CastRequest, utc: CivilTime, cabinet: &Cabinet) -> Result<Casting, Refusal> {
    let by_utc = Casting::of(
        &CastRequest {
            when: utc.to_string(),
            clock: Some("+00:00".to_owned()),
            calendar: Some(utc.date.calendar().to_string().to_lowercase()),
            which: None,
            ..case.clone()
        },
        cabinet,
        None,
    )?;
    let days = utc.date.julian_day_number() - JULIAN_DAY_OF_1970;
    let unix_s = f64::from(days) * 86_400.0 + utc.time.seconds();
    let now = CastRequest {
        when: "now".to_owned(),
        calendar: Some(utc.date.calendar().to_string().to_lowercase()),
        which: None,
        ..case.clone()
    };
    let Ok(read_off) = Casting::of(&now, cabinet, Some(unix_s)) else {
        return Ok(by_utc);
    };
    // A clock shows some times twice.
    let told = [None, Some("earlier"), Some("later")]
        .into_iter()
        .find_map(|which| {
            let request = CastRequest {
                when: read_off.moment.civil.to_string(),
                which: which.map(str::to_owned),
                ..now.clone()
            };
            let told = Casting::of(&request, cabinet, None).ok()?;
            let off_days = told.moment.instant.jd_ut() - by_utc.moment.instant.jd_ut();
            // Clocks are told to the millisecond.
            (off_days.abs() * 86_400.0 < 0.01).then_some(told)
        });
    Ok(told.unwrap_or(by_utc))
}

/// The Julian day number of 1 January 1970.
const JULIAN_DAY_OF_1970: i32 = 2_440_588;

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
