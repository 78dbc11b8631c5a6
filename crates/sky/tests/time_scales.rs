//! ΔT and the two scales of an instant.

use proptest::prelude::*;
use sky::{DeltaT, DeltaTSource, Instant};

const SECONDS_PER_DAY: f64 = 86_400.0;

fn jd_of_year(year: f64) -> f64 {
    2_451_545.0 + (year - 2000.0) * 365.25
}

/// At the knots the splines give their own a₀ (Morrison et al. 2021, table S15.2020).
#[test]
fn spline_knots() {
    for (year, seconds) in [
        (-720.0, 20_371.848),
        (-100.0, 11_557.668),
        (1000.0, 1_650.393),
        (1600.0, 109.127),
        (1900.0, -1.977),
    ] {
        let delta_t = DeltaT::at_jd_ut(jd_of_year(year));
        assert!(
            (delta_t.seconds - seconds).abs() < 1e-6,
            "{year}: {delta_t:?}"
        );
        assert_eq!(delta_t.source, DeltaTSource::Spline);
    }
}

/// 32.184 s + TAI − UTC (IERS Bulletin C).
#[test]
fn leap_seconds() {
    for (jd, seconds, source) in [
        (2_441_317.5, 42.184, DeltaTSource::LeapSeconds),
        (2_451_544.5, 64.184, DeltaTSource::LeapSeconds),
        (2_457_754.4, 68.184, DeltaTSource::LeapSeconds),
        (2_457_754.5, 69.184, DeltaTSource::LeapSeconds),
        (2_500_000.0, 69.184, DeltaTSource::LastLeapSecond),
    ] {
        let delta_t = DeltaT::at_jd_ut(jd);
        assert!(
            (delta_t.seconds - seconds).abs() < 1e-12,
            "{jd}: {delta_t:?}"
        );
        assert_eq!(delta_t.source, source);
    }
}

/// The coefficients have three decimals, so neighbours meet to a few milliseconds.
#[test]
fn no_jump_before_leap_seconds() {
    const ROUNDING_OF_THE_TABLE_S: f64 = 0.002;
    let step_days = 0.25;
    let mut jd = jd_of_year(-1500.0);
    let mut last = DeltaT::at_jd_ut(jd).seconds;
    while jd + step_days < 2_441_317.5 {
        jd += step_days;
        let next = DeltaT::at_jd_ut(jd).seconds;
        // The steepest slope is that of the parabola at the start, 22 s a year.
        assert!(
            (next - last).abs() < 0.02 + ROUNDING_OF_THE_TABLE_S,
            "{jd}: {last} {next}"
        );
        last = next;
    }
    assert!((last - 42.184).abs() < 0.002, "{last}");
}

#[test]
fn uncertainty_grows_away_from_the_present() {
    let at = |year| DeltaT::at_jd_ut(jd_of_year(year)).uncertainty_s;
    // Espenak and Meeus, table 1: 431 s at −500, 54 s at 1000.
    assert!((at(-500.0) - 431.0).abs() < 1.0);
    assert!((at(1000.0) - 54.0).abs() < 1.0);
    assert!(at(1700.0) > at(1800.0) && at(1800.0) > at(1900.0));
    assert!(at(2600.0) > at(2100.0) && at(2100.0) > at(2000.0));
}

/// TT − UT by the US Naval Observatory, half-yearly from 1657 to 1972
/// (`reference/delta_t.py`): another determination than ours, and it must lie within
/// what ours is said to be off by. In that span nothing closer is claimed than they agree.
#[test]
fn another_determination_lies_within_the_uncertainty() {
    let table = include_str!("../../../reference/delta_t_published.csv");
    let mut least_spare = f64::INFINITY;
    for row in table.lines().skip(2) {
        let (jd, published) = row.split_once(',').unwrap();
        let (jd, published): (f64, f64) = (jd.parse().unwrap(), published.parse().unwrap());
        let ours = DeltaT::at_jd_ut(jd);
        let off = (ours.seconds - published).abs();
        assert!(
            off <= ours.uncertainty_s,
            "{jd}: {off} s, said to be {} s",
            ours.uncertainty_s
        );
        least_spare = least_spare.min(ours.uncertainty_s - off);
    }
    assert!(least_spare < 0.1, "{least_spare} s");
}

/// UTC 23:59:60 of 2016-12-31 has a TT of its own, and no UT but that of the second around it.
#[test]
fn a_leap_second_passes() {
    let before = Instant::from_ut(2_457_753.5, 86_399.5 / SECONDS_PER_DAY);
    let within = before.plus_seconds(1.0);
    let after = before.plus_seconds(2.0);
    let midnight = 2_457_754.5;
    assert!((within.seconds_since(before) - 1.0).abs() < 1e-9);
    assert!((within.jd_ut() - midnight).abs() < 1.0 / SECONDS_PER_DAY);
    let (day, fraction) = after.ut_parts();
    assert!((day - midnight).abs() < 1e-9, "{after:?}");
    assert!((fraction * SECONDS_PER_DAY - 0.5).abs() < 1e-9, "{after:?}");
}

proptest! {
    #[test]
    fn tt_and_ut_agree(day in 1_000_000i32..3_000_000, fraction in 0.0..1.0) {
        let from_ut = Instant::from_ut(f64::from(day) + 0.5, fraction);
        let (tt_day, tt_fraction) = from_ut.tt_parts();
        let from_tt = Instant::from_tt(tt_day, tt_fraction);
        prop_assert!(from_tt.seconds_since(from_ut).abs() < 1e-9);
        let ut_apart = (from_tt.ut_parts().0 - from_ut.ut_parts().0)
            + (from_tt.ut_parts().1 - from_ut.ut_parts().1);
        prop_assert!((ut_apart * SECONDS_PER_DAY).abs() < 1e-8, "{} s", ut_apart * SECONDS_PER_DAY);
        prop_assert!((0.0..1.0).contains(&from_ut.ut_parts().1));
        prop_assert!((0.0..1.0).contains(&tt_fraction));
    }

    #[test]
    fn seconds_add_up(jd in 1_500_000.0..2_700_000.0, seconds in -1e9..1e9) {
        let start = Instant::from_jd_ut(jd);
        let end = start.plus_seconds(seconds);
        prop_assert!((end.seconds_since(start) - seconds).abs() < 1e-6);
    }
}
