use std::ops::RangeInclusive;

/// The years of the examples: by the Gregorian calendar, each of their days within the
/// ephemeris.
pub const COURSE_YEARS: RangeInclusive<i32> = 1583..=2649;
