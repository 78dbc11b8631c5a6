//! How angles, times, lengths of time and dates are written.

use std::fmt;

use instrument::YearDay;
use moment::MONTHS;
use practice::{Amount, Value};
use sky::{Angle, Latitude, Zodiacal};

/// An angle of time, 15° an hour, as a length of time: `1 h 19 m 32 s`, to the
/// second, without its sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeSpan(pub Angle);

impl fmt::Display for TimeSpan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seconds = (self.0.abs().hours() * 3600.0).round();
        let parts = [
            ((seconds / 3600.0).floor(), "h"),
            ((seconds / 60.0).floor() % 60.0, "m"),
            (seconds % 60.0, "s"),
        ];
        let mut gap = "";
        for (number, unit) in parts.into_iter().filter(|(number, _)| *number > 0.0) {
            write!(f, "{gap}{number} {unit}")?;
            gap = " ";
        }
        if gap.is_empty() {
            f.write_str("nothing")
        } else {
            Ok(())
        }
    }
}

/// An angle of time from midnight as a time of day: `6 h 49 m`, to the nearest
/// minute, or to the second where seconds are asked for by `{:#}`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeOfDay(pub Angle);

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seconds = self.0.in_turn().hours() * 3600.0;
        if f.alternate() {
            let seconds = seconds.round() % 86_400.0;
            let (hours, minutes) = ((seconds / 3600.0).floor(), (seconds / 60.0).floor() % 60.0);
            write!(f, "{hours} h {minutes:02} m {:02} s", seconds % 60.0)
        } else {
            let minutes = (seconds / 60.0).round() % 1440.0;
            write!(f, "{} h {:02} m", (minutes / 60.0).floor(), minutes % 60.0)
        }
    }
}

/// An angle in degrees and minutes, without its sign: `34°12′`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Degrees(pub Angle);

impl fmt::Display for Degrees {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = (self.0.abs().deg() * 60.0).round();
        write!(f, "{}°{:02}′", (minutes / 60.0).floor(), minutes % 60.0)
    }
}

/// So far north or south, on Earth or in the sky: `42°53′ N`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NorthOrSouth(pub Latitude);

impl fmt::Display for NorthOrSouth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let side = if self.0 < Latitude::ZERO { "S" } else { "N" };
        write!(f, "{} {side}", Degrees(self.0.angle()))
    }
}

/// A date without its year: `14 May`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Day(pub YearDay);

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let month = usize::from(self.0.month.saturating_sub(1));
        write!(f, "{} {}", self.0.day, MONTHS.get(month).unwrap_or(&""))
    }
}

/// A value as its kind is said: `11°00′ Pisces`, `9 h 00 m`, `247°15′ (16 h 29 m)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ValueInWords(pub Value);

impl fmt::Display for ValueInWords {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = |angle: Angle| if angle < Angle::ZERO { "−" } else { "" };
        match self.0 {
            Value::Degree(degree) => write!(f, "{}", Zodiacal(degree)),
            Value::TimeOfDay(hour) => write!(f, "{}", TimeOfDay(hour + Angle::HALF_TURN)),
            Value::Arc(arc) => {
                let sign = sign(arc);
                let time = Angle::from_deg((arc.deg() * 4.0).round() / 4.0);
                write!(f, "{sign}{} ({sign}{})", Degrees(arc), TimeSpan(time))
            }
            Value::Height(height) => write!(f, "{}{}", sign(height), Degrees(height)),
            Value::Azimuth(azimuth) => {
                write!(f, "{} from north by east", Degrees(azimuth.in_turn()))
            }
            Value::UnequalHours(hours) => {
                let hours = hundredths(hours);
                if hours < 12.0 {
                    write!(f, "{hours} unequal hours of the day")
                } else {
                    let hours = hundredths(hours - 12.0);
                    write!(f, "{hours} unequal hours of the night")
                }
            }
            Value::Points(number) | Value::Length(number) => {
                write!(f, "{}", hundredths(number))
            }
        }
    }
}

fn hundredths(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

/// How far two values of a kind are apart, without its sign: `0°45′`, and on the
/// limb a length of time, `2 m 10 s`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference(pub Amount);

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0.abs() {
            Amount::Angle(angle) => write!(f, "{}", Degrees(angle)),
            Amount::Time(time) => write!(f, "{}", TimeSpan(time)),
            Amount::UnequalHours(hours) => write!(f, "{} of an hour", hundredths(hours)),
            Amount::Points(number) | Amount::Length(number) => {
                write!(f, "{}", hundredths(number))
            }
        }
    }
}

/// How finely or how surely a value is had: as [`Difference`], under a degree in
/// minutes alone, `28′`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness(pub Amount);

impl fmt::Display for Fineness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Amount::Angle(to) = self.0 {
            let minutes = (to.abs().deg() * 60.0).round().max(1.0);
            if minutes < 60.0 {
                return write!(f, "{minutes}′");
            }
        }
        write!(f, "{}", Difference(self.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_said_in_hours_and_minutes() {
        assert_eq!(TimeOfDay(Angle::from_hours(6.82)).to_string(), "6 h 49 m");
        assert_eq!(
            format!("{:#}", TimeOfDay(Angle::from_hours(6.82))),
            "6 h 49 m 12 s"
        );
        assert_eq!(
            TimeOfDay(Angle::from_hours(23.9999)).to_string(),
            "0 h 00 m"
        );
        assert_eq!(TimeSpan(Angle::from_deg(-8.5449)).to_string(), "34 m 11 s");
        assert_eq!(TimeSpan(Angle::ZERO).to_string(), "nothing");
        let apart = |amount| Difference(amount).to_string();
        assert_eq!(apart(Amount::Time(Angle::from_deg(-0.75))), "3 m");
        assert_eq!(apart(Amount::Angle(Angle::from_deg(-0.75))), "0°45′");
        assert_eq!(apart(Amount::UnequalHours(-0.05)), "0.05 of an hour");
        assert_eq!(apart(Amount::Points(-0.25)), "0.25");
        let fine = Fineness(Amount::Angle(Angle::from_deg(0.47)));
        assert_eq!(fine.to_string(), "28′");
        assert_eq!(
            NorthOrSouth(Latitude::from_deg(-33.5).unwrap()).to_string(),
            "33°30′ S"
        );
    }
}
