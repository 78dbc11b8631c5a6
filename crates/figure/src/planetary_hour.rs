use sky::Instant;

use crate::solar_day::AT_ONCE_S;
use crate::{Planet, Sect, SolarDay};

/// An unequal hour and the planets that rule it and its day.
///
/// The first hour from sunrise belongs to the planet of the day, and the others
/// follow down the spheres: G. Chaucer, A Treatise on the Astrolabe (1391), ed.
/// Skeat 1894, II.12. The planetary day runs from sunrise to sunrise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanetaryHour {
    /// Of the day or of the night.
    pub sect: Sect,
    /// 1 to 12 within it.
    pub number: u8,
    /// The planet of the hour.
    pub ruler: Planet,
    /// The planet of the day.
    pub day_ruler: Planet,
    /// When the hour begins.
    pub begins: Instant,
    /// When it ends.
    pub ends: Instant,
}

/// The planets of the days from Monday: common practice.
const DAYS: [Planet; 7] = [
    Planet::Moon,
    Planet::Mars,
    Planet::Mercury,
    Planet::Jupiter,
    Planet::Venus,
    Planet::Saturn,
    Planet::Sun,
];

impl PlanetaryHour {
    /// The hour of a day or night that holds an instant, at a place whose clocks
    /// are so many seconds ahead of UT: they say which day of the week it is at
    /// the day's noon.
    #[must_use]
    pub fn at(day: &SolarDay, instant: Instant, clock_ahead_of_ut_s: f64) -> PlanetaryHour {
        let long_s = day.unequal_hour_s();
        // At its very beginning it is the hour that begins.
        let passed = (instant.seconds_since(day.begins) + AT_ONCE_S) / long_s;
        let number = hour_number(passed);
        let begins = day.begins.plus_seconds(long_s * f64::from(number - 1));
        let day_ruler = ruler_of_day(day.noon, clock_ahead_of_ut_s);
        PlanetaryHour {
            sect: day.sect,
            number,
            ruler: ruler_of_hour(day_ruler, day.sect, number),
            day_ruler,
            begins,
            ends: begins.plus_seconds(long_s),
        }
    }
}

/// 1 to 12, from the hours that have passed.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the twelve hours"
)]
pub(crate) fn hour_number(passed: f64) -> u8 {
    passed.floor().clamp(0.0, 11.0) as u8 + 1
}

/// The planet of the day that has this noon.
#[must_use]
pub fn ruler_of_day(noon: Instant, clock_ahead_of_ut_s: f64) -> Planet {
    const SECONDS_PER_DAY: f64 = 86_400.0;
    // A Julian date that begins at midnight by the clock; day 0 was a Monday.
    let days = (noon.jd_ut() + clock_ahead_of_ut_s / SECONDS_PER_DAY + 0.5).floor();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 6"
    )]
    let weekday = days.rem_euclid(7.0) as usize;
    DAYS[weekday % 7]
}

/// The planet of an hour, 1 to 12, of the day or the night.
#[must_use]
pub fn ruler_of_hour(day_ruler: Planet, sect: Sect, number: u8) -> Planet {
    let before = match sect {
        Sect::Day => 0,
        Sect::Night => 12,
    };
    day_ruler.down(before + usize::from(number.max(1) - 1))
}
