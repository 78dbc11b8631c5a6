use std::fmt;

/// How far a clock is ahead of UTC: east positive, less than a day.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct UtcOffset(f64);

impl UtcOffset {
    /// From seconds; None unless less than a day either way.
    #[must_use]
    pub fn from_seconds(seconds: f64) -> Option<UtcOffset> {
        (seconds.abs() < 86_400.0).then_some(UtcOffset(seconds))
    }

    /// In seconds.
    #[must_use]
    pub const fn seconds(self) -> f64 {
        self.0
    }

    /// From `+01:00`, `-06:00`, `+05:53:28`; also with a minus sign proper.
    pub(crate) fn parse(text: &str) -> Option<UtcOffset> {
        let (sign, digits) = match text.strip_prefix('+') {
            Some(digits) => (1.0, digits),
            None => (-1.0, text.strip_prefix(['-', '−'])?),
        };
        let mut parts = digits.split(':').map(two_digits);
        let (hours, minutes) = (parts.next()??, parts.next()??);
        let seconds = match parts.next() {
            Some(seconds) => seconds?,
            None => 0,
        };
        (parts.next().is_none() && hours < 24 && minutes < 60 && seconds < 60)
            .then(|| UtcOffset(sign * f64::from(hours * 3600 + minutes * 60 + seconds)))
    }
}

fn two_digits(text: &str) -> Option<u32> {
    (text.len() == 2 && text.bytes().all(|byte| byte.is_ascii_digit()))
        .then(|| text.parse().ok())?
}

/// `+01:00`, `-00:14:44`: to the second, which is shown where there is one.
impl fmt::Display for UtcOffset {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let total = self.0.abs().round() as u64;
        let sign = if self.0 < 0.0 && total > 0 { '-' } else { '+' };
        write!(f, "{sign}{:02}:{:02}", total / 3600, total / 60 % 60)?;
        match total % 60 {
            0 => Ok(()),
            seconds => write!(f, ":{seconds:02}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offsets_come_back_as_written() {
        for text in ["+01:00", "-06:00", "+05:53:28", "+00:00", "-23:59:59"] {
            assert_eq!(UtcOffset::parse(text).unwrap().to_string(), text);
        }
        assert_eq!(UtcOffset::parse("−06:00"), UtcOffset::parse("-06:00"));
        for text in [
            "",
            "+",
            "01:00",
            "+1:00",
            "+24:00",
            "+01:60",
            "+01",
            "+01:00:00:00",
        ] {
            assert_eq!(UtcOffset::parse(text), None, "{text}");
        }
    }
}
