use std::cmp::Ordering;
use std::ops::Mul;

use sky::Angle;

/// How much of a kind of number: how far two values lie apart, how finely one is read, how
/// far off it may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// Of degrees, heights and azimuths.
    Angle(Angle),
    /// Of times and of arcs of the limb, 15° an equal hour.
    Time(Angle),
    /// Of unequal hours.
    UnequalHours(f64),
    /// Of points of the shadow square.
    Points(f64),
    /// Of lengths, in the unit in which the distance was told.
    Length(f64),
}

impl Amount {
    /// The number in its own unit: degrees, unequal hours, points, or the unit of the
    /// length.
    #[must_use]
    pub const fn number(self) -> f64 {
        match self {
            Amount::Angle(angle) | Amount::Time(angle) => angle.deg(),
            Amount::UnequalHours(number) | Amount::Points(number) | Amount::Length(number) => {
                number
            }
        }
    }

    /// The angle that it is; `None` for hours, points and lengths.
    #[must_use]
    pub const fn angle(self) -> Option<Angle> {
        match self {
            Amount::Angle(angle) | Amount::Time(angle) => Some(angle),
            Amount::UnequalHours(_) | Amount::Points(_) | Amount::Length(_) => None,
        }
    }

    /// The same kind of amount with another number.
    #[must_use]
    pub const fn with_number(self, number: f64) -> Amount {
        match self {
            Amount::Angle(_) => Amount::Angle(Angle::from_deg(number)),
            Amount::Time(_) => Amount::Time(Angle::from_deg(number)),
            Amount::UnequalHours(_) => Amount::UnequalHours(number),
            Amount::Points(_) => Amount::Points(number),
            Amount::Length(_) => Amount::Length(number),
        }
    }

    /// Its size, without the sign.
    #[must_use]
    pub const fn abs(self) -> Amount {
        self.with_number(self.number().abs())
    }

    /// Together with another amount of the same kind.
    #[must_use]
    pub const fn plus(self, other: Amount) -> Amount {
        self.with_number(self.number() + other.number())
    }

    /// Whether it is worth telling: half a minute of arc, two seconds of time, a 120th of an
    /// unequal hour, a point or a length, and more.
    #[must_use]
    pub fn is_worth_telling(self) -> bool {
        self.number().abs() >= 0.5 / 60.0
    }

    /// Whether it is more than nothing.
    #[must_use]
    pub fn is_some(self) -> bool {
        self.number() > 0.0
    }
}

impl Mul<f64> for Amount {
    type Output = Amount;

    fn mul(self, factor: f64) -> Amount {
        self.with_number(self.number() * factor)
    }
}

/// Amounts of different kinds are neither more nor less than one another.
impl PartialOrd for Amount {
    fn partial_cmp(&self, other: &Amount) -> Option<Ordering> {
        if std::mem::discriminant(self) == std::mem::discriminant(other) {
            self.number().partial_cmp(&other.number())
        } else {
            None
        }
    }
}
