//! Nutation, obliquity, sidereal time and the mean node against ERFA's routines (as
//! ported in sofars, bit for bit the same) and published values.

use proptest::prelude::*;
use sky::{Angle, Instant, Sky, Span};
use sofars::erst::gst06a;
use sofars::pnp::{nut00a, obl06};

const SIDEREAL_TIME: &str = include_str!("../../../reference/sidereal_time.csv");

/// What the 1276 terms left out come to; the bar is 0.01″.
const NUTATION_ARCSEC: f64 = 0.003;

#[track_caller]
fn check_arcsec(found: Angle, given: Angle, tolerance_arcsec: f64) {
    let off = given.to(found).arcsec();
    assert!(
        off.abs() <= tolerance_arcsec,
        "found {found}, given {given}: {off}″ apart"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn nutation_of_iau_2000a(jd in Span::FIRST_JD..Span::LAST_JD) {
        let found = Sky::at(Instant::from_jd_tt(jd)).unwrap().nutation();
        let (longitude, obliquity) = nut00a(jd, 0.0);
        check_arcsec(found.longitude, Angle::from_rad(longitude), NUTATION_ARCSEC);
        check_arcsec(found.obliquity, Angle::from_rad(obliquity), NUTATION_ARCSEC);
    }
}

/// Within two centuries of 2000 the long-term expressions and those of IAU 2006 agree.
#[test]
fn sidereal_time_and_obliquity_of_iau_2006() {
    for day in -720..720 {
        let instant = Instant::from_ut(2_451_545.0 + f64::from(day) * 101.0, 0.37);
        let sky = Sky::at(instant).unwrap();
        let ((ut, ut_fraction), (tt, tt_fraction)) = (instant.ut_parts(), instant.tt_parts());
        let given = Angle::from_rad(gst06a(ut, ut_fraction, tt, tt_fraction));
        check_arcsec(sky.sidereal_time(), given, 0.01);
        check_arcsec(
            sky.mean_obliquity(),
            Angle::from_rad(obl06(tt, tt_fraction)),
            0.01,
        );
    }
}

/// The table takes UT = TT; the Earth turns through 360.985 647° a day in between.
#[test]
fn mean_sidereal_time_over_the_span() {
    for row in SIDEREAL_TIME.lines().skip(3) {
        let (jd, given) = row.split_once(',').unwrap();
        let jd: f64 = jd.parse().unwrap();
        let instant = Instant::from_ut(jd, 0.0);
        let Ok(sky) = Sky::at(instant) else {
            continue;
        };
        // Precession in right ascension during ΔT: 46″ a year.
        let later = Angle::from_arcsec(46.1 * instant.delta_t().seconds / 31_557_600.0);
        let found = sky.sidereal_time() - sky.equation_of_equinoxes();
        check_arcsec(
            found,
            Angle::from_deg(given.parse().unwrap()) + later,
            0.002,
        );
    }
}

/// Meeus, Astronomical Algorithms, example 22.a: Ω = 11.2531°, from the mean equinox.
#[test]
fn mean_node() {
    let sky = Sky::at(Instant::from_jd_tt(2_446_895.5)).unwrap();
    let node = sky.mean_node() - sky.nutation().longitude;
    // The book's polynomial is of 1980.
    check_arcsec(node, Angle::from_deg(11.2531), 1.0);
    // The true node swings 1.7° to either side of the mean one.
    assert!(sky.mean_node().to(sky.true_node()).deg().abs() < 2.0);
}
