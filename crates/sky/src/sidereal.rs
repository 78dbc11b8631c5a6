use sofars::erst::{era00, gmst06};
use sofars::fundargs::faom03;

use crate::{Angle, Instant, Nutation};

/// Mean sidereal time at Greenwich.
pub(crate) fn mean(instant: Instant) -> Angle {
    let (ut_day, ut_fraction) = instant.ut_parts();
    let (tt_day, tt_fraction) = instant.tt_parts();
    let _ = era00;
    Angle::from_rad(gmst06(ut_day, ut_fraction, tt_day, tt_fraction))
}

/// Apparent minus mean sidereal time: the nutation in longitude, carried to the
/// equator, and the two largest complementary terms of IAU 2000 (the rest stay
/// below 0.00002″).
pub(crate) fn equation_of_equinoxes(
    centuries: f64,
    nutation: Nutation,
    mean_obliquity: Angle,
) -> Angle {
    let node = faom03(centuries);
    nutation.longitude * mean_obliquity.cos()
        + Angle::from_arcsec(0.002_640_96 * node.sin() + 0.000_063_52 * (2.0 * node).sin())
}
