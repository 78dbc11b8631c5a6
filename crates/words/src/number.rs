//! How angles, times, lengths of time and dates are written.

use std::fmt;

use instrument::YearDay;
use moment::MONTHS;
use practice::Measure;
use sky::{Angle, Latitude, Zodiacal};

/// An angle of time, 15° an hour, as a length of time: `1 h 19 m 32 s`, to the
/// second, without its sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Length(pub Angle);

impl fmt::Display for Length {
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

/// A latitude of the Earth: `42°53′ N`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnEarth(pub Latitude);

impl fmt::Display for OnEarth {
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
pub struct Said(pub Measure, pub Angle);

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Said(measure, value) = *self;
        let sign = if value < Angle::ZERO { "−" } else { "" };
        match measure {
            Measure::Degree => write!(f, "{}", Zodiacal(value)),
            Measure::TimeOfDay => write!(f, "{}", TimeOfDay(value + Angle::HALF_TURN)),
            Measure::Arc => write!(
                f,
                "{sign}{} ({sign}{})",
                Degrees(value),
                Length(Angle::from_deg((value.deg() * 4.0).round() / 4.0))
            ),
            Measure::Height => write!(f, "{sign}{}", Degrees(value)),
            Measure::Azimuth => write!(f, "{} from north by east", Degrees(value.in_turn())),
            Measure::UnequalHours => {
                let hours = (value.hours() * 100.0).round() / 100.0;
                if hours < 12.0 {
                    write!(f, "{hours} unequal hours of the day")
                } else {
                    let hours = ((hours - 12.0) * 100.0).round() / 100.0;
                    write!(f, "{hours} unequal hours of the night")
                }
            }
            Measure::Number => write!(f, "{}", (value.deg() * 100.0).round() / 100.0),
        }
    }
}

/// How far two values of a kind are apart, without its sign: `0°45′`, and on the
/// limb a length of time, `2 m 10 s`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference(pub Measure, pub Angle);

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Difference(measure, apart) = *self;
        let hundredths = |value: f64| (value.abs() * 100.0).round() / 100.0;
        match measure {
            Measure::TimeOfDay | Measure::Arc => write!(f, "{}", Length(apart)),
            Measure::UnequalHours => write!(f, "{} of an hour", hundredths(apart.hours())),
            Measure::Number => write!(f, "{}", hundredths(apart.deg())),
            Measure::Degree | Measure::Height | Measure::Azimuth => {
                write!(f, "{}", Degrees(apart))
            }
        }
    }
}

/// How finely or how surely a value is had: as [`Difference`], under a degree in
/// minutes alone, `28′`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness(pub Measure, pub Angle);

impl fmt::Display for Fineness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Fineness(measure, to) = *self;
        let minutes = (to.abs().deg() * 60.0).round().max(1.0);
        match measure {
            Measure::Degree | Measure::Height | Measure::Azimuth if minutes < 60.0 => {
                write!(f, "{minutes}′")
            }
            _ => write!(f, "{}", Difference(measure, to)),
        }
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
        assert_eq!(Length(Angle::from_deg(-8.5449)).to_string(), "34 m 11 s");
        assert_eq!(Length(Angle::ZERO).to_string(), "nothing");
        let apart = |measure| Difference(measure, Angle::from_deg(-0.75)).to_string();
        assert_eq!(apart(Measure::Arc), "3 m");
        assert_eq!(apart(Measure::Height), "0°45′");
        assert_eq!(apart(Measure::UnequalHours), "0.05 of an hour");
        let fine = Fineness(Measure::Degree, Angle::from_deg(0.47));
        assert_eq!(fine.to_string(), "28′");
        assert_eq!(
            OnEarth(Latitude::from_deg(-33.5).unwrap()).to_string(),
            "33°30′ S"
        );
    }
}
