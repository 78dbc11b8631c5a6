use std::fmt;

use crate::{CivilDate, CivilTime, TimeOfDay};

/// One line of the sum from the clock to the sky.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeStep {
    /// What is taken into account.
    pub what: StepKind,
    /// The time it starts from.
    pub from: TimeKind,
    /// The time it leads to.
    pub to: TimeKind,
    /// How much is added, in seconds.
    pub amount_s: f64,
    /// What comes out: the time of day by the new reckoning.
    pub result: TimeOfDay,
    /// The date of it; None for sidereal time.
    pub date: Option<CivilDate>,
    /// Why so much, in plain words.
    pub reason: String,
}

/// What a line of the sum takes into account.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
#[non_exhaustive]
pub enum StepKind {
    /// Summer time is taken off.
    SummerTime,
    /// The zone's standard time, or an offset, against UTC.
    Zone,
    /// Four minutes for every degree of longitude.
    Longitude,
    /// Apparent against mean time.
    EquationOfTime,
    /// The Sun's right ascension.
    SiderealTime,
}

/// A way of reckoning the time of day.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
#[non_exhaustive]
pub enum TimeKind {
    /// The clock as it was read.
    Clock,
    /// The zone's time without summer time.
    Standard,
    /// UTC.
    Universal,
    /// Local mean time.
    LocalMean,
    /// Local apparent time: the Sun's hour angle and 12 h.
    LocalApparent,
    /// Local apparent sidereal time.
    Sidereal,
}

impl TimeStep {
    pub(crate) fn new(
        what: StepKind,
        (from, to): (TimeKind, TimeKind),
        amount_s: f64,
        result: CivilTime,
        reason: String,
    ) -> TimeStep {
        TimeStep {
            what,
            from,
            to,
            amount_s,
            result: result.time,
            date: Some(result.date),
            reason,
        }
    }
}

/// A length of time in words, `+1 h`, `−34 m 11 s`, to the second.
pub(crate) struct Signed(pub(crate) f64);

impl fmt::Display for Signed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.0 < 0.0 { "−" } else { "+" })?;
        Unsigned(self.0).fmt(f)
    }
}

/// The same without its sign.
pub(crate) struct Unsigned(pub(crate) f64);

impl fmt::Display for Unsigned {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let total = self.0.abs().round() as u64;
        let parts = [
            (total / 3600, "h"),
            (total / 60 % 60, "m"),
            (total % 60, "s"),
        ];
        let mut gap = "";
        for (number, unit) in parts.into_iter().filter(|(number, _)| *number > 0) {
            write!(f, "{gap}{number} {unit}")?;
            gap = " ";
        }
        if total == 0 {
            f.write_str("0 s")
        } else {
            Ok(())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_of_time_are_written_in_hours_minutes_and_seconds() {
        assert_eq!(Signed(3600.0).to_string(), "+1 h");
        assert_eq!(Signed(-2050.8).to_string(), "−34 m 11 s");
        assert_eq!(Signed(4772.0).to_string(), "+1 h 19 m 32 s");
        assert_eq!(Signed(0.0).to_string(), "+0 s");
        assert_eq!(Unsigned(-3600.4).to_string(), "1 h");
    }
}
