use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Sky};

use crate::answer::CastAnswer;
use crate::cabinet::Cabinet;
use crate::casting::Casting;
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;

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
    /// Full years gone.
    pub years: i32,
    /// How far the midheaven's right ascension is from what it was, counted onward on the limb.
    pub limb_turn_deg: f64,
    /// The same for one year in the mean of those gone: about 87°, as it is printed.
    pub limb_turn_a_year_deg: Option<f64>,
    /// The figure of that moment, by Universal Time.
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
    if years.abs() > 3000 {
        return Err(Refusal::new(
            Field::When,
            format!(
                "the year {} is too far from {}; one within the ephemeris would do",
                request.year,
                civil.date.year()
            ),
        ));
    }
    /// The tropical year in days (*Explanatory Supplement*, 2013).
    const YEAR: f64 = 365.242_19;
    let mut after_s = f64::from(years) * YEAR * 86_400.0;
    for _ in 0..8 {
        let instant = radix.moment.instant.plus_seconds(after_s);
        let sky = Sky::at(instant).map_err(|why| Refusal::new(Field::When, why))?;
        let there = sky.sun();
        let step = there.longitude.to(sun) / there.speed;
        after_s += step * 86_400.0;
        if step.abs() < 1e-9 {
            break;
        }
    }
    // From the even clock to the Earth's turning.
    let instant = radix.moment.instant.plus_seconds(after_s);
    let ut_s = (instant.jd_ut() - radix.moment.instant.jd_ut()) * 86_400.0;
    let utc = radix.moment.utc.plus_seconds(ut_s);
    let cast = Casting::of(
        &CastRequest {
            when: utc.to_string(),
            at: request
                .at
                .clone()
                .unwrap_or_else(|| request.moment.at.clone()),
            clock: Some("+00:00".to_owned()),
            calendar: Some(utc.date.calendar().to_string().to_lowercase()),
            which: None,
            ..request.moment.clone()
        },
        cabinet,
        now_unix_s,
    )?;
    let turn = (cast.moment.sidereal_time - radix.moment.sidereal_time).in_turn();
    Ok(RevolutionAnswer {
        sun_deg: sun.in_turn().deg(),
        years,
        limb_turn_deg: turn.deg(),
        limb_turn_a_year_deg: a_year(turn, years),
        cast: cast.answer(),
    })
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
