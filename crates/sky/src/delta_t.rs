use crate::delta_t_spline::ROWS;
use crate::leap_seconds::TAI_MINUS_UTC;

/// TT − UT: how far the even clock is ahead of the turning Earth.
///
/// Since 1972 this follows from the leap seconds of UTC, whose last value is kept
/// for the future; before, from the splines fitted to historical eclipses and
/// occultations by Stephenson, Morrison and Hohenkerk (2016, tables of 2020).
/// The Moon moves half a second of arc in one second, so the uncertainty here
/// bounds what can be known of an old sky.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DeltaT {
    /// TT − UT in seconds.
    pub seconds: f64,
    /// How far TT − UT1 may be off, in seconds.
    ///
    /// Before 1600 a standard error, after Morrison and Stephenson (2004) and Stephenson
    /// and Houlden (1986), as given by Espenak and Meeus, Five Millennium Canon of Lunar
    /// Eclipses, section 2-4. From 1657 to 1972 as far as two published determinations
    /// part: these splines and the table of the US Naval Observatory, from the Moon's
    /// occultations (`reference/delta_t.py` compares them year by year). From 1972 the
    /// 0.9 s by which UTC may stand off UT1, and after the last leap second that grown by
    /// Huber's formula (2000).
    pub uncertainty_s: f64,
    /// Where the value comes from.
    pub source: DeltaTSource,
}

/// Where a value of TT − UT comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeltaTSource {
    /// The long-term parabola of Stephenson, Morrison and Hohenkerk (2016),
    /// shifted to meet their splines at the year −720.
    LongTermParabola,
    /// The splines of Stephenson, Morrison and Hohenkerk, version of 2020.
    Spline,
    /// The leap seconds of UTC (IERS Bulletin C).
    LeapSeconds,
    /// The last known leap second, kept for the time after it.
    LastLeapSecond,
}

/// TT − TAI in seconds, by definition.
const TT_MINUS_TAI: f64 = 32.184;

/// The splines end here and leap seconds begin: 1972 January 1.
const FIRST_LEAP: f64 = 2_441_317.5;

/// UTC is kept within this many seconds of UT1.
const UTC_TOLERANCE_S: f64 = 0.9;

/// The list of leap seconds of the IERS is complete up to here (2026 June 28).
const LEAPS_KNOWN_TO: f64 = 2_461_219.5;

impl DeltaT {
    /// At a Julian date in Universal Time.
    #[must_use]
    pub fn at_jd_ut(jd_ut: f64) -> DeltaT {
        // Astronomical year as the splines count it.
        let year = 2000.0 + (jd_ut - 2_451_545.0) / 365.25;
        let leaps = TAI_MINUS_UTC
            .iter()
            .rev()
            .find(|(from, _)| jd_ut >= *from)
            .map(|(_, seconds)| *seconds);
        match leaps {
            Some(seconds) if jd_ut < LEAPS_KNOWN_TO => DeltaT {
                seconds: TT_MINUS_TAI + seconds,
                uncertainty_s: UTC_TOLERANCE_S,
                source: DeltaTSource::LeapSeconds,
            },
            Some(seconds) => DeltaT {
                seconds: TT_MINUS_TAI + seconds,
                uncertainty_s: UTC_TOLERANCE_S + drift_s((jd_ut - LEAPS_KNOWN_TO) / 365.25),
                source: DeltaTSource::LastLeapSecond,
            },
            None => before_leap_seconds(year),
        }
    }
}

fn before_leap_seconds(year: f64) -> DeltaT {
    let uncertainty_s = historical_uncertainty_s(year);
    match spline(year) {
        Some(seconds) => DeltaT {
            seconds: seconds + meeting_leap_seconds(year),
            uncertainty_s,
            source: DeltaTSource::Spline,
        },
        None => {
            let [first_year, _, first_value, ..] = ROWS[0];
            DeltaT {
                seconds: parabola(year) - parabola(first_year) + first_value,
                uncertainty_s,
                source: DeltaTSource::LongTermParabola,
            }
        }
    }
}

fn spline(year: f64) -> Option<f64> {
    let [from, to, a0, a1, a2, a3] = *ROWS.iter().rev().find(|row| year >= row[0])?;
    let t = (year - from) / (to - from);
    Some(a0 + t * (a1 + t * (a2 + t * a3)))
}

/// Stephenson, Morrison and Hohenkerk 2016, equation 4.1.
fn parabola(year: f64) -> f64 {
    let t = (year - 1825.0) / 100.0;
    -320.0 + 32.5 * t * t
}

/// The spline is 0.15 s short of 42.184 s where leap seconds begin; the
/// difference is spread over the year before, so that no instant is lost.
fn meeting_leap_seconds(year: f64) -> f64 {
    const LAST_YEAR: f64 = 2000.0 + (FIRST_LEAP - 2_451_545.0) / 365.25;
    let share = year - (LAST_YEAR - 1.0);
    if share <= 0.0 {
        return 0.0;
    }
    let missing = TT_MINUS_TAI + TAI_MINUS_UTC[0].1 - spline(LAST_YEAR).unwrap_or_default();
    share * missing
}

fn historical_uncertainty_s(year: f64) -> f64 {
    /// (year, seconds), joined by straight lines.
    const KNOTS: [(f64, f64); 13] = [
        (1200.0, 31.0),
        (1300.0, 20.0),
        (1600.0, 20.0),
        (1700.0, 9.1),
        (1725.0, 9.1),
        (1795.0, 7.8),
        (1825.0, 5.8),
        (1835.0, 3.5),
        (1855.0, 3.4),
        (1880.0, 2.5),
        (1890.0, 2.1),
        (1908.0, 1.25),
        (1914.0, 0.7),
    ];
    const LATER_S: f64 = 0.7;
    if year <= KNOTS[0].0 {
        let t = (year - 1820.0) / 100.0;
        return 0.8 * t * t;
    }
    KNOTS
        .windows(2)
        .find(|pair| year <= pair[1].0)
        .map_or(LATER_S, |pair| {
            let t = (year - pair[0].0) / (pair[1].0 - pair[0].0);
            pair[0].1 + t * (pair[1].1 - pair[0].1)
        })
}

/// Standard error of TT − UT1 so many years after the last measurement: Brownian
/// motion of the length of the day, Huber 2000.
fn drift_s(years: f64) -> f64 {
    const MEASURED_YEARS: f64 = 2500.0;
    const VARIANCE_PER_YEAR: f64 = 0.058;
    365.25 * years * (years * VARIANCE_PER_YEAR / 3.0 * (1.0 + years / MEASURED_YEARS)).sqrt()
        / 1000.0
}
