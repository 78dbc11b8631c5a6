use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use thiserror::Error;

use crate::Plain;

/// A plane angle of any size and sign.
///
/// Kept in degrees, unlike most numeric code: the trade's angles are whole
/// degrees and right angles, and kept so they are exact, they wrap exactly,
/// and a value given in degrees comes back to the last digit.
///
/// ```
/// use sky::Angle;
/// assert_eq!(Angle::from_deg(-30.0).in_turn(), Angle::from_deg(330.0));
/// assert_eq!(Angle::from_deg(350.0).to(Angle::from_deg(10.0)).deg(), 20.0);
/// assert_eq!(Angle::from_hours(6.0), Angle::QUARTER_TURN);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No angle at all.
    pub const ZERO: Angle = Angle(0.0);
    /// 90°.
    pub const QUARTER_TURN: Angle = Angle(90.0);
    /// 180°.
    pub const HALF_TURN: Angle = Angle(180.0);
    /// 360°.
    pub const FULL_TURN: Angle = Angle(360.0);

    /// From degrees.
    #[must_use]
    pub const fn from_deg(deg: f64) -> Angle {
        Angle(deg)
    }

    /// From hours, 15° each.
    #[must_use]
    pub const fn from_hours(hours: f64) -> Angle {
        Angle(hours * 15.0)
    }

    /// From minutes of arc.
    #[must_use]
    pub const fn from_arcmin(arcmin: f64) -> Angle {
        Angle(arcmin / 60.0)
    }

    /// From seconds of arc.
    #[must_use]
    pub const fn from_arcsec(arcsec: f64) -> Angle {
        Angle(arcsec / 3600.0)
    }

    /// From radians.
    #[must_use]
    pub const fn from_rad(rad: f64) -> Angle {
        Angle(rad.to_degrees())
    }

    /// The direction of the point (x, y), anticlockwise from the x axis, in (−180°, 180°].
    #[must_use]
    pub fn atan2(y: f64, x: f64) -> Angle {
        Angle::from_rad(libm::atan2(y, x))
    }

    /// The angle in [−90°, 90°] with this sine; a sine a rounding error outside
    /// [−1, 1] counts as ±1.
    #[must_use]
    pub fn asin(sine: f64) -> Angle {
        Angle::from_rad(libm::asin(sine.clamp(-1.0, 1.0)))
    }

    /// The angle in [0°, 180°] with this cosine; a cosine a rounding error outside
    /// [−1, 1] counts as ±1.
    #[must_use]
    pub fn acos(cosine: f64) -> Angle {
        Angle::from_rad(libm::acos(cosine.clamp(-1.0, 1.0)))
    }

    /// In degrees.
    #[must_use]
    pub const fn deg(self) -> f64 {
        self.0
    }

    /// In hours, 15° each.
    #[must_use]
    pub const fn hours(self) -> f64 {
        self.0 / 15.0
    }

    /// In seconds of arc.
    #[must_use]
    pub const fn arcsec(self) -> f64 {
        self.0 * 3600.0
    }

    /// In radians.
    #[must_use]
    pub const fn rad(self) -> f64 {
        self.0.to_radians()
    }

    /// Sine.
    #[must_use]
    pub fn sin(self) -> f64 {
        libm::sin(self.rad())
    }

    /// Cosine.
    #[must_use]
    pub fn cos(self) -> f64 {
        libm::cos(self.rad())
    }

    /// Tangent.
    #[must_use]
    pub fn tan(self) -> f64 {
        libm::tan(self.rad())
    }

    /// Sine and cosine.
    #[must_use]
    pub fn sin_cos(self) -> (f64, f64) {
        libm::sincos(self.rad())
    }

    /// The size without the sign.
    #[must_use]
    pub const fn abs(self) -> Angle {
        Angle(self.0.abs())
    }

    /// The same direction in [0°, 360°).
    #[must_use]
    pub fn in_turn(self) -> Angle {
        // Nearly every angle lies within a turn of where it should: there one sum gives what
        // the remainder of a division would, to the last bit, and much sooner.
        let deg = match self.0 {
            deg if (0.0..360.0).contains(&deg) => deg,
            deg if (-360.0..0.0).contains(&deg) => deg + 360.0,
            deg if (360.0..720.0).contains(&deg) => deg - 360.0,
            deg => deg.rem_euclid(360.0),
        };
        // A tiny negative number rounds up to 360 itself; adding nothing turns a negative
        // zero into a plain one.
        Angle(if deg < 360.0 { deg + 0.0 } else { 0.0 })
    }

    /// The same direction in (−180°, 180°].
    #[must_use]
    pub fn signed(self) -> Angle {
        let deg = self.in_turn().0;
        Angle(if deg > 180.0 { deg - 360.0 } else { deg })
    }

    /// The turn from this direction to another, the short way round, in (−180°, 180°].
    #[must_use]
    pub fn to(self, other: Angle) -> Angle {
        (other - self).signed()
    }

    /// Whether the number is a number and not infinite.
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

impl Add for Angle {
    type Output = Angle;
    fn add(self, other: Angle) -> Angle {
        Angle(self.0 + other.0)
    }
}

impl AddAssign for Angle {
    fn add_assign(&mut self, other: Angle) {
        self.0 += other.0;
    }
}

impl Sub for Angle {
    type Output = Angle;
    fn sub(self, other: Angle) -> Angle {
        Angle(self.0 - other.0)
    }
}

impl SubAssign for Angle {
    fn sub_assign(&mut self, other: Angle) {
        self.0 -= other.0;
    }
}

impl Neg for Angle {
    type Output = Angle;
    fn neg(self) -> Angle {
        Angle(-self.0)
    }
}

impl Mul<f64> for Angle {
    type Output = Angle;
    fn mul(self, factor: f64) -> Angle {
        Angle(self.0 * factor)
    }
}

impl Mul<Angle> for f64 {
    type Output = Angle;
    fn mul(self, angle: Angle) -> Angle {
        angle * self
    }
}

impl Div<f64> for Angle {
    type Output = Angle;
    fn div(self, divisor: f64) -> Angle {
        Angle(self.0 / divisor)
    }
}

/// The ratio of two angles, a plain number.
impl Div for Angle {
    type Output = f64;
    fn div(self, other: Angle) -> f64 {
        self.0 / other.0
    }
}

impl std::iter::Sum for Angle {
    fn sum<I: Iterator<Item = Angle>>(angles: I) -> Angle {
        angles.fold(Angle::ZERO, Add::add)
    }
}

/// Degrees in decimals, with as many places as asked for: `{:.2}` gives `23.44°`.
impl fmt::Display for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)?;
        f.write_str("°")
    }
}

/// An angle from a plane, at most a right angle: latitude on the Earth (north
/// positive), declination, altitude, ecliptic latitude.
///
/// ```
/// use sky::Latitude;
/// assert_eq!(Latitude::from_deg(42.88)?.deg(), 42.88);
/// assert!(Latitude::from_deg(90.01).is_err());
/// assert!(Latitude::from_deg(f64::NAN).is_err());
/// # Ok::<(), sky::LatitudeError>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Latitude(Angle);

/// A latitude outside −90° to 90°, or not a number.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[error("latitude {}° is outside −90° to 90°", Plain(*.0))]
pub struct LatitudeError(f64);

impl Latitude {
    /// On the plane itself: the equator, the horizon.
    pub const ZERO: Latitude = Latitude(Angle::ZERO);

    /// From degrees, north (or up) positive.
    ///
    /// # Errors
    /// When the number is outside −90 to 90, or not a number.
    pub fn from_deg(deg: f64) -> Result<Latitude, LatitudeError> {
        if (-90.0..=90.0).contains(&deg) {
            Ok(Latitude(Angle::from_deg(deg)))
        } else {
            Err(LatitudeError(deg))
        }
    }

    /// The latitude with this sine; a sine a rounding error outside [−1, 1] counts as ±1.
    #[must_use]
    pub fn asin(sine: f64) -> Latitude {
        Latitude(Angle::asin(sine))
    }

    /// In degrees.
    #[must_use]
    pub const fn deg(self) -> f64 {
        self.0.deg()
    }

    /// As an angle.
    #[must_use]
    pub const fn angle(self) -> Angle {
        self.0
    }

    /// Sine.
    #[must_use]
    pub fn sin(self) -> f64 {
        self.0.sin()
    }

    /// Cosine.
    #[must_use]
    pub fn cos(self) -> f64 {
        self.0.cos()
    }

    /// Tangent; huge at the poles.
    #[must_use]
    pub fn tan(self) -> f64 {
        self.0.tan()
    }
}

impl Neg for Latitude {
    type Output = Latitude;
    fn neg(self) -> Latitude {
        Latitude(-self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn by_the_remainder(deg: f64) -> f64 {
        let rest = deg.rem_euclid(360.0);
        if rest < 360.0 { rest + 0.0 } else { 0.0 }
    }

    /// The sum that stands for the remainder gives its very bits, at the seams too.
    #[test]
    fn in_turn_is_the_remainder_to_the_last_bit() {
        for whole in [-720.0, -360.0, -0.0, 0.0, 360.0, 720.0, 1080.0_f64] {
            for deg in [whole.next_down(), whole, whole.next_up(), whole + 1e-300] {
                let turned = Angle::from_deg(deg).in_turn().deg();
                assert_eq!(turned.to_bits(), by_the_remainder(deg).to_bits(), "{deg:e}");
            }
        }
    }

    proptest! {
        #[test]
        fn in_turn_is_the_remainder_anywhere(deg in -1500.0..1500.0) {
            let turned = Angle::from_deg(deg).in_turn().deg();
            prop_assert_eq!(turned.to_bits(), by_the_remainder(deg).to_bits());
        }
    }
}
