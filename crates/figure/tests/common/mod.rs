//! What the tests share: random horizons, and comparison round the circle.

#![allow(
    dead_code,
    unreachable_pub,
    reason = "each test file is a crate of its own and uses a part"
)]

use figure::Horizon;
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// Some hundred roundings of a sum of angles in degrees.
pub const ROUNDING: Angle = Angle::from_deg(1e-11);

pub fn horizon(sidereal_time_deg: f64, obliquity_deg: f64, latitude_deg: f64) -> Horizon {
    Horizon {
        sidereal_time: Angle::from_deg(sidereal_time_deg),
        obliquity: Angle::from_deg(obliquity_deg),
        latitude: latitude(latitude_deg),
    }
}

/// A latitude or declination written in a test.
pub fn latitude(deg: f64) -> Latitude {
    Latitude::from_deg(deg).expect("at most 90°")
}

/// Obliquities of some thirty thousand years, and latitudes in a range.
pub fn horizons(latitudes_deg: std::ops::Range<f64>) -> impl Strategy<Value = Horizon> {
    (0.0..360.0, 22.0..24.6, latitudes_deg)
        .prop_map(|(time, obliquity, latitude)| horizon(time, obliquity, latitude))
}

/// Between the polar circles, whatever the obliquity.
pub const BETWEEN_POLAR_CIRCLES: std::ops::Range<f64> = -65.3..65.3;

/// Everywhere but within a centimetre of the poles.
pub const EVERYWHERE: std::ops::Range<f64> = -89.999_999..89.999_999;

/// Beyond the northern polar circle, whatever the obliquity.
pub const ARCTIC: std::ops::Range<f64> = 68.1..89.9;

#[track_caller]
pub fn assert_near(got: Angle, expected: Angle, tolerance: Angle, what: impl std::fmt::Display) {
    let off = expected.to(got).abs();
    assert!(
        off <= tolerance,
        "{what}: got {got}, expected {expected}, off by {off}, more than {tolerance}"
    );
}

/// Within so many minutes of what is printed.
#[track_caller]
pub fn near(found: Angle, printed: Angle, within_arcmin: f64) {
    assert_near(found, printed, Angle::from_arcmin(within_arcmin), "printed");
}

/// A longitude by degrees and minutes of a sign.
pub fn at(sign: sky::Sign, deg: f64, arcmin: f64) -> Angle {
    sign.begins() + Angle::from_deg(deg + arcmin / 60.0)
}

/// A longitude as it is written: 26°36′ of the fourth sign is `longitude(Cancer, 26, 36)`.
pub fn longitude(sign: Sign, deg: u16, arcmin: u16) -> Angle {
    Angle::from_deg(30.0 * f64::from(sign as u8) + f64::from(deg) + f64::from(arcmin) / 60.0)
}

#[derive(Clone, Copy, Debug)]
pub enum Sign {
    Aries,
    Taurus,
    Gemini,
    Cancer,
    Leo,
    Virgo,
    Libra,
    Scorpio,
    Sagittarius,
    Capricorn,
    Aquarius,
    Pisces,
}
