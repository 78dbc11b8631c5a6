use std::fmt;

use sky::{Angle, Sign};

/// What a number of a table is, and what its last digit counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A longitude in degrees, written to the minute: `26°36′ Cancer`.
    Zodiac,
    /// A whole degree of a sign, as an argument: `26° Cancer`.
    ZodiacDegree,
    /// An angle in the turn, in degrees, to the minute: `123°07′`.
    Turn,
    /// An angle with its sign, in degrees, to the minute: `−23°26′`.
    Degrees,
    /// An angle in whole degrees: `52°`.
    WholeDegrees,
    /// A time of the day or of the stars, in hours in the turn of 24, to the second.
    ClockToSecond,
    /// A time of the day, in hours in the turn of 24, to the minute: `6 h 49 m`.
    Clock,
    /// A length of time in hours, to the minute: `7 h 44 m`.
    Span,
    /// A length of time in hours, to the second: `0 h 03 m 57 s`.
    SpanToSecond,
    /// A length of time in seconds, to the second: `55 m 06 s`.
    Minutes,
    /// The same with its sign, be it put on or taken off: `+14 m 51 s`.
    SignedMinutes,
    /// A number with so many decimals.
    Number(u8),
    /// A whole number, written in sixties: `12 34`.
    Sixties,
}

impl Form {
    /// How many of its last digit make the unit its values are given in.
    #[must_use]
    pub fn per_unit(self) -> f64 {
        match self {
            Form::Zodiac | Form::Turn | Form::Degrees | Form::Clock | Form::Span => 60.0,
            Form::ZodiacDegree
            | Form::WholeDegrees
            | Form::Minutes
            | Form::SignedMinutes
            | Form::Sixties => 1.0,
            Form::ClockToSecond | Form::SpanToSecond => 3600.0,
            Form::Number(places) => 10f64.powi(i32::from(places)),
        }
    }

    /// The turn in which it is written, in its unit; none for what is no direction.
    #[must_use]
    pub const fn turn(self) -> Option<f64> {
        match self {
            Form::Zodiac | Form::ZodiacDegree | Form::Turn => Some(360.0),
            Form::ClockToSecond | Form::Clock => Some(24.0),
            Form::Degrees
            | Form::WholeDegrees
            | Form::Span
            | Form::SpanToSecond
            | Form::Minutes
            | Form::SignedMinutes
            | Form::Number(_)
            | Form::Sixties => None,
        }
    }

    /// What its last digit is called, one of it: `1′`, `1 s`, `0.0001`.
    #[must_use]
    pub fn last_digit(self) -> String {
        match self {
            Form::Zodiac | Form::Turn | Form::Degrees => "1′".to_owned(),
            Form::ZodiacDegree | Form::WholeDegrees => "1°".to_owned(),
            Form::Clock | Form::Span => "1 m".to_owned(),
            Form::ClockToSecond | Form::SpanToSecond | Form::Minutes | Form::SignedMinutes => {
                "1 s".to_owned()
            }
            Form::Number(places) => {
                let places = usize::from(places);
                format!("{:.places$}", 10f64.powi(-(places as i32)))
            }
            Form::Sixties => "1".to_owned(),
        }
    }

    /// What its numbers count, as it stands above a column of them: `° ′`.
    #[must_use]
    pub const fn units(self) -> &'static str {
        match self {
            Form::Zodiac | Form::Turn | Form::Degrees => "° ′",
            Form::ZodiacDegree | Form::WholeDegrees => "°",
            Form::ClockToSecond | Form::SpanToSecond => "h m s",
            Form::Clock | Form::Span => "h m",
            Form::Minutes | Form::SignedMinutes => "m s",
            Form::Number(_) | Form::Sixties => "",
        }
    }

    /// A size of the same kind, finer than its last digit: `0.6′`, `1.3 s`, `0.04 s`.
    #[must_use]
    pub fn size(self, value: f64) -> String {
        let counts = (value * self.per_unit()).abs();
        let number = if counts >= 0.095 {
            format!("{counts:.1}")
        } else if counts >= 0.005 {
            format!("{counts:.2}")
        } else {
            "less than 0.01".to_owned()
        };
        match self {
            Form::Zodiac | Form::Turn | Form::Degrees => format!("{number}′"),
            Form::ZodiacDegree | Form::WholeDegrees => format!("{number}°"),
            Form::Clock | Form::Span => format!("{number} m"),
            Form::ClockToSecond | Form::SpanToSecond | Form::Minutes | Form::SignedMinutes => {
                format!("{number} s")
            }
            Form::Number(_) => format!("{number} of the last digit"),
            Form::Sixties => number,
        }
    }

    /// From one value to another, the short way round where it is a direction.
    #[must_use]
    pub fn from_to(self, from: f64, to: f64) -> f64 {
        match self.turn() {
            None => to - from,
            Some(turn) => {
                let way = (to - from).rem_euclid(turn);
                if way > turn / 2.0 { way - turn } else { way }
            }
        }
    }
}

/// A number as it is written: so many of its form's last digit.
///
/// ```
/// use tables::{Figure, Form};
/// assert_eq!(Figure::written(Form::Zodiac, 116.604).to_string(), "26°36′ Cancer");
/// assert_eq!(Figure::written(Form::Zodiac, 359.996).to_string(), "0°00′ Aries");
/// assert_eq!(Figure::written(Form::Degrees, -0.51).to_string(), "−0°31′");
/// assert_eq!(Figure::written(Form::SignedMinutes, -891.0).to_string(), "−14 m 51 s");
/// assert_eq!(Figure::written(Form::Number(4), 1.40249).to_string(), "1.4025");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    form: Form,
    counts: f64,
}

impl Figure {
    /// A value rounded to its last digit, halves away from zero, and into the turn.
    #[must_use]
    pub fn written(form: Form, value: f64) -> Figure {
        Figure::counted(form, (value * form.per_unit()).round())
    }

    /// A value as it is, which nobody could write: for finding what rounding costs.
    #[must_use]
    pub fn unrounded(form: Form, value: f64) -> Figure {
        Figure::counted(form, value * form.per_unit())
    }

    fn counted(form: Form, counts: f64) -> Figure {
        let counts = match form.turn() {
            Some(turn) => counts.rem_euclid(turn * form.per_unit()),
            None => counts,
        };
        // Adding nothing turns a negative zero into a plain one.
        Figure {
            form,
            counts: counts + 0.0,
        }
    }

    /// What it is.
    #[must_use]
    pub const fn form(self) -> Form {
        self.form
    }

    /// Its value: degrees, hours, or the number itself.
    #[must_use]
    pub fn value(self) -> f64 {
        self.counts / self.form.per_unit()
    }

    /// How many of its last digit it is.
    #[must_use]
    pub const fn counts(self) -> f64 {
        self.counts
    }

    /// The sign a longitude stands in; none for other numbers.
    #[must_use]
    pub fn sign(self) -> Option<Sign> {
        match self.form {
            Form::Zodiac | Form::ZodiacDegree => {
                Some(sky::Zodiacal(Angle::from_deg(self.whole() / self.form.per_unit())).sign())
            }
            Form::Turn
            | Form::Degrees
            | Form::WholeDegrees
            | Form::ClockToSecond
            | Form::Clock
            | Form::Span
            | Form::SpanToSecond
            | Form::Minutes
            | Form::SignedMinutes
            | Form::Number(_)
            | Form::Sixties => None,
        }
    }

    /// As it is written where the sign stands elsewhere: `26°36′`.
    #[must_use]
    pub fn without_sign(self) -> String {
        let counts = self.whole();
        let (size, minus) = (counts.abs(), if counts < 0.0 { "−" } else { "" });
        let sixty = |n: f64| (n / 60.0).floor();
        match self.form {
            Form::Zodiac => format!("{}°{:02}′", sixty(counts % 1800.0), counts % 60.0),
            Form::ZodiacDegree => format!("{}°", counts % 30.0),
            Form::Turn | Form::Degrees => format!("{minus}{}°{:02}′", sixty(size), size % 60.0),
            Form::WholeDegrees => format!("{minus}{size}°"),
            Form::Clock | Form::Span => format!("{minus}{} h {:02} m", sixty(size), size % 60.0),
            Form::ClockToSecond | Form::SpanToSecond => format!(
                "{minus}{} h {:02} m {:02} s",
                (size / 3600.0).floor(),
                sixty(size) % 60.0,
                size % 60.0
            ),
            Form::Minutes => format!("{minus}{} m {:02} s", sixty(size), size % 60.0),
            Form::SignedMinutes => {
                let sign = if counts < 0.0 { "−" } else { "+" };
                format!("{sign}{} m {:02} s", sixty(size), size % 60.0)
            }
            Form::Number(places) => {
                let places = usize::from(places);
                format!("{minus}{:.places$}", size / self.form.per_unit())
            }
            Form::Sixties if size < 60.0 => format!("{minus}{size}"),
            Form::Sixties => format!("{minus}{} {:02}", sixty(size), size % 60.0),
        }
    }

    /// The numbers alone, as in a column whose head says what they count: `26 36`.
    #[must_use]
    pub fn bare(self) -> String {
        let kept: String = self
            .without_sign()
            .chars()
            .filter(|c| !matches!(c, '°' | '′' | 'h' | 'm' | 's'))
            .collect();
        let spaced = match self.form {
            Form::Zodiac | Form::Turn | Form::Degrees => {
                let digits = kept.len().saturating_sub(2);
                format!("{} {}", &kept[..digits], &kept[digits..])
            }
            Form::ZodiacDegree
            | Form::WholeDegrees
            | Form::ClockToSecond
            | Form::Clock
            | Form::Span
            | Form::SpanToSecond
            | Form::Minutes
            | Form::SignedMinutes
            | Form::Number(_)
            | Form::Sixties => kept,
        };
        spaced.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    fn whole(self) -> f64 {
        match self.form.turn() {
            // Unrounded, it may round up to the turn itself.
            Some(turn) => self.counts.round() % (turn * self.form.per_unit()),
            None => self.counts.round() + 0.0,
        }
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = self.without_sign();
        match self.sign() {
            Some(sign) => f.pad(&format!("{text} {}", sign.name())),
            None => f.pad(&text),
        }
    }
}
