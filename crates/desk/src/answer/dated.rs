//! Dates and times in answers: values, which JSON has as they are written.

use std::borrow::Cow;
use std::fmt;

use moment::{Calendar, CivilDate, CivilTime, TimeOfDay};
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Serialize, Serializer};

/// A date: `YYYY-MM-DD`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DateAnswer(pub(crate) CivilDate);

/// A day of any year: `MM-DD`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayOfYearAnswer {
    /// 1 to 12.
    pub month: u8,
    /// 1 to 31.
    pub day: u8,
}

/// What a clock shows: `YYYY-MM-DD HH:MM:SS`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClockTimeAnswer(pub(crate) CivilTime);

/// The calendar of a date: `gregorian` or `julian`; told as `Gregorian` or `Julian`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CalendarAnswer(pub(crate) Calendar);

impl DateAnswer {
    /// 1 to 12.
    #[must_use]
    pub const fn month(self) -> u8 {
        self.0.month()
    }

    /// 1 to 31.
    #[must_use]
    pub const fn day(self) -> u8 {
        self.0.day()
    }
}

impl ClockTimeAnswer {
    /// Its date.
    #[must_use]
    pub const fn date(self) -> DateAnswer {
        DateAnswer(self.0.date)
    }

    /// Its time of day.
    #[must_use]
    pub const fn time(self) -> TimeOfDay {
        self.0.time
    }
}

impl fmt::Display for DateAnswer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl fmt::Display for DayOfYearAnswer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

impl fmt::Display for ClockTimeAnswer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl fmt::Display for CalendarAnswer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl Serialize for CalendarAnswer {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.name())
    }
}

/// In JSON a value is a text, as it is written.
macro_rules! serialized {
    ($($value:ty),*) => {$(
        impl Serialize for $value {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }
    )*};
}

/// For a schema it is a text.
macro_rules! texts {
    ($($value:ty),*) => {$(
        impl JsonSchema for $value {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> Cow<'static, str> {
                String::schema_name()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                String::json_schema(generator)
            }
        }
    )*};
}

serialized!(DateAnswer, DayOfYearAnswer, ClockTimeAnswer);
texts!(DateAnswer, DayOfYearAnswer, ClockTimeAnswer, CalendarAnswer);
