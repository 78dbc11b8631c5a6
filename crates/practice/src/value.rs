use sky::Angle;

use crate::amount::Amount;
use crate::measure::Measure;

/// A value that is seen, told, read, reckoned or calculated: each kind of number is a case
/// of its own, so that nothing which is an angle stands for feet or for points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// A degree of the zodiac, as its ecliptic longitude.
    Degree(Angle),
    /// A time of day by the Sun, as the hour angle on the limb: 0° is noon.
    TimeOfDay(Angle),
    /// A span of time or an arc of the limb, 15° an equal hour.
    Arc(Angle),
    /// An altitude, a latitude or a declination.
    Height(Angle),
    /// A direction along the horizon, from north by east.
    Azimuth(Angle),
    /// Unequal hours, 0 to 12 by day, 12 to 24 by night.
    UnequalHours(f64),
    /// Points of the shadow square, twelve to a side; sixtieths of the whole sine; digits or
    /// feet of a shadow.
    Points(f64),
    /// A length, in the unit in which the distance was told.
    Length(f64),
}

impl Measure {
    /// The value with a number in its own unit: degrees, unequal hours, points, or the unit
    /// of the length.
    #[must_use]
    pub const fn value(self, number: f64) -> Value {
        match self {
            Measure::Degree => Value::Degree(Angle::from_deg(number)),
            Measure::TimeOfDay => Value::TimeOfDay(Angle::from_deg(number)),
            Measure::Arc => Value::Arc(Angle::from_deg(number)),
            Measure::Height => Value::Height(Angle::from_deg(number)),
            Measure::Azimuth => Value::Azimuth(Angle::from_deg(number)),
            Measure::UnequalHours => Value::UnequalHours(number),
            Measure::Points => Value::Points(number),
            Measure::Length => Value::Length(number),
        }
    }

    /// The value that is an angle; `None` where this kind of number is none.
    #[must_use]
    pub const fn of_angle(self, angle: Angle) -> Option<Value> {
        match self {
            Measure::Degree
            | Measure::TimeOfDay
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth => Some(self.value(angle.deg())),
            Measure::UnequalHours | Measure::Points | Measure::Length => None,
        }
    }
}

impl Value {
    /// What kind of number it is.
    #[must_use]
    pub const fn measure(self) -> Measure {
        match self {
            Value::Degree(_) => Measure::Degree,
            Value::TimeOfDay(_) => Measure::TimeOfDay,
            Value::Arc(_) => Measure::Arc,
            Value::Height(_) => Measure::Height,
            Value::Azimuth(_) => Measure::Azimuth,
            Value::UnequalHours(_) => Measure::UnequalHours,
            Value::Points(_) => Measure::Points,
            Value::Length(_) => Measure::Length,
        }
    }

    /// The angle that it is; `None` for hours, points and lengths.
    #[must_use]
    pub const fn angle(self) -> Option<Angle> {
        match self {
            Value::Degree(angle)
            | Value::TimeOfDay(angle)
            | Value::Arc(angle)
            | Value::Height(angle)
            | Value::Azimuth(angle) => Some(angle),
            Value::UnequalHours(_) | Value::Points(_) | Value::Length(_) => None,
        }
    }

    /// The number in its own unit: degrees, unequal hours, points, or the unit of the
    /// length.
    #[must_use]
    pub const fn number(self) -> f64 {
        match self {
            Value::Degree(angle)
            | Value::TimeOfDay(angle)
            | Value::Arc(angle)
            | Value::Height(angle)
            | Value::Azimuth(angle) => angle.deg(),
            Value::UnequalHours(number) | Value::Points(number) | Value::Length(number) => number,
        }
    }

    /// How far on another value of the same kind lies: of angles, and of the hours of day and
    /// night, the short way round.
    #[must_use]
    pub fn to(self, other: Value) -> Amount {
        let apart = match (self, other) {
            (Value::UnequalHours(one), Value::UnequalHours(other)) => {
                Angle::from_hours(one).to(Angle::from_hours(other)).hours()
            }
            _ => match (self.angle(), other.angle()) {
                (Some(one), Some(other)) => one.to(other).deg(),
                _ => other.number() - self.number(),
            },
        };
        self.measure().amount(apart)
    }

    /// The value so much further on; the amount is of the same kind.
    #[must_use]
    pub fn moved(self, by: Amount) -> Value {
        self.measure().value(self.number() + by.number())
    }

    /// The place opposite, half a turn on; hours, points and lengths have none and stay.
    #[must_use]
    pub fn opposite(self) -> Value {
        match self.angle() {
            Some(angle) => self
                .measure()
                .value((angle + Angle::HALF_TURN).in_turn().deg()),
            None => self,
        }
    }

    /// With the last digit with which it is put into a sum: a minute of arc, also on the
    /// limb, where arcs are counted in degrees; a hundredth of an hour, a point or a length.
    #[must_use]
    pub fn written(self) -> Value {
        // By what a whole has of the last digit: so 25°20′ is 1520/60, as near as can be.
        let of_a_whole = match self.angle() {
            Some(_) => 60.0,
            None => 100.0,
        };
        self.measure()
            .value((self.number() * of_a_whole).round() / of_a_whole)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_goes_round_is_compared_the_short_way() {
        let to = |measure: Measure, one, other| measure.value(one).to(measure.value(other));
        assert_eq!(
            to(Measure::Degree, 350.0, 10.0),
            Amount::Angle(Angle::from_deg(20.0))
        );
        let apart = to(Measure::UnequalHours, 23.5, 0.5).number();
        assert!((apart - 1.0).abs() < 1e-12, "{apart}");
        // A tower can be higher than 180 feet.
        assert_eq!(to(Measure::Length, 10.0, 400.0), Amount::Length(390.0));
        assert_eq!(to(Measure::Points, 12.0, 4.0), Amount::Points(-8.0));
    }

    #[test]
    fn amounts_of_two_kinds_are_not_compared() {
        let (arc, length) = (Amount::Time(Angle::from_deg(1.0)), Amount::Length(2.0));
        assert_eq!(arc.partial_cmp(&length), None);
        assert!(arc < arc * 2.0);
    }
}
