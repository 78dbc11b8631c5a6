use sofars::erst::gmst06;

use crate::fundamental::Arguments;
use crate::{Angle, Instant, Nutation};

/// What IAU 2006 mean sidereal time lacks on the long-term precession used here: at
/// most 0.8″, at the ends of the span. A polynomial, in seconds of arc, in
/// (centuries since J2000.0 + 9.75) / 16.35; by `reference/sidereal_time.py`.
const LONG_TERM: [f64; 10] = [
    -0.044_274_6,
    0.180_697_8,
    -0.238_165_4,
    0.134_855_8,
    -0.100_045_1,
    0.069_319_9,
    0.001_712_1,
    -0.001_422_9,
    0.000_018_6,
    0.000_013_2,
];

/// Mean sidereal time at Greenwich: IAU 2006 (Capitaine, Wallace and Chapront 2003),
/// carried on to far centuries with the precession of Vondrák et al. 2011.
pub(crate) fn mean(instant: Instant) -> Angle {
    let (ut_day, ut_fraction) = instant.ut_parts();
    let (tt_day, tt_fraction) = instant.tt_parts();
    let x = (instant.centuries_since_j2000() + 9.75) / 16.35;
    let lacking = LONG_TERM.iter().rev().fold(0.0, |sum, c| sum * x + c);
    Angle::from_rad(gmst06(ut_day, ut_fraction, tt_day, tt_fraction)) + Angle::from_arcsec(lacking)
}

/// Apparent minus mean sidereal time: the nutation in longitude, carried to the
/// equator, and the two largest complementary terms of IAU 2000 (the rest stay
/// below 0.00002″).
pub(crate) fn equation_of_equinoxes(
    nutation: Nutation,
    mean_obliquity: Angle,
    arguments: &Arguments,
) -> Angle {
    let node = arguments.node();
    nutation.longitude * mean_obliquity.cos()
        + Angle::from_arcsec(0.002_640_96 * libm::sin(node) + 0.000_063_52 * libm::sin(2.0 * node))
}
